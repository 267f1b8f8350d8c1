"""The plan of a swap as one page to print and check off.

The page loads nothing and runs no script.
"""

from __future__ import annotations

from importlib.resources import files
from itertools import groupby

from ..swap.result import SpareReport
from .in_force import LEFT_OUT_TITLE, LEVELS_TITLE, SETTINGS_TITLE
from .layout import visible
from .rendering import CAUTION, RenderOptions
from .spare_words import (
    NOT_JUDGED_TITLE,
    OPEN_PLAN,
    UNFIT_PLAN,
    carried_words,
    fate_words,
    fit_words,
    headline,
    row_words,
    short_reasons,
    teaching_words,
)
from .template import template_of
from .words import level_words, place_words, rules_sentences


def render(report: SpareReport, options: RenderOptions) -> str:
    """Return the sheet as HTML. Raises ValueError for a report without a plan."""
    from markupsafe import Markup

    if report.plan is None:
        raise ValueError("the report has no plan")

    folder = files(__package__)
    template = template_of("sheet.html.jinja")
    numbered = list(enumerate(report.plan.steps, 1))
    phases = [
        (phase, list(steps)) for phase, steps in groupby(numbered, key=lambda each: each[1].phase)
    ]
    return template.render(
        style=Markup(folder.joinpath("sheet.css").read_text("utf-8").strip()),
        report=report,
        headline=headline(report),
        running_title=Markup(css_string(headline(report))),
        fit=fit_words(report),
        reasons=" ".join(short_reasons(report)),
        settle_step=next((no for no, step in numbered if step.name == "settle-warnings"), 0),
        teaching=teaching_words(report),
        phases=phases,
        open_plan=OPEN_PLAN if report.verdict == "cannot be said yet" else UNFIT_PLAN,
        carried=carried_words(report),
        memories=[(fate.words, fate_words(fate)) for fate in report.memories],
        settle=[(each.fact, each.checks) for each in report.settle],
        against=[
            *((each.rule, each.message) for each in report.broken),
            *((row.fact, row_words(row)) for row in report.unequal),
        ],
        warnings=[(each.rule, each.message) for each in report.warnings],
        not_judged_title=NOT_JUDGED_TITLE,
        not_judged=report.not_judged,
        changed_rules=rules_sentences(report.site_file, report.site_rules, report.level_changes),
        left_out_title=LEFT_OUT_TITLE,
        left_out=[(place_words(each.place), each.text) for each in report.left_out],
        levels_title=LEVELS_TITLE,
        levels=[(each, level_words(each)) for each in report.level_changes],
        settings_title=SETTINGS_TITLE,
        settings=report.settings,
        caution=CAUTION,
        unfit=UNFIT_PLAN,
    )


def css_string(text: str) -> str:
    """Return text as a string of CSS: all but plain letters, digits and spaces is escaped."""
    shown = visible(text)
    plain = (
        each if each == " " or (each.isascii() and each.isalnum()) else f"\\{ord(each):x} "
        for each in shown
    )
    return f'"{"".join(plain)}"'
