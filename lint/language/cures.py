"""What somebody most likely meant who wrote a text that is not of the language, and its cure.

People write what other languages have them write. Each slip that is known has its own sentence and
its own place, which is where the slip is and not where the reader gave up.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from ..numbers.calendar_periods import months_of
from ..numbers.compound_units import unit_named
from ..numbers.units import suggest_unit
from .clause_slips import CLAUSE_SLIPS
from .slips import EXPRESSION_SLIPS, WRITTEN
from .syntax import line_start
from .word_slips import LAST_SLIPS, WORD_SLIPS


@dataclass(frozen=True, slots=True)
class Cure:
    """A slip from ``start`` to ``end`` of a text: what is wrong and what to write."""

    start: int
    end: int
    what: str
    expected: str


_NUMBER: Final = r"(?<![\w.])[0-9]+(?:\.[0-9]+)?(?:/[0-9]+)?"
_UNIT: Final = re.compile(r"[A-Za-zµμ°%‰][A-Za-zµμ°%‰0-9²³^·/*]*")
_AFTER_NUMBERS: Final = frozenset(
    (
        *("and", "or", "xor", "of", "has", "if", "else", "then", "default", "otherwise", "unless"),
        *("is", "are", "not", "between", "within", "divides", "per", "than", "mod", "x", "to"),
        *("saying", "needs", "says", "expect", "where", "for"),
    )
)
"""Words that are no unit written badly."""

_PER_MINUTE: Final = re.compile(r"(?:1|[Uu])?/\s*min\b")
_OVER_MINUTE: Final = re.compile(r"(?<![\w.])[0-9]+(?:\.[0-9]+)?\s*/\s*min$")
_LAST_NUMBER: Final = re.compile(rf"{_NUMBER}[ \t]+$")
_FACT_WITH_UNIT: Final = re.compile(rf"=[ \t]*-?({_NUMBER})[ \t]+({_UNIT.pattern})\s*$")
_BLANK: Final = "a blank stands between a number and its unit"
_TWICE: Final = re.compile(
    r"\b(rule|level|title|each|when|let|require|say|why|headline|remedy|basis|set|given|passes|fails"
    r"|and|or|is|has|where|if|else|of|in|between|within|default)[ \t]+(\1)\s*$"
)
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
        lambda: _doubled_word(text, at),
        lambda: _blank_in_example(text, at, accepted),
        lambda: _per_minute(text, at),
        lambda: _blank_before_unit(text, at),
        lambda: _no_brackets(text, at, accepted),
        lambda: _known_slip(text, at),
        lambda: _unfinished_line(text, at, accepted),
    ):
        cure = found()
        if cure is not None:
            return cure
    return None


def _known_slip(text: str, at: int) -> Cure | None:
    start_of_line = line_start(text, at)
    for slip in (*CLAUSE_SLIPS, *WORD_SLIPS, *EXPRESSION_SLIPS, *LAST_SLIPS):
        after = slip.after.match(text, at)
        before = slip.before.search(text[start_of_line:at]) if after else None
        if before and after:
            group = before.lastindex or 0
            blank = len(before[group]) - len(before[group].lstrip())
            start = start_of_line + before.start(group) + blank
            written = text[start : after.end()].rstrip()
            what = slip.what.replace(WRITTEN, written)
            return Cure(start, start + len(written), what, slip.expected)
    return None


def _blank_before_unit(text: str, at: int) -> Cure | None:
    unit = _UNIT.match(text, at)
    number = _LAST_NUMBER.search(text[line_start(text, at) : at])
    if unit is None or number is None:
        return None
    written, start = number[0].strip(), at - len(number[0])
    named = unit[0].replace("*", "·").rstrip("·")
    end = at + len(named)
    if unit_named(named) is not None or months_of(f"1{named}") is not None:
        return Cure(start, end, _BLANK, f"{written}{named}")
    if named in ("week", "weeks"):
        return Cure(start, end, f"{named} is no unit", "days, months or years, such as 21days")
    near = "" if named.lower() in _AFTER_NUMBERS else suggest_unit(named)
    if not near or text[end : end + 1] in (".", "("):
        return None
    return Cure(start, end, f"{named} is no unit", f"as one word: {written}{near}")


def _blank_in_example(text: str, at: int, accepted: Iterable[str]) -> Cure | None:
    """A blank before the unit of a fact: the unit is taken for the next fact, which has no =."""
    begin = line_start(text, len(text[:at].rstrip()))
    found = _FACT_WITH_UNIT.search(text[begin:at])
    if found is None or "EQUAL" not in accepted or unit_named(found[2]) is None:
        return None
    return Cure(begin + found.start(1), begin + found.end(2), _BLANK, f"{found[1]}{found[2]}")


def _doubled_word(text: str, at: int) -> Cure | None:
    """A word of the language that is written twice: the second one is taken for a name."""
    word = re.compile(r"[a-z]+\b").match(text, at)
    upto = word.end() if word else at
    for end in (at, upto):
        found = _TWICE.search(text[line_start(text, at) : end])
        if found is not None:
            start = line_start(text, at) + found.start(2)
            return Cure(start, start + len(found[2]), f"{found[2]} stands twice", found[2])
    return None


def _per_minute(text: str, at: int) -> Cure | None:
    """A speed of rotation as plates have it, such as 3000/min: min is a word of the language."""
    line = text[line_start(text, at) : at]
    number = _LAST_NUMBER.search(line)
    unit = _PER_MINUTE.match(text, at)
    if number is not None and unit is not None:
        start, end = at - len(number[0]), unit.end()
    else:
        read = text[: len(text[:at]) - len(_ignored(text[:at]))]
        ended = _OVER_MINUTE.search(read)
        if ended is None:
            return None
        number, start, end = ended, ended.start(), len(read)
    speed = number[0].partition("/")[0].strip()
    what = "min is the least of values here, and no unit"
    return Cure(start, end, what, f"{speed}rpm for a speed of rotation, or {speed} / 1min")


def _no_brackets(text: str, at: int, accepted: Iterable[str]) -> Cure | None:
    word = re.compile(r"(?:and|or)\b").match(text, at)
    if word is None or not {"HAS", "TO"} & set(accepted):
        return None
    what = f"{word[0]} stands in a where without brackets"
    return Cure(at, word.end(), what, f"where (a {word[0]} b)")


def _no_version(text: str, at: int, accepted: Iterable[str]) -> Cure | None:
    first = re.compile(r"\S+").match(text, at)
    if list(accepted) != ["LANGUAGE"] or first is None:
        return None
    end = first.end()
    return Cure(at, end, "the file does not say its language version", "language 2 as first line")


def _unfinished_line(text: str, at: int, accepted: Iterable[str]) -> Cure | None:
    """A line that ends where something must follow; the reader only notices on the next.

    It takes the word that begins the next clause for a name, and stumbles over what comes after.
    """
    taken = _CLAUSE_WORD.search(text[:at]) if {"PLUS_MINUS", "RULE"} & set(accepted) else None
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
