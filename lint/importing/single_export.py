"""Importing files that no project file names: what it would say comes as options."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final, Literal

from ..base.errors import InputError, Place, UsageError
from ..machine.schema import Leaf, machine_type
from ..machine.value_reader import expectation
from ..source.files import Plain
from ..source.limits import shortened
from ..source.parsing import parse
from ..source.places import KeyPath
from ..source.reader import DISK, STDIN, SUFFIXES, read_source, resolved
from .archive import exists, is_inside
from .assembly import DeviceFile, FactsFile, Imported, ProgressFor, SourceFile, TableFile, assemble
from .axis_names import AxisNames
from .device_facts import DeviceOptions, Sign
from .device_reader import is_device_file
from .entry import kind_of
from .export import Export, Statement, first_bytes, refuse_stand_in
from .foreign import MACHINE_KEYS, top_keys
from .project import load_project
from .user_units import Level, parse_user_unit

_OPTIONS: Final = "the options"


@dataclass(frozen=True, slots=True)
class ImportOptions:
    """What a project file would say. ``units`` are user units by level, as written."""

    machine: str | None = None
    axis: str | None = None
    motion: Literal["linear", "rotary"] | None = None
    mapping: Path | None = None
    node: int | None = None
    part: int = 0
    units: Mapping[Level, str] = field(default_factory=dict)
    reference_reads: Sign | None = None
    leave_out: frozenset[int] = frozenset()
    variant: str = ""


def import_files(
    paths: Sequence[Path],
    options: ImportOptions,
    progress: ProgressFor = lambda path: None,
) -> Imported:
    """Read a project file, or device files, lists and hand-written files, as one machine.

    A file that ends in .eds, .dcf, .xdd or .xdc is a device file, and so is an .xml file that
    begins as one; a YAML or JSON file with ``format`` is hand-written; any other is a parameter
    list explained by ``options.mapping``. Raises InputError
    with a place for what cannot be used, UsageError for options that do not fit the files.
    """
    if not paths:
        raise UsageError("there is no file to import", expected="at least one")
    for path in paths:
        if not exists(path):
            is_folder = resolved(path).is_dir()
            what = f"{path} is a folder" if is_folder else f"there is no file {path}"
            if path == STDIN:
                what = "an export has a name and an ending, which standard input lacks"
            raise UsageError(what, expected="an export or a project file")
    if any(kind_of(path) == "project" for path in paths):
        if len(paths) > 1 or options != ImportOptions():
            raise UsageError(
                "a project file says everything itself", expected="it alone, without options"
            )
        return load_project(paths[0], progress)
    sources = [_source(path, options) for path in paths]
    hand_written = any(isinstance(source, FactsFile) for source in sources)
    if options.machine is None and not hand_written:
        raise UsageError("the machine has no name", expected="--machine and its name")
    name = machine_type().fields["machine"].type
    assert isinstance(name, Leaf)
    if options.machine is not None and not re.search(name.pattern, options.machine):
        raise UsageError(
            f"the machine's name is {shortened(options.machine)}", expected=expectation(name)
        )
    if options.motion is not None and options.axis is None:
        raise UsageError("--motion is about one axis", expected="--axis and its name beside it")
    header = _header(paths[0], options)
    names = AxisNames()
    if options.axis is not None:
        names.by_name(options.axis, Place(_OPTIONS, 1, 1, 1, 1), _as_usage)  # type: ignore[arg-type]
    return assemble(header, names, sources, None, progress)


def _as_usage(what: str, place: Place, expected: str) -> UsageError:
    return UsageError(what, expected=expected)


def _source(path: Path, options: ImportOptions) -> SourceFile:
    ending = path.suffix.lower()
    if is_device_file(path):
        units = {
            level: parse_user_unit(text, level, f"--{level}-unit")
            for level, text in options.units.items()
        }
        device = DeviceOptions(units, options.reference_reads, options.part, options.leave_out)
        return DeviceFile(path, options.axis, options.node, device, options.variant)
    if ending in SUFFIXES and not is_inside(path) and _is_hand_written(path, options.mapping):
        return FactsFile(path)
    if not is_inside(path):
        refuse_stand_in(path.as_posix(), first_bytes(path, DISK))
    if options.mapping is None:
        raise UsageError(
            f"{path} is a parameter list and needs a mapping file",
            expected="--mapping and the mapping file, or a project file that names both",
        )
    return TableFile(path, options.mapping, options.axis)


def _is_hand_written(path: Path, mapping: Path | None) -> bool:
    """Whether a YAML or JSON file is in the form of the machine file, and no parameter list.

    A list may have an encoding of its own, ``null``, and a list of axes.
    """
    keys = top_keys(path, DISK)
    if not keys:
        return mapping is None  # reading it says what is wrong
    if keys.isdisjoint(MACHINE_KEYS):
        return False
    try:
        plain = parse(read_source(path))
    except InputError:
        return mapping is None or not keys.isdisjoint(("format", "machine"))
    axes = plain.get("axes") if isinstance(plain, dict) else None
    return isinstance(plain, dict) and ("format" in plain or isinstance(axes, dict))


def _header(path: Path, options: ImportOptions) -> Export:
    statements: dict[KeyPath, Statement] = {}
    stated: dict[KeyPath, Plain] = {("format",): 1}
    if options.machine is not None:
        stated["machine",] = options.machine
    if options.motion is not None and options.axis is not None:
        stated["axes", options.axis, "motion"] = options.motion
    place = Place(_OPTIONS, 0, 0, 0, 0)  # no line: the command says it
    for at, value in stated.items():
        statements[at] = Statement(at, value, place, "given as an option")
    return Export(path, _OPTIONS, "", "yaml", statements=statements)
