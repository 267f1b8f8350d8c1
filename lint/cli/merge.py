"""The command that joins the records of all shards: merge."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from .options import (
    FILE,
    accepted_option,
    fails_at_findings,
    force_option,
    form_option,
    output_option,
    rules_option,
    undecided_option,
    waivers_option,
    width_option,
)

if TYPE_CHECKING:
    from ..findings.finding import Level

_EPILOG: Final = """\b
Examples:
  axisproof check archive/ --shard 1/2 --record shard-1.json --fail-at never
  axisproof check archive/ --shard 2/2 --record shard-2.json --fail-at never
  axisproof merge shard-1.json shard-2.json
  axisproof merge shard-*.json --format sarif --output report.sarif --accepted accepted.yaml

\b
A form that shows more needs records with more: junit those of checks with --every-outcome, html
those with --every-outcome --workings --pictures. The forms are those of `axisproof check`.

\b
Exit status:
  0    no finding at or above the failing level
  1    there is one (or an undecided check, with --undecided-fails), or on an
       axis nothing about turn counter, gearing, homing or interlock could be
       decided
  2    the records do not belong together, or something else cannot be used
  130  interrupted
"""


def register(group: click.Group) -> None:
    """Add the command to the command line."""
    group.add_command(merge)


@click.command(epilog=_EPILOG)
@click.argument("records", nargs=-1, required=True, type=FILE, metavar="RECORD...")
@rules_option
@form_option
@output_option
@force_option
@fails_at_findings
@waivers_option
@accepted_option
@undecided_option
@width_option
def merge(
    records: tuple[Path, ...],
    rules: tuple[Path, ...],
    form: str,
    output: Path | None,
    force: bool,
    fail_at: Level | None,
    waivers: Path | None,
    accepted: Path | None,
    undecided_fails: bool,
    width: int | None,
) -> int:
    """Join what checks of all shards recorded into one report.

    It is the report of one check of all. Records of another archive, version, day, other rules or
    settings are refused, and so is a set with a shard missing or twice. For --waivers the machine
    files they name must be where they were, and --rules those of the checks; nothing else is read
    again.
    """
    from .. import api
    from ..report.formats import FORMS
    from .check import render_and_output

    needs = FORMS[form]
    report, workings = api.merge(
        records,
        rules=rules,
        waivers=waivers,
        accepted=accepted,
        workings=needs.workings,
        every_outcome=needs.every_outcome,
        sketches=needs.sketches,
    )
    return render_and_output(
        report,
        form=form,
        output=output,
        force=force,
        fail_at=fail_at,
        undecided_fails=undecided_fails,
        workings=workings,
        width=width,
        inputs=[*records, *report.files, *rules, waivers, accepted],
    )
