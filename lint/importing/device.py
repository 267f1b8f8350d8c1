"""One device: its objects, their values and lines, whatever form its file has."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from ..base.errors import InputError, Place
from ..source.files import Source
from .device_sections import ObjectKey
from .device_values import INTEGERS, TEXT_TYPES, DeviceValue, object_name
from .export import ImportRemark


@dataclass(frozen=True, slots=True, eq=False)
class Device:
    """One device file.

    ``written_on`` is the day (ISO 8601) on which the file was written. ``single`` holds the indexes
    that are plain variables, ``incomplete`` those that are announced and not described, or not in
    full: asking for what is missing of them is an error. ``profile`` and ``model`` are what the
    file says beside its objects: the number of the device profile, and the name of the type.
    """

    source: Source
    node: int | None
    node_place: Place | None
    written_on: tuple[str, Place] | None
    values: Mapping[ObjectKey, DeviceValue]
    single: frozenset[int]
    places: Mapping[int, Place]
    incomplete: Mapping[int, tuple[str, Place]]
    remarks: tuple[ImportRemark, ...]
    profile: tuple[int, Place] | None = None
    model: tuple[str, Place] | None = None

    def error(self, what: str, place: Place, expected: str) -> InputError:
        """An error about ``place`` in the file, to be raised by the caller."""
        return self.source.error_at(what, place, expected)

    def whole(self, key: ObjectKey) -> tuple[int, DeviceValue] | None:
        """The integer at ``key``; None if the object is not described or states no value.

        Raises InputError for an object of another shape or type, and for a value that is no number
        or lies outside the object's type or limits.
        """
        found = self._value(key)
        if found is None:
            return None
        if found.data_type not in INTEGERS:
            raise self.error(
                f"{object_name(key)} is of type {found.type_name}",
                found.place,
                "an integer type",
            )
        if found.value is None:
            return None
        assert isinstance(found.value, int)
        _, bits, signed = INTEGERS[found.data_type]
        low, high = (-(1 << bits - 1), (1 << bits - 1) - 1) if signed else (0, (1 << bits) - 1)
        if not low <= found.value <= high:
            raise self.error(
                f"{object_name(key)} is {found.raw}, which {found.type_name} cannot hold",
                found.place,
                f"{low} to {high}",
            )
        lowest, highest = found.low, found.high
        if (lowest is not None and found.value < lowest) or (
            highest is not None and found.value > highest
        ):
            raise self.error(
                f"{object_name(key)} is {found.value}, outside the limits the object states",
                found.place,
                f"{'' if lowest is None else lowest} to {'' if highest is None else highest}",
            )
        return found.value, found

    def text(self, key: ObjectKey) -> tuple[str, DeviceValue] | None:
        """The string at ``key``; None if there is none. Raises InputError for another type."""
        found = self._value(key)
        if found is None:
            return None
        if found.data_type not in TEXT_TYPES:
            raise self.error(
                f"{object_name(key)} is of type {found.type_name}", found.place, "a string"
            )
        return None if found.value is None else (str(found.value), found)

    def _value(self, key: ObjectKey) -> DeviceValue | None:
        index, sub = key
        if key not in self.values and index in self.incomplete:
            what, place = self.incomplete[index]
            raise self.error(what, place, "a description of it. Perhaps the file is cut off")
        if index not in self.places:
            return None
        if sub and index in self.single:
            raise self.error(
                f"0x{index:04X} is a single variable",
                self.places[index],
                f"an array or record with sub {sub}",
            )
        if not sub and index not in self.single:
            raise self.error(
                f"0x{index:04X} is an array or record", self.places[index], "a single variable"
            )
        found = self.values.get(key)
        if found is not None and found.fault:
            raise self.error(found.fault, found.place, f"a value of type {found.type_name}")
        return found


@dataclass(slots=True)
class ObjectsRead:
    """The objects of an XML device file while they are read; the fields are those of a Device."""

    source: Source
    values: dict[ObjectKey, DeviceValue] = field(default_factory=dict)
    single: set[int] = field(default_factory=set)
    places: dict[int, Place] = field(default_factory=dict)
    incomplete: dict[int, tuple[str, Place]] = field(default_factory=dict)
    remarks: list[ImportRemark] = field(default_factory=list)

    def begin(self, index: int, place: Place) -> None:
        """Begin an object. Raises InputError for one that was read before."""
        if index in self.places:
            raise self.source.error_at(f"0x{index:04X} stands twice", place, "one")
        self.places[index] = place

    def note_incomplete(self, index: int, what: str) -> None:
        """Note that an object is not described in full."""
        place = self.places[index]
        self.incomplete[index] = what, place
        self.remarks.append(ImportRemark(place, what))

    def device(
        self,
        remarks: Iterable[ImportRemark],
        *,
        node: int | None = None,
        node_place: Place | None = None,
        written_on: tuple[str, Place] | None = None,
        profile: tuple[int, Place] | None = None,
        model: tuple[str, Place] | None = None,
    ) -> Device:
        """The device of these objects; ``remarks`` come after those on objects."""
        return Device(
            self.source,
            node,
            node_place,
            written_on,
            dict(sorted(self.values.items())),
            frozenset(self.single),
            self.places,
            self.incomplete,
            (*self.remarks, *remarks),
            profile,
            model,
        )
