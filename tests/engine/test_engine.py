"""Rules times subjects: verdicts, tallies, findings with their places, what undecided ones lack."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.catalogue.catalogue import Catalogue, from_texts, shipped
from axisproof.checking.assembling import wanted
from axisproof.engine.cases import cases
from axisproof.engine.engine import Options, Results, check_machine
from axisproof.engine.verdicts import AXIS_BATCH
from axisproof.findings.finding import Finding, Undecided
from axisproof.machine.machine import Machine
from axisproof.machine.reader import read_machine, read_plain
from axisproof.source.merge import load_tree

RULE = """
rule {name}
  level error
  title "t"
  each {each}
  {when}
  {lets}
  require {require}
  say "{say}"
  why "w"
  remedy "r"
  {extra}
  basis "b"
  passes "p"
  fails "f"
"""


def rule(name: str, require: str, **parts: str) -> str:
    fields = {"each": "axis", "when": "", "lets": "", "say": "s", "extra": ""} | parts
    return RULE.format(name=name, require=require, **fields)


def catalogue_of(*rules: str) -> Catalogue:
    return from_texts({"a.rules": "language 2\n" + "".join(rules)})


def checked(found: Catalogue, machine: Machine, **options: bool) -> Results:
    machine.facts.setdefault("check_date", 0)
    return check_machine(machine, "hall", found, Options(**options))


def plain(**axes: dict[str, Any]) -> Machine:
    return read_plain({"axes": {name: {"motion": "linear"} | axis for name, axis in axes.items()}})


@pytest.fixture
def hall(tmp_path: Path) -> Callable[[str], Machine]:
    def write(body: str, **more: str) -> Machine:
        for name, text in more.items():
            (tmp_path / f"{name}.yaml").write_text(text, "utf-8")
        path = tmp_path / "hall.yaml"
        path.write_text("format: 1\nmachine: hall\n" + body, "utf-8")
        return read_machine(load_tree(path))

    return write


# Tallies ----------------------------------------------------------------------------------------


def test_tallies_count_every_verdict_of_every_subject() -> None:
    found = catalogue_of(
        rule("small-node", "axis.drive.node < 5", when="when axis.motion is linear"),
        rule("normal-drive", "axis.drive.polarity is normal"),
        rule("one-machine", 'machine.description is "x"', each="machine"),
    )
    machine = plain(
        a={"drive": {"node": 1, "polarity": "normal"}},
        b={"drive": {"node": 9}},
        c={"motion": "rotary", "drive": {"polarity": "reversed"}},
    )
    results = checked(found, machine)
    counts = {
        t.subject: (t.holds, t.broken, t.undecided, t.not_applicable) for t in results.tallies
    }
    assert counts == {
        "a": (2, 0, 0, 0),
        "b": (0, 1, 1, 0),
        "c": (0, 1, 0, 1),
        "": (0, 0, 1, 0),
    }
    assert [(f.rule, f.subject) for f in results.findings] == [
        ("small-node", "b"),
        ("normal-drive", "c"),
    ]
    assert [(u.rule, u.subject) for u in results.undecided] == [
        ("normal-drive", "b"),
        ("one-machine", ""),
    ]


def test_the_tallies_of_a_run_add_up_to_rules_times_subjects() -> None:
    found = shipped()
    machine = plain(a={}, b={})
    results = checked(found, machine)
    total = sum(t.holds + t.broken + t.undecided + t.not_applicable for t in results.tallies)
    expected = sum(len(list(cases(entry, machine, {}))) for entry in found.entries)
    assert total == expected


def test_a_machine_of_several_lots_of_axes_comes_out_rule_by_rule_and_axis_by_axis() -> None:
    pair = (
        "axis with other where axis.gantry.partner is other.name"
        " directed by axis.gantry.partner without skips"
    )
    found = catalogue_of(
        rule("small-node", "axis.drive.node < 5"),
        rule("same-motion", "axis.motion is other.motion", each=pair),
        rule("even-node", "axis.drive.node = 2"),
        rule("same-node", "axis.drive.node = other.drive.node", each=pair),
    )
    count = 2 * AXIS_BATCH + 3
    axes: dict[str, dict[str, Any]] = {}
    for n in range(count):
        axis: dict[str, Any] = {"gantry": {"partner": f"a{(n + 1) % count}"}}
        if n % 4:
            axis["drive"] = {"node": 1 + n % 9}
        axes[f"a{n}"] = axis
    results = checked(found, plain(**axes))

    def node(n: int) -> int | None:
        return 1 + n % 9 if n % 4 else None

    verdicts: dict[str, list[bool | None]] = {"small-node": [], "even-node": [], "same-node": []}
    for n in range(count):
        one, other = node(n), node((n + 1) % count)
        verdicts["small-node"].append(None if one is None else one < 5)
        verdicts["even-node"].append(None if one is None else one == 2)
        verdicts["same-node"].append(None if one is None or other is None else one == other)

    def those(wanted: bool | None) -> list[tuple[str, str]]:
        return [
            (name, f"a{n}")
            for name, column in verdicts.items()
            for n, verdict in enumerate(column)
            if verdict is wanted
        ]

    assert [(f.rule, f.subject) for f in results.findings] == those(False)
    assert [(u.rule, u.subject) for u in results.undecided] == those(None)
    assert sum(tally.holds for tally in results.tallies) == len(those(True)) + count


def test_an_axis_without_any_check_has_a_tally_of_nothing() -> None:
    results = checked(catalogue_of(), plain(a={}))
    assert [(t.subject, t.holds, t.broken) for t in results.tallies] == [("a", 0, 0)]


# Pairs ------------------------------------------------------------------------------------------

SYMMETRIC = "axis with other where axis.drive.node is other.drive.node unordered"
PARTNER = (
    "axis with other where axis.gantry.partner is other.name"
    " directed by axis.gantry.partner without skips"
)


def node(number: int | None) -> dict[str, Any]:
    return {"drive": {"node": number}} if number else {}


def test_a_symmetric_pair_is_reported_once_on_its_first_axis() -> None:
    found = catalogue_of(
        rule("never", "axis.name is other.name", each=SYMMETRIC, say="{axis.name} {other.name}")
    )
    results = checked(found, plain(a=node(1), b=node(2), c=node(1)))
    assert [(f.subject, f.message) for f in results.findings] == [("a", "a c")]
    results = checked(found, plain(a=node(1), b=node(1), c=node(1)))
    assert [f.message for f in results.findings] == ["a b", "a c", "b c"]


def test_a_pair_named_by_one_side_is_reported_for_each_axis_that_names_another() -> None:
    found = catalogue_of(
        rule("never", "axis.name is other.name", each=PARTNER, say="{axis.name} {other.name}")
    )
    machine = plain(a={"gantry": {"partner": "b"}}, b={"gantry": {"partner": "a"}})
    assert [f.message for f in checked(found, machine).findings] == ["a b", "b a"]


def test_an_axis_is_no_partner_of_itself() -> None:
    found = catalogue_of(rule("never", "axis.name is other.name", each=PARTNER))
    results = checked(found, plain(a={"gantry": {"partner": "a"}}), every_outcome=True)
    assert results.findings == []
    assert results.outcomes[0].reason == "no other axis has name a"


@pytest.mark.parametrize(
    ("gantry", "verdict", "reason"),
    [
        ({}, "undecided", "needs axes.a.gantry"),
        ({"gantry": "none"}, "not applicable", "gantry is none"),
        ({"gantry": {"partner": "x"}}, "not applicable", "no other axis has name x"),
    ],
)
def test_a_pair_that_cannot_be_made_says_why(
    gantry: dict[str, Any], verdict: str, reason: str
) -> None:
    found = catalogue_of(rule("never", "axis.name is other.name", each=PARTNER))
    results = checked(found, plain(a=gantry, b={"gantry": "none"}), every_outcome=True)
    outcome = results.outcomes[0]
    assert (outcome.subject, outcome.verdict, outcome.reason) == ("a", verdict, reason)


def test_keys_that_are_not_known_on_the_other_side_are_all_named() -> None:
    each = (
        "axis with other where axis.name is other.gantry.partner"
        " directed by other.gantry.partner without skips"
    )
    found = catalogue_of(rule("never", "axis.name is other.name", each=each))
    results = checked(found, plain(a={}, b={}, c={"gantry": "none"}))
    told = next(u for u in results.undecided if u.subject == "a")
    assert told.missing == ("axes.b.gantry",)


# What is wanted ---------------------------------------------------------------------------------


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


# Findings that no rule makes --------------------------------------------------------------------

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


# Outcomes ---------------------------------------------------------------------------------------


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


# Places and numbers of findings -----------------------------------------------------------------

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


# Proposed values --------------------------------------------------------------------------------


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


# Shipped rules ----------------------------------------------------------------------------------

FIXTURES = Path(__file__).parents[2] / "fixtures"


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
