"""Waivers: findings that a role has decided to live with, for a while and for certain values."""

from __future__ import annotations

import datetime
import difflib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from typing import Any, Final

from ..base.errors import Place
from ..catalogue.catalogue import Catalogue
from ..findings.builtin import BUILT_IN, WAIVER_LAPSED, WAIVER_UNUSED, BuiltIn
from ..findings.finding import Finding, Level, Mark, WaivedBy
from ..importing.shape import check_shape, error_at
from ..language.stages import EARLY
from ..machine.machine import Machine
from ..machine.schema import ListType, RecordType, UnknownField, axis_type, lookup, machine_type
from ..machine.value_reader import as_written
from ..numbers.exact import QuantityError
from ..numbers.units import parse_quantity
from ..source.files import Source
from ..source.parsing import locate, parse
from ..source.places import KeyPath, path_parts, path_text
from ..source.reader import DISK, Reader, read_source
from .accepted import marked

UNSTATED: Final = "unstated"
"""Stands for the value of a fact that was not stated when the waiver was granted."""


@dataclass(frozen=True, slots=True)
class Waiver:
    """One waiver as written: ``values`` by absolute path, ``at`` its path in the file.

    ``axis`` is empty for findings about the whole machine, ``expires`` the last day it holds,
    ``stage`` the one it is for, of a rule that warns before it is due.
    """

    rule: str
    machine: str
    axis: str
    reason: str
    approved_by: str
    expires: datetime.date
    values: tuple[tuple[str, str, Any], ...]
    at: KeyPath
    stage: str = EARLY

    @property
    def named(self) -> str:
        """What it is about, in words."""
        return f"the waiver of {self.rule} on {self.axis or self.machine}"


@dataclass(frozen=True, slots=True)
class Waivers:
    """The waivers of a file."""

    source: Source
    entries: tuple[Waiver, ...]


def read_waivers(path: Path, catalogue: Catalogue, reader: Reader = DISK) -> Waivers:
    """Read a waiver file (schemas/waivers.schema.json).

    Raises InputError, with a place, for an unknown rule or fact, a day that does not exist, or
    whatever else does not fit.
    """
    source = read_source(path, reader)
    plain = check_shape(source, parse(source), "waivers")
    known = [entry.name for entry in catalogue.entries] + [check.name for check in BUILT_IN]
    entries = []
    for number, entry in enumerate(plain["entries"]):
        at: KeyPath = ("entries", number)
        _check_rule(source, at, entry["rule"], known)
        axis = entry.get("axis", "")
        values = tuple(
            (_absolute(source, at, fact, axis), fact, value)
            for fact, value in entry["values"].items()
        )
        entries.append(
            Waiver(
                entry["rule"],
                entry["machine"],
                axis,
                entry["reason"],
                entry["approved_by"],
                _day(source, (*at, "expires"), entry["expires"]),
                values,
                at,
                entry.get("stage", EARLY),
            )
        )
    return Waivers(source, tuple(entries))


def _check_rule(source: Source, at: KeyPath, rule: str, known: Sequence[str]) -> None:
    if rule in (WAIVER_LAPSED.name, WAIVER_UNUSED.name):
        raise error_at(source, (*at, "rule"), f"{rule} cannot be waived", "another rule")
    if rule not in known:
        close = difflib.get_close_matches(rule, known, 1, 0.6)
        expected = f"perhaps {close[0]}" if close else "a name that `axisproof rules list` shows"
        raise error_at(source, (*at, "rule"), f"{rule} is not a rule", expected)


def _day(source: Source, at: KeyPath, text: str) -> datetime.date:
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise error_at(
            source, at, f"{text} is no day of the calendar", "YYYY-MM-DD, such as 2026-12-31"
        ) from None


_OF_THE_MACHINE: Final = ("network", "conditions", "collision_pairs")


