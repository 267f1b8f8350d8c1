"""XDD, XDC and ESI files: the facts, the accounts and the errors are those of an EDS or DCF.

The forms follow CiA 311 and ETG.2000 (from memory); the files are invented.
"""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from axisproof.base.errors import InputError
from axisproof.importing.device import Device
from axisproof.importing.device_facts import DeviceOptions, device_export
from axisproof.importing.device_reader import read_device
from axisproof.importing.rows import export_rows
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples
from tests.importing.device_samples import (
    INTEGER8,
    INTEGER32,
    UNSIGNED16,
    VISIBLE_STRING,
    Value,
    device_text,
    esi_text,
    line_of,
    write_device,
    xdd_text,
)
from tests.importing.test_device_accounts import UNITS, described, pool

Told = tuple[dict[str, Any], list[str]]


def told(device: Device) -> Told:
    """What is taken of a device and said of the rest, but for places and words of a form."""
    export = device_export(device, "x", DeviceOptions(UNITS, "offset"))
    facts = {".".join(map(str, path[2:])): each.value for path, each in export.statements.items()}
    facts.pop("drive.exported_on", None)
    facts.pop("encoder.exported_on", None)
    return facts, sorted(
        re.sub(r"\b(actual|Parameter|default|Default)[A-Z]\w+", "V", r.text) for r in export.remarks
    )


def read(folder: Path, text: str, name: str) -> Device:
    return read_device(write_device(folder, text, name))


@pytest.mark.parametrize("profile", [402, 406])
@examples(3)
@given(st.data())
def test_all_forms_of_a_device_file_say_the_same(profile: int, data: st.DataObject) -> None:
    indexes = data.draw(st.lists(st.sampled_from(pool(profile)), unique=True, max_size=15))
    objects: dict[int, Any] = {}
    for index in indexes:
        number = data.draw(st.integers(1, 2))
        configured = data.draw(st.booleans())
        value = Value(number, 1) if configured else Value(default=number)
        objects[index] = described(profile, index, value)
    with TemporaryDirectory() as folder:
        of_ini, of_xml = (
            outcome(Path(folder), text, name)
            for text, name in (
                (device_text(objects, profile=profile), "a.dcf"),
                (xdd_text(objects, profile=profile), "a.xdc"),
            )
        )
        assert of_ini == of_xml
        defaults = {index: of_defaults(value) for index, value in objects.items()}
        plain = device_text({0x1000: Value(default=0x20000 + profile), **defaults}, None, None)
        of_eds = outcome(Path(folder), plain, "a.eds")
        of_esi = outcome(Path(folder), esi_text(defaults, profile), "a.xml")
        if isinstance(of_eds, str) or isinstance(of_esi, str):
            assert of_eds == of_esi
        else:
            word = "drive.model" if profile == 402 else "encoder.model"
            assert of_esi[0].pop(word) == "AX-4"
            assert of_eds == of_esi


def outcome(folder: Path, text: str, name: str) -> Told | str:
    try:
        return told(read(folder, text, name))
    except InputError as error:
        return re.sub(r"\b(actual|Parameter|default|Default)[A-Z]\w+", "V", error.what)


def of_defaults(value: Any) -> Any:
    if isinstance(value, dict):
        return {sub: of_defaults(each) for sub, each in value.items()}
    return Value(default=value.stated if value.default is None else value.default, kind=value.kind)


# CiA 311 -----------------------------------------------------------------------------------------


def test_an_actual_value_is_a_setting_and_a_default_is_none(tmp_path: Path) -> None:
    text = xdd_text({0x6080: Value(3000, 1000), 0x6072: Value(default=5)})
    device = read(tmp_path, text, "a.xdc")
    facts, remarks = told(device)
    assert facts == {"drive.max_speed": "3000 rpm", "drive.node": 5}
    assert any("0x6072 is left out: it has a default only" in each for each in remarks)
    place = device.values[0x6080, 0].place
    assert (place.line, place.column) == (line_of(text, ' actualValue="3000"'), 15)
    assert device.written_on is not None
    assert device.written_on[0] == "2026-03-01"


def test_a_value_may_stand_in_the_parameter_that_an_object_refers_to(tmp_path: Path) -> None:
    text = """<ISO15745ProfileContainer><ISO15745Profile><ProfileBody>
    <DeviceIdentity><productName>AX-4</productName></DeviceIdentity>
    <ApplicationProcess><parameterList>
    <parameter uniqueID="P1"><UDINT/>
      <defaultValue value="1000"/><actualValue value="2000"/>
      <allowedValues><range><minValue value="1"/><maxValue value="5000"/></range></allowedValues>
    </parameter>
    <parameter uniqueID="P2"><UDINT/><defaultValue value="7"/></parameter>
    </parameterList></ApplicationProcess>
    <CANopenObject index="1000" name="type" objectType="7" dataType="0007" defaultValue="0x192"/>
    <CANopenObject index="6080" name="speed" objectType="7" uniqueIDRef="P1"/>
    </ProfileBody></ISO15745Profile></ISO15745ProfileContainer>"""
    device = read(tmp_path, text, "a.xdc")
    value = device.values[0x6080, 0]
    assert (value.value, value.low, value.high, value.configured) == (2000, 1, 5000, True)
    assert value.place.line == 5
    facts, remarks = told(device)
    assert facts == {"drive.max_speed": "2000 rpm", "drive.model": "AX-4"}
    assert "1 parameter is left out: no object refers to it" in remarks


