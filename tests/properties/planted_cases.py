"""Failed cases of rules among random machines with a planted fault.

A rule that looks at one axis gets that axis alone, if it still fails on it.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator

from axisproof.catalogue.catalogue import shipped
from axisproof.engine.cases import looks_at_one_axis

from tests.bench.faults.fault_list import FAULTS
from tests.bench.faults.measure import shared_machine
from tests.bench.faults.plain_axis import PlainAxis
from tests.properties.acquittals import results
from tests.properties.failed_cases import entry_of, fails_on
from tests.properties.leaving_out import Plain


def planted_cases(seeds: range, most: int) -> dict[str, list[Plain]]:
    """Failed cases by rule, at most so many for each: every kind of fault on every machine."""
    found: dict[str, list[Plain]] = {}
    for seed in seeds:
        for fault in FAULTS:
            for name in shared_machine(seed)["axes"]:
                changed = fault.on(PlainAxis(shared_machine(seed), name))
                if changed is None:
                    continue
                for rule, plain in _failures(changed.machine):
                    cases = found.setdefault(rule, [])
                    if len(cases) < most and plain not in cases:
                        cases.append(plain)
                break
    return found


def _failures(machine: Plain) -> Iterator[tuple[str, Plain]]:
    rules = shipped().rules
    for finding in results(machine).findings:
        if finding.rule not in rules:
            continue  # a check that no rule text could express
        plain = machine
        rule, entry = rules[finding.rule], entry_of(finding.rule)
        if looks_at_one_axis(entry):
            alone = copy.deepcopy(machine)
            alone["axes"] = {finding.subject: alone["axes"][finding.subject]}
            if fails_on(rule, entry, alone):
                plain = alone
        if fails_on(rule, entry, plain):
            yield finding.rule, plain
