"""Pairs of machines: how many facts changed, and what each change brings."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from axisproof import api
from axisproof.catalogue.catalogue import shipped
from axisproof.findings.change_report import ChangeReport
from axisproof.report import changes_text
from axisproof.report.changes_json import document
from axisproof.report.rendering import RenderOptions
from jsonschema import Draft202012Validator

from tests.changes.two_versions import PAIRS, SCHEMA, told

# Number of changed facts, rules about the change that are broken, ordinary findings that are new.
EXPECTED: dict[tuple[str, str], tuple[int, list[str], list[str]]] = {
    ("brakes", "clamp-taken-out"): (1, ["clamp-is-still-there"], []),
    ("brakes", "load-brake-taken-out"): (3, ["load-brake-is-as-strong-as-before"], []),
    ("brakes", "load-brake-weakened"): (1, ["load-brake-is-as-strong-as-before"], []),
    ("lift", "axis-renamed"): (0, ["axis-renamed"], []),
    ("lift", "brake-weakened"): (6, ["brake-is-as-strong-as-before"], []),
    ("lift", "commutation-not-taught"): (4, ["replaced-parts-have-commutation-taught"], []),
    ("lift", "commutation-said-to-need-no-teaching"): (1, ["commutation-is-still-taught"], []),
    ("lift", "direction-turned-without-teaching"): (1, ["turned-direction-is-taught-again"], []),
    ("lift", "direction-turned-in-drive-and-controller"): (
        2,
        ["turned-direction-is-taught-again"],
        [],
    ),
    ("lift", "direction-turned-in-drive-and-encoder"): (
        2,
        ["turned-direction-is-taught-again"],
        [],
    ),
    ("lift", "drive-replaced-without-teaching"): (2, ["replaced-drive-is-taught-again"], []),
    ("lift", "encoder-replaced-and-taught"): (5, [], []),
    ("lift", "encoder-replaced-record-copied"): (
        3,
        ["replaced-encoder-is-taught-again", "replaced-parts-have-commutation-taught"],
        [],
    ),
    ("lift", "encoder-replaced-record-old"): (
        1,
        ["replaced-encoder-is-taught-again", "replaced-parts-have-commutation-taught"],
        ["commutation-taught-with-fitted-pair", "reference-taught-with-fitted-encoder"],
    ),
    ("lift", "following-error-window-widened"): (1, ["following-error-is-watched-as-closely"], []),
    ("lift", "gearing-corrected-and-taught"): (4, [], []),
    ("lift", "gearing-corrected-without-teaching"): (2, ["changed-scaling-is-taught-again"], []),
    ("lift", "fault-cuts-torque"): (1, ["fault-still-stops-under-torque"], []),
    ("lift", "gravity-denied"): (1, ["load-still-counts-as-hanging"], []),
    ("lift", "homing-taken-out"): (1, ["axis-still-homes"], []),
    ("lift", "homing-method-changed"): (
        1,
        ["changed-homing-is-taught-again"],
        ["reference-at-its-own-end"],
    ),
    ("lift", "incremental-scale-changed-limits-kept"): (
        7,
        ["changed-scaling-moves-limits"],
        ["software-limits-await-homing"],
    ),
    ("lift", "interlock-released-by-reset"): (
        2,
        ["interlocks-are-as-strict-as-before"],
        ["rehome-interlock-released-by-homing"],
    ),
    ("lift", "interlock-shared-out"): (3, [], []),
    ("lift", "interlock-speed-raised"): (1, ["interlock-permits-no-faster-motion"], []),
    ("lift", "interlock-trigger-removed"): (
        1,
        ["interlock-triggers-are-kept"],
        ["rehome-interlock-on-replaced-parts"],
    ),
    ("lift", "motor-replaced-without-teaching"): (
        3,
        ["replaced-motor-is-taught-again", "replaced-parts-have-commutation-taught"],
        [],
    ),
    ("lift", "nothing"): (0, [], []),
    ("lift", "older-record-restored"): (1, ["record-of-teaching-is-not-older"], []),
    ("lift", "reference-moved-without-record"): (1, ["moved-reference-has-a-record"], []),
    ("lift", "software-limit-widened"): (1, ["software-limits-are-not-widened"], []),
    ("lift", "software-limits-after-homing-only"): (1, ["software-limits-stay-in-force"], []),
    ("lift", "speed-raised-past-room"): (
        1,
        ["raised-speed-still-stops-in-time"],
        ["software-limits-leave-room-to-stop"],
    ),
    ("lift", "speed-raised-within-room"): (1, [], []),
    ("lift", "stop-moved-without-teaching"): (1, ["moved-mark-is-taught-again"], []),
    ("lift", "stop-reactions-softened"): (
        3,
        ["controller-stops-as-hard-as-before", "drive-stops-as-hard-as-before"],
        [],
    ),
    ("lift", "turn-count-changed-in-the-drive"): (
        1,
        ["turn-count-changed-on-both-sides"],
        ["turn-counts-match"],
    ),
    ("lift", "turn-count-changed-without-teaching"): (
        2,
        ["changed-turn-count-is-taught-again"],
        [],
    ),
    ("lift", "unfolding-changed"): (1, ["changed-unfolding-is-taught-again"], []),
    ("lift", "unit-changed-values-converted"): (1, [], []),
    ("lift", "unit-changed-values-kept"): (
        4,
        [
            "changed-unit-leaves-lengths-alone",
            "raised-speed-still-stops-in-time",
            "software-limits-are-not-widened",
        ],
        [
            "controller-scaling-without-slip",
            "software-limits-within-travel",
            "top-speed-in-its-unit",
        ],
    ),
    ("portal", "encoder-difference-widened"): (
        1,
        ["encoder-difference-is-watched-as-closely"],
        [],
    ),
    ("portal", "gantry-denied"): (2, ["gantry-is-still-a-gantry"] * 2, []),
    ("portal", "linear-brake-weakened"): (1, ["linear-brake-is-as-strong-as-before"], []),
    ("portal", "position-loop-on-the-other-encoder"): (
        1,
        ["changed-position-encoder-is-taught-again"],
        [],
    ),
    ("portal", "racking-tolerance-widened"): (2, ["gantry-is-still-a-gantry"] * 2, []),
    ("portal", "second-encoder-taken-out"): (
        9,
        ["encoder-difference-is-watched-as-closely"],
        [],
    ),
    ("table", "axis-removed"): (0, ["axis-removed"], []),
    ("table", "cycle-changed-without-teaching"): (1, ["changed-cycle-is-taught-again"], []),
    ("table", "reading-changed-without-record"): (1, ["changed-reading-has-a-record"], []),
    ("table", "incremental-scale-changed-cycle-kept"): (7, ["changed-scaling-moves-cycle"], []),
    ("table", "turn-count-of-the-new-encoder"): (
        3,
        ["changed-turn-count-is-taught-again", "wraps-are-still-retained"],
        ["rollover-divides-cycle"],
    ),
    ("table", "wraps-no-longer-retained"): (1, ["wraps-are-still-retained"], []),
}


def compare(folder: str, name: str) -> ChangeReport:
    return api.changes(PAIRS / folder / "before.yaml", PAIRS / folder / f"{name}.yaml")


@pytest.mark.parametrize(("folder", "name"), EXPECTED, ids=map("/".join, EXPECTED))
def test_a_pair_brings_what_is_expected(folder: str, name: str) -> None:
    report = compare(folder, name)
    facts, brought, new = EXPECTED[folder, name]
    assert len(report.facts) == facts
    assert sorted(finding.rule for finding in report.brought) == brought
    assert sorted(finding.rule for finding in report.new_findings) == new
    assert (report.persisting, report.gone, report.undecided) == ((), (), ())
    Draft202012Validator(SCHEMA).validate(json.loads(json.dumps(document(report))))
    lines = changes_text.render(report, RenderOptions()).splitlines()
    assert all(line.isprintable() for line in lines)
    # A path is whole, beside its margin of ten columns.
    assert all(len(line) <= 80 or " " not in line[10:].strip() for line in lines)


def test_every_pair_is_in_the_table() -> None:
    pairs = {
        (file.parent.name, file.stem) for file in PAIRS.glob("*/*.yaml") if file.stem != "before"
    }
    assert pairs == set(EXPECTED)
    assert len(pairs) >= 20


def test_every_rule_about_a_change_is_broken_by_a_pair() -> None:
    rules = {entry.name for entry in shipped().entries if entry.subject == "change"}
    broken = {rule for _, brought, _ in EXPECTED.values() for rule in brought}
    assert rules == broken - {"axis-removed", "axis-renamed"}


def test_a_pair_turned_round_has_its_findings_gone() -> None:
    folder = PAIRS / "table"
    report = api.changes(folder / "turn-count-of-the-new-encoder.yaml", folder / "before.yaml")
    assert [finding.rule for finding in report.gone] == ["rollover-divides-cycle"]
    assert report.new_findings == ()


TAKEN_AWAY = {
    ("brakes", "clamp-taken-out"),
    ("brakes", "load-brake-taken-out"),
    ("lift", "commutation-said-to-need-no-teaching"),
    ("lift", "homing-taken-out"),
    ("portal", "gantry-denied"),
    ("portal", "second-encoder-taken-out"),
}
"""Pairs in which a part is taken away, which is one change; the way back adds each of its facts."""


@pytest.mark.parametrize(("folder", "name"), sorted(set(EXPECTED) - TAKEN_AWAY))
def test_the_facts_of_a_pair_turned_round_are_the_same_turned_round(folder: str, name: str) -> None:
    files = PAIRS / folder / "before.yaml", PAIRS / folder / f"{name}.yaml"
    there, back = api.changes(*files), api.changes(*reversed(files))
    assert sorted(told(there)) == sorted((fact, old, new) for fact, new, old in told(back))
    mirrored = {"added": "removed", "removed": "added", "changed": "changed"}
    kinds = sorted((change.fact, mirrored[change.kind]) for change in back.facts)
    assert sorted((change.fact, change.kind) for change in there.facts) == kinds
    assert len(back.gone) == len(there.new_findings)


@pytest.mark.parametrize("folder", ["brakes", "lift", "portal", "table"])
def test_a_version_held_against_itself_changed_nothing(folder: str) -> None:
    for file in sorted((PAIRS / folder).glob("*.yaml")):
        report = api.changes(file, file)
        assert report.facts == report.axis_changes == report.brought == ()
        assert report.new_findings == report.gone == report.newly_undecided == ()


def test_the_part_with_the_gravest_finding_comes_first() -> None:
    report = compare("lift", "speed-raised-past-room")
    lighter = tuple(replace(each, level="warning") for each in report.brought)
    assert {each.level for each in (*report.brought, *report.new_findings)} == {"error"}
    for shown, first in (
        (report, "What the change brings"),
        (replace(report, brought=lighter), "New findings"),
    ):
        text = changes_text.render(shown, RenderOptions())
        assert min(("What the change brings", "New findings"), key=text.index) == first
