"""A rule with examples, and what the test of rules reports about it."""

from __future__ import annotations

from collections.abc import Callable

from axisproof.findings.rule_info import Alteration, RuleFault, RuleTestReport

RULE = """language 2
{before}
rule site-rule
  level warning
  title "t"
  each {each}
  {when}
  {lets}
  require {require}
  say "s"
  why "w"
  remedy "r"
  basis "b"
  {examples}
"""

BOUNDARY = """given axis.drive.node = 5
  passes "at the limit"
  fails "one above"
    axis.drive.node = 6
  undecided "no node"
    axis.drive.node = missing
    needs axis.drive.node
"""


def text_of(require: str, examples: str, **parts: str) -> str:
    fields = {"before": "", "each": "axis", "when": "", "lets": ""} | parts
    return RULE.format(require=require, examples=examples, **fields)


Run = Callable[..., RuleTestReport]


def place(fault: RuleFault | Alteration) -> str:
    """The stretch of the source line that a fault points at."""
    assert fault.place is not None
    assert fault.source_line is not None
    end = fault.place.end_column if fault.place.end_line == fault.place.line else None
    return fault.source_line[fault.place.column - 1 : end and end - 1]
