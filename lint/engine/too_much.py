"""Errors about machines and rules of which a check would take too long or fill the memory."""

from __future__ import annotations

from ..base.errors import InputError, RuleError
from ..catalogue.catalogue import Catalogue, rule_file
from ..language.budget import EXPECTED, MAX_OWN_STEPS
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
        what = f"all rules together take {has}. Rule {rule.name} takes the most"
    return rule_file(catalogue, rule.file).error(rule.at, what, EXPECTED)


def error_of_own_rules(catalogue: Catalogue, label: str, axes: int) -> RuleError:
    """The error of a site's rules that take too many steps together, at the longest of them."""
    steps = catalogue.own_steps
    worst = max(steps, key=steps.__getitem__)
    places = {f"{each.owner}.{each.name}": each for each in catalogue.trees.definitions}
    found = catalogue.rules.get(worst.removeprefix("rule ")) or places[worst]
    return rule_file(catalogue, found.file).error(
        found.at,
        f"the rules of the site take {sum(steps.values()):,} steps for each of the {axes:,} axes "
        f"of {label}. {worst[:1].upper()}{worst[1:]} takes the most of them, {steps[worst]:,}",
        f"at most {MAX_OWN_STEPS:,} steps on a machine: fewer rules, or shorter ones",
    )


def error_of_machine(machine: Machine, what: str) -> InputError:
    """The error of a machine that is too much for a check, at its longest list."""
    found = {path: machine.facts.get(path) for path in _LISTS}
    sizes = {path: len(each) if isinstance(each, list) else 0 for path, each in found.items()}
    path = max(sizes, key=sizes.__getitem__)
    place = machine.nearest(path)
    return InputError(
        f"{what}: it has {sizes[path]:,} {_LISTS[path]}",
        expected="fewer of them in one machine, or more of their facts, and different ones",
        place=place,
        source_line=machine.line_text(place) if place else "",
    )
