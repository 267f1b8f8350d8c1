"""The catalogue as pages: one for each concern, and an index page.

Each page is complete: it loads nothing and runs no script, and links to the other pages.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from importlib.resources import files
from typing import Any

from ..base.version import tool_version
from ..findings.rule_info import Concern, ConcernRule
from .guide_pages import PREFIX, file_of, render_guide
from .rule_text import SUBJECT_WORDS, code_lines
from .template import template_of
from .words import counted, fix_words, sum_terms

INDEX = "index.html"


def render(
    concerns: Sequence[Concern], guide: Mapping[str, tuple[str, str]] | None = None
) -> dict[str, str]:
    """Return the pages by file name, ``index.html`` first, each text ending in a newline.

    ``guide`` has the title and the Markdown of each page of the guide by topic, to stand beside.
    """
    from markupsafe import Markup

    names = _file_names(concerns)
    style = Markup(files(__package__).joinpath("page.css").read_text("utf-8").strip())
    template = template_of("concern.html.jinja")
    listed = [
        (concern, file, counted(len(concern.rules), "rule"))
        for concern, file in zip(concerns, names, strict=True)
    ]
    common = {"style": style, "listed": listed, "index": INDEX, "version": tool_version()}
    total = counted(sum(len(concern.rules) for concern in concerns), "rule")
    beside = [(file_of(topic), title) for topic, (title, _) in (guide or {}).items()]
    pages = {INDEX: template.render(**common, concern=None, rules=(), total=total, guide=beside)}
    for concern, file in zip(concerns, names, strict=True):
        rules = [_rule_fields(rule, number) for number, rule in enumerate(concern.rules, 1)]
        pages[file] = template.render(**common, concern=concern, rules=rules, total="", guide=())
    return {**pages, **render_guide(guide or {}, INDEX)}


def _file_names(concerns: Sequence[Concern]) -> list[str]:
    """A file name for each page, in letters that every file system and link accepts."""
    names: list[str] = []
    for concern in concerns:
        base = re.sub(r"[^a-z0-9]+", "-", concern.name.lower()).strip("-") or "rules"
        base = f"rules-{base}" if base.startswith(PREFIX) else base
        name, number = f"{base}.html", 1
        while name in names or name == INDEX:
            number += 1
            name = f"{base}-{number}.html"
        names.append(name)
    return names


def _rule_fields(rule: ConcernRule, number: int) -> dict[str, Any]:
    finding = rule.finding
    return {
        "id": f"r{number}",
        "info": rule.info,
        "looks_at": SUBJECT_WORDS[rule.info.subject],
        "definitions": rule.definitions,
        "example": rule.example,
        "example_lines": code_lines(rule.example.text) if rule.example else [],
        "finding": finding,
        "offer": fix_words(finding) if finding else "",
        "sums": [sum_terms(step) for step in finding.workings] if finding else [],
    }
