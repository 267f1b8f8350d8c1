"""Words of the trade in ten languages, and the ideas that make a fact: rules/trade_words.yaml."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from functools import lru_cache
from typing import Any, Final

import yaml

from ..base.package_data import read_text

LANGUAGES: Final = ("en", "de", "fr", "it", "es", "nl", "pl", "cs", "sv", "pt")
EVERY: Final = "any"
"""The words that every language takes, English ones among them."""

_LETTERS: Final = str.maketrans({"ß": "ss", "ł": "l", "ø": "o", "đ": "d", "æ": "ae", "œ": "oe"})
_VOWELS: Final = (("ae", "a"), ("oe", "o"), ("ue", "u"))
_LINK_WORDS: Final = frozenset(
    "of the for in to at de du des la le les d l di del della dell do da dos das el los van".split()
)
_LINKS: Final = ("", "s", "es", "n", "en", "e")
_LONGEST_ENDING: Final = 6
_SHORTEST_PIECE: Final = 3
_CLOSE: Final = 0.86
_LONGEST_WORD: Final = 14
_MOST_MEANINGS: Final = 3
_SHORTEST_BASE: Final = 4
_LONGEST_SHORT: Final = 6
_LONG_ENOUGH: Final = 6
"""Letters a word needs so that a slip of one letter does not make it another word."""

_SPEAKS: Final = 1.5
"""Words of one language that a list needs to be in it, or a third of those not English."""

Ideas = frozenset[str]
NOTHING: Final[Ideas] = frozenset()


@dataclass(frozen=True, slots=True)
class Pattern:
    """Ideas that make a fact: of each of ``required`` one, and ``optional`` may be there."""

    required: tuple[Ideas, ...]
    optional: Ideas

    @property
    def named(self) -> Ideas:
        """All ideas that the pattern explains."""
        return self.optional.union(*self.required)


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """The words of one language, folded, with what they mean."""

    exact: dict[str, Ideas] = field(default_factory=dict)
    plain: dict[str, Ideas] = field(default_factory=dict)
    stems: dict[str, Ideas] = field(default_factory=dict)
    phrases: dict[tuple[str, ...], Ideas] = field(default_factory=dict)
    endings: tuple[str, ...] = ()

    def add(self, word: str, idea: str) -> None:
        """Take a word, a stem (it ends in -) or a phrase (it has blanks)."""
        parts = tuple(fold(word).split())
        if len(parts) > 1:
            _join(self.phrases, parts, idea)
            _join(self.phrases, without_links(parts), idea)
            word = "".join(parts)
        if word.endswith("-") and len(word) > 1:
            stem = fold(word[:-1])
            _join(self.stems, stem, idea)
            word = stem
        _join(self.exact, fold(word), idea)
        _join(self.plain, _without_umlauts(fold(word)), idea)

    def meanings(self, token: str) -> Ideas:
        """What a whole token means: as a word, a plural, or a stem with an ending."""
        found = self.exact.get(token) or self.plain.get(_without_umlauts(token))
        if not found and len(token) > _SHORTEST_PIECE and token.endswith("s"):
            found = self.exact.get(token[:-1])
        return found or self._by_stem(token) or self._by_ending(token)

    def _by_ending(self, token: str) -> Ideas:
        """What a token means whose ending, or last vowel, is another than in the table."""
        for ending in self.endings:
            base = token.removesuffix(ending)
            if base != token and len(base) >= _SHORTEST_BASE:
                for other in ("", *self.endings):
                    found = self.exact.get(base + other)
                    if found:
                        return found
        return NOTHING

    def _by_stem(self, token: str) -> Ideas:
        for end in range(len(token) - 1, _SHORTEST_PIECE - 1, -1):
            found = self.stems.get(token[:end])
            ending = len(token) - end
            if found and ending <= (_LONGEST_ENDING if end > _SHORTEST_PIECE else 2):
                return found
        return NOTHING

    def pieces(self, token: str) -> list[Ideas]:
        """The meanings of the parts of a compound; empty if it does not divide wholly."""
        return _divided(self, token, {}) or _divided(self, _without_umlauts(token), {}) or []

    def close(self, token: str) -> Ideas:
        """What a token with a slip of a letter, or with another ending, means."""
        if len(token) < _LONG_ENOUGH:
            return NOTHING
        near = [
            word
            for word in self.exact
            if abs(len(word) - len(token)) <= 2 and len(word) >= _LONG_ENOUGH
        ]
        best = get_close_matches(token, near, n=1, cutoff=_CLOSE)
        return self.exact[best[0]] if best else NOTHING

    def shortened(self, token: str) -> Ideas:
        """What an abbreviation means: the beginning of words, or their consonants, of one idea."""
        if len(token) < _SHORTEST_PIECE:
            return NOTHING
        found = self.begun(token)
        if found or len(token) > _LONGEST_SHORT:
            return found
        for stands_for in (_abbreviates, _begins_parts):
            meant = frozenset[str]().union(
                *(ideas for word, ideas in self.exact.items() if stands_for(token, word))
            )
            if 0 < len(meant) <= _MOST_MEANINGS:
                return meant
        return NOTHING

    def begun(self, token: str) -> Ideas:
        """What words mean that begin with a token; of words that begin alike, the shortest."""
        if len(token) < _SHORTEST_PIECE:
            return NOTHING
        words = sorted(word for word in self.exact if word.startswith(token))
        shortest: list[str] = []
        for word in words:
            if not shortest or not word.startswith(shortest[-1]):
                shortest.append(word)
        meant = frozenset[str]().union(*(self.exact[word] for word in shortest))
        return meant if len(meant) <= _MOST_MEANINGS else NOTHING


@dataclass(frozen=True, slots=True)
class TradeWords:
    """The whole table: a vocabulary a language (shared words in each), patterns a fact."""

    vocabularies: Mapping[str, Vocabulary]
    own: Mapping[str, Vocabulary]
    patterns: Mapping[str, tuple[Pattern, ...]]

    def tells(self, tokens: Iterable[str]) -> int:
        """How many of ``tokens`` mean something in some language."""
        return sum(
            any(each.meanings(token) or each.pieces(token) for each in self.vocabularies.values())
            for token in tokens
            if len(token) > 2
        )

    def language_of(self, tokens: Iterable[str]) -> str:
        """The language whose own words explain the most of ``tokens``; English if none does."""
        counts = dict.fromkeys(LANGUAGES, 0.0)
        shared = self.own["en"]
        in_phrases = {word for phrase in shared.phrases for word in phrase}
        foreign = 0
        for token in set(tokens):
            if len(token) <= 2 or token in in_phrases or shared.meanings(token):
                continue
            if shared.pieces(token):
                continue
            foreign += 1
            speaks = [
                language
                for language in LANGUAGES
                if language != "en"
                and (
                    self.own[language].meanings(token) or self.vocabularies[language].pieces(token)
                )
            ]
            for language in speaks:
                counts[language] += 1 / len(speaks)
        best = max(LANGUAGES, key=lambda language: (counts[language], language == "en"))
        return best if counts[best] >= min(_SPEAKS, foreign / 3 or 1) else "en"


def _join(table: dict[str, Ideas] | dict[tuple[str, ...], Ideas], key: object, idea: str) -> None:
    table[key] = table.get(key, NOTHING) | {idea}  # type: ignore[index,call-overload]


def without_links(parts: tuple[str, ...]) -> tuple[str, ...]:
    """The words of a phrase without those that only link others: of, de, di."""
    kept = tuple(part for part in parts if part not in _LINK_WORDS)
    return kept if len(kept) > 1 else parts


def fold(text: str) -> str:
    """``text`` in small letters without accents."""
    spread = unicodedata.normalize("NFKD", text.lower().translate(_LETTERS))
    return "".join(each for each in spread if not unicodedata.combining(each))


def _without_umlauts(token: str) -> str:
    for pair, letter in _VOWELS:
        token = token.replace(pair, letter)
    return token


def _abbreviates(token: str, word: str) -> bool:
    """Whether a token is a word without vowels, or with some of its letters left out."""
    if token[0] != word[0] or len(word) > _LONGEST_WORD:
        return False
    rest = iter(word)
    if not all(letter in rest for letter in token):
        return False
    consonants = [letter for letter in word[1:] if letter not in "aeiouy"]
    return [*token[1:]] == [*dict.fromkeys(consonants)] or [*token[1:]] == consonants


def _begins_parts(token: str, word: str) -> bool:
    """Whether a token has the beginning of a word, and then single letters of it in order."""
    if len(token) <= _SHORTEST_PIECE + 1 or token[:_SHORTEST_PIECE] != word[:_SHORTEST_PIECE]:
        return False
    rest = iter(word[_SHORTEST_PIECE:])
    return all(letter in rest for letter in token[_SHORTEST_PIECE:])


def _divided(
    vocabulary: Vocabulary, token: str, known: dict[str, list[Ideas] | None]
) -> list[Ideas] | None:
    """The fewest parts, each with a meaning, that make up ``token``."""
    if token in known:
        return known[token]
    known[token] = None
    whole = vocabulary.meanings(token)
    if whole and len(token) >= _SHORTEST_PIECE:
        known[token] = [whole]
        return known[token]
    best: list[Ideas] | None = None
    for end in range(len(token) - _SHORTEST_PIECE, _SHORTEST_PIECE - 1, -1):
        head = vocabulary.exact.get(token[:end]) or vocabulary.plain.get(token[:end])
        if not head:
            continue
        for link in _LINKS:
            if not token.startswith(link, end):
                continue
            rest = _divided(vocabulary, token[end + len(link) :], known)
            if rest and (best is None or len(rest) + 1 < len(best)):
                best = [head, *rest]
    known[token] = best
    return best


def _pattern(text: str) -> Pattern:
    required: list[Ideas] = []
    optional: set[str] = set()
    for part in text.split():
        if part.startswith("?"):
            optional.add(part[1:])
        else:
            required.append(frozenset(part.split("|")))
    return Pattern(tuple(required), frozenset(optional))


@lru_cache(maxsize=1)
def word_table() -> dict[str, Any]:
    """The whole of rules/trade_words.yaml."""
    table: dict[str, Any] = yaml.safe_load(read_text("axisproof.rules", "trade_words.yaml"))
    return table


@lru_cache(maxsize=1)
def trade_words() -> TradeWords:
    """The table that ships."""
    table = word_table()
    endings = {language: tuple(table["endings"][language]) for language in LANGUAGES}
    own = {language: Vocabulary(endings=endings[language]) for language in LANGUAGES}
    whole = {language: Vocabulary(endings=endings[language]) for language in LANGUAGES}
    for idea, by_language in table["words"].items():
        for language, words in by_language.items():
            for word in map(str.strip, words.split(",")):
                own["en" if language == EVERY else language].add(word, idea)
                for each in LANGUAGES if language == EVERY else (language,):
                    whole[each].add(word, idea)
    patterns = {fact: tuple(map(_pattern, texts)) for fact, texts in table["facts"].items()}
    return TradeWords(whole, own, patterns)