def _absolute(source: Source, at: KeyPath, fact: str, axis: str) -> str:
    """The path of a fact from the top of the machine file, once it is known to be a fact."""
    head, _, rest = fact.partition(".")
    absolute = fact
    try:
        if head == "axes":
            _check_path(axis_type(), rest.partition(".")[2])
        elif not axis or head.partition("[")[0] in _OF_THE_MACHINE:
            _check_path(machine_type(), fact)
        else:
            _check_path(axis_type(), fact)
            absolute = f"{path_text(('axes', axis))}.{fact}"
        path_parts(absolute)
    except ValueError:
        expected = "a path such as drive.node or axes.infeed.drive.node"
        what = f"{fact} is not a path"
        raise error_at(source, (*at, "values", fact), what, expected, key=True) from None
    except UnknownField as unknown:
        near = [f"{unknown.parent}.{name}".lstrip(".") for name in unknown.candidates]
        expected = f"perhaps {' or '.join(near)}" if near else "a fact as in the machine file"
        what = f"{fact} is not a fact"
        raise error_at(source, (*at, "values", fact), what, expected, key=True) from None
    return absolute


def _check_path(record: RecordType, path: str) -> None:
    """Raise UnknownField unless a dotted path, with [0] and so on for items, is in the schema."""
    before, bracket, after = path.partition("[")
    found = lookup(record, before).type
    if not bracket:
        return
    number, _, rest = after.partition("]")
    item = found.item if isinstance(found, ListType) else None
    if not number.isdigit() or item is None or (rest and not isinstance(item, RecordType)):
        raise UnknownField(path, (), before)
    if isinstance(item, RecordType) and rest:
        _check_path(item, rest.removeprefix("."))


# Applying -----------------------------------------------------------------------------------------


def apply_waivers(
    findings: Sequence[Finding],
    waivers: Waivers,
    machines: Sequence[tuple[Machine, str]],
    day: datetime.date,
) -> Sequence[Finding]:
    """The findings with waivers beside them, then those about lapsed and unused waivers."""
    by_name: dict[str, list[tuple[Machine, str]]] = {}
    axes: dict[str, set[str]] = {}
    for machine, label in machines:
        by_name.setdefault(machine.name, []).append((machine, label))
        axes.setdefault(machine.name, set()).update(axis["name"] for axis in machine.axes)
    named = {(waiver.rule, waiver.axis) for waiver in waivers.entries}
    by_check: dict[tuple[str, str], list[tuple[int, str, str]]] = {}
    for number, finding in enumerate(findings):
        check = finding.rule, finding.subject
        if check in named and finding.waived is None:
            by_check.setdefault(check, []).append((number, finding.machine, finding.stage))
    waived: dict[int, WaivedBy] = {}
    told: list[Finding] = []
    for waiver in waivers.entries:
        mine = by_name.get(waiver.machine, [])
        lapsed = _lapsed(waiver, mine, waivers, day)
        if lapsed is not None:
            told.append(lapsed)
            continue
        labels = {label for _, label in mine}
        same = [
            (number, stage)
            for number, machine, stage in by_check.get((waiver.rule, waiver.axis), ())
            if machine in labels and number not in waived
        ]
        matching = [number for number, stage in same if stage in ("", waiver.stage)]
        if same and not matching:
            told.append(_of_another_stage(waiver, mine, waivers, same[0][1]))
            continue
        waived.update(dict.fromkeys(matching, _waived(waiver, waivers)))
        if not matching:
            has_axis = waiver.axis in axes.get(waiver.machine, ())
            told.append(_unused(waiver, mine, waivers, has_axis))
    return marked(findings, waived, told)


def _waived(waiver: Waiver, waivers: Waivers) -> WaivedBy:
    place = _place(waivers.source, waiver.at)
    expires = waiver.expires.isoformat()
    return WaivedBy(waiver.reason, waiver.approved_by, expires, place)


