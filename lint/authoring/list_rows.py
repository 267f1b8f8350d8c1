"""The rows of a parameter list, whatever its form, and small questions about their cells."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Final

from ..importing.unit_words import meanings
from ..importing.values import NotANumber, number_and_unit, read_number
from ..numbers.rational import Fraction
from .trade_words import fold, word_table

_SAMPLE: Final = 400
_NUMBER: Final = re.compile(
    r"[+-]?[0-9]+(?:[ \u00a0\u2009\u202f][0-9]{3})*(?:[.,][0-9]+)?(?:[eE][+-]?[0-9]+)?"
    r"|0[xX][0-9a-fA-F]+"
)
_BRACKETS: Final = re.compile(r"\s*[\[(]([^\[\]()]*)[\])]\s*$")
_SUFFIX: Final = re.compile(r"(.*[^\W_])[_ .]([^\W\d_]{1,5}[23]?)")
_SUFFIX_OF_TWO: Final = re.compile(r"(.*[^\W_])[_ .]([^\W\d_]{1,5}|1)[_/]([^\W\d_]{1,5}[23]?)")
_NO_SUFFIX: Final = frozenset({"min", "in", "u", "d", "t", "r", "1", "turn"})
"""Spellings of units that stand more often for something else at the end of a name."""


@dataclass(frozen=True, slots=True)
class ListRow:
    """A parameter of a list: its name in a mapping, and all that the list says of it.

    ``texts`` are names and descriptions, ``context`` the section it stands in, ``values`` what
    each axis has, with ``units``, which are empty where none is stated. ``column`` tells that
    units have a column of their own, ``joined`` that they stand behind the numbers.
    ``repeated`` tells that an axis has several rows of this name.
    """

    name: str
    texts: tuple[str, ...]
    context: str
    values: tuple[str, ...]
    units: tuple[str, ...]
    line: int
    column: bool = False
    joined: bool = False
    repeated: bool = False

    @property
    def unit(self) -> str:
        """The first unit that is stated."""
        return next(filter(None, self.units), "")

    @property
    def filled(self) -> tuple[tuple[str, str], ...]:
        """Numbers or texts that are stated, each with its unit."""
        return tuple(
            (number_and_unit(value)[0] if self.joined else value, unit)
            for value, unit in zip(self.values, self.units, strict=True)
            if value
        )


@dataclass(slots=True)
class ListShape:
    """The head of a mapping file, and the rows of the list."""

    form: str
    encoding: str
    comma: bool = False
    unit_in_value: bool = False
    delimiter: str = ""
    header_row: int = 1
    layout: str = ""
    columns: dict[str, str] = field(default_factory=dict)
    subject: str = ""
    records: str = ""
    rows: list[ListRow] = field(default_factory=list)
    subjects: tuple[str, ...] = ()
    remarks: list[str] = field(default_factory=list)
    column: str = ""
    """The column of values that is asked for, if several axes stand side by side."""

    def name_subjects(self, names: Iterable[str]) -> None:
        """Say which axes, or nodes if all are numbers, the list is about."""
        self.subjects = tuple(names)
        self.subject = "node" if all(name.isdigit() for name in self.subjects) else "axis"


@lru_cache(maxsize=1)
def column_words() -> dict[str, frozenset[str]]:
    """What lists call their columns, by purpose."""
    table = word_table()["columns"]
    return {
        purpose: frozenset(fold(word.strip()) for word in words.split(","))
        for purpose, words in table.items()
    }


def share(cells: Iterable[str], holds: Callable[[str], bool]) -> float:
    """Of the cells that are filled, how many hold to something."""
    filled = [cell for cell in cells if cell][:_SAMPLE]
    return sum(map(holds, filled)) / len(filled) if filled else 0.0


def is_number(cell: str) -> bool:
    """Whether a cell is a number, with a point or a comma."""
    return _NUMBER.fullmatch(cell) is not None


def is_unit(cell: str) -> bool:
    """Whether a cell is a unit, or a sign that there is none."""
    return bool(meanings(cell))


def has_unit(cell: str) -> bool:
    """Whether a cell is a number with a unit behind it."""
    unit = number_and_unit(cell)[1]
    return bool(unit) and is_unit(unit)


def units_in_values(values: Iterable[str]) -> bool:
    """Whether a list writes units behind its numbers."""
    cells = [value for value in values if value]
    joined = sum(map(has_unit, cells))
    return joined > 1 and joined >= sum(map(is_number, cells)) / 4


def comma_decimal(cells: Iterable[str]) -> bool:
    """Whether most numbers that show it have a decimal comma."""
    numbers = [number_and_unit(cell)[0] for cell in cells]
    counts = Counter(
        "," if "," in cell else "."
        for cell in numbers
        if is_number(cell) and ("," in cell or "." in cell)
    )
    return counts[","] > counts["."]


def with_joined_units(row: ListRow) -> ListRow:
    """A row of a list that writes units behind numbers, with these units."""
    units = tuple(number_and_unit(value)[1] for value in row.values)
    return replace(row, units=units, joined=True) if any(units) else row


def split_unit(name: str) -> tuple[str, str]:
    """A name and the unit that it ends with in brackets, if it does."""
    found = _BRACKETS.search(name)
    if found is None:
        return name, ""
    inner = found[1].strip()
    if not inner or len(inner) > 12 or inner in ("+", "-") or inner.isdigit():
        return name, ""
    return name[: found.start()], inner


def suffix_unit(name: str) -> tuple[str, str]:
    """A name and the unit that it ends with after a mark, as in ``peak_current_A``."""
    double = _SUFFIX_OF_TWO.fullmatch(name)
    if double is not None and is_unit(f"{double[2]}/{double[3]}"):
        return double[1], f"{double[2]}/{double[3]}"
    single = _SUFFIX.fullmatch(name)
    if single is not None and single[2].lower() not in _NO_SUFFIX and is_unit(single[2]):
        return single[1], single[2]
    return name, ""


def number_in(text: str, comma: bool) -> Fraction | None:
    """The number a cell holds, or None."""
    try:
        return read_number(text, comma=comma)
    except NotANumber:
        return None
