"""Concerns of which nothing could be decided on an axis: silence there must not look like success.

A concern is judged by the checks that look at its own facts. If some of them are undecided and none
is decided, nothing was shown. An axis whose position matters to nobody is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
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
"""What must not stay undecided as a whole: its rule files, and the facts its checks look at."""

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
    told: dict[tuple[str, str], Undecided] = {(each.rule, each.subject): each for each in undecided}
    rules = {concern: _rules_of(concern, catalogue, verdicts) for concern in CONCERNS}
    for number, axis in enumerate(machine.axes):
        if axis.get("controller.position_matters") is False:
            continue
        for concern, names in rules.items():
            found = [verdicts[name][number] for name in names]
            if None not in found or any(verdict in DECIDED for verdict in found):
                continue
            lacking = [told[name, axis["name"]] for name in names if (name, axis["name"]) in told]
            yield UndecidedConcern(
                label,
                axis["name"],
                concern,
                found.count(None),
                _most_wanted(lacking),
                _mark(machine, notes_of(axis).path, axis["name"]),
            )


def _rules_of(
    concern: str, catalogue: Catalogue, verdicts: Mapping[str, Sequence[int | None]]
) -> list[str]:
    files, facts = CONCERNS[concern]
    return [
        rule.name
        for rule in catalogue.trees.rules
        if rule.name in verdicts
        and concern_of(rule.file) in files
        and any(_within(read, fact) for read in facts_read(catalogue, rule) for fact in facts)
    ]


def _within(path: str, part: str) -> bool:
    return path == part or path.startswith(part + ".")


def _most_wanted(checks: Iterable[Undecided]) -> tuple[str, ...]:
    """The facts that most of these checks lack."""
    counts: dict[str, int] = {}
    for check in checks:
        for path in check.missing:
            counts[path] = counts.get(path, 0) + 1
    return tuple(sorted(counts, key=lambda path: (-counts[path], path))[:FACTS_NAMED])


def _mark(machine: Machine, path: str, name: str) -> Mark | None:
    place = machine.nearest(path)
    return None if place is None else Mark(place, machine.line_text(place), path, name)
