"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import click

FORMS: Final = ("text", "json", "sarif", "junit", "markdown", "html")
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
    help="Folder (or file) with rules of your site, beside the shipped ones; may be repeated.",
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
    help="Derive every figure, step by step; list every undecided check.",
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
    help="Columns of text; otherwise those of the terminal up to 100, or 80 when piped.",
)
jobs_option: Final = click.option(
    "--jobs",
    type=click.IntRange(min=1),
    metavar="N",
    help="Processes that share the work; otherwise as many as cores, once there are files enough.",
)
cache_option: Final = click.option(
    "--cache",
    type=_CacheFolderType(path_type=Path),
    is_flag=False,
    flag_value=USER_CACHE,
    metavar="[DIR]",
    help="Keep results in this folder (or in your cache folder) and check again only what changed; "
    "otherwise in that named by AXISPROOF_CACHE, if any.",
)
no_cache_option: Final = click.option(
    "--no-cache", is_flag=True, help="Check all anew and keep nothing."
)


shard_option: Final = click.option(
    "--shard",
    metavar="K/N",
    default="",
    help="Check only the K-th of N shares of the files; the N together are all of them.",
)
record_option: Final = click.option(
    "--record",
    type=FILE,
    metavar="FILE",
    help="Write also what was found to a new file, for `axisproof merge`.",
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
    help="Findings that may be lived with for a while (`axisproof schema waivers`).",
)
accepted_option: Final = click.option(
    "--accepted",
    type=FILE,
    metavar="FILE",
    help="Findings that `axisproof accept` recorded; only others count.",
)
undecided_option: Final = click.option(
    "--undecided-fails", is_flag=True, help="Exit with 1 also if a check is undecided."
)


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
    "Exit with 1 if there is a finding of this level or a graver one."
)
