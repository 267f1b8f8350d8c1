"""Any export as rows: names, values, units and their places, whether or not a mapping is known."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from ..source.files import Source
from ..source.reader import DISK, Reader
from .branches import Branch, data_tree, leaves
from .cell import Cell
from .cells import open_table
from .device import Device
from .device_reader import read_device
from .export import decoded, read_bytes
from .list_form import ListForm
from .xml_tree import xml_text, xml_tree


def export_rows(path: Path, form: ListForm | None = None, reader: Reader = DISK) -> Iterator[Cell]:
    """The rows of an export, in its order; of a parameter list, as ``form`` says.

    Without a form, a device file gives its objects, with index and subindex. Raises InputError,
    with line and column, for what cannot be read.
    """
    if form is None:
        yield from device_cells(read_device(path, None, reader))
    else:
        yield from open_table(path, form, reader=reader).cells


def device_cells(device: Device) -> Iterator[Cell]:
    """The objects of a device that have a value; a hexadecimal number is written as a decimal."""
    for (index, sub), value in device.values.items():
        if value.value is None:
            continue
        yield Cell(
            value.name,
            str(value.value),
            value.place,
            index=index,
            sub=sub,
            is_default=not value.configured,
        )


def tree_of(path: Path, encoding: str = "", reader: Reader = DISK) -> Branch:
    """A JSON, YAML or XML file as a tree, in which rows may be looked for.

    A name that ends in .json is JSON, and one that ends in .yaml or .yml YAML; any other is XML.
    """
    data = read_bytes(path, "a parameter list", reader)
    form = {".json": "json", ".yaml": "yaml", ".yml": "yaml"}.get(path.suffix.lower(), "xml")
    return tree_in(path, data, form, encoding, reader)[1]


def tree_in(
    path: Path, data: bytes, form: str, encoding: str, reader: Reader
) -> tuple[Source, Branch]:
    """The text of a file and its tree, by its form: json, yaml or xml."""
    if form == "xml":
        source = xml_text(path, data, encoding, reader)
        return source, xml_tree(source)
    codec = "utf-8-sig" if encoding in ("", "utf-8") else encoding
    source = decoded(path, data, (codec,), "json" if form == "json" else "yaml", reader)
    return source, data_tree(source)


def row_paths(root: Branch) -> dict[str, tuple[int, tuple[str, ...]]]:
    """The paths in a tree at which several parts stand side by side, which may be rows.

    For each path: how many there are, and the paths of the fields that any of them has. Such a path
    may be the ``records`` of a form, and the paths of fields its ``columns``.
    """
    found: dict[str, list[Branch]] = {}
    _gather(root, "", found)
    out: dict[str, tuple[int, tuple[str, ...]]] = {}
    for path, branches in found.items():
        fields = tuple(
            dict.fromkeys(name for each in branches for name, leaf in leaves(each) if leaf.text)
        )
        if len(branches) > 1 and fields not in ((), (".",)):
            out[path] = len(branches), fields
    return out


def _gather(branch: Branch, path: str, found: dict[str, list[Branch]]) -> None:
    for part in branch.parts:
        if part.name.startswith("@"):
            continue
        below = path or "." if branch.is_list else (f"{path}/{part.name}" if path else part.name)
        if not part.is_list:
            found.setdefault(below, []).append(part)
        _gather(part, below if below != "." else "", found)
