"""The machine schema as a tree of types: what facts exist, of which kind, and in which dimension.

The one definition is schemas/machine.schema.json; nothing here adds a fact to it, except the
``name`` of a machine or an axis, which a file states by the key it stands under. The build of the
package keeps the tree as plain tuples (schemas/compiled.py); types are made of them when somebody
asks for them.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from types import MappingProxyType

from ..base.errors import UsageError
from ..base.generated import belongs
from ..base.lazy import dataclass
from ..base.package_data import fingerprint, read_text
from ..numbers.dimensions import Dimension, dim
from .old_names import new_name

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final, Literal, TypeAlias


Kind: TypeAlias = 'Literal["quantity", "whole", "name", "flag", "text", "date", "method", "any"]'
Sign: TypeAlias = 'Literal["any", "positive", "not_negative"]'

VARIABLE: Final[Mapping[str, Dimension]] = MappingProxyType(
    {
        "position": dim(position=1),
        "position_speed": dim(position=1, time=-1),
        "position_acceleration": dim(position=1, time=-2),
        "position_jerk": dim(position=1, time=-3),
        "feed": dim(position=1, angle=-1),
        "resolution": dim(count=1, position=-1),
    }
)
"""The quantity kinds in user units of the axis: their base ``position`` is length or angle."""

_WHOLE_UNITS: Final[Mapping[str, Dimension]] = MappingProxyType(
    {
        "": (),
        "turn": dim(angle=1),
        "count": dim(count=1),
        "count/rev": dim(count=1, angle=-1),
    }
)

HEADER: Final = frozenset({"format", "$schema", "include", "machine"})
"""Keys of a machine file that speak about the file; ``machine`` becomes the fact ``name``."""

ROLE_END: Final = ":"
"""Ends the role in the path of a fact of a machine set aside, as in ``before:axes.infeed.motion``.

No name of an axis or of a fact holds it.
"""


@dataclass(frozen=True, slots=True)
class Leaf:
    """A single value.

    ``quantity`` names the kind of quantity (``length``, ``position_speed``, ...) of a value
    written with a unit; ``dimension`` is that of the bare number (None if it is not a number, or
    if the kind spans several dimensions) with the base ``position`` standing for the user unit of
    the axis. ``unit`` is the fixed unit of a whole number. ``names`` are the permitted words,
    ``numbers`` the whole numbers permitted if they are not all from ``minimum`` to ``maximum``.
    ``definition`` is the name under ``$defs`` without its ending, ``claims`` whether the value may
    be stated by several sources.
    """

    kind: Kind
    quantity: str | None = None
    sign: Sign = "any"
    dimension: Dimension | None = None
    unit: str = ""
    names: tuple[str, ...] = ()
    minimum: int | None = None
    maximum: int | None = None
    numbers: tuple[int, ...] = ()
    pattern: str = ""
    min_length: int = 0
    max_length: int | None = None
    definition: str = ""
    claims: bool = True
    plain_number: bool = False

    @property
    def in_user_units(self) -> bool:
        """Tell whether the value is a length on one axis and an angle on another."""
        return self.quantity in VARIABLE

    @property
    def is_number(self) -> bool:
        """Tell whether the value is a number to compute with (a date counts as seconds)."""
        return self.kind in ("quantity", "whole", "date")


@dataclass(frozen=True, slots=True)
class ListType:
    """A list of ``item``; complete unless written as ``{partial: [...]}`` where that is allowed."""

    item: Type
    max_items: int
    partial: bool = True


@dataclass(frozen=True, slots=True)
class MapType:
    """Records under names of the user's own choice, which match ``key_pattern``."""

    item: Type
    key_pattern: str
    min_items: int = 0


@dataclass(frozen=True, slots=True)
class RecordType:
    """A record of named fields, of which ``required`` must be stated."""

    fields: Mapping[str, Field]
    required: tuple[str, ...] = ()
    description: str = ""


Type: TypeAlias = Leaf | ListType | MapType | RecordType


@dataclass(frozen=True, slots=True)
class Field:
    """A field of a record. ``nullable``: may be `none`. ``implied``: is not a key of the record."""

    type: Type
    nullable: bool = False
    description: str = ""
    examples: tuple[object, ...] = ()
    implied: bool = False


class UnknownField(KeyError):
    """A path that no record has; ``candidates`` are the names it could have been, nearest first.

    ``name`` is the part that is unknown, ``parent`` the dotted path of the record that lacks it.
    """

    def __init__(self, name: str, candidates: tuple[str, ...], parent: str) -> None:
        super().__init__(name)
        self.name = name
        self.candidates = candidates
        self.parent = parent


