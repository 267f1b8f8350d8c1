"""EtherCAT slave information (ETG.2000): what a device is and can do; nothing in it is a setting.

Elements follow ETG.2000 (from memory): Descriptions/Devices/Device with Type (ProductCode,
RevisionNo), Name and Profile (ProfileNo, Dictionary); in the dictionary DataTypes and Objects, each
object with Index, Name, Type and Info (DefaultData in hexadecimal bytes, lowest first, DefaultValue
or DefaultString; MinValue, MaxValue), of which the SubItems follow those of the object's type.
"""

from __future__ import annotations

import re
from typing import Final

from ..base.errors import Place
from ..source.files import Source
from ..source.limits import shortened
from .branches import Branch, place_of
from .device import Device, ObjectsRead
from .device_sections import ObjectKey
from .device_values import DOMAIN, INTEGERS, TEXT_TYPES, DeviceValue, Value, object_name, signed
from .elements import anywhere, first, inside
from .export import ImportRemark

ROOT: Final = "EtherCATInfo"

_TYPES: Final = {
    "BOOL": 0x01, "BIT": 0x01, "SINT": 0x02, "INT": 0x03, "DINT": 0x04, "USINT": 0x05,
    "UINT": 0x06, "UDINT": 0x07, "REAL": 0x08, "INT24": 0x10, "LREAL": 0x11, "INT40": 0x12,
    "INT48": 0x13, "INT56": 0x14, "LINT": 0x15, "UINT24": 0x16, "UINT40": 0x18, "UINT48": 0x19,
    "UINT56": 0x1A, "ULINT": 0x1B, "BYTE": 0x05, "WORD": 0x06, "DWORD": 0x07,
}  # fmt: skip
"""Names of types in ETG.2000, as numbers of CiA 301."""

_STRING: Final = re.compile(r"(?:VISIBLE_)?STRING(?:\([0-9]+\))?", re.IGNORECASE)
_BYTES: Final = re.compile(r"ARRAY\s*\[0\.\.[0-9]+\]\s*OF\s*BYTE", re.IGNORECASE)

_TALK: Final = ("Fmmu", "Sm", "RxPdo", "TxPdo", "Mailbox", "Dc", "Eeprom", "Slots", "Modules")
_MOST_SUBS: Final = 255


def esi_device(source: Source, root: Branch, variant: str) -> Device:
    """The device that an ESI file describes; the one called ``variant`` if there are several.

    Raises InputError, with line and column.
    """
    element = _device(source, root, variant)
    profiles = list(inside(element, "Profile"))
    chosen = next((each for each in profiles if any(inside(each, "Dictionary"))), None)
    chosen = chosen or next(iter(profiles), None)
    dictionary = None if chosen is None else next(inside(chosen, "Dictionary"), None)
    reading = _EsiReading(source, dictionary)
    if dictionary is not None:
        for each in inside(dictionary, "Objects", "Object"):
            reading.take(each)
    named = first(element, "Type") or first(element, "Name")
    return reading.device(
        _left_out(source, element, profiles, chosen),
        profile=None if chosen is None else _profile_number(source, chosen),
        model=None if named is None else (named.text or "", place_of(source, named)),
    )


def _device(source: Source, root: Branch, variant: str) -> Branch:
    devices = list(inside(root, "Descriptions", "Devices", "Device"))
    if not devices:
        raise source.error(
            "the file describes no device",
            *root.name_span,
            "Descriptions/Devices/Device (ETG.2000). Perhaps the file is cut off",
        )
    names = [_names(device) for device in devices]
    fits = [device for device, called in zip(devices, names, strict=True) if variant in called]
    if len(fits) == 1:
        return fits[0]
    if len(devices) == 1 and not variant:
        return devices[0]
    known = list(dict.fromkeys(called[-1] for called in names if called))
    what = f"the file describes {len(devices)} devices"
    if variant:
        what += f", and {len(fits)} of them are called {shortened(variant)}"
    raise source.error(
        what, *devices[-1].name_span, f"variant: one of {', '.join(map(shortened, known[:12]))}"
    )


