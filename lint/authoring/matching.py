"""Which row of a parameter list states which fact: proposals, and how sure each is.

A proposal is active only if one row and one fact belong together clearly: the name says it, the
unit has the kind of the fact, the values are plausible, and no other row or fact comes close.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from ..importing.values import MACHINE, fact_at
from ..machine.schema import RecordType, axis_type, facts
from .known_values import Known, compared
from .list_rows import ListRow, ListShape
from .match_evidence import (
    LEAST,
    Evidence,
    apart_ideas,
    fit_of,
    implied_ideas,
    name_score,
    object_of,
)
from .name_ideas import NameReading, readings, tokens
from .trade_words import Ideas, TradeWords, fold, trade_words

ACTIVE: Final = 0.91
"""From this score on a proposal can be active."""

CLEAR: Final = 0.12
"""By so much the best must be better than the next."""

LONGEST: Final = 200
"""Characters of a name that are compared with words."""

_COMMON: Final = 0.4
_REFERENCE: Final = "controller.homing.reference_position"


@dataclass(frozen=True, slots=True)
class RowProposal:
    """A row with the facts it may state, the likeliest first; ``active`` if there is no doubt."""

    row: ListRow
    evidence: tuple[Evidence, ...]
    active: bool
    why: str = ""

    @property
    def fact(self) -> str:
        """The likeliest fact."""
        return self.evidence[0].fact


@dataclass(slots=True)
class Match:
    """What was found in a list: proposals in the order of its rows, and rows without any."""

    shape: ListShape
    language: str
    proposals: list[RowProposal] = field(default_factory=list)
    unmapped: list[ListRow] = field(default_factory=list)


def match_rows(shape: ListShape, known: Known | None = None) -> Match:
    """Propose facts for the rows of a list; ``known`` are values of the same axis, if there are."""
    words = trade_words()
    shape.rows = [_with_short_names(row) for row in shape.rows]
    named = [text for row in shape.rows for text in (*row.texts, row.context)]
    language = words.language_of(token for text in named for token in tokens(text))
    common = _common(shape)
    found = Match(shape, language)
    ideas = _Ideas(words, language, common)
    families = _families(shape.rows)
    candidates: list[tuple[ListRow, list[Evidence]]] = []
    for row in shape.rows:
        evidence = sorted(ideas.evidence(row, shape.comma), key=lambda each: -each.score)
        if known:
            evidence = compared(row, evidence, known, shape.comma)
        if evidence:
            candidates.append((row, evidence))
        else:
            found.unmapped.append(row)
    best = _best_rows(candidates)
    proposals = [_judged(row, evidence, best, families) for row, evidence in candidates]
    found.proposals = _whole_records(proposals)
    return found


def _with_short_names(row: ListRow) -> ListRow:
    if len(row.context) <= LONGEST and all(len(text) <= LONGEST for text in row.texts):
        return row
    texts = tuple(text[:LONGEST] for text in row.texts)
    return replace(row, texts=texts, context=row.context[:LONGEST])


class _Ideas:
    """Evidence for the rows of one list."""

    def __init__(self, words: TradeWords, language: str, common: frozenset[str]) -> None:
        self.words = words
        self.vocabulary = words.vocabularies[language]
        self.common = common

    def read(self, text: str) -> list[NameReading]:
        return readings(text, self.vocabulary, self.common)

    def evidence(self, row: ListRow, comma: bool) -> Iterable[Evidence]:
        own = schema_fact(row)
        if own:
            yield from _with_fit(row, own, 1.0, comma, own=True)
            return
        standard = object_of(row)
        around = self.read(row.context)
        context: Ideas = frozenset[str]().union(*(each.ideas for each in around))
        implied = implied_ideas(row)
        ways = [self.read(text) for text in row.texts]
        read = [each for way in ways for each in way]
        first = [*(way[0] for way in ways), around[0]]
        apart = apart_ideas(part for each in first for part in each.parts)
        for fact, patterns in self.words.patterns.items():
            score = max(
                (
                    name_score(fact, pattern, reading, apart, context, implied)
                    for pattern in patterns
                    for reading in read
                ),
                default=0.0,
            )
            if fact == standard:
                score = 1.0
            if score >= LEAST:
                yield from _with_fit(row, fact, score, comma)


def schema_fact(row: ListRow) -> str:
    """The fact whose path a row bears as its name, with or without its section; else empty."""
    known = _by_plain_name()
    for text in (row.name, *row.texts, *(f"{row.context} {text}" for text in row.texts)):
        fact = known.get(_plain(text))
        if fact:
            return fact
    return ""


def _plain(text: str) -> str:
    return "_".join(re.findall(r"[a-z0-9]+", fold(text)))


def _by_plain_name() -> dict[str, str]:
    return {
        _plain(path): path
        for path, about in facts(axis_type()).items()
        if not isinstance(about.type, RecordType) and not about.implied
    }


def _with_fit(
    row: ListRow, fact: str, score: float, comma: bool, *, own: bool = False
) -> Iterable[Evidence]:
    fit = fit_of(fact, row, comma, own=own)
    if not fit.kind:
        return
    if fact == _REFERENCE:
        fit.entry["reference_reads"] = "offset"
        fit.doubts.append("the sign differs: say if the axis shows the offset or minus the offset")
    yield Evidence(fact, score, fit.entry, tuple(fit.doubts), fit.plausible)


def _common(shape: ListShape) -> frozenset[str]:
    """Words that many rows share, and the names of the axes."""
    counts = Counter(
        token
        for row in shape.rows
        for token in {each for text in row.texts for each in tokens(text)}
    )
    shared = {word for word, number in counts.items() if number > _COMMON * len(shape.rows)}
    shared |= _groups(shape.rows)
    return frozenset(shared | {token for name in shape.subjects for token in tokens(name)})


def _groups(rows: Sequence[ListRow]) -> frozenset[str]:
    """Words before the first point of names, where most names have one: groups of the list."""
    heads = Counter(row.name.partition(".")[0] for row in rows if "." in row.name[1:-1])
    if heads.total() < 2 * len(rows) / 3 or len(heads) > len(rows) / 3:
        return frozenset()
    return frozenset(each for head in heads for each in tokens(head))


def _families(rows: Sequence[ListRow]) -> frozenset[str]:
    """Names of rows that differ from another row by a number alone."""
    alike: defaultdict[tuple[object, ...], list[ListRow]] = defaultdict(list)
    for row in rows:
        words = tuple(
            tuple(each for each in tokens(text) if not each.isdigit()) for text in row.texts
        )
        alike[words, row.context].append(row)
    return frozenset(row.name for group in alike.values() if len(group) > 1 for row in group)


def _best_rows(
    candidates: list[tuple[ListRow, list[Evidence]]],
) -> dict[str, list[tuple[float, str]]]:
    """For each fact the rows whose likeliest facts it is among, the best first."""
    found: defaultdict[str, list[tuple[float, str]]] = defaultdict(list)
    for row, evidence in candidates:
        for each in evidence:
            if each.score > evidence[0].score - CLEAR:
                found[each.fact].append((each.score, row.name))
    return {
        fact: sorted(rows, key=lambda each: (-each[0], each[1])) for fact, rows in found.items()
    }


def _judged(
    row: ListRow,
    evidence: list[Evidence],
    best: Mapping[str, list[tuple[float, str]]],
    families: frozenset[str],
) -> RowProposal:
    first = evidence[0]
    close = [each for each in evidence[1:] if each.score > first.score - CLEAR]
    rows = best[first.fact]
    why = ""
    if row.repeated:
        why = "the list has several rows of this name"
    elif first.doubts:
        why = first.doubts[0]
    elif close:
        why = f"or {' or '.join(each.fact for each in close[:3])}"
    elif len(rows) > 1 and rows[1][0] > rows[0][0] - CLEAR:
        others = [name for _, name in rows if name != row.name]
        why = f"{others[0]} could be the same fact"
    elif rows[0][1] != row.name:
        why = f"{rows[0][1]} fits this fact better"
    elif row.name in families:
        why = "another row differs by a number alone"
    elif first.score < ACTIVE:
        why = "the name says more, or less, than the fact"
    return RowProposal(row, (first, *close[:3]), not why, why)


def _whole_records(proposals: list[RowProposal]) -> list[RowProposal]:
    """Proposals whose record needs a fact that no other row states are not active."""
    active = {proposal.fact for proposal in proposals if proposal.active}
    result = []
    for proposal in proposals:
        lacking = _lacking(proposal.fact, active) if proposal.active else ""
        if lacking:
            proposal = replace(proposal, active=False, why=f"it needs {lacking} beside it")
        result.append(proposal)
    return result


def _lacking(fact: str, active: set[str]) -> str:
    parent, _, _ = fact.rpartition(".")
    if not parent or fact.startswith(MACHINE):
        return ""
    record = fact_at(parent).type
    if isinstance(record, RecordType):
        return next(
            (f"{parent}.{name}" for name in record.required if f"{parent}.{name}" not in active), ""
        )
    return ""
