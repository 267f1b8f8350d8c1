"""Questions about facts, and answers as plain values."""

from __future__ import annotations

import re

import pytest
from axisproof.authoring.questions import absence, absence_sentence, question, read_answer
from axisproof.authoring.where_found import ABSENT, NO_ITEMS, WHERE, where_found
from axisproof.machine.schema import ListType, RecordType, axis_type, machine_type
from axisproof.machine.value_reader import Refusal

MOTIONS = {"lift": "linear", "table": "rotary"}


def every_path() -> dict[str, bool]:
    """Each path of a fact, part or list, and whether it may be none or is a list of records."""
    found: dict[str, bool] = {}
    fields = [(n, f) for n, f in machine_type().fields.items() if n != "axes"]
    fields += list(axis_type().fields.items())
    while fields:
        path, field = fields.pop()
        kind = field.type.item if isinstance(field.type, ListType) else field.type
        found[path] = field.nullable
        if isinstance(kind, RecordType):
            fields += [(f"{path}.{name}", each) for name, each in kind.fields.items()]
    return found


def test_the_tables_name_facts_of_the_schema() -> None:
    known = every_path()
    assert not (set(WHERE) | set(ABSENT) | set(NO_ITEMS)) - set(known)
    assert all(known[path] for path in ABSENT)


def test_sixty_facts_say_where_they_are_found() -> None:
    assert len(WHERE) >= 60
    assert where_found("encoder.capability.counts_per_revolution").startswith("on the plate")
    assert where_found("settings") == ""


def test_a_question_has_words_unit_example_and_place() -> None:
    asked = question("axes.lift.motor.rated_speed", MOTIONS)
    assert asked.subject == "lift, motor"
    assert asked.what == "Rated speed"
    assert "3000 rpm" in asked.takes
    assert "plate of the motor" in asked.where


def test_an_example_fits_the_motion_of_the_axis() -> None:
    linear = question("axes.lift.controller.max_velocity", MOTIONS)
    rotary = question("axes.table.controller.max_velocity", MOTIONS)
    assert "mm/s" in linear.takes
    assert "deg/s" in rotary.takes


@pytest.mark.parametrize(
    ("fact", "typed", "value"),
    [
        ("axes.lift.motor.rated_speed", "3000 rpm", "3000 rpm"),
        ("axes.lift.encoder.counts_per_revolution", "131072", 131072),
        ("axes.lift.encoder.index_pulse", "yes", True),
        ("axes.lift.encoder.kind", "absolute multiturn", "absolute_multiturn"),
        ("axes.lift.mechanics.stages", "2", [{}, {}]),
        ("axes.lift.motor.brake", "yes", {}),
        ("axes.lift.controller.homing.after", "table, x", ["table", "x"]),
        ("axes.lift.motor.serial", "0042", "0042"),
    ],
)
def test_an_answer_is_the_value_that_a_file_states(fact: str, typed: str, value: object) -> None:
    answer = read_answer(question(fact, MOTIONS), typed)
    assert answer.value == value
    assert type(answer.value) is type(value)


@pytest.mark.parametrize(
    ("fact", "typed", "expected"),
    [
        ("axes.lift.motor.rated_speed", "3000", "rotational speed"),
        ("axes.lift.encoder.counts_per_revolution", "many", "whole number"),
        ("axes.lift.encoder.index_pulse", "perhaps", "yes or no"),
        ("axes.lift.encoder.kind", "laser", "one of"),
        ("axes.lift.mechanics.travel.max", "90 deg", "a length, because the axis is linear"),
        ("axes.lift.mechanics.stages", "-1", "from 1 to"),
        ("axes.lift.motor.brake", "big", "yes or none"),
    ],
)
def test_a_bad_value_says_what_is_expected(fact: str, typed: str, expected: str) -> None:
    with pytest.raises(Refusal) as caught:
        read_answer(question(fact, MOTIONS), typed)
    assert re.search(expected, caught.value.expected)


def test_none_of_a_fact_in_a_part_speaks_of_the_part() -> None:
    asked = question("axes.lift.motor.brake.holding_torque", MOTIONS)
    assert absence_sentence(asked) == "This axis has no brake."
    assert absence(asked).path == ("axes", "lift", "motor", "brake")


def test_none_of_what_must_be_there_is_refused() -> None:
    with pytest.raises(Refusal):
        absence(question("axes.lift.motor.rated_speed", MOTIONS))


def test_no_items_are_a_complete_empty_list() -> None:
    asked = question("axes.lift.mechanics.stages", MOTIONS)
    assert absence_sentence(asked) == "Motor and driving shaft are coupled directly."
    assert absence(asked).value == []
