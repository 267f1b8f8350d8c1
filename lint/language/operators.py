"""The operators of the rule language, each with all that differs between it and its neighbours.

Parser, checker, bounds, compiler, tracer, missing facts, printing, findings and the mutants of rule
tests read this table; none of them lists operators for itself. ``evaluation`` names how an operator
treats unknown operands, and each evaluator has one method for each evaluation; ``operands`` names
what the checker asks of the operands, and the checker has one function for each of those. So an
operator of a known evaluation and known operands is one entry here and one line of the grammar.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any, Final

from ..base.absence import NONE
from ..numbers.calendar_periods import earlier, later
from ..numbers.exact import Number, div, eq
from ..numbers.whole import divides, is_whole
from .growth import (
    no_number,
    of_aggregate,
    of_function,
    of_largest,
    of_last,
    of_power,
    of_values,
)
from .helpers import between, capped, extreme, raised, within
from .operator_entry import (
    ATOM,
    BOTH,
    CHOICE,
    COMPARISON,
    EITHER,
    FALLBACK,
    NEGATION,
    NEGATIVE,
    OPERATION,
    POWER,
    PRODUCT,
    SUM,
    VALUE,
    Aggregate,
    Mutations,
    Operator,
)
from .operator_makers import (
    aggregate,
    arithmetic,
    comparison,
    connective,
    quantifier,
    set_test,
    text_test,
    word_test,
)
from .word_tests import all_of, any_of, begins_with, contains, ends_with, is_empty, none_of

LITERALS: Final = frozenset({"num", "flag", "text", "name", "set", "date", "period"})
"""Nodes that hold their value themselves."""

LEAVES: Final = LITERALS | {"fact", "derived", "local", "setting", "variable"}
"""Nodes of a checked tree without operands."""


def fold(step: Callable[[Any, Any], Any], start: int) -> Callable[[list[Any]], Number | None]:
    """What adds up (or multiplies) values, to None if that grows too large."""

    def total(values: list[Any]) -> Number | None:
        result: Number | None = start
        for value in values:
            result = capped(step(result, value))
            if result is None:
                return None
        return result

    return total


def _is_among(value: Any, *words: Any) -> bool:
    return value in words


def _is_absent(value: Any) -> bool:
    return value is NONE


def _calendar(name: str, sign: str, call: Callable[..., Any], becomes: str) -> Operator:
    """A date plus or minus a calendar period; a rule file writes it as a sum."""
    return Operator(
        name,
        "formula",
        "terms",
        f"{{0}} {sign} {{1}}",
        SUM,
        (SUM, SUM + 1),
        of_largest,
        code=f"{name}({{0}}, {{1}})",
        call=call,
        reason="it is outside the calendar",
        mutations=Mutations((becomes,)),
    )


_TOO_LARGE: Final = "it grows too large"
_NOTHING: Final = "there is nothing to compare"

_NUMBERS: Final = (
    arithmetic("add", "+", "+", SUM, operator.add, "sub"),
    arithmetic("sub", "-", "−", SUM, operator.sub, "add"),
    arithmetic("mul", "*", "×", PRODUCT, operator.mul, "div"),
    arithmetic("div", "/", "÷", PRODUCT, div, "mul", code="div({0}, {1})", divisors=(1,)),
    _calendar("later", "+", later, "earlier"),
    _calendar("earlier", "−", earlier, "later"),
    Operator(
        "neg",
        "formula",
        "negative",
        "−{0}",
        NEGATIVE,
        (VALUE,),
        of_largest,
        code="-{0}",
        call=operator.neg,
    ),
    Operator(
        "pow",
        "formula",
        "power",
        "{0}{power}",
        POWER,
        (ATOM,),
        of_power,
        code="raised({0}, {data[0]})",
        call=raised,
        reason="the number grows too large",
    ),
    Operator(
        "call",
        "call",
        "arguments",
        "{data[0]}({arguments})",
        ATOM,
        (OPERATION,),
        of_function,
        reason="it has no answer for these values",
    ),
    Operator("decimals", "decimals", "decimals", "decimals of {0}", ATOM, (OPERATION,), no_number),
)

_COMPARISONS: Final = (
    comparison("lt", "<", "<", operator.lt, ("too large by", 1), Mutations(("le", "gt"))),
    comparison("le", "<=", "≤", operator.le, ("too large by", 1), Mutations(("lt", "ge"))),
    comparison("gt", ">", ">", operator.gt, ("too small by", -1), Mutations(("ge", "lt"))),
    comparison("ge", ">=", "≥", operator.ge, ("too small by", -1), Mutations(("gt", "le"))),
    comparison(
        "eq",
        "=",
        "=",
        eq,
        ("difference", 1),
        Mutations(opposite=True),
        code="eq({0}, {1})",
        equates=True,
    ),
    word_test("between", "ordered", "{0} between {1} and {2}", "between({0}, {1}, {2})", between),
    word_test("within", "near", "{0} within {1} of {2}", "within({0}, {1}, {2})", within),
    word_test(
        "divides", "divisible", "{0} divides {1}", "divides({0}, {1})", divides, divisors=(0,)
    ),
    word_test(
        "is_whole",
        "whole",
        "{0} is whole",
        "is_whole({0})",
        is_whole,
        denial="{0} is not whole",
        reason="the number is not exact enough to say",
    ),
)

_WORDS: Final = (
    word_test(
        "is",
        "alike",
        "{0} is {1}",
        "{0} == {1}",
        operator.eq,
        evaluation="words",
        denial="{0} is not {1}",
        certain=True,
        equates=True,
    ),
    word_test(
        "one_of",
        "one_of",
        "{0} is one of [{items}]",
        "{0} in ({items},)",
        _is_among,
        evaluation="words",
        least=(FALLBACK, OPERATION),
        denial="{0} is not one of [{items}]",
        certain=True,
    ),
    word_test(
        "is_none",
        "absent",
        "{0} is none",
        "{0} is NONE",
        _is_absent,
        evaluation="words",
        denial="{0} is not none",
        certain=True,
    ),
    Operator(
        "includes",
        "includes",
        "included",
        "{0} includes {1}",
        COMPARISON,
        (FALLBACK,),
        no_number,
    ),
    text_test("begins_with", "begins with", begins_with, "contains"),
    text_test("ends_with", "ends with", ends_with, "contains"),
    text_test("contains", "contains", contains, "begins_with"),
    set_test("any_of", "any", any_of, "all_of"),
    set_test("all_of", "all", all_of, "any_of"),
    set_test("none_of", "none", none_of, "any_of"),
    Operator(
        "is_empty",
        "sets",
        "emptied",
        "{0} is empty",
        COMPARISON,
        (FALLBACK,),
        no_number,
        denial="{0} is not empty",
        code="is_empty({0}, {1})",
        call=is_empty,
        mutations=Mutations(opposite=True),
    ),
    Operator(
        "is_known",
        "known",
        "stated",
        "{0} is known",
        COMPARISON,
        (FALLBACK,),
        no_number,
        mutations=Mutations(opposite=True),
    ),
)

_LOGIC: Final = (
    connective("and", BOTH, False, "or"),
    connective("or", EITHER, True, "and"),
    Operator(
        "not",
        "words",
        "condition",
        "not {0}",
        NEGATION,
        (NEGATION,),
        no_number,
        code="not {0}",
        call=operator.not_,
        certain=True,
    ),
    Operator(
        "default",
        "default",
        "alternatives",
        "{0} default {1}",
        FALLBACK,
        (FALLBACK, SUM),
        of_largest,
        certain=True,
    ),
    Operator(
        "choose",
        "choose",
        "chosen",
        "{1} if {0} else {2}",
        CHOICE,
        (EITHER, EITHER, CHOICE),
        of_values,
    ),
)

_LISTS: Final = (
    quantifier("every", False, "some"),
    quantifier("some", True, "every", "no {over} has {2}"),
    Operator(
        "unique",
        "unique",
        "distinct",
        "unique {2} for {over}",
        OPERATION,
        (OPERATION, NEGATION, FALLBACK),
        no_number,
    ),
    Operator(
        "count",
        "aggregate",
        "counted",
        "count of {over}",
        OPERATION,
        (OPERATION, NEGATION),
        no_number,
        aggregate=Aggregate(sum, "0", "{total} += 1"),
        mutations=Mutations(unfiltered=True),
    ),
    aggregate(
        "sum",
        Aggregate(
            fold(operator.add, 0),
            "0",
            "{total} = capped({total} + {value})",
            may_stop=True,
            listed=("+", SUM, "0"),
        ),
        of_aggregate,
        _TOO_LARGE,
    ),
    aggregate(
        "product",
        Aggregate(
            fold(operator.mul, 1),
            "1",
            "{total} = capped({total} * {value})",
            may_stop=True,
            listed=("×", PRODUCT, "1"),
        ),
        of_aggregate,
        _TOO_LARGE,
    ),
    aggregate(
        "max",
        Aggregate(
            lambda values: extreme(values, True),
            "[]",
            "{total}.append({value})",
            "extreme({total}, True)",
        ),
        of_last,
        _NOTHING,
        Mutations(("min",)),
    ),
    aggregate(
        "min",
        Aggregate(
            lambda values: extreme(values, False),
            "[]",
            "{total}.append({value})",
            "extreme({total}, False)",
        ),
        of_last,
        _NOTHING,
        Mutations(("max",)),
    ),
    Operator(
        "all",
        "all",
        "shown",
        "all of {2} for {over}",
        OPERATION,
        (OPERATION, NEGATION, FALLBACK),
        no_number,
    ),
)


OPERATORS: Final[Mapping[str, Operator]] = MappingProxyType(
    {each.name: each for each in (*_NUMBERS, *_COMPARISONS, *_WORDS, *_LOGIC, *_LISTS)}
)
"""All operators by the name a tree gives them."""

BY_SIGN: Final[Mapping[str, str]] = MappingProxyType(
    {each.written: each.name for each in OPERATORS.values() if each.written}
)
"""The names of the operators that a rule file writes with a sign."""

LOOPS: Final = frozenset(each.name for each in _LISTS)
"""What goes through a list: its operands are the list, the filter and, if any, the body."""


def evaluation_methods(evaluator: type) -> dict[str, Callable[..., Any]]:
    """The method of an evaluator for every node it knows, by the node's name.

    It is called ``on_`` and the evaluation of the operator, or ``on_`` and the name of the leaf.
    """
    kinds = {leaf: leaf for leaf in LEAVES}
    kinds.update((each.name, each.evaluation) for each in OPERATORS.values())
    found = {name: getattr(evaluator, f"on_{kind}", None) for name, kind in kinds.items()}
    return {name: method for name, method in found.items() if method is not None}
