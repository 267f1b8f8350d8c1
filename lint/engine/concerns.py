"""Concerns that are undecided on an axis, as a whole or in part: no finding there is no success.

A concern is judged by the checks that look at its own facts. If some of these checks are undecided
and none is decided, the concern is undecided. If others are decided, it is undecided in part while
a check that may end in an error lacks no more than one line of a file states: so a line that is
deleted does not hide the error that it led to. Of an axis whose position does not matter only the
brake counts.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Final, TypeAlias

from ..base.absence import NONE
from ..base.lazy import dataclass
from ..catalogue.catalogue import Catalogue
from ..catalogue.describing import concern_of, facts_read
from ..findings.finding import Mark, Undecided, UndecidedConcern
from ..machine.gantries import FOLLOWERS, PARTNER, ROLE
from ..machine.machine import Machine
from ..machine.records import Facts, notes_of


@dataclass(frozen=True, slots=True)
class DueConcern:
    """A concern that must be decided: its rule files, and facts of which its checks read one.

    Where the rule ``settled_by`` is decided or does not apply, the concern is settled as a whole.
    ``whatever_position``: it counts on an axis whose position does not matter, too.
    ``of_pairs``: its checks compare two axes, not the facts of one. ``never_partly``: it counts
    only as a whole.
    """

    files: tuple[str, ...]
    facts: tuple[str, ...]
    settled_by: str = ""
    whatever_position: bool = False
    of_pairs: bool = False
    never_partly: bool = False


CONCERNS: Final[Mapping[str, DueConcern]] = {
    "turn counter": DueConcern(
        ("turn counter",),
        ("encoder.distinguishable_revolutions", "drive.distinguishable_revolutions"),
    ),
    "turn counter while power is off": DueConcern(
        ("power off",),
        ("encoder.turn_counter.battery.places",),
        settled_by="battery-keeps-turns",
        never_partly=True,
    ),
    "gearing": DueConcern(
        ("gearing",),
        (
            "drive.counts_per_revolution",
            "drive.feed_constant",
            "drive.gear",
            "controller.counts_per_unit",
            "controller.scaling",
        ),
    ),
    "homing": DueConcern(
        ("homing", "home switch", "home reference", "homing motion"),
        ("controller.homing",),
    ),
    "interlock": DueConcern(("interlocks", "interlock details"), ("interlocks",)),
    "brake": DueConcern(
        ("brake", "load brake", "clamp"),
        ("mechanics.moved_by_gravity",),
        settled_by="vertical-axis-has-brake",
        whatever_position=True,  # a load can fall whatever its position is worth
    ),
    "gantry": DueConcern(
        ("gantry",), ("controller", "drive", "motion", "mechanics"), of_pairs=True
    ),
}

PairVerdicts: TypeAlias = "Mapping[str, Mapping[tuple[str, str], int | None]]"
"""The verdicts of the rules that compare two axes: by rule, and by the names of the axes."""

FORM: Final = (("axis", "encoder_has_revolutions"),)
"""Where the form of an encoder is inferred: to read a turn count for that is not to check it."""

MARK: Final = "mark of the axis"
"""Under this name an axis keeps where it stands, as several of its concerns may be undecided."""

DECIDED: Final = (0, 1)
FACTS_NAMED: Final = 3


def undecided_concerns(
    machine: Machine,
    label: str,
    catalogue: Catalogue,
    verdicts: Mapping[str, Sequence[int | None]],
    pairs: PairVerdicts,
    undecided: Sequence[Undecided],
) -> Iterator[UndecidedConcern]:
    """What could not be decided as a whole, and what in part, axis by axis.

    ``verdicts`` are those of each rule that looks at one axis, on the axes of the machine in order.
    """
    found = list(_as_a_whole(machine, label, catalogue, verdicts, undecided))
    found += _between_two(machine, label, catalogue, pairs, undecided)
    yield from found
    known = {(each.subject, each.concern) for each in found}
    yield from _in_part(machine, label, catalogue, undecided, pairs, known)


def _as_a_whole(
    machine: Machine,
    label: str,
    catalogue: Catalogue,
    verdicts: Mapping[str, Sequence[int | None]],
    undecided: Sequence[Undecided],
) -> Iterator[UndecidedConcern]:
    by_rule_and_axis = {(each.rule, each.subject): each for each in undecided}
    rules = {
        concern: [name for name in names if name in verdicts]
        for concern, names in _rules_by_concern(catalogue).items()
        if not CONCERNS[concern].of_pairs
    }
    for number, axis in enumerate(machine.axes):
        for concern, names in rules.items():
            if not _matters(axis, concern):
                continue
            found = [verdicts[name][number] for name in names]
            if None not in found or any(verdict in DECIDED for verdict in found):
                continue
            settling = verdicts.get(CONCERNS[concern].settled_by)
            if settling is not None and settling[number] is not None:
                continue
            open_checks = [
                by_rule_and_axis[name, axis["name"]].missing
                for name in names
                if (name, axis["name"]) in by_rule_and_axis
            ]
            yield _concern(machine, label, axis, concern, open_checks, found.count(None))


def _between_two(
    machine: Machine,
    label: str,
    catalogue: Catalogue,
    pairs: PairVerdicts,
    undecided: Sequence[Undecided],
) -> Iterator[UndecidedConcern]:
    """The concerns of two axes of which nothing was decided, each at the axis that lacks most."""
    axes = {axis["name"]: axis for axis in machine.axes}
    for concern, names in _rules_by_concern(catalogue).items():
        if not CONCERNS[concern].of_pairs:
            continue
        rules = [name for name in names if name in pairs]
        missing: dict[str, list[tuple[str, ...]]] = {}
        for check in undecided:
            if check.rule in rules:
                missing.setdefault(check.subject, []).append(check.missing)
        both = dict.fromkeys(pair for name in rules for pair in pairs[name])
        told = set()
        compared: set[str] = set()
        for pair in both:
            found = [pairs[name][pair] for name in rules if pair in pairs[name]]
            if any(verdict in DECIDED for verdict in found):
                compared |= {*pair}
                continue
            if None not in found:
                continue
            lacking = [each for name in pair for each in missing.get(name, ())]
            stands = Counter(_axis_of(fact) for each in lacking for fact in each)
            name = max(pair, key=lambda axis: (stands[axis], axis))
            if name not in told and _matters(axes[name], concern):
                told.add(name)
                yield _concern(machine, label, axes[name], concern, lacking, found.count(None))
        for name, fact in _silent_members(machine):
            if name not in told and _matters(axes[name], concern):
                lacking = missing.get(name) or [(fact,)]
                partly = name in compared
                if partly:
                    lacking = [(fact,)] * len(lacking)
                yield _concern(
                    machine, label, axes[name], concern, lacking, len(lacking), partly=partly
                )


def _silent_members(machine: Machine) -> Iterator[tuple[str, str]]:
    """The members of a gantry that do not say whose, or what they do there, and the fact to state.

    A member states a gantry, or another one names it. Without this fact some checks compare it
    with no axis.
    """
    axes = {axis["name"]: axis for axis in machine.axes}
    named = {
        name for axis in machine.axes for name in (*axis.get(FOLLOWERS, ()), axis.get(PARTNER))
    }
    for name, axis in axes.items():
        stated = axis.get("gantry")
        if stated is NONE or (name not in named and stated is None):
            continue
        if axis.get(PARTNER) is None and axis.get(FOLLOWERS) is None:
            yield name, f"axes.{name}.{PARTNER if stated is not None else 'gantry'}"
        elif axis.get(ROLE) is None:
            yield name, f"axes.{name}.{ROLE}"


def _in_part(
    machine: Machine,
    label: str,
    catalogue: Catalogue,
    undecided: Sequence[Undecided],
    pairs: PairVerdicts,
    known: Collection[tuple[str, str]],
) -> Iterator[UndecidedConcern]:
    """The concerns of which a check lacks no more than one line to end in an error.

    A check of the whole machine, or of two axes, counts for the axis of the fact that it lacks.
    """
    axes = {axis["name"]: axis for axis in machine.axes}
    near = _near_of_pairs(machine, catalogue, axes, pairs)
    concerns = _concerns_of_rules(catalogue)
    for check in undecided:
        concern = concerns.get(check.rule)
        if (
            concern is None
            or CONCERNS[concern].of_pairs
            or CONCERNS[concern].never_partly
            or check.level != "error"
            or (check.subject, concern) in known
        ):
            continue
        subjects = (axes[check.subject],) if check.subject in axes else ()
        near_failure = catalogue.missing_facts.near_failures.of(catalogue.rules[check.rule])
        facts = near_failure((*subjects, machine.facts))
        if facts:
            name = check.subject or _axis_of(facts[0])
            near.setdefault((name, concern), []).append(facts)
    for name, axis in axes.items():
        for concern in CONCERNS:
            if (name, concern) in known:
                continue
            if (name, concern) in near and _matters(axis, concern):
                lacking = near[name, concern]
                yield _concern(machine, label, axis, concern, lacking, len(lacking), partly=True)


def _near_of_pairs(
    machine: Machine, catalogue: Catalogue, axes: Mapping[str, Facts], pairs: PairVerdicts
) -> dict[tuple[str, str], list[tuple[str, ...]]]:
    """The facts that checks of two axes lack to end in an error, by axis and concern."""
    near: dict[tuple[str, str], list[tuple[str, ...]]] = {}
    levels = {entry.name: entry.level for entry in catalogue.entries}
    for name, concern in _concerns_of_rules(catalogue).items():
        if not CONCERNS[concern].of_pairs or levels.get(name) != "error":
            continue
        for pair, verdict in pairs.get(name, {}).items():
            if verdict is not None:
                continue
            near_failure = catalogue.missing_facts.near_failures.of(catalogue.rules[name])
            one, two = (axes[each] for each in pair)
            # Which of the two a directed rule looks at first is not kept.
            facts = near_failure((one, two, machine.facts)) or near_failure(
                (two, one, machine.facts)
            )
            if facts:
                near.setdefault((_axis_of(facts[0]) or pair[0], concern), []).append(facts)
    return near


def _axis_of(fact: str) -> str:
    """The name of the axis that a fact is of; empty for a fact of the machine."""
    root, _, rest = fact.partition(".")
    return rest.partition(".")[0] if root == "axes" else ""


def _matters(axis: Facts, concern: str) -> bool:
    """Whether a concern counts on an axis."""
    position_matters = axis.get("controller.position_matters") is not False
    return position_matters or CONCERNS[concern].whatever_position


def _concern(
    machine: Machine,
    label: str,
    axis: Facts,
    concern: str,
    lacking: Iterable[tuple[str, ...]],
    checks: int,
    *,
    partly: bool = False,
) -> UndecidedConcern:
    facts = _facts_missing_most_often(lacking)
    memo = notes_of(axis).memo
    if MARK not in memo:
        memo[MARK] = _mark(machine, notes_of(axis).path, axis["name"])
    mark = memo[MARK]
    return UndecidedConcern(label, axis["name"], concern, checks, facts, mark, partly)


@lru_cache(maxsize=2)
def _rules_by_concern(catalogue: Catalogue) -> dict[str, list[str]]:
    """The rules that decide each concern as a whole; the same for every machine of a run."""
    return {
        concern: [
            rule.name
            for rule in catalogue.trees.rules
            if concern_of(rule.file) in due.files
            and any(
                _within(read, fact)
                for read in facts_read(catalogue, rule, FORM)
                for fact in due.facts
            )
        ]
        for concern, due in CONCERNS.items()
    }


@lru_cache(maxsize=2)
def _concerns_of_rules(catalogue: Catalogue) -> dict[str, str]:
    """The concern of each rule in the files of the concerns."""
    by_file = {file: concern for concern, due in CONCERNS.items() for file in due.files}
    return {
        rule.name: by_file[concern_of(rule.file)]
        for rule in catalogue.trees.rules
        if concern_of(rule.file) in by_file
    }


def _within(path: str, part: str) -> bool:
    return path == part or path.startswith(part + ".")


def _facts_missing_most_often(checks: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    """The facts that are missing from most of these checks, at most FACTS_NAMED."""
    counts: dict[str, int] = {}
    for missing in checks:
        for path in missing:
            counts[path] = counts.get(path, 0) + 1
    return tuple(sorted(counts, key=lambda path: (-counts[path], path))[:FACTS_NAMED])


def _mark(machine: Machine, path: str, name: str) -> Mark | None:
    place = machine.nearest(path)
    return None if place is None else Mark(place, machine.line_text(place), path, name)
