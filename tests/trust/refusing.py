"""A call or a rule that goes over a bound, and the error that it must raise."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from axisproof.base.errors import AxisproofError, InputError, RuleError
from axisproof.catalogue.catalogue import parse_texts


def refused(use: Callable[[], Any], words: str, error: type[AxisproofError] = InputError) -> None:
    with pytest.raises(error) as caught:
        use()
    assert words in caught.value.what, caught.value.what
    assert caught.value.expected


RULE = """language 2
{before}
rule site-x
  level   error
  title   "x"
  each    {each}
  require {require}
  say     "s"
  why     "w"
  remedy  "r"
  basis   "computed"
{examples}
"""
EXAMPLES = '  passes "p" axis.motion = linear\n  fails "f" axis.motion = rotary\n'


def check(require: str = "axis.motion is linear", **parts: str) -> Any:
    parts = {"before": "", "each": "axis", "examples": EXAMPLES, **parts}
    return parse_texts({"x.rules": RULE.format(require=require, **parts)})


def refused_rule(words: str, require: str = "axis.motion is linear", **parts: str) -> RuleError:
    with pytest.raises(RuleError) as caught:
        check(require, **parts)
    error = caught.value
    assert words in error.what, error.what
    assert error.place is not None
    assert error.place.line > 0
    return error
