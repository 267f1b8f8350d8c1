"""Device files read here and by the ``canopen`` library: the same value for every object.

The library is the reference for EDS and DCF (CiA 306). One reading differs on purpose and is held
to a rule instead: a hexadecimal value of a signed type is two's complement here, as the library
itself reads it in limits. Positions make a round trip through CiA 402's position formula.

AXISPROOF_CANOPEN_SOURCE names a folder with the library's unpacked source archive, whose examples
hold the device file of a real drive: pip download --no-deps --no-binary :all: canopen
"""

from __future__ import annotations

import io
import logging
import os
import re
from configparser import RawConfigParser
from pathlib import Path
from typing import Any

import pytest
from axisproof.importing.device import Device
from axisproof.importing.device_facts import DeviceOptions, device_export
from axisproof.importing.device_reader import read_device
from axisproof.importing.device_values import INTEGERS
from axisproof.importing.user_units import parse_user_unit
from axisproof.numbers.exact import div
from axisproof.numbers.rational import Fraction
from axisproof.numbers.units import parse_quantity
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

eds = pytest.importorskip(
    "canopen.objectdictionary.eds", reason="the reference library canopen is not installed"
)

WHOLE = [number for number, (_, bits, _) in INTEGERS.items() if bits in (8, 16, 32, 64)]


def by_library(text: str, node: int | None) -> dict[tuple[int, int], Any]:
    """Every variable the library reads, by index and subindex."""
    from canopen.objectdictionary import ODVariable

    logging.getLogger("canopen.objectdictionary.eds").setLevel(logging.ERROR)
    found: dict[tuple[int, int], Any] = {}
    plain = RawConfigParser(strict=False)
    plain.read_string(text)
    dictionary = eds.import_eds(io.StringIO(text), node)
    for index in dictionary:
        thing = dictionary[index]
        if index <= 0x1F:
            continue  # the library makes these from [DummyUsage]; the file describes no such object
        if isinstance(thing, ODVariable):
            found[index, 0] = thing
        elif plain.has_option(f"{index:04X}", "CompactSubObj"):
            # The library makes the other entries from the first one when they are asked for.
            count = int(plain.get(f"{index:04X}", "CompactSubObj"), 0)
            found.update({(index, sub): thing[sub] for sub in range(1, count + 1)})
        else:
            found.update({(index, sub): each for sub, each in thing.subindices.items()})
    return found


def assert_agree(device: Device, library: dict[tuple[int, int], Any]) -> int:
    """Compare every value, type, name and limit; return how many values were compared."""
    compared = 0
    assert device.values.keys() == library.keys()
    for key, reading in device.values.items():
        theirs = library[key]
        assert (reading.name, reading.data_type) == (theirs.name, theirs.data_type)
        assert (reading.low, reading.high) == (theirs.min, theirs.max)
        value = theirs.value if reading.configured else theirs.default
        if reading.value is None:
            assert value in (None, "")  # an entry that is there and empty states nothing
        elif reading.value != value:
            _, bits, signed = INTEGERS[reading.data_type]
            assert signed
            assert reading.raw.lower().startswith("0x")
            assert isinstance(reading.value, int)
            assert (reading.value - value) % (1 << bits) == 0
            assert -(1 << bits - 1) <= reading.value < 0
        compared += reading.value is not None
    return compared


# Random device files ----------------------------------------------------------------------------


@st.composite
def raw_values(draw: st.DrawFn, kind: int) -> str:
    """A value of an integer type as a device file writes it."""
    _, bits, signed = INTEGERS[kind]
    if draw(st.booleans()):
        return f"0x{draw(st.integers(0, (1 << bits) - 1)):X}"
    low, high = (-(1 << bits - 1), (1 << bits - 1) - 1) if signed else (0, (1 << bits) - 1)
    number = draw(st.integers(low, high))
    if draw(st.integers(0, 9)) == 0 and number >= 0:
        return draw(st.sampled_from([f"$NODEID+0x{number:X}", f"0x{number:X}+$NODEID"]))
    return str(number)


