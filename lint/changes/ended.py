"""Checks of the old version that do not apply to the new one.

A check that failed, and that nothing but facts left out silenced, is lost. A check that passed is
told with the facts that changed. It fails the comparison if a fact that it reads is not stated any
more, and no other change of a fact says that it is not due: nobody would see otherwise that a line
is gone. Only a check that ends in a note, outside the concerns that must be decided, may end so.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Final, cast

from ..catalogue.catalogue import Catalogue, RunnableRule
from ..catalogue.describing import concern_of, facts_read
from ..engine.cases import looks_at_one_axis
from ..engine.concerns import CONCERNS
from ..engine.engine import Results
from ..engine.verdicts import NOT_APPLICABLE
from ..findings.change_report import EndedCheck, FactChange
from ..findings.finding import Finding, Level, Undecided
from ..language.reach import Reaches, reach
from ..language.syntax import Rule
from ..machine.records import NOTES, Facts, notes_of

Changed = Mapping[str, tuple[str, Mapping[str, str]]]
"""By the old name of a changed axis (empty: the machine): its new name, what became of facts."""

BothVersions = Mapping[str, tuple[Facts, Facts]]
"""By the old name of an axis that both versions have: its facts in the old and the new one."""

FAILING: Final = {file for due in CONCERNS.values() for file in due.files}
"""The concerns of which a check that ends by a fact left out is a failure, whatever its level."""


def ended_checks(
    before: Results,
    after: Results,
    kept: Mapping[str, str],
    changed: Changed,
    axes: BothVersions,
    catalogue: Catalogue,
) -> Iterator[EndedCheck]:
    """Checks that passed before and do not apply now; ``kept`` holds new names by old names."""
    entries = {entry.name: entry for entry in catalogue.entries}
    failed = Counter((each.rule, each.subject) for each in before.findings)
    undecided = Counter((each.rule, each.subject) for each in after.undecided)
    for (name, old), count in before.decided.items():
        rule = catalogue.rules.get(name)
        if rule is None or old not in kept:
            continue
        key = name, kept[old]
        ended = count - failed[name, old] - after.decided[key] - undecided[key]
        if ended <= 0:
            continue
        kinds = changed.get(old, ("", {}))[1]
        touched = _touched(kinds, rule, catalogue)
        prefix = f"axes.{kept[old]}." if old else ""
        yield EndedCheck(
            name,
            cast("Level", entries[name].level),
            before.machine,
            kept[old],
            rule.title,
            ended,
            tuple(prefix + fact for fact in touched),
            _must_be_shown(entries[name], catalogue)
            and _by_silence(entries[name], kinds, touched, axes.get(old), catalogue),
        )


def _touched(kinds: Iterable[str], rule: Rule, catalogue: Catalogue) -> list[str]:
    """The changed facts that a rule reads."""
    read = facts_read(catalogue, rule)
    return [fact for fact in kinds if any(touches(fact, each) for each in read)]


def _must_be_shown(entry: RunnableRule, catalogue: Catalogue) -> bool:
    """Whether nobody may lose a check by a deleted line."""
    return entry.level != "note" or concern_of(catalogue.rules[entry.name].file) in FAILING


def _by_silence(
    entry: RunnableRule,
    kinds: Mapping[str, str],
    touched: Iterable[str],
    versions: tuple[Facts, Facts] | None,
    catalogue: Catalogue,
) -> bool:
    """Whether a check ended with a fact that was left out.

    Of a rule that looks at one axis, this is so if it applies again with these facts put back. Of
    another one, it is so if no change but of these facts has to do with when it applies.
    """
    facts = list(touched)
    removed = [fact for fact in facts if kinds[fact] == "removed"]
    if not removed:
        return False
    if versions is not None and looks_at_one_axis(entry):
        axis = _put_back(removed, *versions)
        return bool(entry.function(axis, notes_of(axis).machine) != NOT_APPLICABLE)
    rule = catalogue.rules[entry.name]
    known: Reaches = {}
    when = () if rule.when is None else reach(rule.when, catalogue.definitions, known)
    asked = {path for _, path in when}
    return not any(
        kinds[fact] != "removed" and any(touches(fact, each) for each in asked) for fact in facts
    )


def _put_back(removed: Iterable[str], old: Facts, new: Facts) -> Facts:
    """A copy of the new facts of an axis, with what the old ones state of facts left out."""
    facts = [*removed]
    notes = notes_of(new)
    put_back = notes.beside(notes.path, notes.machine)
    put_back.decimals = {**notes_of(old).decimals, **notes.decimals}
    axis = {**new, NOTES: put_back}
    for key, value in old.items():
        whole = isinstance(value, list)  # an item of it, or a fact of an item, was left out
        if key != NOTES and (whole or key not in new) and any(touches(key, f) for f in facts):
            axis[key] = value
    return axis


def no_longer_compared(
    gone: Iterable[Finding],
    changed: Mapping[str, tuple[str, Mapping[str, str]]],
    after: Results,
    catalogue: Catalogue,
) -> Iterator[Undecided]:
    """Failed checks that do not apply any more, as nothing but facts that they read was taken out.

    ``changed`` holds for the old name of each changed axis its new name, and what became of facts.
    """
    undecided = {(each.rule, each.subject) for each in after.undecided}
    for finding in gone:
        name, kinds = changed.get(finding.subject, ("", {}))
        if finding.rule not in catalogue.rules or (finding.rule, name) in undecided:
            continue
        if not name or after.decided[finding.rule, name]:
            continue
        touched = _touched(kinds, catalogue.rules[finding.rule], catalogue)
        if touched and all(kinds[fact] in _ENDS for fact in touched):
            yield Undecided(
                finding.rule,
                finding.level,
                finding.machine,
                name,
                finding.title,
                tuple(f"axes.{name}.{fact}" for fact in touched),
                "it failed before, and does not apply without this",
            )


_ENDS: Final = frozenset({"removed", "none"})
"""What can silence a check and cure nothing: a fact left out, or a part stated as absent."""


def end_of(change: FactChange) -> str:
    """What became of a fact: ``none`` where the new version states that there is no such part."""
    return "none" if change.new == "none" else change.kind


def without_item(fact: str) -> str:
    """A fact of the axis itself: for a fact of a list item, the list."""
    return fact.partition("[")[0]


def touches(one: str, two: str) -> bool:
    """Whether two facts are the same, or one is a part that contains the other."""
    return one == two or one.startswith(two + ".") or two.startswith(one + ".")
