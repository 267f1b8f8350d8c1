"""Every value of a device file is taken, named with the reason, or counted."""

from __future__ import annotations

import re
from collections.abc import Iterator
from inspect import getsource
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from axisproof.base.errors import InputError
from axisproof.importing.device_facts import DeviceOptions, device_export
from axisproof.importing.device_reader import read_device
from axisproof.importing.objects import PROFILES, ObjectMapping
from axisproof.importing.profile_objects import WITHOUT_FACT
from axisproof.importing.user_units import OBJECTS, parse_user_unit
from canopen.profiles import p402
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples
from tests.importing.device_samples import Value, device_text, write_device

FOR_OTHERS = {0x1000, 0x6000, *OBJECTS.values()}
"""Objects that say what others mean: profile, scaling and units."""

UNITS = {
    "position": parse_user_unit("0.001 mm", "position", "test"),
    "velocity": parse_user_unit("1 mm/s", "velocity", "test"),
    "acceleration": parse_user_unit("1 mm/s^2", "acceleration", "test"),
}
VALUES = {
    **dict.fromkeys((0x605B, 0x605C, 0x605D, 0x605E), (0, 1)),
    0x605A: (1, 2),
    0x6000: (0, 4),
    0x60C2: (1,),
}
INDEX = re.compile(r"0x([0-9A-F]{4})")


def objects_of(mapping: ObjectMapping) -> Iterator[tuple[int, int]]:
    yield from mapping.objects
    yield from mapping.limits


def pool(profile: int) -> list[int]:
    """Objects that feed a fact, objects that the profile names, and any others."""
    mapped = {key[0] for each in PROFILES[profile][1] for key in objects_of(each)}
    others = (0x1005, 0x1017, 0x2001, 0x5FFF, 0x6700, 0x67F0)
    texts = {0x1008, 0x100A, 0x6403}
    return sorted({*mapped, *WITHOUT_FACT[profile], *others} - texts)


def described(profile: int, index: int, value: Value) -> Value | dict[int, Value]:
    keys = {key for each in PROFILES[profile][1] for key in objects_of(each) if key[0] == index}
    lists = {each.objects[0][0] for each in PROFILES[profile][1] if each.combine == "list"}
    if index in lists:
        return {1: value}
    subs = {sub: value for _, sub in keys if sub}
    return subs or value


@pytest.mark.parametrize("profile", [402, 406])
@examples(2)
@given(st.data())
def test_every_value_is_taken_named_or_counted(profile: int, data: st.DataObject) -> None:
    objects: dict[int, Any] = {}
    for index in data.draw(st.lists(st.sampled_from(pool(profile)), max_size=25, unique=True)):
        number = data.draw(st.sampled_from(VALUES.get(index, (0, 1, 2))))
        value = data.draw(st.sampled_from([Value(number), Value(default=number)]))
        objects[index] = described(profile, index, value)
    with TemporaryDirectory() as folder:
        path = write_device(Path(folder), device_text(objects, profile=profile))
        device = read_device(path)
        try:
            export = device_export(device, "x", DeviceOptions(UNITS, "offset"))
        except InputError:
            return  # refused as a whole: nothing is dropped without a word
    told = " ".join(
        [*(each.note for each in export.statements.values()), *map(str, export.remarks)]
    )
    named = {int(each, 16) for each in INDEX.findall(told)} - {0x2000, 0x5FFF} | FOR_OTHERS
    left = [
        key
        for key, each in device.values.items()
        if each.value is not None and key[0] not in named and (key[1] or key[0] in device.single)
    ]
    counted = re.search(r"([0-9]+) other values? (?:is|are) left out", told)
    assert len(left) == (int(counted[1]) if counted else 0)
    known = {*WITHOUT_FACT[profile], *(k[0] for e in PROFILES[profile][1] for k in objects_of(e))}
    assert not {index for index, _ in left} & known, "only objects that nobody knows are counted"


def test_an_object_that_goes_with_a_useless_one_is_named(tmp_path: Path) -> None:
    path = write_device(tmp_path, device_text({0x6072: Value(1), 0x6076: Value(0)}, profile=402))
    export = device_export(read_device(path), "x", DeviceOptions(UNITS, "offset"))
    assert any("not made from 0x6072" in str(each) for each in export.remarks)


@pytest.mark.parametrize("profile", [402, 406])
def test_an_object_feeds_a_fact_or_has_a_reason_and_not_both(profile: int) -> None:
    mapped = {key[0] for each in PROFILES[profile][1] for key in objects_of(each)}
    assert not mapped & set(WITHOUT_FACT[profile])


NAMED_BY_CIA_402 = (
    (0x6007, 0x6007), (0x603F, 0x605E), (0x6060, 0x609A), (0x60A2, 0x60A4), (0x60A8, 0x60AB),
    (0x60B0, 0x60B2), (0x60B8, 0x60BD), (0x60C0, 0x60C6), (0x60D0, 0x60DA), (0x60E0, 0x60E1),
    (0x60E3, 0x60EE), (0x60F2, 0x60F2), (0x60F4, 0x60F4), (0x60F6, 0x60FF), (0x6402, 0x6407),
    (0x6410, 0x6410), (0x6502, 0x6505), (0x6510, 0x6510), (0x67FE, 0x67FF),
)  # fmt: skip
"""First and last object of each group of CiA 402-2 / IEC 61800-7-201 (from memory)."""


def test_each_object_that_cia_402_names_is_taken_or_named_with_the_reason() -> None:
    mapped = {key[0] for each in PROFILES[402][1] for key in objects_of(each)}
    known = mapped | set(WITHOUT_FACT[402]) | set(OBJECTS.values())
    named = {index for first, last in NAMED_BY_CIA_402 for index in range(first, last + 1)}
    assert {f"0x{index:04X}" for index in named - known} == set()
    used = {int(each, 16) for each in re.findall(r"\b0x(6[0-7][0-9A-F]{2})\b", getsource(p402))}
    assert len(used) >= 5, "the objects by which another tool runs a drive"
    assert {f"0x{index:04X}" for index in used - known} == set()


def test_each_object_has_one_reason() -> None:
    for table in WITHOUT_FACT.values():
        assert all(0x6000 <= index < 0x6800 for index in table)
