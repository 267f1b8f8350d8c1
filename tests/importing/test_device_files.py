"""Device files as facts of an axis: which value wins, and what it becomes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from axisproof.importing.device_facts import DeviceOptions, device_export
from axisproof.importing.device_reader import read_device
from axisproof.importing.objects import PROFILES
from axisproof.importing.user_units import parse_user_unit
from axisproof.importing.values import fact_at
from axisproof.machine.schema import Leaf, ListType
from axisproof.numbers.rational import Fraction
from axisproof.numbers.units import units_of

from tests.importing.device_exports import MM, export_of, facts_of, refused
from tests.importing.device_samples import (
    INTEGER8,
    INTEGER16,
    INTEGER32,
    UNSIGNED8,
    UNSIGNED16,
    VISIBLE_STRING,
    Value,
    array,
    device_text,
    line_of,
    variable,
    write_device,
)

# What an object becomes -------------------------------------------------------------------------


def test_a_parameter_value_is_a_setting_and_a_default_is_none(tmp_path: Path) -> None:
    objects = {0x6080: Value(4500, default=3000), 0x6066: Value(default=10, kind=UNSIGNED16)}
    export = export_of(tmp_path, objects)
    speed = export.statements["axes", "x", "drive", "max_speed"]
    assert speed.value == "4500 rpm"
    assert speed.note == "ParameterValue of 0x6080"
    assert ("axes", "x", "drive", "following_error_timeout") not in export.statements
    text = export.text
    assert speed.place.line == line_of(text, "ParameterValue=4500")
    assert speed.place.column == len("ParameterValue=") + 1
    (remark,) = export.remarks
    assert remark.text == "0x6066 is left out: it has a default only, which is no setting"
    assert remark.place.line == line_of(text, "DefaultValue=10")


def test_an_empty_parameter_value_states_nothing(tmp_path: Path) -> None:
    assert facts_of(tmp_path, {0x6080: Value("", default=3000)}) == {}


def test_what_a_device_is_and_can_do_may_be_a_default(tmp_path: Path) -> None:
    objects = {
        0x1008: Value(default="a type", kind=VISIBLE_STRING),
        0x1018: {4: Value(default=4711)},
        0x60E3: {1: Value(default=1, kind=INTEGER8), 2: Value(default=37, kind=INTEGER8)},
    }
    assert facts_of(tmp_path, objects) == {
        "drive.model": "a type",
        "drive.supported_homing_methods": [1, 37],
    }
    objects = {0x6501: Value(default=65536), 0x6502: Value(default=4096, kind=UNSIGNED16)}
    assert facts_of(tmp_path, objects, profile=406) == {
        "encoder.capability.counts_per_revolution": 65536,
        "encoder.capability.distinguishable_revolutions": 4096,
    }


def test_an_encoder_whose_scaling_is_a_default_states_no_counts(tmp_path: Path) -> None:
    objects = {
        0x6000: Value(default=0, kind=UNSIGNED16),
        0x6001: Value(default=4096),
        0x6501: Value(default=65536),
    }
    facts = facts_of(tmp_path, objects, profile=406)
    assert facts == {"encoder.capability.counts_per_revolution": 65536}


@pytest.mark.parametrize("missing", [1, 2])
def test_a_ratio_of_which_one_number_is_a_default_is_left_out(missing: int, tmp_path: Path) -> None:
    objects = {0x608F: {1: Value(131072), 2: Value(1)}}
    objects[0x608F][missing] = Value(default=1)
    export = export_of(tmp_path, objects)
    assert set(export.statements) == {("axes", "x", "drive", "node")}
    assert f"0x608F sub {missing} is not configured" in "\n".join(map(str, export.remarks))


def test_a_user_unit_that_is_a_default_is_no_unit(tmp_path: Path) -> None:
    text = device_text({0x60A8: Value(default="0xFD010000"), 0x6065: Value(250)})
    assert "nothing states the position unit" in str(refused(tmp_path, text))
    own = parse_user_unit("1 deg", "position", "test")  # the default does not contradict it
    options = DeviceOptions({"position": own})
    export = device_export(read_device(write_device(tmp_path, text)), "x", options)
    window = export.statements["axes", "x", "drive", "following_error_window"]
    assert window.value == "250 deg"


def test_a_file_of_defaults_states_no_setting_whatever_it_describes(tmp_path: Path) -> None:
    """Over all objects that feed a fact: with defaults alone, only what the device is is stated."""
    for profile, (_, mappings) in PROFILES.items():
        inherent = {mapping.to for mapping in mappings if mapping.inherent}
        for mapping in mappings:
            objects: dict[int, Any] = {}
            for index, sub in mapping.objects:
                value = Value(default=1)
                if sub or mapping.combine == "list":
                    objects.setdefault(index, {})[sub or 1] = value
                else:
                    objects[index] = value
            facts = facts_of(tmp_path, objects, profile=profile)
            assert {f for f in facts if f != "encoder.node"} <= inherent, mapping.to


@pytest.mark.parametrize(
    ("entries", "day", "remark"),
    [
        (["CreationDate=03-09-2024"], "2024-03-09", ""),
        (["CreationDate=03-09-2024", "ModificationDate=11-30-2025"], "2025-11-30", ""),
        (["ModificationDate=30-11-2025"], None, "no day as mm-dd-yyyy"),
        (["ModificationDate=2025-11-30"], None, "no day as mm-dd-yyyy"),
        (["ModificationDate="], None, ""),
    ],
)
def test_an_export_has_the_day_on_which_the_file_was_written(
    entries: list[str], day: str | None, remark: str, tmp_path: Path
) -> None:
    """CiA 306 (from memory): mm-dd-yyyy in [FileInfo]."""
    info = "\n".join(["[FileInfo]", *entries, ""])
    path = write_device(tmp_path, info + device_text({0x6080: Value(4500)}))
    export = device_export(read_device(path), "x", DeviceOptions())
    stated = export.statements.get(("axes", "x", "drive", "exported_on"))
    assert (stated and stated.value) == day
    assert remark in "\n".join(map(str, export.remarks))
    path = write_device(tmp_path, info + device_text({0x6080: Value(default=4500)}))
    export = device_export(read_device(path), "x", DeviceOptions())
    assert ("axes", "x", "drive", "exported_on") not in export.statements, "nothing was configured"


@pytest.mark.parametrize(
    ("objects", "expected"),
    [
        ({0x608F: {1: Value(131072), 2: Value(1)}}, {"drive.counts_per_revolution": 131072}),
        ({0x608F: {1: Value(40000), 2: Value(4)}}, {"drive.counts_per_revolution": 10000}),
        (
            {0x6091: {1: Value(49), 2: Value(5)}},
            {"drive.gear_ratio.motor_turns": 49, "drive.gear_ratio.shaft_turns": 5},
        ),
        (
            {**MM, 0x6092: {1: Value(20), 2: Value(1)}},
            {"drive.feed_constant.feed": "20 mm", "drive.feed_constant.shaft_turns": 1},
        ),
        (
            {0x607E: Value("0x80", kind=UNSIGNED8)},
            {"drive.polarity": "reversed", "drive.velocity_polarity": "normal"},
        ),
        (
            {0x607E: Value("0x40", kind=UNSIGNED8)},
            {"drive.polarity": "normal", "drive.velocity_polarity": "reversed"},
        ),
        (
            {0x6072: Value(3000, kind=UNSIGNED16), 0x6076: Value(2400)},
            {"drive.torque_limit": "7.2 N·m", "motor.rated_torque": "2.4 N·m"},
        ),
        (
            {**MM, 0x607D: {1: Value("0xFFFFFFD8", kind=INTEGER32), 2: Value(500, kind=INTEGER32)}},
            {
                "controller.software_limits.min": "-40 mm",
                "controller.software_limits.max": "500 mm",
            },
        ),
        ({**MM, 0x607F: Value(300)}, {"controller.max_velocity": "300 mm/s"}),
        ({**MM, 0x6083: Value(2000)}, {"controller.max_acceleration": "2000 mm/s^2"}),
        (
            {**MM, 0x6099: {1: Value(50), 2: Value(5)}, 0x609A: Value(100)},
            {
                "controller.homing.search_speed": "50 mm/s",
                "controller.homing.creep_speed": "5 mm/s",
                "controller.homing.acceleration": "100 mm/s^2",
            },
        ),
        ({0x6098: Value("0xFF", kind=INTEGER8)}, {"controller.homing.method": -1}),
        (
            {0x60C2: {1: Value(4, kind=UNSIGNED8), 2: Value(-3, kind=INTEGER8)}},
            {"network.cycle_time": "0.004 s"},
        ),
        (
            {0x60E3: {1: Value(1, kind=INTEGER8), 2: Value(37, kind=INTEGER8)}},
            {"drive.supported_homing_methods": [1, 37]},
        ),
        (
            {**MM, 0x605A: Value(6, kind=INTEGER16), 0x6085: Value(9000), 0x6084: Value(1)},
            {
                "drive.stop_reaction.option": "quick_stop_and_hold",
                "drive.stop_reaction.deceleration": "9000 mm/s^2",
            },
        ),
        (
            {**MM, 0x605A: Value(1, kind=INTEGER16), 0x6085: Value(9000), 0x6084: Value(700)},
            {
                "drive.stop_reaction.option": "slow_down_then_disable",
                "drive.stop_reaction.deceleration": "700 mm/s^2",
            },
        ),
        (
            {0x605E: Value(0, kind=INTEGER16), 0x605D: Value(3, kind=INTEGER16)},
            {
                "drive.fault_reaction_option": "disable_at_once",
                "drive.halt_option": "current_limit_and_hold",
            },
        ),
        (
            {0x605B: Value(0, kind=INTEGER16), 0x605C: Value(1, kind=INTEGER16)},
            {
                "drive.shutdown_option": "disable_at_once",
                "drive.disable_operation_option": "slow_down_then_disable",
            },
        ),
        (
            {**MM, 0x605E: Value(1, kind=INTEGER16), 0x6084: Value(700), 0x6085: Value(9000)},
            {
                "drive.fault_reaction_option": "slow_down_then_disable",
                "drive.fault_deceleration": "700 mm/s^2",
            },
        ),
        (
            {**MM, 0x605E: Value(2, kind=INTEGER16), 0x6085: Value(9000), 0x60C6: Value(800)},
            {
                "drive.fault_reaction_option": "quick_stop_then_disable",
                "drive.fault_deceleration": "800 mm/s^2",
            },
        ),
        (
            {0x6094: {1: Value(200), 2: Value(1)}, 0x6090: {1: Value(20000), 2: Value(2)}},
            {
                "drive.velocity_encoder_factor.numerator": 200,
                "drive.velocity_encoder_factor.divisor": 1,
                "drive.velocity_encoder_factor.counts_per_revolution": 10000,
            },
        ),
        ({**MM, 0x6065: Value(2)}, {"drive.following_error_window": "2 mm"}),
        ({0x6075: Value(3840)}, {"motor.rated_current": "3.84 A"}),
        (
            {0x6093: {1: Value(4096), 2: Value(125)}},
            {"drive.gear.numerator": 4096, "drive.gear.denominator": 125},
        ),
        ({0x6403: Value("Type 9", kind=VISIBLE_STRING)}, {"motor.model": "Type 9"}),
        ({0x1018: {4: Value(4105, default=0)}}, {"drive.serial": "4105"}),
    ],
)
def test_objects_of_a_drive_become_facts(
    objects: dict[int, Any], expected: dict[str, Any], tmp_path: Path
) -> None:
    assert facts_of(tmp_path, objects) == expected


def test_position_range_limits_become_counts_by_the_position_formula(tmp_path: Path) -> None:
    objects = {
        **MM,
        0x607B: {1: Value(-100, kind=INTEGER32), 2: Value(100, kind=INTEGER32)},
        0x608F: {1: Value(131072), 2: Value(1)},
        0x6091: {1: Value(2), 2: Value(1)},
        0x6092: {1: Value(20), 2: Value(1)},
    }
    facts = facts_of(tmp_path, objects)
    # 100 mm · 131072 counts · 2 / 20 mm (CiA 402 position formula)
    assert facts["drive.position_range.max"] == 1310720
    assert facts["drive.position_range.min"] == -1310720


def test_limits_that_are_no_whole_counts_are_left_out_with_a_remark(tmp_path: Path) -> None:
    objects = {
        0x607B: {1: Value(0, kind=INTEGER32), 2: Value(1, kind=INTEGER32)},
        0x608F: {1: Value(100), 2: Value(1)},
        0x6091: {1: Value(1), 2: Value(1)},
        0x6092: {1: Value(7), 2: Value(1)},
    }
    export = export_of(
        tmp_path, objects, units={"position": parse_user_unit("1 mm", "position", "test")}
    )
    assert ("axes", "x", "drive", "position_range", "max") not in export.statements
    assert "not a whole number of counts" in str(export.remarks[-1])


@pytest.mark.parametrize(("reads", "expected"), [("offset", "40 mm"), ("minus_offset", "-40 mm")])
def test_both_sign_conventions_of_the_home_offset_can_be_chosen(
    reads: str, expected: str, tmp_path: Path
) -> None:
    objects = {**MM, 0x607C: Value(40, kind=INTEGER32)}
    facts = facts_of(tmp_path, objects, reference_reads=reads)
    assert facts == {"controller.homing.reference_position": expected}


def test_a_home_offset_of_zero_needs_no_convention(tmp_path: Path) -> None:
    objects = {**MM, 0x607C: Value(0, kind=INTEGER32)}
    assert facts_of(tmp_path, objects) == {"controller.homing.reference_position": "0 mm"}


def test_an_encoder_with_scaling_counts_as_scaled(tmp_path: Path) -> None:
    """CiA 406 (from memory): 0x6001 and 0x6002 hold if 0x6000 has bit 2 set, else 0x6501."""
    objects = {
        0x6000: Value("0x0004", kind=UNSIGNED16),
        0x6001: Value(10000),
        0x6002: Value(40960000),
        0x6501: Value(65536),
        0x6502: Value(4096, kind=UNSIGNED16),
    }
    facts = facts_of(tmp_path, objects, profile=406)
    assert facts == {
        "encoder.counts_per_revolution": 10000,
        "encoder.total_range": 40960000,
        "encoder.distinguishable_revolutions": 4096,
        "encoder.capability.counts_per_revolution": 65536,
        "encoder.capability.distinguishable_revolutions": 4096,
    }
    objects[0x6000] = Value("0x0000", kind=UNSIGNED16)
    facts = facts_of(tmp_path, objects, profile=406)
    assert facts["encoder.counts_per_revolution"] == 65536
    assert "encoder.total_range" not in facts


def test_the_second_drive_of_a_device_is_taken_as_part_1(tmp_path: Path) -> None:
    objects = {0x6080: Value(1000), 0x6880: Value(2000)}
    first = export_of(tmp_path, objects)
    second = export_of(tmp_path, objects, part=1)
    path = ("axes", "x", "drive", "max_speed")
    assert (first.statements[path].value, second.statements[path].value) == ("1000 rpm", "2000 rpm")
    assert "part 1 of the device is not taken" in str(first.remarks[-1])


@pytest.mark.parametrize(
    ("unit", "expected"),
    [
        ("0xFA010000", "0.25 mm"),
        ("0x00410000", "250 deg"),
        ("0xFD410000", "0.25 deg"),
        ("0x00B40000", "250 rev"),
        ("0x00420000", "250 arcmin"),
        ("0x00010000", "250000 mm"),
    ],
)
def test_si_unit_objects_scale_positions_exactly(unit: str, expected: str, tmp_path: Path) -> None:
    facts = facts_of(tmp_path, {0x60A8: Value(unit), 0x6065: Value(250)})
    assert facts["drive.following_error_window"] == expected


def test_increments_take_the_unit_that_is_stated_for_them(tmp_path: Path) -> None:
    objects = {
        0x60A8: Value("0x00B50000"),
        0x60A9: Value("0x00B50300"),
        0x6065: Value(400),
        0x607F: Value(800),
    }
    unit = parse_user_unit("1/8 mm", "position", "test")
    facts = facts_of(tmp_path, objects, units={"position": unit})
    assert facts == {
        "drive.following_error_window": "50 mm",
        "controller.max_velocity": "100 mm/s",
    }


def test_what_sets_nothing_is_left_out_and_said(tmp_path: Path) -> None:
    objects = {
        **MM,
        0x6065: Value("0xFFFFFFFF"),
        0x6098: Value(0, kind=INTEGER8),
        0x605A: Value(3, kind=INTEGER16),
        0x607F: Value(default=0),
        0x6075: Value(0),
        0x605D: Value(-3, kind=INTEGER16),
        0x605E: Value(default=2, kind=INTEGER16),
        0x6007: Value(1, kind=INTEGER16),
    }
    export = export_of(tmp_path, objects)
    assert set(export.statements) == {("axes", "x", "drive", "node")}
    said = "\n".join(map(str, export.remarks))
    for words in (
        "switched off",
        "no homing method",
        "no word for 3",
        "default only",
        "no rated current",
        "-3 is an option of the maker's own",
        "0x605E is left out: it has a default only",
        "when the network fails",
    ):
        assert words in said


def test_keywords_may_be_spelled_in_any_case(tmp_path: Path) -> None:
    text = device_text({0x6080: Value(4500, default=3000), 0x6091: {1: Value(7), 2: Value(1)}})
    for word in ("ParameterValue", "DataType", "ObjectType", "NodeID", "[6091sub"):
        text = text.replace(word, word.upper())
    export = device_export(read_device(write_device(tmp_path, text)), "x", DeviceOptions())
    assert export.statements["axes", "x", "drive", "max_speed"].value == "4500 rpm"
    assert export.statements["axes", "x", "drive", "gear_ratio", "motor_turns"].value == 7


def test_every_feed_leads_to_a_fact_of_fitting_kind() -> None:
    for _, feeds in PROFILES.values():
        for feed in feeds:
            kind = fact_at(feed.to).type
            if isinstance(kind, ListType):
                assert feed.combine == "list"
                continue
            assert isinstance(kind, Leaf)
            if kind.kind == "quantity":
                assert kind.quantity is not None
                if feed.unit in ("position", "velocity", "acceleration", "jerk"):
                    assert kind.in_user_units
                else:
                    assert feed.unit in units_of(kind.quantity)
            else:
                assert not feed.unit
            for word in (feed.words or {}).values():
                assert word is None or word in kind.names


def test_the_settings_of_a_compact_array_stand_in_a_section_of_their_own(tmp_path: Path) -> None:
    """[6099Value] and [6099Name] after CiA 306 (from memory)."""
    section = variable("6099", "speeds", Value(default=7))
    section[2] = "ObjectType=0x8"
    text = device_text(MM) + "\n".join([*section, "CompactSubObj=3"])
    text += "\n[6099Value]\nNrOfEntries=2\n1=50\n2=5\n[6099Name]\nNrOfEntries=1\n2=slow\n"
    device = read_device(write_device(tmp_path, text))
    values = [device.values[0x6099, sub] for sub in (1, 2, 3)]
    assert [each.value for each in values] == [50, 5, 7]
    assert [each.configured for each in values] == [True, True, False]
    assert [each.name for each in values] == ["speeds", "slow", "speeds_3"]
    assert values[1].place.line == line_of(text, "2=5")


def test_a_user_unit_may_leave_out_the_one() -> None:
    assert parse_user_unit("deg", "position", "t").size == 1
    assert parse_user_unit("1/8 mm", "position", "t").size == Fraction(1, 8)


def test_an_object_can_be_left_out_on_purpose(tmp_path: Path) -> None:
    objects = {0x6065: Value(2000), 0x6080: Value(3000)}
    facts = facts_of(tmp_path, objects, leave_out=frozenset({0x6065}))
    assert facts == {"drive.max_speed": "3000 rpm"}


def test_array_sections_of_samples_count_their_parts() -> None:
    assert array(0x6091, {1: Value(7)})[3] == "SubNumber=2"
