"""The facts that an undecided rule misses: the tracer's answer, where only facts are missing.

A machine file that is being written leaves thousands of checks undecided, nearly all of them for
want of a fact that nobody has stated yet. Here the trees become nested functions, made once per
rule, that name the facts which would decide it. Where something else than a missing fact is in
play, the tracing evaluator (tracer.py) must tell. A test holds the two equal.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from ..machine.records import NOTES, Facts
from .missing_loops import LoopScope
from .missing_scope import OTHER_CAUSE, Missing, TraceNeeded
from .near_failure import NearFailures, Smallest, on_one_line
from .operators import evaluation_methods
from .syntax import Definition, Expr, Rule, subjects_of


class _RuleScope(LoopScope):
    """Makes the functions of all nodes."""


_RuleScope.methods = evaluation_methods(_RuleScope)


class MissingFacts:
    """The rules of one catalogue, each made ready when first asked for.

    With ``smallest``, a missing fact of a part that may be none stands for itself, not for that
    part, and near failures are those of the fewest facts, not those of one line.
    """

    def __init__(
        self,
        definitions: Mapping[tuple[str, str], Definition],
        defaults: Mapping[str, Expr],
        smallest: Smallest | None = None,
    ) -> None:
        self.not_known = smallest.not_known if smallest else None
        self.definitions = definitions
        self.defaults = defaults
        self.rules: dict[str, Callable[[Sequence[Facts]], Missing]] = {}
        keep, name = (smallest, "fewest for") if smallest else (on_one_line, "settling")
        self.near_failures = NearFailures(
            definitions, self._scope, keep, name, by_condition=smallest is not None
        )
        self.derived: dict[tuple[str, str], Callable[[Facts], Any]] = {}

    def of(self, rule: Rule) -> Callable[[Sequence[Facts]], Missing]:
        """What gives the missing facts of an undecided case from its subjects.

        They come in the order of ``subjects_of``.
        """
        found = self.rules.get(rule.name)
        if found is None:
            found = self.rules[rule.name] = self._rule(rule)
        return found

    def _scope(self, roots: Sequence[str]) -> _RuleScope:
        return _RuleScope(self.definitions, self.defaults, self.definition, roots, self.not_known)

    def _rule(self, rule: Rule) -> Callable[[Sequence[Facts]], Missing]:
        scope = self._scope(subjects_of(rule))
        try:
            when = scope.value(rule.when) if rule.when is not None else None
            for name, expr in rule.lets:
                scope.let(name, expr)
            require = scope.value(rule.require)
        except TraceNeeded:
            return lambda subjects: OTHER_CAUSE
        blank = scope.blank()

        def missing(subjects: Sequence[Facts]) -> Missing:
            frame = [*subjects, *blank]
            try:
                found = when(frame) if when is not None else True
                if found is True:
                    found = require(frame)
            except TraceNeeded:
                return OTHER_CAUSE
            return found if found.__class__ is tuple else OTHER_CAUSE

        return missing

    def definition(self, record: str, name: str) -> Callable[[Facts], Any]:
        """What evaluates a definition for a record."""
        key = (record, name)
        if key not in self.derived:
            self.derived[key] = self._definition(self.definitions[key])
        return self.derived[key]

    def _definition(self, found: Definition) -> Callable[[Facts], Any]:
        on_axis = found.record == "axis"
        scope = self._scope((found.owner, "machine") if on_axis else (found.owner,))
        body = scope.number(found.expr)
        blank = scope.blank()

        def value(record: Facts) -> Any:
            return body([record, record[NOTES].machine, *blank] if on_axis else [record, *blank])

        return value
