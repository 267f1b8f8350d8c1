"""Reading a machine: flat exact facts, and what is absent."""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any

import pytest
from axisproof.base.absence import NONE, PRESENT
from axisproof.machine.reader import read_plain
from axisproof.machine.records import NOTES, new_record, notes_of
from axisproof.numbers.exact import Pi
from axisproof.numbers.rational import Fraction

from tests.machine.plain_machines import axis, claims, machine

# Bare values ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("part", "written", "key", "bare"),
    [
        ({"controller": {"cycle": "12.5 mm"}}, "linear", "controller.cycle", Fraction(25, 2)),
        ({"controller": {"cycle": "1 in"}}, "linear", "controller.cycle", Fraction(127, 5)),
        ({"controller": {"cycle": "360 deg"}}, "rotary", "controller.cycle", 1),
        ({"controller": {"cycle": "1 rad"}}, "rotary", "controller.cycle", Pi(Fraction(1, 2), -1)),
        ({"motor": {"max_speed": "3000 rpm"}}, "linear", "motor.max_speed", 50),
        ({"motor": {"rated_torque": "1 N·m"}}, "linear", "motor.rated_torque", Pi(2 * 10**6, 1)),
        ({"motor": {"inertia": "1 kg m^2"}}, "linear", "motor.inertia", Pi(4 * 10**6, 2)),
        ({"drive": {"node": 3}}, "linear", "drive.node", 3),
        ({"encoder": {"distinguishable_revolutions": 65536}}, "linear",
         "encoder.distinguishable_revolutions", 65536),
        ({"encoder": {"index_pulse": False}}, "linear", "encoder.index_pulse", False),
        ({"encoder": {"kind": "incremental"}}, "linear", "encoder.kind", "incremental"),
        ({"motor": {"serial": "007"}}, "linear", "motor.serial", "007"),
        ({"mechanics": {"stated_ratio": "49/5"}}, "linear", "mechanics.stated_ratio",
         Fraction(49, 5)),
        ({"mechanics": {"stated_ratio": 7}}, "linear", "mechanics.stated_ratio", 7),
        ({"mechanics": {"efficiency": Decimal("0.90")}}, "linear", "mechanics.efficiency",
         Fraction(9, 10)),
        ({"mechanics": {"counterbalance": "80 %"}}, "linear", "mechanics.counterbalance",
         Fraction(4, 5)),
        ({"controller": {"counts_per_unit": "1000 count/deg"}}, "rotary",
         "controller.counts_per_unit", 360000),
        ({"drive": {"node": Decimal("3.0")}}, "linear", "drive.node", 3),
    ],
)  # fmt: skip
def test_a_fact_is_a_bare_value_in_base_units(
    part: dict[str, Any], written: str, key: str, bare: object
) -> None:
    value = axis(written, **part)[key]
    assert value == bare
    assert type(value) is type(bare)


@pytest.mark.parametrize("day", ["1970-01-01", "2026-03-14", "2024-02-29", "1969-12-31"])
def test_a_date_is_seconds_since_1970(day: str) -> None:
    value = axis(motor={"commutation": {"on": day}})["motor.commutation.on"]
    moment = datetime.datetime.fromisoformat(f"{day}T00:00:00+00:00")
    assert value == int(moment.timestamp())


@pytest.mark.parametrize(
    ("stated", "bare"),
    [
        ("limit_switch_negative_index", 1),
        ("next_index_positive", 34),
        ("current_position", "current_position"),
        ("hard_stop_positive", "hard_stop_positive"),
        (35, 35),
        (-3, -3),
        (Decimal("17.0"), 17),
    ],
)
def test_a_homing_method_is_a_number_where_the_name_means_one(stated: Any, bare: object) -> None:
    assert axis(controller={"homing": {"method": stated}})["controller.homing.method"] == bare
    found = axis(drive={"supported_homing_methods": [stated]})
    assert found["drive.supported_homing_methods"] == [bare]


@pytest.mark.parametrize(
    ("written", "decimals"),
    [
        ("3.333 mm", 3),
        ("3.50 mm", 2),
        ("3 mm", None),
        ("10/3 mm", None),
        ("3.333e2 mm", 3),
    ],
)
def test_a_number_written_as_a_decimal_keeps_how_many_digits(
    written: str, decimals: int | None
) -> None:
    found = axis(controller={"cycle": written})
    assert notes_of(found).decimals.get("controller.cycle") == decimals


