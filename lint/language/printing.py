"""Expressions and values in the words and signs an engineer writes by hand."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cache
from itertools import islice
from typing import Any, Final

from ..base.absence import NONE, PRESENT
from ..machine.homing_methods import method_words
from ..machine.schema import VARIABLE
from ..numbers.compound_units import unit_named
from ..numbers.dimensions import Dimension, dim_mul
from ..numbers.exact import Approx, Number, Pi, absolute, div
from ..numbers.formats import exact_json, say_exact, say_number
from ..numbers.powers import MAX_BITS, bits
from ..numbers.units import UNITS, default_unit
from .groups import GROUP, MEMBERS
from .operator_entry import ATOM, PRODUCT, SUM, VALUE
from .operators import LOOPS, OPERATORS
from .syntax import POSITION, Expr, Type

Text = tuple[str, int]
"""A text and how tightly it holds together."""

Leaf = Callable[[Expr], Text | None]
"""Gives the text of a node, or None to have it printed in full."""

MAX_SHOWN: Final = 20
"""Values of a list that a message shows; it counts the others."""

_POWERS: Final = {1: "¹", 2: "²", 3: "³", 4: "⁴"}


def _strength(expr: Expr) -> int:
    if expr.op == "num":
        written = str(expr.data[1])
        return ATOM if written.replace(".", "").isdigit() or written in ("pi", "π") else VALUE
    operator = OPERATORS.get(expr.op)
    if operator is None:
        return ATOM
    if expr.op == "not" and _denial(expr.kids[0]):
        return min(operator.strength, _strength(expr.kids[0]))
    return operator.strength


def _denial(expr: Expr) -> str:
    """The text of what denies an expression, if there is one of its own."""
    return OPERATORS[expr.op].denial if expr.op in OPERATORS else ""


def formula(expr: Expr, leaf: Leaf | None = None) -> str:
    """The expression as text; ``leaf`` may give the text of any node (None: print it in full)."""
    return text_of(expr, leaf)[0]


def text_of(expr: Expr, leaf: Leaf | None = None) -> Text:
    """The expression as text, with how tightly it holds together."""
    found = leaf(expr) if leaf is not None else None
    return found or (_text_in_full(expr, leaf), _strength(expr))


def enclosed(text: Text, least: int) -> str:
    """The text, in parentheses if it holds together less tightly than ``least``."""
    return f"({text[0]})" if text[1] < least else text[0]


def _spaced_literal(text: str) -> str:
    """A literal with a space before its unit."""
    for position, sign in enumerate(text):
        if not (sign.isdigit() or sign in "./-"):
            number, unit = text[:position], text[position:]
            return number + unit if unit.startswith("°") else f"{number} {unit}"
    return text


def _text_in_full(expr: Expr, leaf: Leaf | None) -> str:
    op, data = expr.op, expr.data
    match op:
        case "num" if data[1] in ("pi", "π"):
            return str(data[1])
        case "date":
            return str(data[1])
        case "num" | "period":
            return _spaced_literal(str(data[1]))
        case "flag":
            return "true" if data[0] else "false"
        case "text":
            return f'"{data[0]}"'
        case "set":
            quoted = expr.type.item is not None and expr.type.item.kind == "text"
            words = (f'"{word}"' if quoted else str(word) for word in data[0])
            return f"[{', '.join(words)}]"
        case "name" | "local" | "variable" | "setting":
            return str(data[0])
        case "fact" | "derived":
            root, path = data[0], data[1]
            if (root, path) == (GROUP, MEMBERS):
                return GROUP
            return str(path) if root == "axis" else f"{root}.{path}"
        case "not":
            (denied,) = expr.kids
            denial = _denial(denied)
            if denial and (leaf is None or leaf(denied) is None):
                return operation_text(denial, denied, leaf)
    return operation_text(OPERATORS[op].text, expr, leaf)


def operation_text(text: str, expr: Expr, leaf: Leaf | None) -> str:
    """The text of an operator, such as `{0} + {1}`, with those of its operands in their places."""
    operator = OPERATORS[expr.op]
    parts = []
    for number, kid in enumerate(expr.kids):
        least = operator.least[min(number, len(operator.least) - 1)]
        if number and kid.op == "neg" and operator.strength in (SUM, PRODUCT):
            least = VALUE  # a − (−b)
        parts.append(enclosed(text_of(kid, leaf), least))
    words = {}
    if expr.op in LOOPS:
        words["over"] = f"{expr.data[0]} in {parts[0]}"
        where = expr.kids[1]
        if where.op != "flag" or not where.data[0]:
            words["over"] += f" where {parts[1]}"
    if expr.op == "pow":
        words["power"] = _POWERS[expr.data[0]]
    words["items"] = ", ".join(parts[1:])
    words["arguments"] = ", ".join(parts)
    return text.format(*parts, data=expr.data, **words)


# Values -----------------------------------------------------------------------------------------

_USER_UNIT: Final[Mapping[Dimension, str]] = {
    VARIABLE["position"]: "{u}",
    VARIABLE["position_speed"]: "{u}/s",
    VARIABLE["position_acceleration"]: "{u}/s^2",
    VARIABLE["position_jerk"]: "{u}/s^3",
    VARIABLE["feed"]: "{u}/rev",
    VARIABLE["resolution"]: "count/{u}",
}


@cache
def owners(dimension: Dimension) -> frozenset[str]:
    """The subjects whose user unit is in a dimension."""
    return frozenset(
        base.removeprefix(POSITION) for base, _ in dimension if base.startswith(POSITION)
    )


@cache
def _anonymous(dimension: Dimension, replacement: str) -> Dimension:
    result: Dimension = ()
    for base, power in dimension:
        name = replacement if base.startswith(POSITION) else base
        result = dim_mul(result, ((name, power),))
    return result


def unit_for(dimension: Dimension, env: Mapping[str, Any]) -> str:
    """The unit to show a dimension in: user units of the axis it belongs to, else the usual one."""
    found = owners(dimension)
    record = env.get(next(iter(found))) if found else None
    if isinstance(record, dict):
        motion = record.get("motion")
        user = record.get("controller.units")
        plain = "mm" if motion == "linear" else "deg"
        pattern = _USER_UNIT.get(_anonymous(dimension, "position"))
        base = "length" if motion == "linear" else "angle"
        if pattern is not None:
            for candidate in (user, plain):
                unit = pattern.format(u=candidate)
                known = UNITS.get(unit)
                if known is not None and known.dimension == _anonymous(dimension, base):
                    return unit
        dimension = _anonymous(dimension, base)
    if dimension == (("angle", 1),):
        return "rev"
    return default_unit(dimension)


def position_unit(axis: Mapping[str, Any]) -> str:
    """The unit in which an axis states its positions."""
    return unit_for(_POSITION_OF_AXIS, {"axis": axis})


_POSITION_OF_AXIS: Final = tuple((f"{base}:axis", power) for base, power in VARIABLE["position"])


_LONG: Final = (("d", 2 * 86400), ("h", 2 * 3600), ("min", 2 * 60), ("s", 1))
"""Units of a duration that is at least so many seconds long; a shorter one is in ms."""


def unit_of(value: Any, dimension: Dimension, env: Mapping[str, Any]) -> str:
    """The unit to show a value in: that of its dimension, one that suits a duration's length."""
    unit = unit_for(dimension, env)
    if unit == "s" and value:
        size = absolute(value)
        return next((long for long, least in _LONG if (size >= least) is True), "ms")
    return unit


