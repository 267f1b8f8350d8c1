"""The commands about old and new findings: changes, accept."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from .options import (
    FILE,
    day_option,
    detail_option,
    fail_option,
    force_option,
    output_option,
    rules_option,
    settings_option,
    shelf_option,
    site_option,
    width_option,
    workings_option,
)

if TYPE_CHECKING:
    from ..findings.finding import Level

_EPILOG: Final = """\b
Examples:
  axisproof changes backup/hall.yaml hall.yaml
  axisproof changes HEAD:machines machines
  axisproof changes main:machines/hall.yaml HEAD:machines/hall.yaml --format json
  axisproof changes HEAD:./hall.yaml hall.yaml --fail-at error
  axisproof changes hall.yaml - < new.yaml

\b
Exit status:
  0    the change brings no finding at or above the failing level
  1    it brings one (with --all, also if one is still there), or a check
       that could be decided before cannot be decided now, or a check of turn
       counter, gearing, homing or interlock ended as a fact was left out, or a
       file that was checked before is skipped now, or the site file loosens
       more than before
  2    the input, a rule or the command line cannot be used
  130  interrupted
"""


def register(group: click.Group) -> None:
    """Add the commands to the command line."""
    group.add_command(changes)
    group.add_command(accept)


@click.command(epilog=_EPILOG)
@click.argument("old", metavar="OLD")
@click.argument("new", metavar="NEW")
@rules_option
@settings_option
@shelf_option
@day_option("Check for this day. Default: today.")
@detail_option
@workings_option
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="Form of the report. `axisproof schema changes` describes the json.",
)
@output_option
@force_option
@fail_option("Exit with 1 if the change brings a finding of this level or a more serious one.")
@click.option(
    "--all",
    "with_persisting",
    is_flag=True,
    help="Fail also because of findings that are still there.",
)
@width_option
@site_option
def changes(
    old: str,
    new: str,
    rules: tuple[Path, ...],
    settings: Path | None,
    shelf: Path | None,
    on: datetime.datetime | None,
    detail: bool,
    workings: bool,
    form: str,
    output: Path | None,
    force: bool,
    fail_at: Level | None,
    with_persisting: bool,
    width: int | None,
    no_site_file: bool,
) -> int:
    """Tell what changed between two versions of a machine.

    It also tells which findings the change brings. OLD and NEW are machine files, folders of them,
    or REVISION:PATH. That is a file or folder of the present git repository. PATH begins at its
    top, or at the present folder if it begins with ./. One of them may be - for standard input. A
    finding is the same if rule, axis and facts are the same, whatever its line.
    """
    from .. import api
    from ..base.safe_write import refuse_to_replace
    from ..report import changes_json, changes_text
    from ..source.standard_input import standard_input
    from .console import options_for, output_text
    from .site import fail_at_for, form_for, site_for

    if output is not None:
        refuse_to_replace(output, force, [Path(old), Path(new)])
    report = api.changes(
        old,
        new,
        rules=rules,
        settings=settings,
        shelf=shelf,
        on=on.date() if on else None,
        workings=workings,
        site_files=not no_site_file,
        texts=standard_input((Path(old), Path(new))),
    )
    form = form_for("changes", form, site_for((), no_site_file))
    if report.site_file is not None:
        fail_at = fail_at_for(fail_at, report.site_file.fail_at)
    look: dict[str, Any] = {"fail_at": fail_at, "detail": detail, "workings": workings}
    options = options_for(width, to_file=output is not None, **look)
    text = (changes_json if form == "json" else changes_text).render(report, options)
    inputs = [*report.files, *rules, settings, shelf]
    output_text(text, options, form=form, output=output, force=force, inputs=inputs)
    if fail_at is None:
        return 0
    failing = report.at_or_above(fail_at, with_persisting=with_persisting)
    return int(failing > 0 or report.fails_by_silence)


_ACCEPT_EPILOG: Final = """\b
Examples:
  axisproof accept machines/ -o accepted.json
  axisproof check machines/ --accepted accepted.json
"""


@click.command(epilog=_ACCEPT_EPILOG)
@click.argument("paths", nargs=-1, type=FILE, metavar="PATH...")
@click.option("-o", "--output", type=FILE, required=True, metavar="FILE", help="Record them here.")
@force_option
@rules_option
@settings_option
@shelf_option
@day_option("Check for this day. Default: today.")
@site_option
def accept(
    paths: tuple[Path, ...],
    output: Path,
    force: bool,
    rules: tuple[Path, ...],
    settings: Path | None,
    shelf: Path | None,
    on: datetime.datetime | None,
    no_site_file: bool,
) -> int:
    """Record present findings, so that only new ones fail.

    Use it to start with machines that are already running. It corrects nothing. `check --accepted
    FILE` shows each recorded finding while it is there, and says which ones are gone. Without PATH,
    it takes what the site file names. The accepted set of the site file does not count here.
    """
    from .. import api
    from ..base.safe_write import refuse_to_replace
    from ..report.words import counted
    from ..source.standard_input import standard_input
    from .console import options_for, print_text, write_new
    from .site import paths_of_site_file, site_for

    paths = paths or paths_of_site_file(no_site_file)
    site = site_for(paths, no_site_file)
    site = site and site.without(("accepted",))
    refuse_to_replace(output, force, paths)
    day = on.date() if on else datetime.date.today()
    asked = api.CheckOptions(
        rules=rules,
        settings=settings,
        shelf=shelf,
        on=day,
        jobs=None,
        site=site,
        texts=standard_input(paths),
    )
    report = api.check(paths, asked)
    inputs = [*report.files, *rules, settings, shelf, *(site.files if site else ())]
    write_new(output, api.accepted_text(report, day), force, inputs)
    print_text(
        f"Recorded {counted(len(report.findings), 'finding')} in {output}.\n", options_for(None)
    )
    return 0
