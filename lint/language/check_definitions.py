"""Checks definitions: their names and kinds first, so that they may use each other."""

from __future__ import annotations

import graphlib
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

from ..machine.schema import VARIABLE
from ..numbers.dimensions import DIMENSIONLESS, Dimension, dim, dim_div, dim_mul, dim_pow
from ..numbers.units import KINDS
from .check_clauses import clauses_by_word
from .check_sizes import SizeChecker
from .expression_checker import ExpressionChecker
from .record_types import owned_position
from .rule_file import Clause, RawItem, RuleFile
from .scope import Scope
from .syntax import DATE, FLAG, METHOD, SUBJECTS, TEXT, Definition, Expr, Span, Type
from .wording import nearest_name

MAX_DEFINITIONS = 500

_SINGLE_KINDS: Mapping[str, Type] = {"flag": FLAG, "text": TEXT, "date": DATE, "method": METHOD}


@dataclass(frozen=True, slots=True)
class DefinitionHeader:
    """A definition of which all but the expression is checked."""

    file: RuleFile
    item: RawItem
    expression: Expr
    definition: Definition
    scope: Scope


class DefinitionChecker:
    """Checks definitions; what they are called becomes known to ``expressions``."""

    def __init__(self, expressions: ExpressionChecker) -> None:
        self.expressions = expressions
        self.names = expressions.names

    def header(self, file: RuleFile, item: RawItem) -> DefinitionHeader:
        """Check all of a definition but its expression, and make its name known."""
        once = ("kind", "as", "meaning", "basis", "unit")
        found = clauses_by_word(file, item, ("kind", "as", "meaning"), once)
        owner, _, name = item.name.rpartition(".")
        if not owner or "." in owner:
            raise file.error(
                item.name_at, f"{item.name} does not say whose fact it is", "axis.name"
            )
        self.names.new_name(file, name, item.name_at)
        record, variables = self.subject(file, item, owner)
        known = self.names.derived.setdefault(record, {})
        if (record, name) in self.names.shipped_definitions:
            what = f"a definition that ships with axisproof is called {item.name}"
            raise file.error(item.name_at, what, "another name, or the shipped one as it is")
        if name in self.names.record_types.records[record]:
            what = f"{item.name} exists already: it is a fact of the machine file"
            raise file.error(item.name_at, what, "another name")
        if name in known:
            raise file.error(item.name_at, f"{item.name} exists already", "another name")
        factors, _ = found["kind"].payload
        type_ = _type_of_kind(file, factors, owner)
        known[name] = type_
        definition = Definition(
            owner,
            item.loop[1] if item.loop else "",
            name,
            Expr("flag", (), (True,)),
            type_,
            found["meaning"].payload[0],
            found["basis"].payload[0] if "basis" in found else "",
            self.unit(file, found, type_),
            item.name_at,
            file.name,
        )
        expression: Expr = found["as"].payload[0]
        return DefinitionHeader(file, item, expression, definition, Scope(file, variables))

    def subject(self, file: RuleFile, item: RawItem, owner: str) -> tuple[str, Mapping[str, Type]]:
        """The record that carries a definition, and the names its expression may use."""
        if item.loop:
            variable, record = item.loop
            root = record.partition(".")[0]
            records = self.names.record_types.records
            if variable != owner or record not in records or root not in SUBJECTS:
                raise file.error(
                    item.name_at,
                    f"{item.name} is not defined over a list of records",
                    "define NAME.FACT for NAME in axis.LIST",
                )
            return record, {owner: Type("record", record=record, owner=owner)}
        if owner not in ("axis", "machine"):
            raise file.error(item.name_at, f"{owner} is not a subject", "axis or machine")
        variables = {owner: Type("record", record=owner, owner=owner)}
        if owner == "axis":
            variables["machine"] = Type("record", record="machine", owner="machine")
        return owner, variables

    def unit(self, file: RuleFile, found: Mapping[str, Clause], type_: Type) -> str:
        """The unit a definition is shown in; empty if none is stated."""
        if "unit" not in found:
            return ""
        unit: str
        unit, at = found["unit"].payload
        self.expressions.unit(file, unit, at, [type_.dim])
        return unit

    def body(self, header: DefinitionHeader) -> Definition:
        """Check the expression of a definition."""
        definition, scope = header.definition, header.scope
        expr = self.expressions.expr(header.expression, scope, definition.type)
        self.expressions.same(scope, expr, definition.type, f"{header.item.name} is declared as")
        approx = expr.type.approx
        if approx:
            known = self.names.derived[definition.record]
            known[definition.name] = replace(definition.type, approx=True)
        return replace(definition, expr=expr, type=replace(definition.type, approx=approx))

    def bodies(self, headers: Sequence[DefinitionHeader]) -> list[Definition]:
        """Check all bodies, and once more after those they use if one turns out approximate."""
        if len(headers) > MAX_DEFINITIONS:
            header = headers[MAX_DEFINITIONS]
            what = f"more than {MAX_DEFINITIONS} definitions"
            raise header.file.error(header.item.name_at, what, "fewer")
        definitions = [self.body(header) for header in headers]
        if any(definition.type.approx for definition in definitions):
            keys = [(definition.record, definition.name) for definition in definitions]
            with suppress(graphlib.CycleError):  # refused by measure_definitions, with its place
                for key in _in_order_of_use(_uses(definitions)):
                    if key in keys:
                        number = keys.index(key)
                        definitions[number] = self.body(headers[number])
        return definitions


