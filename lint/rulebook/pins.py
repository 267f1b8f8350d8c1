"""Lines of an example that pin a value or words of a message."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..base.absence import NONE
from ..engine.finding_builder import exact_text
from ..language.printing import unit_for, value_text
from ..language.syntax import Type
from ..numbers.exact import Approx, Number, Pi, div
from ..numbers.units import UNITS
from .plain_text import plain_text


def pinned_line(name: str, value: Any, type_: Type, env: Mapping[str, Any]) -> str:
    """The line `expect NAME = VALUE`; empty for a value that no example can state."""
    if value is None or value is NONE:
        return ""
    if type_.kind == "number":
        text = _number_text(value, unit_for(type_.dim, env))
    elif type_.kind in ("flag", "name", "text"):
        text = plain_text(value)
    elif type_.kind == "date":
        text = value_text(value, type_, env)
    else:
        return ""
    return text and f"expect {name} = {text}"


def _number_text(value: Number, unit: str) -> str:
    """A number as an expression of the language."""
    known = UNITS.get(unit)
    shown = value if known is None else div(value, known.factor)
    if shown is None or (unit and known is None):
        return ""
    if isinstance(shown, Approx):
        return f"{shown.value:.7g}{unit}" if 1e-6 < abs(shown.value) < 1e15 else ""
    if isinstance(shown, Pi):
        text = exact_text(shown.coefficient, unit) or ""
        sign, power = ("*", shown.exponent) if shown.exponent > 0 else ("/", -shown.exponent)
        return f"{text.replace(' ', '')} {sign} pi" + (f"^{power}" if power > 1 else "")
    return (exact_text(shown, unit) or "").replace(" ", "")


def said_words(own: str, other: str) -> str:
    """A few words of a text that another text does not hold; empty if there are none."""
    words = own.split()
    others = other.split()
    first = next((n for n, word in enumerate(words) if others[n : n + 1] != [word]), None)
    if first is None:
        return ""
    for around in range(len(words)):
        for start in range(max(0, first - around), first + 1):
            text = " ".join(words[start : start + around + 1])
            if text in own and text not in other:
                return text
    return ""
