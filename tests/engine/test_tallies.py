"""Rules times subjects: each verdict counts once, pairs too."""

from __future__ import annotations

from typing import Any

import pytest
from axisproof.catalogue.catalogue import shipped
from axisproof.engine.cases import cases
from axisproof.engine.verdicts import AXIS_BATCH

from tests.engine.small_rules import catalogue_of, checked, node, plain, rule


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


SYMMETRIC = "axis with other where axis.drive.node is other.drive.node unordered"
PARTNER = (
    "axis with other where axis.gantry.partner is other.name"
    " directed by axis.gantry.partner without skips"
)


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
