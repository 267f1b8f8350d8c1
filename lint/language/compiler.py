"""Checked rules to Python source: verdicts only, with Kleene's three values inline.

The code reads flat fact dicts. Unknown is None throughout: a fact that is missing, a number that
cannot be computed, a condition that cannot be decided. A rule's function returns HOLDS, BROKEN,
NOT_APPLICABLE, or None for undecided; what else a report says of the verdict comes from
the tracing evaluator (tracer.py), which a test holds equal to this one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any, Final

from ..machine.records import NOTES
from ..numbers.exact import Pi
from ..numbers.rational import Fraction
from .bounds import Bounds, ExpressionSize
from .budget import CHUNK, INCLUDED_STEPS
from .equalities import conjuncts, equalities, filter_equality, second_equality
from .freedom import free_parts, free_variables
from .helpers import HELPERS
from .operators import OPERATORS, evaluation_methods
from .reach import reach
from .syntax import Definition, Expr, Rule, RuleSet, Setting, subjects_of

HOLDS: Final = 1
BROKEN: Final = 0
NOT_APPLICABLE: Final = 2


def rule_function_name(name: str) -> str:
    """The Python name of a rule's function."""
    return "r_" + name.replace("-", "_")


def definition_function_name(record: str, name: str) -> str:
    """The Python name of a definition's function."""
    return f"d_{record.replace('.', '_')}__{name}"


def generate(
    rules: RuleSet, settings: Iterable[Setting] = (), definitions: Iterable[Definition] = ()
) -> str:
    """Python source of functions for all rules and definitions of ``rules``.

    ``settings`` are all settings in force, whose defaults become constants; ``definitions`` those
    that stand elsewhere and may be used.
    """
    defaults = {setting.name: setting.default for setting in settings}
    known = {(d.record, d.name): d for d in (*definitions, *rules.definitions)}
    parts = [source_of_definition(d, defaults, known) for d in rules.definitions]
    parts += [_rule(rule, _CodeWriter(defaults, known, rule.name)) for rule in rules.rules]
    return "\n\n".join(parts) + "\n"


def function_of(
    expr: Expr,
    name: str,
    defaults: Mapping[str, Expr],
    definitions: Mapping[tuple[str, str], Definition],
) -> tuple[str, tuple[str, ...]]:
    """Python source of a function of that name for an expression, and what it takes, in order."""
    body = _CodeWriter(defaults, definitions, name)
    variables = tuple(sorted(free_variables(expr)))
    lets = [each.partition(" ")[2] for each in variables if each.startswith("let ")]
    body.sizes = {each: ExpressionSize(1, 1) for each in lets}
    result = body.value(expr)
    body.line(f"return {result}")
    arguments = (each.replace("let ", "l_") if " " in each else f"v_{each}" for each in variables)
    return f"def {name}({', '.join(arguments)}):\n{body.text()}\n", variables


def load(source: str, namespace: dict[str, Any] | None = None) -> dict[str, Any]:
    """Run generated source over HELPERS and the functions already in ``namespace``."""
    namespace = {} if namespace is None else namespace
    namespace.update(HELPERS)
    exec(compile(source, "<axisproof rules>", "exec"), namespace)
    return namespace


def source_of_definition(
    definition: Definition,
    defaults: Mapping[str, Expr],
    definitions: Mapping[tuple[str, str], Definition],
) -> str:
    """Python source of the function of a definition."""
    name = definition_function_name(definition.record, definition.name)
    body = _CodeWriter(defaults, definitions, f"{definition.record}.{definition.name}")
    key = repr(definition.name)
    body.line(f"notes = v_{definition.owner}[{NOTES!r}]")
    body.line("memo = notes.memo")
    body.line(f"if {key} in memo:")
    body.line(f"    return memo[{key}]")
    if definition.record == "axis":
        body.line("v_machine = notes.machine")
    result = body.number_or_value(definition.expr)
    body.line(f"memo[{key}] = {result}")
    body.line(f"return {result}")
    return f"def {name}(v_{definition.owner}):\n" + body.text()


def _rule(rule: Rule, body: _CodeWriter) -> str:
    if rule.when is not None:
        condition = body.value(rule.when)
        if condition != "True":
            body.line(f"if {condition} is not True:")
            body.line(f"    return {NOT_APPLICABLE} if {condition} is False else None")
    if rule.range is not None and rule.range.without:  # the condition asks nothing of what matches
        absent = " or ".join(f"v_{join.variable} is None" for join in rule.range.joins)
        body.line(f"if {absent}:")
        body.line(f"    return {BROKEN}")
    for name, value in rule.lets:
        body.line(f"l_{name} = {body.number_or_value(value)}")
        body.sizes[name] = body.bounds.size(value, body.sizes)
    result = body.value(rule.require)
    body.line(f"return None if {result} is None else {HOLDS} if {result} else {BROKEN}")
    arguments = ", ".join(f"v_{name}" for name in subjects_of(rule))
    return f"def {rule_function_name(rule.name)}({arguments}):\n" + body.text()


