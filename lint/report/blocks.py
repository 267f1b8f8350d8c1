"""The blocks of text reports: headings, paragraphs with a margin, hanging paragraphs."""

from __future__ import annotations

from collections.abc import Iterable

from .layout import columns, pad, prose, wrap
from .paint import paint
from .rendering import RenderOptions

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


MARGIN: Final = 10
"""Columns of the margin that holds a word such as Why before each part of a finding."""


def part(word: str, lines: Iterable[str], options: RenderOptions) -> list[str]:
    """Put ``lines`` to the right of the margin, and ``word`` into the margin of the first."""
    result = []
    margin = paint(pad(word, MARGIN), "word", options)
    for line in lines:
        result.append((margin + line).rstrip())
        margin = " " * MARGIN
    return result


def paragraph(word: str, text: str, options: RenderOptions) -> list[str]:
    """Wrap a paragraph to the right of the margin; an empty text gives no lines."""
    return part(word, wrap(prose(text), options.width - MARGIN), options)


def heading(text: str, options: RenderOptions) -> list[str]:
    """Return a line of heading, underlined."""
    lines = wrap(prose(text), options.width)
    rule = "─" * min(max(map(columns, lines), default=0), options.width)
    return [*(paint(line, "heading", options) for line in lines), rule]


def ruled(text: str, options: RenderOptions) -> list[str]:
    """Return a smaller heading: one line, with a rule after it up to the width."""
    *lines, last = wrap(prose(text), options.width) or [""]
    rest = max(options.width - columns(last) - 1, 0)
    return [
        *(paint(line, "heading", options) for line in lines),
        f"{paint(last, 'heading', options)} {'─' * rest}".rstrip(),
    ]


def hanging(first: str, text: str, room: int) -> list[str]:
    """Wrap ``text`` after ``first``, further lines under its start."""
    indent = columns(first)
    wrapped = wrap(text, room - indent) or [""]
    return [first + wrapped[0], *(" " * indent + line for line in wrapped[1:])]


def entry(name: str, text: str, options: RenderOptions) -> list[str]:
    """Return a name on its own line and its text, indented, below."""
    return [
        *("  " + line for line in wrap(name, options.width - 2)),
        *("      " + line for line in wrap(prose(text), options.width - 6)),
    ]
