"""Names, types and dimensions of rules: raw trees in, checked rules out.

What the checker lets through can be evaluated without surprise: every path is a fact of the
machine schema or a definition, every sum adds like to like, every comparison is decidable in
principle. What it refuses is a RuleError with the place in the rule file.

Position is a dimension of its own per subject (``position:axis``): a length or an angle literal
meets it only under a condition on the motion of that subject, in ``when`` or to the left within
an ``and`` or an ``if``.
"""

from __future__ import annotations

import difflib
import graphlib
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from itertools import permutations
from typing import Any

from ..findings.builtin import BUILT_IN
from ..findings.finding import LEVELS
from ..machine.homing_order import HOMES_AFTER, WAITS_FOR_STRANGER
from ..machine.schema import VARIABLE, Field, Leaf, ListType, RecordType, axis_type, machine_type
from ..machine.schema import facts as record_facts
from ..numbers.dimensions import DIMENSIONLESS, Dimension, dim, dim_div, dim_mul, dim_pow, dim_words
from ..numbers.exact import Approx, Number, QuantityError, div
from ..numbers.units import KINDS, UNITS, parse_quantity
from .bounds import MAX_COST, MAX_EXAMPLES, MAX_NODES, Bounds, ExpressionSize, TooLarge
from .library import FUNCTIONS, Shape
from .operators import LOOPS
from .parser import MAX_REQUIRES, Clause, RawExample, RawFile, RawItem, RuleFile
from .syntax import (
    DATE,
    FLAG,
    KEYWORDS,
    METHOD,
    NO_RULES,
    NUMBER,
    SUBJECTS,
    TEXT,
    Definition,
    Example,
    Expr,
    Hole,
    Join,
    Remedy,
    Rule,
    RuleSet,
    Setting,
    Span,
    Template,
    Type,
)

TIME = dim(time=1)
POSITION = "position:"

Narrowing = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Scope:
    """What names mean at a point of a rule."""

    file: RuleFile
    variables: Mapping[str, Type]
    lets: Mapping[str, Type] = field(default_factory=dict)
    narrowing: Narrowing = field(default_factory=dict)
    constant: bool = False
    message: bool = False

    def plain(self, dimension: Dimension) -> Dimension:
        """The dimension with position replaced by what the conditions so far make of it."""
        for _ in range(len(self.narrowing) + 1):
            if not any(base in self.narrowing for base, _ in dimension):
                return dimension
            result: Dimension = DIMENSIONLESS
            for base, power in dimension:
                target = self.narrowing.get(base, base)
                result = dim_mul(result, ((target, power),))
            dimension = result
        return dimension

    def narrowed(self, condition: Expr, holds: bool = True) -> Scope:
        """The scope where ``condition`` is known to hold (or not to hold)."""
        found = dict(self.narrowing)
        _narrow(condition, holds, found)
        return replace(self, narrowing=found) if found != dict(self.narrowing) else self


def _narrow(condition: Expr, holds: bool, found: dict[str, str]) -> None:
    if condition.op == "not":
        _narrow(condition.kids[0], not holds, found)
    elif condition.op == ("and" if holds else "or"):
        for kid in condition.kids:
            _narrow(kid, holds, found)
    elif condition.op == "is":
        left, right = condition.kids
        if left.op != "fact" or left.data[1] != "motion":
            return
        base = POSITION + left.data[0]
        if right.op == "name":
            linear = (right.data[0] == "linear") == holds
            found.setdefault(base, "length" if linear else "angle")
        elif right.op == "fact" and right.data[1] == "motion" and holds:
            other = POSITION + right.data[0]
            if base != other and other not in found:
                found.setdefault(base, other)


def _rename(dimension: Dimension, owner: str) -> Dimension:
    result: Dimension = DIMENSIONLESS
    for base, power in dimension:
        name = POSITION + owner if base == "position" else base
        result = dim_mul(result, ((name, power),))
    return result


def _of_owner(type_: Type, owner: str) -> Type:
    """The type of a definition as seen from a variable other than its own."""
    renamed: Dimension = DIMENSIONLESS
    for base, power in type_.dim:
        name = POSITION + owner if base.startswith(POSITION) else base
        renamed = dim_mul(renamed, ((name, power),))
    return replace(type_, dim=renamed)


class RecordTypes:
    """The record types of the machine schema, under the ids that rules know them by."""

    def __init__(self) -> None:
        self.records: dict[str, dict[str, Field]] = {}
        self._add("axis", axis_type())
        self._add("machine", machine_type())

    def _add(self, name: str, record: RecordType) -> None:
        found = record_facts(record)
        self.records[name] = found
        for path, item in found.items():
            if isinstance(item.type, ListType) and isinstance(item.type.item, RecordType):
                self._add(f"{name}.{path}", item.type.item)

    def type_of(self, record: str, path: str, owner: str) -> Type | None:
        """The type of a fact, or None if the record has no such fact."""
        if record == "machine" and path == "axes":
            return Type("list", item=Type("record", record="axis"))
        if record == "machine" and path == "check_date":
            return DATE
        if record == "axis" and path == HOMES_AFTER:
            return Type("list", item=TEXT)
        if record == "axis" and path == WAITS_FOR_STRANGER:
            return FLAG
        found = self.records[record].get(path)
        return None if found is None else self._type(found, record, path, owner)

    def _type(self, item: Field, record: str, path: str, owner: str) -> Type:
        if isinstance(item.type, RecordType):
            return Type("part", record=f"{record}.{path}", nullable=True)
        if isinstance(item.type, ListType):
            if isinstance(item.type.item, RecordType):
                return Type("list", item=Type("record", record=f"{record}.{path}", owner=owner))
            assert isinstance(item.type.item, Leaf)
            return Type("list", item=self._leaf(item.type.item, owner))
        assert isinstance(item.type, Leaf)
        leaf = self._leaf(item.type, owner)
        return replace(leaf, nullable=True) if item.nullable else leaf

    def _leaf(self, leaf: Leaf, owner: str) -> Type:
        if leaf.kind in ("quantity", "whole"):
            assert leaf.dimension is not None, leaf
            return Type("number", _rename(leaf.dimension, owner))
        if leaf.kind == "name":
            return Type("name", names=leaf.names)
        return {"flag": FLAG, "text": TEXT, "date": DATE, "method": METHOD}[leaf.kind]

    def names(self, record: str) -> list[str]:
        """Every path of a record, for did-you-mean."""
        extra = {"machine": ("axes", "check_date"), "axis": (HOMES_AFTER, WAITS_FOR_STRANGER)}
        return [*self.records[record], *extra.get(record, ())]


