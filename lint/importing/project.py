"""Project files: which exports and hand-written files describe one machine."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from ..base.errors import UsageError
from ..source.files import Source
from ..source.inside import real_inside
from ..source.limits import LONGEST_PATH, shortened
from ..source.parsing import locate, parse
from ..source.places import KeyPath
from ..source.reader import DISK, Reader, read_source
from .archive import archive_of, exists
from .assembly import DeviceFile, FactsFile, Imported, ProgressFor, SourceFile, TableFile, assemble
from .axis_names import AxisNames
from .device_facts import DeviceOptions
from .export import Export, Statement
from .shape import check_shape, error_at
from .user_units import Level, UserUnit, parse_user_unit

KEY = "project"
"""The key by which a project file is told from a machine file."""


def load_project(
    path: Path, progress: ProgressFor = lambda path: None, reader: Reader = DISK
) -> Imported:
    """Read a project file and all its sources.

    Raises InputError, with file, line and column, for whatever cannot be used.
    """
    source = read_source(path, reader)
    plain = check_shape(source, parse(source), "project")
    header, names = _header(source, plain)
    for number, each in enumerate(plain["sources"]):
        if "axis" in each:
            names.by_name(
                each["axis"],
                locate(source).value(("sources", number, "axis")) or source.place(0, 0),
                source.error_at,
            )
    sources = _sources(source, plain, reader)
    return assemble(header, names, sources, path.parent, progress, reader)


def project_sources(path: Path, reader: Reader) -> list[SourceFile]:
    """What a project file names, none of it read yet. Raises as ``load_project`` does."""
    source = read_source(path, reader)
    return _sources(source, check_shape(source, parse(source), "project"), reader)


def project_files(path: Path, reader: Reader) -> set[Path]:
    """The files a project uses, resolved. Raises InputError for a project that is not one."""
    source = read_source(path, reader)
    plain = check_shape(source, parse(source), "project")
    used = [each[key] for each in plain["sources"] for key in _FILES if key in each]
    return {reader.real(path.parent / name) for name in used}


_FILES = ("facts", "device", "table", "mapping")


def _header(source: Source, plain: dict[str, Any]) -> tuple[Export, AxisNames]:
    """What the project file states itself, and the names it gives the axes."""
    here = locate(source)
    statements: dict[KeyPath, Statement] = {}

    def state(path: KeyPath, at: KeyPath, value: Any) -> None:
        place = here.value(at) or source.place(0, 0)
        statements[path] = Statement(path, value, place, "project file")

    state(("format",), (KEY,), 1)
    state(("machine",), ("machine",), plain["machine"])
    if "description" in plain:
        state(("description",), ("description",), plain["description"])
    names = AxisNames(closed="axes" in plain)
    for name, axis in plain.get("axes", {}).items():
        at: KeyPath = ("axes", name)
        names.names[name] = None
        if "motion" in axis:
            state((*at, "motion"), (*at, "motion"), axis["motion"])
        if "node" in axis:
            names.add_node(axis["node"], name)
            state((*at, "drive", "node"), (*at, "node"), axis["node"])
    for name, axis in plain.get("axes", {}).items():
        for index, other in enumerate(axis.get("called", ())):
            if other in names.names or names.called.get(other, name) != name:
                raise error_at(
                    source,
                    ("axes", name, "called", index),
                    f"{shortened(other)} is the name of another axis",
                    "a name of its own for each axis",
                )
            names.called[other] = name
    header = Export(source.path, source.name, source.text, source.form, statements=statements)
    return header, names


def _sources(source: Source, plain: dict[str, Any], reader: Reader) -> list[SourceFile]:
    return [_source(source, number, each, reader) for number, each in enumerate(plain["sources"])]


def _source(source: Source, number: int, plain: dict[str, Any], reader: Reader) -> SourceFile:
    at: KeyPath = ("sources", number)
    if "facts" in plain:
        return FactsFile(_file(source, (*at, "facts"), plain["facts"], reader))
    if "table" in plain:
        return TableFile(
            _file(source, (*at, "table"), plain["table"], reader),
            _file(source, (*at, "mapping"), plain["mapping"], reader),
            plain.get("axis"),
        )
    options = DeviceOptions(
        _units(source, (*at, "units"), plain.get("units", {})),
        plain.get("reference_reads"),
        plain.get("part", 0),
        frozenset(int(index, 16) for index in plain.get("leave_out", ())),
        plain.get("linear_motor", False),
    )
    file = _file(source, (*at, "device"), plain["device"], reader)
    variant = plain.get("variant", "")
    return DeviceFile(file, plain.get("axis"), plain.get("node"), options, variant)


def _units(source: Source, at: KeyPath, plain: dict[Level, str]) -> dict[Level, UserUnit]:
    units: dict[Level, UserUnit] = {}
    for level, text in plain.items():
        try:
            units[level] = parse_user_unit(text, level, source.name)
        except UsageError as fault:
            raise error_at(source, (*at, level), fault.what, fault.expected) from None
    return units


def _file(source: Source, at: KeyPath, entry: str, reader: Reader) -> Path:
    """The file that an entry names, inside the project's folder."""
    expected = "a file inside the project's folder, relative to it"
    shown = shortened(entry, LONGEST_PATH)
    folder = source.path.parent
    bound = reader.real(folder)
    try:
        real = real_inside(entry, folder, bound, "leaves the project's folder", reader)
    except ValueError as fault:
        raise error_at(source, at, f"{shown} {fault}", expected) from None
    archived = archive_of(folder / entry, reader)
    if archived is not None:
        in_folder = archived[0].relative_to(folder).as_posix()
        within = _file(source, at, in_folder, reader) / archived[1]
        if not exists(within, reader):
            raise error_at(source, at, f"there is no file {shown}", expected)
        return within
    if reader.kind(real) != "file":
        raise error_at(source, at, f"there is no file {shown}", expected)
    inside = real.relative_to(bound)
    reader.note_link(folder, folder / entry, inside.as_posix())
    return folder / inside
