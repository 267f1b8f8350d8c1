"""Device files that are cut, contradict themselves or hold what no device states."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from axisproof.base.errors import InputError, UsageError
from axisproof.importing.device_reader import read_device
from axisproof.importing.user_units import parse_user_unit

from tests.importing.device_exports import MM, facts_of, refused
from tests.importing.device_samples import (
    INTEGER8,
    INTEGER16,
    INTEGER32,
    UNSIGNED16,
    VISIBLE_STRING,
    Value,
    device_text,
    variable,
    write_device,
)

WHOLE = device_text({0x6091: {1: Value(7), 2: Value(1)}, 0x6080: Value(3000)})


def bad(objects: dict[int, Any], **changes: Any) -> str:
    return device_text(objects, **changes)


CASES: list[tuple[str, str, str, str]] = [
    # name, text, the line the error stands on begins with, words of the error
    ("cut in an entry", WHOLE[: WHOLE.index("ParameterValue=3000") + 5], "Param", "neither"),
    (
        "cut in a section",
        WHOLE[: WHOLE.index("DataType", WHOLE.index("[6080]"))],
        "[6080]",
        "lacks DataType",
    ),
    ("cut between subs", WHOLE[: WHOLE.index("[6091sub2]")], "SubNumber", "announces 3"),
    (
        "an object that is listed and not described",
        "[OptionalObjects]\nSupportedObjects=1\n1=0x6091\n" + bad({}),
        "1=0x6091",
        "listed in [OptionalObjects]",
    ),
    ("a variable where an array is due", bad({0x6091: Value(7)}), "[6091]", "single variable"),
    ("an array where a variable is due", bad({0x6080: {1: Value(7)}}), "[6080]", "array or record"),
    (
        "a text where a number is due",
        bad({0x6080: Value("fast", kind=VISIBLE_STRING)}),
        "ParameterValue=fast",
        "VISIBLE_STRING",
    ),
    (
        "a number where a text is due",
        bad({0x6403: Value("[7]", kind=8)}),
        "ParameterValue=[7]",
        "REAL32",
    ),
    (
        "a value above its limit",
        bad({0x6080: Value(9000, low=0, high=6000)}),
        "ParameterValue=9000",
        "outside the limits",
    ),
    (
        "a value below its limit",
        bad({0x6098: Value(-9, low="0xFC", high=37, kind=INTEGER8)}),
        "ParameterValue=-9",
        "outside the limits",
    ),
    (
        "a value its type cannot hold",
        bad({0x6098: Value(300, kind=INTEGER8)}),
        "ParameterValue=300",
        "INTEGER8 cannot hold",
    ),
    (
        "a negative unsigned",
        bad({0x6080: Value(-1)}),
        "ParameterValue=-1",
        "UNSIGNED32 cannot hold",
    ),
    ("a value that is no number", bad({0x6080: Value("12rpm")}), "ParameterValue=12rpm", "12rpm"),
    ("a limit that is no number", bad({0x6080: Value(12, high="much")}), "HighLimit=much", "much"),
    (
        "an enumeration number nobody defined",
        bad({0x605A: Value(12, kind=INTEGER16)}),
        "ParameterValue=12",
        "one of 0, 1, 2",
    ),
    (
        "a division by zero",
        bad({0x608F: {1: Value(4096), 2: Value(0)}}),
        "ParameterValue=0",
        "divides 4096",
    ),
    (
        "counts that are not whole",
        bad({0x608F: {1: Value(4096), 2: Value(3)}}),
        "ParameterValue=4096",
        "not a whole number",
    ),
    (
        "half of a pair",
        bad({0x608F: {1: Value(4096)}}),
        "ParameterValue=4096",
        "without 0x608F sub 2",
    ),
    (
        "a torque without its reference",
        bad({0x6072: Value(3000, kind=UNSIGNED16)}),
        "ParameterValue=3000",
        "without 0x6076",
    ),
    (
        "no unit for a position",
        bad({0x6065: Value(2000)}),
        "ParameterValue=2000",
        "nothing states the position unit",
    ),
    (
        "no unit for a speed",
        bad({0x60A8: Value("0xFD010000"), 0x607F: Value(2000)}),
        "ParameterValue=2000",
        "nothing states the velocity unit",
    ),
    (
        "increments without their length",
        bad({0x60A8: Value("0xB50000"), 0x6065: Value(20)}),
        "ParameterValue=20",
        "nothing states the position unit",
    ),
    (
        "an unknown unit number",
        bad({0x60A8: Value("0x00770000")}),
        "ParameterValue=0x0077",
        "unit number 0x77",
    ),
    (
        "a denominator of another kind",
        bad({0x60A9: Value("0xFD015700")}),
        "ParameterValue=0xFD01",
        "denominator 0x57",
    ),
    (
        "a home offset without a convention",
        bad({**MM, 0x607C: Value(40, kind=INTEGER32)}),
        "ParameterValue=40",
        "sign convention is not chosen",
    ),
    ("another profile", bad({}, profile=401), "ParameterValue=0x00020191", "device profile 401"),
    ("no device type", bad({0x6080: Value(1)}, profile=None), "[DeviceInfo]", "device type"),
    ("a node id beyond 127", bad({}, node=200), "NodeID=200", "1 to 127"),
    ("a node id that is no number", bad({}, node="five"), "NodeID=five", "five"),
    (
        "a value that needs the node id",
        bad({0x6080: Value("$NODEID+3000")}, node=None),
        "ParameterValue=$NODEID",
        "depends on the node id",
    ),
    (
        "a power of ten nobody means",
        bad({0x60C2: {1: Value(1), 2: Value(-128, kind=INTEGER8)}}),
        "ParameterValue=-128",
        "power of ten",
    ),
    (
        "a type that is no number",
        WHOLE.replace("DataType=0x0007", "DataType=seven", 1),
        "DataType=seven",
        "seven",
    ),
    ("no object at all", "[DeviceInfo]\nProductName=x\n", "[DeviceInfo]", "no object"),
    (
        "a subindex of nothing",
        WHOLE + "\n".join(variable("6099sub1", "s", Value(1))) + "\n",
        "[6099sub1]",
        "belongs to no object",
    ),
    ("a doubled section", WHOLE + "[6080]\n", "[6080]", "twice"),
    (
        "a doubled entry in other case",
        WHOLE + "\n".join(variable("6066", "s", Value(default=1))) + "\ndefaultvalue=2\n",
        "defaultvalue",
        "twice",
    ),
    ("a binary file", "MZ\x00\x00\x01", "MZ", "NUL"),
]


@pytest.mark.parametrize(
    ("text", "line", "what"), [c[1:] for c in CASES], ids=[c[0] for c in CASES]
)
def test_a_bad_device_file_is_refused_on_its_line(
    text: str, line: str, what: str, tmp_path: Path
) -> None:
    error = refused(tmp_path, text)
    assert error.source_line is not None
    assert error.source_line.startswith(line)
    assert what in f"{error.what}; {error.expected}"


def test_a_setting_for_a_whole_array_is_refused(tmp_path: Path) -> None:
    section = variable("6099", "speeds", Value(9))
    section[2] = "ObjectType=0x8"
    text = device_text(MM) + "\n".join([*section, "CompactSubObj=2"])
    assert "not in a section [6099Value]" in refused(tmp_path, text).what


def test_a_stated_unit_that_the_device_contradicts_is_refused(tmp_path: Path) -> None:
    unit = parse_user_unit("0.01 mm", "position", "project.yaml")
    error = refused(tmp_path, bad({**MM, 0x6065: Value(1)}), units={"position": unit})
    assert "project.yaml states 0.01 mm" in error.what
    same = parse_user_unit("1/1000 m", "position", "project.yaml")
    assert facts_of(tmp_path, {**MM, 0x6065: Value(1)}, units={"position": same})


def test_another_node_than_the_one_asked_for_is_refused(tmp_path: Path) -> None:
    path = write_device(tmp_path, WHOLE)
    with pytest.raises(InputError, match="node 5"):
        read_device(path, 6)
    with pytest.raises(UsageError, match="impossible"):
        read_device(path, 128)


@pytest.mark.parametrize("text", ["5 rpm", "0 mm", "-1 mm", "wide", "mm/s", ""])
def test_a_user_unit_of_another_kind_is_refused(text: str) -> None:
    with pytest.raises(UsageError):
        parse_user_unit(text, "position", "test")
