"""Failed cases of a rule: its failing examples, and machines drawn from them on which it fails too.

A case is drawn by changing, adding or taking over facts that the rule reads. The values come from
all examples of all rules, and numbers are also scaled. Only machines on which the rule still fails
are cases. Statements about one part that exclude each other are no machine (``contradicts``).
"""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from functools import cache
from random import Random
from typing import Any, Final

from axisproof.base.errors import AxisproofError
from axisproof.catalogue.catalogue import Catalogue, RunnableRule, shipped
from axisproof.catalogue.describing import facts_read
from axisproof.engine.cases import looks_at_one_axis
from axisproof.language.syntax import Rule

from tests.bench.faults.plain_axis import parts, spelled
from tests.properties.leaving_out import Path, Plain, facts_of, without
from tests.properties.rule_cases import failing_examples, plain_of, verdicts_on

FAILS: Final = 0
HOLDS: Final = 1
SCALES: Final = ("1/2", "2", "9/10", "11/10", "1/10", "10", "99/100", "101/100", "3", "1/3")
MOST_CHANGES: Final = 3
Steps = tuple[str, ...]
"""The way to a fact within an axis or a machine; the number of an item is ``*``."""


@cache
def _entries() -> dict[str, RunnableRule]:
    return {entry.name: entry for entry in shipped().entries}


def entry_of(name: str) -> RunnableRule:
    """The runnable form of a rule."""
    return _entries()[name]


def fails_on(rule: Rule, entry: RunnableRule, plain: Plain) -> bool:
    """Whether a rule fails on a machine; a machine that is refused is no case."""
    try:
        return FAILS in verdicts_on(rule, entry, plain)
    except AxisproofError:
        return False


UNTRUE: Final = (
    "axis-that-gravity-moves-is-noted",
    "axis-that-gravity-turns-is-noted",
    "efficiency-is-a-share",
    "encoder-counts-stated-alike",
    "lead-is-starts-times-pitch",
    "papers-state-ratio-of-stages",
    "rack-pitch-is-that-of-its-module",
    "stage-ratio-is-that-of-its-teeth",
    "vertical-agrees-with-inclination",
)
"""Rules that find statements about one part, or about the mechanics, that cannot all be true."""

ROTARY: Final = frozenset(
    (
        *("counts_per_revolution", "lines_per_revolution", "turns_per_driving_shaft_turn"),
        "distinguishable_revolutions",
    )
)
"""What is stated of rotary encoders alone."""


def contradicts(name: str, plain: Plain) -> bool:
    """Whether what is stated of a part or the mechanics excludes itself.

    Of such statements one is not true, and what holds depends on which of them is left out. Rules
    of their own find this, so it is no case of another rule.
    """
    for axis in plain.get("axes", {}).values():
        encoder = axis.get("encoder")
        if isinstance(encoder, dict) and _is_linear(encoder) and _turns(encoder):
            return True
        mechanics = axis.get("mechanics")
        final = mechanics.get("final") if isinstance(mechanics, dict) else None
        if isinstance(final, dict) and "lead" in final and final.get("kind", "screw") != "screw":
            return True
    rules = shipped().rules
    return any(other != name and fails_on(rules[other], entry_of(other), plain) for other in UNTRUE)


def _is_linear(encoder: Plain) -> bool:
    """Whether something is stated that is true of linear encoders alone."""
    return encoder.get("form") == "linear" or "measuring_step" in encoder


def _turns(encoder: Plain) -> bool:
    """Whether something is stated that is true of rotary encoders alone."""
    return (
        encoder.get("form") == "rotary"
        or encoder.get("kind") == "absolute_multiturn"
        or encoder.get("mounted_on") == "motor"
        or bool(ROTARY & set(encoder))
    )


# --- values -----------------------------------------------------------------------------------


@cache
def values_by_path() -> dict[Steps, list[Any]]:
    """The values of each fact in all examples of all rules."""
    catalogue = shipped()
    found: dict[Steps, dict[str, Any]] = {}
    for rule in catalogue.trees.rules:
        for example in catalogue.examples[rule.name]:
            plain = plain_of(rule, example)
            for path in facts_of(plain):
                value = at(plain, path)
                key = json.dumps(value, sort_keys=True, default=str)
                found.setdefault(steps(path), {})[key] = value
    return {path: list(values.values()) for path, values in found.items()}


def steps(path: Path) -> Steps:
    """The way to a fact, without the name of its axis and the numbers of items."""
    inside = path[2:] if path[0] == "axes" else ("machine", *path)
    return tuple("*" if isinstance(part, int) else part for part in inside)


def at(plain: Any, path: Path) -> Any:
    """The value at a path, an item of a partial list by its number."""
    for part in path:
        if isinstance(part, int) and isinstance(plain, dict):
            plain = plain["partial"]
        plain = plain[part]
    return plain


def scaled(value: Any, rng: Random) -> Any:
    """A number times something, in its own unit; anything else as it is."""
    if isinstance(value, bool):
        return not value
    try:
        number, unit = parts(value)
    except (AssertionError, ValueError):
        return value
    if "-" in str(value)[1:] or str(value).startswith("0x"):
        return value  # a date or a serial number
    factor, _ = parts(rng.choice(SCALES))
    new = number * factor
    if isinstance(value, int):
        return max(0, round(new)) if value >= 0 else round(new)
    return spelled(new, unit)


# --- drawing ----------------------------------------------------------------------------------


