"""The command that proposes a mapping file for a parameter list: match."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from ..base.errors import UsageError
from .options import FILE, force_option, width_option

if TYPE_CHECKING:
    from ..authoring.matching import Match

_EXAMPLES: Final = """
\b
Examples:
  axisproof match export.csv
  axisproof match export.csv -o export.mapping.yaml
  axisproof match export.csv --machine cell.yaml --axis lift -o export.mapping.yaml
  axisproof match export.csv --column "Axis Y" -o axis_y.mapping.yaml

\b
Exit status:
  0    there is at least one proposal that `import` can take
  1    there is no such proposal
  2    the list cannot be used
"""


@click.command("match", epilog=_EXAMPLES)
@click.argument("export", type=FILE, metavar="EXPORT")
@click.option("-o", "--output", type=FILE, metavar="FILE", help="Write the mapping file here.")
@force_option
@click.option(
    "--machine", type=FILE, metavar="FILE", help="Machine file of the same axis: compare values."
)
@click.option("--axis", metavar="NAME", help="The axis of that machine file.")
@click.option(
    "--column", metavar="NAME", default="", help="The column of values, if axes stand side by side."
)
@width_option
def match(
    export: Path,
    output: Path | None,
    force: bool,
    machine: Path | None,
    axis: str | None,
    column: str,
    width: int | None,
) -> int:
    """Propose a mapping file for a parameter list.

    EXPORT is a parameter list (CSV, INI, JSON, YAML, XML). The command finds out how it is written.
    It compares names and units with words of the trade in ten languages, and values with what is
    usual. Only what is clear becomes an entry. What is doubtful becomes a comment, and the rest is
    listed. Read each proposal before you import: the command can be wrong.
    """
    from .. import api
    from ..authoring.mapping_text import mapping_text
    from ..authoring.match_text import match_text
    from ..base.safe_write import refuse_to_replace, write_file
    from .console import options_for, print_text, write_utf8

    if (machine is None) != (axis is None):
        raise UsageError(
            "--machine and --axis belong together", expected="both, or neither of the two"
        )
    if output is not None:
        refuse_to_replace(output, force, [export, *([machine] if machine else [])])
    if str(export) == "-":
        what = "a list has a name and an ending, which standard input lacks"
        raise UsageError(what, expected="a parameter list by its name")
    found = api.match(export, machine, axis, column)
    text = mapping_text(found, export.name)
    options = options_for(width, error=output is None)
    summary = match_text(found, export.name, options.width)
    if output is None:
        write_utf8(text)
    else:
        write_file(output, text, force=force)
        summary += (
            f"\n{output} is written. Read it, correct it, then {_next(found, export, output)}\n"
        )
    print_text(summary, options, error=output is None)
    return 0 if any(each.active for each in found.proposals) else 1


def _next(found: Match, export: Path, mapping: Path) -> str:
    """What to do with a mapping once it is correct."""
    if found.shape.subjects:
        return "name list and mapping in a project file (`axisproof schema project`)."
    files = f"{shlex.quote(str(export))} --mapping {shlex.quote(str(mapping))}"
    return f"import: axisproof import {files} --machine MACHINE --axis AXIS --motion linear"


def register(group: click.Group) -> None:
    """Add the command to the command line."""
    group.add_command(match)
