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
from .device import Device
from .device_sections import ObjectKey
from .device_values import INTEGERS, DeviceValue, object_name
from .export import Export, ImportRemark, Statement, Statements
from .left_over import left_over
from .objects import PROFILES, ObjectMapping, of_linear_motor
from .user_units import KINDS, Level, UserUnit, user_units
from .user_units import OBJECTS as UNIT_OBJECTS
from .values import MACHINE, exact_text

Sign = Literal["offset", "minus_offset"]

_PART: Final = 0x800
"""From one drive of a device with several to the next (CiA 402)."""


@dataclass(frozen=True, slots=True)
class DeviceOptions:
    """What a device file does not say itself.

    ``units`` are user units by level; ``reference_reads`` says whether the reference reads the home
    offset or minus the home offset; ``part`` counts the drives of one device from 0; ``leave_out``
    are indexes of objects that are not taken. ``linear_motor``: the drive feeds a linear motor.
    """

    units: Mapping[Level, UserUnit] = field(default_factory=dict)
    reference_reads: Sign | None = None
    part: int = 0
    leave_out: frozenset[int] = frozenset()
    linear_motor: bool = False


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
    """The device profile. Raises InputError if the file names none, or another one."""
    given = device.whole((0x1000, 0))
    known = " or ".join(f"{number} ({words[0]})" for number, words in PROFILES.items())
    if given is not None:
        profile, place, what = (
            given[0] & 0xFFFF,
            given[1].place,
            f"0x1000 is {given[1].raw}, device",
        )
    elif device.profile is not None:
        profile, place, what = *device.profile, "the device has the"
    else:
        raise device.error(
            "the file does not state its device type (0x1000)",
            device.source.place(0, 0),
            f"0x1000 with a value that names the device profile {known}",
        )
    if profile not in PROFILES:
        raise device.error(f"{what} profile {profile}", place, f"profile {known}")
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
        self.configured = False
        self.used: set[ObjectKey] = set()
        """The objects that are taken, read for the sake of others, or named in a remark."""

    def take_all(self) -> None:
        word, mappings = PROFILES[self.profile]
        self.used.add((0x1000, 0))
        if self.profile == 402:
            self.units = user_units(self.device, self.options.units, self.offset)
            for index in UNIT_OBJECTS.values():
                self.stated((self.shifted(index), 0))
        for mapping in mappings:
            self.take(of_linear_motor(mapping) if self.options.linear_motor else mapping)
        if word == "drive" and self.device.node is not None:
            place = self.device.node_place or self.device.source.place(0, 0)
            self.state("drive.node", self.device.node, place, "node id")
        model = self.device.model
        if model is not None and ("axes", self.axis, word, "model") not in self.statements.by_path:
            self.state(f"{word}.model", model[0], model[1], "name of the device's type")
        day = self.device.written_on
        if day is not None and self.configured:
            self.state(f"{word}.exported_on", day[0], day[1], "day of the file")
        self.remark_other_parts()
        self.remarks += left_over(self.device, self.used, self.unshifted, self.profile)

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

    def unshifted(self, index: int) -> int:
        """The index of an object in the profile; -1 for one of another part of the device."""
        if index < 0x6000 or self.profile != 402:
            return index
        inside = index - self.offset
        return inside if 0x6000 <= inside < 0x6000 + _PART else -1

    def shifted(self, index: int) -> int:
        return index + self.offset if index >= 0x6000 else index

    def key(self, key: ObjectKey) -> ObjectKey:
        return self.shifted(key[0]), key[1]

    def take(self, mapping: ObjectMapping) -> None:
        asked_out = [key for key in mapping.objects if key[0] in self.options.leave_out]
        if asked_out:
            for key in asked_out:
                device_value = self.device.values.get(self.key(key))
                if device_value is not None:
                    self.left_out(device_value, "the options say so")
            return
        if mapping.when is not None:
            key, mask, values = mapping.when
            condition = self.stated(self.key(key))
            if condition is None:
                self.remark_condition(mapping)
                return
            if condition[0] & mask not in values:
                return
        if mapping.combine == "text":
            self.take_text(mapping)
        elif mapping.combine == "list":
            self.take_list(mapping)
        elif mapping.combine == "user_unit":
            self.take_user_unit(mapping)
        elif mapping.other_way is None or self.ways_differ(mapping):
            self.take_number(mapping)

    def remark_condition(self, mapping: ObjectMapping) -> None:
        assert mapping.when is not None
        device_value = self.device.values.get(self.key(mapping.objects[0]))
        told = device_value is None or device_value.key in self.used
        if device_value is not None and device_value.value is not None and not told:
            needed = object_name(self.key(mapping.when[0]))
            words = (
                f"{object_name(device_value.key)} is left out: what it means depends on {needed}"
            )
            self.used.add(device_value.key)
            self.remark(ImportRemark(device_value.place, f"{words}, which is not configured"))

    def take_text(self, mapping: ObjectMapping) -> None:
        key = self.key(mapping.objects[0])
        device_value = self.device.values.get(key)
        if device_value is None:
            return
        if not (device_value.configured or mapping.inherent):
            self.default_only(device_value)
            return
        self.used.add(key)
        self.configured = self.configured or device_value.configured
        if device_value.data_type in INTEGERS:
            found = self.device.whole(key)
            if found is not None and found[0] in mapping.without:
                self.left_out(device_value, mapping.without[found[0]])
            elif found is not None:
                self.state(mapping.to, str(found[0]), device_value.place, device_value.note)
            return
        text = self.device.text(key)
        if text is not None and text[0].strip():
            self.state(mapping.to, text[0].strip(), device_value.place, device_value.note)
        elif text is not None:
            self.left_out(device_value, "the text is empty")

    def take_list(self, mapping: ObjectMapping) -> None:
        index = self.shifted(mapping.objects[0][0])
        subs = sorted(sub for i, sub in self.device.values if i == index and sub)
        found = [self.stated((index, sub), mapping.inherent) for sub in subs]
        values: list[Plain] = [each[0] for each in found if each]
        highest = self.device.values.get((index, 0))
        if highest is not None and isinstance(highest.value, int):
            values = values[: highest.value]
        first = next((each for each in found if each), None)
        if first is not None and values:
            self.state(mapping.to, values, first[1].place, f"{first[1].entry} of 0x{index:04X}")

    def take_user_unit(self, mapping: ObjectMapping) -> None:
        """What one increment stands for, as a fact beside a factor that converts it."""
        unit = self.units.get(mapping.unit)  # type: ignore[call-overload]
        found = self.stated(self.key(mapping.objects[0]))
        if unit is not None and found is not None:
            text = f"{exact_text(unit.size)} {unit.unit}"
            self.state(mapping.to, text, found[1].place, unit.note)

    def ways_differ(self, mapping: ObjectMapping) -> bool:
        """Whether both directions of a shaft have a configured limit, and unlike ones."""
        assert mapping.other_way is not None
        if self.options.linear_motor:
            return False
        ways = [self.device.whole(self.key(key)) for key in (mapping.objects[0], mapping.other_way)]
        both = [each[0] for each in ways if each is not None and each[1].configured]
        common = self.device.whole(self.key(mapping.limits[0]))
        if common is not None:
            both = [min(each, common[0]) for each in both if common[1].configured]
        return len(set(both)) == 2

    def take_number(self, mapping: ObjectMapping) -> None:
        found = self.numbers(mapping)
        if found is None:
            return
        numbers, values = found
        note = " and ".join(each.note for each in values)
        if mapping.limits and (others := self.others_of(mapping, values)):
            note += f" ({' and '.join(others)} {'is' if len(others) == 1 else 'are'} no lower)"
        place = values[0].place
        for each, device_value in zip(numbers, values, strict=True):
            if each in mapping.without:
                self.left_out_with_others(mapping, device_value, mapping.without[each])
                return
        number = self.combined(mapping, numbers, values)
        if number is None:
            return
        if mapping.bit is not None:
            number = Fraction(int(number) >> mapping.bit & 1)
            note += f" bit {mapping.bit}"
        if mapping.words is not None:
            self.take_word(mapping, int(number), values[0], note)
            return
        if mapping.home_offset and number:
            number = self.signed_offset(number, values[0])
        unit = mapping.unit
        if unit in KINDS:
            user = self.user_unit(unit, values[0])  # type: ignore[arg-type]
            number, unit = number * user.size, user.unit
            note += f" in {exact_text(user.size)} {user.unit} ({user.note})"
        number *= mapping.scale
        if self.is_unset(mapping, number, values[0]):
            return
        value: Plain = f"{exact_text(number)} {unit}" if unit else int(number)
        self.state(mapping.to, value, place, note)

    def lowest(self, mapping: ObjectMapping) -> tuple[int, DeviceValue] | None:
        """The lowest of the first object of a mapping and its limits, of both directions.

        None (with a remark) if one of them is not configured, as it may be lower, and if only one
        of the two directions has a limit.
        """
        keys = [self.key(key) for key in (mapping.objects[0], *mapping.limits)]
        given = [self.stated(key) for key in keys]
        present = [each for each in given if each is not None]
        if not present:
            return None
        for key, each in zip(keys, given, strict=True):
            if each is None and self.device.whole(key) is not None:
                words = f"{object_name(key)} may be lower, and is not configured"
                self.left_out_with_others(mapping, present[0][1], words)
                return None
        base, *limits = given
        if mapping.by_direction and base is None and None in limits:
            words = "the other direction has no limit"
            self.left_out_with_others(mapping, present[0][1], words)
            return None
        return min(present, key=lambda each: each[0])

    def numbers(self, mapping: ObjectMapping) -> tuple[list[int], list[DeviceValue]] | None:
        """All objects of a mapping; None if the device states none of them."""
        keys = [self.key(key) for key in mapping.objects]
        if (
            mapping.combine == "product"
            and not mapping.limits
            and self.device.values.get(keys[0]) is None
        ):
            return None
        described = [self.device.whole(key) for key in keys]
        found = [self.stated(key, mapping.inherent) for key in keys]
        if mapping.limits:
            described[0] = found[0] = self.lowest(mapping)
            if found[0] is None:
                return None
        present = [each for each in found if each is not None]
        if not present:
            return None
        for one, two in zip(described, found, strict=True):
            if one is not None and two is None:
                needed = f"{object_name(one[1].key)} is not configured"
                words = f"{mapping.to} is made from both, and {needed}"
                self.left_out_with_others(mapping, present[0][1], words)
                return None
        for key, each in zip(keys, found, strict=True):
            if each is None:
                other = present[0][1]
                raise self.device.error(
                    f"{object_name(other.key)} is stated without {object_name(key)}",
                    other.place,
                    f"both, since {mapping.to} is made from them",
                )
        return [each[0] for each in present], [each[1] for each in present]

    def left_out_with_others(
        self, mapping: ObjectMapping, device_value: DeviceValue, why: str
    ) -> None:
        """Leave an object out, and name the others with a value from which the fact is made."""
        if others := self.others_of(mapping, [device_value]):
            why += f", so {mapping.to} is not made from {' and '.join(others)} either"
        self.left_out(device_value, why)

    def others_of(self, mapping: ObjectMapping, named: list[DeviceValue]) -> list[str]:
        """The names of a mapping's objects that have a value and are not named yet."""
        keys = dict.fromkeys(self.key(each) for each in (*mapping.objects, *mapping.limits))
        known, told = self.device.values, {each.key for each in named}
        return [
            object_name(each)
            for each in keys
            if each not in told and each in known and known[each].value is not None
        ]

    def combined(
        self, mapping: ObjectMapping, numbers: list[int], values: list[DeviceValue]
    ) -> Fraction | None:
        first = Fraction(numbers[0])
        if mapping.combine == "product":
            return first * numbers[1]
        if mapping.combine == "power_of_ten":
            if not -30 <= numbers[1] <= 30:
                raise self.device.error(
                    f"{object_name(values[1].key)} is {numbers[1]}",
                    values[1].place,
                    "a power of ten from -30 to 30",
                )
            return first * Fraction(10) ** numbers[1]
        if mapping.combine == "whole_quotient" and (not numbers[1] or numbers[0] % numbers[1]):
            self.left_out(values[0], "it is no whole number of increments per revolution")
            return None
        if mapping.combine in ("quotient", "whole_quotient"):
            if numbers[1] == 0:
                raise self.device.error(
                    f"{object_name(values[1].key)} is 0 and divides {values[0].raw}",
                    values[1].place,
                    "a number above 0",
                )
            if numbers[0] % numbers[1]:
                raise self.device.error(
                    f"{numbers[0]} over {numbers[1]} is not a whole number",
                    values[0].place,
                    f"a whole number for {mapping.to}, so that nothing is lost",
                )
            return first / numbers[1]
        if mapping.combine == "counts":
            return self.counts(first, values[0])
        return first

    def counts(self, position: Fraction, device_value: DeviceValue) -> Fraction | None:
        """A user position as counts, after CiA 402; None (with a remark) if it is not whole.

        Counts = position · encoder resolution · gear ratio / feed constant.
        """
        chain = [
            self.stated((self.shifted(index), sub))
            for index in (0x608F, 0x6091, 0x6092)
            for sub in (1, 2)
        ]
        if any(each is None or each[0] <= 0 for each in chain):
            self.left_out(
                device_value, "the position formula lacks a configured 0x608F, 0x6091 or 0x6092"
            )
            return None
        a, b, c, d, e, f = (each[0] for each in chain if each is not None)
        counts = position * Fraction(a, b) * Fraction(c, d) / Fraction(e, f)
        if counts.denominator != 1:
            self.left_out(device_value, "it is not a whole number of counts")
            return None
        return counts

    def take_word(
        self, mapping: ObjectMapping, number: int, device_value: DeviceValue, note: str
    ) -> None:
        assert mapping.words is not None
        if number < 0:
            self.left_out(device_value, f"{number} is an option of the maker's own")
            return
        if number not in mapping.words:
            known = ", ".join(f"{n}" for n in mapping.words)
            raise self.device.error(
                f"{object_name(device_value.key)} is {number}",
                device_value.place,
                f"one of {known}",
            )
        word = mapping.words[number]
        if word is None:
            self.left_out(device_value, f"the machine file has no word for {number}")
        else:
            self.state(mapping.to, word, device_value.place, note)

    def signed_offset(self, number: Fraction, device_value: DeviceValue) -> Fraction:
        convention = self.options.reference_reads
        if convention is None:
            raise self.device.error(
                f"{object_name(device_value.key)}, the home offset, is {device_value.raw}, and its "
                "sign convention is not chosen",
                device_value.place,
                "reference_reads: offset if the axis shows the offset at its reference, "
                "minus_offset if it shows minus the offset there",
            )
        return number if convention == "offset" else -number

    def user_unit(self, level: Level, device_value: DeviceValue) -> UserUnit:
        unit = self.units.get(level)
        if unit is None:
            raise self.device.error(
                f"{object_name(device_value.key)} is {device_value.raw} in user units, and nothing "
                f"states the {level} unit",
                device_value.place,
                f"the {level} unit in 0x60A8 to 0x60AB or beside the file, such as "
                + ("position: 0.001 mm" if level == "position" else f"{level}: …"),
            )
        return unit

    def is_unset(self, mapping: ObjectMapping, number: Fraction, device_value: DeviceValue) -> bool:
        """A zero of the device type where the fact is above zero: not set, and not taken."""
        path = mapping.to.removeprefix(MACHINE)
        kind = None if path != mapping.to else lookup(axis_type(), path).type
        positive = isinstance(kind, Leaf) and (kind.sign == "positive" or kind.minimum == 1)
        if number == 0 and positive and not device_value.configured:
            self.left_out(device_value, "the device type's default of 0 sets nothing")
            return True
        return False

    def stated(self, key: ObjectKey, inherent: bool = False) -> tuple[int, DeviceValue] | None:
        """The number of an object, if it is configured or says what the device is."""
        found = self.device.whole(key)
        if found is None:
            return None
        self.used.add(key)
        self.configured = self.configured or found[1].configured
        if found[1].configured or inherent:
            return found
        self.default_only(found[1])
        return None

    def default_only(self, device_value: DeviceValue) -> None:
        if device_value.value is not None:
            self.left_out(device_value, "it has a default only, which is no setting")

    def left_out(self, device_value: DeviceValue, why: str) -> None:
        self.used.add(device_value.key)
        words = f"{object_name(device_value.key)} is left out: {why}"
        self.remark(ImportRemark(device_value.place, words))

    def remark(self, remark: ImportRemark) -> None:
        if remark not in self.remarks:
            self.remarks.append(remark)

    def state(self, to: str, value: Plain, place: Place, note: str) -> None:
        path: KeyPath
        if to.startswith(MACHINE):
            path = tuple(to.removeprefix(MACHINE).split("."))
        else:
            path = ("axes", self.axis, *to.split("."))
        self.statements.add(Statement(path, value, place, note), self.device.source.line_text)
