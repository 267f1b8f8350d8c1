"""No text of an input becomes a command of the system that runs a check and reads its output.

Such systems read what a step prints. A line that begins with ``::`` after blanks, and ``##`` with
a word and an opening bracket anywhere in a line, may set a variable there, mask a text or end the
step as passed. Each form of output has a way to write these characters that a reader takes for the
same text and such a system does not.
"""

from __future__ import annotations

from ..base.lazy import pattern

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


ANYWHERE = pattern(r"(?<=#)#(?=[\w.-]*\[)")
"""The second sign of what begins a command wherever it stands."""

_AT_START = pattern(r"(?m)^((?:[\s\ufeff\u200b]|\x1b\[[0-9;]*m)*):(?=:)")
_AT_START_AFTER_RETURN = pattern(r"(\r[ \t]*):(?=:)")

_SIGNS: Final = {
    "json": ("\\u0023", "\\u003a"),
    "sarif": ("\\u0023", "\\u003a"),
    "codequality": ("\\u0023", "\\u003a"),
    "junit": ("&#35;", "&#58;"),
    "html": ("&#35;", "&#58;"),
}
"""How ``#`` and ``:`` are written in a form; any other writes them as it writes what is unprintable
(layout.py)."""


def without_commands(text: str, form: str = "text") -> str:
    """Return ``text``, whole lines of a form, with all that could be a command taken apart.

    Annotations are commands, and their own module escapes what it puts into them.
    """
    if form == "annotations":
        return text
    if "##" not in text and "::" not in text:
        return text
    number_sign, colon = _SIGNS.get(form, ("\\x23", "\\x3a"))
    text = ANYWHERE.sub(lambda _: number_sign, text)
    for start in (_AT_START, _AT_START_AFTER_RETURN):
        text = start.sub(lambda match: match[1] + colon, text)
    return text
