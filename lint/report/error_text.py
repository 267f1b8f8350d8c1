"""An error of the input as one message: what, where, the line with a marker, what is expected."""

from __future__ import annotations

from ..base.errors import AxisproofError, InputError, Place, RuleError, UsageError
from .layout import marked_source, prose, unbroken, wrap
from .paint import paint
from .rendering import RenderOptions


def render_error(error: AxisproofError, options: RenderOptions) -> str:
    """Return the message of ``error`` for a terminal; it ends in a newline."""
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
    return "\n".join(lines) + "\n"


def place_lines(
    place: Place | None, source_line: str | None, expected: str, options: RenderOptions
) -> list[str]:
    """Return the indented lines with the place of a fault and what is expected."""
    lines: list[str] = []
    if place is not None:
        where = f"in {unbroken(place.file)}, line {place.line}, column {place.column}"
        lines += ["  " + line for line in wrap(where, options.width - 2)]
    if place is not None and source_line is not None:
        source, *marker = marked_source(source_line, place, "", options.width - 6)
        lines.append(("      " + source).rstrip())
        lines += ["      " + paint(line, "error", options) for line in marker]
    if expected:
        text = prose(f"expected: {expected}")
        lines += ["  " + line for line in wrap(text, options.width - 2)]
    return lines
