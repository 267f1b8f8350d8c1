"""XDD and XDC device files (CiA 311): their object list as the objects of one device.

Elements and attributes follow CiA 311 (from memory): CANopenObject and CANopenSubObject with index,
subIndex, name, objectType, dataType (hexadecimal), defaultValue, actualValue, lowLimit, highLimit
and uniqueIDRef, which leads to a parameter of the application process; deviceCommissioning with
nodeID; ProfileBody with the days of the file. An actualValue is a setting, a defaultValue is none.
"""

from __future__ import annotations

import datetime
import re
from typing import Final

from ..base.errors import InputError, Place
from ..source.files import Source
from ..source.limits import shortened
from .branches import Branch, place_of
from .device import Device, ObjectsRead
from .device_sections import VARIABLES, ObjectKey
from .device_values import (
    INTEGERS,
    DeviceValue,
    Value,
    depends_on_node,
    known_type,
    limit_value,
    object_name,
    typed_value,
)
from .elements import anywhere, first, inside
from .export import ImportRemark

CONTAINERS: Final = ("ISO15745ProfileContainer", "ISO15745Profile")

_TYPES: Final = {
    "bool": 0x01, "sint": 0x02, "int": 0x03, "dint": 0x04, "usint": 0x05, "uint": 0x06,
    "udint": 0x07, "real": 0x08, "string": 0x09, "wstring": 0x0B, "lreal": 0x11, "lint": 0x15,
    "ulint": 0x1B, "byte": 0x05, "word": 0x06, "dword": 0x07, "lword": 0x1B,
}  # fmt: skip
"""Types of the application process (IEC 61131-3), as numbers of CiA 301."""

_DAY: Final = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})Z?")


def xdd_device(source: Source, root: Branch, node: int | None) -> Device:
    """The device that an XDD or XDC describes. Raises InputError, with line and column."""
    stated = _stated_node(source, root)
    if stated is not None and node is not None and stated[0] != node:
        raise source.error_at(
            f"the file is that of node {stated[0]}", stated[1], f"node {node}, as it was asked for"
        )
    reading = _XddReading(source, root, node if stated is None else stated[0])
    for element in anywhere(root, "CANopenObject"):
        reading.take(element)
    if not reading.places:
        raise source.error(
            "the file describes no object", *root.name_span, "CANopenObject elements (CiA 311)"
        )
    reading.remark_unreferenced()
    day, doubts = _written_on(source, root)
    named = first(root, "ISO15745Profile", "ProfileBody", "DeviceIdentity", "productName") or first(
        root, "ProfileBody", "DeviceIdentity", "productName"
    )
    return reading.device(
        doubts,
        node=reading.node,
        node_place=None if stated is None else stated[1],
        written_on=day,
        model=None if named is None else (named.text or "", place_of(source, named)),
    )


