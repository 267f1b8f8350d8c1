"""Makers of operators that differ from their neighbours in a few words (see operators.py)."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from .growth import no_number, of_sum
from .operator_entry import (
    COMPARISON,
    FALLBACK,
    NEGATION,
    NO_MUTATIONS,
    OPERATION,
    SUM,
    TOO_CLOSE,
    Aggregate,
    Growth,
    Mutations,
    Operator,
)


def arithmetic(
    name: str,
    written: str,
    sign: str,
    strength: int,
    call: Callable[..., Any],
    becomes: str,
    *,
    code: str = "",
    divisors: tuple[int, ...] = (),
) -> Operator:
    """Something computed of two numbers, written with a sign."""
    return Operator(
        name,
        "formula",
        "terms" if strength == SUM else "factors",
        f"{{0}} {sign} {{1}}",
        strength,
        (strength, strength + 1),
        of_sum,
        written=written,
        code=code or f"{{0}} {written} {{1}}",
        call=call,
        divisors=divisors,
        mutations=Mutations((becomes,)),
    )


def comparison(
    name: str,
    written: str,
    sign: str,
    call: Callable[..., Any],
    excess: tuple[str, int],
    mutations: Mutations,
    *,
    code: str = "",
    equates: bool = False,
) -> Operator:
    """Which of two values is larger, written with a sign."""
    return Operator(
        name,
        "formula",
        "ordered",
        f"{{0}} {sign} {{1}}",
        COMPARISON,
        (FALLBACK,),
        no_number,
        written=written,
        code=code or f"{{0}} {written} {{1}}",
        call=call,
        certain=True,
        equates=equates,
        excess=excess,
        mutations=mutations,
    )


def word_test(
    name: str,
    operands: str,
    text: str,
    code: str,
    call: Callable[..., Any],
    *,
    evaluation: str = "formula",
    least: tuple[int, ...] = (FALLBACK,),
    denial: str = "",
    reason: str = TOO_CLOSE,
    divisors: tuple[int, ...] = (),
    certain: bool = False,
    equates: bool = False,
) -> Operator:
    """What is asked of values in words, such as `is whole`."""
    return Operator(
        name,
        evaluation,
        operands,
        text,
        COMPARISON,
        least,
        no_number,
        denial=denial,
        code=code,
        call=call,
        reason=reason,
        divisors=divisors,
        certain=certain,
        equates=equates,
        mutations=Mutations(opposite=True),
    )


def connective(name: str, strength: int, deciding: bool, becomes: str) -> Operator:
    """What joins two conditions."""
    return Operator(
        name,
        "deciding",
        "conditions",
        f"{{0}} {name} {{1}}",
        strength,
        (strength, strength + 1),
        no_number,
        deciding=deciding,
        certain=True,
        mutations=Mutations((becomes,), one_side=True),
    )


def quantifier(name: str, deciding: bool, becomes: str, denial: str = "") -> Operator:
    """What asks a condition of each item of a list."""
    return Operator(
        name,
        "quantifier",
        "quantified",
        f"{name} {{over}} has {{2}}",
        OPERATION,
        (OPERATION, NEGATION, NEGATION),
        no_number,
        denial=denial,
        deciding=deciding,
        mutations=Mutations((becomes,), unfiltered=True),
    )


def aggregate(
    name: str,
    aggregate: Aggregate,
    growth: Growth,
    reason: str,
    mutations: Mutations = NO_MUTATIONS,
) -> Operator:
    """One number made of those of all items of a list."""
    return Operator(
        name,
        "aggregate",
        "aggregated",
        f"{name} of {{2}} for {{over}}",
        OPERATION,
        (OPERATION, NEGATION, FALLBACK),
        growth,
        reason=reason,
        aggregate=aggregate,
        mutations=mutations,
    )


def text_test(name: str, words: str, call: Callable[..., Any], becomes: str) -> Operator:
    """What is asked of a text and a part of it."""
    return Operator(
        name,
        "words",
        "texts",
        f"{{0}} {words} {{1}}",
        COMPARISON,
        (FALLBACK,),
        no_number,
        code=f"{name}({{0}}, {{1}})",
        call=call,
        certain=True,
        mutations=Mutations((becomes,), opposite=True),
    )


def set_test(name: str, words: str, call: Callable[..., Any], becomes: str) -> Operator:
    """What is asked of two lists of words."""
    return Operator(
        name,
        "sets",
        "sets",
        f"{words} of {{0}} in {{1}}",
        COMPARISON,
        (FALLBACK,),
        no_number,
        code=f"{name}({{0}}, {{1}}, {{2}}, {{3}})",
        call=call,
        mutations=Mutations((becomes,)),
    )
