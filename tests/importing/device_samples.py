"""Device files for tests, written line by line so that a test can name a line.

The same objects as a text after CiA 306 (EDS, DCF), CiA 311 (XDD, XDC) or ETG.2000 (ESI).
"""

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


# CiA 311 -----------------------------------------------------------------------------------------

XDD_HEAD = """<?xml version="1.0" encoding="utf-8"?>
<ISO15745ProfileContainer xmlns="urn:invented">
<ISO15745Profile><ProfileBody formatName="CANopen" fileModificationDate="2026-03-01">
<DeviceIdentity><vendorName>nobody</vendorName></DeviceIdentity>
</ProfileBody></ISO15745Profile>
<ISO15745Profile><ProfileBody formatName="CANopen">
<ApplicationLayers><CANopenObjectList>"""


def xdd_text(
    objects: dict[int, Value | dict[int, Value]], node: object = 5, profile: int | None = 402
) -> str:
    """A whole XDD or XDC: stated values are actual values."""
    if profile is not None:
        objects = {0x1000: Value(f"0x{0x20000 + profile:08X}"), **objects}
    lines = XDD_HEAD.splitlines()
    for index, value in objects.items():
        if isinstance(value, Value):
            lines.append(f"<CANopenObject{_xdd('index', f'{index:04X}', value)}/>")
            continue
        lines.append(
            f'<CANopenObject index="{index:04X}" name="object {index:X}" objectType="8" '
            f'subNumber="{len(value) + 1}">'
        )
        for sub, each in {0: Value(max(value), kind=UNSIGNED8), **value}.items():
            lines.append(f"<CANopenSubObject{_xdd('subIndex', f'{sub:02X}', each)}/>")
        lines.append("</CANopenObject>")
    lines.append("</CANopenObjectList></ApplicationLayers>")
    if node is not None:
        lines.append("<NetworkManagement>")
        lines.append(f'<deviceCommissioning nodeID="{node}"/></NetworkManagement>')
    lines.append("</ProfileBody></ISO15745Profile></ISO15745ProfileContainer>")
    return "\n".join(lines) + "\n"


def _xdd(word: str, number: str, value: Value) -> str:
    text = f' {word}="{number}" name="x" objectType="7" dataType="{value.kind:04X}" accessType="rw"'
    for key, entry in (
        ("lowLimit", value.low),
        ("highLimit", value.high),
        ("defaultValue", value.default),
        ("actualValue", value.stated),
    ):
        if entry is not None:
            text += f'\n {key}="{entry}"'
    return text


# ETG.2000 ----------------------------------------------------------------------------------------

ESI_TYPES = {
    INTEGER8: ("SINT", 1), INTEGER16: ("INT", 2), INTEGER32: ("DINT", 4), UNSIGNED8: ("USINT", 1),
    UNSIGNED16: ("UINT", 2), UNSIGNED32: ("UDINT", 4), VISIBLE_STRING: ("STRING(40)", 40),
}  # fmt: skip


def esi_text(
    objects: dict[int, Value | dict[int, Value]], profile: int | None = 402, kind: str = "AX-4"
) -> str:
    """A whole ESI of one device: it can state defaults only."""
    if profile is not None:
        objects = {0x1000: Value(default=0x20000 + profile), **objects}
    types, lines = [], []
    for index, value in objects.items():
        if isinstance(value, Value):
            lines += _esi_object(index, ESI_TYPES[value.kind][0], _esi_info(value))
            continue
        whole = {0: Value(default=max(value), kind=UNSIGNED8), **value}
        types += ["<DataType>", f"<Name>DT{index:04X}</Name>"]
        info = ["<Info>"]
        for sub, each in whole.items():
            types.append(
                f"<SubItem><SubIdx>{sub}</SubIdx><Name>sub {sub}</Name>"
                f"<Type>{ESI_TYPES[each.kind][0]}</Type></SubItem>"
            )
            info += ["<SubItem>", f"<Name>sub {sub}</Name>", *_esi_info(each), "</SubItem>"]
        types.append("</DataType>")
        lines += _esi_object(index, f"DT{index:04X}", [*info, "</Info>"])
    return "\n".join(
        [
            '<?xml version="1.0"?>',
            '<EtherCATInfo Version="1.0"><Vendor><Id>#x0</Id><Name>nobody</Name></Vendor>',
            "<Descriptions><Devices>",
            '<Device Physics="YY">',
            f'<Type ProductCode="#x2A" RevisionNo="#x10001">{kind}</Type>',
            "<Name>An invented drive</Name>",
            f"<Profile><ProfileNo>{profile}</ProfileNo><Dictionary>",
            "<DataTypes>",
            *types,
            "</DataTypes>",
            "<Objects>",
            *lines,
            "</Objects>",
            "</Dictionary></Profile>",
            "</Device></Devices></Descriptions></EtherCATInfo>",
        ]
    )


def _esi_object(index: int, kind: str, info: list[str]) -> list[str]:
    head = ["<Object>", f"<Index>#x{index:04X}</Index>", f"<Name>object {index:X}</Name>"]
    return [*head, f"<Type>{kind}</Type>", *info, "</Object>"]


def _esi_info(value: Value) -> list[str]:
    lines = ["<Info>"]
    if value.low is not None:
        lines.append(f"<MinValue>{value.low}</MinValue>")
    if value.high is not None:
        lines.append(f"<MaxValue>{value.high}</MaxValue>")
    if isinstance(value.default, int):
        size = ESI_TYPES[value.kind][1]
        data = value.default.to_bytes(size, "little", signed=value.default < 0).hex().upper()
        lines.append(f"<DefaultData>{data}</DefaultData>")
    elif value.default is not None:
        lines.append(f"<DefaultString>{value.default}</DefaultString>")
    return [*lines, "</Info>"]
