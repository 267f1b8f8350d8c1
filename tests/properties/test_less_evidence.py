"""Less evidence never acquits: no failed or undecided check holds once a fact is left out.

A failed check may become "does not apply" only in rules that compare two statements
(``two_statements.txt``; the test prints them). ``known_gaps.txt`` lists rules that are still wrong.
"""

from __future__ import annotations

import copy
from collections.abc import Iterable
from pathlib import Path
from random import Random

import pytest
from axisproof.base.errors import AxisproofError
from axisproof.catalogue.catalogue import shipped
from axisproof.engine.engine import Options, Results, check_machine
from axisproof.machine.reader import read_plain

from tests.bench.faults.fault_list import FAULTS
from tests.bench.faults.measure import DAY, shared_machine
from tests.bench.faults.plain_axis import PlainAxis
from tests.properties.leaving_out import Path as FactPath
from tests.properties.leaving_out import Plain, facts_of, subsets, without
from tests.properties.rule_cases import failing_examples, plain_of, verdicts_on

HERE = Path(__file__).parent
FAILS, HOLDS, NOT_APPLICABLE = 0, 1, 2


def listed(name: str) -> dict[str, str]:
    """Rules with a reason, from a list beside this file."""
    lines = (HERE / name).read_text("utf-8").splitlines()
    pairs = (line.partition(": ") for line in lines if line and not line.startswith("#"))
    return {rule: reason for rule, _, reason in pairs}


TWO_STATEMENTS = listed("two_statements.txt")
KNOWN_GAPS = listed("known_gaps.txt")


def names_a_network(path: FactPath) -> bool:
    """Whether a fact is the number of a network: left out it means 1, so it states another one."""
    return path[-1] == "network" and len(path) > 1


def acquittals(name: str) -> set[str]:
    """What single facts left out of a rule's failing examples turn its failure into."""
    catalogue = shipped()
    rule = catalogue.rules[name]
    (entry,) = (each for each in catalogue.entries if each.name == name)
    found = set()
    for example in failing_examples(catalogue, rule):
        plain = plain_of(rule, example)
        whole = verdicts_on(rule, entry, plain)
        assert FAILS in whole, example.title
        for path in facts_of(plain):
            if names_a_network(path):
                continue
            try:
                thin = verdicts_on(rule, entry, without(plain, [path]))
            except AxisproofError:  # a record that is refused without this fact
                continue
            if FAILS in thin or None in thin:
                continue
            fact = ".".join(map(str, path))
            became = "holds" if HOLDS in thin else "does not apply"
            found.add(f"{became} without {fact} ({example.title})")
    return found


RULES = sorted(rule.name for rule in shipped().trees.rules)


@pytest.mark.parametrize("name", RULES)
def test_no_fact_left_out_of_a_failing_example_acquits(name: str) -> None:
    found = acquittals(name)
    if name in KNOWN_GAPS:
        assert found, f"{name} is no longer a gap: take it out of known_gaps.txt"
        return
    if name in TWO_STATEMENTS:
        found = {each for each in found if not each.startswith("does not apply")}
    assert found == set()


def test_the_lists_name_rules_and_are_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert set(TWO_STATEMENTS) | set(KNOWN_GAPS) <= set(RULES)
    with capsys.disabled():
        print("\nA failed check may become 'does not apply' in these rules, as they compare:")
        for rule, statements in TWO_STATEMENTS.items():
            print(f"  {rule}: {statements}")


# --- random machines ------------------------------------------------------------------------------

Key = tuple[str, str]


def results(plain: Plain) -> Results:
    machine = read_plain(copy.deepcopy(plain), headless=False)
    machine.facts["check_date"] = DAY
    return check_machine(machine, "bench", shipped(), Options(decided=True))


def failed(found: Results) -> set[Key]:
    return {(each.rule, each.subject) for each in found.findings}


def undecided(found: Results) -> set[Key]:
    return {(each.rule, each.subject) for each in found.undecided}


def acquitted(whole: Results, thin: Results) -> Iterable[str]:
    """What was failed or undecided and now holds, or failed and now does not apply."""
    open_now = failed(thin) | undecided(thin)
    for rule, subject in sorted((failed(whole) | undecided(whole)) - open_now):
        before = "failed" if (rule, subject) in failed(whole) else "undecided"
        if thin.decided[rule, subject]:
            yield f"{rule} on {subject}: {before}, now holds"
        elif before == "failed" and rule not in TWO_STATEMENTS:
            yield f"{rule} on {subject}: failed, now does not apply"


def tried(seed: int, singles: int, sets: int) -> list[str]:
    """A sound machine made wrong by some faults, and facts left out of it."""
    rng = Random(f"less evidence {seed}")
    plain = copy.deepcopy(shared_machine(seed))
    for fault in rng.sample(FAULTS, 6):
        changed = fault.on(PlainAxis(plain, rng.choice(sorted(plain["axes"]))))
        if changed is not None:
            plain = changed.machine
    whole = results(plain)
    facts = [path for path in facts_of(plain) if not names_a_network(path)]
    chosen = [[path] for path in rng.sample(facts, min(singles, len(facts)))]
    chosen += [
        [path for path in some if not names_a_network(path)] for some in subsets(plain, rng, sets)
    ]
    faults: list[str] = []
    for paths in chosen:
        try:
            thin = results(without(plain, paths))
        except AxisproofError:
            continue
        told = [each for each in acquitted(whole, thin) if each.split(" ")[0] not in KNOWN_GAPS]
        without_what = ", ".join(".".join(map(str, path)) for path in paths[:3])
        faults += [f"machine {seed} without {without_what}: {each}" for each in told]
    return faults


@pytest.mark.parametrize("seed", range(3))
def test_no_facts_left_out_of_a_random_machine_acquit(seed: int) -> None:
    assert tried(seed, 15, 10) == []


@pytest.mark.exhaustive
@pytest.mark.parametrize("seed", range(3, 103))
def test_no_facts_left_out_of_many_random_machines_acquit(seed: int) -> None:
    assert tried(seed, 40, 20) == []
