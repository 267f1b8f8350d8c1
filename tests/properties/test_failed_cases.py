"""Less evidence never acquits any rule: fifty failed cases each, every fact that it reads left out.

Random sets of facts are left out besides. The exhaustive run has all cases and prints the numbers;
the default run has some of each rule. ``fewer_cases.txt`` says which rules have fewer, and why.
"""

from __future__ import annotations

import pytest
from axisproof.catalogue.catalogue import shipped

from tests.properties.acquittals import TWO_STATEMENTS, RuleCases, listed, tried_cases
from tests.properties.failed_cases import failed_cases
from tests.properties.planted_cases import planted_cases

RULES = sorted(rule.name for rule in shipped().trees.rules)
CASES, TRIES, SETS = 50, 3000, 3
PLANTED, MACHINES = 2, range(2)


def fewest(name: str) -> tuple[int, str]:
    """How many cases a rule must have, and why these are fewer than fifty."""
    number, _, reason = listed("fewer_cases.txt").get(name, f"{CASES}: ").partition(": ")
    return int(number), reason


def test_the_lists_name_rules() -> None:
    assert set(TWO_STATEMENTS) | set(listed("fewer_cases.txt")) <= set(RULES)
    assert all(reason for reason in TWO_STATEMENTS.values())
    assert all(
        fewest(name)[1] and 0 < fewest(name)[0] < CASES for name in listed("fewer_cases.txt")
    )


def test_no_fact_left_out_of_some_failed_cases_acquits() -> None:
    for name in RULES:
        cases = list(failed_cases(name, 5, 20, "some"))
        assert cases, name
        found = tried_cases(name, cases, 1, "some")
        assert found.acquitted == []


@pytest.fixture(scope="module")
def every_rule() -> list[RuleCases]:
    planted = planted_cases(MACHINES, PLANTED)
    found = []
    for name in RULES:
        cases = planted.get(name, [])
        cases = [*cases, *failed_cases(name, CASES - len(cases), TRIES, "all")]
        found.append(tried_cases(name, cases, SETS, "all"))
    return found


@pytest.mark.exhaustive
def test_no_fact_left_out_of_any_failed_case_acquits(every_rule: list[RuleCases]) -> None:
    assert [words for each in every_rule for words in each.acquitted] == []


@pytest.mark.exhaustive
def test_each_rule_has_fifty_failed_cases(
    every_rule: list[RuleCases], capsys: pytest.CaptureFixture[str]
) -> None:
    with capsys.disabled():
        cases = sum(each.cases for each in every_rule)
        left = sum(each.left_out for each in every_rule)
        print(f"\n{cases} failed cases of {len(every_rule)} rules; facts left out {left} times.")
        print(f"Rules with fewer than {CASES} failed cases:")
        for each in every_rule:
            if each.cases < CASES:
                print(f"  {each.name}: {each.cases}; {fewest(each.name)[1]}")
        print("Rules that no longer apply without a fact, as they compare two statements:")
        for each in every_rule:
            if each.no_longer_apply:
                print(f"  {each.name} ({TWO_STATEMENTS[each.name]})")
                print(f"    without {', '.join(sorted(each.no_longer_apply))}")
    assert [each.name for each in every_rule if each.cases < fewest(each.name)[0]] == []
