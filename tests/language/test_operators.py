"""The table of operators and those who read it fit each other."""

from __future__ import annotations

import re
from importlib import resources

import pytest
from axisproof.language.compiler import _CodeWriter
from axisproof.language.grammar import keywords
from axisproof.language.missing_facts import _RuleScope
from axisproof.language.operator_entry import Operator
from axisproof.language.operators import (
    BY_SIGN,
    LEAVES,
    OPERATORS,
    evaluation_methods,
)
from axisproof.language.tracer import Tracer

ALL = list(OPERATORS.values())


@pytest.mark.parametrize("operator", ALL, ids=lambda each: each.name)
def test_every_evaluator_knows_every_operator_but_those_for_messages(operator: Operator) -> None:
    assert operator.name in evaluation_methods(Tracer)
    for_verdicts = operator.evaluation != "all"
    assert (operator.name in evaluation_methods(_CodeWriter)) is for_verdicts
    assert (operator.name in evaluation_methods(_RuleScope)) is for_verdicts


def test_an_evaluator_has_no_method_that_no_node_asks_for() -> None:
    kinds = {each.evaluation for each in ALL} | LEAVES
    for evaluator in (Tracer, _CodeWriter, _RuleScope):
        methods = {name[3:] for name in dir(evaluator) if name.startswith("on_")}
        assert methods <= kinds, evaluator


@pytest.mark.parametrize("operator", ALL, ids=lambda each: each.name)
def test_what_an_evaluation_needs_is_stated(operator: Operator) -> None:
    assert (operator.call is not None) is (operator.evaluation in ("formula", "words", "sets"))
    assert bool(operator.code) is (operator.call is not None)
    assert (operator.deciding is not None) is (operator.evaluation in ("deciding", "quantifier"))
    assert (operator.aggregate is not None) is (operator.evaluation == "aggregate")


@pytest.mark.parametrize("operator", ALL, ids=lambda each: each.name)
def test_mutations_lead_to_operators_of_the_same_operands(operator: Operator) -> None:
    for other in operator.mutations.becomes:
        assert OPERATORS[other].operands == operator.operands
        assert operator.name != other


def test_the_grammar_has_every_sign_and_every_word() -> None:
    grammar = resources.files("axisproof.language").joinpath("grammar.lark").read_text("utf-8")
    for sign in BY_SIGN:
        assert f'"{sign}"' in grammar, sign
    written = set(re.findall(r"[a-z]+", " ".join(each.text for each in ALL)))
    words = written & keywords()
    assert {"whole", "within", "divides", "unique", "else"} <= words
    for word in words:
        assert re.search(rf"\b{word}\b", grammar), word
