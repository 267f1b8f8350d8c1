"""The commands for exports, starter files and derived numbers: import, init, show."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path
from typing import Any, Final, Literal

import click

from ..base.errors import UsageError
from .options import FILE, force_option, shelf_option, site_option, width_option

_MOTIONS: Final = ("linear", "rotary")
MAX_PRINTED: Final = 20
"""Most remarks that are printed; a written file has all."""


def register(group: click.Group) -> None:
    """Add the commands to the command line."""
    for command in (import_command, init, show):
        group.add_command(command)


class _ProgressBars:
    """A progress bar for each file that is read, on a terminal only."""

    def __init__(self, stack: ExitStack) -> None:
        self.stack = stack

    def __call__(self, path: Path) -> Callable[[int], None] | None:
        if not sys.stderr.isatty():
            return None
        size = path.stat().st_size
        bar = self.stack.enter_context(
            click.progressbar(
                length=size,
                label=path.name,
                file=sys.stderr,
                update_min_steps=max(1, size // 100),
            )
        )
        return bar.update


@click.command("import")
@click.argument("files", nargs=-1, required=True, type=FILE, metavar="FILE...")
@click.option("-o", "--output", type=FILE, metavar="FILE", help="Write the machine file here.")
@force_option
@click.option("--machine", metavar="NAME", help="Name of the machine.")
@click.option("--axis", metavar="NAME", help="The axis of device files and lists.")
@click.option("--motion", type=click.Choice(_MOTIONS), help="Motion of that axis.")
@click.option("--mapping", type=FILE, metavar="FILE", help="Mapping file for parameter lists.")
@click.option(
    "--node", type=click.IntRange(1, 127), help="Node id, if a device file does not state it."
)
@click.option(
    "--part",
    type=click.IntRange(0, 7),
    default=0,
    help="Number of the drive, if a device has several.",
)
@click.option("--variant", metavar="NAME", help="Type of device, if a file describes several.")
@click.option("--position-unit", metavar="UNIT", help='One position increment, as in "0.001 mm".')
@click.option("--velocity-unit", metavar="UNIT", help="One velocity increment.")
@click.option("--acceleration-unit", metavar="UNIT", help="One acceleration increment.")
@click.option("--jerk-unit", metavar="UNIT", help="One jerk increment.")
@click.option(
    "--reference-reads",
    type=click.Choice(["offset", "minus_offset"]),
    help="What the axis shows at its reference: the home offset (0x607C), or minus that.",
)
@click.option(
    "--leave-out", multiple=True, metavar="0x....", help="An object to leave out. Repeatable."
)
def import_command(
    files: tuple[Path, ...],
    output: Path | None,
    force: bool,
    machine: str | None,
    axis: str | None,
    motion: Literal["linear", "rotary"] | None,
    mapping: Path | None,
    node: int | None,
    part: int,
    variant: str | None,
    reference_reads: Literal["offset", "minus_offset"] | None,
    leave_out: tuple[str, ...],
    **units: str | None,
) -> int:
    """Write a machine file from exports.

    Exports are device files (EDS, DCF, XDD, XDC, ESI), parameter lists and YAML, also in a zip file
    (archive.zip/file). FILE can be a project file. It names all sources of a machine and needs no
    options, and `check` takes it too. A comment at each fact names its file and line. Standard
    error shows what is left out.
    """
    from .. import api
    from ..authoring.yaml_writing import machine_yaml
    from ..base.safe_write import refuse_to_replace, write_file
    from ..importing.single_export import ImportOptions

    if output is not None:
        refuse_to_replace(output, force, files)
    options = ImportOptions(
        machine,
        axis,
        motion,
        mapping,
        node,
        part,
        {level.removesuffix("_unit"): text for level, text in units.items() if text},  # type: ignore[misc]
        reference_reads,
        frozenset(map(_object_index, leave_out)),
        variant or "",
    )
    with ExitStack() as stack:
        imported = api.import_(files, options, _ProgressBars(stack))
    text = machine_yaml(imported.tree, imported.remarks)
    if output is None:
        _print_file(text)
    else:
        refuse_to_replace(output, force, [source.path for source in imported.tree.sources])
        write_file(output, text, force=force)
    _print_remarks(imported.remarks)
    return 0


def _object_index(text: str) -> int:
    try:
        index = int(text, 16) if text[:2].lower() == "0x" else -1
    except ValueError:
        index = -1
    if not 0 <= index <= 0xFFFF:
        raise UsageError(f"{text[:40]} is no object index", expected="an index such as 0x6099")
    return index


@click.command("init")
@click.argument("output", type=FILE, default=Path("machine.yaml"), metavar="[FILE]")
@click.option("--force", is_flag=True, help="Replace FILE if it exists.")
@click.option(
    "--machine", metavar="NAME", help="Name of the machine. Without it, the command asks."
)
@click.option(
    "--axis",
    "axes",
    multiple=True,
    metavar="NAME:KIND",
    help="An axis and its kind (linear, rotary, screw, turning-nut, belt, chain, rack, "
    "table, conveyor, linear-motor, arm, telescope). Repeatable.",
)
@click.option("--long", is_flag=True, help="Ask for each fact, not only for the first ones.")
@click.option(
    "--from",
    "known",
    type=FILE,
    metavar="FILE",
    help="Machine or project file to fill in. - is standard input.",
)
def init(
    output: Path,
    force: bool,
    machine: str | None,
    axes: tuple[str, ...],
    long: bool,
    known: Path | None,
) -> int:
    """Write a commented starter machine file.

    It writes FILE (machine.yaml). The file asks for the facts that checks of rollover, gearing,
    homing and interlock need, each with an example. Facts that follow from the kind of an axis are
    filled in. On a terminal the command asks for missing options. FILE - is standard output.
    """
    from .. import api
    from ..base.safe_write import refuse_to_replace, write_file
    from ..source.standard_input import standard_input

    to_file = str(output) != "-"
    if to_file:
        refuse_to_replace(output, force, [known] if known else [])
    chosen = dict(map(_axis_option, axes))
    ask = sys.stdin.isatty() and known is None
    if machine is None and ask:
        machine = click.prompt("Name of the machine", err=True)
    if not chosen and ask:
        chosen = _ask_axes()
    if machine is None and known is None:
        raise UsageError("the machine has no name", expected="--machine and its name")
    texts = None if known is None else standard_input([known])
    text = api.starter(machine or "", chosen, known, long=long, texts=texts)
    if to_file:
        write_file(output, text, force=force)
        schema = shlex.quote(str(output.with_name("machine.schema.json")))
        _print(
            f"{output} is a form. Fill in its facts from plates, manuals and the drive.\n"
            f"`axisproof ask {output}` asks for them, one after the other.\n"
            f"`axisproof check {output}` says which facts it lacks.\n"
            "Until then, nothing can be decided, and check ends with status 1.\n"
            "For an editor that checks while you type, put the schema beside it: "
            f"axisproof schema machine > {schema}\n"
        )
    else:
        _print_file(text)
    return 0


def _axis_option(text: str) -> tuple[str, str]:
    from ..authoring.axis_kinds import KINDS

    name, mark, kind = text.partition(":")
    if not mark or kind not in KINDS:
        raise UsageError(
            f"--axis is {text[:80]}",
            expected=f"a name and its kind, as in lift:screw. The kinds are {', '.join(KINDS)}",
        )
    return name, kind


def _ask_axes() -> dict[str, str]:
    from ..authoring.axis_kinds import KINDS

    axes: dict[str, str] = {}
    while True:
        more = "" if axes else None
        name = click.prompt("Name of an axis (nothing: no more)", default=more, err=True)
        if not name:
            return axes
        axes[name] = click.prompt("Its kind", type=click.Choice([*KINDS]), err=True)


@click.command("show")
@click.argument("file", type=FILE, metavar="FILE")
@click.argument("axes", nargs=-1, metavar="[AXIS...]")
@click.option("--all", "everything", is_flag=True, help="Show each number, and what data it lacks.")
@click.option(
    "--rules", type=FILE, multiple=True, metavar="DIR", help="Rules of your site, as for check."
)
@shelf_option
@width_option
@site_option
def show(
    file: Path,
    axes: tuple[str, ...],
    everything: bool,
    rules: tuple[Path, ...],
    shelf: Path | None,
    width: int | None,
    no_site_file: bool,
) -> int:
    """Print the numbers that follow from the facts of an axis.

    They are counts per unit, rollover, top speeds and more. FILE is a machine or project file.
    Without AXIS, all its axes are shown.
    """
    from .. import api
    from ..report.derived_table import render_derived
    from ..source.standard_input import standard_input
    from .console import options_for
    from .site import site_for

    options = options_for(width)
    site = site_for((file,), no_site_file)
    shown = api.show(
        file,
        axes,
        rules=rules or (site.rules if site else ()),
        shelf=shelf or (site.shelf if site else None),
        texts=standard_input([file]),
    )
    _print(render_derived(shown, options, everything=everything))
    return 0


def _print(text: str) -> None:
    from .console import options_for, print_text

    print_text(text, options_for(None))


def _print_file(text: str) -> None:
    """Print the text of a file; only on a terminal, visible escapes replace unsafe characters."""
    from .console import write_utf8

    if sys.stdout.isatty():
        _print(text)
    else:
        write_utf8(text)


def _print_remarks(remarks: tuple[Any, ...]) -> None:
    """Print to standard error what an import left out."""
    from ..report.layout import visible
    from .console import options_for, print_text

    if not remarks:
        return
    lines = [f"Left out ({len(remarks)}):"]
    lines += [f"  {visible(str(remark))}" for remark in remarks[:MAX_PRINTED]]
    if len(remarks) > MAX_PRINTED:
        lines.append(f"  and {len(remarks) - MAX_PRINTED} more, listed in the written file")
    print_text("\n".join(lines) + "\n", options_for(None, error=True), error=True)
