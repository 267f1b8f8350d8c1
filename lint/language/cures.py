"""What somebody most likely meant who wrote a text that is not of the language, and its cure.

People write what other languages have them write. Each slip that is known has its own sentence and
its own place, which is where the slip is and not where the reader gave up.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from ..numbers.compound_units import unit_named


@dataclass(frozen=True, slots=True)
class Cure:
    """A slip from ``start`` to ``end`` of a text: what is wrong and what to write."""

    start: int
    end: int
    what: str
    expected: str


@dataclass(frozen=True, slots=True)
class _Slip:
    """A slip by what stands before and after the place where reading failed.

    Both patterns touch that place; ``start`` is the group of the first at which the slip begins.
    """

    before: re.Pattern[str]
    after: re.Pattern[str]
    what: str
    expected: str


def _slip(before: str, after: str, what: str, expected: str) -> _Slip:
    return _Slip(re.compile(f"(?:{before})$"), re.compile(after), what, expected)


_NUMBER: Final = r"(?<![\w.])[0-9]+(?:\.[0-9]+)?(?:/[0-9]+)?"
_EQUAL: Final = "a = b for numbers and dates, a is b for words, texts and flags"
_UNLIKE: Final = "not a = b for numbers and dates, a is not b for words, texts, flags and none"

_SLIPS: Final = (
    _slip("=", "=", "== is no sign of the language", _EQUAL),
    _slip("", "==", "== is no sign of the language", _EQUAL),
    _slip("", "!=", "!= is no sign of the language", _UNLIKE),
    _slip("<", ">", "<> is no sign of the language", _UNLIKE),
    _slip("=", ">", "=> is no sign of the language", ">="),
    _slip("=", "<", "=< is no sign of the language", "<="),
    _slip("", "&&?", "& is no sign of the language", "and"),
    _slip("", r"\|\|?", "| is no sign of the language", "or"),
    _slip("", "!", "! is no sign of the language", "not"),
    _slip(r"\*", r"\*", "** is no sign of the language", "^, as in x^2"),
    _slip("", "'[^'\n]*'?", "a text stands in double quotes", '"…"'),
    _slip("", "[“”„][^“”\n]*[“”]?", "a text stands in straight double quotes", '"…"'),
    _slip(
        r"(?:<=|>=|<|>|=)\s*[^\s<>=]+\s*",
        "<=|>=|<|>|=",
        "two comparisons in a row",
        "a <= b and b <= c, or b between a and c",
    ),
    _slip(
        r"(?<![\w.])[0-9]{1,4}[./][0-9]{1,2}",
        r"[./][0-9]{1,4}",
        "this is not how a day is written",
        "year-month-day, such as 2026-03-14",
    ),
    _slip(r"[0-9]", "(?:π|pi)", "a sign is missing before pi", "2 * pi"),
    _slip(
        r"\bis(?:\s+not)?\s+in\s*",
        r"\[[^\]\n]*\]?",
        "is in is not asked",
        "is one of […]",
    ),
    _slip("", r"in\s*\[[^\]\n]*\]?", "in is not asked of a word", "is one of […]"),
    _slip(
        r"\bincludes\s+(?:any|all|none|each)\s*",
        r"of\b",
        "includes is asked of one word",
        "any of LIST in [a, b], or all of [a, b] in LIST",
    ),
    _slip("", r"starts?\s*_?with\b", "this is no word of the language", "begins with"),
    _slip("", r"ends_?with\b", "this is no word of the language", "ends with"),
    _slip(
        "", r"(?:like|matches)\b", "a text has no patterns", "begins with, ends with or contains"
    ),
    _slip(
        r"\bif\s+", r"\S[^\n]*\bthen\b", "if does not stand before its value", "a if c otherwise b"
    ),
    _slip(
        "",
        r"then\b|else\s+if\b",
        "this is no word of the language here",
        "a if c otherwise b",
    ),
    _slip(
        r"(?<![\w.])(?:max|min|sum|product|count|all|any|decimals)\s*",
        r"[^\w\s(]",
        "this is a word of the language, and of comes after it",
        "another name",
    ),
)

_UNIT: Final = re.compile(r"[A-Za-zµμ°%‰][A-Za-zµμ°%‰0-9²³^·/]*")
_LAST_NUMBER: Final = re.compile(rf"{_NUMBER}[ \t]+$")
_CLAUSE_WORD: Final = re.compile(
    r"\n[ \t]*(level|title|each|when|let|require|say|why|remedy|set|basis|given|passes|fails"
    r"|undecided|skips|default|meaning|as|kind|unit)[ \t\r\n]+$"
)
_IGNORED: Final = re.compile(r"(?:[ \t\r\n]|#[^\n]*\n)*$")


def cure_of(text: str, at: int, accepted: Iterable[str]) -> Cure | None:
    """The cure for a text that could not be read from ``at`` on; ``accepted`` may follow there."""
    found: Callable[[], Cure | None]
    for found in (
        lambda: _no_version(text, at, accepted),
        lambda: _blank_before_unit(text, at),
        lambda: _known_slip(text, at),
        lambda: _unfinished_line(text, at, accepted),
    ):
        cure = found()
        if cure is not None:
            return cure
    return None


def _known_slip(text: str, at: int) -> Cure | None:
    start_of_line = text.rfind("\n", 0, at) + 1
    for slip in _SLIPS:
        after = slip.after.match(text, at)
        before = slip.before.search(text[start_of_line:at]) if after else None
        if before and after:
            return Cure(start_of_line + before.start(), after.end(), slip.what, slip.expected)
    return None


def _blank_before_unit(text: str, at: int) -> Cure | None:
    unit = _UNIT.match(text, at)
    number = _LAST_NUMBER.search(text[text.rfind("\n", 0, at) + 1 : at])
    if unit is None or number is None or unit_named(unit[0]) is None:
        return None
    written = number[0].strip()
    what = "a blank stands between a number and its unit"
    return Cure(at - len(number[0]), unit.end(), what, f"{written}{unit[0]}")


def _no_version(text: str, at: int, accepted: Iterable[str]) -> Cure | None:
    first = re.compile(r"\S+").match(text, at)
    if list(accepted) != ["LANGUAGE"] or first is None:
        return None
    end = first.end()
    return Cure(at, end, "the file does not say its language version", "language 1 as first line")


def _unfinished_line(text: str, at: int, accepted: Iterable[str]) -> Cure | None:
    """A line that ends where something must follow; the reader only notices on the next.

    It takes the word that begins the next clause for a name, and stumbles over what comes after.
    """
    taken = _CLAUSE_WORD.search(text[:at]) if "PLUS_MINUS" in accepted else None
    if taken is not None:
        at, accepted = taken.start(1), ()
    ended = len(text[:at]) - len(_ignored(text[:at]))
    if "\n" not in text[ended:at] or {"REQUIRE", "RULE", "MEANING", "SAY"} & set(accepted):
        return None
    last = re.search(r"\S+$", text[:ended])
    if last is None:
        return None
    what = f"something is missing after {last[0]}" if len(last[0]) <= 40 else "something is missing"
    rest = "" if len(list(accepted)) in range(1, 9) else "the rest of it on this line or the next"
    return Cure(last.start(), ended, what, rest)


def _ignored(text: str) -> str:
    found = _IGNORED.search(text)
    return found[0] if found else ""
