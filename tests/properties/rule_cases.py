"""Failing examples of the rules as plain machines, and the verdicts of a rule on such a machine."""

from __future__ import annotations

import copy
from typing import Any

from axisproof.catalogue.catalogue import Catalogue, RunnableRule
from axisproof.engine.cases import cases, change_case, spare_case
from axisproof.engine.verdicts import verdict_of
from axisproof.language.syntax import Example, Rule
from axisproof.machine.machine import Machine, with_role
from axisproof.machine.reader import read_plain

Plain = dict[str, Any]

TWO_MACHINES = {"change": ("before", "after"), "spare": ("fitted", "axis")}


def plain_of(rule: Rule, example: Example) -> Plain:
    """The machine of an example; of a rule about two, both as axes of one."""
    plain: Plain = {"axes": {}}
    for fact in example.facts:
        if fact.value == "missing":
            continue
        head, *rest = fact.path.split(".")
        at = plain if head == "machine" else plain["axes"].setdefault(head, {})
        for part in rest[:-1]:
            at = at.setdefault(part, {})
        at[rest[-1]] = copy.deepcopy(fact.value)
    names = TWO_MACHINES.get(rule.subject, ())
    for name in names or () if plain["axes"] else ("axis",):
        plain["axes"].setdefault(name, {})
    for name in names:
        plain["axes"].setdefault(name, {})
    for axis in plain["axes"].values():
        axis.setdefault("motion", "linear")
    return plain


def verdicts_on(rule: Rule, entry: RunnableRule, plain: Plain) -> list[int | None]:
    """The verdicts of a rule on a plain machine, in the order of its cases."""
    if rule.subject in TWO_MACHINES:
        old, new = TWO_MACHINES[rule.subject]
        make = change_case if rule.subject == "change" else spare_case
        was = with_role(_one(plain, old), old)
        case = make(**{old: was.axes[0], new: _one(plain, new).axes[0]})
        return [entry.function(*(case.env[name] for name in entry.arguments))]
    machine = _read(plain)
    return [verdict_of(entry, case) for case in cases(entry, machine, {})]


def _one(plain: Plain, name: str) -> Machine:
    return _read({**plain, "axes": {"axis": plain["axes"][name]}})


def _read(plain: Plain) -> Machine:
    machine = read_plain(copy.deepcopy(plain))
    machine.facts.setdefault("check_date", 0)
    return machine


def failing_examples(catalogue: Catalogue, rule: Rule) -> list[Example]:
    """The examples that break a rule."""
    return [example for example in catalogue.examples[rule.name] if example.kind == "fails"]
