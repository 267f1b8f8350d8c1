"""Errors about machines and rules of which a check would take too long or fill the memory."""

from __future__ import annotations

from ..base.errors import InputError, RuleError
from ..catalogue.catalogue import Catalogue, rule_file
from ..language.budget import EXPECTED
from ..language.syntax import Rule
from ..machine.machine import Machine

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

_LISTS: Final = {
    "axes": "axes",
    "network.nodes": "entries in network.nodes",
    "conditions": "conditions",
    "collision_pairs": "collision pairs",
}
"""The lists of a machine whose entries rules compare with each other, and what they hold."""


def error_of_rule(
    catalogue: Catalogue, rule: Rule, label: str, machine: Machine, most: int, together: bool
) -> RuleError:
    """The error of a site's rule whose loops take too many steps on a machine."""
    has = f"more than {most:,} steps on {label}, which has {len(machine.axes)} axes"
    what = f"rule {rule.name} takes {has}"
    if together:
        what = f"all rules together take {has}; rule {rule.name} takes the most"
    return rule_file(catalogue, rule.file).error(rule.at, what, EXPECTED)


def error_of_machine(machine: Machine, what: str) -> InputError:
    """The error of a machine that is too much for a check, at its longest list."""
    found = {path: machine.facts.get(path) for path in _LISTS}
    sizes = {path: len(each) if isinstance(each, list) else 0 for path, each in found.items()}
    path = max(sizes, key=sizes.__getitem__)
    place = machine.nearest(path)
    return InputError(
        f"{what}: it has {sizes[path]:,} {_LISTS[path]}",
        expected="fewer of them in one machine, or more of their facts, and unlike ones",
        place=place,
        source_line=machine.line_text(place) if place else "",
    )
