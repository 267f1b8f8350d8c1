"""Annotations of a hosted build: one command for each finding, which the build shows at the line.

The form of such commands is ``::error file=F,line=N,col=N,title=T::text`` (from memory). Data of an
input is escaped, so that it neither ends its command nor begins another. What has no place, and
what could not be decided, is a notice.
"""

from __future__ import annotations

from ..findings.finding import Finding, Mark, Report, UndecidedConcern
from ..findings.unusable import Unusable, each_fault
from .layout import visible
from .lines import remarks
from .rendering import RenderOptions
from .summary_table import worst_first
from .unusable_files import UNUSABLE_RULE, unusable_mark, unusable_words
from .words import (
    CONCERN_RULE,
    concern_words,
    subject_name,
    unusable_sentences,
    waiver_words,
    wrong_words,
)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


_WORDS: Final = {"error": "error", "warning": "warning", "note": "notice"}


def render(report: Report, options: RenderOptions) -> str:
    """Return the commands, the worst axis first, and notices of what could not be decided."""
    lines = [
        _command("error", None, "axisproof", (text,))
        for text in unusable_sentences(report.unusable)
    ]
    lines += [
        _command("error", unusable_mark(each), UNUSABLE_RULE, (_unusable_text(each),))
        for each in each_fault(report.unusable)
    ]
    lines += [_finding_command(finding) for finding in worst_first(report)]
    lines += [_concern_command(each) for each in report.undecided_concerns]
    lines += [_command("notice", None, "axisproof", (text,)) for text in remarks(report)]
    return "".join(f"{line}\n" for line in lines)


def _unusable_text(each: Unusable) -> str:
    return f"{each.file}: {unusable_words(each)}"


def _finding_command(finding: Finding) -> str:
    word = _WORDS[finding.level]
    waived: tuple[str, ...] = ()
    if finding.waived:
        word, waived = "notice", (": ".join(waiver_words(finding.waived)),)
    texts = (
        f"{subject_name(finding.machine, finding.subject)}: {wrong_words(finding)}",
        *waived,
        *(f"Caution: {each.text}" for each in finding.cautions),
        f"Remedy: {finding.remedy}",
    )
    return _command(word, next(iter(finding.marks), None), finding.rule, texts)


def _concern_command(each: UndecidedConcern) -> str:
    text = f"{subject_name(each.machine, each.subject)}: {concern_words(each)}"
    return _command("error", each.mark, CONCERN_RULE, (text,))


def _command(word: str, mark: Mark | None, title: str, texts: tuple[str, ...]) -> str:
    properties = {"title": title}
    if mark is not None:
        place = mark.place
        properties = {"file": place.file, "line": str(place.line), "col": str(place.column)}
        if place.end_line == place.line:
            properties["endColumn"] = str(place.end_column)
        properties["title"] = title
    said = ",".join(f"{name}={_property(value)}" for name, value in properties.items())
    return f"::{word} {said}::{'%0A'.join(map(_data, texts))}"


def _data(text: str) -> str:
    return visible(" ".join(text.split())).replace("%", "%25")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
