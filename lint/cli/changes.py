"""The commands about old and new findings: changes, accept."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from .options import (
    FILE,
    day_option,
    fail_option,
    force_option,
    output_option,
    rules_option,
    settings_option,
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

\b
Exit status:
  0    the change brings no finding at or above the failing level
  1    it brings one (with --all, also if one is still there), or a check
       that was decided before cannot be decided now
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
@day_option("Check as of this day; otherwise today.")
@workings_option
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="Form of the report; `axisproof schema changes` describes the json.",
)
@output_option
@force_option
@fail_option("Exit with 1 if the change brings a finding of this level or a graver one.")
@click.option("--all", "with_persisting", is_flag=True, help="Let also fail what is still there.")
@width_option
def changes(
    old: str,
    new: str,
    rules: tuple[Path, ...],
    settings: Path | None,
    on: datetime.datetime | None,
    workings: bool,
    form: str,
    output: Path | None,
    force: bool,
    fail_at: Level | None,
    with_persisting: bool,
    width: int | None,
) -> int:
    """Tell what changed between two versions of a machine.

    Tells also which findings the change brings. OLD and NEW are machine files, folders of them, or
    REVISION:PATH: a file or folder of the git repository one is in, counted from its top (or from
    the present folder after ./). Findings are new, gone or still there by rule, axis and facts,
    whatever their line.
    """
    from .. import api
    from ..base.safe_write import refuse_to_replace
    from ..report import changes_json, changes_text
    from .console import options_for, output_text

    if output is not None:
        refuse_to_replace(output, force, [Path(old), Path(new)])
    report = api.changes(
        old, new, rules=rules, settings=settings, on=on.date() if on else None, workings=workings
    )
    options = options_for(width, workings=workings, to_file=output is not None, fail_at=fail_at)
    text = (changes_json if form == "json" else changes_text).render(report, options)
    inputs = [*report.files, *rules, settings]
    output_text(text, options, form=form, output=output, force=force, inputs=inputs)
    if fail_at is None:
        return 0
    failing = report.at_or_above(fail_at, with_persisting=with_persisting)
    return int(failing > 0 or bool(report.lost_checks))


_ACCEPT_EPILOG: Final = """\b
Examples:
  axisproof accept machines/ -o accepted.json
  axisproof check machines/ --accepted accepted.json
"""


@click.command(epilog=_ACCEPT_EPILOG)
@click.argument("paths", nargs=-1, required=True, type=FILE, metavar="PATH...")
@click.option("-o", "--output", type=FILE, required=True, metavar="FILE", help="Record them here.")
@force_option
@rules_option
@settings_option
@day_option("Check as of this day; otherwise today.")
def accept(
    paths: tuple[Path, ...],
    output: Path,
    force: bool,
    rules: tuple[Path, ...],
    settings: Path | None,
    on: datetime.datetime | None,
) -> int:
    """Record present findings, so that only new ones fail.

    For taking the tool up on machines that are already running. Nothing is mended by this:
    `check --accepted FILE` shows every recorded finding as long as it is there, and says which are
    gone.
    """
    from .. import api
    from ..base.safe_write import refuse_to_replace
    from ..report.words import counted
    from .console import options_for, print_text, write_new

    refuse_to_replace(output, force, paths)
    day = on.date() if on else datetime.date.today()
    report = api.check(paths, api.CheckOptions(rules=rules, settings=settings, on=day, jobs=None))
    write_new(output, api.accepted_text(report, day), force, [*report.files, *rules, settings])
    print_text(
        f"Recorded {counted(len(report.findings), 'finding')} in {output}.\n", options_for(None)
    )
    return 0
