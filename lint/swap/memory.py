"""What the axis remembers, and what becomes of it: the table of rules/swap.yaml walked through.

A memory whose place is not known counts as lost, and names the fact that would decide it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final, Literal

from ..language.syntax import Expr
from .phrases import DataFile, PhraseSubjects
from .result import Answer, MemoryFate, ReteachTask

Kind = Literal["lost", "wrong", "at_risk"]
KINDS: Final[tuple[Kind, ...]] = ("lost", "wrong", "at_risk")


@dataclass(frozen=True, slots=True)
class MemoryRule:
    """One way in which a memory is lost, becomes wrong, or is at risk."""

    why: str
    work: frozenset[str]
    after: frozenset[str]
    after_loss: frozenset[str]
    written: frozenset[str]
    when: Expr | None


@dataclass(frozen=True, slots=True)
class Memory:
    """A memory of the axis. ``there`` tells whether the axis has it, ``teach`` what restores it."""

    name: str
    words: str
    teach: str
    there: Expr | None
    rules: Mapping[Kind, tuple[MemoryRule, ...]]


def read_memories(file: DataFile, entries: Sequence[Mapping[str, Any]]) -> tuple[Memory, ...]:
    """The memories of the file, in an order in which each comes after those it rests on."""
    found = []
    for number, entry in enumerate(entries):
        path: tuple[str | int, ...] = ("memories", number)
        there = file.condition((*path, "there"), entry["there"]) if "there" in entry else None
        rules: dict[Kind, tuple[MemoryRule, ...]] = {}
        for kind in KINDS:
            rules[kind] = tuple(
                _rule(file, (*path, kind, place), each)
                for place, each in enumerate(entry.get(kind, ()))
            )
        found.append(Memory(entry["memory"], entry["words"], entry["teach"], there, rules))
    return tuple(found)


def _rule(file: DataFile, path: tuple[str | int, ...], entry: Mapping[str, Any]) -> MemoryRule:
    when = file.condition((*path, "when"), entry["when"]) if "when" in entry else None
    work, after, loss, written = (
        frozenset(entry.get(key, ())) for key in ("work", "after", "after_loss", "written")
    )
    return MemoryRule(entry["why"], work, after, loss, written, when)


def memory_fates(
    memories: Sequence[Memory],
    subjects: PhraseSubjects,
    work: frozenset[str],
    written: frozenset[str],
) -> tuple[MemoryFate, ...]:
    """What becomes of every memory that the axis has or may have; the others are left out."""
    found: dict[str, MemoryFate] = {}
    for memory in memories:
        there = subjects.truth(memory.there)
        if there.value is False:
            continue
        doubt = there.missing if there.value is None else ()
        answers = {
            kind: _answer(memory.rules[kind], subjects, work, written, found, doubt)
            for kind in KINDS
        }
        if answers["lost"].certain:  # what is gone cannot stay
            answers |= {"wrong": Answer(), "at_risk": Answer()}
        found[memory.name] = MemoryFate(
            memory.name,
            memory.words,
            memory.teach,
            answers["lost"],
            answers["wrong"],
            answers["at_risk"],
        )
    return tuple(found.values())


def _answer(
    rules: Iterable[MemoryRule],
    subjects: PhraseSubjects,
    work: frozenset[str],
    written: frozenset[str],
    before: Mapping[str, MemoryFate],
    doubt: tuple[str, ...],
) -> Answer:
    """Whether one of the rules applies; ``doubt`` lists what is missing to say the axis has it."""
    why: list[str] = []
    missing: list[str] = []
    certain = False
    for rule in rules:
        cause = _cause(rule, work, written, before)
        if cause is None:
            continue
        known = subjects.truth(rule.when)
        if known.value is False:
            continue
        not_stated = (*doubt, *cause, *(known.missing if known.value is None else ()))
        certain = certain or not (not_stated or known.value is None)
        why.append(rule.why)
        missing += not_stated
    if not why:
        return Answer()
    return Answer(tuple(dict.fromkeys(why)), () if certain else tuple(dict.fromkeys(missing)))


def _cause(
    rule: MemoryRule,
    work: frozenset[str],
    written: frozenset[str],
    before: Mapping[str, MemoryFate],
) -> tuple[str, ...] | None:
    """The facts that are missing for the cause of a rule to be certain; None without a cause."""
    if not rule.work.isdisjoint(work) or not rule.written.isdisjoint(written):
        return ()
    found: tuple[str, ...] | None = None
    for name, fate in before.items():
        answers: tuple[Answer, ...] = (fate.lost, fate.wrong) if name in rule.after else ()
        answers += (fate.lost,) if name in rule.after_loss else ()
        for answer in answers:
            if answer.why:
                found = answer.missing if found is None or not answer.missing else found
                if not found:
                    return ()
    return found


def lessons_of(fates: Iterable[MemoryFate], words: Mapping[str, str]) -> tuple[ReteachTask, ...]:
    """What has to be taught or put right, in the order of ``words``."""
    by_name: dict[str, list[Answer]] = {name: [] for name in words}
    for fate in fates:
        by_name[fate.teach] += [each for each in (fate.lost, fate.wrong) if each.why]
    found = []
    for name, answers in by_name.items():
        if not answers:
            continue
        why = tuple(dict.fromkeys(reason for each in answers for reason in each.why))
        certain = any(each.certain for each in answers)
        missing = () if certain else tuple(dict.fromkeys(f for a in answers for f in a.missing))
        found.append(ReteachTask(name, words[name], why, missing))
    return tuple(found)
