"""Findings: their places, numbers, texts and proposed values."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.findings.finding import Finding
from axisproof.machine.machine import Machine

from tests.engine.small_rules import catalogue_of, checked, node, plain, rule

FIXTURES = Path(__file__).parents[2] / "fixtures"


MARKED = """axes:
  a:
    motion: linear
    drive:
      node: 7
      distinguishable_revolutions: 65536
    encoder:
      distinguishable_revolutions: 4096
"""


def marks(finding: Finding) -> list[str]:
    """What each mark of a finding stands under."""
    return [m.line_text[m.place.column - 1 : m.place.end_column - 1] for m in finding.marks]


def test_a_finding_points_at_every_fact_that_settled_it(hall: Callable[..., Machine]) -> None:
    found = catalogue_of(
        rule(
            "counts-match",
            "axis.drive.distinguishable_revolutions = axis.encoder.distinguishable_revolutions",
            lets="let off = axis.drive.distinguishable_revolutions"
            " - axis.encoder.distinguishable_revolutions",
        )
    )
    (finding,) = checked(found, hall(MARKED)).findings
    assert marks(finding) == ["65536", "4096"]
    assert [m.label for m in finding.marks] == [
        "drive.distinguishable_revolutions",
        "encoder.distinguishable_revolutions",
    ]
    assert {f.name: f.text for f in finding.figures} == {
        "off": "61440 rev",
        "drive.distinguishable_revolutions": "65536 rev",
        "encoder.distinguishable_revolutions": "4096 rev",
        "difference": "61440 rev",
    }


def test_of_several_conditions_only_the_broken_one_is_pointed_at(
    hall: Callable[..., Machine],
) -> None:
    found = catalogue_of(
        rule("both", "axis.encoder.distinguishable_revolutions > 1rev and axis.drive.node < 5")
    )
    (finding,) = checked(found, hall(MARKED)).findings
    assert marks(finding) == ["7"]


def test_a_finding_reached_through_a_definition_points_at_its_facts(
    hall: Callable[..., Machine],
) -> None:
    found = catalogue_of(
        'define axis.twice kind ratio as axis.drive.node * 2 meaning "m"',
        rule("small", "axis.twice < 5"),
    )
    (finding,) = checked(found, hall(MARKED)).findings
    assert marks(finding) == ["7"]


PLATES = """axes:
  a:
    motion: rotary
    motor: {{inertia: 2 kg cm^2, max_speed: 3000 rpm, peak_torque: 3 N·m}}
    drive: {{feed_constant: {{feed: 360 deg, shaft_turns: 1}}, polarity: normal, node: 3}}
    mechanics:
      final: {{kind: rotary_table, teeth: 4, direction: same}}
      transmission_inertia: {transmission}
