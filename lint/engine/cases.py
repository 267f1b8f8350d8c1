"""From a rule and a machine to the cases that the rule ranges over."""

from __future__ import annotations

from collections.abc import Iterator

from ..base.absence import NONE, none_above
from ..base.lazy import dataclass
from ..catalogue.catalogue import RunnableRule
from ..language.budget import PAIR_STEPS, charged, metered
from ..machine.machine import Machine
from ..machine.records import Facts, notes_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypeAlias


@dataclass(frozen=True, slots=True)
class Case:
    """One subject of a rule: its records by variable, or the reason why no records pair.

    ``missing`` (a join key that is not known) makes the rule undecided, ``absent`` (no partner)
    makes it not applicable.
    """

    subject: str
    env: dict[str, Any]
    missing: tuple[str, ...] = ()
    absent: str = ""


def change_case(before: Facts, after: Facts) -> Case:
    """The case of one axis before and after a change; ``before`` is of the old machine."""
    env = {"before": before, "after": after, "machine": notes_of(after).machine}
    return Case(after["name"], env)


def spare_case(axis: Facts, fitted: Facts) -> Case:
    """The case of one axis with a spare in place; ``fitted`` is of the machine before."""
    return Case(axis["name"], {"axis": axis, "fitted": fitted, "machine": notes_of(axis).machine})


def looks_at_one_axis(entry: RunnableRule) -> bool:
    """Whether a rule looks at each axis alone (and the machine it belongs to)."""
    return entry.subject == "axis" and entry.join is None


Join: TypeAlias = tuple[str, str, str]
Paired: TypeAlias = dict[Join, list[Case]]
"""The cases of rules that pair axes, by their join: rules with the same join share them."""


def cases(entry: RunnableRule, machine: Machine, paired: Paired) -> Iterator[Case]:
    """The cases of a rule in a machine; ``paired`` keeps those that several rules share."""
    facts = machine.facts
    if entry.subject == "machine":
        yield Case("", {"machine": facts})
        return
    if entry.subject != "axis":
        return  # the caller gives changes and spares (see check_cases)
    if entry.join is None:
        for axis in machine.axes:
            yield Case(axis["name"], {"axis": axis, "machine": facts})
        return
    found = paired.get(entry.join)
    if found is None:
        found = paired[entry.join] = list(_pairs(entry.join, machine))
    else:  # the pairs are made once, but each rule pays for them
        charged([case for case in found if not case.missing and not case.absent], PAIR_STEPS)
    yield from found


def _pairs(join: Join, machine: Machine) -> Iterator[Case]:
    variable, first_key, second_key = join
    axes = machine.axes
    index: dict[Any, list[tuple[int, Facts]]] = {}
    for number, axis in enumerate(axes):
        index.setdefault(axis.get(second_key), []).append((number, axis))
    unknown = {
        number: _to_state(axis, second_key)
        for number, axis in index.get(None, ())
        if not none_above(axis, second_key)
    }
    all_unknown = tuple(unknown.values())
    symmetric = first_key == second_key
    for number, axis in enumerate(axes):
        name = axis["name"]
        env = {"axis": axis, "machine": machine.facts}
        key = axis.get(first_key)
        if key is None or key is NONE:
            above = none_above(axis, first_key)
            if key is NONE or above:
                yield Case(name, env, absent=f"{above or first_key} is none")
            else:
                yield Case(name, env, missing=(_to_state(axis, first_key),))
            continue
        partners = [each for each in index.get(key, ()) if each[0] != number]
        if partners:
            for other_number, other in metered(partners, PAIR_STEPS):
                if not symmetric or other_number > number:
                    yield Case(name, {**env, variable: other})
            continue
        missing = all_unknown
        if number in unknown:
            missing = tuple(path for other, path in unknown.items() if other != number)
        if missing:
            yield Case(name, env, missing=missing)
        else:
            yield Case(name, env, absent=f"no other axis has {second_key} {key}")


def _to_state(axis: Facts, path: str) -> str:
    from ..language.fact_to_state import fact_to_state

    return f"{notes_of(axis).path}.{fact_to_state(axis, path)}"
