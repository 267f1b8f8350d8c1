"""An error of the input as one message: what, where, the line with a marker, what is expected."""

from __future__ import annotations

from ..base.errors import AxisproofError, InputError, Place, RuleError, UsageError
from .layout import marked_source, prose, unbroken, wrap
from .paint import paint
from .rendering import RenderOptions


def render_error(error: AxisproofError, options: RenderOptions) -> str:
    """Return the message of ``error`` and of its others; each ends in a newline."""
    if isinstance(error, InputError):
        kind = "Unusable input"
    elif isinstance(error, RuleError):
        kind = "Unusable rule"
    elif isinstance(error, UsageError):
        kind = "Cannot do this"
    else:
        kind = "Unforeseen failure"
    first, *rest = wrap(prose(f"{kind}: {error.what}"), options.width) or [kind]
    lines = [paint(first, "error", options), *(paint(line, "error", options) for line in rest)]
    lines += place_lines(error.place, error.source_line, error.expected, options)
    text = "\n".join(lines) + "\n"
    return "".join([text, *(render_error(each, options) for each in error.others)])


def place_lines(
    place: Place | None, source_line: str | None, expected: str, options: RenderOptions
) -> list[str]:
    """Return the indented lines with the place of a fault and what is expected."""
    lines: list[str] = []
    if place is not None:
        where = unbroken(str(place))  # path:line:column, or what the command line said
        lines += ["  " + line for line in wrap(f"in {where}", options.width - 2)]
    lines += source_lines(place, source_line, options)
    if expected:
        text = prose(f"expected: {expected}")
        lines += ["  " + line for line in wrap(text, options.width - 2)]
    return lines


def source_lines(place: Place | None, source_line: str | None, options: RenderOptions) -> list[str]:
    """Return the indented line of a place with a marker below; nothing where there is none."""
    if place is None or not place.line or source_line is None:
        return []
    source, *marker = marked_source(source_line, place, "", options.width - 6)
    marked = ["      " + paint(line, "error", options) for line in marker]
    return [("      " + source).rstrip(), *marked]