@st.composite
def variables(draw: st.DrawFn, section: str) -> list[str]:
    """A section for one variable, entries in any order, with comments here and there."""
    kind = draw(st.sampled_from([*WHOLE, 0x09]))
    entries = [f"DataType=0x{kind:04X}", "AccessType=rw"]
    words = st.text("abc xyz-", min_size=1, max_size=8).map(str.strip).filter(bool)
    value = words if kind == 0x09 else raw_values(kind)
    for key in ("DefaultValue", "ParameterValue"):
        if draw(st.booleans()):
            entries.append(f"{key}={draw(value)}")
        elif draw(st.integers(0, 5)) == 0:
            entries.append(f"{key}=")
    if kind != 0x09 and draw(st.integers(0, 3)) == 0:
        entries.append(f"LowLimit={draw(raw_values(kind).filter(lambda raw: '$' not in raw))}")
    if draw(st.booleans()):
        entries.append("ObjectType=0x7")
    entries = [f"ParameterName={draw(words)}", *draw(st.permutations(entries))]
    if draw(st.integers(0, 3)) == 0:
        entries.insert(draw(st.integers(0, len(entries))), "; a remark with = and [brackets]")
    if draw(st.integers(0, 3)) == 0:
        entries[0] += " ; said beside it"
    return [f"[{section}]", *entries, *([""] * draw(st.integers(0, 1)))]


@st.composite
def device_files(draw: st.DrawFn) -> str:
    """A device file with variables, arrays and records."""
    lines = ["[DeviceInfo]", "VendorName=nobody", "[DeviceComissioning]", "NodeID=0x11"]
    for index in draw(st.lists(st.integers(0x1000, 0x67FF), min_size=1, max_size=6, unique=True)):
        if draw(st.booleans()):
            lines += draw(variables(f"{index:04X}"))
            continue
        subs = draw(st.lists(st.integers(0, 0x1F), min_size=1, max_size=4, unique=True))
        kind = draw(st.sampled_from([8, 9]))
        lines += [f"[{index:04X}]", "ParameterName=many", f"ObjectType=0x{kind}"]
        lines.append(f"SubNumber={len(subs)}")
        for sub in subs:
            lines += draw(variables(f"{index:04X}sub{sub:X}"))
    return draw(st.sampled_from(["\n", "\r\n"])).join(lines) + "\n"


@settings(suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture])
@given(text=device_files())
def test_every_value_of_a_random_device_file_is_the_librarys(text: str, tmp_path: Path) -> None:
    path = tmp_path / "random.dcf"
    path.write_bytes(text.encode())
    assert_agree(read_device(path), by_library(text.replace("\r\n", "\n"), None))


def test_a_node_id_given_beside_the_file_reaches_values_that_depend_on_it(tmp_path: Path) -> None:
    text = "[1014]\nParameterName=x\nDataType=0x0007\nAccessType=rw\nDefaultValue=$NODEID+0x80\n"
    path = tmp_path / "x.eds"
    path.write_text(text)
    device = read_device(path, 9)
    assert device.values[0x1014, 0].value == 0x89
    assert assert_agree(device, by_library(text, 9)) == 1
    assert "depends on the node id" in read_device(path).values[0x1014, 0].fault


# The device file of a real drive ----------------------------------------------------------------


def source_files() -> list[Path]:
    folder = os.environ.get("AXISPROOF_CANOPEN_SOURCE", "")
    return sorted(Path(folder).rglob("*.eds")) if folder else []


@pytest.mark.skipif(
    not os.environ.get("AXISPROOF_CANOPEN_SOURCE"),
    reason="AXISPROOF_CANOPEN_SOURCE does not name the unpacked source archive of canopen "
    "(it has to be downloaded)",
)
def test_the_device_files_in_the_librarys_source_agree_on_every_value() -> None:
    files = source_files()
    assert files, "the folder holds no device file"
    compared = {}
    for path in files:
        device = read_device(path)
        compared[path.name] = assert_agree(device, by_library(path.read_text(), None))
    assert max(compared.values()) > 400


