"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import click

FORMS: Final = (
    "text",
    "lines",
    "annotations",
    "codequality",
    "json",
    "sarif",
    "junit",
    "markdown",
    "html",
)
"""Names of report.formats.FORMS, repeated so that most commands need no import of that module."""


class _PathType(click.Path):
    """A path; an empty word (an unset variable in a script) is an error and no folder."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        if value == "":
            self.fail("an empty path", param, ctx)
        return super().convert(value, param, ctx)


FILE: Final = _PathType(path_type=Path)
"""A file or folder."""


class _CacheFolderType(_PathType):
    """A folder, or ``USER_CACHE`` where the option has no value."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        return value if value is USER_CACHE else super().convert(value, param, ctx)


USER_CACHE: Final = Path("user's cache folder")
"""Stands for the user's cache folder of the system."""

WIDTH: Final = click.IntRange(80, 400)
"""Columns of text; every report fits 80 or more."""


Decorator = Callable[[Callable[..., Any]], Callable[..., Any]]

rules_option: Final = click.option(
    "--rules",
    type=FILE,
    multiple=True,
    metavar="DIR",
    help="Folder or file with rules of your site, in addition to the shipped ones. Repeatable.",
)
settings_option: Final = click.option(
    "--settings",
    type=FILE,
    metavar="FILE",
    help="File with settings of your site, each with its reason.",
)
workings_option: Final = click.option(
    "--workings",
    is_flag=True,
    help="Show how each number is calculated, and list each check that cannot be decided.",
)
detail_option: Final = click.option(
    "--detail",
    is_flag=True,
    help="Show all data of each finding, and list each check that cannot be decided.",
)
output_option: Final = click.option(
    "--output", type=FILE, metavar="FILE", help="Write the report to a new file."
)
force_option: Final = click.option(
    "--force", is_flag=True, help="Let --output replace a file that exists."
)
width_option: Final = click.option(
    "--width",
    type=WIDTH,
    metavar="N",
    help="Columns of text. Default: those of the terminal up to 100, or 100 without a terminal.",
)
jobs_option: Final = click.option(
    "--jobs",
    type=click.IntRange(min=1),
    metavar="N",
    help="Processes that share the work. Default: one for each core, if there are enough files.",
)
cluster_option: Final = click.option(
    "--cluster",
    metavar="ADDRESS",
    help="Let the workers of a Dask scheduler share the work (`axisproof guide many`).",
)
cache_option: Final = click.option(
    "--cache",
    type=_CacheFolderType(path_type=Path),
    is_flag=False,
    flag_value=USER_CACHE,
    metavar="[DIR]",
    help="Keep results in this folder (or in your cache folder). Check again only what changed. "
    "Default: the folder in AXISPROOF_CACHE, if it is set.",
)
no_cache_option: Final = click.option(
    "--no-cache", is_flag=True, help="Check everything again and keep nothing."
)


shard_option: Final = click.option(
    "--shard",
    metavar="K/N",
    default="",
    help="Check only share K of N shares of the files. The N shares together are all files.",
)
record_option: Final = click.option(
    "--record",
    type=FILE,
    metavar="FILE",
    help="Write the result to a new file too, for `axisproof merge`.",
)
form_option: Final = click.option(
    "--format",
    "form",
    type=click.Choice(FORMS),
    default="text",
    show_default=True,
    help="Form of the report, see below.",
)
waivers_option: Final = click.option(
    "--waivers",
    type=FILE,
    metavar="FILE",
    help="File of findings that are accepted for a time (`axisproof schema waivers`).",
)
accepted_option: Final = click.option(
    "--accepted",
    type=FILE,
    metavar="FILE",
    help="File of findings that `axisproof accept` recorded. Only other findings count.",
)
quiet_option: Final = click.option(
    "--quiet",
    is_flag=True,
    help="Print findings, and one line on what cannot be decided. Print nothing if all passed.",
)
statistics_option: Final = click.option(
    "--statistics",
    is_flag=True,
    help="Count findings, and checks that cannot be decided, for each rule instead.",
)
verbose_option: Final = click.option(
    "--verbose", is_flag=True, help="Name also each file of a folder that the check skips."
)
select_option: Final = click.option(
    "--select",
    multiple=True,
    metavar="RULE|CONCERN",
    help="Show only this rule, or all rules of a concern such as gearing. Repeatable. The exit "
    "status still counts all rules.",
)
axis_option: Final = click.option(
    "--axis",
    multiple=True,
    metavar="NAME",
    help="Show only this axis. Repeatable. The exit status still counts all axes.",
)
shelf_option: Final = click.option(
    "--shelf",
    type=FILE,
    metavar="FOLDER",
    help="Folder of plates: part files of the types that axes name (`axisproof guide shelf`).",
)
site_option: Final = click.option(
    "--no-site-file",
    is_flag=True,
    help="Do not use the site file axisproof.yaml of the folder or of the repository.",
)
undecided_option: Final = click.option(
    "--undecided-fails", is_flag=True, help="Exit with 1 also if a check cannot be decided."
)


def stated(*names: str) -> frozenset[str]:
    """Those of some options that the command line states, by their names in Python."""
    source = click.get_current_context().get_parameter_source
    usual = click.core.ParameterSource.DEFAULT
    return frozenset(name for name in names if source(name) is not usual)


def unwrapped(text: str) -> str:
    """Return an epilog whose paragraphs click does not wrap."""
    return "\n\n".join(f"\b\n{paragraph}" for paragraph in text.strip().split("\n\n"))


def day_option(meaning: str) -> Decorator:
    """The option --on, a day, whose ``meaning`` each command gives."""
    return click.option(
        "--on", type=click.DateTime(["%Y-%m-%d"]), metavar="YYYY-MM-DD", help=meaning
    )


def fail_option(meaning: str) -> Decorator:
    """The option --fail-at, a level or None for ``never``, with its ``meaning``."""

    def level(context: click.Context, option: click.Parameter, word: str) -> str | None:
        return None if word == "never" else word

    return click.option(
        "--fail-at",
        type=click.Choice(["error", "warning", "note", "never"]),
        default="warning",
        show_default=True,
        callback=level,
        help=meaning,
    )


fails_at_findings: Final = fail_option(
    "Exit with 1 if there is a finding of this level or a more serious one."
)
