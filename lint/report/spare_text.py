"""A spare and its plan as text for a terminal."""

from __future__ import annotations

from typing import Final

from ..swap.result import ROLE_WORDS, Plan, SpareReport, Verdict
from .blocks import entry, hanging, heading
from .finding_text import finding_lines
from .in_force import left_out_section, levels_section, settings_section
from .layout import columns, pad, prose, visible, wrap
from .paint import paint
from .rendering import CAUTION, RenderOptions
from .spare_words import (
    NOT_JUDGED_TITLE,
    after_words,
    becomes_words,
    carried_words,
    fate_words,
    headline,
    hold_words,
    is_open,
    plan_warning,
    row_words,
    tally_words,
    teaching_words,
    to_solve_first,
    verdict_words,
    write_words,
)
from .words import (
    counted,
    missing_words,
    rules_sentences,
)


def render(report: SpareReport, options: RenderOptions) -> str:
    """Return the judgement (and plan) as text that ends in a newline."""
    sections = [
        _opening(report, options),
        wrap(CAUTION, options.width),
        _reasons_against(report, options),
        _writes(report, options),
        _open_checks(report, options),
        *([] if report.plan is None else plan_sections(report, report.plan, options)),
        *(_all_of_it(report, options) if options.whole else _shortly(report, options)),
        _not_judged(report, options),
        _before(report, options),
        left_out_section(report.left_out, options),
        levels_section(report.level_changes, options),
        settings_section(report.settings, options),
        wrap(f"Checked for the day {report.day}.", options.width),
    ]
    return "\n\n".join("\n".join(section) for section in sections if section) + "\n"


def _all_of_it(report: SpareReport, options: RenderOptions) -> list[list[str]]:
    """All that explains the verdicts."""
    return [
        _lessons(report, options),
        _memories(report, options),
        _figures(report, options),
        _rows(report, options),
        _as_it_comes(report, options),
    ]


def _shortly(report: SpareReport, options: RenderOptions) -> list[list[str]]:
    """Figures that change, and how many facts of each role were compared.

    Work without a spare changes nothing but memories, so these stand there.
    """
    if report.verdict == "nothing to compare":
        return [_memories(report, options)]
    return [_figures(report, options), _rows(report, options)]


_VERDICT_ROLES: Final[dict[Verdict, str]] = {
    "does not fit": "error",
    "cannot be said yet": "undecided",
    "fits with warnings": "warning",
}


def _opening(report: SpareReport, options: RenderOptions) -> list[str]:
    lines = [*heading(headline(report), options), ""]
    role = _VERDICT_ROLES.get(report.verdict, "heading")
    told = prose(verdict_words(report))
    lines += [paint(line, role, options) for line in wrap(told, options.width)]
    if not is_open(report):
        lines += _teach(report, options)
    else:
        hidden = after_words(report) if _hides_work(report, options) else ""
        lines += wrap(f"{hold_words(report)} {hidden}".rstrip(), options.width)
    for note in (
        *report.notes,
        "" if _hides_work(report, options) else carried_words(report),
        *rules_sentences(report.site_file, report.site_rules, report.level_changes),
    ):
        lines += wrap(prose(note), options.width) if note else []
    return lines


def _hides_work(report: SpareReport, options: RenderOptions) -> bool:
    """Tell whether the work with a part that does not fit is left out: nobody asked for it."""
    return is_open(report) and report.plan is None and not options.whole


def _teach(report: SpareReport, options: RenderOptions) -> list[str]:
    if not report.lessons:
        return wrap(prose(teaching_words(report)), options.width)
    lines = ["Teach again after the work:"]
    for lesson in report.lessons:
        lines += hanging("  ", prose(lesson.words), options.width)
    return lines


def _reasons_against(report: SpareReport, options: RenderOptions) -> list[str]:
    lines: list[str] = []
    if report.broken or report.unequal:
        lines = heading("What stands against it, with every setting written", options)
    for row in report.unequal:
        lines += entry(
            visible(row.fact), f"must match and cannot be written: {row_words(row)}", options
        )
    for finding in report.broken:
        lines += ["", *finding_lines(finding, options)]
    if report.warnings:
        head = heading("To be settled, with every setting written", options)
        lines += [*([""] if lines else []), *head]
    for finding in (*report.warnings, *report.remarks):
        lines += [*([""] if lines else []), *finding_lines(finding, options)]
    return lines


def _open_checks(report: SpareReport, options: RenderOptions) -> list[str]:
    lines: list[str] = []
    if report.open_checks or report.unstated:
        lines += heading("Not known, and needed to tell", options)
        for each in report.settle:
            lines += entry(
                visible(each.fact), f"settles {counted(each.checks, 'question')}", options
            )
        lines += heading("What these questions are", options)
        for row in report.unstated:
            lines += entry(visible(row.fact), f"must match: {row_words(row)}", options)
        for check in report.open_checks:
            lines += entry(visible(check.rule), missing_words(check), options)
    notes = [each for each in report.undecided if each not in report.open_checks]
    if notes:
        head = heading(
            "Notes that cannot be decided (the verdict does not depend on them)", options
        )
        lines += [*([""] if lines else []), *head]
        for check in notes:
            lines += entry(visible(check.rule), missing_words(check), options)
    if report.after_teaching:
        lines += [
            *([""] if lines else []),
            *heading("Required, and to be checked after teaching", options),
        ]
        for check in report.after_teaching:
            lines += entry(f"{check.title} [{check.rule}]", missing_words(check), options)
    return lines


