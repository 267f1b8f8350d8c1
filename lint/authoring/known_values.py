"""What a machine file states of an axis, to compare with the rows of a list."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

from ..importing.entry import load_trees
from ..importing.mapping import AS_WRITTEN
from ..importing.unit_words import export_unit
from ..importing.values import exact_text, fact_at
from ..machine.reader import read_machine
from ..machine.schema import Leaf
from ..numbers.exact import QuantityError, eq
from ..numbers.rational import Fraction, read_fraction
from ..numbers.units import parse_quantity, units_of
from ..source.reader import DISK, Reader
from ..swap.part import pick_axis
from .list_rows import ListRow, number_in
from .match_evidence import UNSTATED, Evidence, fit_of

Known = Mapping[str, Any]
"""Plain values of an axis by the path of the fact."""

SAME: Final = 0.15
BY_VALUE: Final = 0.5
"""The score of a row that has the value of a fact, and no name that tells of it."""

_COMMON: Final = 10
_MOST_ALIKE: Final = 2


def known_values(path: Path, axis: str, reader: Reader = DISK) -> Known:
    """The single values that a machine or project file states of ``axis``.

    Raises UsageError if it has no such axis, InputError if it cannot be read.
    """
    axes: dict[str, Any] = {}
    for tree in load_trees([path], reader):
        read_machine(tree)  # says what is wrong with it
        stated = tree.plain.get("axes") if isinstance(tree.plain, dict) else None
        axes |= stated if isinstance(stated, dict) else {}
    return dict(_leaves(axes[pick_axis(list(axes), axis, str(path))], ""))


def _leaves(value: Any, path: str) -> Iterator[tuple[str, Any]]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _leaves(inner, f"{path}.{key}" if path else str(key))
    elif not isinstance(value, list) and value != "none":
        yield path, value


def compared(row: ListRow, evidence: list[Evidence], known: Known, comma: bool) -> list[Evidence]:
    """The evidence of a row with what the values of the axis say; the likeliest first."""
    found = []
    for each in evidence:
        if each.fact not in known:
            found.append(each)
            continue
        entry = _same(row, each, known[each.fact], comma)
        if entry is None:
            note = f"the machine file has {known[each.fact]}"
            found.append(replace(each, plausible=", ".join(filter(None, (each.plausible, note)))))
            continue
        doubts = each.doubts
        if each.entry.get("unit") == UNSTATED:
            doubts = tuple(doubt for doubt in doubts if doubt != NO_UNIT)
        found.append(Evidence(each.fact, each.score + SAME, entry, doubts, "same value"))
    if not found:
        found = list(_by_value(row, known, comma))
    return sorted(found, key=lambda each: -each.score)


NO_UNIT: Final = "the list states no unit"


def _by_value(row: ListRow, known: Known, comma: bool) -> Iterator[Evidence]:
    """Facts that have the value of a row by themselves: a hint, never more."""
    if len({text for text, _ in row.filled}) != 1:
        return
    number = number_in(row.filled[0][0], comma)
    if not isinstance(number, Fraction) or abs(number) <= _COMMON:
        return
    alike = []
    for fact, value in known.items():
        try:
            leaf = fact_at(fact).type
        except KeyError:
            continue
        if not isinstance(leaf, Leaf) or leaf.kind not in ("quantity", "whole"):
            continue
        fit = fit_of(fact, row, comma)
        guess = Evidence(fact, BY_VALUE, fit.entry, ("only the value tells of it",), "")
        entry = _same(row, guess, value, comma) if fit.kind else None
        if entry is not None:
            alike.append(replace(guess, entry=entry, plausible="same value"))
    if len(alike) <= _MOST_ALIKE:
        yield from alike


def _same(row: ListRow, evidence: Evidence, value: Any, comma: bool) -> dict[str, Any] | None:
    """The entry with which the row states ``value``; None if it states another."""
    leaf = fact_at(evidence.fact).type
    entry = dict(evidence.entry)
    texts = {text for text, _ in row.filled}
    if not isinstance(leaf, Leaf) or len(texts) != 1:
        return None
    text = texts.pop()
    if "names" in entry and leaf.kind == "whole":
        return entry if entry["names"].get(text) == value else None
    number = number_in(text, comma)
    if leaf.kind == "whole" and isinstance(number, Fraction):
        return _whole(entry, number, value)
    if leaf.kind == "quantity" and isinstance(number, Fraction):
        return _quantity(entry, leaf, row, number, str(value))
    return entry if text == str(value) else None


def _whole(entry: dict[str, Any], number: Fraction, value: Any) -> dict[str, Any] | None:
    if number == value:
        return entry
    if number + 1 == value and value > _COMMON:
        return {**entry, "offset": 1}
    return None


def _quantity(
    entry: dict[str, Any], leaf: Leaf, row: ListRow, number: Fraction, value: str
) -> dict[str, Any] | None:
    try:
        due = parse_quantity(value)
    except QuantityError:
        return None
    number *= read_fraction(str(entry.get("scale", 1)))
    unit = entry.get("unit", "")
    if unit != UNSTATED:
        written = export_unit(row.unit, leaf.quantity or "") if unit == AS_WRITTEN else unit
        if written is None:
            return None
        same = eq(parse_quantity(f"{exact_text(number)} {written}".strip()).value, due.value)
        return entry if same else None
    for unit in () if row.unit else (due.unit, *units_of(leaf.quantity or "")):
        if unit and eq(parse_quantity(f"{exact_text(number)} {unit}").value, due.value):
            return {**entry, "unit": unit}
    return None
