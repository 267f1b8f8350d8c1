"""Files that could not be used, at the head of a report, which is not whole without them."""

from __future__ import annotations

from collections.abc import Sequence

from ..findings.builtin import sentence
from ..findings.finding import Mark
from ..findings.unusable import Unusable, each_fault
from .blocks import heading
from .error_text import place_lines, source_lines
from .layout import prose, unbroken, wrap
from .paint import paint
from .rendering import RenderOptions

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


UNUSABLE_TITLE: Final = "Unusable input, not checked"
UNUSABLE_RULE: Final = "file-is-usable"
"""What forms that know only rules call a file that cannot be used."""


def unusable_words(each: Unusable) -> str:
    """Return what is wrong with a file, and what was expected."""
    what = sentence(each.what)
    return f"{what} Expected: {each.expected.rstrip('.')}." if each.expected else what


def unusable_place(each: Unusable) -> str:
    """Return the place of what is wrong, as ``path:line:column``; the path where there is none."""
    place = each.place
    if place is None or not place.line:
        return each.file
    where = f"{place.file}:{place.line}:{place.column}"
    return where if place.file == each.file else f"{where} (for {each.file})"


def unusable_mark(each: Unusable) -> Mark | None:
    """Return the place of what is wrong as a mark; None where there is no place."""
    place = each.place
    if place is None or not place.line:
        return None
    return Mark(place, each.source_line or "", "", "")


def unusable_section(unusable: Sequence[Unusable], options: RenderOptions) -> list[str]:
    """Return the files that cannot be used, as lines of text, each with its place."""
    if not unusable:
        return []
    lines = heading(UNUSABLE_TITLE, options)
    for each in each_fault(unusable):
        where = wrap(unbroken(unusable_place(each)), options.width)
        lines += [paint(line, "error", options) for line in where]
        lines += ["  " + line for line in wrap(prose(each.what), options.width - 2)]
        lines += source_lines(each.place, each.source_line, options)
        lines += place_lines(None, None, each.expected, options)
    return lines
