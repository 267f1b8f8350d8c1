"""Counts sentences and words as people read them, and finds words that do not belong.

Word lists and limits follow the writing rules of ASD-STE100 (from memory): at most 20 words in a
sentence that tells what to do, 25 in one that describes. A sentence ends at . ? ! or with a list
item. One word are: a number with its unit, a name, a path, a quotation, and a row of values after a
colon. A bracket of more than five words is a sentence of its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import yaml
from axisproof.numbers.units import UNITS

ROOT = Path(__file__).resolve().parents[2]
TELLS, DESCRIBES = 20, 25
"""Most words in a sentence that tells what to do, and in one that describes."""

_LONG_BRACKET = 5
_NUMBER = r"[-+±≈]?\d+(?:[.,/·]\d+)*(?:e[-+]?\d+)?"
_QUOTED = re.compile(r'"[^"]*"|`[^`]*`|“[^”]*”')
_END = re.compile(r"(?<=[.?!])[\"')]*\s+|\n")
_VALUE = r"[^\s,:]+(?: \([^()]*\))?"
_ROW = re.compile(rf": (?:{_VALUE}, )+(?:(?:and|or) )?{_VALUE}(?=[.?!]|$)")
_PROGRAM_WORD = re.compile(r"(?<![\w-])(?:true|false|unknown|none)(?![\w-])(?! [a-z])")
"""Words of programs where a value is told; "the true position" and "none of them" are English."""
_CAUTION = re.compile(
    r"(?:Support|Keep (?:people|everyone|each|the load|the axis|a load)|Let nobody|Nobody"
    r"|Do not stand|Isolate|Lock out|Lock it out|Wait for stored)\b"
)


@cache
def _units() -> re.Pattern[str]:
    names = sorted((re.escape(name) for name in UNITS if name), key=len, reverse=True)
    return re.compile(rf"{_NUMBER}(?: ?(?:{'|'.join(names)}))?(?![\w])")


@cache
def banned() -> dict[re.Pattern[str], str]:
    """Words not to use, and what to use in their place."""
    entries: list[dict[str, Any]] = yaml.safe_load((ROOT / "rules/words.yaml").read_text("utf-8"))
    return {_alone(re.escape(word)): entry["use"] for entry in entries for word in entry["not"]}


@cache
def _any_banned() -> re.Pattern[str]:
    """Matches wherever one of the banned words does."""
    return re.compile("|".join(pattern.pattern for pattern in banned()), re.IGNORECASE)


def _alone(word: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![\w-]){word}(?![\w-])", re.IGNORECASE)


def plain(text: str) -> str:
    """A text in which each quotation, row of values and number with its unit is one word."""
    text = _QUOTED.sub("Q", text)
    text = _units().sub("N", text)
    return _ROW.sub(": V", text)


def sentences(text: str) -> Iterator[str]:
    """The sentences of a text, long brackets apart."""
    for sentence in _END.split(plain(text)):
        rest = sentence
        for bracket in re.findall(r"\(([^()]*)\)", sentence):
            if words(bracket) > _LONG_BRACKET:
                yield bracket
                rest = rest.replace(f"({bracket})", "")
        if rest.strip():
            yield rest.strip()


def words(sentence: str) -> int:
    """How many words a sentence has; a dash or sign alone is none."""
    return sum(1 for word in sentence.split() if any(char.isalnum() for char in word))


class Offence(NamedTuple):
    """What is wrong with a text, and where it stands."""

    where: str
    what: str
    text: str


def offences(where: str, text: str, most: int) -> Iterator[Offence]:
    """What is wrong with a text whose sentences may have ``most`` words."""
    for sentence in sentences(text):
        count = words(sentence)
        if count > most:
            yield Offence(where, f"{count} words, at most {most}", sentence)
    unquoted = _QUOTED.sub("Q", text)
    if ";" in unquoted:
        yield Offence(where, "a semicolon", text)
    if found := _PROGRAM_WORD.search(unquoted):
        yield Offence(where, f"a word of programs, {found[0]}", text)
    for pattern, use in banned().items() if _any_banned().search(unquoted) else ():
        if found := pattern.search(unquoted):
            yield Offence(where, f'"{found[0]}" in place of: {use}', text)


def misplaced_cautions(where: str, text: str) -> Iterator[Offence]:
    """Cautions that stand after the step they belong to: no step follows them."""
    parts = [part.strip() for part in _END.split(text) if part.strip()]
    if len(parts) > 1 and _CAUTION.match(parts[-1]):
        yield Offence(where, "a caution after its step", parts[-1])
