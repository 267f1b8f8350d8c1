"""One finding as text: short, so that a screen holds several, or with all that is known of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..base.lazy import replace
from ..findings.finding import DerivationStep, Finding, Mark
from .blocks import MARGIN, hanging, paragraph, part
from .folding import consequence_words
from .layout import ELLIPSIS, clip, columns, marked_source, pad, prose, unbroken, visible, wrap
from .paint import linked, paint
from .rendering import RenderOptions
from .words import counted, fix_words, waiver_words, wrong_words

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


LINES: Final = 12
"""Lines of a short finding at 100 columns; other places give way to what must be said."""

HEADLINE_LINES: Final = 2
"""Most lines of a headline that stands for a whole message."""


def finding_lines(
    finding: Finding, options: RenderOptions, consequences: Sequence[Finding] = ()
) -> list[str]:
    """Return a finding: headline, places and remedy, and all the rest where it is asked for.

    Its consequences are told in a sentence.
    """
    if options.whole:
        return _whole(finding, options)
    return _short(finding, options, consequences)


def _headline(finding: Finding, options: RenderOptions) -> list[str]:
    lines = wrap(prose(wrong_words(finding)), options.width - MARGIN)
    if not finding.headline and not options.whole and len(lines) > HEADLINE_LINES:
        whole, last = lines[: HEADLINE_LINES - 1], lines[HEADLINE_LINES - 1]
        lines = [*whole, clip(f"{last} {ELLIPSIS}", options.width - MARGIN)]
    level = paint(pad(finding.level.upper(), MARGIN), finding.level, options)
    shown = [paint(line, "heading", options) for line in lines]
    return [level + shown[0], *(" " * MARGIN + line for line in shown[1:])]


def _before_remedy(finding: Finding, options: RenderOptions) -> list[str]:
    """The cautions that the top of the report does not cover."""
    cautions = (paragraph("Caution", each, options) for each in finding.special_cautions)
    return [line for lines in cautions for line in lines]


def _short(finding: Finding, options: RenderOptions, consequences: Sequence[Finding]) -> list[str]:
    lines = _headline(finding, options)
    if finding.waived:
        lines += paragraph(*waiver_words(finding.waived), options)
    rest = [*_before_remedy(finding, options), *paragraph("Remedy", finding.remedy, options)]
    if finding.fix and finding.fix.safe:
        rest += paragraph("Offered", f"`axisproof fix` writes {finding.fix.value}.", options)
    also = consequence_words(finding, consequences)
    rest += paragraph("Also", f"{also} --detail tells all." if also else "", options)
    rest += paragraph("Rule", finding.rule, options)
    return [*lines, *_places(finding, LINES - len(lines) - len(rest), options), *rest]


def _places(finding: Finding, most: int, options: RenderOptions) -> list[str]:
    """The first place with its line of source, then as many others as ``most`` lines hold."""
    if not finding.marks:
        return []
    first, *others = finding.marks
    room = options.width - MARGIN
    plain = told = _mark_lines(first, finding, options)
    if options.colour:
        plain = _mark_lines(first, finding, replace(options, colour=False))
    lines = part("at", told, options)
    if len(lines) > max(most, 3):  # the quoted line tells the fact too
        lines, plain = lines[:3], plain[:3]
    cells = [_other_place(mark, room) for mark in others]
    shown = 0
    while shown < len(cells) and len(lines) + len(cells[shown]) <= most:
        lines += part("", cells[shown], options)
        shown += 1
    more = len(others) - shown
    if not more:
        return lines
    words = _more_places(more)
    for number in (*((len(lines) - 1,) if shown else ()), 0, len(plain) - 1):
        width = columns(lines[number]) if number >= len(plain) else columns(plain[number]) + MARGIN
        if width + columns(words) <= options.width:
            lines[number] += words
            return lines
    if shown and len(lines) >= most:
        del lines[-len(cells[shown - 1]) :]
        more += 1
    return [*lines, *part("", [_more_places(more).strip()], options)]


def _more_places(number: int) -> str:
    return f"  ({counted(number, 'more place')} not shown)"


def _other_place(mark: Mark, room: int) -> list[str]:
    """A further place in one line: where it is, which fact stands there, and its value."""
    where = _where(mark)
    value = ""
    if mark.place.end_line == mark.place.line:
        value = mark.line_text[mark.place.column - 1 : mark.place.end_column - 1].strip()
    fact = _fact_and_value(prose(mark.label), prose(value), room - columns(where) - 2)
    return [f"{where}  {fact}"] if fact else wrap(where, room)


def _fact_and_value(label: str, value: str, room: int) -> str:
    """A fact with its value, without the start of its path where the room is too small for all.

    The version or the part that it is of, such as ``before: ``, stays.
    """
    of, colon, path = label.rpartition(": ")
    parts = path.split(".")
    for number in range(len(parts)):
        shorter = of + colon + ".".join([ELLIPSIS, *parts[number:]] if number else parts)
        if columns(f"{shorter} {value}") <= room:
            return f"{shorter} {value}".rstrip()
    last = of + colon + parts[-1]
    return clip(f"{last} {value}".rstrip(), room) if room > columns(last) else ""


def _where(mark: Mark) -> str:
    return unbroken(f"{mark.place.file}:{mark.place.line}:{mark.place.column}")


def _whole(finding: Finding, options: RenderOptions) -> list[str]:
    room = options.width - MARGIN
    lines = [*_headline(finding, options), *paragraph("Rule", finding.rule, options)]
    lines += paragraph("Required", finding.title, options)
    lines += paragraph("Because", ", ".join(finding.follows), options)
    if finding.waived:
        lines += ["", *paragraph(*waiver_words(finding.waived), options)]
    if finding.message != wrong_words(finding):
        lines += ["", *paragraph("", finding.message, options)]
    for index, mark in enumerate(finding.marks):
        word = "and at" if index else "at"
        lines += ["", *part(word, _mark_lines(mark, finding, options), options)]
    blocks = [
        part("Figures", figures, options) if (figures := _figures(finding, room)) else [],
        part("Workings", _workings(finding.workings, room), options)
        if options.workings and finding.workings
        else [],
        [
            *paragraph("Why", finding.why, options),
            *_before_remedy(finding, options),
            *paragraph("Remedy", finding.remedy, options),
            *paragraph("Offered", fix_words(finding), options),
            *paragraph("Basis", finding.basis, options),
        ],
    ]
    for block in blocks:
        if block:
            lines += ["", *block]
    return lines


def _mark_lines(mark: Mark, finding: Finding, options: RenderOptions) -> list[str]:
    room = options.width - MARGIN
    lines = [linked(line, mark.place.file, options) for line in wrap(_where(mark), room)]
    source, *marker = marked_source(mark.line_text, mark.place, mark.label, room - 2)
    lines.append("  " + source)
    lines += ["  " + paint(line, finding.level, options) for line in marker]
    return lines


def _figures(finding: Finding, room: int) -> list[str]:
    """The figures that the rule gives words; all of them are in the workings and in JSON."""
    shown = [figure for figure in finding.figures if figure.labelled]
    names = [visible(figure.name) for figure in shown]
    across = _name_width(names, 30)
    lines: list[str] = []
    for name, figure in zip(names, shown, strict=True):
        above, left = _name_cell(name, across, room)
        lines += [*above, *hanging(left + "  ", prose(figure.text), room)]
    return lines


def _name_width(names: Iterable[str], most: int) -> int:
    """The width of the column of names; names longer than ``most`` get a line of their own."""
    return max((each for each in map(columns, names) if each <= most), default=2)


def _name_cell(name: str, across: int, room: int) -> tuple[list[str], str]:
    """The lines above and the cell of a name: a long name goes above, and its cell is empty."""
    if columns(name) <= across:
        return [], pad(name, across)
    return wrap(name, room), " " * across


def _workings(steps: tuple[DerivationStep, ...], room: int) -> list[str]:
    """Write each step: its meaning, then formula, numbers and result below each other."""
    names = [visible(step.name) for step in steps]
    across = _name_width(names, 24)
    lines: list[str] = []
    for name, step in zip(names, steps, strict=True):
        if step.meaning:
            lines += [*([""] if lines else []), *wrap(prose(step.meaning) + ":", room)]
        above, left = _name_cell(name, across, room - 2)
        lines += [f"  {line}" for line in above]
        previous = ""
        for text in (prose(step.formula), prose(step.filled), prose(step.result)):
            if text and text != previous:
                lines += hanging(f"  {left} = ", text, room)
                left, previous = " " * across, text
    return lines
