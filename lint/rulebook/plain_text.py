"""Plain values of examples, as a rule file states them."""

from __future__ import annotations

import re
from typing import Any, Final

from ..language.grammar import keywords

_WORD: Final = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
_DAY: Final = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def plain_text(value: Any) -> str:
    """A value of an example as text of a rule file."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return f"[{', '.join(map(plain_text, value))}]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {plain_text(each)}" for key, each in value.items()) + "}"
    if not isinstance(value, str) or _DAY.fullmatch(value) or value == "none":
        return str(value)
    if _WORD.fullmatch(value) and value not in keywords():
        return value
    return quoted(value)


def quoted(text: str) -> str:
    """A text in double quotes."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{escaped}"'
