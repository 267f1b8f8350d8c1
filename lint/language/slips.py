"""Slips that people make who know other languages or write English: what is wrong, and its cure."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Slip:
    """A slip by what stands before and after the place where reading failed.

    Both patterns touch that place. The slip begins where the first of them does, or at its group.
    WRITTEN in ``what`` stands for the slip as it is written.
    """

    before: re.Pattern[str]
    after: re.Pattern[str]
    what: str
    expected: str


def slip(before: str, after: str, what: str, expected: str) -> Slip:
    """A slip by two patterns."""
    return Slip(re.compile(f"(?:{before})$"), re.compile(after), what, expected)


WRITTEN: Final = "§"
NO_SIGN: Final = f"{WRITTEN} is no sign of the language"
NO_WORD: Final = f"{WRITTEN} is no word of the language"
EQUAL: Final = "a = b for numbers and dates, a is b for words, texts and flags"
UNLIKE: Final = "not a = b for numbers and dates, a is not b for words, texts, flags and none"

ORDER: Final = "a < b for less, a <= b for at most, a > b for more, a >= b for at least"
NEAR: Final = "a within t of b, where t is an amount in the unit of a and b"
ONE_OF: Final = "is one of [a, b]"
EACH_ITEM: Final = "every x in LIST has …, or some x in LIST has …"

EXPRESSION_SLIPS: Final = (
    slip(r"\blet\s+\w+\s*()", ":=?", "a : stands after the name of a let", "="),
    slip(r"\blet\s+(\w+\s+)", r"\w+(?=\s*=)", "a name is one word", "words joined by _"),
    slip(r"\+", r"/\s*-", "+/- is no sign of the language", NEAR),
    slip("", "±", "± is no sign of the language", NEAR),
    slip("", "≈", "≈ is no sign of the language", NEAR),
    slip("", ";", "a semicolon ends no clause", "nothing: a clause ends where the next one begins"),
    slip(
        "",
        r"(?:%(?=\s*[\w(])|mod\b)",
        "% and mod are no signs of the language",
        "remainder(a, b), or b divides a",
    ),
    slip(
        r"(?<![\w.])([0-9]+)",
        r"(?:,[0-9]+|'[0-9]{3}(?![0-9]))",
        "a number has no comma and no sign between thousands",
        "a point before decimals, and all digits together: 2.5, 3000",
    ),
    slip(
        r"(?<![\w.])([0-9]+(?:\.[0-9]+)?[eE][0-9]+\s*)",
        r"[A-Za-zµ°%]+",
        "a number has no exponent",
        "all its digits: 1000rpm",
    ),
    slip(r"[0-9](x\s+)", r"(?=[A-Za-z(])", "x is no sign of the language", "*"),
    slip(r"[0-9]\s*(%\s+)", r"of\b", "of does not multiply", "*, as in 150% * x"),
    slip(
        r"(?<![\w.])([0-9][\w.]*\s+)", r"per\b", "per is no word of the language", "/, as in 5mm/s"
    ),
    slip(
        "",
        r"(?:exists?|present|missing)\b",
        "whether a part is there is asked in another way",
        "x is not none, or x is none. If nobody stated it, the check cannot be decided",
    ),
    slip(
        r"\b(is(?:\s+not)?\s+)between\s*",
        r"\S",
        "is does not stand before between",
        "a between b and c, or not (a between b and c)",
    ),
    slip(
        r"\b(is(?:\s+not)?\s+(?:greater|less|more|smaller|larger|higher|lower|bigger)\s+)",
        r"than\b",
        "numbers are compared by signs",
        ORDER,
    ),
    slip(r"\b(is\s+at\s+)", r"(?:least|most)\b", "numbers are compared by signs", ORDER),
    slip(r"\b(is(?:\s+not)?\s+either\s+)", r"\w+", "either is no word of the language", ONE_OF),
    slip(
        r"\b(is(?:\s+not)?\s+one\s+of\s+)",
        r"[^\s\[]+",
        "a list stands in square brackets",
        ONE_OF,
    ),
    slip(r"\bis(?:\s+not)?\s+(\w+\s*)", ",", "a list stands in square brackets", ONE_OF),
    slip("", r"not\s+in\b", "in is not asked of a word", "is not one of […]"),
    slip("", r"not\s*=", "not stands before the whole comparison", UNLIKE),
    slip(
        "",
        r"in\s*(?:\(|[0-9])[^\n]*",
        "in is not asked of a number",
        "a between b and c, or a = b or a = c. For words and texts: is one of […]",
    ),
    slip(
        r"(?:\b(?:version|firmware)\S*\s*[<>=]+\s*)([0-9]+\.[0-9]+)",
        r"\.[0-9]+",
        "a version is a text",
        'version_at_least(a, "1.2.3")',
    ),
    slip(
        r"\brequire\s+(if\s+)",
        r"(?![^\n]*\bthen\b)\S[^\n]*",
        "if does not stand before what is required",
        "when, a clause before require, with the condition",
    ),
    slip(r"\brequire\s+(for\s+)", r"\S[^\n]*", "for begins no condition", EACH_ITEM),
    slip(
        r"(?<!each )\b((?:all|any)\s+)",
        r"[A-Za-z]\w*(?=\s+in\b)",
        "of comes after this word",
        EACH_ITEM,
    ),
    slip(
        r"(?<!each )(?<!includes )\b(?:all|any)\s+",
        r"(?!of\b)[A-Za-z][\w.]*",
        "of comes after this word",
        "any of LIST in [a, b]",
    ),
    slip(r"(?<=[\w.])", r"\[[0-9]+\]", "an item of a list has no number", EACH_ITEM),
    slip(
        r"\b(count\s+of\s+\S+\s+)",
        r"(?:[<>=]+|and\b|or\b)",
        "count of names each item",
        "count of x in LIST, or count of x in LIST where …",
    ),
    slip("=", "=+", NO_SIGN, EQUAL),
    slip("", "==+", NO_SIGN, EQUAL),
    slip("", "!=", "!= is no sign of the language", UNLIKE),
    slip("<", ">", "<> is no sign of the language", UNLIKE),
    slip("=", ">", "=> is no sign of the language", ">="),
    slip("=", "<", "=< is no sign of the language", "<="),
    slip("", "&&?", "& is no sign of the language", "and"),
    slip("", r"\|\|?", "| is no sign of the language", "or"),
    slip("", "!", "! is no sign of the language", "not"),
    slip("", "≤", "≤ is no sign of the language", "<="),
    slip("", "≥", "≥ is no sign of the language", ">="),
    slip("", "≠", "≠ is no sign of the language", UNLIKE),
    slip("", "×", "× is no sign of the language", "*"),
    slip(
        "",
        r"(?:AND|OR|NOT|IS|IF|ELSE|WHERE|HAS|EVERY|SOME|NO|TRUE|FALSE)\b",
        "words of the language are in lower case",
        "and, or, not, is",
    ),
    slip(r"^[ \t]*", r"if\b", "if begins no clause", "when"),
    slip(
        r"\blet\s+\w+\s*=[^\n]*\s",
        r"in\s+\S+",
        "the unit of a let stands before its =",
        'let needed "needed delay" in ms = …',
    ),
    slip(
        r"\b(?:count|sum|product)\s*",
        r"\(",
        "this is asked of the items of a list",
        "count of x in LIST where …, or sum of x.FACT for x in LIST",
    ),
    slip(r"[0-9]", r"\.(?![0-9])", "a digit is missing after the point", "1.5, or 1"),
    slip(r"\*", r"\*", "** is no sign of the language", "^, as in x^2"),
    slip("", "'[^'\n]*'?", "a text stands in double quotes", '"…"'),
    slip("", "[“”„][^“”\n]*[“”]?", "a text stands in straight double quotes", '"…"'),
    slip(
        r"(?:<=|>=|<|>|=)\s*[^\s<>=]+\s*",
        "<=|>=|<|>|=",
        "two comparisons in a row",
        "a <= b and b <= c, or b between a and c",
    ),
    slip(
        r"(?<![\w.])[0-9]{1,4}[./][0-9]{1,2}",
        r"[./][0-9]{1,4}",
        "this is not how a day is written",
        "year-month-day, such as 2026-03-14",
    ),
    slip(r"[0-9]", "(?:π|pi)", "a sign is missing before pi", "2 * pi"),
    slip(
        r"\bis(?:\s+not)?\s+in\s*",
        r"\[[^\]\n]*\]?",
        "is in is not asked",
        "is one of […]",
    ),
    slip("", r"in\s*\[[^\]\n]*\]?", "in is not asked of a word", "is one of […]"),
    slip(
        r"\bincludes\s+(?:any|all|none|each)\s*",
        r"of\b",
        "includes is asked of one word",
        "any of LIST in [a, b], or all of [a, b] in LIST",
    ),
    slip("", r"starts?\s*_?with\b", "this is no word of the language", "begins with"),
    slip("", r"ends_?with\b", "this is no word of the language", "ends with"),
    slip("", r"(?:like|matches)\b", "a text has no patterns", "begins with, ends with or contains"),
    slip(r"\bif\s+", r"\S[^\n]*\bthen\b", "if does not stand before its value", "a if c else b"),
    slip(
        "",
        r"then\b|else\s+if\b",
        "this is no word of the language here",
        "a if c else b",
    ),
    slip("", r"otherwise\b", "otherwise is no word of the language", "a if c else b"),
    slip(
        "",
        r"else\b",
        "no if stands before this else",
        "a default b where nobody states a, a if c else b where c is false",
    ),
    slip(
        r"(?<![\w.])(?:max|min|sum|product|count|all|any|decimals)\s*",
        r"[^\w\s(]",
        "this is a word of the language, and of comes after it",
        "another name",
    ),
)
