"""Several sources of one machine, joined on axis or node, laid over one another with provenance."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeAlias

from ..base.errors import InputError, Place
from ..machine.reading import named
from ..source.files import Plain, Source
from ..source.merge import EDITOR_SCHEMA, Tree, gather, merge_files
from ..source.parsing import locate
from ..source.reader import DISK, Reader
from .axis_names import AxisNames
from .csv_cells import Progress
from .device import Device
from .device_facts import DeviceOptions, device_export
from .device_reader import read_device
from .export import Export, ImportRemark
from .mapping import Mapping, read_mapping
from .shape import error_at
from .table_facts import table_export


@dataclass(frozen=True, slots=True)
class FactsFile:
    """A hand-written file in the form of the machine file."""

    path: Path


@dataclass(frozen=True, slots=True)
class DeviceFile:
    """A device file; ``axis`` and ``node`` are None where the file's node tells.

    ``variant`` is the name of the type, of a file that describes several.
    """

    path: Path
    axis: str | None = None
    node: int | None = None
    options: DeviceOptions = field(default_factory=DeviceOptions)
    variant: str = ""


@dataclass(frozen=True, slots=True)
class TableFile:
    """A parameter list with its mapping file."""

    path: Path
    mapping: Path
    axis: str | None = None


SourceFile: TypeAlias = FactsFile | DeviceFile | TableFile
Layers: TypeAlias = list[tuple[Source, Plain]]


@dataclass(frozen=True, slots=True)
class Imported:
    """One machine from several sources: its tree with places, and what was left out."""

    tree: Tree
    remarks: tuple[ImportRemark, ...]


ProgressFor = Callable[[Path], Progress | None]
"""Gives what to call while a file is read, or None."""


def assemble(
    header: Export,
    names: AxisNames,
    sources: list[SourceFile],
    root: Path | None,
    progress: ProgressFor = lambda path: None,
    reader: Reader = DISK,
) -> Imported:
    """Read all sources and lay them over ``header``, in the order given.

    Sources that say which axis they are about are read before those that say a node, so that a node
    may be given by any of them. ``root`` is the folder hand-written files may include from (None:
    the folder of each). Raises InputError, with a place, for whatever cannot be used.
    """
    tables = [source for source in sources if isinstance(source, TableFile)]
    mappings = {table.mapping: read_mapping(table.mapping, reader) for table in tables}
    devices: dict[int, Device] = {}
    layers: dict[int, Layers] = {}
    order = sorted(range(len(sources)), key=lambda n: _waits(sources[n], mappings))
    for number in order:
        source = sources[number]
        match source:
            case FactsFile(path):
                layers[number] = [
                    (file, _without_editor_schema(plain))
                    for file, plain in gather(path, root, reader)
                ]
                for file, plain in layers[number]:
                    _check_head(file, plain)
                    _note_axes(file, plain, names)
            case DeviceFile(path, axis, node, options, variant):
                device = devices[number] = read_device(path, node, reader, variant)
                export = device_export(device, axis or _axis_of(device, names), options)
                layers[number] = [(export, export.plain())]
            case TableFile(path, mapping, axis):
                export = table_export(path, mappings[mapping], names, axis, progress(path), reader)
                layers[number] = [(export, export.plain())]
        for _, plain in layers[number]:
            _note_nodes(plain, names)
    files: Layers = [(header, header.plain())]
    for number in range(len(sources)):
        files += layers[number]
    tree = merge_files(files)
    _name_claims(tree)
    remarks = [r for file, _ in files if isinstance(file, Export) for r in file.remarks]
    return Imported(tree, tuple(remarks))


def _waits(source: SourceFile, mappings: dict[Path, Mapping]) -> int:
    """0 for a source that says its axis, 1 for one that is joined on a node."""
    if isinstance(source, DeviceFile):
        return int(source.axis is None)
    return int(isinstance(source, TableFile) and mappings[source.mapping].form.subject == "node")


def _axis_of(device: Device, names: AxisNames) -> str:
    def fail(what: str, place: Place, expected: str) -> InputError:
        return device.error(what, place, expected)

    start = device.source.place(0, 0)
    if device.node is None:
        raise fail(
            "the file states no node id",
            start,
            "the axis or the node beside the file",
        )
    return names.by_node(str(device.node), device.node_place or start, fail)


def _without_editor_schema(plain: Plain) -> Plain:
    """Without the path of the schema, which is relative to each file and no fact."""
    if not isinstance(plain, dict):
        return plain
    return {key: value for key, value in plain.items() if key != EDITOR_SCHEMA}


def _check_head(file: Source, plain: Plain) -> None:
    """Raise InputError for what cannot be laid over other sources, and for another format."""
    if not isinstance(plain, dict):
        expected = "a record with facts such as format, machine, axes"
        raise error_at(file, (), f"the file is {named(plain)}", expected)
    number = plain.get("format", 1)
    if type(number) is not int or number != 1:
        raise error_at(file, ("format",), f"format is {named(number)}", "1")


def _axes(plain: Plain) -> dict[str, Any]:
    axes = plain.get("axes") if isinstance(plain, dict) else None
    return axes if isinstance(axes, dict) else {}


def _note_axes(file: Source, plain: Plain, names: AxisNames) -> None:
    """Take down the axes of a hand-written file, which states them under their own names."""
    for name in _axes(plain):
        if names.closed and name not in names.names:

            def fail(what: str, place: Place, expected: str) -> InputError:
                return file.error_at(what, place, expected)

            place = locate(file).key(("axes", name)) or file.place(0, 0)
            names.by_name(name, place, fail)
            raise error_at(
                file,
                ("axes", name),
                f"{name} is another name of an axis",
                names.called[name],
                key=True,
            )
        names.names.setdefault(name)


def _note_nodes(plain: Plain, names: AxisNames) -> None:
    for name, axis in _axes(plain).items():
        drive = axis.get("drive") if isinstance(axis, dict) else None
        node = drive.get("node") if isinstance(drive, dict) else None
        if isinstance(node, int) and not isinstance(node, bool):
            names.add_node(node, name)


def _name_claims(tree: Tree) -> None:
    """Say in each claim which parameter or object of an export makes it, not only the file."""
    for path, (source, inside) in tree.origins.items():
        statement = source.statements.get(inside) if isinstance(source, Export) else None
        if statement is None:
            continue
        claim: Any = tree.plain
        for part in path:
            claim = claim[part]
        claim["source"] = f"{source.name}, {statement.note}"
