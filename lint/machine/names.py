"""Names of machines and axes: letters of any script, digits and a few signs.

The letters are those that begin a name in XML 1.0 (production NameStartChar), within the Basic
Multilingual Plane, which all dialects of patterns in JSON Schema know. Left out are the signs of
punctuation among them, joiners, spaces, and marks that turn the direction of text.
"""

from __future__ import annotations

from ..base.lazy import pattern

_BEYOND_ASCII = (
    r"\u00c0-\u00d6\u00d8-\u00f6\u00f8-\u02ff\u0370-\u037d\u037f-\u061b\u061d-\u167f"
    r"\u1681-\u180d\u180f-\u1fff\u2c00-\u2fef\u3001-\ud7ff\uf900-\ufdcf\ufdf0-\ufffd"
)
_MORE = r"\u00b7\u0300-\u036f"
"""A raised dot, and marks that follow a letter."""

_FIRST = f"A-Za-z{_BEYOND_ASCII}"
_FIRST_OR_DIGIT = f"A-Za-z0-9{_BEYOND_ASCII}"
AXIS_NAME = pattern(f"[{_FIRST}][{_FIRST_OR_DIGIT}{_MORE}_-]{{0,63}}")
MACHINE_NAME = pattern(f"[{_FIRST_OR_DIGIT}][{_FIRST_OR_DIGIT}{_MORE} ._-]{{0,99}}")


class TextForm:
    """A pattern of the schema; texts in ASCII meet one without the letters of all scripts.

    That one compiles in a tenth of the time, which a check of a small file would notice.
    """

    def __init__(self, text: str) -> None:
        self.in_ascii = pattern(text.replace(_BEYOND_ASCII, "").replace(_MORE, ""))
        self.in_any_letters = pattern(text)

    def fits(self, text: str) -> bool:
        """Whether the pattern is found in a text."""
        form = self.in_ascii if text.isascii() else self.in_any_letters
        return form.search(text) is not None
