"""The summary for a merge request, in Markdown as review platforms read it (CommonMark and tables).

It names failed checks and those that cannot be decided, the most severe first, within the length
of a comment. No text of an input acts as markup, and no name in it notifies a person.
"""

from __future__ import annotations

import re
from typing import Final

from ..findings.finding import LEVELS, Finding, Report, Tally
from ..findings.unusable import each_fault
from .in_force import LEFT_OUT_TITLE, LEVELS_TITLE, SETTINGS_TITLE, SKIPPED_TITLE
from .layout import prose, visible
from .rendering import CAUTION, RenderOptions, ordered_findings, total
from .summary_table import others
from .unusable_files import UNUSABLE_TITLE, unusable_place, unusable_words
from .words import (
    acceptance_name,
    concern_words,
    counted,
    fix_words,
    headline_words,
    level_words,
    missing_words,
    place_words,
    subject_name,
    summary_sentences,
    unchecked_files,
    waiver_words,
)

FINDINGS_SHOWN: Final = 30
UNDECIDED_SHOWN: Final = 20
FACTS_SHOWN: Final = 10
ROWS_SHOWN: Final = 40
FIELD: Final = 600
"""Most characters shown of one text."""


def render(report: Report, options: RenderOptions) -> str:
    """Return the report as Markdown that ends in a newline."""
    worst = sorted(
        ordered_findings(report),
        key=lambda finding: (finding.waived is not None, LEVELS.index(finding.level)),
    )
    blocks = [
        f"## axisproof: {headline_words(report)}",
        " ".join(map(escaped, summary_sentences(report))),
        *_unusable(report),
        *([f"> **Caution.** {escaped(CAUTION)}"] if report.sends_to_machine else []),
        *_tally_table(report),
        *_findings(worst, options),
        *_accepted_gone(report),
        *_undecided_concerns(report),
        *_undecided(report),
        *_left_out(report),
        *_skipped(report, options),
        *_levels(report),
        *_settings(report),
    ]
    checked = (
        f"{counted(report.axes, 'axis', 'axes')} of {counted(len(report.machines), 'machine')}, "
        f"{counted(len(report.files), 'file')}, {counted(report.rules, 'rule')}"
    )
    day = f", for the day {report.day}" if report.day else ""
    blocks.append(f"Checked: {checked}{day}.")
    return "\n\n".join(blocks) + "\n"


_MARKUP: Final = re.compile(r"([\\`*_{}\[\]()#+!|<>~&$^=:-])")
_LINKS: Final = re.compile(r"@|:(?=//)|w(?=ww\.)", re.IGNORECASE)


def escaped(text: str) -> str:
    """Return text as one line in which nothing is markup, a link or the mention of a person."""
    line = _MARKUP.sub(r"\\\1", prose(text[:FIELD] + "…" if len(text) > FIELD else text))
    # An empty comment splits text that platforms turn into a link or a mention.
    line = _LINKS.sub(lambda match: f"{match[0]}<!-- -->", line)
    # A number with a point at the start would begin a list.
    return re.sub(r"^(\d+)\.", r"\1\\.", line)


def code(text: str) -> str:
    """Return text as a code span."""
    line = visible(" ".join(text.split()))[:FIELD]
    longest = max((len(run) for run in re.findall("`+", line)), default=0)
    fence = "`" * (longest + 1)
    space = " " if line.startswith("`") or line.endswith("`") or not line else ""
    return f"{fence}{space}{line}{space}{fence}"


def _tally_table(report: Report) -> list[str]:
    """Tallies by axis: first the axes with checks that failed or cannot be decided."""
    if not report.tallies:
        return []
    rows = [tally for tally in report.tallies if tally.broken or tally.undecided]
    quiet = [tally for tally in report.tallies if not (tally.broken or tally.undecided)]
    lines = [
        "| Axis | failed | cannot be decided | passed | do not apply |",
        "|---|--:|--:|--:|--:|",
    ]
    lines += [
        _row(subject_name(tally.machine, tally.subject), tally) for tally in rows[:ROWS_SHOWN]
    ]
    rest = rows[ROWS_SHOWN:]
    if rest:
        lines.append(
            _row(f"{len(rest)} further with checks that failed or cannot be decided", total(rest))
        )
    if quiet:
        name = others([tally.subject for tally in quiet]) if rows else "all without any"
        lines.append(_row(name, total(quiet)))
    return ["\n".join(lines)]


def _row(name: str, tally: Tally) -> str:
    numbers = (tally.broken, tally.undecided, tally.holds, tally.not_applicable)
    return f"| {escaped(name)} | " + " | ".join(map(str, numbers)) + " |"


def _findings(findings: list[Finding], options: RenderOptions) -> list[str]:
    blocks = []
    for finding in findings[:FINDINGS_SHOWN]:
        blocks += _finding_blocks(finding, options)
    more = len(findings) - FINDINGS_SHOWN
    if more > 0:
        text = f"{counted(more, 'further finding')} not shown here. The full report has them."
        blocks.append(text)
    return blocks