def _names(device: Branch) -> list[str]:
    """What a device may be called: its type, and its type with the revision."""
    kind = next(inside(device, "Type"), None)
    if kind is None or not kind.text:
        return []
    revision = first(kind, "@RevisionNo")
    return [kind.text] if revision is None else [kind.text, f"{kind.text} {revision.text}"]


def _profile_number(source: Source, profile: Branch) -> tuple[int, Place] | None:
    given = first(profile, "ProfileNo") or first(profile, "ChannelInfo", "ProfileNo")
    if given is None:
        return None
    place = place_of(source, given)
    number = _number(given.text or "")
    if number is None:
        raise source.error_at(
            f"ProfileNo is {shortened(given.text or '')}", place, "a number such as 402"
        )
    return number, place


def _left_out(
    source: Source, device: Branch, profiles: list[Branch], chosen: Branch | None
) -> list[ImportRemark]:
    remarks = []
    commands = list(anywhere(device, "InitCmd"))
    if commands:
        what = (
            "1 start-up command is"
            if len(commands) == 1
            else f"{len(commands)} start-up commands are"
        )
        words = f"{what} left out: what a master may send is no setting of this device"
        remarks.append(ImportRemark(source.place(*commands[0].name_span), words))
    talk = {part.name: part for part in device.parts if part.name in _TALK}
    if talk:
        words = f"left out: {', '.join(talk)} (how the device is talked to)"
        remarks.append(ImportRemark(source.place(*next(iter(talk.values())).name_span), words))
    for profile in profiles:
        if profile is not chosen:
            words = "a further profile of the device is not read"
            remarks.append(ImportRemark(source.place(*profile.name_span), words))
    for outside in anywhere(device, "DictionaryFile"):
        words = "the dictionary stands in a file of its own, which is not read"
        remarks.append(ImportRemark(source.place(*outside.name_span), words))
    return remarks