def in_unit_shown(value: Number, unit: str) -> Number:
    """The value in a unit; a product of base units that is not in the table is the base itself."""
    known = unit_named(unit)
    result = None if known is None else div(value, known.factor)
    return value if result is None else result


MOST_DIGITS: Final = 10
"""Digits of numerator and denominator together that are shown of what is measured, not counted."""


def _exact_helps(value: Number, dimension: Dimension) -> bool:
    """Whether the exact form of a number says more than its first digits.

    It does of ratios and counts, which are typed as such. Forces, torques, inertias and powers are
    known to a few digits at best, and nobody sets a product with π² or a fraction of ten digits.
    """
    if isinstance(value, Approx):
        return False
    if isinstance(value, Pi) and abs(value.exponent) > 1:
        return False
    bases = {base for base, _ in dimension}
    if "mass" in bases:
        return False
    coefficient = value.coefficient if isinstance(value, Pi) else value
    written = f"{abs(coefficient.numerator)}{coefficient.denominator}"
    return not bases or "count" in bases or len(written) <= MOST_DIGITS


UNKNOWN: Final = "unknown"
"""What stands in a message for a value that is not known."""


def value_text(value: Any, type_: Type, env: Mapping[str, Any], unit: str = "") -> str:
    """A value as text, in ``unit`` or the unit that suits its type and the axis."""
    if value is None:
        return UNKNOWN
    if value is NONE or value is PRESENT:
        return repr(value)
    if type_.kind == "number":
        unit = unit or unit_of(value, type_.dim, env)
        shown = in_unit_shown(value, unit)
        return say_number(shown, unit, exactly=_exact_helps(shown, type_.dim))
    if type_.kind == "date":
        return _date_text(value)
    if type_.kind == "period":
        return "1 month" if value == 1 else f"{value} months"
    if type_.kind == "method":
        return method_words(value)
    if type_.kind == "flag":
        return "true" if value else "false"
    if type_.kind == "list" and isinstance(value, Sequence) and not isinstance(value, str):
        if not value:
            return "an empty list"
        item = type_.item or Type("text")
        if item.kind == "record":
            return "1 entry" if len(value) == 1 else f"{len(value)} entries"
        texts = [value_text(each, item, env) for each in islice(value, MAX_SHOWN)]
        more = len(value) - len(texts)
        return ", ".join([*texts, f"and {more:,} more"] if more else texts)
    return str(value)


