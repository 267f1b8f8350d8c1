"""The commands that show rules, names, the language and schemas."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from axisproof.base.errors import Place
from axisproof.cli import main as cli
from axisproof.findings.rule_info import (
    RuleTestReport,
)

from tests.captured import Captured
from tests.cli.fake_api import FakeApi


def test_rules_are_listed_and_explained(api: FakeApi, capsys: Captured) -> None:
    assert cli.run(["rules", "list", "--rules", "site"]) == 0
    assert api.calls == [((Path("site"),), {})]
    assert "1 rule of 1 concern." in capsys.readouterr().out
    assert cli.run(["rules", "list", "--all"]) == 0
    assert "a-rule" in capsys.readouterr().out
    assert cli.run(["rules", "list", "--settings"]) == 0
    assert "range_margin, default 10 %" in capsys.readouterr().out
    assert cli.run(["rules", "list", "a concern"]) == 0
    assert "a concern (1 rule)" in capsys.readouterr().out
    assert cli.run(["rules", "list", "another"]) == 2
    assert "expected: a concern" in capsys.readouterr().err
    assert cli.run(["explain", "a-rule"]) == 0
    assert "Requires  A title" in capsys.readouterr().out
    assert cli.run(["explain", "wraps retained"]) == 0
    assert "controller.wraps_retained" in capsys.readouterr().out


def test_names_of_the_rule_language_are_found_by_words(api: FakeApi, capsys: Captured) -> None:
    assert cli.run(["rules", "facts", "brake", "time", "--rules", "own"]) == 0
    assert api.calls == [(("brake", "time"), {"rules": (Path("own"),)})]
    assert capsys.readouterr().out.splitlines() == [
        "axis.hangs",
        "    definition: true or false",
        "    gravity moves it",
        "",
        "1 name",
    ]


def test_the_page_of_the_rule_language_is_printed(capsys: Captured) -> None:
    assert cli.run(["rules", "guide"]) == 0
    assert capsys.readouterr().out.startswith("# The rule language")


def test_a_rule_test_with_faults_fails(api: FakeApi, capsys: Captured) -> None:
    assert cli.run(["rules", "test", "site.rules"]) == 0
    assert api.calls == [((Path("site.rules"),), {})]
    from axisproof.findings.rule_info import Alteration, RuleFault, Unnoticed

    api.tested = RuleTestReport(1, 2, 3, 2, (RuleFault("a-rule", "a fault"),))
    assert cli.run(["rules", "test"]) == 1
    assert "a fault" in capsys.readouterr().out
    altered = Alteration("a-rule", "leave out `x`", Place("a.rules", 1, 1, 1, 2), "x")
    api.tested = RuleTestReport(1, 2, 3, 2, (), (Unnoticed("a-rule", (altered,)),))
    assert cli.run(["rules", "test"]) == 1
    assert "Leave out `x` here. No example notices." in capsys.readouterr().out


@pytest.mark.parametrize("name", ["machine", "findings"])
def test_the_published_schemas_are_printed(name: str, capsys: Captured) -> None:
    assert cli.run(["schema", name]) == 0
    published = json.loads(capsys.readouterr().out)
    assert published["$id"].endswith(f"{name}.schema.json")
