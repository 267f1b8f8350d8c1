"""Parameter lists read with a mapping, and the facts that follow."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from axisproof.importing.axis_names import AxisNames
from axisproof.importing.export import Export
from axisproof.importing.mapping import read_mapping
from axisproof.importing.table_facts import table_export

ROWS = "mapping: 1\nform: csv\ncolumns: {parameter: Name, value: Value}\nparameters:\n"
UNITS = ROWS.replace("value: Value", "value: Value, unit: Unit")
AXES = (
    "mapping: 1\nform: csv\nlayout: row_per_axis\nsubject: axis\ncolumns: {subject: Axis}\n"
    "parameters:\n"
)


def import_list(
    folder: Path,
    mapping: str,
    text: str | bytes,
    *,
    names: AxisNames | None = None,
    axis: str | None = "x",
    ending: str = "csv",
) -> Export:
    (folder / "list.mapping.yaml").write_text(mapping)
    path = folder / f"list.{ending}"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    read = read_mapping(folder / "list.mapping.yaml")
    return table_export(path, read, names or AxisNames(), axis)


def facts(export: Export) -> dict[str, Any]:
    return {
        ".".join(map(str, path[2 if path[0] == "axes" else 0 :])): statement.value
        for path, statement in export.statements.items()
    }


def by_row(folder: Path, entries: str, rows: str, head: str = ROWS) -> dict[str, Any]:
    header = "Name,Value,Unit\n" if "Unit" in head else "Name,Value\n"
    lines = "".join(f"  {line}\n" for line in entries.splitlines())
    return facts(import_list(folder, head + lines, header + rows + "\n"))


NODE = "  A: {to: drive.node}\n"