def inline(value: Any, type_: Type, env: Mapping[str, Any]) -> Text:
    """A value as it stands within a formula: as an exact fraction where that helps."""
    text = value_text(value, type_, env)
    if type_.kind != "number" or value is None or value is NONE:
        return text, ATOM
    if "…" in text:
        unit = unit_of(value, type_.dim, env)
        shown = in_unit_shown(value, unit)
        helps = _exact_helps(shown, type_.dim)
        fraction = say_exact(shown) if helps and not isinstance(shown, Approx) else ""
        if fraction:
            return in_formula(f"{fraction} {unit}".strip())
    return in_formula(text)


def in_formula(text: str) -> Text:
    """A number with or without unit, with how tightly it holds together."""
    if text.startswith(("-", "≈")):
        return text, SUM
    number, _, unit = text.partition(" ")
    if not number.replace(".", "").replace("…", "").isdigit():
        return text, PRODUCT
    return text, VALUE if unit else ATOM


def exact(value: Any, type_: Type, env: Mapping[str, Any], unit: str = "") -> dict[str, Any]:
    """A value as JSON fields (see finding.Figure)."""
    if type_.kind == "number" and value is not None and value is not NONE:
        unit = unit or unit_of(value, type_.dim, env)
        if bits(value) > MAX_BITS:
            return {"text": value_text(value, type_, env, unit)}
        fields = exact_json(in_unit_shown(value, unit), unit)
        fields.pop("text", None)
        if "value" not in fields or fields["value"] is not None:
            return fields
    return {"text": value_text(value, type_, env, unit)}


def _date_text(seconds: Number) -> str:
    from datetime import UTC, datetime, timedelta

    if not isinstance(seconds, int):
        return f"{seconds} s since 1970"
    try:
        return (datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=seconds)).date().isoformat()
    except OverflowError:
        return f"{seconds} s since 1970"
