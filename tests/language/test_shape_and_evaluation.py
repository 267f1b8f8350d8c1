"""One test for every statement on the shape of rules, their evaluation and their messages."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from axisproof.base.absence import NONE
from axisproof.base.errors import RuleError
from axisproof.catalogue.catalogue import from_texts
from axisproof.language.syntax import SUBJECTS
from axisproof.machine.records import notes_of
from axisproof.numbers.rational import Fraction
from axisproof.rulebook.rule_tests import run_rule_tests

from tests.language.evaluating import (
    BROKEN,
    HOLDS,
    Verdict,
    catalogue_of,
    checked,
    judge,
    machine_of,
    outcome,
    rule_text,
    run,
)
from tests.language.semantics import PARTNER, findings_of, refused


def test_subjects_are_typed_roots_from_one_table() -> None:
    assert set(SUBJECTS) == {"axis", "machine", "change", "spare"}
    for subject, roots in SUBJECTS.items():
        root = next(iter(roots))
        fact = "name is text" if root == "machine" else "drive.node = 1"
        if root == "machine":
            fact = 'description is "x"'
        (rule,) = checked(f"{root}.{fact}", each=subject).rules
        assert rule.subject == subject


def test_a_pair_without_an_equality_key_cannot_be_written() -> None:
    with pytest.raises(RuleError):
        checked("true", each="axis with other")
    with pytest.raises(RuleError):
        checked("true", each="axis with other where axis.drive.node < other.drive.node")


@pytest.mark.parametrize(
    ("each", "require"),
    [
        ("axis", "every a in machine.axes has a.drive.node = axis.drive.node"),
        ("machine", "every a in machine.axes has every b in machine.axes has a.name is b.name"),
        ("axis", "(count of n in machine.network.nodes where n.address > axis.drive.node) = 0"),
    ],
)
def test_a_loop_over_all_within_each_needs_an_equality_that_picks_some(
    each: str, require: str
) -> None:
    assert "with every one of the others" in refused(require, each=each)


def test_a_loop_with_an_equality_joins_by_node_address() -> None:
    require = "some n in machine.network.nodes where n.address = axis.drive.node has n.serial is {}"
    machine = machine_of(
        {"drive": {"node": 3}},
        network={"nodes": [{"address": 2, "serial": "x"}, {"address": 3, "serial": "y"}]},
    )
    assert outcome(require.format('"y"'), machine=machine) == HOLDS
    assert outcome(require.format('"x"'), machine=machine) == BROKEN


class Counting(dict[str, Any]):
    """Facts that count how often they are asked for one."""

    asked = 0

    def get(self, key: str, default: Any = None) -> Any:
        Counting.asked += 1
        return super().get(key, default)


@pytest.mark.parametrize("count", [20, 200])
def test_pairs_are_found_through_an_index_that_rules_share(count: int) -> None:
    from axisproof.engine.cases import cases

    partners = {n: {"partner": f"a{n ^ 1}"} for n in range(count)}
    axes = {f"a{n}": {"motion": "linear", "gantry": partners[n]} for n in range(count)}
    machine = machine_of({"gantry": "none"}, axes=axes)
    machine.axes[:] = [Counting(axis) for axis in machine.axes]
    (entry,) = catalogue_of("axis.motion is other.motion", each=PARTNER).entries
    Counting.asked = 0
    paired: Any = {}
    for _ in range(3):
        found = [
            (c.env["axis"]["name"], c.env["other"]["name"])
            for c in cases(entry, machine, paired)
            if not c.absent
        ]
        assert found == [(f"a{n}", f"a{n ^ 1}") for n in range(count)]
    assert Counting.asked < 5 * count


def test_a_rule_may_propose_a_value_and_say_that_it_is_safe() -> None:
    found = catalogue_of(
        "axis.drive.node = 5", extra="set axis.drive.node to axis.drive.node + 1 safe"
    )
    (finding,) = findings_of(found, machine_of({"drive": {"node": 7}}))
    assert (finding.fix.fact, finding.fix.value, finding.fix.safe) == (
        "axes.axis.drive.node",
        "8",
        True,
    )


def test_a_proposed_value_comes_from_the_rule_and_so_does_the_margin() -> None:
    found = catalogue_of(
        "axis.encoder.distinguishable_revolutions <= 7rev",
        lets="let best = largest_multiple(7rev, axis.encoder.distinguishable_revolutions)",
        extra="set axis.encoder.distinguishable_revolutions to best",
    )
    (finding,) = findings_of(found, machine_of({"encoder": {"distinguishable_revolutions": 65536}}))
    assert finding.fix.value == "65534"  # 65536 = 9362·7 + 2, domain.md section 2
    assert not finding.fix.safe
    assert {f.name: f.text for f in finding.figures}["too large by"] == "65529 rev"


def test_an_undecided_rule_names_the_smallest_set_of_facts_that_decides_it() -> None:
    require = (
        "(axis.drive.node + axis.drive.position_register.bits"
        " default axis.encoder.edges_per_line) = 1"
    )
    assert judge(require).traced.missing == ("axes.axis.encoder.edges_per_line",)
    both = "axis.drive.node + axis.drive.position_register.bits = 1"
    assert set(judge(both).traced.missing) == {
        "axes.axis.drive.node",
        "axes.axis.drive.position_register.bits",
    }
    assert judge(both, {"drive": {"node": 1}}).traced.missing == (
        "axes.axis.drive.position_register.bits",
    )


def test_a_unit_literal_is_one_token_without_inner_spaces() -> None:
    assert outcome("1 m/s = 60m/min".replace("1 m", "1m")) == HOLDS
    with pytest.raises(RuleError):
        checked("1 m/s = 60m/min")


def test_keywords_are_reserved() -> None:
    said = refused("true", lets="let every = 1")
    assert "every is a word of the language" in said
    assert "true is a word of the language" in refused("true", lets="let true = 1")


@pytest.mark.parametrize("first", ["", "language 1\n", "language 3\n", "rule x level error"])
def test_a_rule_file_states_a_language_version_that_is_known(first: str) -> None:
    text = first + rule_text("true").removeprefix("language 2\n")
    with pytest.raises(RuleError):
        from_texts({"a.rules": text})


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        ("5/8 * 100mm", "62.5 mm"),
        ("720/7 * 1deg", "102.86 deg"),
        ("circumference(20mm)", "62.83 mm"),
        ("4096count", "4096 count"),
        ("1/3", "0.3333"),
    ],
)
def test_messages_give_short_numbers_exactly_and_round_long_ones(value: str, shown: str) -> None:
    units = " in deg" if "deg" in value else ""
    found = catalogue_of("1 = 2", say=f"{{{value}{units}}}")
    (finding,) = findings_of(found, machine_of())
    assert finding.message == shown


def test_figures_carry_numerator_denominator_and_unit() -> None:
    found = catalogue_of("x < 1deg", lets="let x = 720/7 * 1deg")
    (finding,) = findings_of(found, machine_of())
    figure = next(f for f in finding.figures if f.name == "x")
    assert figure.exact["unit"] == "rev"
    assert (figure.exact["numerator"], figure.exact["denominator"]) == (2, 7)


def test_evaluation_sees_bare_values_and_places_live_beside_them() -> None:
    machine = machine_of(
        {"drive": {"node": 3}, "motor": {"brake": "none"}, "controller": {"cycle": "10 mm"}}
    )
    (axis,) = machine.axes
    assert axis["drive.node"] == 3
    assert axis["controller.cycle"] == 10
    assert axis["motor.brake"] is NONE


def test_a_let_is_unknown_without_making_the_rule_unknown_where_it_is_not_needed() -> None:
    lets = "let x = axis.drive.node + 1"
    assert outcome("axis.motion is linear or x = 1", lets=lets) == HOLDS


def test_a_definition_is_computed_once_per_record() -> None:
    before = 'define axis.twice kind ratio as axis.drive.node * 2 meaning "m"'
    found = catalogue_of("axis.twice = 6 and axis.twice + 1 = 7", before=before)
    machine = machine_of({"drive": {"node": 3}})
    (entry,) = found.entries
    assert entry.function(machine.axes[0], machine.facts) == 1
    assert notes_of(machine.axes[0]).memo["twice"] == 6


def test_a_setting_has_its_default_unless_machine_or_axis_says_otherwise() -> None:
    before = 'setting room default 10% meaning "m" basis "b"'
    found = catalogue_of("room = 0.1", before=before)
    machine = machine_of()
    assert [v.outcome for v in run(found, machine)] == [HOLDS]
    notes_of(machine.axes[0]).settings = {"room": Fraction(1, 5)}
    assert [v.outcome for v in run(found, machine)] == [BROKEN]


def test_both_evaluators_read_one_checked_tree() -> None:
    found = catalogue_of("axis.drive.node = 1")
    verdict: Verdict = run(found, machine_of({"drive": {"node": 1}}))[0]
    assert verdict.traced.uses == ("axes.axis.drive.node",)
    assert found.rules["the-rule"].require.op == "eq"


DISPUTED_ELSE = """language 2
define stage.ratio_of for stage in axis.mechanics.stages
  kind ratio meaning "m"
  as stage.motor_turns_per_load_turn default stage.load_side_teeth / stage.motor_side_teeth