class _EsiReading(ObjectsRead):
    def __init__(self, source: Source, dictionary: Branch | None) -> None:
        super().__init__(source)
        given = () if dictionary is None else inside(dictionary, "DataTypes", "DataType")
        self.types = {
            name.text: each for each in given if (name := first(each, "Name")) and name.text
        }

    def take(self, element: Branch) -> None:
        """Take an object with its subindexes."""
        given = first(element, "Index")
        index = None if given is None else _number(given.text or "")
        if given is None or index is None or not 0 <= index <= 0xFFFF:
            raise self.source.error_at(
                f"the object has the index {shortened(given.text or '') if given else 'of none'}",
                place_of(self.source, given) if given else self.source.place(*element.name_span),
                "an index such as #x6091",
            )
        place = place_of(self.source, given)
        self.begin(index, place)
        kind = first(element, "Type")
        subs = self.subs("" if kind is None else kind.text or "")
        info = next(inside(element, "Info"), None)
        if subs is None:
            self.single.add(index)
            number = self.data_type("" if kind is None else kind.text or "")
            self.values[index, 0] = self.value(element, info, (index, 0), number, place)
            return
        infos = [] if info is None else list(inside(info, "SubItem"))
        if len(infos) > len(subs):
            what = f"0x{index:04X} has {len(infos)} values, and its type {len(subs)} subindexes"
            self.note_incomplete(index, what)
        by_name = {name: each for each in infos if (name := _name(each))}
        use_names = len(by_name) == len(infos) and {name for _, name, _ in subs} >= set(by_name)
        for order, (sub, name, number) in enumerate(subs):
            own = by_name.get(name) if use_names else next(iter(infos[order : order + 1]), None)
            inner = None if own is None else next(inside(own, "Info"), None)
            self.values[index, sub] = self.value(own or element, inner, (index, sub), number, place)

    def subs(self, name: str) -> list[tuple[int, str, int]] | None:
        """Subindex, name and type of what a record or array is made of; None for one value."""
        found = self.types.get(name)
        if found is None:
            return None
        items = list(inside(found, "SubItem"))
        if not items:
            return None
        out: list[tuple[int, str, int]] = []
        for item in items:
            kind = first(item, "Type")
            inner = self.types.get("" if kind is None else kind.text or "")
            array = None if inner is None else next(inside(inner, "ArrayInfo"), None)
            if inner is not None and array is not None:
                low = _number(_text(array, "LBound")) or 0
                count = _number(_text(array, "Elements")) or 0
                base = self.data_type(_text(inner, "BaseType"))
                first_sub = max(low, 1)
                for sub in range(first_sub, min(first_sub + count, _MOST_SUBS)):
                    out.append((sub, f"SubIndex {sub:03}", base))
                continue
            stated = _number(_text(item, "SubIdx"))
            sub = stated if stated is not None else (out[-1][0] + 1 if out else 0)
            if 0 <= sub < _MOST_SUBS:
                out.append(
                    (sub, _name(item), self.data_type("" if kind is None else kind.text or ""))
                )
        return out

    def data_type(self, name: str) -> int:
        """The CiA 301 number of a type; DOMAIN for one whose values nobody reads."""
        for _ in range(8):  # a type may stand for another one
            if name in _TYPES:
                return _TYPES[name]
            if re.fullmatch(r"BIT[1-8]", name):
                return 0x05
            if _STRING.fullmatch(name):
                return 0x09
            if _BYTES.fullmatch(name):
                return 0x0A
            inner = self.types.get(name)
            if inner is None:
                break
            name = _text(inner, "BaseType")
        return DOMAIN

    def value(
        self, element: Branch, info: Branch | None, key: ObjectKey, data_type: int, place: Place
    ) -> DeviceValue:
        """The default of an object or subindex."""
        at, word, value, fault = None, "DefaultData", None, ""
        for word in ("DefaultData", "DefaultValue", "DefaultString"):
            at = None if info is None else first(info, word)
            if at is not None:
                break
        if at is not None:
            value = _typed(at.text or "", word, data_type)
            if value is None:
                fault = f"{object_name(key)} is {shortened(at.text or '')}"
        limits = [
            None if info is None else self.limit(info, side, data_type) for side in ("Min", "Max")
        ]
        return DeviceValue(
            key,
            _name(element),
            data_type,
            value,
            limits[0],
            limits[1],
            word,
            False,
            "" if at is None else at.text or "",
            place if at is None else place_of(self.source, at),
            fault,
        )

    def limit(self, info: Branch, side: str, data_type: int) -> int | None:
        for word in (f"{side}Data", f"{side}Value"):
            at = first(info, word)
            if at is not None and data_type in INTEGERS:
                value = _typed(at.text or "", word, data_type)
                return value if isinstance(value, int) else None
        return None


def _typed(text: str, word: str, data_type: int) -> Value | None:
    """A value as ETG.2000 writes it; None for a text of another type."""
    if word == "DefaultString":
        return text
    try:
        if word.endswith("Value"):
            if data_type in TEXT_TYPES:
                return text
            if data_type not in INTEGERS:
                return float(text) if data_type in (0x08, 0x11) else bytes.fromhex(text)
            number = _number(text)
            return None if number is None else signed(number, data_type, text.replace("#", "0"))
        data = bytes.fromhex(text)
    except ValueError:
        return None
    if data_type in TEXT_TYPES:
        return data.rstrip(b"\0").decode("latin-1")
    if data_type not in INTEGERS:
        return data
    return int.from_bytes(data, "little", signed=INTEGERS[data_type][2])


def _number(text: str) -> int | None:
    """A number, hexadecimal after #x; None for no number."""
    try:
        return int(text[2:], 16) if text[:2].lower() == "#x" else int(text)
    except ValueError:
        return None


def _text(branch: Branch, name: str) -> str:
    found = first(branch, name)
    return "" if found is None else found.text or ""


def _name(branch: Branch) -> str:
    return _text(branch, "Name")
