"""Expressions and values in the words and signs an engineer writes by hand."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from ..absence import NONE, PRESENT
from ..homing_methods import method_words
from ..quantity import Dimension, Number, dim_mul
from ..schema import VARIABLE
from ..units import UNITS, default_unit, in_unit
from ..wording import exact_json, say_number
from .syntax import Expr, Type

_STRENGTH: Final = {
    "choose": 0,
    "or": 1,
    "and": 2,
    "not": 3,
    "else": 5,
    "add": 6,
    "sub": 6,
    "mul": 7,
    "div": 7,
    "neg": 8,
    "pow": 9,
}
_COMPARISON: Final = 4
_ATOM: Final = 10
_SIGN: Final = {
    "add": "+",
    "sub": "−",
    "mul": "×",
    "div": "÷",
    "lt": "<",
    "le": "≤",
    "gt": ">",
    "ge": "≥",
    "eq": "=",
    "and": "and",
    "or": "or",
    "else": "else",
    "divides": "divides",
    "includes": "includes",
    "is": "is",
}
_ATOMS: Final = frozenset(
    "num flag text name fact derived local setting call variable count sum product max min "
    "decimals every some unique".split()
)


def _strength(expr: Expr) -> int:
    if expr.op in _ATOMS:
        return _ATOM
    return _STRENGTH.get(expr.op, _COMPARISON)


def formula(expr: Expr, leaf: Callable[[Expr], str | None] | None = None) -> str:
    """The expression as text; ``leaf`` may give the text of any node (None: print it in full)."""
    if leaf is not None:
        text = leaf(expr)
        if text is not None:
            return text

    def sub(kid: Expr, least: int) -> str:
        text = formula(kid, leaf)
        weak = _strength(kid) < least
        return f"({text})" if weak and " " in text else text

    op, kids, data = expr.op, expr.kids, expr.data
    match op:
        case "num":
            return str(data[1])
        case "flag":
            return "true" if data[0] else "false"
        case "text":
            return f'"{data[0]}"'
        case "name" | "local" | "variable":
            return str(data[0])
        case "setting":
            return str(data[0])
        case "fact" | "derived":
            root, path = data[0], data[1]
            return str(path) if root == "axis" else f"{root}.{path}"
        case "neg":
            return "−" + sub(kids[0], 8)
        case "pow":
            return sub(kids[0], 9) + {2: "²", 3: "³", 4: "⁴"}.get(data[0], "")
        case "not":
            return _negated(kids[0], sub) or f"not {sub(kids[0], 3)}"
        case "is_whole" | "is_none":
            return f"{sub(kids[0], 5)} is {op.removeprefix('is_')}"
        case "one_of":
            return f"{sub(kids[0], 5)} is one of {', '.join(formula(k, leaf) for k in kids[1:])}"
        case "within":
            return f"{sub(kids[0], 5)} within {sub(kids[1], 5)} of {sub(kids[2], 5)}"
        case "between":
            return f"{sub(kids[0], 5)} between {sub(kids[1], 5)} and {sub(kids[2], 5)}"
        case "choose":
            return f"{sub(kids[1], 1)} if {sub(kids[0], 1)}, otherwise {sub(kids[2], 0)}"
        case "call":
            return f"{data[0]}({', '.join(formula(kid, leaf) for kid in kids)})"
        case "decimals":
            return f"decimals of {formula(kids[0], leaf)}"
        case "every" | "some" | "unique" | "count" | "sum" | "product" | "max" | "min":
            return _over_list(expr, leaf)
    strength = _strength(expr)
    left = sub(kids[0], strength)
    right = sub(kids[1], strength + (op in ("sub", "div")))
    return f"{left} {_SIGN[op]} {right}"


def _negated(kid: Expr, sub: Callable[[Expr, int], str]) -> str:
    if kid.op in ("is", "is_whole", "is_none"):
        tail = sub(kid.kids[1], 5) if kid.op == "is" else kid.op.removeprefix("is_")
        return f"{sub(kid.kids[0], 5)} is not {tail}"
    return ""


def _over_list(expr: Expr, leaf: Callable[[Expr], str | None] | None) -> str:
    def sub(kid: Expr) -> str:
        return formula(kid, leaf)

    (variable,) = expr.data
    listed = formula(expr.kids[0], leaf)
    where = expr.kids[1]
    over = f"{variable} in {listed}"
    if where.op != "flag":
        over += f" where {sub(where)}"
    if expr.op in ("every", "some"):
        return f"{expr.op} {over} has {sub(expr.kids[2])}"
    if expr.op == "count":
        return f"count of {over}"
    if expr.op == "unique":
        return f"unique {sub(expr.kids[2])} for {over}"
    return f"{expr.op} of {sub(expr.kids[2])} for {over}"


# Values -----------------------------------------------------------------------------------------

_USER_UNIT: Final[Mapping[Dimension, str]] = {
    VARIABLE["position"]: "{u}",
    VARIABLE["position_speed"]: "{u}/s",
    VARIABLE["position_acceleration"]: "{u}/s^2",
    VARIABLE["position_jerk"]: "{u}/s^3",
    VARIABLE["feed"]: "{u}/rev",
    VARIABLE["resolution"]: "count/{u}",
}


def owners(dimension: Dimension) -> set[str]:
    """The subjects whose user unit is in a dimension."""
    return {base.split(":", 1)[1] for base, _ in dimension if base.startswith("position:")}


def _anonymous(dimension: Dimension, replacement: str) -> Dimension:
    result: Dimension = ()
    for base, power in dimension:
        name = replacement if base.startswith("position:") else base
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


def _shown(value: Number, unit: str) -> Number:
    """The value in a unit; a product of base units that the table lacks is the base itself."""
    return in_unit(value, unit) if unit in UNITS else value


def show(value: Any, type_: Type, env: Mapping[str, Any], unit: str = "") -> str:
    """A value as text, in ``unit`` or the unit that suits its type and the axis."""
    if value is None:
        return "unknown"
    if value is NONE or value is PRESENT:
        return repr(value)
    if type_.kind == "number":
        unit = unit or unit_for(type_.dim, env)
        return say_number(_shown(value, unit), unit)
    if type_.kind == "date":
        return _date(value)
    if type_.kind == "method":
        return method_words(value)
    if type_.kind == "flag":
        return "true" if value else "false"
    if type_.kind == "list" and isinstance(value, list):
        if not value:
            return "an empty list"
        item = type_.item or Type("text")
        if item.kind == "record":
            return f"{len(value)} entries"
        return ", ".join(show(each, item, env) for each in value)
    return str(value)


def exact(value: Any, type_: Type, env: Mapping[str, Any], unit: str = "") -> dict[str, Any]:
    """A value as JSON fields (see finding.Figure)."""
    if type_.kind == "number" and value is not None and value is not NONE:
        unit = unit or unit_for(type_.dim, env)
        fields = exact_json(_shown(value, unit), unit)
        fields.pop("text", None)
        if "value" not in fields or fields["value"] is not None:
            return fields
    return {"text": show(value, type_, env, unit)}


def _date(seconds: Number) -> str:
    from datetime import UTC, datetime, timedelta

    if not isinstance(seconds, int):
        return f"{seconds} s since 1970"
    try:
        return (datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=seconds)).date().isoformat()
    except OverflowError:
        return f"{seconds} s since 1970"
