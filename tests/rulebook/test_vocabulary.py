"""`explain` takes a fact or a word of the vocabulary, and a rule with the numbers of an example."""

from __future__ import annotations

import pytest
from axisproof import api
from axisproof.base.errors import UsageError
from axisproof.catalogue.catalogue import shipped
from axisproof.catalogue.describing import rule_info
from axisproof.findings.rule_info import FactInfo, RuleInfo
from axisproof.report.rendering import RenderOptions
from axisproof.report.rule_text import render_rule


def facts(name: str) -> list[FactInfo]:
    found = api.explain(name)
    assert isinstance(found, tuple)
    return list(found)


@pytest.mark.parametrize(
    ("name", "paths"),
    [
        ("unfolding", ["controller.unfolding"]),
        ("Wraps retained", ["controller.wraps_retained"]),
        ("axes.lift.controller.wraps_retained", ["controller.wraps_retained"]),
        ("axis.drive.gear.numerator", ["drive.gear.numerator"]),
        ("load-side teeth", ["mechanics.stages.load_side_teeth"]),
    ],
)
def test_a_fact_is_found_by_the_end_of_its_path(name: str, paths: list[str]) -> None:
    assert [each.fact for each in facts(name)] == paths


def test_a_word_leads_to_the_facts_that_take_it() -> None:
    (fact,) = facts("encoder zero signed")
    assert (fact.fact, fact.word) == ("controller.unfolding", "encoder_zero_signed")
    assert "encoder_zero_signed" in fact.takes


def test_the_rules_of_a_fact_are_those_that_read_it() -> None:
    (fact,) = facts("wraps_retained")
    assert "rollover-divides-cycle" in fact.rules
    assert "brake-holds-load" not in fact.rules


def test_a_name_that_nothing_has_comes_with_a_suggestion() -> None:
    with pytest.raises(UsageError, match="no rule, fact or word rollover-divides-cicle") as caught:
        api.explain("rollover-divides-cicle")
    assert caught.value.expected == "did you mean rollover-divides-cycle?"


def test_no_rule_shows_a_hole_of_its_texts() -> None:
    catalogue = shipped()
    for rule in catalogue.trees.rules:
        info = rule_info(catalogue, rule)
        assert not set("{}") & set(info.why + info.remedy + " ".join(info.cautions)), rule.name
    found = api.explain("drive-gear-exact")
    assert isinstance(found, RuleInfo)
    text = render_rule(found, RenderOptions(width=100))
    assert found.finding is not None
    assert found.finding.remedy in " ".join(text.split())