def test_a_bare_number_written_as_a_decimal_keeps_its_digits_too() -> None:
    found = axis(mechanics={"stated_ratio": Decimal("1.0667"), "efficiency": 1})
    assert notes_of(found).decimals == {"mechanics.stated_ratio": 4}


# Absence ----------------------------------------------------------------------------------------


def test_a_missing_fact_has_no_key_and_none_is_known_to_be_absent() -> None:
    found = axis(motor={"brake": "none"}, drive={"stop_reaction": {"jerk": "none"}})
    assert found["motor.brake"] is NONE
    assert found["drive.stop_reaction.jerk"] is NONE
    assert "drive.gear" not in found
    assert not [key for key in found if key.startswith("motor.brake.")]


def test_a_part_that_could_be_none_and_is_described_is_present() -> None:
    found = axis(motor={"brake": {"voltage": "24 V"}}, gantry={})
    assert found["motor.brake"] is PRESENT
    assert found["motor.brake.voltage"] == 24 * 10**6
    assert found["gantry"] is PRESENT
    assert "drive" not in axis(drive={"node": 1})


def test_a_partial_list_is_marked_and_keeps_its_paths() -> None:
    found = axis(interlocks={"partial": [{"triggers": {"partial": ["position_lost"]}}]})
    assert notes_of(found).partial == {"interlocks"}
    (interlock,) = found["interlocks"]
    notes = notes_of(interlock)
    assert notes.path == "axes.a.interlocks[0]"
    assert notes.partial == {"triggers"}
    assert interlock == {"triggers": ["position_lost"], NOTES: notes}
    complete = axis(interlocks=[])
    assert complete["interlocks"] == []
    assert notes_of(complete).partial == set()


def test_items_of_a_list_are_records_with_a_path_of_their_own() -> None:
    found = axis(
        mechanics={"stages": [{"motor_side_teeth": 20}, {"motor_turns_per_load_turn": "7"}]}
    )
    assert found["mechanics.stages"] == [
        {**new_record("axes.a.mechanics.stages[0]"), "motor_side_teeth": 20},
        {**new_record("axes.a.mechanics.stages[1]"), "motor_turns_per_load_turn": 7},
    ]


def test_facts_after_a_list_still_belong_to_the_axis() -> None:
    found = machine(
        interlocks=[{"triggers": [], "max_speed": "20 mm/s"}],
        controller={"cycle": claims("1 mm", "2 mm")},
    )
    assert found.axes[0]["interlocks"][0]["max_speed"] == 20
    assert found.disputes[0].path == "axes.a.controller.cycle"


# The machine ------------------------------------------------------------------------------------


def test_axes_stand_in_the_order_of_the_file_and_know_their_machine() -> None:
    found = read_plain(
        {
            "format": 1,
            "machine": "hall",
            "axes": {"z": {"motion": "linear"}, "a": {"motion": "rotary"}},
            "network": {"cycle_time": "1 ms"},
        }
    )
    assert found.name == "hall"
    assert notes_of(found.facts).path == ""
    assert found.facts["network.cycle_time"] == Fraction(1, 1000)
    assert [(a["name"], notes_of(a).path) for a in found.axes] == [
        ("z", "axes.z"),
        ("a", "axes.a"),
    ]
    assert all(notes_of(a).machine is found.facts for a in found.axes)
    assert "machine" not in found.facts
    assert "format" not in found.facts


def test_settings_keep_their_plain_value_and_reason() -> None:
    plain = {
        "settings": {"margin": {"value": Decimal("0.5"), "reason": "old cams"}},
        "axes": {
            "a": {"motion": "linear", "settings": {"margin": {"value": "5 mm", "reason": "new"}}},
            "b": {"motion": "linear"},
        },
    }
    found = read_plain(plain)
    assert notes_of(found.facts).stated_settings == {"margin": (Decimal("0.5"), "old cams")}
    assert [notes_of(a).stated_settings for a in found.axes] == [{"margin": ("5 mm", "new")}, {}]
