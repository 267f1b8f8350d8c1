"""Checks the examples of a rule: the facts they state and the values they pin."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final

from .bounds import MAX_EXAMPLES
from .expression_checker import ExpressionChecker
from .rule_file import RawExample, RawItem, RuleFile
from .scope import Scope
from .syntax import POSITION, Example, Expr

_MOTIONS: Final = {"complete": "linear", "complete_rotary": "rotary"}
"""The motion of the complete axes that an example can begin with."""


def check_examples(
    expressions: ExpressionChecker, file: RuleFile, item: RawItem, scope: Scope
) -> tuple[Example, ...]:
    """Check the examples of a rule, within the scope of its values. Raises RuleError."""
    given: tuple[Any, ...] = ()
    raw: list[RawExample] = []
    for clause in item.clauses:
        if clause.word == "given":
            given = clause.payload[0]
        elif clause.word == "example":
            raw.append(clause.payload[0])
    if len(raw) > MAX_EXAMPLES:
        raise file.error(raw[MAX_EXAMPLES].at, f"more than {MAX_EXAMPLES} examples", "fewer")
    warns = any(clause.word == "warn" for clause in item.clauses)
    for example in raw:
        if example.kind == "warns" and not warns:
            raise file.error(
                example.at, f"rule {item.name} never warns", "fails, or a line: warn unless …"
            )
    for kind in ("passes", "fails", *(["warns"] if warns else [])):
        if not any(example.kind == kind for example in raw):
            raise file.error(
                item.name_at,
                f"rule {item.name} has no example that {kind}",
                f'{kind} "what it shows" followed by facts',
            )
    return tuple(_example(expressions, example, given, scope) for example in raw)


def _example(
    expressions: ExpressionChecker, raw: RawExample, given: tuple[Any, ...], scope: Scope
) -> Example:
    stated = {fact.path for fact in raw.facts}
    for i, fact in enumerate(raw.facts):
        if fact.path in {f.path for f in raw.facts[:i]}:
            raise scope.file.error(fact.at, f"{fact.path} is stated twice")
    facts = tuple(f for f in given if not _covered(f.path, stated)) + raw.facts
    expected = []
    motions = {str(f.value) for f in facts if f.path.endswith(".motion")}
    motions = motions or {
        _MOTIONS[f.value] for f in facts if "." not in f.path and f.value in _MOTIONS
    }
    if len(motions) == 1 and motions <= {"linear", "rotary"}:
        base = "length" if motions == {"linear"} else "angle"
        positions = {POSITION + variable: base for variable in scope.variables}
        scope = replace(scope, narrowing={**positions, **scope.narrowing})
    constant = Scope(scope.file, {}, narrowing=scope.narrowing, constant=True)
    for name, value, at in raw.expected:
        target = expressions.expr(Expr("path", (), (name,), at), scope)
        checked = expressions.operand_like(value, target, constant)
        expressions.same(scope, checked, target.type, f"{name} is")
        expected.append((name, target, checked, at))
    if raw.needs and raw.kind != "undecided":
        raise scope.file.error(
            raw.needs[0][1], "only an example of the kind `undecided` needs facts"
        )
    if raw.says and raw.kind not in ("fails", "warns"):
        what = "only a failing example says anything"
        raise scope.file.error(raw.says[0][1], what, "expect NAME = VALUE")
    return Example(raw.kind, raw.title, facts, tuple(expected), raw.needs, raw.says, raw.at)


def _covered(path: str, stated: set[str]) -> bool:
    return any(path == s or path.startswith(s + ".") for s in stated)