class _CodeWriter:
    """Writes statements for expressions; ``value`` returns the name that holds the result."""

    def __init__(
        self,
        defaults: Mapping[str, Expr],
        definitions: Mapping[tuple[str, str], Definition],
        owner: str,
    ) -> None:
        self.owner = owner
        self.lines: list[str] = []
        self.depth = 1
        self.count = 0
        self.defaults = defaults
        self.definitions = definitions
        self.results: dict[int, str] = {}
        self.bounds = Bounds(definitions)
        self.sizes: dict[str, ExpressionSize] = {}  # of the values that the rule has named by let
        self.loops = 0

    def line(self, text: str) -> None:
        self.lines.append("    " * self.depth + text)

    def text(self) -> str:
        return "\n".join(self.lines)

    def new(self) -> str:
        self.count += 1
        return f"t{self.count}"

    def block(self, header: str) -> _Block:
        return _Block(self, header)

    # values

    def value(self, expr: Expr) -> str:
        name: str = _METHODS[expr.op](self, expr)
        self.results[id(expr)] = name
        return name

    def number_or_value(self, expr: Expr) -> str:
        """A value for computing with: a fact that is none counts as unknown."""
        name = self.value(expr)
        if expr.op == "fact" and expr.type.nullable and expr.type.kind != "part":
            self.line(f"if {name} is NONE:")
            self.line(f"    {name} = None")
        return name

    def literal(self, value: object) -> str:
        if isinstance(value, Fraction):
            return f"Fraction({value.numerator}, {value.denominator})"
        if isinstance(value, Pi):
            return f"Pi({self.literal(value.coefficient)}, {value.exponent})"
        return repr(value)

    def apply(self, names: Iterable[str], formula: str) -> str:
        """A new value: None if any of the names is None, else the formula."""
        unknown = [f"{name} is None" for name in names if name.startswith(("t", "l_"))]
        result = self.new()
        if unknown:
            self.line(f"{result} = None if {' or '.join(unknown)} else {formula}")
        else:
            self.line(f"{result} = {formula}")
        return result

    def on_num(self, expr: Expr) -> str:
        text = self.literal(expr.data[0])
        return f"({text})" if text.startswith("-") else text

    def on_flag(self, expr: Expr) -> str:
        return repr(expr.data[0])

    on_text = on_name = on_set = on_date = on_period = on_flag

    def on_fact(self, expr: Expr) -> str:
        root, path = expr.data
        result = self.new()
        self.line(f"{result} = v_{root}.get({path!r})")
        return result

    def on_derived(self, expr: Expr) -> str:
        root, name, record = expr.data
        result = self.new()
        self.line(f"{result} = {definition_function_name(record, name)}(v_{root})")
        return result

    def on_local(self, expr: Expr) -> str:
        return f"l_{expr.data[0]}"

    def on_setting(self, expr: Expr) -> str:
        name, root = expr.data
        result = self.new()
        default = self.literal(self.defaults[name].data[0])
        self.line(f"{result} = v_{root}[{NOTES!r}].settings.get({name!r}, {default})")
        return result

    def on_formula(self, expr: Expr) -> str:
        """What computes with numbers: a fact that is none counts as unknown."""
        return self.operation(expr, [self.number_or_value(kid) for kid in expr.kids])

    def on_words(self, expr: Expr) -> str:
        """What asks for words, of which none is one."""
        return self.operation(expr, [self.value(kid) for kid in expr.kids])

    def operation(self, expr: Expr, names: Sequence[str]) -> str:
        code = OPERATORS[expr.op].code
        return self.apply(names, code.format(*names, items=", ".join(names[1:]), data=expr.data))

    def on_call(self, expr: Expr) -> str:
        names = [self.number_or_value(kid) for kid in expr.kids]
        return self.apply(names, f"f_{expr.data[0]}({', '.join(names)})")

    def on_decimals(self, expr: Expr) -> str:
        root, path = expr.kids[0].data
        a = self.number_or_value(expr.kids[0])
        return self.apply((a,), f"v_{root}[{NOTES!r}].decimals.get({path!r}, 0)")

    def on_deciding(self, expr: Expr) -> str:
        """The first operand, or the second if that does not settle it."""
        deciding = OPERATORS[expr.op].deciding
        result = self.new()
        self.line(f"{result} = {self.value(expr.kids[0])}")
        with self.block(f"if {result} is not {deciding}:"):
            other = self.value(expr.kids[1])
            with self.block(f"if {result} is None:"):
                self.line(f"{result} = {deciding} if {other} is {deciding} else None")
            with self.block("else:"):
                self.line(f"{result} = {other}")
        return result

    def on_default(self, expr: Expr) -> str:
        result = self.new()
        self.line(f"{result} = {self.number_or_value(expr.kids[0])}")
        paths: dict[str, list[str]] = {}
        for root, path in reach(expr.kids[0], self.definitions):
            paths.setdefault(root, []).append(path)
        usable = "".join(
            f" and not (v_{root}[{NOTES!r}].disputed and disputed(v_{root}, {tuple(found)!r}))"
            for root, found in paths.items()
        )
        with self.block(f"if {result} is None{usable}:"):
            self.line(f"{result} = {self.number_or_value(expr.kids[1])}")
        return result

    def on_choose(self, expr: Expr) -> str:
        condition = self.value(expr.kids[0])
        result = self.new()
        with self.block(f"if {condition} is None:"):
            self.line(f"{result} = None")
        with self.block(f"elif {condition}:"):
            self.line(f"{result} = {self.number_or_value(expr.kids[1])}")
        with self.block("else:"):
            self.line(f"{result} = {self.number_or_value(expr.kids[2])}")
        return result

    # lists

    def on_includes(self, expr: Expr) -> str:
        items, partial = self.listed(expr.kids[0])
        wanted = self.value(expr.kids[1])
        result = self.new()
        with self.block(f"if {items} is None:"):
            self.line(f"{result} = None")
        if self.loops:
            items = f"searched({items})"
        known = not wanted.startswith(("t", "l_"))
        found = f"{wanted} in {items}" if known else f"{wanted} is not None and {wanted} in {items}"
        with self.block(f"elif {found}:"):
            self.line(f"{result} = True")
        with self.block("else:"):
            unsure = partial if known else f"{partial} or ({wanted} is None and {items})"
            self.line(f"{result} = None if {unsure} else False")
        return result

    def on_sets(self, expr: Expr) -> str:
        """What asks of whole lists, partial ones included, if they have words in common."""
        names = []
        for kid in expr.kids:
            items, partial = self.listed(kid) if kid.op == "fact" else (self.value(kid), "False")
            if kid.op == "fact":
                self.line(f"charged({items} or (), {INCLUDED_STEPS})")
            names += [items, partial]
        result = self.new()
        self.line(f"{result} = {OPERATORS[expr.op].code.format(*names)}")
        return result

    def on_known(self, expr: Expr) -> str:
        root, path = expr.kids[0].data
        result = self.new()
        self.line(f"{result} = known(v_{root}, {path!r})")
        return result

    def listed(self, expr: Expr) -> tuple[str, str]:
        root, path = expr.data
        items = self.value(expr)
        partial = self.new()
        self.line(f"{partial} = {path!r} in v_{root}[{NOTES!r}].partial")
        return items, partial

    def looked_up(self, expr: Expr, items: str) -> tuple[str, Expr | None]:
        """The items to loop over: all, or those that can pass an equality in the filter.

        The equality is given too if it is what the filter asks first: from the first item on for
        which it is unknown, it is true for none that follow.
        """
        found = filter_equality(expr)
        if found is None:
            return items, None
        comparison, key, other = found
        root, path = expr.kids[0].data
        value = self.value(other)
        second = second_equality(expr, key)
        if second is None:
            text = f"matching(v_{root}, {path!r}, {key!r}, {value})"
        else:
            keys = key, second[0]
            text = f"matching_both(v_{root}, {path!r}, {keys}, {value}, {self.value(second[1])})"
        return text, comparison if comparison is next(conjuncts(expr.kids[1])) else None

    @contextmanager
    def remembering(self, expr: Expr, items: str, result: str) -> Iterator[str]:
        """Work out ``result`` by a loop that looks its items up, once for the values it asks for.

        Few items cost less than the memory of them.
        """
        if filter_equality(expr) is None:
            yield items
            return
        found, known = self.new(), self.new()
        self.line(f"{found} = {items}")
        self.line(f"{known} = None")
        with self.block(f"if len({found}) > {CHUNK}:"):
            values = "".join(f"{self.value(part)}, " for part in free_parts(expr))
            name = f"{self.owner} loop {known}"
            self.line(f"{known} = remembered(v_machine, {name!r}, ({values}))")
        with self.block(f"if {known}:"):
            self.line(f"{result} = {known}[0]")
        with self.block("else:"):
            yield found
            with self.block(f"if {known} is not None:"):
                self.line(f"{known}.append({result})")

    @contextmanager
    def looping(self, expr: Expr, items: str) -> Iterator[None]:
        """A loop over items. It is charged for, except over a list of the subject by itself."""
        if self.loops or expr.kids[0].data[0] == "machine":
            items = f"metered({items}, {self.bounds.item_steps(expr, self.sizes)})"
        self.loops += 1
        with self.block(f"for v_{expr.data[0]} in {items}:"):
            yield
        self.loops -= 1

    def on_quantifier(self, expr: Expr) -> str:
        """One item that decides settles it."""
        deciding = OPERATORS[expr.op].deciding
        body = expr.kids[2]
        if deciding and body.op == "or" and any(equalities(expr, kid) for kid in body.kids):
            sides = (expr.with_kids((*expr.kids[:2], kid)) for kid in body.kids)
            return self.value(body.with_kids(tuple(sides)))  # each side looks its items up
        items, partial = self.listed(expr.kids[0])
        result = self.new()
        with self.block(f"if {items} is None:"):
            self.line(f"{result} = None")
        with self.block("else:"):
            self.line(f"{result} = None if {partial} else {not deciding}")
            found, compared = self.looked_up(expr, items)
            with self.remembering(expr, found, result) as chosen, self.looping(expr, chosen):
                where = self.filter(expr.kids[1])
                body_value = self.value(body)
                decides, unsure = (
                    f"{body_value} is {deciding}",
                    f"{body_value} is not {not deciding}",
                )
                if where == "True":
                    unsure = f"{body_value} is None"
                else:
                    decides += f" and {where}"
                with self.block(f"if {decides}:"):
                    self.line(f"{result} = {deciding}")
                    self.line("break")
                with self.block(f"if {unsure}:"):
                    self.line(f"{result} = None")
                    if compared is not None:
                        with self.block(f"if {self.results[id(compared)]} is None:"):
                            self.line("break")
        return result

    def filter(self, where: Expr) -> str:
        """Skip items for which the filter is false; returns its value for the others."""
        name = self.value(where)
        if name != "True":
            with self.block(f"if {name} is False:"):
                self.line("continue")
        return name

    def on_aggregate(self, expr: Expr) -> str:
        """An aggregate: unknown if the list is partial or anything in it is unknown."""
        aggregate = OPERATORS[expr.op].aggregate
        assert aggregate is not None
        counts = len(expr.kids) == 2
        items, partial = self.listed(expr.kids[0])
        result, sure = self.new(), self.new()
        with self.block(f"if {items} is None or {partial}:"):
            self.line(f"{result} = None")
        with self.block("else:"):
            self.line(f"{sure} = True")
            self.line(f"{result} = {aggregate.start}")
            found = self.looked_up(expr, items)[0] if counts else items
            with self.remembering(expr, found, result) as chosen:
                with self.looping(expr, chosen):
                    where = self.filter(expr.kids[1])
                    names = [where] if where != "True" else []
                    if not counts:
                        names.append(self.number_or_value(expr.kids[2]))
                    unknown = [f"{n} is None" for n in names if n.startswith(("t", "l_"))]
                    if unknown:
                        with self.block(f"if {' or '.join(unknown)}:"):
                            self.line(f"{sure} = False")
                            self.line("break")
                    value = names[-1] if names else ""
                    self.line(aggregate.step.format(total=result, value=value))
                    if aggregate.may_stop:
                        with self.block(f"if {result} is None:"):
                            self.line(f"{sure} = False")
                            self.line("break")
                end = aggregate.end.format(total=result)
                self.line(f"{result} = {end} if {sure} else None")
        return result

    def on_unique(self, expr: Expr) -> str:
        items, partial = self.listed(expr.kids[0])
        result, seen = self.new(), self.new()
        with self.block(f"if {items} is None:"):
            self.line(f"{result} = None")
        with self.block("else:"):
            self.line(f"{result} = None if {partial} else True")
            self.line(f"{seen} = set()")
            with self.looping(expr, items):
                where = self.filter(expr.kids[1])
                value = self.new()
                self.line(f"{value} = distinct({self.number_or_value(expr.kids[2])})")
                unsure = f"{value} is None"
                if where != "True":
                    unsure += f" or {where} is None"
                with self.block(f"if {unsure}:"):
                    self.line(f"{result} = None")
                    self.line("continue")
                with self.block(f"if {value} in {seen}:"):
                    self.line(f"{result} = False")
                    self.line("break")
                self.line(f"{seen}.add({value})")
        return result


class _Block:
    """An indented block of the writer."""

    def __init__(self, writer: _CodeWriter, header: str) -> None:
        self.writer = writer
        self.header = header

    def __enter__(self) -> None:
        self.writer.line(self.header)
        self.writer.depth += 1

    def __exit__(self, *_: object) -> None:
        self.writer.depth -= 1


_METHODS: Final = evaluation_methods(_CodeWriter)
