"""A device file's objects as facts of an axis, by the table in objects.py; nothing is guessed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

from ..base.errors import Place
from ..machine.schema import Leaf, axis_type, lookup
from ..numbers.rational import Fraction
from ..source.files import Plain
from ..source.places import KeyPath
from .device import INTEGERS, Device, DeviceValue, ObjectKey, object_name
from .export import Export, ImportRemark, Statement, Statements
from .objects import PROFILES, ObjectMapping
from .user_units import KINDS, Level, UserUnit, user_units
from .values import MACHINE, exact_text

Sign = Literal["offset", "minus_offset"]

_PART: Final = 0x800
"""From one drive of a device with several to the next (CiA 402)."""


@dataclass(frozen=True, slots=True)
class DeviceOptions:
    """What a device file does not say itself.

    ``units`` are user units by level; ``reference_reads`` says whether the reference reads the home
    offset or minus the home offset; ``part`` counts the drives of one device from 0; ``leave_out``
    are indexes of objects that are not taken.
    """

    units: Mapping[Level, UserUnit] = field(default_factory=dict)
    reference_reads: Sign | None = None
    part: int = 0
    leave_out: frozenset[int] = frozenset()


def device_export(device: Device, axis: str, options: DeviceOptions) -> Export:
    """The facts that a device states about ``axis``.

    Raises InputError, with the line, for an object of another shape than the profile's, a value
    outside its limits, an enumeration number that the profile does not have, a user unit that
    nothing states and a home offset whose sign convention is not chosen.
    """
    taking = _DeviceImport(device, axis, options)
    taking.take_all()
    source = device.source
    return Export(
        source.path,
        source.name,
        source.text,
        source.form,
        statements=taking.statements.by_path,
        remarks=tuple(taking.remarks),
    )


def profile_of(device: Device) -> int:
    """The device profile. Raises InputError if 0x1000 is missing or names another profile."""
    given = device.whole((0x1000, 0))
    known = " or ".join(f"{number} ({words[0]})" for number, words in PROFILES.items())
    if given is None:
        raise device.error(
            "the file does not state its device type (0x1000)",
            device.source.place(0, 0),
            f"0x1000 with a value that names the device profile {known}",
        )
    profile = given[0] & 0xFFFF
    if profile not in PROFILES:
        raise device.error(
            f"0x1000 is {given[1].raw}, device profile {profile}",
            given[1].place,
            f"profile {known}",
        )
    return profile


class _DeviceImport:
    def __init__(self, device: Device, axis: str, options: DeviceOptions) -> None:
        self.device = device
        self.axis = axis
        self.options = options
        self.statements = Statements()
        self.remarks: list[ImportRemark] = list(device.remarks)
        self.profile = profile_of(device)
        self.offset = _PART * options.part
        self.units: Mapping[Level, UserUnit] = {}

    def take_all(self) -> None:
        word, feeds, without_fact = PROFILES[self.profile]
        if self.profile == 402:
            self.units = user_units(self.device, self.options.units, self.offset)
        for feed in feeds:
            self.take(feed)
        for index, words in without_fact.items():
            reading = self.device.readings.get((self.shifted(index), 0))
            if reading is not None and reading.value is not None:
                self.remarks.append(ImportRemark(reading.place, words))
        if word == "drive" and self.device.node is not None:
            place = self.device.node_place or self.device.source.place(0, 0)
            self.state("drive.node", self.device.node, place, "node id")
        self.remark_other_parts()

    def remark_other_parts(self) -> None:
        others = sorted(
            {
                (index - 0x6000) // _PART
                for index in self.device.places
                if 0x6000 <= index < 0xA000 and self.profile == 402
            }
            - {self.options.part}
        )
        for part in others:
            first = min(i for i in self.device.places if (i - 0x6000) // _PART == part)
            self.remarks.append(
                ImportRemark(self.device.places[first], f"part {part} of the device is not taken")
            )

    def shifted(self, index: int) -> int:
        return index + self.offset if index >= 0x6000 else index

    def key(self, key: ObjectKey) -> ObjectKey:
        return self.shifted(key[0]), key[1]

    def take(self, feed: ObjectMapping) -> None:
        if any(index in self.options.leave_out for index, _ in feed.objects):
            return
        if feed.when is not None:
            key, mask, values = feed.when
            condition = self.device.whole(self.key(key))
            if condition is None:
                self.remark_condition(feed)
                return
            if condition[0] & mask not in values:
                return
        if feed.combine == "text":
            self.take_text(feed)
        elif feed.combine == "list":
            self.take_list(feed)
        else:
            self.take_number(feed)

    def remark_condition(self, feed: ObjectMapping) -> None:
        assert feed.when is not None
        reading = self.device.readings.get(self.key(feed.objects[0]))
        if reading is not None and reading.value is not None:
            needed = object_name(self.key(feed.when[0]))
            words = f"{object_name(reading.key)} is left out: what it means depends on {needed}"
            remark = ImportRemark(reading.place, f"{words}, which is not stated")
            if remark not in self.remarks:
                self.remarks.append(remark)

    def take_text(self, feed: ObjectMapping) -> None:
        key = self.key(feed.objects[0])
        reading = self.device.readings.get(key)
        if reading is None:
            return
        if reading.data_type in INTEGERS:
            found = self.device.whole(key)
            if found is not None and found[0] not in feed.without:
                self.state(feed.to, str(found[0]), reading.place, reading.note)
            return
        text = self.device.text(key)
        if text is not None and text[0].strip():
            self.state(feed.to, text[0].strip(), reading.place, reading.note)

    def take_list(self, feed: ObjectMapping) -> None:
        index = self.shifted(feed.objects[0][0])
        subs = sorted(sub for i, sub in self.device.readings if i == index and sub)
        found = [self.device.whole((index, sub)) for sub in subs]
        values: list[Plain] = [each[0] for each in found if each]
        highest = self.device.readings.get((index, 0))
        if highest is not None and isinstance(highest.value, int):
            values = values[: highest.value]
        first = next((each for each in found if each), None)
        if first is not None and values:
            self.state(feed.to, values, first[1].place, f"{first[1].entry} of 0x{index:04X}")

    def take_number(self, feed: ObjectMapping) -> None:
        found = self.numbers(feed)
        if found is None:
            return
        numbers, readings = found
        note = " and ".join(reading.note for reading in readings)
        place = readings[0].place
        for each, reading in zip(numbers, readings, strict=True):
            if each in feed.without:
                self.left_out(reading, feed.without[each])
                return
        number = self.combined(feed, numbers, readings)
        if number is None:
            return
        if feed.bit is not None:
            number = Fraction(int(number) >> feed.bit & 1)
            note += f" bit {feed.bit}"
        if feed.words is not None:
            self.take_word(feed, int(number), readings[0], note)
            return
        if feed.home_offset and number:
            number = self.signed_offset(number, readings[0])
        unit = feed.unit
        if unit in KINDS:
            user = self.user_unit(unit, readings[0])  # type: ignore[arg-type]
            number, unit = number * user.size, user.unit
            note += f" in {exact_text(user.size)} {user.unit} ({user.note})"
        number *= feed.scale
        if self.is_unset(feed, number, readings[0]):
            return
        value: Plain = f"{exact_text(number)} {unit}" if unit else int(number)
        self.state(feed.to, value, place, note)

    def numbers(self, feed: ObjectMapping) -> tuple[list[int], list[DeviceValue]] | None:
        """All objects of a feed; None if the device states none of them."""
        keys = [self.key(key) for key in feed.objects]
        if feed.combine == "product" and self.device.readings.get(keys[0]) is None:
            return None
        found = [self.device.whole(key) for key in keys]
        present = [each for each in found if each is not None]
        if not present:
            return None
        for key, each in zip(keys, found, strict=True):
            if each is None:
                other = present[0][1]
                raise self.device.error(
                    f"{object_name(other.key)} is stated without {object_name(key)}",
                    other.place,
                    f"both, since {feed.to} is made from them",
                )
        return [each[0] for each in present], [each[1] for each in present]

    def combined(
        self, feed: ObjectMapping, numbers: list[int], readings: list[DeviceValue]
    ) -> Fraction | None:
        first = Fraction(numbers[0])
        if feed.combine == "product":
            return first * numbers[1]
        if feed.combine == "power_of_ten":
            if not -30 <= numbers[1] <= 30:
                raise self.device.error(
                    f"{object_name(readings[1].key)} is {numbers[1]}",
                    readings[1].place,
                    "a power of ten from -30 to 30",
                )
            return first * Fraction(10) ** numbers[1]
        if feed.combine == "quotient":
            if numbers[1] == 0:
                raise self.device.error(
                    f"{object_name(readings[1].key)} is 0 and divides {readings[0].raw}",
                    readings[1].place,
                    "a number above 0",
                )
            if numbers[0] % numbers[1]:
                raise self.device.error(
                    f"{numbers[0]} over {numbers[1]} is not a whole number",
                    readings[0].place,
                    f"a whole number for {feed.to}, so that nothing is lost",
                )
            return first / numbers[1]
        if feed.combine == "counts":
            return self.counts(first, readings[0])
        return first

    def counts(self, position: Fraction, reading: DeviceValue) -> Fraction | None:
        """A user position as counts, after CiA 402; None (with a remark) if it is not whole.

        Counts = position · encoder resolution · gear ratio / feed constant.
        """
        chain = [
            self.device.whole((self.shifted(index), sub))
            for index in (0x608F, 0x6091, 0x6092)
            for sub in (1, 2)
        ]
        if any(each is None or each[0] <= 0 for each in chain):
            self.left_out(reading, "the position formula lacks 0x608F, 0x6091 or 0x6092")
            return None
        a, b, c, d, e, f = (each[0] for each in chain if each is not None)
        counts = position * Fraction(a, b) * Fraction(c, d) / Fraction(e, f)
        if counts.denominator != 1:
            self.left_out(reading, "it is not a whole number of counts")
            return None
        return counts

    def take_word(self, feed: ObjectMapping, number: int, reading: DeviceValue, note: str) -> None:
        assert feed.words is not None
        if number not in feed.words:
            known = ", ".join(f"{n}" for n in feed.words)
            raise self.device.error(
                f"{object_name(reading.key)} is {number}", reading.place, f"one of {known}"
            )
        word = feed.words[number]
        if word is None:
            self.left_out(reading, f"the machine file has no word for {number}")
        else:
            self.state(feed.to, word, reading.place, note)

    def signed_offset(self, number: Fraction, reading: DeviceValue) -> Fraction:
        convention = self.options.reference_reads
        if convention is None:
            raise self.device.error(
                f"{object_name(reading.key)}, the home offset, is {reading.raw}, and its sign "
                "convention is not chosen",
                reading.place,
                "reference_reads: offset if the axis shows the offset at its reference, "
                "minus_offset if it shows minus the offset there",
            )
        return number if convention == "offset" else -number

    def user_unit(self, level: Level, reading: DeviceValue) -> UserUnit:
        unit = self.units.get(level)
        if unit is None:
            raise self.device.error(
                f"{object_name(reading.key)} is {reading.raw} in user units, and nothing states "
                f"the {level} unit",
                reading.place,
                f"the {level} unit in 0x60A8 to 0x60AB or beside the file, such as "
                + ("position: 0.001 mm" if level == "position" else f"{level}: …"),
            )
        return unit

    def is_unset(self, feed: ObjectMapping, number: Fraction, reading: DeviceValue) -> bool:
        """A zero of the device type where the fact is above zero: not set, and not taken."""
        path = feed.to.removeprefix(MACHINE)
        kind = None if path != feed.to else lookup(axis_type(), path).type
        positive = isinstance(kind, Leaf) and (kind.sign == "positive" or kind.minimum == 1)
        if number == 0 and positive and reading.entry == "DefaultValue":
            self.left_out(reading, "the device type's default of 0 sets nothing")
            return True
        return False

    def left_out(self, reading: DeviceValue, why: str) -> None:
        self.remarks.append(
            ImportRemark(reading.place, f"{object_name(reading.key)} is left out: {why}")
        )

    def state(self, to: str, value: Plain, place: Place, note: str) -> None:
        path: KeyPath
        if to.startswith(MACHINE):
            path = tuple(to.removeprefix(MACHINE).split("."))
        else:
            path = ("axes", self.axis, *to.split("."))
        line = self.device.source.line_text(place.line)
        self.statements.add(Statement(path, value, place, note), line)
