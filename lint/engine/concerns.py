"""Concerns of which no check could be decided on an axis: no finding there is no success.

A concern is judged by the checks that look at its own facts. If some of these checks are undecided
and none is decided, the concern is undecided. An axis whose position does not matter is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Final

from ..catalogue.catalogue import Catalogue
from ..catalogue.describing import concern_of, facts_read
from ..findings.finding import Mark, Undecided, UndecidedConcern
from ..machine.machine import Machine
from ..machine.records import notes_of

CONCERNS: Final[Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]]] = {
    "turn counter": (
        ("turn counter",),
        ("encoder.distinguishable_revolutions", "drive.distinguishable_revolutions"),
    ),
    "gearing": (
        ("gearing",),
        (
            "drive.counts_per_revolution",
            "drive.feed_constant",
            "drive.gear",
            "controller.counts_per_unit",
            "controller.scaling",
        ),
    ),
    "homing": (
        ("homing", "home switch", "home reference", "homing motion"),
        ("controller.homing",),
    ),
    "interlock": (("interlocks", "interlock details"), ("interlocks",)),
}
"""Each concern with its rule files, and with the facts of which its checks look at one or more."""

FORM: Final = (("axis", "encoder_has_revolutions"),)
"""Where the form of an encoder is inferred: to read a turn count for that is not to check it."""

DECIDED: Final = (0, 1)
FACTS_NAMED: Final = 3


def undecided_concerns(
    machine: Machine,
    label: str,
    catalogue: Catalogue,
    verdicts: Mapping[str, Sequence[int | None]],
    undecided: Iterable[Undecided],
) -> Iterator[UndecidedConcern]:
    """What could not be decided as a whole, axis by axis.

    ``verdicts`` are those of each rule that looks at one axis, on the axes of the machine in order.
    """
    by_rule_and_axis = {(each.rule, each.subject): each for each in undecided}
    rules = {
        concern: [name for name in names if name in verdicts]
        for concern, names in _rules_by_concern(catalogue).items()
    }
    for number, axis in enumerate(machine.axes):
        if axis.get("controller.position_matters") is False:
            continue
        for concern, names in rules.items():
            found = [verdicts[name][number] for name in names]
            if None not in found or any(verdict in DECIDED for verdict in found):
                continue
            open_checks = [
                by_rule_and_axis[name, axis["name"]]
                for name in names
                if (name, axis["name"]) in by_rule_and_axis
            ]
            yield UndecidedConcern(
                label,
                axis["name"],
                concern,
                found.count(None),
                _facts_missing_most_often(open_checks),
                _mark(machine, notes_of(axis).path, axis["name"]),
            )


@lru_cache(maxsize=2)
def _rules_by_concern(catalogue: Catalogue) -> dict[str, list[str]]:
    """The rules that decide each concern; the same for every machine of a run."""
    return {
        concern: [
            rule.name
            for rule in catalogue.trees.rules
            if concern_of(rule.file) in files
            and any(
                _within(read, fact) for read in facts_read(catalogue, rule, FORM) for fact in facts
            )
        ]
        for concern, (files, facts) in CONCERNS.items()
    }


def _within(path: str, part: str) -> bool:
    return path == part or path.startswith(part + ".")


def _facts_missing_most_often(checks: Iterable[Undecided]) -> tuple[str, ...]:
    """The facts that are missing from most of these checks, at most FACTS_NAMED."""
    counts: dict[str, int] = {}
    for check in checks:
        for path in check.missing:
            counts[path] = counts.get(path, 0) + 1
    return tuple(sorted(counts, key=lambda path: (-counts[path], path))[:FACTS_NAMED])


def _mark(machine: Machine, path: str, name: str) -> Mark | None:
    place = machine.nearest(path)
    return None if place is None else Mark(place, machine.line_text(place), path, name)
