"""A finding follows from another one only if its rule says so and holds under its value."""

from __future__ import annotations

from random import Random
from typing import Any

import pytest
from axisproof.catalogue.catalogue import shipped
from axisproof.engine.engine import Options, check_machine
from axisproof.findings.finding import Report, WaivedBy
from axisproof.language.check_follows import ALWAYS_TOLD
from axisproof.machine.reader import read_plain
from axisproof.report.folding import folded
from axisproof.report.rendering import RenderOptions
from axisproof.report.text import render

from tests.bench.faults.measure import DAY, FAULTS, check_plain, shared_machine
from tests.bench.faults.plain_axis import PlainAxis
from tests.engine.small_rules import catalogue_of, checked, plain, rule

NODE = rule("node-is-five", "axis.drive.node = 5", extra="set axis.drive.node to 5")
AXIS: dict[str, Any] = {"drive": {"node": 9, "polarity": "normal"}}


def causes_of(second: str, axis: dict[str, Any] = AXIS, first: str = NODE) -> tuple[str, ...]:
    """What the finding of the second rule follows from; both rules must fail."""
    results = checked(catalogue_of(first, second), plain(lift=axis))
    found = {finding.rule: finding.follows for finding in results.findings}
    assert set(found) == {"node-is-five", "node-is-small"}
    assert found["node-is-five"] == ()
    return found["node-is-small"]


def small(require: str = "axis.drive.node < 8", extra: str = "", **parts: str) -> str:
    return rule("node-is-small", require, extra=f"follows from node-is-five {extra}", **parts)


def test_a_rule_that_holds_under_the_value_follows() -> None:
    assert causes_of(small()) == ("node-is-five",)


def test_a_rule_that_names_no_other_does_not_follow() -> None:
    assert causes_of(rule("node-is-small", "axis.drive.node < 8")) == ()


def test_a_rule_that_fails_under_the_value_does_not_follow() -> None:
    assert causes_of(small("axis.drive.node < 4")) == ()


def test_a_rule_that_does_not_apply_under_the_value_does_not_follow() -> None:
    assert causes_of(small("axis.drive.node < 8", when="when axis.drive.node > 6")) == ()


def test_a_rule_that_is_undecided_under_the_value_does_not_follow() -> None:
    require = "axis.drive.node < 8 and axis.drive.polarity is normal"
    assert causes_of(small(require), {"drive": {"node": 9}}) == ()


def test_a_graver_finding_does_not_follow() -> None:
    first = NODE.replace("level error", "level warning")
    assert causes_of(small(), first=first) == ()
    assert causes_of(small().replace("level error", "level warning"), first=first) != ()


def test_a_value_that_does_not_cure_its_own_rule_is_no_cause() -> None:
    first = NODE.replace("require axis.drive.node = 5", "require axis.drive.node = 6")
    assert causes_of(small(), first=first) == ()


def test_another_axis_is_no_cause() -> None:
    found = catalogue_of(NODE, small("axis.drive.node < 8"))
    machine = plain(lift={"drive": {"node": 6}}, feed={"drive": {"node": 9}})
    follows = {(f.subject, f.rule): f.follows for f in checked(found, machine).findings}
    assert follows == {
        ("lift", "node-is-five"): (),
        ("feed", "node-is-five"): (),
        ("feed", "node-is-small"): ("node-is-five",),
    }


def test_a_definition_is_worked_out_again_under_the_value() -> None:
    text = 'define axis.doubled kind ratio meaning "m" as axis.drive.node * 2\n'
    assert causes_of(text + small("axis.doubled < 16")) == ("node-is-five",)


# Shipped rules ------------------------------------------------------------------------------------


def planted(name: str) -> dict[str, tuple[str, ...]]:
    """The findings on an axis with a fault of the bench: the first that has more than one."""
    (fault,) = (each for each in FAULTS if each.name == name)
    for seed in range(1, 40):
        for axis in shared_machine(seed)["axes"]:
            changed = fault.on(PlainAxis(shared_machine(seed), axis))
            findings = check_plain(changed.machine).findings if changed else []
            if len(findings) > 1:
                return {each.rule: each.follows for each in findings}
    raise AssertionError(name)


