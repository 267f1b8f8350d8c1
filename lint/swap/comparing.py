"""The facts of a spare beside those of the part it replaces, each with its role."""

from __future__ import annotations

from typing import Any, Final

from ..base.absence import NONE, PRESENT
from ..machine.machine import Machine
from ..machine.records import Facts
from .placing import Swap, axis_of, path_of
from .result import PartFactRow, RoleName, RowState
from .roles import PLACES, Roles, record_facts


def rows_of(
    swap: Swap, roles: Roles, spare: Machine, writable: dict[tuple[str, str], bool]
) -> tuple[PartFactRow, ...]:
    """Compare what the machine states with the spare as it comes, record by record.

    Facts that stay with the place are left out, and so are those that neither side states and that
    need not be alike.
    """
    rows: list[PartFactRow] = []
    fitted_axis, spare_axis = axis_of(swap.machine, swap.axis), axis_of(spare, swap.axis)
    for record, spot in swap.spots.items():
        for fact in record_facts(record):
            role = roles.role(record, fact)
            if role.name == "stays":
                continue
            own = role.name not in ("record", "teach")
            was = value_of(fitted_axis, record, spot, fact)
            now = value_of(spare_axis, record, spot, fact) if own else None
            if was is PRESENT and now is PRESENT:
                continue
            if was is None and now is None:
                if role.name in MUST_BE_KNOWN and not _none_above(
                    fitted_axis, spare_axis, record, spot, fact
                ):
                    rows.append(PartFactRow(path_of(spot, fact), role.name, "", "", "not stated"))
                continue
            if not own and (was is NONE or was is PRESENT):
                continue
            can = role.name == "place" or (
                role.name == "match" and writable.get((record, fact), role.writable is None)
            )
            if was is None and below_none(fitted_axis, record, spot, fact):
                if can or now is None:
                    continue  # the group is written, or nothing is stated
                was = NONE
            if was is PRESENT and now is None:
                continue  # its own facts say what is not stated
            path = path_of(spot, fact)
            foreign = swap.part.foreign.get(fact, "") if record == swap.part.kind else ""
            if now is None and own and below_none(spare_axis, record, spot, fact):
                now = NONE
            state: RowState = "same" if was == now else "differs"
            if was is None:
                state = "machine silent"
            elif now is None and not foreign:
                state = "spare silent"
            rows.append(
                PartFactRow(path, role.name, text(swap.machine, path, was),
                    foreign or text(spare, path, now), state, can)
            )  # fmt: skip
    return tuple(rows)


MUST_BE_KNOWN: Final[frozenset[RoleName]] = frozenset({"match", "place", "equal", "identity"})
"""Roles of facts that matter even where neither side states them."""


def _none_above(
    fitted: Facts, spare: Facts, record: str, spot: tuple[str | int, ...], fact: str
) -> bool:
    """Whether a group above a fact is absent or not stated: then the group stands for the fact."""
    for axis in (fitted, spare):
        holder, prefix = _holder(axis, record, spot)
        parts = fact.split(".")
        groups = [prefix + ".".join(parts[:depth]) for depth in range(1, len(parts))]
        known = [group.removeprefix(prefix) for group in groups]
        if any(
            name in record_facts(record) and holder.get(group) is not PRESENT
            for name, group in zip(known, groups, strict=True)
        ):
            return True
    return False


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


def value_of(axis: Facts, record: str, spot: tuple[str | int, ...], fact: str) -> Any:
    """A fact of a record of an axis; None if it is not stated."""
    holder, prefix = _holder(axis, record, spot)
    return holder.get(prefix + fact)


def below_none(axis: Facts, record: str, spot: tuple[str | int, ...], fact: str) -> bool:
    """Whether a group above a fact of a record is known to be absent."""
    holder, prefix = _holder(axis, record, spot)
    parts = (prefix + fact).split(".")
    return any(holder.get(".".join(parts[:depth])) is NONE for depth in range(1, len(parts)))
