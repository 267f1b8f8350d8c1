"""Checks the clause by which a rule says of which other rule it may be a consequence."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import PurePath
from typing import Final, NamedTuple

from .rule_file import RuleFile, Word
from .syntax import Definition, Expr, Rule

ALWAYS_TOLD: Final = frozenset(("brake", "load_brake", "clamp", "interlocks", "interlock_details"))
"""Shipped rule files of which each finding is told in full."""

_GRAVE_FACTS: Final = frozenset(
    (
        "brake",
        "brake_release_delay",
        "brake_off_delay",
        "load_brake",
        "load_brake_output",
        "clamp",
        "counterbalance",
        "interlocks",
        "limit_switches",
        "software_limits",
        "moved_by_gravity",
    )
)
"""Parts of facts about gravity, brakes, limits and interlocks."""

_GRAVE_WORDS: Final = (
    "brake",
    "clamp",
    "stop",
    "hangs",
    "gravity",
    "weight",
    "interlock",
    "fall",
    "drop",
)
"""What the name of a definition about them holds, whole or in part."""


class Follows(NamedTuple):
    """A rule with the rules that its clause names, at their places."""

    file: RuleFile
    rule: Rule
    causes: Sequence[Word]


def check_follows(
    clauses: Iterable[Follows], rules: Sequence[Rule], definitions: Iterable[Definition]
) -> None:
    """Refuse a clause that could hide what must be told, or that never has an effect.

    Only rules about one axis can be judged again under the value that another one computes. What is
    about gravity, brakes, stopping, limits or interlocks is told always. Raises RuleError.
    """
    known = {rule.name: rule for rule in rules}
    formulas = {(each.record, each.name): each.expr for each in definitions}
    for file, rule, causes in clauses:
        at = causes[0][1]
        if not _about_one_axis(rule):
            what = f"{rule.name} is not about one axis alone, so it is always told"
            raise file.error(at, what, "no follows")
        grave = PurePath(rule.file).stem in ALWAYS_TOLD or _names_what_is_grave(rule, formulas)
        if grave:
            what = f"{rule.name} is about gravity, brakes, stopping, limits or interlocks"
            raise file.error(at, what, "no follows, because such a finding is always told")
        for name, place in causes:
            cause = known.get(name)
            if cause is None:
                raise file.error(place, f"{name} is not a rule", "the name of a rule")
            if not _about_one_axis(cause) or cause.fix is None or cause.fix.over is not None:
                what = f"{name} computes no value of one fact of an axis"
                raise file.error(place, what, "a rule about each axis that sets a fact")
            if rule.name in _all_causes(name, known):
                raise file.error(place, f"{name} follows from {rule.name}", "one direction alone")


def _about_one_axis(rule: Rule) -> bool:
    return rule.subject == "axis" and rule.range is None


def _all_causes(name: str, known: Mapping[str, Rule]) -> set[str]:
    """The rule and all that it follows from, over any number of steps."""
    found: set[str] = set()
    left = [name]
    while left:
        name = left.pop()
        if name not in found:
            found.add(name)
            left += known[name].follows if name in known else ()
    return found


def _names_what_is_grave(rule: Rule, formulas: Mapping[tuple[str, str], Expr]) -> bool:
    """Whether the rule itself reads a grave fact, or a definition that is named after one."""
    own = [rule.require, *(expr for _, expr in rule.lets)]
    if rule.when is not None:
        own.append(rule.when)
    for expr in own:
        for node in expr.walk():
            if node.op == "fact" and _GRAVE_FACTS.intersection(node.data[1].split(".")):
                return True
    return any(word in name for name in _definitions_of(own, formulas) for word in _GRAVE_WORDS)


def _definitions_of(
    exprs: Sequence[Expr], formulas: Mapping[tuple[str, str], Expr]
) -> Iterator[str]:
    """The names of all definitions that expressions rest on."""
    seen: set[tuple[str, str]] = set()
    left = list(exprs)
    while left:
        for node in left.pop().walk():
            if node.op != "derived":
                continue
            _, name, record = node.data
            if (record, name) not in seen:
                seen.add((record, name))
                yield name
                if (record, name) in formulas:
                    left.append(formulas[record, name])
