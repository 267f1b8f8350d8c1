"""A parameter's name as the ideas it names, in every way it can be read."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from typing import Final

from .trade_words import Ideas, Vocabulary, fold, without_links

NEUTRAL: Final = "number_of"
"""The idea of words that tell nothing: of, the, value, parameter."""

_TOKEN: Final = re.compile(
    r"[0-9]+(?:st|nd|rd)\b|[^\W\d_]+|[0-9]+|[+\-−–](?=\s*\)?\s*$)|(?<=\()[+\-−–](?=\))|\+(?=\s)"
)
_HUMP: Final = re.compile(r"(?<=[a-zà-öø-ÿ])(?=[A-ZÀ-ÖØ-Þ])|(?<=[A-Z])(?=[A-Z][a-z])")
_IDENTIFIER: Final = re.compile(r"^\s*[A-Za-z]{0,3}[-_.]?[0-9]{2,}(?:[-_.:][0-9]+)*\b[\s:;.)-]*")
_SIGNS: Final = {"+": "positive", "-": "negative", "−": "negative", "–": "negative"}
_MOST_READINGS: Final = 16
_LONGEST_PHRASE: Final = 6
_LONGEST_BEGINNING: Final = 6
"""Letters up to which a word is rather the beginning of a longer one than two short ones."""


@dataclass(frozen=True, slots=True)
class NameReading:
    """One way to read a name: what each part can mean, and the parts that mean nothing known."""

    parts: tuple[Ideas, ...]
    unknown: tuple[str, ...]
    slips: int

    @property
    def ideas(self) -> Ideas:
        """All ideas that the name can mean in this reading."""
        return frozenset[str]().union(*self.parts)


def tokens(name: str) -> list[str]:
    """The words, numbers and signs of a name, folded; humps and underscores divide words."""
    name = _IDENTIFIER.sub("", name) or name
    spaced = " ".join(_HUMP.sub(" ", name).replace("_", " ").split())
    return [fold(token) for token in _TOKEN.findall(spaced)]


def readings(name: str, vocabulary: Vocabulary, common: frozenset[str]) -> list[NameReading]:
    """The ways to read ``name``, those with phrases first.

    ``common`` are words that many names of the list share, so that not knowing them tells nothing.
    """
    parts = tokens(name)
    choices = [list(each) for each in _choices(parts, vocabulary)]
    found: list[NameReading] = []
    for chosen in _few(product(*choices)):
        ideas: list[Ideas] = []
        unknown: list[str] = []
        slips = 0
        for token, meanings, slip in (entry for way in chosen for entry in way):
            if meanings:
                ideas.append(meanings)
                slips += slip
            elif token not in common and (len(token) > 2 or token.isdigit()):
                unknown.append(token)
        found.append(NameReading(tuple(ideas), tuple(unknown), slips))
    return found


Way = tuple[tuple[str, Ideas, int], ...]
"""Entries of a reading: the token, what it means, and whether that rests on a slip."""


def _few(ways: Iterable[tuple[Way, ...]]) -> Iterator[tuple[Way, ...]]:
    for number, way in enumerate(ways):
        if number >= _MOST_READINGS:
            return
        yield way


def _choices(parts: list[str], vocabulary: Vocabulary) -> Iterator[tuple[Way, ...]]:
    """For each stretch of tokens the ways to read it: as a phrase, or word by word."""
    at = 0
    while at < len(parts):
        for end in range(min(len(parts), at + _LONGEST_PHRASE), at + 1, -1):
            stretch = tuple(parts[at:end])
            meanings = vocabulary.phrases.get(stretch)
            meanings = meanings or vocabulary.phrases.get(without_links(stretch))
            if meanings:
                phrase: Way = ((" ".join(stretch), meanings, 0),)
                yield phrase, tuple(each for token in stretch for each in _word(token, vocabulary))
                at = end
                break
        else:
            yield (_word(parts[at], vocabulary),)
            at += 1


def _word(token: str, vocabulary: Vocabulary) -> Way:
    if token in _SIGNS:
        return ((token, frozenset({_SIGNS[token]}), 0),)
    if token.isdigit():
        return ((token, frozenset(), 0),)
    if token in SYMBOLS and not vocabulary.exact.get(token, frozenset()) - {NEUTRAL}:
        return ((token, SYMBOLS[token] | {NEUTRAL}, 0),)
    meanings = vocabulary.meanings(token) | SYMBOLS.get(token, frozenset())
    if meanings:
        return ((token, meanings, 0),)
    begun = vocabulary.begun(token) if len(token) <= _LONGEST_BEGINNING else frozenset[str]()
    if begun:
        return ((token, begun, 1),)
    pieces = vocabulary.pieces(token)
    if pieces:
        return tuple((token, piece, 0) for piece in pieces)
    quantity = SYMBOLS.get(token[0], frozenset())
    qualifier = vocabulary.exact.get(token[1:], frozenset()) & QUALIFIERS
    if quantity and qualifier:
        return ((token, quantity, 0), (token, qualifier, 0))
    close = vocabulary.close(token)
    return ((token, close, 1),) if close else ((token, vocabulary.shortened(token), 1),)


SYMBOLS: Final[Mapping[str, Ideas]] = {
    "n": frozenset({"speed"}),
    "v": frozenset({"speed"}),
    "m": frozenset({"torque", "mass"}),
    "t": frozenset({"torque", "time"}),
    "i": frozenset({"current", "ratio"}),
    "u": frozenset({"voltage"}),
    "f": frozenset({"force", "frequency"}),
    "p": frozenset({"power"}),
    "j": frozenset({"inertia", "jerk"}),
    "a": frozenset({"acceleration"}),
}
"""Letters for quantities, as in n_max and I_nom: ISO 80000-3, -4 and -6, and common practice."""

QUALIFIERS: Final[Ideas] = frozenset({"rated", "max", "min", "peak", "limit", "rotor"})
