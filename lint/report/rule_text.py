"""Rules in words: one rule, the list of rules, their settings, and the result of their examples."""

from __future__ import annotations

from collections.abc import Sequence

from ..findings.rule_info import RuleInfo, RuleTestReport, SettingInfo
from .blocks import heading, paragraph, part
from .error_text import place_lines
from .layout import columns, pad, prose, visible, wrap
from .paint import paint
from .rendering import RenderOptions
from .words import counted

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
    "undecided": "Examples that cannot be decided",
}


def render_rule(rule: RuleInfo, options: RenderOptions, *, source: bool = False) -> str:
    """Return the text for ``explain``; with ``source`` it ends with the source of the rule."""
    lines = heading(rule.name, options)
    lines += [
        *paragraph("", rule.title, options),
        "",
        *paragraph("Level", rule.level, options),
        *paragraph("Looks at", SUBJECT_WORDS[rule.subject], options),
        *paragraph("When", rule.condition or "always", options),
        *paragraph("Requires", rule.requirement, options),
        *paragraph("Why", rule.why, options),
        *paragraph("Remedy", rule.remedy, options),
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
        lines += ["", "As written", *_code(rule.text, options)]
    return "\n".join(lines) + "\n"


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


def render_rules(rules: Sequence[RuleInfo], options: RenderOptions) -> str:
    """Return the list of rules: level and name, below them title and basis."""
    lines: list[str] = []
    for rule in rules:
        name = paint(visible(rule.name), "heading", options)
        lines += part(rule.level, [name], options)
        lines += paragraph("", rule.title, options)
        lines += paragraph("", f"Basis: {rule.basis}", options)
    lines += ["", counted(len(rules), "rule")]
    return "\n".join(lines) + "\n"


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


def render_rule_test(report: RuleTestReport, options: RenderOptions) -> str:
    """Return the faults of rules and examples, then the numbers."""
    lines: list[str] = []
    for fault in report.faults:
        lines += [
            paint(line, "heading", options) for line in wrap(prose(fault.rule), options.width)
        ]
        lines += ["  " + line for line in wrap(prose(fault.what), options.width - 2)]
        lines += [*place_lines(fault.place, fault.source_line, fault.expected, options), ""]
    table = (
        ("rules", report.rules),
        ("examples", report.examples),
        ("altered rules tried", report.mutants),
        ("told apart by an example", report.killed),
        ("faults", len(report.faults)),
    )
    across = max(columns(word) for word, _ in table)
    lines += [f"{pad(word, across)}  {number:>6}" for word, number in table]
    return "\n".join(lines) + "\n"
