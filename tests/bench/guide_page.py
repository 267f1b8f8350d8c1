"""The page of the guide that tells what was measured: each bench writes its own part of it."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable
from pathlib import Path
from typing import Final

PAGE: Final = Path(__file__).parents[2] / "lint" / "guide" / "measured.md"
PARTS: Final = ("speed", "faults", "asking")
"""The parts that a bench writes, with ``python -m tests.bench.PART --guide``."""


def _part(name: str) -> re.Pattern[str]:
    return re.compile(rf"(<!-- {name}: [^\n]* -->\n).*?(\n<!-- end of {name} -->)", re.DOTALL)


def part_of(page: str, name: str) -> str:
    """What a bench has written into its part. Raises AttributeError if there is no such part."""
    found = _part(name).search(page)
    assert found is not None, name
    return found[0].split("\n", 1)[1].rsplit("\n", 1)[0]


def with_part(page: str, name: str, lines: Iterable[str], day: datetime.date) -> str:
    """The page with what a bench found, and the day."""
    text = "\n".join((f"Measured on {day}.", "", *lines))
    return _part(name).sub(lambda found: found[1] + text + found[2], page)


def write_part(name: str, lines: Iterable[str]) -> None:
    """Write what a bench found into its part of the page."""
    today = datetime.datetime.now(datetime.UTC).date()
    PAGE.write_text(with_part(PAGE.read_text("utf-8"), name, lines, today), "utf-8")
