"""Lark trees to raw expressions and messages."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import partial
from typing import Any, Final

import lark

from ..numbers.calendar_periods import day_of
from ..numbers.exact import Pi, QuantityError
from ..numbers.written import parse_number
from .bounds import MAX_DEPTH
from .grammar import keywords, read_tree, shifted, shortened_token, token_span
from .operators import BY_SIGN
from .rule_file import RuleFile
from .syntax import NOWHERE, Expr, Hole, Span, Template

ReadKid = Callable[[Any], Expr]
"""Reads an operand, one level deeper."""


def spaced(templates: Iterable[Template]) -> Template:
    """Texts with a space between them as one."""
    merged: list[str | Hole] = []
    for number, template in enumerate(templates):
        for part in (" ", *template) if number else template:
            if isinstance(part, str) and merged and isinstance(merged[-1], str):
                merged[-1] += part
            else:
                merged.append(part)
    return tuple(merged)


class ExpressionReader:
    """Turns lark trees of one file, or of a text that stands at ``base``, into raw expressions."""

    def __init__(self, file: RuleFile, base: Span = NOWHERE) -> None:
        self.file = file
        self.base = base

    def span(self, node: Any) -> Span:
        """Where a tree or token stands in its file."""
        if isinstance(node, lark.Token):
            return shifted(token_span(node), self.base)
        meta = node.meta
        if meta.empty:
            return NOWHERE
        return shifted(Span(meta.line, meta.column, meta.end_line, meta.end_column), self.base)

    def unquote(self, token: Any) -> str:
        """What a text in quotes says."""
        raw = str(token)[1:-1]
        if "\\" not in raw:
            return raw
        out = []
        i = 0
        while i < len(raw):
            if raw[i] == "\\":
                i += 1
                if raw[i] not in '"\\n':
                    at = self.span(token)
                    raise self.file.error(at, f"\\{raw[i]} means nothing", '\\", \\\\ or \\n')
                out.append("\n" if raw[i] == "n" else raw[i])
            else:
                out.append(raw[i])
            i += 1
        return "".join(out)

    def string(self, tree: Any) -> str:
        """Adjacent texts, joined by a space."""
        return " ".join(self.unquote(token) for token in tree.children)

    def template(self, tree: Any) -> Template:
        """Texts and holes; adjacent strings are joined by a space."""
        return spaced([tuple(self.template_token(token)) for token in tree.children])

    def template_token(self, token: Any) -> list[str | Hole]:
        """The texts and holes of one text in quotes."""
        raw = str(token)[1:-1]
        at = self.span(token)
        parts: list[str | Hole] = []
        text = ""
        i = 0
        while i < len(raw):
            char = raw[i]
            here = Span(at.line, at.column + 1 + i, at.line, at.column + 2 + i)
            if char == "\\":
                follow = raw[i + 1]
                if follow not in '"\\n':
                    raise self.file.error(here, f"\\{follow} means nothing", '\\", \\\\ or \\n')
                text += "\n" if follow == "n" else follow
                i += 2
            elif raw.startswith(("{{", "}}"), i):
                text += char
                i += 2
            elif char == "}":
                raise self.file.error(here, "this } closes nothing", "}} for a brace in the text")
            elif char == "{":
                end = raw.find("}", i)
                if end < 0:
                    raise self.file.error(here, "this { is not closed on its line", "a closing }")
                if text:
                    parts.append(text)
                    text = ""
                parts.append(self.hole(raw[i + 1 : end], here))
                i = end + 1
            else:
                text += char
                i += 1
        if text:
            parts.append(text)
        return parts

    def hole(self, text: str, brace: Span) -> Hole:
        """The computed value between braces in a text."""
        base = Span(brace.line, brace.column + 1, brace.line, brace.column + 1)
        tree = read_tree(self.file, text, "template_value", base)
        inner = ExpressionReader(self.file, base)
        return inner.shown_value(tree)

    def shown_value(self, tree: Any) -> Hole:
        """A value with the unit to show it in and the way to round it."""
        first, *words = tree.children
        told = {word.type: str(word) for word in words}
        ending = told.get("ROUNDED", "")
        way = {"rounded up": 1, "rounded down": -1}.get(ending, 0)
        return Hole(self.expr(first), told.get("UNIT", ""), way, ending == "to enter")

    def path(self, token: Any) -> Expr:
        """A path, or true or false. Raises RuleError for a word of the language."""
        name = str(token)
        at = self.span(token)
        if name in ("true", "false"):
            return Expr("flag", (), (name == "true",), at)
        for word in name.split("."):
            if not word:
                raise self.file.error(at, f"{name} has an empty part")
        if name in keywords() - _WORDS_OF_FACTS:
            expected = _WORDS_MEANT.get(name, "another name")
            raise self.file.error(at, f"{name} is a word of the language", expected)
        return Expr("path", (), (name,), at)

    def power(self, token: Any) -> int:
        """A whole exponent from 1 to 4. Raises RuleError for any other."""
        if str(token) not in ("1", "2", "3", "4"):
            raise self.file.error(
                self.span(token),
                f"{shortened_token(str(token))} is no power of the language",
                "1, 2, 3 or 4",
            )
        return int(token)

    def number_value(self, text: str, at: Span) -> Any:
        """The exact value of a number. Raises RuleError if it has too many digits."""
        try:
            return parse_number(text)[0]
        except QuantityError as fault:
            raise self.file.error(at, fault.what, fault.expected) from None

    def expr(self, tree: Any, depth: int = 0) -> Expr:
        """An expression. Raises RuleError if it is nested too deeply."""
        at = self.span(tree)
        if depth > MAX_DEPTH:
            raise self.file.error(at, f"this is nested more than {MAX_DEPTH} deep")
        name, kids = str(tree.data), tree.children
        if name in _LEAVES:
            return _LEAVES[name](self, kids[0], at)

        def read(kid: Any) -> Expr:
            return self.expr(kid, depth + 1)

        if name in _SPECIAL:
            return _SPECIAL[name](self, kids, at, read)
        return _read_operation(name, kids, at, read)


_WORDS_OF_FACTS: Final = frozenset({"warns"})
"""Words of the language that are values of facts too; where one fits, the other does not."""

_WORDS_MEANT: Final = {
    "none": "is none or is not none",
    "known": "nothing: a rule that asks whether a fact is not known lets a missing fact acquit",
}
"""What to write instead of a word of the language where a name should stand."""


def _read_number(reader: ExpressionReader, token: Any, at: Span) -> Expr:
    return Expr("num", (), (reader.number_value(str(token), at), str(token)), at)


def _read_quantity(reader: ExpressionReader, token: Any, at: Span) -> Expr:
    return Expr("quantity", (), (str(token),), at)


def _read_pi(reader: ExpressionReader, token: Any, at: Span) -> Expr:
    return Expr("num", (), (Pi(1, 1), str(token)), at)


def _read_date(reader: ExpressionReader, token: Any, at: Span) -> Expr:
    day = day_of(str(token))
    if day is None:
        what = f"the calendar has no day {token}"
        raise reader.file.error(at, what, "year-month-day, such as 2026-03-14")
    return Expr("date", (), (day, str(token)), at)


def _read_text(reader: ExpressionReader, token: Any, at: Span) -> Expr:
    return Expr("text", (), (reader.unquote(token),), at)


def _read_path(reader: ExpressionReader, token: Any, at: Span) -> Expr:
    return reader.path(token)


_LEAVES: Final[Mapping[str, Callable[[ExpressionReader, Any, Span], Expr]]] = {
    "number": _read_number,
    "quantity": _read_quantity,
    "pi": _read_pi,
    "date": _read_date,
    "text": _read_text,
    "path": _read_path,
}


def _read_operation(name: str, kids: list[Any], at: Span, read: ReadKid) -> Expr:
    """Operands with a sign between them, or within an operator that the tree is named after.

    A `not` among them denies the whole.
    """
    tokens = [kid for kid in kids if isinstance(kid, lark.Token)]
    denied = any(token.type == "NOT" for token in tokens)
    signs = [BY_SIGN[str(token)] for token in tokens if str(token) in BY_SIGN]
    op = signs[0] if name == "signed" else name.rstrip("_")
    operands = tuple(read(kid) for kid in kids if not isinstance(kid, lark.Token))
    node = Expr(op, operands, (), at)
    return Expr("not", (node,), (), at) if denied else node


def _read_signed(reader: ExpressionReader, kids: list[Any], at: Span, read: ReadKid) -> Expr:
    for kid in kids:
        if not isinstance(kid, lark.Token) and kid.data == "path" and kid.children[0] == "none":
            what = "none is no number to compare or compute with"
            fact = reader.file.written(reader.span(kids[0])) if kid is kids[-1] else "FACT"
            raise reader.file.error(
                reader.span(kid), what, f"{fact} is none, or {fact} is not none"
            )
    return _read_operation("signed", kids, at, read)


def _read_connective(
    op: str, reader: ExpressionReader, kids: list[Any], at: Span, read: ReadKid
) -> Expr:
    loop = _open_loop(kids[0])
    if loop is not None:
        raise reader.file.error(
            reader.span(loop),
            "it is not clear where this ends",
            "brackets around it, or around all that its where or has asks",
        )
    return Expr(op, tuple(map(read, kids)), (), at)


def _open_loop(tree: Any) -> Any:
    """Something over a list with whose `where` or `has` a tree ends, outside brackets; else None.

    What follows might belong to that condition as well.
    """
    end = tree.meta.container_end_pos
    while isinstance(tree, lark.Tree) and tree.meta.end_pos == end:
        if len(tree.children) > _CLOSED_UP_TO.get(str(tree.data), len(tree.children)):
            return tree
        tree = tree.children[-1]
    return None


def _read_power(reader: ExpressionReader, kids: list[Any], at: Span, read: ReadKid) -> Expr:
    return Expr("pow", (read(kids[0]),), (reader.power(kids[1]),), at)


def _read_choose(reader: ExpressionReader, kids: list[Any], at: Span, read: ReadKid) -> Expr:
    value, condition, other = kids
    return Expr("choose", (read(condition), read(value), read(other)), (), at)


def _read_call(reader: ExpressionReader, kids: list[Any], at: Span, read: ReadKid) -> Expr:
    return Expr("call", tuple(read(kid) for kid in kids[1:]), (str(kids[0]),), at)


def _read_decimals(reader: ExpressionReader, kids: list[Any], at: Span, read: ReadKid) -> Expr:
    return Expr("decimals", (reader.path(kids[0]),), (), at)


def _read_quantified(reader: ExpressionReader, kids: list[Any], at: Span, read: ReadKid) -> Expr:
    op, variable, listed, *where, body = kids
    word = "some" if str(op) == "no" else str(op)
    node = _read_loop(word, (reader.path(listed), variable), where, [body], at, read)
    return Expr("not", (node,), (), at) if str(op) == "no" else node


def _read_unique(reader: ExpressionReader, kids: list[Any], at: Span, read: ReadKid) -> Expr:
    body, variable, listed, *where = kids
    return _read_loop("unique", (reader.path(listed), variable), where, [body], at, read)


def _read_count(reader: ExpressionReader, kids: list[Any], at: Span, read: ReadKid) -> Expr:
    variable, listed, *where = kids
    return _read_loop("count", (reader.path(listed), variable), where, [], at, read)


def _read_aggregate(reader: ExpressionReader, kids: list[Any], at: Span, read: ReadKid) -> Expr:
    op, body, variable, listed, *where = kids
    return _read_loop(str(op), (reader.path(listed), variable), where, [body], at, read)


def _read_all(reader: ExpressionReader, kids: list[Any], at: Span, read: ReadKid) -> Expr:
    body, variable, listed, *where = kids
    return _read_loop("all", (reader.path(listed), variable), where, [body], at, read)


def _read_loop(
    op: str, over: tuple[Expr, Any], where: list[Any], body: list[Any], at: Span, read: ReadKid
) -> Expr:
    listed, variable = over
    condition = read(where[0]) if where else Expr("flag", (), (True,), at)
    return Expr(op, (listed, condition, *map(read, body)), (str(variable),), at)


_CLOSED_UP_TO: Final = {"quantified": 3, "unique": 3, "count": 2, "aggregate": 4, "all": 3}
"""How many operands something over a list has if no condition ends it."""

_SPECIAL: Final[Mapping[str, Callable[[ExpressionReader, list[Any], Span, ReadKid], Expr]]] = {
    "signed": _read_signed,
    "and_": partial(_read_connective, "and"),
    "or_": partial(_read_connective, "or"),
    "pow": _read_power,
    "choose": _read_choose,
    "call": _read_call,
    "decimals": _read_decimals,
    "quantified": _read_quantified,
    "unique": _read_unique,
    "count": _read_count,
    "aggregate": _read_aggregate,
    "all": _read_all,
}
"""What has more to it than operands, or has them in another order."""