@pytest.mark.skipif(
    not os.environ.get("AXISPROOF_CANOPEN_SOURCE"),
    reason="AXISPROOF_CANOPEN_SOURCE does not name the unpacked source archive of canopen "
    "(it has to be downloaded)",
)
def test_the_drive_in_the_librarys_examples_becomes_facts(tmp_path: Path) -> None:
    drives = [p for p in source_files() if "examples" in p.parts and "[6091]" in p.read_text()]
    assert drives, "the examples hold no CiA 402 drive"
    text = drives[0].read_text()
    values = by_library(text, None)
    options = DeviceOptions({"position": parse_user_unit("0.01 mm", "position", "test")}, "offset")
    # The file is that of a device type. As it is, it says what the device is and can do; with its
    # defaults configured, it is the file of a device that is set up.
    of_type = device_export(read_device(drives[0]), "x", options)
    for at, statement in of_type.statements.items():
        line = text.splitlines()[statement.place.line - 1]
        inherent = at[3] in ("model", "supported_homing_methods", "exported_on")
        assert inherent or line.startswith("ParameterValue="), at
    text = re.sub(r"(?m)^ParameterValue=.*\n", "", text).replace("DefaultValue=", "ParameterValue=")
    configured = tmp_path / "drive.dcf"
    configured.write_text(text)
    export = device_export(read_device(configured), "x", options)
    facts = {".".join(map(str, path[2:])): s for path, s in export.statements.items()}
    resolution = Fraction(values[0x608F, 1].default, values[0x608F, 2].default)
    assert facts["drive.counts_per_revolution"].value == resolution
    assert facts["drive.gear_ratio.motor_turns"].value == values[0x6091, 1].default
    assert facts["controller.homing.method"].value == values[0x6098, 0].default
    speed = parse_quantity(str(facts["drive.max_speed"].value))
    assert speed.written == values[0x6080, 0].default
    assert facts.pop("drive.exported_on").value == "2017-06-14", "06-14-2017 in the file"
    for statement in facts.values():
        assert "Value=" in text.splitlines()[statement.place.line - 1]


# CiA 402's position formula ---------------------------------------------------------------------


@settings(suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture])
@given(
    turns=st.integers(-2000, 2000),
    resolution=st.tuples(st.integers(1, 1 << 24), st.integers(1, 16)),
    gear=st.tuples(st.integers(1, 500), st.integers(1, 500)),
    feed=st.tuples(st.integers(1, 10**6), st.integers(1, 50)),
)
def test_positions_make_a_round_trip_through_the_position_formula(
    turns: int,
    resolution: tuple[int, int],
    gear: tuple[int, int],
    feed: tuple[int, int],
    tmp_path: Path,
) -> None:
    """Position = counts · feed constant / (encoder resolution · gear ratio), CiA 402 (from memory).

    A position of whole driving shaft turns times the divisors is a whole number of user units and
    of counts, so nothing may be lost on the way there and back.
    """
    increments, motor_turns = resolution[0] * resolution[1], resolution[1]
    position = turns * feed[0] * gear[1]  # whole user units, and whole counts
    if abs(position) >= 1 << 31:
        position = 0
    text = _chain_text(position, (increments, motor_turns), gear, feed)
    path = tmp_path / "chain.dcf"
    path.write_text(text)
    unit = parse_user_unit("0.001 mm", "position", "test")
    export = device_export(read_device(path), "x", DeviceOptions({"position": unit}))
    facts = {".".join(map(str, path[2:])): s.value for path, s in export.statements.items()}
    counts = facts["drive.position_range.min"]
    assert isinstance(counts, int)
    # from the facts of the neutral file alone, back to the position of the drive
    constant = parse_quantity(str(facts["drive.feed_constant.feed"])).value
    per_turn = div(constant, facts["drive.feed_constant.shaft_turns"])  # type: ignore[arg-type]
    ratio = Fraction(
        facts["drive.gear_ratio.motor_turns"],  # type: ignore[arg-type]
        facts["drive.gear_ratio.shaft_turns"],  # type: ignore[arg-type]
    )
    per_revolution = facts["drive.counts_per_revolution"]
    assert isinstance(per_revolution, int)
    back = counts * per_turn / (per_revolution * ratio)  # type: ignore[operator]
    assert back * 1000 == position


def _chain_text(
    position: int, resolution: tuple[int, int], gear: tuple[int, int], feed: tuple[int, int]
) -> str:
    sections = ["[1000]", "ParameterName=t", "DataType=0x7", "AccessType=ro"]
    sections.append("DefaultValue=0x00020192")
    for index, kind, pair in (
        (0x607B, 4, (position, position)),
        (0x608F, 7, resolution),
        (0x6091, 7, gear),
        (0x6092, 7, feed),
    ):
        sections += [f"[{index:04X}]", "ParameterName=p", "ObjectType=0x8", "SubNumber=2"]
        for sub, value in enumerate(pair, 1):
            sections += [f"[{index:04X}sub{sub}]", "ParameterName=s", f"DataType=0x{kind}"]
            sections += ["AccessType=rw", f"ParameterValue={value}"]
    return "\n".join(sections) + "\n"
