"""The fact to ask for next: of what is nearest to verdicts, for what somebody has to type.

A check is as near to its verdict as it lacks few facts. Facts that are enough for several checks
are worth the sum of them, so that a check of five facts does not wait for thirty single ones that
it shares nothing with. What the papers did not state of one axis, they hardly state of the next.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from math import prod
from typing import TYPE_CHECKING, Any, Final

from ..machine.fact_sizes import is_list, values_to_find
from ..machine.schema import optional_parts
from ..source.places import path_parts
from .open_check import OpenCheck

if TYPE_CHECKING:
    from ..source.places import KeyPath

Chance = Callable[[Iterable[str]], float]
"""How likely somebody can state all of some facts, by their absolute paths: from 0 to 1."""

PART_UNKNOWN: Final = 0.15
"""Chance that somebody knows more of a part, or if there is one, who does not know a fact of it.

It would have been said then that there is none. Common practice, no source.
"""

USUAL_PARTS: Final = frozenset(
    {
        "controller.homing",
        "controller.homing.switch",
        "controller.homing.taught",
        "controller.software_limits",
        "drive.position_range",
        "encoder.turn_counter.battery",
        "mechanics.limit_switches",
        "mechanics.travel",
        "motor.brake",
        "motor.commutation",
    }
)
"""Parts that most axes have of those that may be none. Common practice, no source."""


WEIGHTS: Final = {"error": 1.0, "warning": 0.6, "note": 0.4}
"""What a verdict of each level counts for: an error is worth more questions than a note."""


def certain(facts: Iterable[str]) -> float:
    """Nothing is known of the papers."""
    return 1.0


class Chances:
    """How likely the papers of a machine state facts, by what they stated and what they did not.

    For a fact of an axis, all axes count whose file states it, or where somebody did not know it.
    It counts as stated once more, so that nothing is given up. All facts of a part that most axes
    are without hang on whether there is one: whoever does not know one of them hardly knows others.
    """

    def __init__(self, axes: Mapping[str, Any], not_known: Iterable[str]) -> None:
        self.axes = axes
        paths = [path_parts(fact) for fact in not_known]
        self.declined = Counter(map(_names, paths))
        self.unclear_parts = {path[:end] for path in paths for end in range(3, len(path))}
        self.doubtful: defaultdict[str, set[str]] = defaultdict(set)
        for path in paths:
            axis, part = self.unusual_part(path)
            if part:
                self.doubtful[part].add(axis)
        self.found: dict[tuple[str, ...], float] = {}

    def __call__(self, facts: Iterable[str]) -> float:
        """The chance that somebody can state all these facts."""
        parts: dict[tuple[str, str], float] = {}
        together = 1.0
        for fact in facts:
            path = path_parts(fact)
            axis, part = self.unusual_part(path)
            if part:
                parts[axis, part] = self._of_part(axis, part)
            else:
                together *= self._of_fact(path)
        return together * prod(parts.values())

    def unusual_part(self, path: KeyPath) -> tuple[str, str]:
        """The axis of a fact, and the part it is or stands in that most axes lack.

        Both are empty if there is no such part, or the file states it.
        """
        if path[0] != "axes" or len(path) < 3:
            return "", ""
        names = _names(path)[1:]
        for end in range(1, len(names) + 1):
            part = ".".join(names[:end])
            if part in optional_parts() and part not in USUAL_PARTS:
                there = _states(self.axes.get(str(path[1]), {}), names[:end])
                return ("", "") if there else (str(path[1]), part)
        return "", ""

    def _of_part(self, axis: str, part: str) -> float:
        doubtful = self.doubtful[part]
        if axis in doubtful:
            return PART_UNKNOWN
        stated = 1 + sum(_states(each, part.split(".")) for each in self.axes.values())
        return stated / (stated + len(doubtful))

    def _of_fact(self, path: KeyPath) -> float:
        names = _names(path)
        if names not in self.found:
            self.found[names] = self._on_all_axes(names)
        known = self.found[names]
        return min(known, PART_UNKNOWN) if path in self.unclear_parts else known

    def _on_all_axes(self, names: tuple[str, ...]) -> float:
        declined = self.declined[names]
        if not declined or names[0] != "axes":
            return 1.0
        stated = 1 + sum(_states(axis, names[1:]) for axis in self.axes.values())
        return stated / (stated + declined)


def _names(path: KeyPath) -> tuple[str, ...]:
    """The names of a path without the axis and the numbers of items."""
    start, rest = (("axes",), path[2:]) if path[0] == "axes" else ((), path)
    return (*start, *[name for name in rest if isinstance(name, str)])


def _states(plain: Any, names: Sequence[str]) -> bool:
    """Whether a value is stated there; in a list, of any of its items."""
    if isinstance(plain, list) and names:
        return any(_states(item, names) for item in plain)
    if not names:
        return True
    return isinstance(plain, dict) and names[0] in plain and _states(plain[names[0]], names[1:])


def next_fact(checks: Iterable[OpenCheck], chance: Chance = certain) -> str:
    """The fact to ask for: one of those that lead to most verdicts for their number.

    Checks whose facts cannot be told come last. Of the chosen facts comes first what most checks
    want, each counted by how few facts it lacks. Empty without checks.
    """
    every = list(checks)
    near = [check for check in every if not check.far] or every
    enough: defaultdict[tuple[str, ...], float] = defaultdict(float)
    values: dict[tuple[str, ...], int] = {}
    for check in near:
        enough[check.facts] += WEIGHTS[check.level]
        values[check.facts] = _values(check)
    by_first: defaultdict[str, list[tuple[str, ...]]] = defaultdict(list)
    for facts in enough:
        by_first[facts[0]].append(facts)

    def worth(facts: tuple[str, ...]) -> float:
        wanted = set(facts)
        within = (each for fact in facts for each in by_first.get(fact, ()))
        found = sum(enough[each] for each in within if wanted.issuperset(each)) / values[facts]
        return found * chance(facts)

    chosen = max(enough, key=worth, default=())
    wanted_by = dict.fromkeys(chosen, 0.0)
    for check in near:
        for fact in wanted_by.keys() & check.facts:
            wanted_by[fact] += 1 / len(check.facts)
    return max(chosen, key=wanted_by.__getitem__, default="")


def _values(check: OpenCheck) -> int:
    if check.whole:
        return sum(map(values_to_find, check.facts))
    return sum(values_to_find(fact) if is_list(fact) else 1 for fact in check.facts)
