"""The small machines that the examples of rules state, and the cases a rule has in them."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

from ..base.errors import AxisproofError
from ..base.package_data import read_text
from ..catalogue.catalogue import Catalogue, RunnableRule, rule_file
from ..catalogue.settings import put_setting, setting_value
from ..engine.cases import Case, cases, change_case, spare_case
from ..language.rule_file import RuleFile
from ..language.syntax import NOWHERE, SUBJECTS, Assignment, Example, Rule
from ..machine.machine import Machine, with_role
from ..machine.reader import read_plain
from ..machine.reading import Fault
from ..machine.records import CHECK_DATE
from ..numbers.calendar_periods import day_of
from ..source.places import KeyPath

TWO_MACHINES: Final[Mapping[str, tuple[str, str, Callable[..., Case]]]] = {
    "change": ("before", "after", change_case),
    "spare": ("fitted", "axis", spare_case),
}
"""Subjects that look at one axis of two machines: as it was, as it is to be, and the case."""

_CHECK_DATE: Final = f"machine.{CHECK_DATE}"
"""States as of which day an example is checked; 1970-01-01 if nothing does."""

_SETTINGS: Final = "machine.settings."
"""What the path of a setting begins with that an example is checked with."""

_ABSENT: Final = object()


@dataclass(frozen=True, slots=True)
class ExampleMachine:
    """What an example states: its cases, the machine, and what it was before (or None)."""

    cases: tuple[Case, ...]
    machine: Machine
    aside: Machine | None = None

    def written(self, path: str) -> str | None:
        """The scalar at an absolute path as the example states it."""
        aside = self.aside
        return (aside if aside and aside.owns(path) else self.machine).written(path)


def build_example(
    found: Catalogue, rule: Rule, entry: RunnableRule, example: Example
) -> ExampleMachine:
    """Build the machines an example states. Raises RuleError as example_machine does."""
    if rule.subject not in TWO_MACHINES:
        machine = example_machine(found, rule, example)
        return ExampleMachine(tuple(cases(entry, machine, {})), machine)
    old, new, make_case = TWO_MACHINES[rule.subject]
    was = with_role(example_machine(found, rule, example, old), old)
    machine = example_machine(found, rule, example, new)
    return ExampleMachine((make_case(**{old: was.axes[0], new: machine.axes[0]}),), machine, was)


def example_machine(found: Catalogue, rule: Rule, example: Example, variable: str = "") -> Machine:
    """Build the machine an example states.

    Each fact's path begins with the name of an axis, or with ``machine``; where the rule looks at
    two machines, with one of its variables, and only the facts of ``variable`` are put into the
    machine, which has one axis. `AXIS = complete` states all facts of a sound axis; any other axis
    is linear unless stated. A fact of the example that lies within a record under `given` changes
    that record; ``missing`` as a value takes a fact of `given` away; ``machine.check_date`` is the
    day of the check and ``machine.settings.NAME`` the value of a setting. Raises RuleError at the
    fact that the machine schema refuses.
    """
    file = rule_file(found, rule.file)
    plain: dict[str, Any] = {"axes": {}}
    spots: dict[tuple[str, ...], Assignment] = {}
    for fact in example.facts:
        if is_complete(fact) and (not variable or fact.path == variable):
            plain["axes"]["axis" if variable else fact.path] = copy.deepcopy(whole_axis(fact))
    for fact in example.facts:
        if fact.path == _CHECK_DATE or fact.path.startswith(_SETTINGS) or is_complete(fact):
            continue
        parts = _parts_of(rule, file, fact, variable)
        if parts is None:
            continue
        if fact.value == "missing":
            _take_away(plain, parts)
            continue
        _refuse_twice(file, fact, parts, spots.items(), example)
        here = plain
        for number, part in enumerate(parts[:-1], 1):
            if here.get(part) == "none" and parts[:number] not in spots:
                here[part] = {}  # a complete axis states that it has no such part
            here = here.setdefault(part, {})
            if not isinstance(here, dict):
                raise file.error(fact.at, f"{fact.path} lies within a single value")
        here[parts[-1]] = copy.deepcopy(fact.value)
        spots[parts] = fact
    if not plain["axes"]:
        plain["axes"]["axis"] = {}
    for axis in plain["axes"].values():
        axis.setdefault("motion", "linear")

    def where(fault: Fault) -> AxisproofError:
        parts = tuple(str(part) for part in fault.path)
        for length in range(len(parts), 0, -1):
            at = spots.get(parts[:length])
            if at is not None:
                return file.error(at.at if fault.key else at.value_at, fault.what, fault.expected)
        for spot, at in spots.items():
            if spot[: len(parts)] == parts:
                return file.error(at.at, fault.what, fault.expected)
        return file.error(example.at, fault.what, fault.expected)

    machine = read_plain(plain, where)
    set_circumstances(found, rule, example, machine)
    return machine


def is_complete(fact: Assignment) -> bool:
    """Whether a fact makes an axis a complete one, such as `axis = complete`."""
    return "." not in fact.path and fact.value in complete_axes()


def whole_axis(fact: Assignment) -> dict[str, Any]:
    """All facts of a complete axis."""
    return complete_axes()[fact.value]


@lru_cache(maxsize=1)
def complete_axes() -> Mapping[str, dict[str, Any]]:
    """Sound axes by the words that stand for them in an example."""
    axes: dict[str, dict[str, Any]] = json.loads(read_text("axisproof.rules", "example_axes.json"))
    return axes


def is_given(example: Example, fact: Assignment) -> bool:
    """Whether a fact of an example stands under `given`, and so in all examples of the rule."""
    return fact.at is not NOWHERE and not example.at[:2] <= fact.at[:2] < example.at[2:]


def _refuse_twice(
    file: RuleFile,
    fact: Assignment,
    parts: tuple[str, ...],
    stated: Iterable[tuple[tuple[str, ...], Assignment]],
    example: Example,
) -> None:
    """Refuse a fact that the same example states already, by itself or with a record."""
    for spot, before in stated:
        if is_given(example, before) != is_given(example, fact):
            continue
        here = before.value
        for part in parts[len(spot) :]:
            here = here.get(part, _ABSENT) if isinstance(here, dict) else _ABSENT
        if spot[: len(parts)] == parts or (parts[: len(spot)] == spot and here is not _ABSENT):
            raise file.error(fact.at, f"{fact.path} is stated twice")


def _take_away(plain: dict[str, Any], parts: tuple[str, ...]) -> None:
    """Leave out a fact that `given` states."""
    here: Any = plain
    for part in parts[:-1]:
        here = here.get(part) if isinstance(here, dict) else None
    if isinstance(here, dict):
        here.pop(parts[-1], None)


def _parts_of(
    rule: Rule, file: RuleFile, fact: Assignment, variable: str
) -> tuple[str, ...] | None:
    """Where a machine file states a fact; None for a fact of the other of two machines."""
    variables = SUBJECTS[rule.subject]
    head, *rest = fact.path.split(".")
    if not rest:
        words = " or ".join(f"{fact.path} = {word}" for word in complete_axes())
        expected = f"axis.PATH, machine.PATH, or {words}"
        raise file.error(fact.at, f"{fact.path} is no fact", expected)
    if variable and head not in variables:
        wanted = " or ".join(variables)
        raise file.error(fact.at, f"{head} is not what the rule looks at", wanted)
    if head == "machine":
        return tuple(rest)
    if not variable:
        return ("axes", head, *rest)
    return ("axes", "axis", *rest) if head == variable else None


def set_circumstances(found: Catalogue, rule: Rule, example: Example, machine: Machine) -> None:
    """Set the day of the check and the settings that an example states.

    Raises RuleError for a day that the calendar lacks and a setting that does not exist.
    """
    file = rule_file(found, rule.file)
    machine.facts[CHECK_DATE] = 0
    for fact in example.facts:
        if fact.value == "missing":
            continue
        if fact.path == _CHECK_DATE:
            machine.facts[CHECK_DATE] = _day(file, fact)
        elif fact.path.startswith(_SETTINGS):
            _put_setting(found, file, fact, machine)


def _put_setting(found: Catalogue, file: RuleFile, fact: Assignment, machine: Machine) -> None:
    name = fact.path.removeprefix(_SETTINGS)
    where = ("settings", name, "value")

    def fail(place: KeyPath, what: str, expected: str) -> AxisproofError:
        return file.error(fact.value_at if place == where else fact.at, what, expected)

    value = setting_value(found, name, fact.value, where, fail)
    for record in (machine.facts, *machine.axes):
        put_setting(record, name, value)


def _day(file: RuleFile, fact: Assignment) -> int:
    """The day that an example states. Raises RuleError if the calendar does not have it."""
    day = day_of(str(fact.value))
    if day is None:
        what = f"the calendar has no day {fact.value}"
        raise file.error(fact.value_at, what, "year-month-day, such as 2026-03-14")
    return day
