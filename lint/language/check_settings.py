"""Checks the settings that a rule file declares."""

from __future__ import annotations

from typing import Any

from ..numbers.calendar_periods import months_of
from ..numbers.compound_units import parse_literal
from ..numbers.exact import QuantityError
from .check_clauses import clauses_by_word
from .check_names import Names
from .rule_file import RawItem, RuleFile
from .syntax import FLAG, PERIOD, Expr, Setting, Span, Type


def check_setting(names: Names, file: RuleFile, item: RawItem) -> Setting:
    """Check a setting and make its name known. Raises RuleError."""
    name = names.new_name(file, item.name, item.name_at)
    if name in names.shipped_settings:
        what = f"a setting that ships with axisproof is called {name}"
        raise file.error(
            item.name_at, what, "another name. The settings of a site change its value"
        )
    if name in names.settings:
        raise file.error(item.name_at, f"setting {name} is defined twice", "another name")
    words = ("default", "meaning", "basis")
    found = clauses_by_word(file, item, words, words)
    value, at = found["default"].payload
    result = Setting(
        name,
        _setting_literal(file, value, at),
        str(value),
        found["meaning"].payload[0],
        found["basis"].payload[0],
        item.name_at,
        file.name,
    )
    names.settings[name] = result
    return result


def _setting_literal(file: RuleFile, value: Any, at: Span) -> Expr:
    """A setting's value as a literal: a flag or a number with its dimension."""
    if isinstance(value, bool):
        return Expr("flag", (), (value,), at, FLAG)
    if isinstance(value, list | dict):
        raise file.error(at, "a setting cannot be a list or a map", "a number, true or false")
    months = months_of(str(value))
    if months is not None:
        return Expr("period", (), (months, str(value)), at, PERIOD)
    try:
        quantity = parse_literal(str(value))
    except QuantityError as fault:
        raise file.error(at, fault.what, fault.expected) from None
    data = (quantity.value, str(value))
    return Expr("num", (), data, at, Type("number", quantity.dimension))