class _XddReading(ObjectsRead):
    def __init__(self, source: Source, root: Branch, node: int | None) -> None:
        super().__init__(source)
        self.node = node
        self.referenced: set[str] = set()
        self.parameters = {
            name.text: parameter
            for parameter in anywhere(root, "parameter")
            if (name := first(parameter, "@uniqueID")) is not None and name.text
        }

    def take(self, element: Branch) -> None:
        """Take an object with its subindexes."""
        index = self.number(element, "@index", 16, "an index such as 6091", 0xFFFF)
        self.begin(index, self.source.place(*element.name_span))
        kind = self.number(element, "@objectType", 10, "an object type such as 7", 9, 7)
        subs = list(inside(element, "CANopenSubObject"))
        if kind in VARIABLES:
            self.single.add(index)
            self.values[index, 0] = self.value(element, (index, 0))
            return
        for each in subs:
            sub = self.number(each, "@subIndex", 16, "a subindex such as 01", 0xFF)
            if (index, sub) in self.values:
                at = self.source.place(*each.name_span)
                raise self.source.error_at(f"{object_name((index, sub))} stands twice", at, "one")
            self.values[index, sub] = self.value(each, (index, sub))
        wanted = self.number(element, "@subNumber", 10, "a number such as 3", 255, len(subs))
        if wanted > len(subs):
            what = f"0x{index:04X} announces {wanted} subindexes and {len(subs)} are described"
            self.note_incomplete(index, what)

    def value(self, element: Branch, key: ObjectKey) -> DeviceValue:
        """The value of an object or subindex, from its attributes or from its parameter."""
        reference = first(element, "@uniqueIDRef")
        parameter = None
        if reference is not None and reference.text:
            self.referenced.add(reference.text)
            parameter = self.parameters.get(reference.text)
            if parameter is None:
                raise self.source.error_at(
                    f"{object_name(key)} refers to a parameter {shortened(reference.text)}",
                    place_of(self.source, reference),
                    "the uniqueID of a parameter in this file",
                )
        data_type = self.data_type(element, parameter)
        at, entry = self.stated(element, parameter, "actualValue"), "actualValue"
        if at is None:
            at, entry = self.stated(element, parameter, "defaultValue"), "defaultValue"
        low = self.stated(element, parameter, "lowLimit", ("allowedValues", "range", "minValue"))
        high = self.stated(element, parameter, "highLimit", ("allowedValues", "range", "maxValue"))
        value, fault = self.typed(at, key, data_type)
        bounds = []
        for word, limit in (("lowLimit", low), ("highLimit", high)):
            number = None if limit is None else limit_value(limit.text or "", data_type)
            if limit is not None and number is None and data_type in INTEGERS and not fault:
                fault = f"{word} of {object_name(key)} is {shortened(limit.text or '')}"
                at = limit
            bounds.append(number)
        called = first(element, "@name")
        return DeviceValue(
            key,
            "" if called is None else called.text or "",
            data_type,
            value,
            bounds[0],
            bounds[1],
            entry,
            entry == "actualValue",
            "" if at is None else at.text or "",
            self.source.place(*element.name_span) if at is None else place_of(self.source, at),
            fault,
        )

    def typed(self, at: Branch | None, key: ObjectKey, data_type: int) -> tuple[Value | None, str]:
        """A value, or what is wrong with its text."""
        if at is None or not at.text:
            return None, ""
        if depends_on_node(at.text) and self.node is None:
            return None, f"{object_name(key)} depends on the node id, which is not known"
        try:
            return typed_value(at.text, data_type, self.node), ""
        except ValueError:
            return None, f"{object_name(key)} is {shortened(at.text)}"

    def data_type(self, element: Branch, parameter: Branch | None) -> int:
        if first(element, "@dataType") is not None or parameter is None:
            return known_type(
                self.number(element, "@dataType", 16, "a type such as 0007", 0xFFFF, 0)
            )
        for part in parameter.parts:
            if part.name.lower() in _TYPES:
                return _TYPES[part.name.lower()]
        return known_type(0)

    def stated(
        self,
        element: Branch,
        parameter: Branch | None,
        word: str,
        path: tuple[str, ...] = (),
    ) -> Branch | None:
        """An attribute of an object, else of an element of its parameter; None if empty."""
        own = first(element, f"@{word}")
        if own is not None or parameter is None:
            return own
        return first(parameter, *(path or (word,)), "@value")

    def number(
        self, element: Branch, name: str, base: int, expected: str, most: int, default: int = -1
    ) -> int:
        """A number in an attribute; ``default`` (if it is not negative) where there is none."""
        given = first(element, name)
        if given is None:
            if default >= 0:
                return default
            raise self.source.error(
                f"{element.name} has no {name.removeprefix('@')}", *element.name_span, expected
            )
        try:
            number = int(given.text or "", base)
        except ValueError:
            number = -1
        if not 0 <= number <= most:
            raise self.source.error_at(
                f"{name.removeprefix('@')} is {shortened(given.text or '')}",
                place_of(self.source, given),
                expected,
            )
        return number

    def remark_unreferenced(self) -> None:
        """Count the parameters with a value to which no object refers."""
        left = [
            parameter
            for name, parameter in self.parameters.items()
            if name not in self.referenced
            and (
                first(parameter, "actualValue", "@value")
                or first(parameter, "defaultValue", "@value")
            )
        ]
        if left:
            what = "1 parameter is" if len(left) == 1 else f"{len(left)} parameters are"
            words = f"{what} left out: no object refers to {'it' if len(left) == 1 else 'them'}"
            self.remarks.append(ImportRemark(self.source.place(*left[0].name_span), words))


def _stated_node(source: Source, root: Branch) -> tuple[int, Place] | None:
    """The node id that the file states. Raises InputError for an impossible one."""
    for element in anywhere(root, "deviceCommissioning"):
        given = first(element, "@nodeID")
        if given is None or not given.text:
            continue
        text, place = given.text, place_of(source, given)
        try:
            number = int(text, 0)
        except ValueError:
            number = 0
        if not 1 <= number <= 127:
            raise _impossible(source, text, place)
        return number, place
    return None


def _impossible(source: Source, text: str, place: Place) -> InputError:
    return source.error_at(f"the node id is {shortened(text)}", place, "1 to 127 (CiA 301)")


def _written_on(
    source: Source, root: Branch
) -> tuple[tuple[str, Place] | None, list[ImportRemark]]:
    """The latest day on which the file says it was written, and remarks on what is no day."""
    bodies = list(anywhere(root, "ProfileBody"))
    for word in ("@fileModificationDate", "@fileCreationDate"):
        given = [each for body in bodies if (each := first(body, word)) is not None]
        days = []
        for each in given:
            place = place_of(source, each)
            found = _DAY.fullmatch(each.text or "")
            try:
                if found is None:
                    raise ValueError
                day = datetime.date(*(int(part) for part in found.groups()))
            except ValueError:
                what = f"{word[1:]} is {shortened(each.text or '')}, which is no day as yyyy-mm-dd"
                return None, [ImportRemark(place, what)]
            days.append((day.isoformat(), place))
        if days:
            return max(days), []
    return None, []
