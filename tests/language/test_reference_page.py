"""What rules/reference.md says is what the language does, on few pages."""

from __future__ import annotations

import re
from importlib import resources
from pathlib import Path

import pytest
from axisproof.catalogue.catalogue import MAX_RULES_TEXT, parse_texts, shipped
from axisproof.language.bounds import (
    MAX_COST,
    MAX_DEGREE,
    MAX_DEPTH,
    MAX_EXAMPLES,
    MAX_LOOPS,
    MAX_NODES,
    MAX_TOTAL_DEPTH,
)
from axisproof.language.budget import MAX_STEPS
from axisproof.language.grammar import keywords
from axisproof.language.parser import MAX_RULE_BYTES
from axisproof.rulebook.rule_tests import run_rule_tests

from tests.language.evaluating import BROKEN, HOLDS, UNDECIDED, outcome

GAIN = {"controller": {"position_loop_gain": "3 1/s"}}
PAGE = resources.files("axisproof.rules").joinpath("reference.md").read_text("utf-8")


SNIPPETS = re.findall(r"(?m)^```rules\n(.*?)^```", PAGE, re.S)


@pytest.mark.parametrize("number", range(len(SNIPPETS)))
def test_every_rule_of_the_page_passes_its_tests(number: int, tmp_path: Path) -> None:
    file = tmp_path / "site.rules"
    file.write_text(SNIPPETS[number], "utf-8")
    found = run_rule_tests([file])
    assert [fault.what for fault in found.faults] == []
    assert found.rules
    assert found.mutants == found.killed


def test_the_page_is_short() -> None:
    assert len(PAGE.splitlines()) <= 300


def test_each_subject_has_a_worked_example() -> None:
    rules = [
        rule for text in SNIPPETS for rule in parse_texts({"a.rules": text}, shipped().trees).rules
    ]
    assert {rule.subject for rule in rules} >= {"axis", "machine", "change", "spare"}
    assert {rule.range is not None for rule in rules} == {True, False}
    assert any(rule.due is not None for rule in rules)


def test_every_clause_and_kind_of_example_is_on_the_page() -> None:
    words = set(re.findall(r"[a-zπ]+", PAGE))
    assert keywords() - words == set()


def section(title: str) -> str:
    """The text under a heading of the page."""
    _, _, rest = PAGE.partition(f"\n## {title}\n")
    assert rest, f"no section {title}"
    return rest.partition("\n## ")[0]


def test_the_limits_are_those_that_are_enforced() -> None:
    said = [int(number) for number in re.findall(r"[0-9]+", section("Limits"))]
    sizes = [MAX_DEPTH, MAX_TOTAL_DEPTH, MAX_DEGREE, MAX_LOOPS, MAX_NODES, MAX_COST, MAX_EXAMPLES]
    assert said == [*sizes, MAX_STEPS]
    assert MAX_RULES_TEXT == 1 << 20
    assert MAX_RULE_BYTES == 1 << 20


def test_a_fraction_before_a_unit_belongs_to_the_number() -> None:
    assert outcome("1/1s = 1s") == HOLDS
    assert outcome("axis.controller.position_loop_gain = 3 / 1s", GAIN) == HOLDS


def test_else_binds_more_weakly_than_plus_and_more_tightly_than_a_comparison() -> None:
    assert outcome("axis.drive.node default 2 <= 3") == HOLDS
    assert outcome("axis.drive.node default 2 <= 1") == BROKEN
    assert outcome("axis.drive.node + 1 default 5 = 5") == HOLDS
    assert outcome("axis.drive.node default 5 + 1 = 6") == HOLDS
    assert outcome("axis.drive.node + 1 default 5 = 5", {"drive": {"node": 7}}) == BROKEN


def test_else_does_not_pass_over_what_is_in_dispute() -> None:
    node = {"claims": [{"value": 5, "source": "drive"}, {"value": 6, "source": "drawing"}]}
    assert outcome("axis.drive.node default 2 <= 9", {"drive": {"node": node}}) == UNDECIDED