def _writes(report: SpareReport, options: RenderOptions) -> list[str]:
    if not report.writes or _hides_work(report, options):
        return []
    title = "Settings to write if you solve this first" if is_open(report) else "Settings to write"
    lines = heading(title, options)
    for write in report.writes:
        lines += entry(visible(write.fact), write_words(write), options)
    return lines


def _lessons(report: SpareReport, options: RenderOptions) -> list[str]:
    if not report.lessons:
        return []
    ending = " if you solve this first" if is_open(report) else ""
    lines = heading(f"To be taught again{ending}", options)
    for lesson in report.lessons:
        why = " ".join(lesson.why)
        if lesson.missing:
            why += f" Not certain: {', '.join(lesson.missing)} is not stated."
        lines += entry(visible(lesson.words), why, options)
    return lines


def _memories(report: SpareReport, options: RenderOptions) -> list[str]:
    if not report.memories:
        return []
    lines = heading("What is lost, and what stays and is wrong", options)
    for fate in report.memories:
        lines += entry(fate.words, visible(fate_words(fate)), options)
    return lines


def _figures(report: SpareReport, options: RenderOptions) -> list[str]:
    rows = [row for row in report.figures if row.changed or options.whole]
    if not rows:
        return []
    lines = heading("Calculated through the gearing: fitted → spare", options)
    for row in rows:
        text = f"{row.fitted} → {row.spare}" if row.changed else f"{row.spare}, as before"
        lines += entry(row.name, text, options)
    return lines


def _rows(report: SpareReport, options: RenderOptions) -> list[str]:
    lines = heading("Facts of the part by role", options) if report.rows else []
    for role in dict.fromkeys(ROLE_WORDS.values()):
        rows = [row for row in report.rows if row.role_words == role]
        if not rows:
            continue
        lines += wrap(f"{role}: {tally_words(report, rows)}", options.width)
        for row in rows:
            if row.state != "same" and options.whole:
                words = row_words(row) + becomes_words(report, row)
                lines += entry(visible(row.fact), words, options)
    return lines


def _not_judged(report: SpareReport, options: RenderOptions) -> list[str]:
    lines = heading(NOT_JUDGED_TITLE, options) if report.not_judged else []
    for each in report.not_judged:
        lines += entry(visible(each.fact), f"{each.value}. {each.reason}", options)
    return lines


def _as_it_comes(report: SpareReport, options: RenderOptions) -> list[str]:
    lines: list[str] = []
    if report.as_it_comes:
        lines = heading("If it were used as it comes, nothing written or taught", options)
        for finding in report.as_it_comes:
            lines += entry(visible(finding.rule), finding.message, options)
    return lines


def _before(report: SpareReport, options: RenderOptions) -> list[str]:
    lines: list[str] = []
    if report.before:
        lines = heading("There before the swap, and no fault of the spare", options)
        for finding in report.before:
            lines += entry(visible(f"{finding.rule} · {finding.subject}"), finding.message, options)
    if report.undecided_before:
        names = sorted({check.rule for check in report.undecided_before})
        lines += [*([""] if lines else []), *heading("Left open before the swap", options)]
        lines += wrap(prose(", ".join(names)), options.width)
    return lines


def plan_sections(report: SpareReport, plan: Plan, options: RenderOptions) -> list[list[str]]:
    """The steps with boxes to check off, by phase."""
    head = heading(f"Plan of the work: {plan.part.replace('_', ' ')} of {plan.axis}", options)
    if warning := plan_warning(report):
        head += ["", *(paint(line, "error", options) for line in wrap(warning, options.width))]
        head.append("Solve this first:")
        for what in to_solve_first(report):
            head += hanging("  ", prose(what), options.width)
    sections = [head]
    phase = ""
    for number, step in enumerate(plan.steps, 1):
        lines: list[str] = []
        if step.phase != phase:
            phase = step.phase
            lines += [paint(phase.upper(), "heading", options)]
            lines += [*wrap(step.supplies, options.width), ""]
        lead = f"[ ] {number:>2}  "
        indent = " " * columns(lead)
        if step.caution:
            lines += _said(indent, "Caution", step.caution, options)
        lines += hanging(lead, prose(step.do), options.width)
        if step.missing:
            what = f"Do it unless it is known not to apply. Not stated: {', '.join(step.missing)}"
            lines += hanging(indent, prose(what), options.width)
        for row in step.rows:
            notes = ". ".join(filter(None, (row.note.removesuffix("."), row.aside)))
            text = prose(f"- {row.name}: {row.value}" + (f" ({notes})" if notes else ""))
            lines += hanging(indent, text, options.width)
        for word, text in (("Expect", step.expect), ("Why", step.why)):
            if text:
                lines += _said(indent, word, text, options)
        sections.append(lines)
    return sections


def _said(indent: str, word: str, text: str, options: RenderOptions) -> list[str]:
    """What a step says under a word."""
    role = "warning" if word == "Caution" else "word"
    first, *rest = hanging(indent + pad(word, 9), prose(text), options.width)
    return [indent + paint(pad(word, 9), role, options) + first[len(indent) + 9 :], *rest]
