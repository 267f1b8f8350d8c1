"""What `axisproof match` says of a list: how it was read, what is proposed, and what is left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from ..report.layout import visible
from ..source.limits import shortened
from .list_rows import ListRow, ListShape
from .mapping_text import confidence, label, plausibility, sample
from .matching import Match, RowProposal

LANGUAGES: Final = {
    "en": "English",
    "de": "German",
    "fr": "French",
    "it": "Italian",
    "es": "Spanish",
    "nl": "Dutch",
    "pl": "Polish",
    "cs": "Czech",
    "sv": "Swedish",
    "pt": "Portuguese",
}
_LAYOUTS: Final = {
    "row_per_parameter": "one parameter in a row",
    "row_per_axis": "one axis in a row",
}
_NAME: Final = 30
_VALUE: Final = 16


def match_text(match: Match, name: str, width: int) -> str:
    """The summary of a match, at most ``width`` columns wide."""
    active = [each for each in match.proposals if each.active]
    doubtful = [each for each in match.proposals if not each.active]
    total = len(match.proposals) + len(match.unmapped)
    lines = [
        f"{visible(name)}: {total} parameters, {len(active)} proposed, {len(doubtful)} doubtful, "
        f"{len(match.unmapped)} not mapped",
        f"Read as {_form(match.shape)}, names in {LANGUAGES[match.language]}.",
    ]
    lines += [f"Note: {visible(remark)}." for remark in match.shape.remarks]
    for title, proposals in (("Proposed", active), ("Doubtful", doubtful)):
        if proposals:
            lines += ["", title, *_rows(proposals, width)]
    if match.unmapped:
        lines += ["", "Not mapped", *_names(match.unmapped, width)]
    return "\n".join(lines) + "\n"


def _form(shape: ListShape) -> str:
    parts = [shape.form]
    if shape.delimiter:
        parts.append(f"{shape.delimiter} between cells")
    if shape.layout:
        parts.append(_LAYOUTS[shape.layout])
    if shape.encoding:
        parts.append(shape.encoding)
    parts.append(f"decimal {'comma' if shape.comma else 'point'}")
    return ", ".join(parts)


def _rows(proposals: list[RowProposal], width: int) -> Iterator[str]:
    """A line for each proposal, in columns, and one for the doubt about it."""
    cells = [
        (
            _cut(label(each.row), _NAME),
            _cut(sample(each.row), _VALUE),
            confidence(each),
            plausibility(each),
        )
        for each in proposals
    ]
    wide = [max(map(len, column)) for column in zip(*cells, strict=True)]
    for proposal, row in zip(proposals, cells, strict=True):
        line = "  ".join(f"{cell:{size}}" for cell, size in zip(row, wide, strict=True))
        if len(line) + 4 + len(proposal.fact) <= width:
            yield f"  {line}  {proposal.fact}"
        else:
            yield from (_cut(f"  {line}", width), f"      {proposal.fact}")
        if proposal.why:
            yield _cut(f"      {proposal.why}", width)


def _cut(text: str, width: int) -> str:
    return shortened(visible(text), width)


def _names(rows: Iterable[ListRow], width: int) -> Iterator[str]:
    line = " "
    for row in rows:
        name = _cut(label(row), _NAME)
        if len(line) + len(name) + 3 > width and line.strip():
            yield line.rstrip()
            line = " "
        line += f" {name},"
    yield line.rstrip(" ,")
