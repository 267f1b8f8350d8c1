"""Facts, definitions, settings and functions are found by words that somebody looks for."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import UsageError
from axisproof.catalogue.catalogue import shipped
from axisproof.language.library import FUNCTIONS
from axisproof.language.record_types import RecordTypes
from axisproof.report.rendering import RenderOptions
from axisproof.report.rule_text import render_names

from tests.language.evaluating import rule_text


def found(*words: str) -> dict[str, str]:
    return {each.name: each.kind for each in api.list_names(words)}


@pytest.mark.parametrize(
    ("words", "name", "kind"),
    [
        ("gravity", "axis.hangs", "true or false"),
        ("release time", "axis.motor.brake.release_time", "time, in s"),
        ("max velocity", "axis.controller.max_velocity", "user units of the axis (mm or deg)"),
        ("homing method", "axis.controller.homing.method", "a homing method"),
        ("teeth", "stage.motor_side_teeth", "a ratio (no unit)"),
        ("kinematics", "stopping_distance(speed, deceleration, delay)", "position"),
        ("setting brake torque", "brake_torque_margin", "1.5 unless a site changes it"),
        ("day of the check", "machine.check_date", "a date"),
        ("waits for", "axis.homes_after_stranger", "true or false"),
    ],
)
def test_a_name_is_found_by_what_it_is_for(words: str, name: str, kind: str) -> None:
    if words == "waits for":
        words = "no axis of the machine"
    names = found(*words.split())
    assert name in names
    assert kind in names[name] or name.startswith("stopping")


def test_every_fact_definition_setting_and_function_is_listed_with_a_meaning() -> None:
    names = api.list_names()
    trees = shipped().trees
    facts = sum(len(RecordTypes().names(record)) for record in RecordTypes().records)
    numbers = {what: [e for e in names if e.what == what] for what in {e.what for e in names}}
    assert {what: len(each) for what, each in numbers.items()} == {
        "fact": facts,
        "definition": len(trees.definitions),
        "setting": len(trees.settings),
        "function": len(FUNCTIONS),
    }
    assert [each.name for each in names if not (each.meaning and each.kind)] == []


def test_a_function_tells_its_formula_and_its_source() -> None:
    names = {each.name: each for each in api.list_names()}
    for function in FUNCTIONS.values():
        arguments = ", ".join(name for name, _ in function.parameters)
        meaning = names[f"{function.name}({arguments})"].meaning
        assert function.formula in meaning
        assert function.source in meaning


def test_a_name_comes_before_a_meaning() -> None:
    names = list(found("polarity"))
    first = next(number for number, name in enumerate(names) if "polarity" not in name)
    assert all("polarity" not in name for name in names[first:])


def test_a_word_of_nothing_has_one_that_is_close() -> None:
    with pytest.raises(UsageError) as caught:
        api.list_names(["gravitty"])
    assert caught.value.expected == "perhaps gravity"


def test_names_of_a_site_are_listed_with_its_rules(tmp_path: Path) -> None:
    path = tmp_path / "site.rules"
    before = 'setting most_nodes default 5 meaning "how many nodes" basis "b"'
    path.write_text(rule_text("axis.drive.node < 5", before=before))
    assert [each.name for each in api.list_names(["nodes", "many"], [path])] == ["most_nodes"]


def test_a_listed_name_shows_kind_unit_list_and_meaning() -> None:
    (only,) = api.list_names(["motor_side_teeth"])
    lines = render_names([only], RenderOptions()).splitlines()
    assert lines[0] == "stage.motor_side_teeth"
    assert lines[1].strip() == "fact: a ratio (no unit), of stage in axis.mechanics.stages"
    assert lines[-1] == "1 name"
