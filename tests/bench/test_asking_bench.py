"""The bench of questions in small: what it counts is right, and every planted fault is met."""

from __future__ import annotations

from collections import Counter

import pytest
from axisproof.catalogue.catalogue import shipped
from axisproof.engine.asking import Asking

from tests.bench.asking.faulty import faulty_machine, finds, read_bench
from tests.bench.asking.learned import askable, facts_until_met, fewest, greedy_order, typed_by
from tests.bench.asking.run import ASKED, LEARNED, Job, Obeyed, markdown, table, work
from tests.bench.asking.somebody import Somebody
from tests.bench.faults.sound_machine import machine

SEED = 7_000_004

PAPERS = {
    "format": 1,
    "machine": "m",
    "axes": {
        "a": {
            "motion": "linear",
            "motor": {"brake": "none", "serial": "M"},
            "mechanics": {"stages": [{"kind": "belt"}, {"kind": "gearbox"}]},
            "interlocks": [{"triggers": ["position_lost"], "latched": True}],
        }
    },
}


def test_three_faults_of_different_kinds_are_planted() -> None:
    machine = faulty_machine(SEED)
    assert len({fault.kind for fault in machine.faults}) == 3
    assert all(finds(machine.plain, fault.hits) for fault in machine.faults)


def test_a_machine_whose_positions_do_not_matter_is_drawn_again() -> None:
    seed = 7_500_173
    assert all(
        not axis["controller"]["position_matters"] for axis in machine(seed)["axes"].values()
    )
    assert len(faulty_machine(seed).faults) == 3


def test_no_fact_of_the_fewest_can_be_left_out() -> None:
    machine = faulty_machine(SEED)
    fault = machine.faults[0]
    need = fewest(machine.plain, fault.hits)
    met = facts_until_met(sorted(need), machine)
    assert met[0] == len(need)
    assert need < set(askable(machine.plain))


def test_somebody_types_what_the_papers_say() -> None:
    somebody = Somebody(PAPERS)
    assert somebody.answer("axes.a.motor.brake.voltage")
    assert somebody.file["axes"]["a"] == {"motion": "linear", "motor": {"brake": "none"}}
    assert not somebody.answer("axes.a.motor.inertia")
    assert somebody.typed == 2
    assert somebody.answer("axes.a.mechanics.stages")
    assert somebody.answer("axes.a.mechanics.stages[1].kind")
    assert somebody.file["axes"]["a"]["mechanics"] == {"stages": [{}, {"kind": "gearbox"}]}
    assert somebody.answer("axes.a.interlocks")
    assert somebody.typed == 6  # a list and what its item must state
    assert not somebody.answer("axes.a.interlocks")


def test_the_greedy_choice_takes_what_shows_most_for_its_cost() -> None:
    needs = [frozenset("ab"), frozenset("ab"), frozenset("c"), frozenset("abd")]
    cost = dict.fromkeys("abcd", 1.0)
    assert greedy_order(needs, cost)[:3] in (["a", "b", "d"], ["a", "b", "c"], ["c", "a", "b"])
    assert greedy_order(needs, {**cost, "c": 0.1})[0] == "c"


def test_the_learned_order_types_its_facts_first() -> None:
    typed = typed_by(["axis.motor.brake.voltage"], PAPERS)
    assert typed[0] == "axes.a.motor.brake"  # none of a part answers for its facts
    assert Counter(typed) == Counter(askable(PAPERS))


@pytest.mark.exhaustive
def test_whoever_obeys_meets_every_planted_fault() -> None:
    order = tuple(sorted({"axis.encoder.kind", "axis.motor.serial"}))
    asked, learned = (work(Job(name, SEED, order)) for name in (ASKED, LEARNED))
    assert asked.all_met
    assert asked.counts == tuple(sorted(asked.counts))
    papers = len(askable(faulty_machine(SEED).plain))
    assert 0 < asked.counts[-1] <= 1.2 * papers  # "don't know" counts too
    lines = table({LEARNED: [learned], ASKED: [asked]}, 500)
    assert lines[0].startswith("1 machines")


def test_the_table_says_what_was_not_met() -> None:
    some = {LEARNED: [Obeyed((1, 2, 4), True)], ASKED: [Obeyed((1, 2, 8), False)]}
    assert "2.00 times" in table(some, 100)[-1]
    assert "1 not met" in table(some, 100)[-1]
    assert markdown(some, 100, 5)[-1].endswith("| 8.0 | 2.00 times | 1 |")


@pytest.mark.exhaustive
def test_answers_that_touch_no_rule_leave_its_question_as_it_was() -> None:
    """What is kept between answers gives the same checks as asking anew."""
    machine = faulty_machine(SEED)
    somebody, kept = Somebody(machine.plain), Asking(shipped())
    stated = ""
    for _ in range(25):
        read = read_bench(somebody.file)
        checks = kept.open_checks(read, stated)
        anew = Asking(shipped())
        anew.smallest.not_known |= kept.smallest.not_known
        assert checks == anew.open_checks(read_bench(somebody.file))
        fact = kept.next_fact(checks, read)
        stated = fact if fact.startswith("axes.") else ""
        if not somebody.answer(fact):
            kept.not_known(fact)