def looked_at(catalogue: Catalogue, rule: Rule) -> frozenset[Steps]:
    """The facts of an axis that a rule reads."""
    return frozenset(tuple(path.split(".")) for path in facts_read(catalogue, rule))


def is_read(path: Path, read: frozenset[Steps]) -> bool:
    """Whether a rule reads a fact, or something above or below it; all of a machine's own facts."""
    way = steps(path)
    if path[0] != "axes":
        return True
    return any(way[: len(one)] == one or one[: len(way)] == way for one in read)


def drawn(plain: Plain, read: frozenset[Steps], rng: Random) -> Plain:
    """A machine with some facts changed or added that a rule reads."""
    new: Plain = copy.deepcopy(plain)
    for _ in range(rng.randint(1, MOST_CHANGES)):
        if rng.random() < 0.35 and read:
            _add(new, rng.choice(sorted(read)), rng)
        else:
            _change(new, read, rng)
    return new


def _change(plain: Plain, read: frozenset[Steps], rng: Random) -> None:
    leaves = [
        path
        for path in facts_of(plain)
        if is_read(path, read) and not isinstance(at(plain, path), dict | list)
    ]
    if not leaves:
        return
    path = rng.choice(leaves)
    old = at(plain, path)
    values = values_by_path().get(steps(path), [])
    new = rng.choice(values) if values and rng.random() < 0.5 else scaled(old, rng)
    _put(plain, path, copy.deepcopy(new))


def _add(plain: Plain, way: Steps, rng: Random) -> None:
    values = values_by_path().get(way)
    axes = sorted(plain.get("axes", {}))
    if not values or not axes:
        return
    at_axis = plain["axes"][rng.choice(axes)]
    for part in way[:-1]:
        at_axis = at_axis.setdefault(part, {})
        if not isinstance(at_axis, dict) or "partial" in at_axis or "claims" in at_axis:
            return
    at_axis[way[-1]] = copy.deepcopy(rng.choice(values))


def _put(plain: Plain, path: Path, value: Any) -> None:
    holder = at(plain, path[:-1])
    if isinstance(holder, dict) and isinstance(path[-1], int):
        holder = holder["partial"]
    holder[path[-1]] = value


def failed_cases(name: str, most: int, tries: int, seed: str) -> Iterator[Plain]:
    """Different machines on which a rule fails, at most so many; examples first."""
    catalogue = shipped()
    rule, entry = catalogue.rules[name], entry_of(name)
    rng = Random(f"failed cases {name} {seed}")
    read = looked_at(catalogue, rule)
    seen: set[str] = set()
    cases: list[Plain] = []

    def is_new(plain: Plain) -> bool:
        key = json.dumps(plain, sort_keys=True, default=str)
        if key in seen:
            return False
        seen.add(key)
        return fails_on(rule, entry, plain) and not contradicts(name, plain)

    for example in failing_examples(catalogue, rule):
        plain = plain_of(rule, example)
        if is_new(plain):
            cases.append(plain)
            yield plain
    for _ in range(tries):
        if len(cases) >= most:
            return
        plain = drawn(rng.choice(cases), read, rng)
        if is_new(plain):
            cases.append(plain)
            yield plain


# --- leaving out ------------------------------------------------------------------------------


UNSTATED_IS_NONE = frozenset({"telescope", "unbalance", "tilted_by", "differential"})
"""Parts that few axes have. The schema says that an axis has none of them where none is stated."""


def states_another_machine(plain: Plain, path: Path) -> bool:
    """Whether a machine without this fact is another one by the schema, and not a less known one.

    A network without a number is number 1. An axis without a telescope has a shorter feed, with
    which drive and controller then disagree; one without a weight or a tilt has those that its
    torque and inclination state, which rules compare with them. An axis without a coupling has a
    motor that turns with its own motion alone.
    """
    value: Any = plain
    for key in path:
        value = value[key]
    within = value if isinstance(value, dict) else {}
    of_network = path[-1] == "network" and len(path) > 1
    return of_network or path[-1] in UNSTATED_IS_NONE or bool(UNSTATED_IS_NONE & within.keys())


def facts_to_leave_out(plain: Plain, read: frozenset[Steps]) -> list[Path]:
    """The facts of a machine that a rule reads and that can be left out."""
    return [
        path
        for path in facts_of(plain)
        if is_read(path, read) and not states_another_machine(plain, path)
    ]


def acquitted_without(
    rule: Rule, entry: RunnableRule, plain: Plain, paths: list[Path]
) -> str | None:
    """What a failed check becomes without these facts, if it is neither failed nor undecided.

    Of a rule about one axis, only the axes count that failed: others may hold all the time.
    """
    try:
        thin = verdicts_on(rule, entry, without(plain, paths))
    except AxisproofError:  # a record that is refused without this fact
        return None
    if FAILS in thin or None in thin:
        return None
    if looks_at_one_axis(entry):
        whole = verdicts_on(rule, entry, plain)
        if len(whole) == len(thin):
            thin = [now for was, now in zip(whole, thin, strict=True) if was == FAILS]
    return "holds" if HOLDS in thin else "does not apply"


def random_sets(paths: list[Path], rng: Random, count: int) -> Iterator[list[Path]]:
    """Some sets of facts, of two or more each."""
    if len(paths) > 1:
        for _ in range(count):
            yield rng.sample(paths, rng.randint(2, max(2, len(paths) // 2)))
