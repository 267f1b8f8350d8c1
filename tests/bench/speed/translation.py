"""Shipped rules as text for general-purpose expression evaluators.

This covers the rules over single axes that use only stated facts, settings, arithmetic, comparisons
and logic, because such evaluators have no definitions and no exact arithmetic. They get numbers in
base units, most as floats, so they need neither units nor exactness.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from axisproof.base.absence import NONE, PRESENT
from axisproof.catalogue.catalogue import Catalogue
from axisproof.language.syntax import Expr, Rule
from axisproof.numbers.exact import Approx, Pi
from axisproof.numbers.rational import Fraction

INFIX = {"add": "+", "sub": "-", "mul": "*", "div": "/", "neg": "-"}
INFIX |= {"lt": "<", "le": "<=", "gt": ">", "ge": ">=", "eq": "==", "is": "=="}
LEAVES = {"num", "flag", "text", "name", "fact", "local", "setting"}
KNOWN = {*INFIX, *LEAVES, "and", "or", "not", "is_none", "one_of", "between"}


@dataclass(frozen=True)
class Dialect:
    """The logic operators of an evaluator; arithmetic and comparisons are the same in all."""

    both: str
    either: str
    negated: str
    none: str
    flags: tuple[str, str] = ("False", "True")
    one_of: str = ""
    """``{0}`` in the words ``{1}``; empty: as a chain of comparisons."""
    exact: bool = False
    """Whether it takes the numbers that axisproof computes with; else floats."""


CEL = Dialect(
    "({} && {})", "({} || {})", "!({})", "null", ("false", "true"), one_of="({0} in [{1}])"
)
PYTHON = Dialect("({} and {})", "({} or {})", "(not {})", "'none'")
PYTHON_SETS = Dialect("({} and {})", "({} or {})", "(not {})", "'none'", one_of="({0} in ({1},))")
SAME = Dialect("({} & {})", "({} | {})", "(not {})", "'none'", exact=True)
"""Python's operators, made to know the unknown (`&` and `|` for `and` and `or`), exact numbers."""


@dataclass(frozen=True)
class TranslatedRule:
    """A rule as two expressions; ``when`` is empty if the rule always applies."""

    name: str
    when: str
    require: str


def translatable(catalogue: Catalogue) -> list[Rule]:
    """The rules that every dialect can express."""
    return [
        rule
        for rule in catalogue.trees.rules
        if rule.subject == "axis"
        and rule.range is None
        and all(_is_translatable(node) for expr in _parts(rule) for node in expr.walk())
    ]


def _is_translatable(node: Expr) -> bool:
    """Whether every dialect can express this; in CEL no comparison of a number with null exists."""
    return node.op in KNOWN and not (node.op == "is_none" and node.kids[0].type.kind == "number")


def _parts(rule: Rule) -> list[Expr]:
    return [*([rule.when] if rule.when else []), *(value for _, value in rule.lets), rule.require]


def facts_used(rules: list[Rule]) -> list[str]:
    """The facts that the rules read, as paths below the axis."""
    found = {
        node.data[1]: None
        for rule in rules
        for expr in _parts(rule)
        for node in expr.walk()
        if node.op == "fact"
    }
    return list(found)


def translated(rule: Rule, catalogue: Catalogue, dialect: Dialect) -> TranslatedRule:
    """A rule in a dialect."""
    lets = dict(rule.lets)

    def said(expr: Expr) -> str:
        kids = expr.kids
        match expr.op:
            case "num":
                return _literal(expr.data[0], dialect)
            case "flag":
                return dialect.flags[expr.data[0]]
            case "text" | "name":
                return json.dumps(expr.data[0])
            case "fact":
                return name_of(expr.data[1])
            case "local":
                return said(lets[expr.data[0]])
            case "setting":
                return said(catalogue.defaults[expr.data[0]])
            case "and":
                return dialect.both.format(*map(said, kids))
            case "or":
                return dialect.either.format(*map(said, kids))
            case "not":
                return dialect.negated.format(said(kids[0]))
            case "is_none":
                return f"({said(kids[0])} == {dialect.none})"
            case "neg":
                return f"(-{said(kids[0])})"
            case "between":
                value, low, high = map(said, kids)
                return dialect.both.format(f"({low} <= {value})", f"({value} <= {high})")
            case "one_of":
                return _one_of(said(kids[0]), [said(kid) for kid in kids[1:]], dialect)
        left, right = map(said, kids)
        return f"({left} {INFIX[expr.op]} {right})"

    return TranslatedRule(rule.name, said(rule.when) if rule.when else "", said(rule.require))


def _literal(value: Any, dialect: Dialect) -> str:
    if not dialect.exact:
        return repr(number(value))
    assert isinstance(value, int | Fraction)
    return f"({value.numerator} / {value.denominator})" if value.denominator != 1 else f"{value}"


def _one_of(value: str, words: list[str], dialect: Dialect) -> str:
    if dialect.one_of:
        return dialect.one_of.format(value, ", ".join(words))
    chain = f"({value} == {words[0]})"
    for word in words[1:]:
        chain = dialect.either.format(chain, f"({value} == {word})")
    return chain


def name_of(path: str) -> str:
    """A fact's path as a name."""
    return path.replace(".", "_")


def number(value: Any) -> float:
    """An exact number as a float."""
    if isinstance(value, Pi):
        return float(float(value.coefficient) * math.pi**value.exponent)
    return float(value.value) if isinstance(value, Approx) else float(value)


def record(facts: Mapping[str, Any], paths: list[str], none: object, exact: bool) -> dict[str, Any]:
    """The facts of an axis by name, as evaluators need them; a missing fact has no name."""
    return {name_of(path): _plain(facts[path], none, exact) for path in paths if path in facts}


def _plain(value: Any, none: object, exact: bool) -> Any:
    if value is NONE:
        return none
    if value is PRESENT:
        return "stated"
    if isinstance(value, bool | str) or exact:
        return value
    return number(value) if isinstance(value, int | Fraction | Pi | Approx) else value
