"""What facts left out acquit: of a rule's failed cases, and of random machines with faults.

A failed check may become "does not apply" only in rules that compare two statements
(``two_statements.txt``).
"""

from __future__ import annotations

import copy
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from random import Random

from axisproof.base.errors import AxisproofError
from axisproof.catalogue.catalogue import shipped
from axisproof.engine.engine import Options, Results, check_machine
from axisproof.machine.reader import read_plain

from tests.bench.faults.fault_list import FAULTS
from tests.bench.faults.measure import DAY, shared_machine
from tests.bench.faults.plain_axis import PlainAxis
from tests.properties.failed_cases import (
    acquitted_without,
    entry_of,
    facts_to_leave_out,
    looked_at,
    random_sets,
    states_another_machine,
    steps,
)
from tests.properties.leaving_out import Plain, facts_of, subsets, without

HERE = Path(__file__).parent


@cache
def listed(name: str) -> dict[str, str]:
    """Rules with a reason, from a list beside this file."""
    lines = (HERE / name).read_text("utf-8").splitlines()
    pairs = (line.partition(": ") for line in lines if line and not line.startswith("#"))
    return {rule: reason for rule, _, reason in pairs}


TWO_STATEMENTS = listed("two_statements.txt")


# --- cases of one rule ------------------------------------------------------------------------


@dataclass
class RuleCases:
    """The failed cases of a rule that were tried, and what facts left out made of them."""

    name: str
    cases: int = 0
    left_out: int = 0
    acquitted: list[str] = field(default_factory=list)
    no_longer_apply: set[str] = field(default_factory=set)
    """Facts without which a rule that compares two statements does not apply."""


def tried_cases(name: str, cases: Iterable[Plain], sets: int, seed: str) -> RuleCases:
    """Leave out each fact that a rule reads once, and random sets of them, from failed cases."""
    catalogue = shipped()
    rule, entry = catalogue.rules[name], entry_of(name)
    read = looked_at(catalogue, rule)
    rng = Random(f"left out {name} {seed}")
    result = RuleCases(name)
    for plain in cases:
        result.cases += 1
        facts = facts_to_leave_out(plain, read)
        for paths in [*([path] for path in facts), *random_sets(facts, rng, sets)]:
            result.left_out += 1
            became = acquitted_without(rule, entry, plain, paths)
            if became is None:
                continue
            words = ", ".join(".".join(steps(path)) for path in paths)
            if became == "does not apply" and name in TWO_STATEMENTS:
                if len(paths) == 1:
                    result.no_longer_apply.add(words)
            else:
                result.acquitted.append(f"{name}: {became} without {words}: {plain}")
    return result


# --- random machines --------------------------------------------------------------------------

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
    facts = [path for path in facts_of(plain) if not states_another_machine(plain, path)]
    chosen = [[path] for path in rng.sample(facts, min(singles, len(facts)))]
    chosen += [
        [path for path in some if not states_another_machine(plain, path)]
        for some in subsets(plain, rng, sets)
    ]
    faults: list[str] = []
    for paths in chosen:
        try:
            thin = results(without(plain, paths))
        except AxisproofError:
            continue
        without_what = ", ".join(".".join(map(str, path)) for path in paths[:3])
        faults += [
            f"machine {seed} without {without_what}: {each}" for each in acquitted(whole, thin)
        ]
    return faults