define axis.ratio_of
  kind ratio meaning "m"
  as (product of s.ratio_of for s in axis.mechanics.stages) default axis.mechanics.stated_ratio
rule ratio-is-seven
  level error title "t" each axis
  require axis.ratio_of = 7
  say "s" why "w" remedy "r" basis "b"
  passes "p" axis.mechanics.stated_ratio = 7
  fails "f" axis.mechanics.stated_ratio = 6
"""


@pytest.mark.parametrize(
    ("stage", "verdict"),
    [
        ({"load_side_teeth": 70, "motor_side_teeth": 10}, 1),
        ({"motor_side_teeth": 10}, 1),  # nothing about the ratio: the stated one counts
        (
            {
                "motor_turns_per_load_turn": {
                    "claims": [{"value": 7, "source": "a"}, {"value": 8, "source": "b"}]
                },
                "load_side_teeth": 70,
                "motor_side_teeth": 10,
            },
            None,
        ),
        (
            {
                "load_side_teeth": {
                    "claims": [{"value": 70, "source": "a"}, {"value": 80, "source": "b"}]
                },
                "motor_side_teeth": 10,
            },
            None,
        ),
    ],
)
def test_default_passes_over_a_missing_fact_but_not_over_a_disputed_one(stage, verdict) -> None:
    from axisproof.catalogue.catalogue import from_texts
    from axisproof.language.tracer import Tracer
    from axisproof.machine.reader import read_plain

    catalogue = from_texts({"own.rules": DISPUTED_ELSE})
    plain = {"motion": "linear", "mechanics": {"stages": [stage], "stated_ratio": 7}}
    machine = read_plain({"axes": {"axis": plain}})
    env = {"axis": machine.axes[0], "machine": machine.facts}
    (entry,) = catalogue.entries
    traced = Tracer(catalogue.definitions, catalogue.defaults).value(
        catalogue.rules[entry.name].require, env
    )
    assert traced.value is {1: True, None: None}[verdict]
    assert entry.function(env["axis"], env["machine"]) == verdict
    if verdict is None:
        assert len(traced.missing) == 1
        assert "stages[0]" in traced.missing[0]


def test_all_of_lists_what_is_known_to_pass_and_stands_in_messages_alone(tmp_path: Path) -> None:
    text = """language 2
rule node-is-low
  level note title "t" each machine
  require every axis in machine.axes has axis.drive.node < 9
  say "{all of axis.name for axis in machine.axes where (axis.drive.node >= 9)} at"
      "{all of axis.drive.node for axis in machine.axes where axis.drive.node >= 9}; no polarity:"
      "{all of axis.name for axis in machine.axes where axis.drive.polarity is normal}"
  why "w" remedy "r" basis "b"
  passes "p" a.drive.node = 1
  fails "f" a.drive.node = 9 b.drive.node = 8 c.drive.node = 12 d.motion = linear
    says "a, c at 9, 12; no polarity: none"
"""
    path = tmp_path / "own.rules"
    path.write_text(text, "utf-8")
    report = run_rule_tests([path])
    assert report.faults == ()
    require = "require every axis in machine.axes has axis.drive.node < 9"
    listing = require.replace("every axis", "all of axis.name for axis").split(" has")[0]
    with pytest.raises(RuleError, match="all of is for messages"):
        from_texts({"own.rules": text.replace(require, listing)})
    with pytest.raises(RuleError, match="cannot be listed"):
        from_texts({"own.rules": text.replace("of axis.drive.node", "of axis.controller.cycle")})