def check_rules(files: Sequence[RawFile], base: RuleSet | None = None) -> RuleSet:
    """Check rule files together, on top of the definitions and settings of ``base``.

    Raises RuleError for the first fault. The result holds only what ``files`` state.
    """
    return _Checker(files, base or NO_RULES).run()


def _did_you_mean(word: str, choices: Iterable[str]) -> str:
    choices = list(choices)
    close = difflib.get_close_matches(word, choices, 1, 0.6)
    if not close and "." in word:
        tail = word.rsplit(".", 1)[1]
        close = [c for c in choices if c.rsplit(".", 1)[-1] == tail][:1]
    if not close:
        ends = [c for c in choices if c.endswith("." + word)]
        close = ends[:1]
    return f"perhaps {close[0]}" if close else ""


def _kind_word(type_: Type) -> str:
    return {
        "number": "a number",
        "flag": "true or false",
        "name": "a word",
        "text": "a text",
        "date": "a date",
        "method": "a homing method",
        "list": "a list",
        "record": "a record",
        "part": "a part",
    }[type_.kind]


_RESERVED = KEYWORDS | {"true", "false"}
_RULE_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
MAX_DEFINITIONS = 500


class _Checker:
    def __init__(self, files: Sequence[RawFile], base: RuleSet) -> None:
        self.files = files
        self.base = base
        self.catalogue = RecordTypes()
        self.settings: dict[str, Setting] = {s.name: s for s in base.settings}
        self.derived: dict[str, dict[str, Type]] = {}
        for d in base.definitions:
            self.derived.setdefault(d.record, {})[d.name] = d.type
        self.known_rules = {rule.name for rule in base.rules}
        self.bounds = Bounds({})
        self.example_sets: dict[str, tuple[Example, ...]] = {}

    def run(self) -> RuleSet:
        settings = [
            self.setting(raw.file, item)
            for raw in self.files
            for item in raw.items
            if item.word == "setting"
        ]
        headers = [
            self.define_header(raw.file, item)
            for raw in self.files
            for item in raw.items
            if item.word == "define"
        ]
        definitions = self.define_bodies(headers)
        known = {(d.record, d.name): d for d in (*self.base.definitions, *definitions)}
        self.bounds = Bounds(known)
        self.measure_definitions(definitions)
        rules = [
            self.rule(raw.file, item)
            for raw in self.files
            for item in raw.items
            if item.word == "rule"
        ]
        return RuleSet(tuple(rules), tuple(definitions), tuple(settings), self.example_sets)

    # clauses

    def clauses(
        self, file: RuleFile, item: RawItem, needed: Sequence[str], once: Sequence[str]
    ) -> dict[str, Clause]:
        found: dict[str, Clause] = {}
        for clause in item.clauses:
            if clause.word in once and clause.word in found:
                raise file.error(clause.at, f"{item.word} {item.name} states {clause.word} twice")
            found.setdefault(clause.word, clause)
        for word in needed:
            if word not in found:
                raise file.error(
                    item.name_at,
                    f"{item.word} {item.name} has no {word}",
                    f"a line that begins with {word}",
                )
        return found

    def new_name(self, file: RuleFile, name: str, at: Span) -> str:
        if "." in name or name in _RESERVED or name.lower() != name:
            raise file.error(at, f"{name} cannot be used as a name", "one lower-case word")
        return name

    def setting(self, file: RuleFile, item: RawItem) -> Setting:
        name = self.new_name(file, item.name, item.name_at)
        if name in self.settings:
            raise file.error(item.name_at, f"setting {name} is defined twice")
        words = ("default", "meaning", "basis")
        found = self.clauses(file, item, words, words)
        value, at = found["default"].payload
        default = self.constant(file, value, at)
        result = Setting(
            name,
            default,
            str(value),
            found["meaning"].payload[0],
            found["basis"].payload[0],
            item.name_at,
            file.name,
        )
        self.settings[name] = result
        return result

    def constant(self, file: RuleFile, value: Any, at: Span) -> Expr:
        """A setting's value as a literal: a flag or a number with its dimension."""
        if isinstance(value, bool):
            return Expr("flag", (), (value,), at, FLAG)
        if isinstance(value, list | dict):
            raise file.error(at, "a setting cannot be a list or a map", "a number, true or false")
        try:
            quantity = parse_quantity(str(value))
        except QuantityError as fault:
            raise file.error(at, fault.what, fault.expected) from None
        data = (quantity.value, str(value))
        return Expr("num", (), data, at, Type("number", quantity.dimension))

    def define_header(
        self, file: RuleFile, item: RawItem
    ) -> tuple[RuleFile, RawItem, dict[str, Clause], Definition, Scope]:
        once = ("kind", "as", "meaning", "basis", "unit")
        found = self.clauses(file, item, ("kind", "as", "meaning"), once)
        owner, _, name = item.name.rpartition(".")
        if not owner or "." in owner:
            raise file.error(
                item.name_at, f"{item.name} does not say whose fact it is", "axis.name"
            )
        self.new_name(file, name, item.name_at)
        if item.loop:
            variable, list_path = item.loop
            root = list_path.partition(".")[0]
            record = list_path
            if variable != owner or record not in self.catalogue.records or root not in SUBJECTS:
                raise file.error(
                    item.name_at,
                    f"{item.name} is not defined over a list of records",
                    "define NAME.FACT for NAME in axis.LIST",
                )
            variables = {owner: Type("record", record=record, owner=owner)}
        elif owner in ("axis", "machine"):
            record = owner
            variables = {owner: Type("record", record=owner, owner=owner)}
            if owner == "axis":
                variables["machine"] = Type("record", record="machine", owner="machine")
        else:
            raise file.error(item.name_at, f"{owner} is not a subject", "axis or machine")
        known = self.derived.setdefault(record, {})
        if name in known or name in self.catalogue.records[record]:
            raise file.error(item.name_at, f"{item.name} exists already")
        factors, kind_at = found["kind"].payload
        type_ = self.kind(file, factors, kind_at, owner)
        known[name] = type_
        unit = ""
        if "unit" in found:
            unit, unit_at = found["unit"].payload
            self.unit(file, unit, unit_at, [type_.dim])
        definition = Definition(
            owner,
            item.loop[1] if item.loop else "",
            name,
            Expr("flag", (), (True,)),
            type_,
            found["meaning"].payload[0],
            found["basis"].payload[0] if "basis" in found else "",
            unit,
            item.name_at,
            file.name,
        )
        return file, item, found, definition, Scope(file, variables)

    def define_body(
        self,
        file: RuleFile,
        item: RawItem,
        found: dict[str, Clause],
        definition: Definition,
        scope: Scope,
    ) -> Definition:
        expr = self.expr(found["as"].payload[0], scope, definition.type)
        self.same(scope, expr, definition.type, f"{item.name} is declared as")
        approx = expr.type.approx
        if approx:
            self.derived[definition.record][definition.name] = replace(definition.type, approx=True)
        return replace(definition, expr=expr, type=replace(definition.type, approx=approx))

    def kind(
        self, file: RuleFile, factors: Sequence[tuple[str, int, str, Span]], at: Span, owner: str
    ) -> Type:
        if len(factors) == 1:
            single = {"flag": FLAG, "text": TEXT, "date": DATE, "method": METHOD}.get(factors[0][0])
            if single:
                return single
        result: Dimension = DIMENSIONLESS
        for word, power, operator, word_at in factors:
            dimension = kind_words().get(word)
            if dimension is None:
                raise file.error(
                    word_at, f"{word} is not a kind", _did_you_mean(word, kind_words()) or "ratio"
                )
            if not 1 <= power <= 4:
                raise file.error(word_at, f"power {power}", "1 to 4")
            part = dim_pow(_rename(dimension, owner), power)
            result = dim_mul(result, part) if operator == "*" else dim_div(result, part)
        return Type("number", result)

    def define_bodies(
        self, headers: Sequence[tuple[RuleFile, RawItem, dict[str, Clause], Definition, Scope]]
    ) -> list[Definition]:
        """Check all bodies, and once more after those they use if one turns out approximate."""
        if len(headers) > MAX_DEFINITIONS:
            file, item, *_ = headers[MAX_DEFINITIONS]
            raise file.error(item.name_at, f"more than {MAX_DEFINITIONS} definitions", "fewer")
        definitions = [self.define_body(*header) for header in headers]
        if any(definition.type.approx for definition in definitions):
            keys = [(definition.record, definition.name) for definition in definitions]
            with suppress(graphlib.CycleError):  # refused by measure_definitions, with its place
                for key in self.uses_first(definitions):
                    if key in keys:
                        number = keys.index(key)
                        definitions[number] = self.define_body(*headers[number])
        return definitions

    @staticmethod
    def uses_first(definitions: Sequence[Definition]) -> list[tuple[str, str]]:
        """The keys of definitions, each after those it uses. Raises CycleError."""
        uses = {
            (d.record, d.name): {
                (node.data[2], node.data[1]) for node in d.expr.walk() if node.op == "derived"
            }
            for d in definitions
        }
        return list(graphlib.TopologicalSorter(uses).static_order())

    def measure_definitions(self, definitions: Sequence[Definition]) -> None:
        """Refuse definitions that lead back to themselves or grow beyond all bounds."""
        by_key = {(d.record, d.name): d for d in definitions}
        uses: dict[tuple[str, str], dict[tuple[str, str], Expr]] = {}
        for key, definition in by_key.items():
            nodes = [node for node in definition.expr.walk() if node.op == "derived"]
            uses[key] = {(node.data[2], node.data[1]): node for node in nodes}
        try:
            order = list(graphlib.TopologicalSorter(uses).static_order())
        except graphlib.CycleError as fault:
            cycle = fault.args[1]
            user = by_key[cycle[1]]
            raise self.file_of(user.file).error(
                uses[cycle[1]][cycle[0]].at, f"{user.owner}.{user.name} is defined through itself"
            ) from None
        for key in order:
            if key in by_key:
                node = Expr("derived", (), (by_key[key].owner, key[1], key[0]), by_key[key].at)
                file = self.file_of(by_key[key].file)
                self.measure(file, node, {})
                what = f"{by_key[key].owner}.{key[1]}"
                self.weigh(file, what, by_key[key].at, [by_key[key].expr], {})

    def file_of(self, name: str) -> RuleFile:
        return next(raw.file for raw in self.files if raw.file.name == name)

    def measure(
        self, file: RuleFile, expr: Expr, lets: Mapping[str, ExpressionSize]
    ) -> ExpressionSize:
        try:
            return self.bounds.size(expr, lets)
        except TooLarge as fault:
            raise file.error(fault.node.at, fault.what, fault.expected) from None

    def weigh(
        self,
        file: RuleFile,
        what: str,
        at: Span,
        exprs: Sequence[Expr],
        lets: Mapping[str, ExpressionSize],
    ) -> None:
        """Refuse a rule or definition whose evaluation costs too much, whatever it loops over."""
        nodes = sum(1 for expr in exprs for _ in expr.walk())
        if nodes > MAX_NODES:
            expected = f"at most {MAX_NODES}"
            raise file.error(at, f"{what} has {nodes} words, numbers and operators", expected)
        cost = sum(self.bounds.steps(node, lets) for node in _tops(exprs))
        if cost > MAX_COST:
            raise file.error(
                at,
                f"{what} takes {cost} steps, for the size its numbers can grow to",
                f"at most {MAX_COST}; formulas of fewer products",
            )

    # rules

    def rule(self, file: RuleFile, item: RawItem) -> Rule:
        needed = ("level", "title", "each", "require", "say", "why", "remedy", "basis")
        once = (*needed, "when", "set", "given")
        found = self.clauses(file, item, needed, [word for word in once if word != "require"])
        if not _RULE_NAME.fullmatch(item.name):
            raise file.error(
                item.name_at,
                f"{item.name} cannot be the name of a rule",
                "lower-case words joined by hyphens",
            )
        if item.name in self.known_rules:
            raise file.error(item.name_at, f"rule {item.name} is defined twice")
        if any(item.name == check.name for check in BUILT_IN):
            raise file.error(item.name_at, f"{item.name} is a check built in", "another name")
        self.known_rules.add(item.name)
        level, level_at = found["level"].payload
        if level not in LEVELS:
            raise file.error(level_at, f"{level} is not a level", "error, warning or note")
        subject, join, scope = self.subject(file, found["each"])
        when = None
        sizes: dict[str, ExpressionSize] = {}
        if "when" in found:
            when = self.condition(found["when"].payload[0], scope)
            self.measure(file, when, sizes)
            scope = scope.narrowed(when)
        lets: list[tuple[str, Expr]] = []
        requirement: Expr | None = None
        requires = 0
        for clause in item.clauses:
            if clause.word == "let":
                name, at, value = clause.payload
                self.new_name(file, name, at)
                if name in scope.lets or name in scope.variables or name in self.settings:
                    raise file.error(at, f"{name} means something already", "another name")
                expr = self.expr(value, scope)
                if expr.type.kind in ("list", "part", "record"):
                    raise file.error(expr.at, f"{_kind_word(expr.type)} cannot be named by let")
                lets.append((name, expr))
                sizes[name] = self.measure(file, expr, sizes)
                scope = replace(scope, lets={**scope.lets, name: expr.type})
            elif clause.word == "require":
                part = self.condition(clause.payload[0], scope)
                self.measure(file, part, sizes)
                requires += 1
                if requires > MAX_REQUIRES:
                    raise file.error(clause.at, f"more than {MAX_REQUIRES} requirements", "fewer")
                requirement = (
                    part
                    if requirement is None
                    else Expr("and", (requirement, part), (), part.at, FLAG)
                )
        assert requirement is not None
        texts = [self.template(found[w].payload[0], scope) for w in ("say", "why", "remedy")]
        fix = self.fix(found["set"], scope) if "set" in found else None
        shown = [part.expr for text in texts for part in text if isinstance(part, Hole)]
        for each in shown:
            self.measure(file, each, sizes)
        if fix:
            self.measure(file, fix.value, sizes)
            if fix.over:
                self.measure(file, fix.over, sizes)
        whole = [*([when] if when else []), *(expr for _, expr in lets), requirement, *shown]
        self.weigh(file, f"rule {item.name}", item.name_at, whole, sizes)
        self.example_sets[item.name] = self.examples(file, item, scope)
        return Rule(
            item.name,
            level,
            found["title"].payload[0],
            subject,
            join,
            when,
            tuple(lets),
            requirement,
            texts[0],
            texts[1],
            texts[2],
            fix,
            found["basis"].payload[0],
            item.name_at,
            file.name,
            item.end_line,
        )

    def subject(self, file: RuleFile, clause: Clause) -> tuple[str, Join | None, Scope]:
        name, at, join = clause.payload
        if name not in SUBJECTS:
            known = ", ".join(SUBJECTS)
            raise file.error(at, f"{name} is not a subject", f"one of {known}")
        variables = {
            variable: Type("record", record=record, owner=variable)
            for variable, record in SUBJECTS[name].items()
        }
        if join is None:
            return name, None, Scope(file, variables)
        (other, other_at), (first, first_at), (second, second_at) = join
        if name != "axis":
            raise file.error(at, f"a pair of {name} and {other}", "each axis with NAME where …")
        self.new_name(file, other, other_at)
        if other in variables:
            raise file.error(other_at, f"{other} means something already", "another name")
        variables[other] = Type("record", record="axis", owner=other)
        scope = Scope(file, variables)
        if first.startswith(other + "."):
            first, first_at, second, second_at = second, second_at, first, first_at
        keys = []
        for key, key_at, variable in ((first, first_at, "axis"), (second, second_at, other)):
            expr = self.expr(Expr("path", (), (key,), key_at), scope)
            if expr.op != "fact" or expr.data[0] != variable:
                raise file.error(
                    key_at, f"{key} is no fact of {variable}", f"a fact of {variable} to match on"
                )
            if expr.type.kind not in ("text", "name", "number"):
                raise file.error(key_at, f"{key} cannot be matched on", "a word, text or number")
            keys.append(expr)
        if keys[0].type.kind != keys[1].type.kind or keys[0].type.dim != keys[1].type.dim:
            raise file.error(second_at, f"{first} and {second} are of different kinds")
        return name, Join(other, keys[0].data[1], keys[1].data[1]), scope

    def fix(self, clause: Clause, scope: Scope) -> Remedy:
        target, over, value, safe = clause.payload
        if over is not None:
            outer = scope
            listed, where, scope = self.loop(over, scope)
            over = replace(
                over, kids=(listed, where, self.condition(over.kids[2], outer)), type=FLAG
            )
        target = self.expr(target, scope)
        if target.op != "fact" or target.type.kind in ("list", "part", "record"):
            raise scope.file.error(target.at, "only a single fact can be set", "the path of a fact")
        checked = self.operand_like(value, target, scope)
        if target.type.kind == "method" and checked.op == "num":
            checked = replace(checked, type=METHOD)
        self.same(scope, checked, target.type, "the fact is")
        return Remedy(target, checked, safe, over)

    def examples(self, file: RuleFile, item: RawItem, scope: Scope) -> tuple[Example, ...]:
        given: tuple[Any, ...] = ()
        raw: list[RawExample] = []
        for clause in item.clauses:
            if clause.word == "given":
                given = clause.payload[0]
            elif clause.word == "example":
                raw.append(clause.payload[0])
        if len(raw) > MAX_EXAMPLES:
            raise file.error(raw[MAX_EXAMPLES].at, f"more than {MAX_EXAMPLES} examples", "fewer")
        for kind in ("passes", "fails"):
            if not any(example.kind == kind for example in raw):
                raise file.error(
                    item.name_at,
                    f"rule {item.name} has no example that {kind}",
                    f'{kind} "what it shows" followed by facts',
                )
        return tuple(self.example(example, given, scope) for example in raw)

    def example(self, raw: RawExample, given: tuple[Any, ...], scope: Scope) -> Example:
        stated = {fact.path for fact in raw.facts}
        for i, fact in enumerate(raw.facts):
            if fact.path in {f.path for f in raw.facts[:i]}:
                raise scope.file.error(fact.at, f"{fact.path} is stated twice")
        facts = tuple(f for f in given if not _covered(f.path, stated)) + raw.facts
        expected = []
        motions = {str(f.value) for f in facts if f.path.endswith(".motion")}
        if len(motions) == 1 and motions <= {"linear", "rotary"}:
            base = "length" if motions == {"linear"} else "angle"
            positions = {POSITION + variable: base for variable in scope.variables}
            scope = replace(scope, narrowing={**positions, **scope.narrowing})
        constant = Scope(scope.file, {}, narrowing=scope.narrowing, constant=True)
        for name, value, at in raw.expected:
            target = self.expr(Expr("path", (), (name,), at), scope)
            checked = self.operand_like(value, target, constant)
            self.same(scope, checked, target.type, f"{name} is")
            expected.append((name, target, checked, at))
        if raw.needs and raw.kind != "undecided":
            raise scope.file.error(raw.needs[0][1], "only an undecided example needs facts")
        if raw.says and raw.kind != "fails":
            what = "only a failing example says anything"
            raise scope.file.error(raw.says[0][1], what, "expect NAME = VALUE")
        return Example(raw.kind, raw.title, facts, tuple(expected), raw.needs, raw.says, raw.at)

    # messages

    def template(self, template: Template, scope: Scope) -> Template:
        parts: list[str | Hole] = []
        scope = replace(scope, message=True)
        for part in template:
            if isinstance(part, str):
                parts.append(part)
                continue
            expr = self.expr(part.expr, scope)
            if expr.type.kind in ("record", "part"):
                raise scope.file.error(expr.at, f"{_kind_word(expr.type)} cannot be shown")
            if part.unit:
                if expr.type.kind != "number":
                    raise scope.file.error(expr.at, f"{_kind_word(expr.type)} has no unit")
                self.unit(scope.file, part.unit, expr.at, [scope.plain(expr.type.dim)])
            parts.append(Hole(expr, part.unit))
        return tuple(parts)

    def unit(self, file: RuleFile, unit: str, at: Span, dims: Sequence[Dimension]) -> None:
        known = UNITS.get(unit)
        if known is None:
            raise file.error(at, f"{unit} is not a unit", _did_you_mean(unit, UNITS))
        if known.dimension not in dims:
            raise file.error(
                at,
                f"{unit} is a unit of {dim_words(known.dimension)}",
                f"a unit of {dim_words(dims[0])}",
            )

    # expressions

    def condition(self, raw: Expr, scope: Scope) -> Expr:
        expr = self.expr(raw, scope)
        if expr.type.kind != "flag":
            raise scope.file.error(
                expr.at, f"{_kind_word(expr.type)} is not a condition", "something true or false"
            )
        return expr

    def number(self, raw: Expr, scope: Scope, want: Type | None = None) -> Expr:
        expr = self.expr(raw, scope, want)
        if expr.type.kind != "number":
            raise scope.file.error(
                expr.at, f"{_kind_word(expr.type)} is not something to compute with", "a number"
            )
        return expr

    def same(self, scope: Scope, expr: Expr, want: Type, words: str) -> None:
        """Refuse an expression that is not of the wanted type."""
        if expr.type.kind != want.kind:
            raise scope.file.error(
                expr.at,
                f"this is {_kind_word(expr.type)}",
                f"{_kind_word(want)} ({words} {_kind_word(want)})",
            )
        if want.kind == "number" and scope.plain(expr.type.dim) != scope.plain(want.dim):
            raise scope.file.error(
                expr.at,
                f"this is {_words(scope.plain(expr.type.dim))}",
                f"{_words(scope.plain(want.dim))} ({words} {_words(scope.plain(want.dim))})",
            )

    def single(self, scope: Scope, expr: Expr) -> None:
        """Refuse what is not a single value."""
        if expr.type.kind in ("list", "part", "record"):
            raise scope.file.error(
                expr.at, f"{_kind_word(expr.type)} cannot be chosen", "a single value"
            )

    def expr(self, raw: Expr, scope: Scope, want: Type | None = None) -> Expr:
        method: Callable[[Expr, Scope, Type | None], Expr] = getattr(self, "on_" + raw.op)
        return method(raw, scope, want)

    def on_num(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        return replace(raw, type=NUMBER)

    def on_flag(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        return replace(raw, type=FLAG)

    def on_text(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        return replace(raw, type=TEXT)

    def on_quantity(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        text = raw.data[0]
        try:
            quantity = parse_quantity(text)
        except QuantityError as fault:
            raise scope.file.error(raw.at, fault.what, fault.expected) from None
        type_ = Type("number", quantity.dimension)
        return replace(raw, op="num", data=(quantity.value, text), type=type_)

    def on_path(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        name: str = raw.data[0]
        root, _, path = name.partition(".")
        if not path:
            if root in scope.lets:
                return replace(raw, op="local", data=(root,), type=scope.lets[root])
            if root in scope.variables:
                return replace(raw, op="variable", data=(root,), type=scope.variables[root])
            if root in self.settings and not scope.constant:
                return self.setting_value(raw, root, scope)
            choices = [*scope.lets, *scope.variables, *self.settings]
            raise scope.file.error(
                raw.at, f"{name} is not known here", _did_you_mean(name, choices)
            )
        variable = scope.variables.get(root)
        if variable is None:
            choices = list(scope.variables)
            hint = _did_you_mean(root, choices)
            if choices and not hint:
                hint = f"a path that begins with {' or '.join(choices)}"
            raise scope.file.error(raw.at, f"{root} is not known here", hint)
        return self.fact(raw, root, path, variable, scope)

    def setting_value(self, raw: Expr, name: str, scope: Scope) -> Expr:
        home = next(
            (
                name
                for name in ("axis", "after", "machine")
                if name in scope.variables and scope.variables[name].record in ("axis", "machine")
            ),
            None,
        )
        if home is None:
            raise scope.file.error(raw.at, f"setting {name} is not known within a list item")
        return replace(raw, op="setting", data=(name, home), type=self.settings[name].default.type)

    def fact(self, raw: Expr, root: str, path: str, variable: Type, scope: Scope) -> Expr:
        owner = variable.owner or root
        type_ = self.catalogue.type_of(variable.record, path, owner)
        if type_ is not None:
            return replace(raw, op="fact", data=(root, path), type=type_)
        derived = self.derived.get(variable.record, {})
        if path in derived:
            data = (root, path, variable.record)
            return replace(raw, op="derived", data=data, type=_of_owner(derived[path], owner))
        names = self.catalogue.names(variable.record)
        if any(known.startswith(path + ".") for known in names):
            inside = [known for known in names if known.startswith(path + ".")][:3]
            raise scope.file.error(
                raw.at,
                f"{root}.{path} is a group of facts",
                f"one of them, such as {root}.{inside[0]}",
            )
        hint = _did_you_mean(path, [*names, *derived])
        hint = hint.replace("perhaps ", f"perhaps {root}.")
        raise scope.file.error(raw.at, f"{root}.{path} is not a fact", hint)

    def on_neg(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        kid = self.number(raw.kids[0], scope, want)
        return replace(raw, kids=(kid,), type=kid.type)

    def on_pow(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        kid = self.number(raw.kids[0], scope)
        type_ = replace(kid.type, dim=dim_pow(kid.type.dim, raw.data[0]), nullable=False)
        return replace(raw, kids=(kid,), type=type_)

    def on_add(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        a, b = (self.expr(kid, scope, want) for kid in raw.kids)
        kinds = (a.type.kind, b.type.kind)
        if kinds == ("date", "date") and raw.op == "sub":
            return replace(raw, kids=(a, b), type=Type("number", TIME))
        if kinds == ("date", "number") and scope.plain(b.type.dim) == TIME:
            return replace(raw, kids=(a, b), type=DATE)
        for kid in (a, b):
            if kid.type.kind != "number":
                raise scope.file.error(
                    kid.at, f"{_kind_word(kid.type)} is not something to compute with", "a number"
                )
        da, db = scope.plain(a.type.dim), scope.plain(b.type.dim)
        if da != db:
            verb = "added to" if raw.op == "add" else "subtracted from"
            raise scope.file.error(
                raw.at,
                f"{_words(db)} cannot be {verb} {_words(da)}",
                self.dimension_hint(da, db) or "two values of one dimension",
            )
        approx = a.type.approx or b.type.approx
        # A sum of unlike powers of pi is never exact; of literals that is known beforehand.
        approx = approx or isinstance(_constant(replace(raw, kids=(a, b))), Approx)
        dimension = a.type.dim if a.type.dim == b.type.dim else da
        return replace(raw, kids=(a, b), type=Type("number", dimension, approx=approx))

    on_sub = on_add

    def dimension_hint(self, a: Dimension, b: Dimension) -> str:
        for dimension in (a, b):
            for base, _ in dimension:
                if base.startswith(POSITION):
                    owner = base.removeprefix(POSITION)
                    return (
                        f"a condition on {owner}.motion (linear or rotary) before a user unit of "
                        f"{owner} meets a length or an angle"
                    )
        return ""

    def on_mul(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        a, b = (self.number(kid, scope) for kid in raw.kids)
        combine = dim_mul if raw.op == "mul" else dim_div
        # Position stays position even where a condition says what it is: see on_choose.
        dimension = combine(a.type.dim, b.type.dim)
        type_ = Type("number", dimension, approx=a.type.approx or b.type.approx)
        return replace(raw, kids=(a, b), type=type_)

    on_div = on_mul

    def on_and(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        left = self.condition(raw.kids[0], scope)
        right = self.condition(raw.kids[1], scope.narrowed(left, raw.op == "and"))
        return replace(raw, kids=(left, right), type=FLAG)

    on_or = on_and

    def on_not(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        return replace(raw, kids=(self.condition(raw.kids[0], scope),), type=FLAG)

    def comparable(self, raw: Expr, kids: Sequence[Expr], scope: Scope) -> None:
        first = kids[0]
        for kid in kids:
            if kid.type.kind not in ("number", "date"):
                hint = "is for words, texts and flags" if raw.op == "eq" else "a number or a date"
                raise scope.file.error(kid.at, f"{_kind_word(kid.type)} has no order or size", hint)
            if kid.type.kind != first.type.kind:
                raise scope.file.error(kid.at, "a number and a date cannot be compared")
        da = scope.plain(first.type.dim)
        for kid in kids[1:]:
            db = scope.plain(kid.type.dim)
            if da != db:
                raise scope.file.error(
                    raw.at,
                    f"{_words(da)} cannot be compared with {_words(db)}",
                    self.dimension_hint(da, db) or "two values of one dimension",
                )

    def on_le(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        first = self.expr(raw.kids[0], scope)
        self.comparable(raw, [first], scope)
        like = first.type if first.type.kind == "number" else None
        kids = (first, *(self.expr(kid, scope, like) for kid in raw.kids[1:]))
        self.comparable(raw, kids, scope)
        if raw.op == "eq":
            for kid in kids:
                if kid.type.approx:
                    raise scope.file.error(
                        kid.at,
                        "this value is never exact, so it cannot equal another",
                        "a within b of c",
                    )
        return replace(raw, kids=kids, type=FLAG)

    on_lt = on_gt = on_ge = on_eq = on_between = on_le

    def on_within(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        kids = tuple(self.number(kid, scope) for kid in raw.kids)
        self.comparable(raw, kids, scope)
        return replace(raw, kids=kids, type=FLAG)

    def on_divides(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        kids = tuple(self.number(kid, scope) for kid in raw.kids)
        self.comparable(raw, kids, scope)
        for kid in kids:
            if kid.type.approx:
                raise scope.file.error(kid.at, "this value is never exact, so it divides nothing")
        return replace(raw, kids=kids, type=FLAG)

    def on_is_whole(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        kid = self.number(raw.kids[0], scope)
        if kid.type.approx:
            raise scope.file.error(kid.at, "this value is never exact, so it is never surely whole")
        dimension = scope.plain(kid.type.dim)
        if any(base not in ("count", "angle") for base, _ in dimension):
            raise scope.file.error(
                kid.at,
                f"whether {_words(dimension)} is whole depends on the unit",
                "a ratio, counts or turns",
            )
        return replace(raw, kids=(kid,), type=FLAG)

    def on_is_none(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        kid = self.expr(raw.kids[0], scope)
        if kid.op != "fact" or not kid.type.nullable:
            raise scope.file.error(kid.at, "this is never none", "a fact that may be none")
        return replace(raw, kids=(kid,), type=FLAG)

    def operand_like(self, raw: Expr, left: Expr, scope: Scope) -> Expr:
        """Check the operand of a comparison by words: a bare word may be one of the names."""
        if raw.op == "path" and "." not in raw.data[0]:
            word = raw.data[0]
            if left.type.kind == "name" and word in left.type.names:
                return replace(raw, op="name", data=(word,), type=left.type)
            known = word in scope.lets or word in scope.variables
            if left.type.kind == "name" and not known:
                shown = ", ".join(left.type.names)
                hint = _did_you_mean(word, left.type.names) or f"one of {shown}"
                raise scope.file.error(raw.at, f"{word} is not one of its words", hint)
        return self.expr(raw, scope, left.type)

    def on_is(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        left = self.expr(raw.kids[0], scope)
        if left.type.kind not in ("name", "text", "flag", "method"):
            raise scope.file.error(
                left.at,
                f"{_kind_word(left.type)} before is",
                "a word, a text, a flag; = for numbers",
            )
        right = self.operand_like(raw.kids[1], left, scope)
        if left.type.kind == "method" and right.type.kind == "number" and right.op == "num":
            right = replace(right, type=METHOD)
        self.same(scope, right, left.type, "the left side is")
        if left.type.kind == "name" and not set(left.type.names) & set(right.type.names):
            raise scope.file.error(right.at, "the two sides have no word in common")
        return replace(raw, kids=(left, right), type=FLAG)

    def on_one_of(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        left = self.expr(raw.kids[0], scope)
        if left.type.kind not in ("name", "method"):
            raise scope.file.error(left.at, f"{_kind_word(left.type)} before is one of", "a word")
        items = []
        for kid in raw.kids[1:]:
            item = self.operand_like(kid, left, scope)
            if left.type.kind == "method" and item.op == "num":
                item = replace(item, type=METHOD)
            if item.op not in ("name", "num"):
                raise scope.file.error(item.at, "this is not a fixed word", "words or numbers")
            self.same(scope, item, left.type, "the left side is")
            items.append(item)
        return replace(raw, kids=(left, *items), type=FLAG)

    def on_includes(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        left = self.expr(raw.kids[0], scope)
        item = left.type.item
        if left.op != "fact" or item is None or item.kind == "record":
            raise scope.file.error(
                left.at, f"{_kind_word(left.type)} before includes", "a list of words or numbers"
            )
        right = self.operand_like(raw.kids[1], Expr("item", type=item), scope)
        if item.kind == "method" and right.op == "num":
            right = replace(right, type=METHOD)
        self.same(scope, right, item, "the list holds")
        return replace(raw, kids=(left, right), type=FLAG)

    def loop(self, raw: Expr, scope: Scope) -> tuple[Expr, Expr, Scope]:
        """The list, filter and inner scope of a quantifier or aggregate."""
        (variable,) = raw.data
        listed = self.expr(raw.kids[0], scope)
        item = listed.type.item
        if listed.type.kind != "list" or item is None or item.kind != "record":
            raise scope.file.error(listed.at, f"{_kind_word(listed.type)} has no records", "a list")
        if variable in scope.variables or variable in scope.lets:
            raise scope.file.error(raw.at, f"{variable} means something already", "another name")
        self.new_name(scope.file, variable, raw.at)
        owner = item.owner or variable
        inner = replace(scope, variables={**scope.variables, variable: replace(item, owner=owner)})
        where = self.condition(raw.kids[1], inner)
        if (
            listed.data[0] == "machine"
            and any(name != "machine" for name in scope.variables)
            and not _has_key(where, variable, {*scope.variables, *scope.lets} - {"machine"})
        ):
            raise scope.file.error(
                raw.at,
                f"this meets every one of {raw.kids[0].data[0]} with every one of the others",
                f"where {variable}.FACT is …, an equality that picks the ones meant",
            )
        return listed, where, inner.narrowed(where)

    def on_every(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        listed, where, inner = self.loop(raw, scope)
        body = self.condition(raw.kids[2], inner)
        return replace(raw, kids=(listed, where, body), type=FLAG)

    on_some = on_every

    def on_unique(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        listed, where, inner = self.loop(raw, scope)
        body = self.expr(raw.kids[2], inner)
        if body.type.kind not in ("number", "text", "name") or body.type.approx:
            raise scope.file.error(body.at, f"{_kind_word(body.type)} cannot be told apart")
        return replace(raw, kids=(listed, where, body), type=FLAG)

    def on_count(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        listed, where, _ = self.loop(raw, scope)
        return replace(raw, kids=(listed, where), type=NUMBER)

    def on_sum(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        listed, where, inner = self.loop(raw, scope)
        body = self.number(raw.kids[2], inner)
        if raw.op == "product" and inner.plain(body.type.dim) != DIMENSIONLESS:
            raise scope.file.error(body.at, "only ratios can be multiplied over a list", "a ratio")
        (variable,) = raw.data
        if any(base == POSITION + variable for base, _ in inner.plain(body.type.dim)):
            raise scope.file.error(
                body.at,
                "user units of different axes cannot be combined",
                f"a condition on {variable}.motion in where",
            )
        type_ = Type("number", inner.plain(body.type.dim), approx=body.type.approx)
        return replace(raw, kids=(listed, where, body), type=type_)

    on_product = on_max = on_min = on_sum

    def on_all(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        if not scope.message:
            raise scope.file.error(raw.at, "all of is for messages", "a place within {} in say")
        listed, where, inner = self.loop(raw, scope)
        body = self.expr(raw.kids[2], inner)
        if body.type.kind not in ("number", "text", "name", "method") or any(
            base.startswith(POSITION) for base, _ in body.type.dim
        ):
            raise scope.file.error(
                body.at, f"{_kind_word(body.type)} cannot be listed", "a name or a plain number"
            )
        return replace(raw, kids=(listed, where, body), type=Type("list", item=body.type))

    def on_else(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        left = self.expr(raw.kids[0], scope, want)
        right = self.expr(raw.kids[1], scope, want)
        self.single(scope, left)
        self.same(scope, right, left.type, "the other way to state it is")
        type_ = replace(left.type, approx=left.type.approx or right.type.approx, nullable=False)
        return replace(raw, kids=(left, right), type=type_)

    def on_choose(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        condition = self.condition(raw.kids[0], scope)
        yes_scope, no_scope = scope.narrowed(condition), scope.narrowed(condition, False)
        yes = self.expr(raw.kids[1], yes_scope, want)
        no = self.expr(raw.kids[2], no_scope, want)
        self.single(scope, yes)
        approx = yes.type.approx or no.type.approx
        if want is not None and want.kind == "number":
            self.same(yes_scope, yes, want, "the whole is")
            self.same(no_scope, no, want, "the whole is")
            type_ = replace(want, approx=approx, nullable=False)
        else:
            type_ = replace(yes.type, approx=approx, nullable=False)
            common = self.common(yes, yes_scope, no, no_scope)
            if common is None or no.type.kind != yes.type.kind:
                self.same(no_scope, no, yes.type, "the other value is")
            else:
                type_ = replace(type_, dim=common)
        return replace(raw, kids=(condition, yes, no), type=type_)

    def common(self, yes: Expr, yes_scope: Scope, no: Expr, no_scope: Scope) -> Dimension | None:
        """The dimension that two alternatives share, each under its own condition."""
        for dimension in (yes.type.dim, no.type.dim, yes_scope.plain(yes.type.dim)):
            if yes_scope.plain(dimension) == yes_scope.plain(yes.type.dim) and (
                no_scope.plain(dimension) == no_scope.plain(no.type.dim)
            ):
                return dimension
        return None

    def on_decimals(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        kid = self.number(raw.kids[0], scope)
        if kid.op != "fact":
            raise scope.file.error(kid.at, "only a stated fact has written decimals", "a fact")
        return replace(raw, kids=(kid,), type=NUMBER)

    def on_call(self, raw: Expr, scope: Scope, want: Type | None) -> Expr:
        (name,) = raw.data
        function = FUNCTIONS.get(name)
        if function is None:
            hint = _did_you_mean(name, FUNCTIONS) or f"one of {', '.join(FUNCTIONS)}"
            raise scope.file.error(raw.at, f"{name} is not a function", hint)
        if len(raw.kids) != len(function.parameters):
            wanted = ", ".join(parameter for parameter, _ in function.parameters)
            raise scope.file.error(
                raw.at, f"{name} is given {len(raw.kids)} values", f"{name}({wanted})"
            )
        free: Dimension | None = None
        kids = []
        approx = function.approx
        for kid, (parameter, shape) in zip(raw.kids, function.parameters, strict=True):
            expr = self.expr(kid, scope)
            free = self.argument(expr, parameter, shape, free, scope)
            approx = approx or expr.type.approx
            kids.append(expr)
        if function.result.kind != "number":
            type_ = {"flag": FLAG, "method": METHOD, "text": TEXT}[function.result.kind]
        else:
            dimension = function.result.dim
            if function.result.free:
                assert free is not None
                dimension = dim_mul(free, dimension)
            type_ = Type("number", dimension, approx=approx)
        return replace(raw, kids=tuple(kids), type=type_)

    def argument(
        self, expr: Expr, parameter: str, shape: Shape, free: Dimension | None, scope: Scope
    ) -> Dimension | None:
        if expr.type.kind != shape.kind:
            wanted = _kind_word(Type(shape.kind))
            raise scope.file.error(
                expr.at, f"this is {_kind_word(expr.type)}", f"{wanted} as {parameter}"
            )
        if shape.kind != "number":
            return free
        have = scope.plain(expr.type.dim)
        if not shape.free:
            if have != shape.dim:
                raise scope.file.error(
                    expr.at,
                    f"this is {_words(have)}",
                    f"{_words(shape.dim)} as {parameter}",
                )
            return free
        bound = dim_div(have, shape.dim)
        if free is not None and free != bound:
            wanted_dim = dim_mul(free, shape.dim)
            raise scope.file.error(
                expr.at,
                f"this is {_words(have)}",
                self.dimension_hint(have, wanted_dim) or f"{_words(wanted_dim)} as {parameter}",
            )
        return bound


def _constant(expr: Expr) -> Number | None:
    """The value of an expression of literals alone; None for any other."""
    if expr.op == "num":
        value: Number = expr.data[0]
        return value
    kids = [_constant(kid) for kid in expr.kids]
    known = [kid for kid in kids if kid is not None]
    if not kids or len(known) < len(kids):
        return None
    match expr.op:
        case "neg":
            return -known[0]
        case "add":
            return known[0] + known[1]
        case "sub":
            return known[0] - known[1]
        case "mul":
            return known[0] * known[1]
        case "div":
            return div(*known)
        case "call" if FUNCTIONS[expr.data[0]].result.kind == "number":
            result: Number | None = FUNCTIONS[expr.data[0]].call(*known)
            return result
    return None


def _tops(exprs: Iterable[Expr]) -> Iterator[Expr]:
    """Expressions and, each on its own, what the loops in them evaluate for an item."""
    for expr in exprs:
        yield expr
        for node in expr.walk():
            if node.op in LOOPS:
                yield from node.kids[1:]


def _has_key(where: Expr, variable: str, outer: set[str]) -> bool:
    """Tell whether a filter equates a fact of the variable with a fact of an outer subject."""
    if where.op == "and":
        return any(_has_key(kid, variable, outer) for kid in where.kids)
    if where.op not in ("is", "eq"):
        return False
    roots = [
        {node.data[0] for node in kid.walk() if node.op in ("fact", "derived", "local")}
        for kid in where.kids
    ]
    return any({variable} == one and other & outer for one, other in permutations(roots))


def _covered(path: str, stated: set[str]) -> bool:
    return any(path == s or path.startswith(s + ".") for s in stated)


def _words(dimension: Dimension) -> str:
    words = dim_words(dimension)
    if words.split("·")[0].split(" ")[-1] in ("counts",):
        return words
    return ("an " if words[:1] in "aeiou" else "a ") + words


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
