"""What undecided checks lack, findings that no rule makes, and the reason of each outcome."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from axisproof.checking.assembling import wanted
from axisproof.findings.finding import Undecided
from axisproof.machine.machine import Machine

from tests.engine.small_rules import catalogue_of, checked, plain, rule


def undecided(rule: str, subject: str, *missing: str) -> Undecided:
    paths = tuple(f"axes.{subject}.{path}" if subject else path for path in missing)
    return Undecided(rule, "error", "hall", subject, "t", paths, "")


def test_facts_are_wanted_in_the_order_of_the_checks_they_decide_alone_then_of_all() -> None:
    ranked = wanted(
        [
            undecided("r1", "a", "x", "y"),
            undecided("r2", "a", "x", "y"),
            undecided("r3", "a", "z"),
            undecided("r1", "b", "z"),
            undecided("r2", "b", "x"),
            undecided("r4", "", "network.cycle_time"),
        ]
    )
    assert [(w.fact, w.checks, w.alone, w.subjects) for w in ranked] == [
        ("axis.z", 2, 2, ("a", "b")),
        ("axis.x", 3, 1, ("a", "b")),
        ("network.cycle_time", 1, 1, ("",)),
        ("axis.y", 2, 0, ("a",)),
    ]


def test_stating_the_facts_an_undecided_check_wants_decides_it() -> None:
    found = catalogue_of(
        rule("two-facts", "axis.drive.node = 1 and axis.drive.polarity is normal"),
    )
    assert checked(found, plain(a={})).undecided[0].missing == (
        "axes.a.drive.node",
        "axes.a.drive.polarity",
    )
    assert checked(found, plain(a={"drive": {"node": 1, "polarity": "normal"}})).undecided == []
    # One of them can be enough: a false one decides.
    assert checked(found, plain(a={"drive": {"node": 2}})).undecided == []


ZERO = {"drive": {"input_filter": "0 s", "node": 1}}


def test_a_zero_divisor_is_one_finding_however_many_checks_it_stops() -> None:
    found = catalogue_of(
        'define axis.rate kind rate as 1 / axis.drive.input_filter meaning "m"',
        rule("first", "axis.rate * 1s > 1"),
        rule("second", "axis.rate * 1s > 2"),
        rule("third", "axis.drive.node > 1 and axis.rate * 1s > 2"),
    )
    results = checked(found, plain(a=ZERO, b=ZERO))
    zeros = [f for f in results.findings if f.rule == "divisor-is-not-zero"]
    assert [f.subject for f in zeros] == ["a", "b"]
    assert zeros[0].message == "drive.input_filter is zero, and nothing can be divided by it"
    assert [(t.broken, t.undecided) for t in results.tallies] == [(2, 2), (2, 2)]


def test_a_dispute_of_any_fact_is_a_finding_even_if_no_rule_needs_it(
    hall: Callable[..., Machine],
) -> None:
    machine = hall(
        "include: [b.yaml]\naxes:\n  a:\n    motion: linear\n    drive: {node: 1}\n",
        b="axes:\n  a:\n    drive: {node: 2}\n",
    )
    (finding,) = checked(catalogue_of(), machine).findings
    assert (finding.rule, finding.subject) == ("sources-agree", "a")
    assert "says 1" in finding.message
    places = [(Path(m.place.file).name, m.place.line, m.place.column) for m in finding.marks]
    assert places == [("hall.yaml", 7, 19), ("b.yaml", 3, 19)]
    assert "node: 2" in finding.marks[1].line_text


def test_a_unit_that_does_not_fit_the_motion_is_a_finding_and_leaves_rules_undecided(
    hall: Callable[..., Machine],
) -> None:
    machine = hall("axes:\n  a:\n    motion: rotary\n    controller: {cycle: 10 mm}\n")
    found = catalogue_of(rule("any-cycle", "axis.controller.cycle = axis.controller.cycle"))
    results = checked(found, machine)
    (finding,) = results.findings
    assert finding.rule == "unit-fits-motion"
    assert (
        finding.message == "controller.cycle is 10 mm, but the axis is rotary. It must be an angle."
    )
    assert (finding.marks[0].place.line, finding.marks[0].place.column) == (6, 25)
    assert "does not fit the axis" in results.undecided[0].reason


def test_every_outcome_comes_with_its_reason_where_it_does_not_hold() -> None:
    found = catalogue_of(
        rule("holds", "axis.drive.node = 1"),
        rule("breaks", "axis.drive.node = 2", say="node {axis.drive.node}"),
        rule("lacks", "axis.drive.polarity is normal"),
        rule("elsewhere", "true", when="when axis.motion is rotary"),
        rule("divides", "1s / axis.drive.input_filter = 1"),
        rule("never", "true", when="when 1 = 2"),
        rule("many", "true", when="when (count of a in machine.axes) > 1", each="machine"),
    )
    results = checked(found, plain(a=ZERO), every_outcome=True)
    assert [(o.rule, o.verdict, o.reason) for o in results.outcomes] == [
        ("holds", "holds", ""),
        ("breaks", "broken", "node 1"),
        ("lacks", "undecided", "needs axes.a.drive.polarity"),
        (
            "elsewhere",
            "not applicable",
            "axes.a.motion is linear, and the rule asks for: motion is rotary",
        ),
        (
            "divides",
            "undecided",
            "drive.input_filter is zero, and nothing can be divided by it",
        ),
        ("never", "not applicable", "the rule asks for: 1 = 2"),
        (
            "many",
            "not applicable",
            "axes is as stated, and the rule asks for: (count of a in machine.axes) > 1",
        ),
    ]
    assert checked(found, plain(a=ZERO)).outcomes == []
