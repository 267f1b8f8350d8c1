"""Labels in a picture: text in lines, and places where no label covers another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count
from typing import Final

from .drawing import number, svg_text
from .layout import columns, prose, wrap

CHARACTER: Final = 6.9
"""Width of a character in px at the size of labels; wide fonts of the system included."""

LINE: Final = 15
"""Height of a line of text in px."""

FAULT: Final = "✗ "
"""Stands before the label of what is at fault, so that colour does not carry it alone."""


@dataclass(frozen=True, slots=True)
class PictureLabel:
    """Text in lines; ``width`` and ``height`` in px."""

    lines: tuple[str, ...]
    fault: bool = False

    @property
    def width(self) -> float:
        """Width of the widest line in px, estimated."""
        return max(map(columns, self.lines), default=0) * _character(self.fault) + 4

    @property
    def height(self) -> int:
        """Height of all lines in px."""
        return LINE * len(self.lines)


def label(name: str, text: str, room: float, fault: bool = False) -> PictureLabel:
    """Return the label of a thing, wrapped within ``room`` px."""
    words = f"{FAULT if fault else ''}{name}: {text}" if text else name
    most = max(int((room - 4) / _character(fault)), 8)
    return PictureLabel(tuple(wrap(prose(words), most)), fault)


def _character(fault: bool) -> float:
    return CHARACTER * 1.12 if fault else CHARACTER


def placed(
    anchors: Sequence[float], labels: Sequence[PictureLabel], room: float
) -> list[tuple[float, int]]:
    """Return for each label its left edge, and how many lines above the lowest line it ends.

    A label flies from its leader at ``anchors`` px like a flag, towards the middle. No label covers
    another label or its leader.
    """
    middle = room / 2
    order = sorted(range(len(labels)), key=lambda each: abs(anchors[each] - middle))
    boxes: list[tuple[float, float, int, int]] = []
    leaders: list[tuple[float, int]] = []
    found: list[tuple[float, int]] = [(0.0, 0)] * len(labels)
    for each in order:
        at, wide = anchors[each], labels[each].width
        left = at if at < middle else at - wide
        left = max(min(left, room - wide), 0.0)
        lines = len(labels[each].lines)
        for level in count():
            top = level + lines
            covered = any(
                left < right and start < left + wide and level < high and low < top
                for start, right, low, high in boxes
            )
            crossed = any(left - 3 < x < left + wide + 3 and level < high for x, high in leaders)
            if not covered and not (crossed and level < 60):
                break
        boxes.append((left, left + wide, level, top))
        leaders.append((at, level))
        found[each] = (left, level)
    return found


def beside(wanted: Sequence[float], labels: Sequence[PictureLabel], gap: int = 4) -> list[float]:
    """Return the top of each label of a column, close to where it is ``wanted``, in its order."""
    order = sorted(range(len(labels)), key=lambda each: wanted[each])
    tops = [0.0] * len(labels)
    free = float("-inf")
    for each in order:
        tops[each] = max(wanted[each] - labels[each].height / 2, free)
        free = tops[each] + labels[each].height + gap
    if order:
        last = order[-1]
        pushed = tops[last] - (wanted[last] - labels[last].height / 2)
        tops = [top - pushed / 2 for top in tops]
    return tops


def drawn_label(text: PictureLabel, left: float, top: float, anchor: str = "start") -> str:
    """Return a label as an SVG text whose first line has its top at ``top``."""
    classes = "label fault" if text.fault else "label"
    x = number(left)
    spans = "".join(
        f'<tspan x="{x}" y="{number(top + 12 + LINE * row)}">{svg_text(line)}</tspan>'
        for row, line in enumerate(text.lines)
    )
    return f'<text class="{classes}" text-anchor="{anchor}">{spans}</text>'
