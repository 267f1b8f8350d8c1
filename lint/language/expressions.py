"""The checker of expressions, with what every operator asks of its operands."""

from __future__ import annotations

from .check_conditions import CONDITION_CHECKS
from .check_lists import LIST_CHECKS
from .check_names import Names
from .check_numbers import NUMBER_CHECKS
from .check_words import WORD_CHECKS
from .expression_checker import ExpressionChecker

_CHECKS = {**NUMBER_CHECKS, **CONDITION_CHECKS, **LIST_CHECKS, **WORD_CHECKS}


def expression_checker(names: Names) -> ExpressionChecker:
    """A checker of expressions over these names."""
    return ExpressionChecker(names, _CHECKS)
