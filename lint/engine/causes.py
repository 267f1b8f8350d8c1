"""Which findings of an axis are consequences of others: judged again under the value computed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Final

from ..base.lazy import replace
from ..catalogue.catalogue import RunnableRule
from ..findings.finding import LEVELS, Finding
from ..machine.machine import Machine
from ..machine.records import NOTES, Facts, notes_of
from ..numbers.rational import Fraction
from .verdicts import HOLDS

if TYPE_CHECKING:
    from .finding_builder import FindingBuilder

_PLAIN: Final = (int, Fraction, str)


def with_causes(findings: Sequence[Finding], builder: FindingBuilder) -> list[Finding]:
    """The findings, each with the rules of the same axis of which it is a consequence.

    A finding is one if its rule names the other rule, if it is no graver, and if its rule holds
    when it is judged again under the value that the other rule computes. Under this value the other
    rule must hold too. In doubt a finding is none.
    """
    machine, catalogue = builder.machine, builder.catalogue
    entries = {entry.name: entry for entry in catalogue.entries}
    by_axis: dict[str, dict[str, Finding]] = {}
    for finding in findings:
        by_axis.setdefault(finding.subject, {})[finding.rule] = finding
    axes = {axis["name"]: axis for axis in machine.axes}
    cured: dict[tuple[str, str], Mapping[str, Any] | None] = {}

    def follows(finding: Finding) -> Iterable[str]:
        """The rules that the finding follows from."""
        named = catalogue.rules[finding.rule].follows if finding.rule in entries else ()
        for name in named:
            cause = by_axis[finding.subject].get(name)
            if cause is None or LEVELS.index(cause.level) > LEVELS.index(finding.level):
                continue
            key = finding.subject, name
            if key not in cured:
                axis = axes[finding.subject]
                cured[key] = _under_value_of(cause, entries[name], axis, machine, builder)
            env = cured[key]
            if env is not None and _holds(entries[finding.rule], env):
                yield name

    return [
        replace(each, follows=causes) if (causes := tuple(follows(each))) else each
        for each in findings
    ]


def _holds(entry: RunnableRule, env: Mapping[str, Any]) -> bool:
    return entry.function(*(env[name] for name in entry.arguments)) == HOLDS


def _under_value_of(
    cause: Finding,
    entry: RunnableRule,
    axis: Facts,
    machine: Machine,
    builder: FindingBuilder,
) -> Mapping[str, Any] | None:
    """The axis and the machine with the value that the rule computes; None if there is none."""
    fix = builder.catalogue.rules[cause.rule].fix
    if cause.fix is None or fix is None or fix.over is not None:
        return None
    tracer = builder.tracer
    env = {"axis": axis, "machine": machine.facts}
    with_lets = tracer.with_lets(builder.catalogue.rules[cause.rule], env)
    value = tracer.number_or_value(fix.value, with_lets).value
    path = fix.target.data[1]
    if not isinstance(value, _PLAIN) or path not in axis:
        return None
    facts: Facts = {**machine.facts, NOTES: notes_of(machine.facts).beside("", None)}
    notes = notes_of(axis)
    changed: Facts = {**axis, path: value, NOTES: notes.beside(notes.path, facts)}
    facts["axes"] = [changed if each is axis else each for each in machine.axes]
    under = {"axis": changed, "machine": facts}
    return under if _holds(entry, under) else None
