"""The facts of a spare beside those of the part it replaces, each with its role."""

from __future__ import annotations

from typing import Any

from ..base.absence import NONE, PRESENT
from ..machine.machine import Machine
from ..machine.records import Facts
from .placing import Swap, axis_of, path_of
from .result import PartFactRow, RowState
from .roles import PLACES, Roles, record_facts


def rows_of(
    swap: Swap, roles: Roles, spare: Machine, writable: dict[tuple[str, str], bool]
) -> tuple[PartFactRow, ...]:
    """Compare what the machine states with the spare as it comes, record by record.

    Facts that stay with the place, and those that neither side states, are left out.
    """
    rows: list[PartFactRow] = []
    fitted_axis, spare_axis = axis_of(swap.machine, swap.axis), axis_of(spare, swap.axis)
    for record, spot in swap.spots.items():
        for fact in record_facts(record):
            role = roles.role(record, fact)
            if role.name == "stays":
                continue
            own = role.name not in ("record", "teach")
            was = _value(fitted_axis, record, spot, fact)
            now = _value(spare_axis, record, spot, fact) if own else None
            if (was is None and now is None) or (was is PRESENT and now is PRESENT):
                continue
            if not own and (was is NONE or was is PRESENT):
                continue
            if was is None and _below_none(fitted_axis, record, spot, fact):
                continue
            if was is PRESENT and now is None:
                continue  # its own facts say what is not stated
            path = path_of(spot, fact)
            if now is None and own and _below_none(spare_axis, record, spot, fact):
                now = NONE
            state: RowState = "same" if was == now else "differs"
            if was is None:
                state = "machine silent"
            elif now is None:
                state = "spare silent"
            can = role.name == "place" or (
                role.name == "match" and writable.get((record, fact), role.writable is None)
            )
            rows.append(
                PartFactRow(path, role.name, text(swap.machine, path, was), text(spare, path, now),
                    state, can)
            )  # fmt: skip
    return tuple(rows)


def text(machine: Machine, path: str, value: Any) -> str:
    """A fact as its file has it; empty if it is not known."""
    if value is None:
        return ""
    if value is NONE or value is PRESENT:
        return repr(value)
    written = machine.written(path)
    if written is not None:
        return written
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)


def _holder(axis: Facts, record: str, spot: tuple[str | int, ...]) -> tuple[Facts, str]:
    """The facts that hold those of a record, and what their paths begin with."""
    last = spot[-1]
    if isinstance(last, int):
        listed = axis.get(PLACES[record], ())
        return (listed[last] if last < len(listed) else {}), ""
    return axis, f"{PLACES[record]}."


def _value(axis: Facts, record: str, spot: tuple[str | int, ...], fact: str) -> Any:
    holder, prefix = _holder(axis, record, spot)
    return holder.get(prefix + fact)


def _below_none(axis: Facts, record: str, spot: tuple[str | int, ...], fact: str) -> bool:
    holder, prefix = _holder(axis, record, spot)
    parts = (prefix + fact).split(".")
    return any(holder.get(".".join(parts[:depth])) is NONE for depth in range(1, len(parts)))