def _lapsed(
    waiver: Waiver, machines: Sequence[tuple[Machine, str]], waivers: Waivers, day: datetime.date
) -> Finding | None:
    if day > waiver.expires:
        message = f"{waiver.named} expired on {waiver.expires.isoformat()}"
        mark = _mark(waivers.source, (*waiver.at, "expires"), "expires")
        return _finding(WAIVER_LAPSED, waiver, machines, message, (mark,))
    for machine, _ in machines:
        for path, fact, granted in waiver.values:
            present = stated_value(machine, path)
            if _same(granted, present):
                continue
            now = "not stated" if present is None else f"now {_text(present)}"
            message = f"{waiver.named} was granted for {fact} = {_text(granted)}, which is {now}"
            places = machine.places(path)
            marks = [Mark(each, machine.line_text(each), path, fact) for each in places]
            mark = _mark(waivers.source, (*waiver.at, "values", fact), f"granted for: {fact}")
            return _finding(WAIVER_LAPSED, waiver, machines, message, (mark, *marks))
    return None


def _of_another_stage(
    waiver: Waiver, machines: Sequence[tuple[Machine, str]], waivers: Waivers, stage: str
) -> Finding:
    """The finding of a waiver of one stage where the rule is at the other."""
    key = "stage" if waiver.stage != EARLY else "rule"
    mark = _mark(waivers.source, (*waiver.at, key), f"granted for: {waiver.stage}")
    message = (
        f"{waiver.named} was granted for the stage `{waiver.stage}`. The finding is now {stage}"
    )
    return _finding(WAIVER_LAPSED, waiver, machines, message, (mark,))


def _unused(
    waiver: Waiver, machines: Sequence[tuple[Machine, str]], waivers: Waivers, has_axis: bool
) -> Finding:
    key = "rule"
    level: Level = WAIVER_UNUSED.level
    why = "there is no such finding"
    if not machines:
        key, level = "machine", "note"
        why = f"no machine named {waiver.machine} was checked"
    elif waiver.axis and not has_axis:
        key, why = "axis", f"{waiver.machine} has no axis {waiver.axis}"
    mark = _mark(waivers.source, (*waiver.at, key), key)
    message = f"{waiver.named} covers nothing: {why}"
    return replace(_finding(WAIVER_UNUSED, waiver, machines, message, (mark,)), level=level)


def stated_value(machine: Machine, path: str) -> Any:
    """The value a machine states at a path: a text, a list of texts, or None."""
    written = machine.written(path)
    if written is not None:
        return written
    value = machine.plain_at(path)
    if isinstance(value, dict):
        value = value.get("partial", "described")
    return [as_written(item) for item in value] if isinstance(value, list) else value


def _same(granted: Any, present: Any) -> bool:
    if isinstance(granted, list) or isinstance(present, list):
        return (
            isinstance(granted, list)
            and isinstance(present, list)
            and len(granted) == len(present)
            and all(map(_same, granted, present))
        )
    if present is None:
        return bool(granted == UNSTATED)
    return bool(_value(as_written(granted)) == _value(present))


def _value(text: str) -> Any:
    """A quantity as value and dimension, anything else as it is written."""
    try:
        quantity = parse_quantity(text)
    except QuantityError:
        return text
    return quantity.value, quantity.dimension


def _text(value: Any) -> str:
    if isinstance(value, list):
        return f"[{', '.join(map(_text, value))}]"
    return as_written(value) if isinstance(value, bool | int | Decimal) else str(value)


def _place(source: Source, path: KeyPath) -> Place:
    here = locate(source)
    return here.key(path) or here.value(path) or source.place(0, 0)


def _mark(source: Source, path: KeyPath, label: str) -> Mark:
    place = locate(source).value(path) or source.place(0, 0)
    fact = f"waivers.{path[1]}.{'.'.join(map(str, path[2:]))}"
    return Mark(place, source.line_text(place.line), fact, label)


def _finding(
    rule: BuiltIn,
    waiver: Waiver,
    machines: Sequence[tuple[Machine, str]],
    message: str,
    marks: tuple[Mark, ...],
) -> Finding:
    label = machines[0][1] if machines else waiver.machine
    return rule.finding(label, waiver.axis, message, marks)
