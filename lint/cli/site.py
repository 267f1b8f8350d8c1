"""The command about the site file: site; and what other commands ask of that file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final, cast

import click

from ..base.errors import UsageError
from .options import FILE, site_option, stated, width_option

if TYPE_CHECKING:
    from ..findings.finding import Level
    from ..importing.site_file import SiteFile

_EPILOG: Final = """\b
Examples:
  axisproof site
  axisproof site machines/hall.yaml
"""


def register(group: click.Group) -> None:
    """Add the command to the command line."""
    group.add_command(site)


def site_for(paths: tuple[Path, ...], no_site_file: bool) -> SiteFile | None:
    """The site file of some paths, or of the present folder; None if it is not to count."""
    from ..importing.site_file import find_site_file

    return None if no_site_file else find_site_file(paths or (Path("."),))


def form_for(command: str, form: str, site: SiteFile | None) -> str:
    """The form of a command's report: that of the site file, unless the command line states it."""
    return form if site is None or stated("form") else site.forms.get(command, form)


def fail_at_for(fail_at: Level | None, of_site: str | None) -> Level | None:
    """The failing level: that of the site file, unless the command line states one."""
    return fail_at if stated("fail_at") else cast("Level", of_site or fail_at)


def rules_for(rules: tuple[Path, ...], no_site_file: bool) -> tuple[Path, ...]:
    """The rules that an option gives, or else those of the site file of the present folder."""
    site = None if rules else site_for((), no_site_file)
    return rules if site is None else site.rules


def paths_of_site_file(no_site_file: bool) -> tuple[Path, ...]:
    """What the site file of the present folder asks to be checked. Raises click.UsageError."""
    site = site_for((), no_site_file)
    if site is None or not site.check:
        context = click.get_current_context()
        [argument] = [each for each in context.command.params if each.name == "paths"]
        raise click.MissingParameter(ctx=context, param=argument)
    return site.check


@click.command("site", epilog=_EPILOG)
@click.argument("path", type=FILE, metavar="[PATH]", default=Path("."))
@site_option
@width_option
def site(path: Path, no_site_file: bool, width: int | None) -> int:
    """Print what is in force for a file or folder, and from where.

    It names the site file axisproof.yaml, each key with its line, and the defaults of all others.
    PATH is the present folder if it is not given.
    """
    from .. import api
    from ..report.site_text import render
    from .console import options_for, print_text

    if not path.exists():
        raise UsageError(f"there is no file or folder {path}")
    options = options_for(width)
    found = site_for((path,), no_site_file)
    print_text(render(found.name if found else None, api.in_force(found), options), options)
    return 0
