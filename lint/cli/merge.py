"""The command that joins the records of all shards: merge."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from .options import (
    FILE,
    accepted_option,
    detail_option,
    fails_at_findings,
    force_option,
    form_option,
    output_option,
    rules_option,
    shelf_option,
    site_option,
    stated,
    undecided_option,
    verbose_option,
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
  1    there is one (or a check cannot be decided, with --undecided-fails), or on an
       axis a check of turn counter, gearing, homing, interlock, brake or gantry
       lacks one line to end in an error, or none of them could be decided
  2    the records do not belong together, or something else cannot be used
  130  interrupted
"""


def register(group: click.Group) -> None:
    """Add the command to the command line."""
    group.add_command(merge)


@click.command(epilog=_EPILOG)
@click.argument("records", nargs=-1, required=True, type=FILE, metavar="RECORD...")
@rules_option
@shelf_option
@form_option
@output_option
@force_option
@fails_at_findings
@waivers_option
@accepted_option
@undecided_option
@detail_option
@verbose_option
@width_option
@site_option
def merge(
    records: tuple[Path, ...],
    rules: tuple[Path, ...],
    shelf: Path | None,
    form: str,
    output: Path | None,
    force: bool,
    fail_at: Level | None,
    waivers: Path | None,
    accepted: Path | None,
    undecided_fails: bool,
    detail: bool,
    verbose: bool,
    width: int | None,
    no_site_file: bool,
) -> int:
    """Join what checks of all shards recorded into one report.

    It is the report of one check of all files. Records of another archive, version, day, other
    rules or settings are refused. A set with a missing or repeated shard is refused too. For
    --waivers, the machine files must be at their old place. --rules and --shelf must be those of
    the checks. Nothing else is read again. The site file is that of the present folder.
    """
    from .. import api
    from ..report.formats import FORMS
    from .check import render_and_output
    from .site import fail_at_for, site_for

    needs = FORMS[form]
    site = site_for((), no_site_file)
    if site is not None:
        fail_at = fail_at_for(fail_at, site.fail_at)
        site = site.without(("fail_at",)) if stated("fail_at") else site
    report, workings = api.merge(
        records,
        rules=rules,
        waivers=waivers,
        accepted=accepted,
        shelf=shelf,
        workings=needs.workings,
        every_outcome=needs.every_outcome,
        sketches=needs.sketches,
        site=site,
    )
    site_files = site.files if site else ()
    inputs = [*records, *report.files, *rules, waivers, accepted, shelf, *site_files]
    return render_and_output(
        report,
        report,
        form=form,
        output=output,
        force=force,
        fail_at=fail_at,
        undecided_fails=undecided_fails,
        width=width,
        look={"workings": workings, "detail": detail, "verbose": verbose},
        inputs=inputs,
    )
