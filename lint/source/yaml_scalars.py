"""What a YAML scalar means by the 1.2 core schema, and which scalars are refused."""

from __future__ import annotations

from decimal import Decimal

from ..base.lazy import pattern
from .files import Plain, unprintable
from .limits import MAX_TEXT, NUMBER_BOUNDS, number_fault, shortened

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final


ABSENT_HINT: Final = "none where it is known to be absent, or the key left out"

CORE: Final = "tag:yaml.org,2002:"
WORDS: Final[dict[str, bool]] = {
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}
_NULLS: Final = frozenset(("", "~", "null", "Null", "NULL"))
_INT = pattern(r"[-+]?[0-9]+")
_BASED = pattern(r"0x[0-9a-fA-F]+|0o[0-7]+")
_FLOAT = pattern(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_NOT_FINITE = pattern(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")
_NUMBER_START: Final = frozenset("+-.0123456789")


class RefusedScalar(Exception):
    """A scalar that cannot be used: (what, expected)."""


class UnknownTag(RefusedScalar):
    """A scalar with a tag outside the core schema."""


def scalar_value(event: Any, text: str) -> Plain:
    """The value of a scalar event. Raises RefusedScalar."""
    if len(text) > MAX_TEXT:
        raise RefusedScalar(f"the text has {len(text)} characters", f"at most {MAX_TEXT}")
    tag, style = event.tag, event.style
    if style == '"':  # the one style with escapes
        hidden = unprintable(text)
        if hidden:
            raise RefusedScalar(f"the text holds the control character {hidden}", "printable text")
    if tag is None:
        return text if style else _plain(text)
    if tag == CORE + "str":
        return text
    wanted: Any = {"int": int, "float": Decimal, "bool": bool, "null": None}.get(
        tag.removeprefix(CORE) if tag.startswith(CORE) else "", ()
    )
    if wanted == ():
        raise UnknownTag(
            f"the tag {tag_text(tag)} is not understood",
            "no tag, or one of !!str, !!int, !!float, !!bool",
        )
    value = _plain(text) if wanted is not None else _plain("")
    if wanted is Decimal and type(value) is int:
        value = Decimal(value)
    if type(value) is not wanted:
        raise RefusedScalar(
            f"{shortened(text)!r} is not what its tag {tag_text(tag)} says", "them to agree"
        )
    return value


def _plain(text: str) -> Plain:
    """The value of a plain scalar by the core schema. Raises RefusedScalar."""
    word = WORDS.get(text)
    if word is not None:
        return word
    if text in _NULLS:
        raise RefusedScalar(
            f"{text or 'an empty value'} says neither present nor absent", ABSENT_HINT
        )
    if text[0] not in _NUMBER_START:
        return text
    whole = _INT.fullmatch(text)
    if whole:
        digits = text.lstrip("+-")
        if digits[0] == "0" and len(digits) > 1:
            bare = digits.lstrip("0") or "0"
            octal = f" or 0o{bare}" if set(bare) <= set("01234567") else ""
            raise RefusedScalar(
                f"{shortened(text)} has a leading zero, which some read as octal",
                f"{shortened(bare)}{octal}, or quotes around it if it is text",
            )
    elif not _BASED.fullmatch(text) and not _FLOAT.fullmatch(text):
        if _NOT_FINITE.fullmatch(text):
            raise RefusedScalar(f"{text} is not a finite number", "a finite number")
        return text
    fault = number_fault(text)
    if fault:
        raise RefusedScalar(f"the number {shortened(text)} {fault}", NUMBER_BOUNDS)
    if whole:
        return int(text)
    if text[:2] in ("0x", "0o"):
        return int(text, 0)
    return Decimal(text)


def tag_text(tag: str) -> str:
    """A tag as people write it: ``!!int`` for one of the core schema."""
    return shortened("!!" + tag[len(CORE) :] if tag.startswith(CORE) else tag)
