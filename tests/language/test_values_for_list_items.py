"""`set` for one record of a list: proposed only if the condition picks just one."""

from __future__ import annotations

from typing import Any

import pytest
from axisproof.base.errors import RuleError
from axisproof.catalogue.catalogue import from_texts
from axisproof.engine.engine import Options, check_machine
from axisproof.findings.finding import Fix
from axisproof.language.store import from_plain, to_plain
from axisproof.machine.reader import read_plain

RULE = """language 2
rule stages-are-exact
  level note title "t" each axis
  require axis.mechanics.stated_ratio = 2
  say "s" why "w" remedy "r" basis "b"
  set {set}
  passes "p" axis.mechanics.stated_ratio = 2
  fails "f" axis.mechanics.stated_ratio = 3
"""
SHORT = (
    "stage.motor_turns_per_load_turn for stage in axis.mechanics.stages "
    "where stage.motor_turns_per_load_turn < 4 to stage.motor_turns_per_load_turn * 10 / 3"
)


def fix(stages: Any, clause: str = SHORT) -> Fix | None:
    found = from_texts({"site.rules": RULE.format(set=clause)})
    mechanics = {"stated_ratio": 3, "stages": stages}
    axis = {"motion": "linear", "mechanics": mechanics}
    machine = read_plain({"format": 1, "machine": "M", "axes": {"a": axis}})
    (finding,) = check_machine(machine, "M", found, Options()).findings
    return finding.fix


def stage(ratio: float | str | None) -> dict[str, Any]:
    return {} if ratio is None else {"motor_turns_per_load_turn": ratio}


def test_the_value_is_for_the_one_record_that_the_condition_picks() -> None:
    found = fix([stage(5), stage(3), stage(7)])
    assert found is not None
    assert found.fact == "axes.a.mechanics.stages[1].motor_turns_per_load_turn"
    assert (found.value, found.safe) == ("10", False)


@pytest.mark.parametrize(
    "stages",
    [
        [stage(5), stage(7)],
        [stage(3), stage(2)],
        [stage(3), stage(None)],
        [],
        {"partial": [stage(3)]},
    ],
)
def test_no_value_is_proposed_if_none_or_several_could_be_meant(stages: Any) -> None:
    assert fix(stages) is None


def test_without_a_condition_the_list_must_hold_one_record() -> None:
    clause = "stage.motor_turns_per_load_turn for stage in axis.mechanics.stages to 4 safe"
    found = fix([stage(3)], clause)
    assert found is not None
    assert (found.value, found.safe) == ("4", True)
    assert fix([stage(3), stage(5)], clause) is None


@pytest.mark.parametrize(
    ("clause", "what"),
    [
        ("stage.motor_side_teeth for stage in axis.drive.node to 4", "has no records"),
        ("stage.seeth for stage in axis.mechanics.stages to 4", "stage.seeth is not a fact"),
        ("stage.kind for stage in axis.mechanics.stages to 4", "Expected: a word"),
        ("stage.kind for stage in axis.mechanics.stages where 1 to gearbox", "not a condition"),
        ("axis.drive.node for axis in axis.mechanics.stages to 4", "means something already"),
    ],
)
def test_what_is_wrong_with_such_a_clause_is_said(clause: str, what: str) -> None:
    with pytest.raises(RuleError, match=what):
        from_texts({"site.rules": RULE.format(set=clause)})


def test_the_clause_survives_being_stored() -> None:
    trees = from_texts({"site.rules": RULE.format(set=SHORT)}).trees
    assert trees.rules[0].fix is not None
    assert trees.rules[0].fix.over is not None
    assert from_plain(to_plain(trees)) == trees