@lru_cache(maxsize=1)
def load_schema() -> dict[str, Any]:
    """Read the published JSON Schema of a machine file."""
    import json

    text = read_text("axisproof.schemas", "machine.schema.json")
    schema: dict[str, Any] = json.loads(text)
    return schema


@lru_cache(maxsize=1)
def schema_fingerprint() -> str:
    """Give the fingerprint of the published JSON Schema of a machine file."""
    return fingerprint([read_text("axisproof.schemas", "machine.schema.json")])


@lru_cache(maxsize=1)
def machine_type() -> RecordType:
    """Give the type of a whole machine file, header keys included."""
    made = _made(_shipped_plan())
    assert isinstance(made, RecordType)
    return made


@lru_cache(maxsize=1)
def axis_type() -> RecordType:
    """Give the type of one axis."""
    axes = machine_type().fields["axes"].type
    assert isinstance(axes, MapType)
    assert isinstance(axes.item, RecordType)
    return axes.item


def _shipped_plan() -> Plan:
    """The plan of the build if it was made from the schema as it is, else a new one."""
    try:
        __import__("axisproof.schemas.compiled")
    except ImportError:
        return machine_plan()
    compiled = sys.modules["axisproof.schemas.compiled"]
    current = belongs(compiled.SEAL, schema_fingerprint())
    plan: Plan = compiled.MACHINE if current else machine_plan()
    return plan


def lookup(record: RecordType, path: str) -> Field:
    """Find the field at a dotted path, walking nested records but not into lists or maps.

    Raises UnknownField, with the nearest names, when there is none.
    """
    names = path.split(".")
    field: Field | None = None
    for depth, name in enumerate(names):
        fields: Mapping[str, Field] = record.fields
        found = fields.get(name)
        if found is None:
            raise UnknownField(name, near(name, fields), ".".join(names[:depth]))
        field = found
        if isinstance(found.type, RecordType):
            record = found.type
        elif depth + 1 < len(names):
            raise UnknownField(names[depth + 1], (), ".".join(names[: depth + 1]))
    assert field is not None
    return field


def facts(record: RecordType) -> dict[str, Field]:
    """List the facts of a record by dotted path: leaves, lists, and records that may be `none`.

    Other nested records appear only through the facts below them. Header keys, maps and settings
    are left out.
    """
    found: dict[str, Field] = {}
    _gather(record, "", found)
    return found


def _gather(record: RecordType, prefix: str, found: dict[str, Field]) -> None:
    for name, field in record.fields.items():
        if isinstance(field.type, MapType) or (not prefix and name in HEADER):
            continue
        if not isinstance(field.type, RecordType):
            found[prefix + name] = field
            continue
        if field.nullable:
            found[prefix + name] = field
        _gather(field.type, f"{prefix}{name}.", found)


@lru_cache(maxsize=1)
def optional_parts() -> frozenset[str]:
    """Give the paths, within their own record, of all records that may be `none`."""
    found: set[str] = set()
    queue = [machine_type(), axis_type()]
    while queue:
        for path, field in facts(queue.pop()).items():
            if isinstance(field.type, RecordType):
                found.add(path)
            elif isinstance(field.type, ListType) and isinstance(field.type.item, RecordType):
                queue.append(field.type.item)
    return frozenset(found)


def near(name: str, names: Iterable[str]) -> tuple[str, ...]:
    """Give up to three of ``names`` that ``name`` may have been meant as, nearest first.

    An old name of a fact is meant as its new one.
    """
    lowered: dict[str, str] = {}
    for candidate in names:
        lowered.setdefault(candidate.lower(), candidate)
    renamed = new_name(name, lowered)
    if renamed:
        return (renamed,)
    import difflib

    wanted = name[:80].lower().replace("-", "_").replace(" ", "_")
    found = difflib.get_close_matches(wanted, lowered, 3, 0.6)
    if len(wanted) > 2:
        found += [key for key in lowered if wanted in key and key not in found]
    return tuple(lowered[key] for key in found[:3])


def no_such_axis(machine: str, wanted: str, names: Iterable[str], listed: str) -> UsageError:
    """Return the error about an axis that a machine does not have, to be raised by the caller.

    It suggests the nearest of ``names``, or else gives them as they are ``listed``.
    """
    close = near(wanted, names)
    expected = f"perhaps {close[0]}" if close else f"one of {listed}"
    return UsageError(f"{machine} has no axis {wanted}", expected=expected)


# From JSON Schema to a plan of the types --------------------------------------------------------

Plan: TypeAlias = "tuple[Any, ...]"
"""A type as plain values: the first letter of its class, then what its class takes.

The fields of a record are pairs of name and what Field takes; a type in it is a plan again.
"""


