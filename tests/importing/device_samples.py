"""Device files (CiA 306) for tests, written line by line so that a test can name a line."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

INTEGER8, INTEGER16, INTEGER32 = 2, 3, 4
UNSIGNED8, UNSIGNED16, UNSIGNED32 = 5, 6, 7
VISIBLE_STRING = 9


@dataclass(frozen=True)
class Value:
    """One variable of a device file; None leaves the entry out."""

    stated: object = None
    default: object = None
    kind: int = UNSIGNED32
    low: object = None
    high: object = None


def variable(section: str, name: str, value: Value) -> list[str]:
    """The lines of a section for one variable."""
    lines = [f"[{section}]", f"ParameterName={name}", "ObjectType=0x7"]
    lines += [f"DataType=0x{value.kind:04X}", "AccessType=rw"]
    for key, entry in (
        ("LowLimit", value.low),
        ("HighLimit", value.high),
        ("DefaultValue", value.default),
        ("ParameterValue", value.stated),
    ):
        if entry is not None:
            lines.append(f"{key}={entry}")
    return lines


def array(index: int, subs: dict[int, Value], kind: int = 8) -> list[str]:
    """The lines of an array (8) or record (9) with its highest subindex in sub 0."""
    lines = [f"[{index:04X}]", f"ParameterName=object {index:X}", f"ObjectType=0x{kind:X}"]
    lines.append(f"SubNumber={len(subs) + 1}")
    lines += variable(f"{index:04X}sub0", "highest", Value(max(subs), kind=UNSIGNED8))
    for sub, value in subs.items():
        lines += variable(f"{index:04X}sub{sub:X}", f"sub {sub}", value)
    return lines


def device_text(
    objects: dict[int, Value | dict[int, Value]], node: object = 5, profile: int | None = 402
) -> str:
    """A whole device file."""
    lines = ["[DeviceInfo]", "ProductName=an invented device"]
    if node is not None:
        lines += ["[DeviceComissioning]", f"NodeID={node}"]
    if profile is not None:
        objects = {0x1000: Value(f"0x{0x20000 + profile:08X}"), **objects}
    for index, value in objects.items():
        if isinstance(value, Value):
            lines += variable(f"{index:04X}", f"object {index:X}", value)
        else:
            lines += array(index, value)
    return "\n".join(lines) + "\n"


def write_device(folder: Path, text: str, name: str = "drive.dcf") -> Path:
    """Write a device file into a folder."""
    path = folder / name
    path.write_text(text)
    return path


def line_of(text: str, needle: str, nth: int = 1) -> int:
    """The 1-based number of the ``nth`` line that begins with ``needle``."""
    found = [n for n, line in enumerate(text.splitlines(), 1) if line.startswith(needle)]
    return found[nth - 1]
