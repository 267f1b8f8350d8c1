"""The page of the guide that lists each fact of an axis, where it is found, and its drawing."""

from __future__ import annotations

import re
from typing import Final

from ..machine.schema import Field, axis_type, facts
from .where_found import where_found

_SECTION: Final = re.compile(r"(?m)^## (.+)$")
_DRAWING: Final = "```text"
_NAMED: Final = re.compile(r"`([a-z_]+(?:\.[a-z_]+)+)[`:]")

_HEAD: Final = """# Where each fact is found

    axisproof guide facts

The last column names the drawing on the page `facts` that shows a fact. Nobody needs all facts:
`axisproof ask` asks for those that decide most. What you do not know stays out of the file.
Isolate the power circuit and lock it out before you measure at a machine.
"""


def drawings_of(page: str) -> dict[str, str]:
    """The headings of a page by the facts that their sections name, if they have a drawing."""
    found: dict[str, str] = {}
    parts = _SECTION.split(page)[1:]
    for heading, text in zip(parts[::2], parts[1::2], strict=True):
        if _DRAWING in text:
            for fact in _NAMED.findall(text):
                found.setdefault(fact, heading)
    return found


def places_page(page: str) -> str:
    """The table of all facts of an axis; ``page`` has the drawings."""
    drawings = drawings_of(page)
    groups: dict[str, list[str]] = {}
    for fact, about in facts(axis_type()).items():
        if not about.implied:
            groups.setdefault(fact.partition(".")[0], []).append(_row(fact, about, drawings))
    lines = [_HEAD]
    for group, rows in groups.items():
        lines += [f"## {group}", "", "| fact | what it is | where it is found | drawing |"]
        lines += ["|---|---|---|---|", *rows, ""]
    return "\n".join(lines)


def _row(fact: str, about: Field, drawings: dict[str, str]) -> str:
    cells = (f"`{fact}`", about.description, where_found(fact), _drawing(fact, drawings))
    return f"| {' | '.join(cell.replace('|', '/') for cell in cells)} |"


def _drawing(fact: str, drawings: dict[str, str]) -> str:
    """The drawing of a fact, or of the record that it lies in."""
    while "." in fact:
        if fact in drawings:
            return drawings[fact]
        fact = fact.rpartition(".")[0]
    return ""