XDD = xdd_text({0x6080: Value(3000, low=1, high=5000), 0x6099: {1: Value(5), 2: Value(6)}})

BAD_XDD = (
    ("an index that is none", 'index="6080"', 'index="60Z0"', "index is 60Z0"),
    ("a doubled object", 'index="6099"', 'index="6080"', "0x6080 stands twice"),
    ("a doubled subindex", 'subIndex="02"', 'subIndex="01"', "0x6099 sub 1 stands twice"),
    ("no index", ' index="6080"', "", "CANopenObject has no index"),
    ("a value that is no number", '"3000"', '"fast"', "0x6080 is fast"),
    ("a value beyond its limits", '"3000"', '"9000"', "outside the limits"),
    (
        "a limit that is no number",
        'highLimit="5000"',
        'highLimit="top"',
        "highLimit of 0x6080 is top",
    ),
    ("a node that is none", 'nodeID="5"', 'nodeID="200"', "the node id is 200"),
    ("a missing subindex", 'subNumber="3"', 'subNumber="4"', "announces 4 subindexes"),
    ("a parameter that is not there", 'index="6080"', 'index="6080" uniqueIDRef="P"', "refers to"),
    ("a file that is cut off", "</CANopenObjectList>", "", "not well-formed"),
    (
        "a document type",
        "<ISO15745ProfileContainer",
        "<!DOCTYPE a>\n<ISO15745ProfileContainer",
        "DOCTYPE",
    ),
    ("another root", "ISO15745ProfileContainer", "Other", "begins with the element Other"),
)


@pytest.mark.parametrize(
    ("old", "new", "what"), [b[1:] for b in BAD_XDD], ids=[b[0] for b in BAD_XDD]
)
def test_a_bad_xdd_is_refused_where_it_is_bad(
    old: str, new: str, what: str, tmp_path: Path
) -> None:
    assert XDD.count(old) >= 1
    text = XDD.replace(old, new) if "Container" in old else XDD.replace(old, new, 1)
    if what.startswith("announces"):
        text = text.replace('<CANopenSubObject subIndex="01"', '<other subIndex="01"')
    with pytest.raises(InputError) as caught:
        told(read(tmp_path, text, "a.xdd"))
    assert what in caught.value.what
    assert caught.value.place is not None
    assert caught.value.place.line >= 1
    assert caught.value.source_line is not None


def test_a_file_without_objects_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="describes no object"):
        read(tmp_path, "<ISO15745ProfileContainer/>", "a.xdd")


# ETG.2000 ----------------------------------------------------------------------------------------


def test_an_esi_says_what_a_device_is_and_can_do_and_sets_nothing(tmp_path: Path) -> None:
    text = esi_text(
        {
            0x6080: Value(default=3000),
            0x60E3: {1: Value(default=1, kind=INTEGER8), 2: Value(default=-1, kind=INTEGER8)},
        }
    )
    facts, remarks = told(read(tmp_path, text, "a.xml"))
    assert facts == {"drive.model": "AX-4", "drive.supported_homing_methods": [1, -1]}
    assert any("0x6080 is left out: it has a default only" in each for each in remarks)


def test_bytes_of_a_default_stand_lowest_first(tmp_path: Path) -> None:
    text = esi_text(
        {
            0x2000: Value(default=-2, kind=INTEGER32),
            0x2001: Value(default=0x1234, kind=UNSIGNED16),
            0x2002: Value(default="AX", kind=VISIBLE_STRING),
        }
    )
    assert "FEFFFFFF" in text
    assert "3412" in text
    device = read(tmp_path, text, "a.xml")
    assert [device.values[index, 0].value for index in (0x2000, 0x2001, 0x2002)] == [
        -2,
        0x1234,
        "AX",
    ]
    assert device.values[0x2001, 0].place.line == line_of(text, "<DefaultData>3412")