"""
FACTS = """axis.mechanics.final.kind is belt
or axis.mechanics.transmission_inertia > axis.motor.inertia
or axis.drive.polarity is reversed or axis.mechanics.final.teeth < 4 or axis.drive.node > 5"""


@pytest.mark.parametrize(
    ("require", "settled_by"),
    [
        pytest.param(
            FACTS,
            "drive.node drive.polarity motor.inertia mechanics.final.teeth "
            "mechanics.transmission_inertia mechanics.final.kind",
            id="what is set, numbers, then plates, a zero last of them, then what picks a formula",
        ),
        pytest.param(
            "axis.by_set > 5 or axis.motor.max_speed > 4000rpm",
            "motor.max_speed drive.node mechanics.final.teeth",
            id="what the rule reads itself before what a definition reads",
        ),
        pytest.param(
            "axis.long > 10 or axis.mechanics.final.teeth > 5",
            "mechanics.final.teeth drive.node drive.polarity motor.inertia motor.max_speed "
            "mechanics.transmission_inertia",
            id="six at the most, what picks a formula is left out first",
        ),
    ],
)
def test_a_finding_points_first_at_the_likeliest_cause(
    hall: Callable[..., Machine], require: str, settled_by: str
) -> None:
    found = catalogue_of(
        'define axis.by_set kind ratio as axis.mechanics.final.teeth / axis.drive.node meaning "m"',
        """define axis.long kind ratio as
        (1 if axis.mechanics.final.kind is belt else 2 if axis.drive.polarity is reversed
         else axis.mechanics.transmission_inertia / axis.motor.inertia
                   + axis.motor.max_speed / 3000rpm + axis.drive.node) meaning "m" """,
        rule("pointed", require),
    )
    for transmission in ("0 kg cm^2", "0.0 kg cm^2"):
        machine = hall(PLATES.format(transmission=transmission))
        (finding,) = checked(found, machine).findings
        assert " ".join(mark.label for mark in finding.marks) == settled_by


@pytest.mark.parametrize("transmission", ["0 kg cm^2", "1 kg cm^2"])
def test_which_facts_are_shown_does_not_hang_on_their_values(
    hall: Callable[..., Machine], transmission: str
) -> None:
    require = f"{FACTS} or axis.motor.max_speed > 4000rpm or axis.motor.peak_torque > 4N·m"
    found = catalogue_of(rule("pointed", require))
    (finding,) = checked(found, hall(PLATES.format(transmission=transmission))).findings
    assert [fact.removeprefix("axes.a.") for fact in finding.facts] == [
        "drive.node",
        "drive.polarity",
        "mechanics.final.teeth",
        "mechanics.transmission_inertia",
        "motor.inertia",
        "motor.max_speed",
    ]


def test_a_finding_without_a_stated_fact_points_at_its_axis(hall: Callable[..., Machine]) -> None:
    (finding,) = checked(catalogue_of(rule("never", "1 = 2")), hall(MARKED)).findings
    assert [(m.fact, m.place.line) for m in finding.marks] == [("axes.a", 4)]


def test_margins_say_by_how_much_on_which_side() -> None:
    found = catalogue_of(
        rule("most", "axis.drive.node <= 5"), rule("least", "axis.drive.node >= 10")
    )
    most, least = checked(found, plain(a=node(7))).findings
    assert {f.name: f.text for f in most.figures}["too large by"] == "2"
    assert {f.name: f.text for f in least.figures}["too small by"] == "3"


@pytest.mark.parametrize(
    ("target", "value", "axis", "text"),
    [
        ("axis.drive.node", "axis.drive.node + 1", node(7), "8"),
        ("axis.drive.node", "axis.drive.node / 2", node(7), None),
        ("axis.drive.polarity", "reversed", node(7), "reversed"),
        ("axis.encoder.index_pulse", "true", node(7), "true"),
        ("axis.drive.input_filter", "1ms / 3", node(7), "1/3 ms"),
        (
            "axis.drive.input_filter",
            "axis.drive.input_filter / 3",
            {"drive": {"input_filter": "1 ms"}},
            "1/3 ms",
        ),
        ("axis.drive.input_filter", "axis.drive.input_filter * 2", node(7), None),
        (
            "axis.controller.cycle",
            "circumference(axis.controller.cycle)",
            {"controller": {"cycle": "1 mm"}},
            None,
        ),
        (
            "axis.controller.cycle",
            "axis.controller.cycle / 8",
            {"controller": {"cycle": "1 mm"}},
            "0.125 mm",
        ),
        (
            "axis.controller.stop.jerk",
            "axis.controller.max_jerk",
            {"controller": {"max_jerk": "5 mm/s^3", "stop": {"jerk": "none"}}},
            "5 mm/s^3",
        ),
        (
            "axis.encoder.turn_counter.battery.fitted_on",
            "machine.check_date",
            node(7),
            "1970-01-01",
        ),
        ("axis.controller.homing.method", "34", node(7), "34"),
    ],
)
def test_a_proposed_value_is_written_as_the_file_would_or_not_at_all(
    target: str, value: str, axis: dict[str, Any], text: str | None
) -> None:
    found = catalogue_of(rule("never", "1 = 2", extra=f"set {target} to {value}"))
    (finding,) = checked(found, plain(a=axis)).findings
    assert (finding.fix.value if finding.fix else None) == text


@pytest.mark.parametrize(
    ("say", "told"),
    [
        ("One {1}. Two {axis.drive.node}.  Three? {3}! Four {axis.mechanics.counterbalance}",
         "One 1. Three? 3!"),
        ("{axis.mechanics.counterbalance} {axis.drive.node}", "none not known"),
    ],
)  # fmt: skip
def test_a_sentence_without_its_value_is_left_out_unless_nothing_else_is_said(
    say: str, told: str
) -> None:
    found = catalogue_of(rule("never", "1 = 2", say=say))
    machine = plain(a={"mechanics": {"counterbalance": "none"}})
    (finding,) = checked(found, machine).findings
    assert finding.message == told


def test_a_headline_that_tells_all_is_the_message_too() -> None:
    written = rule("never", "1 = 2", extra='headline "Node {axis.drive.node} is wrong."')
    found = catalogue_of(written.replace('  say "s"\n', ""))
    (finding,) = checked(found, plain(a={"drive": {"node": 3}})).findings
    assert finding.headline == finding.message == "Node 3 is wrong."


@pytest.mark.parametrize("path", sorted((FIXTURES / "faults").glob("*.yaml")), ids=lambda p: p.stem)
def test_every_finding_of_a_fault_fixture_points_into_its_files(path: Path) -> None:
    report = api.check([path], api.CheckOptions(workings=True, every_outcome=True))
    for finding in report.findings:
        assert finding.marks, finding.rule
        for mark in finding.marks:
            assert mark.place.file in report.files
            assert mark.line_text.strip()
            under = mark.line_text[mark.place.column - 1 : mark.place.end_column - 1]
            assert under.strip(), (finding.rule, mark)
    for outcome in report.outcomes:
        assert (outcome.verdict == "holds") == (outcome.reason == ""), outcome


def test_a_search_that_finds_nothing_points_at_what_it_looked_for() -> None:
    from pathlib import Path

    from axisproof.api import check

    folder = Path(__file__).parents[2] / "fixtures" / "faults"
    (finding,) = check([folder / "gantry-partner-is-an-axis.yaml"]).findings
    assert finding.marks[0].fact == "axes.gantry_x1.gantry.partner"


def test_no_value_is_offered_that_the_machine_file_would_refuse(tmp_path) -> None:
    """Where no turn count of the encoder closes the cycle, the best is 0, which is not offered."""
    from pathlib import Path

    from axisproof.api import check

    fault = Path(__file__).parents[2] / "fixtures" / "faults" / "rollover-divides-cycle.yaml"
    text = fault.read_text("utf-8")
    assert "cycle: 360 deg" in text
    path = tmp_path / "machine.yaml"
    path.write_text(text.replace("cycle: 360 deg", "cycle: 51.428571 deg"), "utf-8")
    report = check([path])
    (finding,) = [f for f in report.findings if f.rule == "rollover-divides-cycle"]
    assert {figure.name: figure.text for figure in finding.figures}["best turn count"] == "0 rev"
    assert finding.fix is None
