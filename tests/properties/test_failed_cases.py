"""Less evidence never acquits any rule: fifty failed cases each, every fact that it reads left out.

Random sets of facts are left out besides. The exhaustive run has all cases and prints the numbers;
the default run has some of each rule. ``fewer_cases.txt`` says which rules have fewer, and why.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import pytest
from axisproof.catalogue.catalogue import shipped
from axisproof.findings.builtin import EXPORT_OLD

from tests.properties.acquittals import TWO_STATEMENTS, RuleCases, listed, tried_cases
from tests.properties.failed_cases import failed_cases
from tests.properties.leaving_out import Plain
from tests.properties.planted_cases import planted_cases

RULES = sorted(rule.name for rule in shipped().trees.rules)
CASES, TRIES, SETS = 50, 3000, 3
PLANTED, MACHINES = 2, range(2)
GROUPS = 4


def fewest(name: str) -> tuple[int, str]:
    """How many cases a rule must have, and why these are fewer than fifty."""
    number, _, reason = listed("fewer_cases.txt").get(name, f"{CASES}: ").partition(": ")
    return int(number), reason


def test_the_lists_name_rules() -> None:
    built_in = {EXPORT_OLD.name}  # compares two days; what is built in is no rule of a file
    assert set(TWO_STATEMENTS) | set(listed("fewer_cases.txt")) <= {*RULES, *built_in}
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


@cache
def planted() -> dict[str, list[Plain]]:
    return planted_cases(MACHINES, PLANTED)


# In groups, so that no process is left with all rules, and each case is made and tried once: a
# fixture shared by two tests was made by two processes.
@pytest.mark.exhaustive
@pytest.mark.parametrize("group", range(GROUPS))
def test_no_fact_left_out_of_fifty_failed_cases_of_any_rule_acquits(
    group: int, capsys: pytest.CaptureFixture[str]
) -> None:
    found = []
    for name in RULES[group::GROUPS]:
        cases = planted().get(name, [])
        cases = [*cases, *failed_cases(name, CASES - len(cases), TRIES, "all")]
        found.append(tried_cases(name, cases, SETS, "all"))
    with capsys.disabled():
        print("\n".join(["", *_numbers(group, found)]))
    assert [words for each in found for words in each.acquitted] == []
    assert [each.name for each in found if each.cases < fewest(each.name)[0]] == []


def _numbers(group: int, found: list[RuleCases]) -> Iterator[str]:
    cases, left = sum(each.cases for each in found), sum(each.left_out for each in found)
    yield f"Group {group} of {GROUPS}: {cases} failed cases of {len(found)} rules; facts left out"
    yield f"{left} times. Rules with fewer than {CASES} failed cases:"
    for each in found:
        if each.cases < CASES:
            yield f"  {each.name}: {each.cases}; {fewest(each.name)[1]}"
    yield "Rules that no longer apply without a fact, as they compare two statements:"
    for each in found:
        if each.no_longer_apply:
            yield f"  {each.name} ({TWO_STATEMENTS[each.name]})"
            yield f"    without {', '.join(sorted(each.no_longer_apply))}"
