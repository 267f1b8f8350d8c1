"""A headline says what is wrong with the two numbers, or the two words, that disagree.

The headlines are those of the failing examples of all rules. A comparison that failed is looked
for in the requirement itself, in what its names stand for, and in what it asks of each record of a
list.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, NamedTuple

import pytest
from axisproof.catalogue.catalogue import Catalogue, catalogue
from axisproof.language.operators import LOOPS
from axisproof.language.printing import formula
from axisproof.language.syntax import Expr, Rule
from axisproof.language.telling import MessageWriter, failed_comparisons
from axisproof.language.tracer import Tracer
from axisproof.rulebook.example_machines import build_example

from .test_words import FILES, entries

_NUMBER = re.compile(r"(?<![\w.])[-+≈]?\d[\d.,/-]*")
_COMPARES = ("lt", "le", "gt", "ge", "eq", "within", "between")
_WORDS = ("name", "text", "method")

NOTHING_TO_COMPARE = {
    "final-element-fits-axis": "a kind of element; that it has stages is said where they stand",
    "self-locking-needs-a-transmission": "no stage and no screw",
    "rehome-interlock-released-by-homing": "what ends the interlock",
    "replaced-parts-have-commutation-taught": "the one day that stands in both files",
    "vertical-agrees-with-inclination": "an angle against a statement",
    "drive-on-network-has-axis": "an address that no axis has",
    "condition-codes-unique": "a text that stands twice",
}
"""Rules whose comparison has no second number, with what their headline has in its place."""


class Headline(NamedTuple):
    """The headline of a failing example, and the comparisons that failed in it."""

    text: str
    numbers: bool
    words: tuple[str, ...]


def asked(expr: Expr) -> Iterator[Expr]:
    """What a requirement asks: not which records of a list it asks, nor what a word goes with."""
    yield expr
    kids = expr.kids[-1:] if expr.op in LOOPS else () if expr.op == "is" else expr.kids
    for kid in kids:
        yield from asked(kid)


def compared(expr: Expr, found: Catalogue, lets: dict[str, Expr]) -> Iterator[Expr]:
    """All comparisons of numbers in a requirement, through lets and definitions."""
    for node in asked(expr):
        if node.op in _COMPARES and all(kid.type.kind in ("number", "date") for kid in node.kids):
            yield node
        elif node.op == "local" and node.data[0] in lets:
            yield from compared(lets[node.data[0]], found, lets)
        elif node.op == "derived" and node.type.kind == "flag":
            _, name, kind = node.data
            yield from compared(found.definitions[kind, name].expr, found, lets)


def headlines(found: Catalogue, rule: Rule) -> Iterator[Headline]:
    """What each failing example of a rule says first."""
    for example in found.examples[rule.name]:
        if example.kind != "fails" or "partial" in repr(example):
            continue  # the largest value of a list that is known in part is not told
        built = build_example(found, rule, entries(found)[rule.name], example)
        for case in built.cases:
            tracer = Tracer(found.definitions, found.defaults, formula)
            if case.missing or case.absent or tracer.when(rule, case.env).value is not True:
                continue
            env = tracer.with_lets(rule, case.env)
            if tracer.value(rule.require, env).value is False:
                text = MessageWriter(tracer, env, built.written, rule).message(rule.headline)
                yield read(text, rule, env, tracer, found)


def read(text: str, rule: Rule, env: dict[str, Any], tracer: Tracer, found: Catalogue) -> Headline:
    """A headline with what it has to name."""
    failed = list(failed_comparisons(rule.require, env, tracer))
    lets = dict(rule.lets)
    numbers = all(any(True for _ in compared(node, found, lets)) for node in failed)
    words = {
        str(tracer.value(kid, env).value)
        for node in failed[:1]
        if len(failed) == 1 and node.op == "is"
        for kid in node.kids
        if kid.type.kind in _WORDS
    }
    return Headline(text, numbers, tuple(sorted(words)))


def offenders(found: Catalogue, rule: Rule) -> Iterator[str]:
    """Headlines that leave out what disagrees."""
    for each in headlines(found, rule):
        if each.numbers and len(_NUMBER.findall(each.text)) < 2:
            yield f"{rule.file} {rule.name} lacks two numbers: {each.text}"
        for word in each.words:
            if word not in each.text and word.replace("_", " ") not in each.text:
                yield f"{rule.file} {rule.name} lacks the word {word}: {each.text}"


@pytest.mark.parametrize("name", FILES)
def test_a_headline_has_the_two_that_disagree(name: str) -> None:
    found = catalogue(())
    rules = [rule for rule in found.trees.rules if rule.file == f"{name}.rules"]
    wrong = [
        each
        for rule in rules
        if rule.name not in NOTHING_TO_COMPARE
        for each in dict.fromkeys(offenders(found, rule))
    ]
    assert wrong == [], "\n".join(wrong)