def machine_plan() -> Plan:
    """Give the plan of the type of a whole machine file, made from the schema."""
    schema = load_schema()
    return _record(schema, schema["$defs"], "machine_name")


def _record(node: dict[str, Any], defs: dict[str, Any], named: str = "") -> Plan:
    fields = [(name, _field(child, defs)) for name, child in node["properties"].items()]
    if named:
        name = _leaf({"type": "string"}, named, claims=False)
        fields.insert(0, ("name", (name, False, "", (), True)))
    return ("R", tuple(fields), tuple(node.get("required", ())), node.get("description", ""))


def _field(node: dict[str, Any], defs: dict[str, Any]) -> Plan:
    options = node.get("anyOf", ())
    nullable = any(option.get("const") == "none" for option in options)
    inner = next(option for option in options if "const" not in option) if nullable else node
    examples = tuple(node.get("examples", ()))
    return (_type(inner, defs), nullable, node.get("description", ""), examples, False)


def _type(node: dict[str, Any], defs: dict[str, Any]) -> Plan:
    if "$ref" in node:
        name = node["$ref"].removeprefix("#/$defs/")
        if name == "axis":
            return _record(defs[name], defs, "axis_name")
        bare = name.removesuffix("_value")
        return _leaf(defs[f"{bare}_value"], bare, claims=bare == name)
    if "properties" in node:
        return _record(node, defs)
    if node.get("type") == "object":
        item = _type(node["additionalProperties"], defs)
        return ("M", item, node["propertyNames"]["pattern"], node.get("minProperties", 0))
    partial = "anyOf" in node and node["anyOf"][0].get("type") == "array"
    array = node["anyOf"][0] if partial else node
    if array.get("type") == "array":
        return ("I", _type(array["items"], defs), array["maxItems"], partial)
    return _leaf(node, "", claims=False)


def _leaf(node: dict[str, Any], definition: str, *, claims: bool) -> Plan:
    options = node.get("anyOf", [node])
    limits = next((option for option in options if option.get("type") == "integer"), node)
    words = next((option["enum"] for option in options if "enum" in option), ())
    minimum, maximum = limits.get("minimum"), limits.get("maximum")
    if "const" in node:
        minimum = maximum = node["const"]
    kind: Kind = node.get("x-kind") or _plain_kind(node)
    numbers: tuple[int, ...] = ()
    if kind == "whole":
        words, numbers = (), tuple(words)
        if numbers:
            minimum, maximum = min(numbers), max(numbers)
    quantity = node.get("x-quantity")
    return (
        "L",
        kind,
        quantity,
        node.get("x-sign", "any"),
        _dimension(kind, quantity, node.get("x-unit", "")),
        node.get("x-unit", ""),
        tuple(words),
        minimum,
        maximum,
        numbers,
        node.get("pattern", ""),
        node.get("minLength", 0),
        node.get("maxLength"),
        definition,
        claims,
        any(option.get("type") == "number" for option in options),
    )


def _plain_kind(node: dict[str, Any]) -> Kind:
    if "const" in node:
        return "whole"
    return "any" if isinstance(node["type"], list) else "text"


def _dimension(kind: Kind, quantity: str | None, unit: str) -> Dimension | None:
    if kind == "whole":
        return _WHOLE_UNITS[unit]
    if kind == "date":
        return dim(time=1)
    if quantity is None:
        return None
    if quantity in VARIABLE:
        return VARIABLE[quantity]
    from ..numbers.units import KINDS

    dimensions = KINDS[quantity]
    return next(iter(dimensions)) if len(dimensions) == 1 else None


# From the plan to types -------------------------------------------------------------------------


class _Fields(Mapping[str, "Field"]):
    """The fields of a record by name, each made when it is first asked for."""

    __slots__ = ("_made", "_plans")

    def __init__(self, plans: Iterable[tuple[str, Plan]]) -> None:
        self._plans = dict(plans)
        self._made: dict[str, Field] = {}

    def __getitem__(self, name: str) -> Field:
        found = self._made.get(name)
        if found is None:
            type_, *rest = self._plans[name]
            found = self._made[name] = Field(_made(type_), *rest)
        return found

    def __iter__(self) -> Iterator[str]:
        return iter(self._plans)

    def __len__(self) -> int:
        return len(self._plans)

    def __contains__(self, name: object) -> bool:
        return name in self._plans


def _made(plan: Plan) -> Type:
    """Make a type of its plan; the fields of a record stay plans."""
    kind, *given = plan
    if kind == "L":
        return Leaf(*given)
    if kind == "R":
        return RecordType(_Fields(given[0]), *given[1:])
    return (ListType if kind == "I" else MapType)(_made(given[0]), *given[1:])