def _finding_blocks(finding: Finding, options: RenderOptions) -> list[str]:
    where = escaped(subject_name(finding.machine, finding.subject))
    blocks = [
        f"### {finding.level.capitalize()}: {escaped(finding.rule)}, {where}",
        *([f"**{escaped(finding.headline)}**"] if finding.headline else []),
        *([escaped(finding.message)] if finding.message != finding.headline else []),
    ]
    if finding.waived:
        word, text = waiver_words(finding.waived)
        blocks.insert(1, f"**{word}:** {escaped(text)}")
    marks = []
    for mark in finding.marks:
        place = escaped(f"{mark.place.file}, line {mark.place.line}")
        marks.append(f"- {code(mark.label)} in {place}: {code(mark.line_text.strip()[:160])}")
    if marks:
        blocks.append("\n".join(marks))
    blocks.append(f"**Why:** {escaped(finding.why)}")
    blocks += [f"**Caution:** {escaped(each)}" for each in finding.special_cautions]
    blocks.append(f"**Remedy:** {escaped(finding.remedy)}")
    if finding.fix:
        blocks.append(f"**Offered:** {escaped(fix_words(finding))}")
    if options.workings and finding.workings:
        steps = []
        for step in finding.workings:
            text = " = ".join(dict.fromkeys((step.formula, step.filled, step.result)))
            steps.append(f"- {code(f'{step.name} = {text}')}")
        blocks += ["<details><summary>Workings</summary>", "\n".join(steps), "</details>"]
    return blocks


def _accepted_gone(report: Report) -> list[str]:
    if not report.accepted_gone:
        return []
    lines = ["### Accepted, and no longer found", ""]
    for each in report.accepted_gone[:FINDINGS_SHOWN]:
        lines.append(f"- {escaped(acceptance_name(each))}: {escaped(each.message)}")
    lines += _further(len(report.accepted_gone) - FINDINGS_SHOWN, "finding")
    return ["\n".join(lines)]


def _further(more: int, what: str, where: str = "") -> list[str]:
    """The last line of a list that was cut; nothing for a whole one."""
    return [f"- and {counted(more, f'further {what}')}{where}"] if more > 0 else []


def _undecided_concerns(report: Report) -> list[str]:
    if not report.undecided_concerns:
        return []
    lines = ["### Missing data that counts as a failure", ""]
    for each in report.undecided_concerns[:UNDECIDED_SHOWN]:
        where = escaped(subject_name(each.machine, each.subject))
        lines.append(f"- {where}: {escaped(concern_words(each))}")
    rest = dict.fromkeys(
        subject_name(each.machine, each.subject)
        for each in report.undecided_concerns[UNDECIDED_SHOWN:]
    )
    if rest:
        lines.append(f"- and on {', '.join(map(escaped, rest))}")
    return ["\n".join(lines)]


def _undecided(report: Report) -> list[str]:
    if not report.undecided:
        return []
    lines = [f"### Cannot be decided: {counted(len(report.undecided), 'check')}", ""]
    if report.deciding_facts:
        lines += ["Data that decides most:", ""]
        for each in report.deciding_facts[:FACTS_SHOWN]:
            lines.append(f"- {code(each.fact)}: bears on {counted(each.checks, 'check')}")
        lines.append("")
    lines += ["<details><summary>The checks and what they lack</summary>", ""]
    for check in report.undecided[:UNDECIDED_SHOWN]:
        where = escaped(subject_name(check.machine, check.subject))
        lines.append(f"- {escaped(check.rule)}, {where}: {escaped(missing_words(check))}")
    lines += _further(len(report.undecided) - UNDECIDED_SHOWN, "check")
    return ["\n".join([*lines, "", "</details>"])]


def _left_out(report: Report) -> list[str]:
    if not report.left_out:
        return []
    lines = [f"### {LEFT_OUT_TITLE}", ""]
    for each in report.left_out[:FINDINGS_SHOWN]:
        lines.append(f"- {escaped(place_words(each.place))}: {escaped(each.text)}")
    more = len(report.left_out) - FINDINGS_SHOWN
    lines += _further(more, "remark", ". The full report has them.")
    return ["\n".join(lines)]


def _unusable(report: Report) -> list[str]:
    """All of them, however many: without them the report is not whole."""
    if not report.unusable:
        return []
    lines = [f"### {UNUSABLE_TITLE}", ""]
    for each in each_fault(report.unusable):
        lines.append(f"- **{escaped(unusable_place(each))}:** {escaped(unusable_words(each))}")
    return ["\n".join(lines)]


def _skipped(report: Report, options: RenderOptions) -> list[str]:
    names = unchecked_files(report)
    if not (names and options.verbose):
        return []
    lines = [f"### {SKIPPED_TITLE}", ""]
    lines += [f"- {word}: {code(name)}" for word, name in names[:FINDINGS_SHOWN]]
    more = len(names) - FINDINGS_SHOWN
    lines += _further(more, "file", ". The full report has them.")
    return ["\n".join(lines)]


def _levels(report: Report) -> list[str]:
    if not report.level_changes:
        return []
    lines = [f"### {LEVELS_TITLE}", ""]
    for each in report.level_changes:
        name = escaped(f"{each.rule}: {level_words(each)}")
        lines.append(f"- {name}. {escaped(each.title)}. {escaped(each.reason)}")
    return ["\n".join(lines)]


def _settings(report: Report) -> list[str]:
    if not report.settings:
        return []
    lines = [f"### {SETTINGS_TITLE}", ""]
    for machine, subject, name, value, reason in report.settings:
        where = subject_name(machine, subject) if machine else "every machine"
        lines.append(f"- {escaped(f'{name} = {value}')}, {escaped(where)}: {escaped(reason)}")
    return ["\n".join(lines)]
