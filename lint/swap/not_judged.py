"""The facts stated of a spare that nothing judges, each with the reason.

Every fact that a spare states is compared (it is in a row), written, or listed here. So no
statement about a spare is dropped without a word.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Set
from typing import Any, Final

from ..machine.value_reader import as_written
from .placing import MISSING, Swap, fetch, path_of
from .result import PartFactRow, RoleName, SettingToWrite, UnjudgedFact
from .roles import Roles, record_facts

REASONS: Final[Mapping[RoleName, str]] = {
    "stays": "It belongs to the place and stays there: the value of the machine holds.",
    "record": "It was noted at another place. It is noted again after the teaching.",
    "teach": "It holds for another place. It is taught again here.",
}
"""Why facts of a role are not compared, whatever their values."""

NEEDS_NONE: Final = "The spare needs no such record, so none is made."
ON_LOAD: Final = "The encoder that closes the position loop is on the load and stays."
NO_FACT: Final = "The encoder in the motor is the second encoder here, which has no such fact."
UNREAD: Final = "No rule reads it. Compare it with the fitted part yourself."
REPLACED: Final = "It is gone once the group that holds it is written."
RESET: Final = "The drive goes back to the state of delivery, so this setting is gone."


def facts_not_judged(
    swap: Swap,
    roles: Roles,
    rows: Iterable[PartFactRow],
    writes: Iterable[SettingToWrite],
    read: Set[tuple[str, str]],
) -> tuple[UnjudgedFact, ...]:
    """The facts stated of a spare that are in no row, and those in a row that no rule reads.

    ``read`` holds the facts of the part that a rule reads, as (record, fact).
    """
    shown = {row.fact: row for row in rows if row.spare}
    written = {write.fact for write in writes}
    found: list[UnjudgedFact] = []
    for record, fact, value in stated_facts(swap):
        record = _taken_as(swap, record, fact)
        spot = swap.spots.get(record)
        if spot is None:
            reason = NO_FACT if "second_encoder" in swap.spots else ON_LOAD
            found.append(UnjudgedFact(f"{record}.{fact}", value, reason))
            continue
        path, role = path_of(spot, fact), roles.role(record, fact)
        row = shown.get(path)
        if row is not None:
            if row.state != "same" and row.built and (record, fact) not in read:
                found.append(UnjudgedFact(path, value, role.unread or UNREAD))
        elif role.name == "record" and value == "none":
            found.append(UnjudgedFact(path, value, NEEDS_NONE))
        elif role.name in REASONS:
            found.append(UnjudgedFact(path, value, REASONS[role.name]))
        elif swap.part.set_up_for:
            found.append(UnjudgedFact(path, value, RESET))
        elif _group_above(path, written):
            found.append(UnjudgedFact(path, value, REPLACED))
    return tuple(found)


def _taken_as(swap: Swap, record: str, fact: str) -> str:
    """The record that a fact counts for: of two encoders, a motor can bring the second one."""
    second = record == "encoder" and "encoder" not in swap.spots and "second_encoder" in swap.spots
    return "second_encoder" if second and fact in record_facts("second_encoder") else record


def stated_facts(swap: Swap) -> Iterator[tuple[str, str, str]]:
    """The facts that the spare's file states, as (record, fact, value as written).

    A group is no fact of its own, unless it is stated to be none.
    """
    for record, plain in swap.part.records.items():
        if not isinstance(plain, dict):
            continue  # a motor without an encoder, which the notes tell
        for fact in record_facts(record):
            value = fetch(plain, fact)
            if value is MISSING or (
                isinstance(value, dict) and not {"claims", "partial"} & {*value}
            ):
                continue
            yield record, fact, _text(value)


def _group_above(path: str, written: Set[str]) -> bool:
    parts = path.split(".")
    return any(".".join(parts[:depth]) in written for depth in range(1, len(parts)))


def _text(value: Any) -> str:
    if isinstance(value, dict):
        return _text(next(value[key] for key in ("partial", "claims", "value") if key in value))
    if isinstance(value, list):
        return ", ".join(map(_text, value))
    return as_written(value)
