"""Rules in words: one rule, the list of rules, their settings, and the result of their examples."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Final

from ..findings.finding import LEVELS
from ..findings.rule_info import (
    FactInfo,
    NameInfo,
    RuleInfo,
    RuleTestReport,
    SettingInfo,
    Unnoticed,
)
from .blocks import heading, paragraph
from .error_text import place_lines
from .layout import clip, columns, pad, prose, visible, wrap
from .paint import paint
from .rendering import RenderOptions
from .words import counted, wrong_words

LEVEL_ROOM: Final = 9
"""Columns of a level in the list of rules."""

SUBJECT_WORDS = {
    "axis": "each axis",
    "machine": "each machine",
    "pair": "each pair of axes",
    "change": "each axis before and after a change (`axisproof changes`)",
    "spare": "each axis as fitted and with a spare in place (`axisproof spare`)",
}
_EXAMPLES = {
    "passes": "Examples that hold",
    "fails": "Examples that break it",
    "warns": "Examples that break it at its early stage",
    "undecided": "Examples that cannot be decided",
}


def render_rule(rule: RuleInfo, options: RenderOptions, *, source: bool = False) -> str:
    """Return the text for ``explain``; with ``source`` it ends with the source of the rule."""
    lines = heading(rule.name, options)
    lines += [
        *paragraph("Requires", rule.title, options),
        *paragraph("Level", rule.level, options),
        *paragraph("Looks at", SUBJECT_WORDS[rule.subject], options),
        *paragraph("Why", rule.finding.why if rule.finding else rule.why, options),
        *_example_words(rule, options),
        *paragraph("Basis", rule.basis, options),
        *paragraph("Written", f"{rule.file}, line {rule.line}", options),
    ]
    if rule.settings:
        lines += ["", "Settings a site may change", *_settings(rule.settings, options)]
    for kind, words in _EXAMPLES.items():
        examples = [example for example in rule.examples if example.kind == kind]
        if examples:
            lines += ["", words]
        for index, example in enumerate(examples):
            lines += [""] if index else []
            lines += ["  " + line for line in wrap(prose(example.title), options.width - 2)]
            lines += _code(example.text, options)
    if source:
        lines += [
            "",
            *paragraph("When", rule.condition or "always", options),
            *paragraph("Formula", rule.requirement, options),
        ]
        lines += ["", "As written", *_code(rule.text, options)]
    return "\n".join(lines) + "\n"


def _example_words(rule: RuleInfo, options: RenderOptions) -> list[str]:
    """The cautions and the remedy, with the numbers of an example if there is one."""
    finding = rule.finding
    lines: list[str] = []
    if finding is not None:
        lines += paragraph("Example", rule.example, options)
        lines += paragraph("Says", wrong_words(finding), options)
    cautions = [each.text for each in finding.cautions] if finding else rule.cautions
    for each in cautions:
        lines += paragraph("Caution", each, options)
    return [*lines, *paragraph("Remedy", finding.remedy if finding else rule.remedy, options)]


def render_facts(facts: Sequence[FactInfo], options: RenderOptions) -> str:
    """Return the text for ``explain`` of a fact, or of a word that facts take."""
    sections = []
    for each in facts:
        about = f"{each.fact}: {each.word.replace('_', ' ')}" if each.word else each.fact
        lines = heading(about, options)
        lines += [
            *paragraph("Means", each.meaning, options),
            *paragraph("Takes", each.takes, options),
            *paragraph("Rules", ", ".join(each.rules) or "no rule looks at it alone", options),
        ]
        sections.append("\n".join(lines))
    return "\n\n".join(sections) + "\n"


def _code(text: str, options: RenderOptions) -> list[str]:
    """Return source text without its common indentation, wrapped to the width."""
    lines = []
    for row in code_lines(text):
        bare = row.lstrip(" ")
        indent = len(row) - len(bare)
        wrapped = wrap(visible(bare), options.width - 4 - indent) or [""]
        lines += [(" " * (4 + indent) + line).rstrip() for line in wrapped]
    return lines


def code_lines(text: str) -> list[str]:
    """Return the lines of source text cut out of a file, without their common indentation."""
    rows = [line.expandtabs(4).rstrip() for line in text.strip("\n").split("\n")]
    # The first line of a piece cut out of a file has lost its indentation.
    depth = min((len(row) - len(row.lstrip(" ")) for row in rows[1:] if row), default=0)
    depth = min(depth, len(rows[0]) - len(rows[0].lstrip(" "))) if rows[0][:1] == " " else depth
    return [row[min(depth, len(row) - len(row.lstrip(" "))) :] for row in rows]


def _by_concern(rules: Sequence[RuleInfo]) -> Mapping[str, list[RuleInfo]]:
    """The rules of each concern, by its name."""
    concerns: dict[str, list[RuleInfo]] = {}
    for rule in rules:
        concerns.setdefault(rule.concern or "rules", []).append(rule)
    return dict(sorted(concerns.items()))


def render_rules(rules: Sequence[RuleInfo], options: RenderOptions) -> str:
    """Return a table of the rules for each concern: name, level, and what is required."""
    concerns = _by_concern(rules)
    across = max((columns(visible(rule.name)) for rule in rules), default=0) + 2
    across = min(across, options.width // 2)
    sections = []
    for concern, listed in concerns.items():
        lines = heading(f"{concern} ({counted(len(listed), 'rule')})", options)
        for rule in listed:
            level = paint(pad(rule.level, LEVEL_ROOM), rule.level, options)
            name = visible(rule.name)
            room = options.width - LEVEL_ROOM - across
            first, *rest = wrap(prose(rule.title), room) or [""]
            if columns(name) + 2 > across:
                lines.append(level + name)
                rest.insert(0, first)
            else:
                lines.append(level + pad(name, across) + first)
            lines += [" " * (LEVEL_ROOM + across) + line for line in rest]
        sections.append("\n".join(lines))
    if len(concerns) > 1:
        sections.append(f"{counted(len(rules), 'rule')} of {counted(len(concerns), 'concern')}")
    return "\n\n".join(sections) + "\n"


def render_concerns(rules: Sequence[RuleInfo], options: RenderOptions) -> str:
    """Return a table of the concerns that a screen holds: rules of each level, and one of them."""
    concerns = _by_concern(rules)
    names = {concern: visible(concern) for concern in concerns}
    across = min(max(map(columns, ("Concern", *names.values()))) + 2, options.width // 3)
    heads = [f"{level}s" for level in LEVELS]
    lines = [
        f"{counted(len(rules), 'rule')} of {counted(len(concerns), 'concern')}.",
        "",
        f"{pad('Concern', across)}{'  '.join(heads)}  the first one requires",
    ]
    for concern, listed in concerns.items():
        counts = Counter(rule.level for rule in listed)
        cells = [
            str(counts[level] or "-").rjust(len(head))
            for level, head in zip(LEVELS, heads, strict=True)
        ]
        left = f"{pad(clip(names[concern], across - 2), across)}{'  '.join(cells)}  "
        lines.append(left + clip(prose(listed[0].title), options.width - columns(left)))
    ways = '`axisproof rules list "CONCERN"` lists the rules of a concern, `--all` all.'
    return "\n".join([*lines, "", *wrap(prose(ways), options.width)]) + "\n"


def render_settings(settings: Sequence[SettingInfo], options: RenderOptions) -> str:
    """Return the list of settings with default, meaning and basis."""
    if not settings:
        return "The rules have no settings.\n"
    return "\n".join(_settings(settings, options)) + "\n"


def _settings(settings: Sequence[SettingInfo], options: RenderOptions) -> list[str]:
    lines = []
    for setting in settings:
        text = f"{setting.name}, default {setting.default}"
        lines += ["  " + line for line in wrap(prose(text), options.width - 2)]
        for more in (setting.meaning, setting.basis and f"Basis: {setting.basis}"):
            lines += ["      " + line for line in wrap(prose(more), options.width - 6)]
    return lines


def render_names(names: Sequence[NameInfo], options: RenderOptions) -> str:
    """Return what a rule can name: each with its kind and unit, and its meaning below."""
    lines: list[str] = []
    for each in names:
        lines += _painted(each.name, options)
        kind = f"{each.what}: {each.kind}" + (f", of {each.of}" if each.of else "")
        for text in (kind, each.meaning):
            lines += ["    " + line for line in wrap(prose(text), options.width - 4)]
    lines += ["", counted(len(names), "name")]
    return "\n".join(lines) + "\n"


def render_rule_test(report: RuleTestReport, options: RenderOptions) -> str:
    """Return the numbers, then the faults of rules and examples, then what no example notices."""
    lines: list[str] = []
    for text in _summary(report):
        lines += wrap(prose(text), options.width)
    for fault in report.faults:
        lines += ["", *_painted(fault.rule, options)]
        lines += ["  " + line for line in wrap(prose(fault.what), options.width - 2)]
        lines += place_lines(fault.place, fault.source_line, fault.expected, options)
    for each in report.unnoticed:
        lines += ["", *_unnoticed(each, options)]
    return "\n".join(lines) + "\n"


def _painted(text: str, options: RenderOptions) -> list[str]:
    return [paint(line, "heading", options) for line in wrap(prose(text), options.width)]


def _summary(report: RuleTestReport) -> list[str]:
    """The outcome of a rule test in a few sentences."""
    tested = f"{counted(report.rules, 'rule')}, {counted(report.examples, 'example')}: "
    faults = len(report.faults)
    tested += f"{counted(faults, 'fault')} in them." if faults else "each gives what it states."
    missed = report.mutants - report.killed
    altered = f"{counted(report.mutants, 'altered rule')} tried: "
    if not report.mutants:
        return [tested, "No altered rule was tried. The examples come first."]
    if not missed:
        return [tested, altered + "an example notices each."]
    found = [each for each in report.unnoticed if each.example]
    noticing = sum(len(each.alterations) for each in found)
    words = f"no example notices {missed} of them."
    if found:
        more = "example or line" if len(found) == 1 else "examples or lines"
        words += f" {len(found)} more {more} below would notice {noticing}."
    return [tested, altered + words]


MOST_SHOWN: Final = 4
"""Alterations that are shown of those which one more example would notice."""


def _unnoticed(each: Unnoticed, options: RenderOptions) -> list[str]:
    """The lines about alterations that one more example would notice."""
    lines = _painted(each.rule or "Definitions that no rule uses", options)
    number = len(each.alterations)
    shown = number if not each.example or number <= MOST_SHOWN + 1 else MOST_SHOWN
    for altered in each.alterations[:shown]:
        owner = "" if altered.owner == each.rule else f"in {altered.owner}: "
        what = f"{owner}{altered.what} here. No example notices."
        what = what[:1].upper() + what[1:]
        lines += ["  " + line for line in wrap(prose(what), options.width - 2)]
        lines += place_lines(altered.place, altered.source_line, "", options)
    if shown < number:
        lines.append(f"  And {number - shown} more.")
    what = "One that would:" if number == 1 else "One that would notice all of these:"
    if each.adds_to:
        what = f"{each.adds_to} would, with this line:"
    if not each.rule:
        what = "No example can, as long as no rule uses it."
    elif not each.example:
        what = (
            "No example was found that would. Perhaps nothing can come of this part. "
            "Then leave it out."
        )
    lines += ["  " + line for line in wrap(prose(what), options.width - 2)]
    return [*lines, *("      " + visible(line) for line in each.example)]
