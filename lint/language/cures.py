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
from ..numbers.units import suggest_unit
from .syntax import line_start


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

    Both patterns touch that place. The slip begins where the first of them does, or at its group.
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

_ORDER: Final = "a < b for less, a <= b for at most, a > b for more, a >= b for at least"
_NEAR: Final = "a within t of b, where t is an amount in the unit of a and b"
_ONE_OF: Final = "is one of [a, b]"
_EACH_ITEM: Final = "every x in LIST has …, or some x in LIST has …"

_SLIPS: Final = (
    _slip(r"\blet\s+\w+\s*()", ":=?", "a : stands after the name of a let", "="),
    _slip(r"\blet\s+(\w+\s+)", r"\w+(?=\s*=)", "a name is one word", "words joined by _"),
    _slip(r"\+", r"/\s*-", "+/- is no sign of the language", _NEAR),
    _slip("", "±", "± is no sign of the language", _NEAR),
    _slip("", "≈", "≈ is no sign of the language", _NEAR),
    _slip(
        "", ";", "a semicolon ends no clause", "nothing: a clause ends where the next one begins"
    ),
    _slip(
        "",
        r"(?:%(?=\s*[\w(])|mod\b)",
        "% and mod are no signs of the language",
        "remainder(a, b), or b divides a",
    ),
    _slip(
        r"(?<![\w.])([0-9]+)",
        r"(?:,[0-9]+|'[0-9]{3}(?![0-9]))",
        "a number has no comma and no sign between thousands",
        "a point before decimals, and all digits together: 2.5, 3000",
    ),
    _slip(
        r"(?<![\w.])([0-9]+(?:\.[0-9]+)?[eE][0-9]+\s*)",
        r"[A-Za-zµ°%]+",
        "a number has no exponent",
        "all its digits: 1000rpm",
    ),
    _slip(r"[0-9](x\s+)", r"(?=[A-Za-z(])", "x is no sign of the language", "*"),
    _slip(r"[0-9]\s*(%\s+)", r"of\b", "of does not multiply", "*, as in 150% * x"),
    _slip(
        r"(?<![\w.])([0-9][\w.]*\s+)", r"per\b", "per is no word of the language", "/, as in 5mm/s"
    ),
    _slip(
        "",
        r"(?:exists?|present|missing)\b",
        "whether a part is there is asked in another way",
        "x is not none, or x is none. If nobody stated it, the check cannot be decided",
    ),
    _slip(
        r"\b(is(?:\s+not)?\s+)between\s*",
        r"\S",
        "is does not stand before between",
        "a between b and c, or not (a between b and c)",
    ),
    _slip(
        r"\b(is(?:\s+not)?\s+(?:greater|less|more|smaller|larger|higher|lower|bigger)\s+)",
        r"than\b",
        "numbers are compared by signs",
        _ORDER,
    ),
    _slip(r"\b(is\s+at\s+)", r"(?:least|most)\b", "numbers are compared by signs", _ORDER),
    _slip(r"\b(is(?:\s+not)?\s+either\s+)", r"\w+", "either is no word of the language", _ONE_OF),
    _slip(
        r"\b(is(?:\s+not)?\s+one\s+of\s+)",
        r"[^\s\[]+",
        "a list stands in square brackets",
        _ONE_OF,
    ),
    _slip(r"\bis(?:\s+not)?\s+(\w+\s*)", ",", "a list stands in square brackets", _ONE_OF),
    _slip("", r"not\s+in\b", "in is not asked of a word", "is not one of […]"),
    _slip("", r"not\s*=", "not stands before the whole comparison", _UNLIKE),
    _slip(
        "",
        r"in\s*(?:\(|[0-9])[^\n]*",
        "in is not asked of a number",
        "a between b and c, or a = b or a = c. For words and texts: is one of […]",
    ),
    _slip(
        r"(?:\b(?:version|firmware)\S*\s*[<>=]+\s*)([0-9]+\.[0-9]+)",
        r"\.[0-9]+",
        "a version is a text",
        'version_at_least(a, "1.2.3")',
    ),
    _slip(
        r"\brequire\s+(if\s+)",
        r"(?![^\n]*\bthen\b)\S[^\n]*",
        "if does not stand before what is required",
        "when, a clause before require, with the condition",
    ),
    _slip(r"\brequire\s+(for\s+)", r"\S[^\n]*", "for begins no condition", _EACH_ITEM),
    _slip(
        r"(?<!each )\b((?:all|any)\s+)",
        r"[A-Za-z]\w*(?=\s+in\b)",
        "of comes after this word",
        _EACH_ITEM,
    ),
    _slip(
        r"(?<!each )(?<!includes )\b(?:all|any)\s+",
        r"(?!of\b)[A-Za-z][\w.]*",
        "of comes after this word",
        "any of LIST in [a, b]",
    ),
    _slip(r"(?<=[\w.])", r"\[[0-9]+\]", "an item of a list has no number", _EACH_ITEM),
    _slip(
        r"\b(count\s+of\s+\S+\s+)",
        r"(?:[<>=]+|and\b|or\b)",
        "count of names each item",
        "count of x in LIST, or count of x in LIST where …",
    ),
    _slip("=", "=", "== is no sign of the language", _EQUAL),
    _slip("", "==", "== is no sign of the language", _EQUAL),
    _slip("", "!=", "!= is no sign of the language", _UNLIKE),
    _slip("<", ">", "<> is no sign of the language", _UNLIKE),
    _slip("=", ">", "=> is no sign of the language", ">="),
    _slip("=", "<", "=< is no sign of the language", "<="),
    _slip("", "&&?", "& is no sign of the language", "and"),
    _slip("", r"\|\|?", "| is no sign of the language", "or"),
    _slip("", "!", "! is no sign of the language", "not"),
    _slip("", "≤", "≤ is no sign of the language", "<="),
    _slip("", "≥", "≥ is no sign of the language", ">="),
    _slip("", "≠", "≠ is no sign of the language", _UNLIKE),
    _slip("", "×", "× is no sign of the language", "*"),
    _slip(
        "",
        r"(?:AND|OR|NOT|IS|IF|ELSE|WHERE|HAS|EVERY|SOME|NO|TRUE|FALSE)\b",
        "words of the language are in lower case",
        "and, or, not, is",
    ),
    _slip(r"^[ \t]*", r"if\b", "if begins no clause", "when"),
    _slip(
        r"\blet\s+\w+\s*=[^\n]*\s",
        r"in\s+\S+",
        "the unit of a let stands before its =",
        'let needed "needed delay" in ms = …',
    ),
    _slip(
        r"\b(?:count|sum|product)\s*",
        r"\(",
        "this is asked of the items of a list",
        "count of x in LIST where …, or sum of x.FACT for x in LIST",
    ),
    _slip(r"[0-9]", r"\.(?![0-9])", "a digit is missing after the point", "1.5, or 1"),
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
    _slip(r"\bif\s+", r"\S[^\n]*\bthen\b", "if does not stand before its value", "a if c else b"),
    _slip(
        "",
        r"then\b|else\s+if\b",
        "this is no word of the language here",
        "a if c else b",
    ),
    _slip("", r"otherwise\b", "otherwise is no word of the language", "a if c else b"),
    _slip(
        "",
        r"else\b",
        "no if stands before this else",
        "a default b where nobody states a, a if c else b where c is false",
    ),
    _slip(
        r"(?<![\w.])(?:max|min|sum|product|count|all|any|decimals)\s*",
        r"[^\w\s(]",
        "this is a word of the language, and of comes after it",
        "another name",
    ),
)

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
    for slip in _SLIPS:
        after = slip.after.match(text, at)
        before = slip.before.search(text[start_of_line:at]) if after else None
        if before and after:
            group = before.lastindex or 0
            blank = len(before[group]) - len(before[group].lstrip())
            start = start_of_line + before.start(group) + blank
            return Cure(start, after.end(), slip.what, slip.expected)
    return None


def _blank_before_unit(text: str, at: int) -> Cure | None:
    unit = _UNIT.match(text, at)
    number = _LAST_NUMBER.search(text[line_start(text, at) : at])
    if unit is None or number is None:
        return None
    written, start = number[0].strip(), at - len(number[0])
    named = unit[0].replace("*", "·").rstrip("·")
    end = at + len(named)
    if unit_named(named) is not None:
        what = "a blank stands between a number and its unit"
        return Cure(start, end, what, f"{written}{named}")
    near = "" if named.lower() in _AFTER_NUMBERS else suggest_unit(named)
    if not near or text[end : end + 1] in (".", "("):
        return None
    return Cure(start, end, f"{named} is no unit", f"as one word: {written}{near}")


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
