"""What tests of rule pages and rule tests share."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.findings.rule_info import RuleTestReport
from axisproof.rulebook.rule_tests import run_rule_tests

from tests.rulebook.tested_rules import Run, text_of


@pytest.fixture
def tested(tmp_path: Path) -> Run:
    def run(require: str, examples: str, **parts: str) -> RuleTestReport:
        path = tmp_path / "site.rules"
        path.write_text(text_of(require, examples, **parts), "utf-8")
        return run_rule_tests([path])

    return run