def test_turns_left_at_their_default_on_a_table_are_one_fault() -> None:
    assert planted("turns-left-at-default-on-table") == {
        "rollover-divides-cycle": (),
        "total-range-is-whole-turns": ("rollover-divides-cycle",),
    }


@pytest.mark.parametrize(
    "name", ["slower-brake", "torque-off-at-once", "heavier-load", "torque-limit-of-larger-motor"]
)
def test_what_is_about_brakes_gravity_and_stopping_is_told_always(name: str) -> None:
    found = planted(name)
    assert len(found) > 1
    assert set(found.values()) == {()}


def raised(seed: int, factor: int) -> list[Any]:
    """The findings on a sound machine whose velocities are all this much higher."""
    machine = read_plain(shared_machine(seed), headless=False)
    machine.facts["check_date"] = DAY
    for axis in machine.axes:
        axis["controller.max_velocity"] *= factor
    return check_machine(machine, "bench", shipped(), Options()).findings


def test_speeds_follow_from_a_velocity_that_is_too_high() -> None:
    findings = [each for seed in range(1, 9) for each in raised(seed, 4)]
    follow = [each for each in findings if each.follows]
    assert {each.follows for each in follow} == {("top-speed-within-motor-and-drive",)}
    assert len({each.rule for each in follow}) >= 2
    told = {"limit-switch-stops-before-hard-stop", "software-limits-leave-room-to-stop"}
    assert told <= {each.rule for each in findings if not each.follows}


def test_no_finding_of_the_bench_folds_what_must_be_told() -> None:
    random = Random(18)
    found = 0
    for fault in random.sample(FAULTS, 60):
        machine = shared_machine(random.randrange(1, 30))
        for axis in machine["axes"]:
            changed = fault.on(PlainAxis(machine, axis))
            if changed is None:
                continue
            findings = check_plain(changed.machine).findings
            for finding in findings:
                found += 1
                rule = shipped().rules.get(finding.rule)  # None: it is built in
                assert set(finding.follows) <= set(rule.follows if rule else ())
                if finding.follows:
                    assert finding.concern.replace(" ", "_") not in ALWAYS_TOLD
            break
    assert found > 30


# Reports ------------------------------------------------------------------------------------------


def report_of(waived: WaivedBy | None = None) -> Report:
    results = checked(catalogue_of(NODE, small()), plain(lift=AXIS))
    findings = [
        each if each.rule == "node-is-small" else type(each)(**{**_fields(each), "waived": waived})
        for each in results.findings
    ]
    return Report(("a.yaml",), ("hall",), 1, 2, tuple(findings), tallies=tuple(results.tallies))


def _fields(finding: Any) -> dict[str, Any]:
    return {name: getattr(finding, name) for name in finding.__match_args__}


def test_a_text_folds_a_consequence_and_counts_it() -> None:
    report = report_of()
    ((cause, consequences),) = folded(report.findings)
    assert (cause.rule, [each.rule for each in consequences]) == ("node-is-five", ["node-is-small"])
    text = render(report, RenderOptions(width=100))
    assert "2 errors" in text
    assert text.count("ERROR") == 1
    assert "With 5 here, 1 more failed check passes: node-is-small." in text
    assert report.at_or_above("error") == 2


def test_all_details_tell_a_consequence_whole() -> None:
    text = render(report_of(), RenderOptions(width=100, detail=True))
    assert text.count("ERROR") == 2
    assert "Because   node-is-five" in text


def test_a_waiver_of_the_cause_releases_its_consequence() -> None:
    text = render(report_of(WaivedBy("so", "a role", "2099-01-01")), RenderOptions(width=100))
    assert text.count("ERROR") == 2
    assert "more failed check" not in text


def test_a_report_without_the_cause_tells_its_consequence() -> None:
    report = report_of()
    alone = [each for each in report.findings if each.follows]
    assert folded(alone) == [(alone[0], ())]
