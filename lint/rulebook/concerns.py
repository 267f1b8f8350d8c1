"""The rules by concern, each with what it rests on and a finding from one of its own examples.

A concern is a rule file: its name, the comment at its head, its rules.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from ..catalogue.catalogue import Catalogue, RunnableRule
from ..catalogue.describing import (
    built_in_info,
    concern_of,
    definition_info,
    definitions_used,
    example_info,
    rule_info,
)
from ..engine.finding_builder import FindingBuilder
from ..engine.verdicts import BROKEN, verdict_of
from ..findings.builtin import STATEMENTS
from ..findings.finding import Finding
from ..findings.rule_info import Concern, ConcernRule, RuleInfo
from ..language.syntax import Example, Rule
from ..language.telling import tells_all
from .example_machines import build_example

_ABOUT_STATEMENTS = (
    "Built in: what a machine file, its versions and its waivers say of themselves, "
    "before any rule is asked.",
)


def concerns(catalogue: Catalogue, wanted: Collection[str] | None = None) -> tuple[Concern, ...]:
    """All concerns by name, the built-in checks last; a file without rules is no concern.

    With ``wanted``, those of these names. Raises RuleError for a rule with an example that cannot
    be built.
    """
    entries = {entry.name: entry for entry in catalogue.entries}
    by_file: dict[str, list[Rule]] = {}
    for rule in catalogue.trees.rules:
        if wanted is None or concern_of(rule.file) in wanted:
            by_file.setdefault(rule.file, []).append(rule)
    found = [
        Concern(
            concern_of(file),
            head_comment(catalogue.texts[file]),
            tuple(_with_example(catalogue, rule, entries[rule.name]) for rule in rules),
        )
        for file, rules in by_file.items()
    ]
    built_in = tuple(ConcernRule(info) for info in built_in_info())
    found.sort(key=lambda concern: concern.name)
    if wanted is not None and STATEMENTS not in wanted:
        return tuple(found)
    return (*found, Concern(STATEMENTS, _ABOUT_STATEMENTS, built_in))


def head_comment(text: str) -> tuple[str, ...]:
    """The comment a rule file begins with, by paragraphs, each on one line."""
    paragraphs: list[list[str]] = [[]]
    for line in text.splitlines():
        if not line.startswith("#"):
            break
        words = line.lstrip("#").strip()
        if words:
            paragraphs[-1].append(words)
        else:
            paragraphs.append([])
    return tuple(" ".join(lines) for lines in paragraphs if lines)


def _with_example(catalogue: Catalogue, rule: Rule, entry: RunnableRule) -> ConcernRule:
    used = definitions_used(catalogue, rule, pinned=False)
    definitions = tuple(definition_info(catalogue.definitions[key]) for key in used)
    info = rule_info(catalogue, rule)
    lines = catalogue.texts[rule.file].splitlines()
    shown: ConcernRule | None = None
    for example in catalogue.examples[rule.name]:
        if example.kind != "fails":
            continue
        finding = _finding(catalogue, rule, entry, example)
        if finding is None:
            continue
        whole = tells_all(rule.say or rule.headline, finding.message)
        if shown is None or whole:
            shown = ConcernRule(info, definitions, example_info(lines, example), finding)
        if whole:
            break
    return shown or ConcernRule(info, definitions)


def with_finding(catalogue: Catalogue, rule: Rule) -> RuleInfo:
    """A rule in words, with what it says of one of its own examples."""
    entry = next(entry for entry in catalogue.entries if entry.name == rule.name)
    shown = _with_example(catalogue, rule, entry)
    title = shown.example.title if shown.example else ""
    return replace(shown.info, example=title, finding=shown.finding)


def _finding(
    catalogue: Catalogue, rule: Rule, entry: RunnableRule, example: Example
) -> Finding | None:
    """What the rule says of an example: of the first case that breaks it, None if none does."""
    facts = build_example(catalogue, rule, entry, example)
    for case in facts.cases:
        if verdict_of(entry, case) == BROKEN:
            teller = FindingBuilder(facts.machine, rule.name, catalogue, True, facts.aside)
            return teller.finding(entry, case)
    return None