_Uses = Mapping[tuple[str, str], Mapping[tuple[str, str], Expr]]
"""The definitions that each definition uses, with a node that does so."""


def _uses(definitions: Sequence[Definition]) -> _Uses:
    return {
        (d.record, d.name): {
            (node.data[2], node.data[1]): node for node in d.expr.walk() if node.op == "derived"
        }
        for d in definitions
    }


def _in_order_of_use(uses: _Uses) -> list[tuple[str, str]]:
    """The keys of definitions, each after those it uses. Raises CycleError."""
    return list(graphlib.TopologicalSorter(uses).static_order())


def measure_definitions(
    definitions: Sequence[Definition], sizes: SizeChecker, file_of: Callable[[str], RuleFile]
) -> None:
    """Refuse definitions that lead back to themselves or grow beyond all bounds."""
    by_key = {(d.record, d.name): d for d in definitions}
    uses = _uses(definitions)
    try:
        order = _in_order_of_use(uses)
    except graphlib.CycleError as fault:
        cycle = fault.args[1]
        user = by_key[cycle[1]]
        raise file_of(user.file).error(
            uses[cycle[1]][cycle[0]].at, f"{user.owner}.{user.name} is defined through itself"
        ) from None
    for key in order:
        if key in by_key:
            found = by_key[key]
            node = Expr("derived", (), (found.owner, key[1], key[0]), found.at)
            file = file_of(found.file)
            sizes.measure(file, node, {})
            sizes.weigh(file, f"{found.owner}.{key[1]}", found.at, [found.expr], {})


def _type_of_kind(
    file: RuleFile, factors: Sequence[tuple[str, int, str, Span]], owner: str
) -> Type:
    if len(factors) == 1 and factors[0][0] in _SINGLE_KINDS:
        return _SINGLE_KINDS[factors[0][0]]
    result: Dimension = DIMENSIONLESS
    for word, power, operator, word_at in factors:
        dimension = kind_words().get(word)
        if dimension is None:
            raise file.error(
                word_at, f"{word} is not a kind", nearest_name(word, kind_words()) or "ratio"
            )
        if not 1 <= power <= 4:
            raise file.error(word_at, f"power {power}", "1 to 4")
        part = dim_pow(owned_position(dimension, owner), power)
        result = dim_mul(result, part) if operator == "*" else dim_div(result, part)
    return Type("number", result)


def kind_words() -> Mapping[str, Dimension]:
    """The words that may stand in `kind`: quantity kinds with one dimension, and bases."""
    known: dict[str, Dimension] = {
        kind: next(iter(dims)) for kind, dims in KINDS.items() if len(dims) == 1
    }
    known |= dict(VARIABLE)
    known |= {
        "ratio": DIMENSIONLESS,
        "number": DIMENSIONLESS,
        "rev": dim(angle=1),
        "turns": dim(angle=1),
        "count": dim(count=1),
        "counts": dim(count=1),
    }
    return known
