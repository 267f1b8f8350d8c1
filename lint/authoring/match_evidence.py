"""What speaks for a fact being stated by a row of a list: its name, its unit, its values."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, Final

from ..importing.mapping import AS_WRITTEN
from ..importing.objects import DRIVE
from ..importing.unit_words import AmbiguousUnit, export_unit, meanings
from ..importing.values import exact_text, fact_at, scaled_unit
from ..machine.schema import VARIABLE, Field, Leaf, ListType
from ..machine.value_reader import Refusal, converter
from ..numbers.exact import QuantityError, to_float
from ..numbers.rational import Fraction
from ..numbers.units import parse_quantity, units_of
from .list_rows import ListRow, number_in
from .name_ideas import NEUTRAL, NameReading
from .trade_words import Ideas, Pattern, fold, word_table

LEFTOVER: Final = 0.25
UNKNOWN: Final = 0.2
SLIP: Final = 0.12
BY_CONTEXT: Final = 0.04
BY_UNIT: Final = 0.08
PART: Final = 0.1
OTHER_PART: Final = 0.2
NO_PART: Final = 0.3
"""What it costs that a name does not say whether it is about motor, encoder or drive."""

LEAST: Final = 0.4
"""Below this a name says too little of a fact."""

UNSTATED: Final = "?"
"""Stands for a unit that somebody has to add."""

_PARTS: Final = frozenset({"motor", "encoder", "drive", "controller"})
_COUNTED: Final = ("count", "counts", "count/rev", "counts/rev", "rev", "turn")
_OF_RATED: Final = ("torque", "force", "current", "angular_speed")
_FEW_TURNS: Final = 255
_MOST_BITS: Final = 48
_BITS: Final = frozenset({"bit", "bits", "bit(s)"})
_INDEX: Final = re.compile(
    r"(?:0x(?P<one>[16][0-9A-Fa-f]{3})|\b(?P<two>[16][0-9A-Fa-f]{3})h)"
    r"(?:[.: /-]+(?:0x)?(?P<sub>[0-9]{1,2}))?"
)


@dataclass(frozen=True, slots=True)
class Evidence:
    """How well a row fits a fact: from 0 to 1, what speaks against it, and the mapping entry.

    ``doubts`` keep it from being proposed as active. ``plausible`` says what the values tell.
    """

    fact: str
    score: float
    entry: Mapping[str, Any]
    doubts: tuple[str, ...] = ()
    plausible: str = ""


@dataclass(slots=True)
class Fit:
    """What unit and values of a row make of a fact; ``kind`` is False if it cannot be this fact."""

    kind: bool = True
    entry: dict[str, Any] = field(default_factory=dict)
    doubts: list[str] = field(default_factory=list)
    plausible: str = ""


@dataclass(frozen=True, slots=True)
class Expected:
    """The tables of rules/trade_words.yaml beside words and facts."""

    apart: Ideas
    implied: Mapping[str, Ideas]
    ranges: Mapping[str, tuple[str, str]]
    absent: frozenset[str]


@lru_cache(maxsize=1)
def expected() -> Expected:
    """The tables that ship."""
    table = word_table()
    return Expected(
        frozenset(table["apart"]),
        {kind: frozenset(ideas) for kind, ideas in table["implied"].items()},
        {
            fact: (str(text).partition(" .. ")[0], str(text).partition(" .. ")[2])
            for fact, text in table["ranges"].items()
        },
        frozenset(map(str, table["absent"])),
    )


# Names ------------------------------------------------------------------------------------------


def name_score(
    fact: str, pattern: Pattern, reading: NameReading, apart: Ideas, context: Ideas, implied: Ideas
) -> float:
    """How well a name, read in one way, names a fact by one pattern; 0 if it does not.

    ``apart`` are ideas of the name that make it another thing unless the pattern has them.
    """
    ideas = reading.ideas
    score = 1.0
    named = 0
    by_unit = by_part = 0
    for choices in pattern.required:
        if choices & ideas:
            named += 1
        elif choices & context:
            score -= BY_CONTEXT
        elif choices & implied:
            score -= BY_UNIT
            by_unit += 1
        elif choices <= _PARTS:
            score -= NO_PART
            by_part += 1
        else:
            return 0.0
    if not named or by_unit > 1 or by_part > 1 or (by_part and named + by_unit < 2):
        return 0.0
    if apart - pattern.named:
        return 0.0
    explained = pattern.named | {NEUTRAL}
    for part in reading.parts:
        if not (part & explained or part <= implied):
            score -= LEFTOVER
    score -= UNKNOWN * len(reading.unknown) + SLIP * reading.slips
    parts = context & _PARTS
    if parts and fact.partition(".")[0] not in reading.ideas:
        score += PART if fact.partition(".")[0] in parts else -OTHER_PART
    return min(score, 1.0 + PART)


def apart_ideas(parts: Iterable[Ideas]) -> Ideas:
    """The ideas that make a name another thing, of parts that can mean nothing else."""
    apart = expected().apart
    return frozenset[str]().union(*(part for part in parts if part <= apart))


def object_of(row: ListRow) -> str:
    """The fact of the object of CiA 402 whose index a row gives in hexadecimal; else empty."""
    for text in (row.name, *row.texts):
        found = _INDEX.search(text)
        if found is None:
            continue
        key = int(found["one"] or found["two"], 16), int(found["sub"] or 0)
        for mapping in DRIVE:
            plain = mapping.combine in ("value", "text") and mapping.bit is None
            plain = plain and mapping.when is None and not mapping.to.startswith("machine.")
            if plain and mapping.objects == (key,):
                return mapping.to
    return ""


# Units and values -------------------------------------------------------------------------------


def kinds_of_unit(written: str) -> frozenset[str]:
    """The kinds of quantity that a unit can belong to; none for one that is not known."""
    scaled = scaled_unit(written)
    known = meanings(written) or (meanings(scaled[1]) if scaled else ())
    return frozenset(kind for kind in _KINDS for unit in known if unit in units_of(kind))


_KINDS: Final = (
    "length", "angle", "time", "speed", "angular_speed", "acceleration", "angular_acceleration",
    "jerk", "angular_jerk", "mass", "inertia", "torque", "force", "count", "count_rate", "rate",
    "resolution", "current", "voltage", "power", "feed",
)  # fmt: skip


def implied_ideas(row: ListRow) -> Ideas:
    """What unit and values say of a name that leaves it out."""
    if day_form([value for value in row.values if value]):
        return frozenset({"date"})
    found = [expected().implied.get(kind, frozenset[str]()) for kind in kinds_of_unit(row.unit)]
    return frozenset[str]().union(*found) if len(found) == 1 else frozenset()


def fit_of(fact: str, row: ListRow, comma: bool, *, own: bool = False) -> Fit:
    """What unit and values make of a fact; ``own``: the row has the name of the machine file."""
    about = fact_at(fact)
    fit = Fit(entry={"to": fact})
    leaf = about.type.item if isinstance(about.type, ListType) else about.type
    if not isinstance(leaf, Leaf) or isinstance(about.type, ListType):
        fit.doubts.append("it is a list or a record")
        return fit
    values = [value for value in row.values if value]
    if not values:
        fit.doubts.append("the row has no value")
    if leaf.kind == "quantity":
        _quantity(fact, about, leaf, row, comma, fit)
    elif leaf.kind == "whole":
        _whole(fact, about, leaf, row, values, comma, fit)
    elif leaf.kind == "date":
        _day(row, values, fit)
    elif leaf.kind == "text":
        _text(about, leaf, row, values, fit)
    elif leaf.kind == "method":
        _method(about, leaf, row, values, comma, fit, own)
    else:
        _words(about, leaf, values, fit)
    return fit


def _quantity(fact: str, about: Field, leaf: Leaf, row: ListRow, comma: bool, fit: Fit) -> None:
    told = []
    found: list[tuple[Fraction, str]] = []
    for text, written in row.filled:
        each = _unit_of(leaf, written.strip(), fit)
        if each is None:
            return
        found.append(each)
        number = number_in(text, comma)
        if number is None:
            fit.doubts.append(f"{text[:40]} is no number")
            fit.kind = False
            return
        if each[1] != UNSTATED:
            told.append(f"{exact_text(number * each[0])} {each[1]}".strip())
    if len({factor for factor, _ in found}) > 1:
        fit.doubts.append("the units differ")
    elif found and found[0][0] != 1:
        fit.entry["scale"] = exact_text(found[0][0])
    units = {unit for _, unit in found}
    if units - {""}:
        beside = (row.column or row.joined) and "scale" not in fit.entry
        fit.entry["unit"] = AS_WRITTEN if beside and UNSTATED not in units else found[0][1]
        if len(units) > 1 and fit.entry["unit"] != AS_WRITTEN:
            fit.doubts.append("the units differ")
    _plausible(fact, about, leaf, told, fit)


def _unit_of(leaf: Leaf, written: str, fit: Fit) -> tuple[Fraction, str] | None:
    """The factor and the unit that a cell states; None if it is of another kind."""
    one = Fraction(1)
    kind = leaf.quantity or ""
    try:
        unit = export_unit(written, kind)
        scaled = scaled_unit(written) if unit is None else None
        inner = export_unit(scaled[1], kind) if scaled else None
    except AmbiguousUnit as several:
        fit.doubts.append(f"{written} can be {several}")
        return one, UNSTATED
    if unit is not None:
        return one, unit
    if scaled and inner:
        return scaled[0], inner
    if not written:
        fit.doubts.append("the list states no unit")
        return one, UNSTATED
    if kind in VARIABLE and {"count", "counts"} & {*meanings(written.partition("/")[0])}:
        fit.doubts.append(f"it is in {written}: give the unit and the scale")
        return one, UNSTATED
    if kind in _OF_RATED and "%" in meanings(written):
        fit.doubts.append("it is in per cent of a rated value: give the unit and the scale")
        return one, UNSTATED
    fit.kind = not meanings(written) and not kinds_of_unit(written)
    fit.doubts.append(f"the unit {written} is not known")
    return (one, UNSTATED) if fit.kind else None


def _plausible(fact: str, about: Field, leaf: Leaf, told: list[str], fit: Fit) -> None:
    """Whether the values lie where the fact can be expected."""
    convert = converter(leaf, about.examples)
    for text in told:
        try:
            convert(int(text) if leaf.kind == "whole" else text)
        except Refusal as refusal:
            fit.doubts.append(f"{text}: the fact {refusal.what}")
            return
        except ValueError:
            fit.doubts.append(f"{text} is no whole number")
            return
    kind = leaf.quantity or ""
    if kind and told:
        unit = told[0].partition(" ")[2]
        kind = next((each for each in _KINDS if unit in units_of(each)), kind) if unit else kind
    bounds = expected().ranges.get(fact) or expected().ranges.get(kind)
    if bounds is None:
        fit.plausible = "not checked"
        return
    low, high = (_base(bound) for bound in bounds)
    for text in told:
        value = _base(text)
        if value is None or low is None or high is None:
            continue
        if leaf.sign == "any":
            value = abs(value) or low
        if not low <= value <= high:
            fit.plausible = f"not usual: {bounds[0]} to {bounds[1]}"
            fit.doubts.append(f"{text} is not usual")
            return
    fit.plausible = "plausible"


def _base(text: str) -> float | None:
    try:
        return to_float(parse_quantity(text).value)
    except (QuantityError, ValueError):
        return None


def _whole(
    fact: str, about: Field, leaf: Leaf, row: ListRow, values: list[str], comma: bool, fit: Fit
) -> None:
    written = row.unit.strip()
    if written.lower() in _BITS:
        _powers(leaf, row, fit)
        return
    if written and not _counts(written, leaf):
        fit.kind = not meanings(written) and not kinds_of_unit(written)
        fit.doubts.append(f"the unit {written} is not known")
    numbers = [number_in(text, comma) for text, _ in row.filled]
    whole = [int(number) for number in numbers if number is not None and number.denominator == 1]
    if len(whole) < len(numbers):
        fit.doubts.append("a value is no whole number")
        fit.kind = False
        return
    if leaf.unit == "turn" and any(_is_highest(number) for number in whole):
        fit.entry["offset"] = 1
        fit.doubts.append("the value looks like the highest turn, which is one less than the turns")
    _plausible(fact, about, leaf, [str(number) for number in whole], fit)


def _is_highest(number: int) -> bool:
    """Whether a number is one below a power of two, as the highest of many states is."""
    return number >= _FEW_TURNS and number & (number + 1) == 0


def _counts(written: str, leaf: Leaf) -> bool:
    """Whether a unit says that something is counted, which a whole number of this kind does."""
    counted, _, per = written.partition("/")
    known = {each for each in meanings(counted.strip()) if each in ("", *_COUNTED)}
    if leaf.unit == "count/rev":
        turns = not per or bool({"rev", "turn"} & {*meanings(per.strip())})
        return turns and bool(known & {"count", "counts", "count/rev", "counts/rev", ""})
    if leaf.unit == "turn":
        return bool(known & {"rev", "turn", ""}) and not per
    return bool(known & {"count", "counts", ""}) and not per


def _powers(leaf: Leaf, row: ListRow, fit: Fit) -> None:
    """A number of bits stands for two to that power."""
    if leaf.unit not in ("count/rev", "turn", "count"):
        fit.kind = leaf.definition == "bits"
        return
    bits = [text for text, _ in row.filled]
    if not all(text.isdigit() and 0 < int(text) <= _MOST_BITS for text in bits):
        fit.doubts.append("a value is no number of bits")
        fit.kind = False
        return
    written = [value for value in row.values if value]
    fit.entry["names"] = {value: 1 << int(text) for value, text in zip(written, bits, strict=True)}
    fit.plausible = "plausible"


_DAYS: Final[Mapping[str, str]] = {
    "yyyy-mm-dd": r"[0-9]{4}-[0-9]{2}-[0-9]{2}",
    "dd.mm.yyyy": r"[0-9]{1,2}\.[0-9]{1,2}\.[0-9]{4}",
    "dd/mm/yyyy": r"[0-9]{1,2}/[0-9]{1,2}/[0-9]{4}",
}


def day_form(values: list[str]) -> str:
    """How days are written, if all values are days."""
    return next(
        (
            name
            for name, form in _DAYS.items()
            if values and all(re.fullmatch(form, value) for value in values)
        ),
        "",
    )


def _day(row: ListRow, values: list[str], fit: Fit) -> None:
    form = day_form(values)
    if not form:
        fit.kind = False
        fit.doubts.append("a value is no day")
        return
    if form == "dd/mm/yyyy":
        first = max(int(value.partition("/")[0]) for value in values)
        second = max(int(value.split("/")[1]) for value in values)
        if second > 12:
            form = "mm/dd/yyyy"
        elif first <= 12:
            fit.doubts.append("day and month can be exchanged")
    if form != "yyyy-mm-dd":
        fit.entry["date"] = form
    fit.plausible = "plausible"


def _text(about: Field, leaf: Leaf, row: ListRow, values: list[str], fit: Fit) -> None:
    if (row.unit and row.column) or day_form(values):
        fit.kind = False
        return
    absent = expected().absent
    said = next((value for value in values if fold(value) in absent), "")
    if said:
        fit.doubts.append(f"{said} says that there is none")
    if leaf.definition == "axis_name":
        fit.doubts.append("it must be the name of an axis of the machine file")
    convert = converter(leaf, about.examples)
    for value in values:
        try:
            convert(value)
        except Refusal as refusal:
            fit.doubts.append(f"the fact {refusal.what}")
            return
    fit.plausible = "not checked"


def _method(
    about: Field, leaf: Leaf, row: ListRow, values: list[str], comma: bool, fit: Fit, own: bool
) -> None:
    convert = converter(leaf, about.examples)
    numbers = [number_in(value, comma) for value in values]
    for number in numbers:
        if not isinstance(number, Fraction) or number.denominator != 1:
            fit.doubts.append("the words of this list for homing methods are not known")
            return
        try:
            convert(int(number))
        except Refusal:
            fit.doubts.append("no method of CiA 402 has this number")
            return
    standard = own or any(
        "402" in text or "6098" in text for text in (row.name, row.context, *row.texts)
    )
    if not standard:
        fit.doubts.append("the list does not say that this is a number of CiA 402")
    fit.plausible = "plausible"


def _words(about: Field, leaf: Leaf, values: list[str], fit: Fit) -> None:
    """Words and flags need a table of what each value means."""
    meant: dict[str, str | bool] = {}
    for value in dict.fromkeys(values):
        if leaf.kind == "flag" and value in ("true", "false"):
            meant[value] = value == "true"
        elif leaf.kind == "name" and value in leaf.names:
            meant[value] = value
    known = len(meant) == len(set(values)) and bool(values)
    fit.entry["names"] = meant if known else dict.fromkeys(dict.fromkeys(values), "?")
    if not known:
        words = ", ".join(leaf.names) if leaf.kind == "name" else "true, false"
        fit.doubts.append(f"say what each value means: {words}")
    fit.plausible = "not checked"
