"""Expressions and messages in the rule language that stand outside rules, such as a plan's steps.

They are read, checked and evaluated as those of rules are, so they know the same names, units and
three values.
"""

from __future__ import annotations

from collections.abc import Mapping

import lark

from .check_names import Names
from .expression_reader import ExpressionReader
from .expressions import expression_checker
from .grammar import read_tree
from .rule_file import RuleFile
from .scope import Scope
from .syntax import Expr, Hole, RuleSet, Span, Template, Type


class Phrases:
    """Reads phrases over subjects: ``variables`` maps each name to its record (axis, machine).

    Definitions and settings are those of ``base``; ``file`` is where errors are placed.
    """

    def __init__(self, file: RuleFile, base: RuleSet, variables: Mapping[str, str]) -> None:
        self.file = file
        self._checker = expression_checker(Names(base))
        types = {
            name: Type("record", record=record, owner=name) for name, record in variables.items()
        }
        self._scope = Scope(file, types)

    def condition(self, text: str, at: Span) -> Expr:
        """Read something true or false. Raises RuleError at its place."""
        return self._checker.condition(self._read(text, at).expr, self._scope)

    def value(self, text: str, at: Span) -> Hole:
        """Read ``EXPRESSION [in UNIT]``. Raises RuleError at its place."""
        (checked,) = self._checker.template((self._read(text, at),), self._scope)
        assert isinstance(checked, Hole)
        return checked

    def message(self, text: str, at: Span, given: Expr | None = None) -> Template:
        """Read a text with holes, where ``given`` is known to hold. Raises RuleError."""
        quoted = f'"{text}"'
        token = lark.Token(
            "STRING",
            quoted,
            line=at.line,
            column=at.column - 1,
            end_line=at.end_line,
            end_column=at.end_column,
        )
        raw = ExpressionReader(self.file).template(lark.Tree("string", [token]))
        scope = self._scope if given is None else self._scope.narrowed(given)
        return self._checker.template(raw, scope)

    def _read(self, text: str, at: Span) -> Hole:
        tree = read_tree(self.file, text, "template_value", at)
        return ExpressionReader(self.file, at).shown_value(tree)
