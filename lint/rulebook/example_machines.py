"""The small machines that the examples of rules state, and the cases a rule has in them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from ..base.errors import AxisproofError
from ..catalogue.catalogue import Catalogue, RunnableRule, rule_file
from ..catalogue.settings import put_setting, setting_value
from ..engine.cases import Case, cases, change_case, spare_case
from ..language.rule_file import RuleFile
from ..language.syntax import SUBJECTS, Assignment, Example, Rule, Span
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


@dataclass(frozen=True, slots=True)
class ExampleMachine:
    """What an example states: its cases, the machine, and what it was before (or None)."""

    cases: tuple[Case, ...]
    machine: Machine
    aside: Machine | None = None


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


def example_cases(
    found: Catalogue, rule: Rule, entry: RunnableRule, example: Example
) -> tuple[Case, ...]:
    """Build the cases an example states. Raises RuleError as example_machine does."""
    return build_example(found, rule, entry, example).cases


def example_machine(found: Catalogue, rule: Rule, example: Example, variable: str = "") -> Machine:
    """Build the machine an example states.

    Each fact's path begins with the name of an axis, or with ``machine``; where the rule looks at
    two machines, with one of its variables, and only the facts of ``variable`` are put into the
    machine, which has one axis. An axis whose motion is not stated is linear; ``missing`` as a
    value takes a fact that `given` stated away; ``machine.check_date`` is the day of the check and
    ``machine.settings.NAME`` the value of a setting. Raises RuleError at the fact that the machine
    schema refuses.
    """
    variables = SUBJECTS[rule.subject]
    file = rule_file(found, rule.file)
    plain: dict[str, Any] = {"axes": {}}
    spots: dict[tuple[str, ...], tuple[Span, Span]] = {}
    for fact in example.facts:
        if fact.value == "missing":
            continue
        head, *rest = fact.path.split(".")
        if fact.path == _CHECK_DATE or fact.path.startswith(_SETTINGS):
            continue
        parts = tuple(rest) if head == "machine" else ("axes", head, *rest)
        if not rest:
            raise file.error(fact.at, f"{fact.path} is no fact", "axis.PATH or machine.PATH")
        if variable and head not in variables:
            wanted = " or ".join(variables)
            raise file.error(fact.at, f"{head} is not what the rule looks at", wanted)
        if variable and head != "machine":
            if head != variable:
                continue
            parts = ("axes", "axis", *rest)
        here = plain
        for part in parts[:-1]:
            here = here.setdefault(part, {})
            if not isinstance(here, dict):
                raise file.error(fact.at, f"{fact.path} lies within a single value")
        if parts[-1] in here:
            raise file.error(fact.at, f"{fact.path} is stated twice")
        here[parts[-1]] = fact.value
        spots[parts] = (fact.at, fact.value_at)
    if not plain["axes"]:
        plain["axes"]["axis"] = {}
    for axis in plain["axes"].values():
        axis.setdefault("motion", "linear")

    def where(fault: Fault) -> AxisproofError:
        parts = tuple(str(part) for part in fault.path)
        for length in range(len(parts), 0, -1):
            at = spots.get(parts[:length])
            if at is not None:
                return file.error(at[0] if fault.key else at[1], fault.what, fault.expected)
        for spot, at in spots.items():
            if spot[: len(parts)] == parts:
                return file.error(at[0], fault.what, fault.expected)
        return file.error(example.at, fault.what, fault.expected)

    machine = read_plain(plain, where)
    set_circumstances(found, rule, example, machine)
    return machine


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
