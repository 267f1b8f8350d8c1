"""What is in force where a site file counts, as text: each key with its value and its line."""

from __future__ import annotations

from collections.abc import Sequence

from ..findings.site_file_use import InForce
from .blocks import hanging, heading
from .layout import pad, prose, wrap
from .rendering import RenderOptions

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

KEY_ROOM: Final = 10
"""Columns of the keys."""


def render(file: str | None, rows: Sequence[InForce], options: RenderOptions) -> str:
    """Return each key of a site file as text that ends in a newline; None: there is no file."""
    first = f"Site file {file}" if file else "No site file is in force"
    lines = heading(first, options)
    indent = " " * KEY_ROOM
    for row in rows:
        where = f" ({row.where})" if row.where else " (default)"
        lines += hanging(pad(row.key, KEY_ROOM), prose(row.value + where), options.width)
        for detail in row.details:
            lines += [indent + line for line in wrap(prose(detail), options.width - KEY_ROOM)]
    if file:
        lines += ["", *wrap(prose(OPTIONS_WIN), options.width)]
    return "\n".join(lines) + "\n"


OPTIONS_WIN: Final = (
    "An option of the command line comes before a key of this file. "
    "--no-site-file leaves the whole file out."
)