def test_an_array_type_gives_its_subindexes(tmp_path: Path) -> None:
    """SubIdx 0 and an item whose type has ArrayInfo, as ETG.2000 describes arrays (from memory)."""
    text = esi_text({0x60E3: {1: Value(default=1, kind=INTEGER8)}})
    array = (
        "<DataType><Name>A</Name><BaseType>SINT</BaseType>"
        "<ArrayInfo><LBound>1</LBound><Elements>2</Elements></ArrayInfo></DataType>"
    )
    text = text.replace("<DataTypes>", "<DataTypes>" + array)
    text = text.replace(
        "<SubIdx>1</SubIdx><Name>sub 1</Name><Type>SINT", "<Name>Elements</Name><Type>A"
    )
    second = "<SubItem><Name>sub 2</Name><Info><DefaultData>23</DefaultData></Info></SubItem>"
    text = text.replace("</SubItem>\n</Info>", "</SubItem>\n" + second + "</Info>")
    device = read(tmp_path, text, "a.xml")
    assert [device.values[0x60E3, sub].value for sub in (1, 2)] == [1, 0x23]


def test_of_several_devices_one_is_chosen_by_its_type(tmp_path: Path) -> None:
    text = esi_text({0x60E3: {1: Value(default=1, kind=INTEGER8)}})
    start, end = text.index("<Device "), text.index("</Devices>")
    other = text[start:end].replace("AX-4", "AX-9").replace("#x10001", "#x20002")
    path = write_device(tmp_path, text[:end] + other + text[end:], "a.xml")
    with pytest.raises(InputError, match="describes 2 devices") as caught:
        read_device(path)
    assert "AX-9 #x20002" in caught.value.expected
    assert caught.value.place is not None
    assert caught.value.place.line > 20
    for variant in ("AX-9", "AX-9 #x20002"):
        device = read_device(path, variant=variant)
        assert device.model is not None
        assert device.model[0] == "AX-9"
    with pytest.raises(InputError, match="0 of them are called AX-7"):
        read_device(path, variant="AX-7")


ESI = esi_text({0x6080: Value(default=3000)})

BAD_ESI = (
    ("an index that is none", "#x6080", "#xZZ", "the object has the index #xZZ"),
    ("a doubled object", "#x6080", "#x1000", "0x1000 stands twice"),
    ("a default that is no bytes", "B80B0000", "B80B000", "0x6080 is B80B000"),
    ("a profile that is none", "<ProfileNo>402", "<ProfileNo>drive", "ProfileNo is drive"),
    ("another profile", "92010200", "91010200", "device profile 401"),
    ("no device", "Descriptions", "Others", "describes no device"),
    ("a file that is cut off", "</Dictionary>", "", "not well-formed"),
)


@pytest.mark.parametrize(
    ("old", "new", "what"), [b[1:] for b in BAD_ESI], ids=[b[0] for b in BAD_ESI]
)
def test_a_bad_esi_is_refused_where_it_is_bad(
    old: str, new: str, what: str, tmp_path: Path
) -> None:
    assert old in ESI
    with pytest.raises(InputError) as caught:
        told(read(tmp_path, ESI.replace(old, new), "a.xml"))
    assert what in caught.value.what
    assert caught.value.place is not None
    assert caught.value.source_line


def test_start_up_commands_and_transport_are_named_and_left_out(tmp_path: Path) -> None:
    more = "<Sm>Outputs</Sm><Mailbox><CoE><InitCmd><Index>#x6060</Index></InitCmd></CoE></Mailbox>"
    text = ESI.replace("</Profile>", "</Profile>" + more)
    _, remarks = told(read(tmp_path, text, "a.xml"))
    assert "left out: Sm, Mailbox (how the device is talked to)" in remarks
    assert any(each.startswith("1 start-up command is left out") for each in remarks)


# Rows --------------------------------------------------------------------------------------------


def test_rows_of_a_device_file_have_index_and_subindex(tmp_path: Path) -> None:
    path = write_device(tmp_path, XDD, "a.xdc")
    rows = {(row.index, row.sub): row for row in export_rows(path)}
    assert rows[0x6080, 0].text == "3000"
    assert not rows[0x6080, 0].is_default
    assert rows[0x6099, 2].text == "6"
    assert str(rows[0x6099, 2].place).endswith(
        f":{line_of(XDD, ' actualValue=' + chr(34) + '6')}:15"
    )


# What reading costs ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "name", "loaded"),
    [
        (device_text({}), "a.dcf", []),
        (XDD, "a.xdd", ["defusedxml"]),
        (ESI, "a.xml", ["defusedxml"]),
    ],
    ids=["dcf", "xdd", "esi"],
)
def test_no_library_is_loaded_that_a_form_does_not_need(
    text: str, name: str, loaded: list[str], tmp_path: Path
) -> None:
    """A library that talks to a network is never needed to read a file."""
    path = write_device(tmp_path, text, name)
    program = (
        "import sys, pathlib; from axisproof.importing.device_reader import read_device; "
        f"read_device(pathlib.Path({str(path)!r})); "
        "print(sorted({'canopen', 'can', 'socket', 'defusedxml'} & sys.modules.keys()))"
    )
    run = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert run.stdout.strip() == str(loaded)
