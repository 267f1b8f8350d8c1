"""Rule text to raw trees: lark does the reading, this module turns its trees into ours.

Raw trees know words and places but no types; the checker does the rest. Every fault is a
RuleError with the place in the rule file.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, field
from decimal import Decimal
from functools import lru_cache
from importlib import resources
from typing import Any

import lark

from ..base.errors import Place, RuleError
from ..numbers.exact import QuantityError
from ..numbers.written import parse_number
from ..source.files import FOREIGN
from . import LANGUAGE_VERSION
from .syntax import KEYWORDS, NOWHERE, Assignment, Expr, Hole, Span, Template

MAX_RULE_BYTES = 1 << 20
"""A rule file larger than this is refused; the shipped ones are a few kilobytes."""

MAX_DEPTH = 48
"""Deepest nesting of an expression; no rule an engineer reads aloud comes near it.

Generated code indents once per level, which Python bounds at 100.
"""

MAX_REQUIRES = 32
"""Most `require` lines of a rule; they nest into one condition."""


@dataclass(frozen=True, slots=True)
class RuleFile:
    """The text of one rule file, under the name shown to the user."""

    name: str
    text: str

    def line(self, number: int) -> str:
        """Text of a 1-based line ('' past the end)."""
        lines = self.text.split("\n")
        return lines[number - 1].rstrip("\r") if 0 < number <= len(lines) else ""

    def error(self, at: Span, what: str, expected: str = "") -> RuleError:
        """A RuleError at a span of this file."""
        place = Place(self.name, at.line, at.column, at.end_line, at.end_column)
        return RuleError(what, expected=expected, place=place, source_line=self.line(at.line))


@dataclass(frozen=True, slots=True)
class Clause:
    """One clause of a rule, definition or setting: its word, payload and place."""

    word: str
    payload: tuple[Any, ...]
    at: Span


@dataclass(frozen=True, slots=True)
class RawExample:
    """An example as written."""

    kind: str
    title: str
    facts: tuple[Assignment, ...]
    expected: tuple[tuple[str, Expr, Span], ...]
    needs: tuple[tuple[str, Span], ...]
    says: tuple[tuple[str, Span], ...]
    at: Span


@dataclass(frozen=True, slots=True)
class RawItem:
    """A setting, definition or rule as written."""

    word: str
    name: str
    name_at: Span
    clauses: tuple[Clause, ...]
    loop: tuple[str, str] | None = None
    end_line: int = 0


@dataclass(frozen=True, slots=True)
class RawFile:
    """All items of a rule file."""

    file: RuleFile
    items: tuple[RawItem, ...] = field(default=())


@lru_cache(maxsize=1)
def _lark() -> lark.Lark:
    grammar = resources.files("axisproof.language").joinpath("grammar.lark").read_text("utf-8")
    return lark.Lark(
        grammar,
        parser="lalr",
        start=["start", "template_value"],
        propagate_positions=True,
        maybe_placeholders=False,
    )


def parse_rules(file: RuleFile) -> RawFile:
    """Read a rule file.

    Raises RuleError with line and column for any text that is not of the language.
    """
    if len(file.text) > MAX_RULE_BYTES:
        raise RuleError(
            f"{file.name} is larger than {MAX_RULE_BYTES} bytes", expected="a smaller rule file"
        )
    _refuse_characters(file)
    tree = _read(file, file.text, "start", NOWHERE)
    reader = _Reader(file)
    version, *items = tree.children
    if str(version) != str(LANGUAGE_VERSION):
        raise file.error(
            _token_span(version),
            f"language version {version} is not known to this axisproof",
            f"language {LANGUAGE_VERSION}",
        )
    return RawFile(file, tuple(reader.item(item) for item in items))


def _refuse_characters(file: RuleFile) -> None:
    """Refuse control characters, and line breaks that only some programs see as one."""
    found = FOREIGN.search(file.text)
    if found:
        line = file.text.count("\n", 0, found.start()) + 1
        column = found.start() - file.text.rfind("\n", 0, found.start())
        at = Span(line, column, line, column + 1)
        what = f"the file holds the character U+{ord(found[0]):04X}"
        raise file.error(at, what, "printable text and ordinary line breaks")


_WORDS = {
    "PATH": "a name",
    "NUMBER": "a number",
    "QUANTITY": "a number with its unit, as one word",
    "STRING": "a text in double quotes",
    "RULE_NAME": "a rule name of words joined by hyphens",
    "UNIT": "a unit",
    "COMPARE": "a comparison",
    "PLUS_MINUS": "+ or -",
    "TIMES_OVER": "* or /",
    "KIND_OP": "* or /",
    "EXAMPLE": "an example",
    "QUANTIFIER": "every or some",
    "AGGREGATE": "sum, product, max, min or all",
    "MINUS": "-",
    "LPAR": "(",
    "RPAR": ")",
    "LSQB": "[",
    "RSQB": "]",
    "LBRACE": "{",
    "RBRACE": "}",
    "COMMA": ",",
    "COLON": ":",
    "EQUAL": "=",
    "CIRCUMFLEX": "^",
    "$END": "the end of the file",
}


def _expected(names: set[str], got: str) -> str:
    words = sorted({_WORDS.get(name, name.lower()) for name in names})
    close = difflib.get_close_matches(got, [w for w in words if w.isalpha()], 1, 0.75)
    if close and close[0] != got:
        return f"perhaps {close[0]}"
    if len(words) > 8:
        return "another clause or operator of the rule language here"
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " or " + words[-1]


_BRACKETS = re.compile(r'"(?:[^"\\\n]|\\.)*"|#[^\n]*|[()\[\]{}]|\n')


def _refuse_depth(file: RuleFile, text: str, base: Span) -> None:
    """Refuse brackets nested too deeply before anything is built from them."""
    depth, line, start = 0, 1, 0
    for found in _BRACKETS.finditer(text):
        token = found.group()
        if token == "\n":
            line, start = line + 1, found.end()
        elif token in ("(", "[", "{"):
            depth += 1
            if depth > MAX_DEPTH:
                column = found.start() - start + 1
                at = _shift(Span(line, column, line, column + 1), base)
                raise file.error(at, f"this is nested more than {MAX_DEPTH} deep")
        elif token in (")", "]", "}"):
            depth -= 1


def _read(file: RuleFile, text: str, start: str, base: Span) -> Any:
    _refuse_depth(file, text, base)
    try:
        return _lark().parse(text, start=start)
    except lark.exceptions.UnexpectedToken as fault:
        token = fault.token
        if token.type == "$END":
            lines = text.split("\n")
            at = Span(len(lines), len(lines[-1]) + 1, len(lines), len(lines[-1]) + 2)
            what = "the text ends too early" if base is NOWHERE else "the value ends too early"
        else:
            at = _token_span(token)
            what = f"{_clip(str(token))} does not fit here"
        names = set(fault.accepts or fault.expected)
        raise file.error(_shift(at, base), what, _expected(names, str(token))) from None
    except lark.exceptions.UnexpectedCharacters as fault:
        at = Span(fault.line, fault.column, fault.line, fault.column + 1)
        got = text[fault.pos_in_stream or 0 :][:1]
        what = f"{got!r} does not fit here"
        if got == '"':
            what = 'a text that begins with " is not closed on its line'
        raise file.error(_shift(at, base), what, _expected(set(fault.allowed or ()), got)) from None


def _clip(text: str) -> str:
    return text if len(text) <= 40 else text[:37] + "…"


def _token_span(token: Any) -> Span:
    return Span(token.line, token.column, token.end_line, token.end_column)


def _shift(at: Span, base: Span) -> Span:
    if base is NOWHERE:
        return at
    return Span(base.line, base.column + at.column - 1, base.line, base.column + at.end_column - 1)


_ARITHMETIC = {"+": "add", "-": "sub", "*": "mul", "/": "div"}
_COMPARE = {"<": "lt", "<=": "le", ">": "gt", ">=": "ge", "=": "eq"}


class _Reader:
    """Turns lark trees of one file into raw items and expressions."""

    def __init__(self, file: RuleFile, base: Span = NOWHERE) -> None:
        self.file = file
        self.base = base

    def span(self, node: Any) -> Span:
        if isinstance(node, lark.Token):
            return _shift(_token_span(node), self.base)
        meta = node.meta
        if meta.empty:
            return NOWHERE
        return _shift(Span(meta.line, meta.column, meta.end_line, meta.end_column), self.base)

    # items

    def item(self, tree: Any) -> RawItem:
        kids = tree.children
        name = kids[0]
        loop = None
        rest = kids[1:]
        if tree.data == "define" and rest and isinstance(rest[0], lark.Token):
            loop = (str(rest[0]), str(rest[1]))
            rest = rest[2:]
        clauses = tuple(self.clause(kid) for kid in rest)
        span = self.span(tree)
        return RawItem(str(tree.data), str(name), self.span(name), clauses, loop, span.end_line)

    def clause(self, tree: Any) -> Clause:
        word = str(tree.data).removesuffix("_clause")
        kids = tree.children
        at = self.span(tree)
        payload: tuple[Any, ...]
        if word in ("meaning", "basis", "title"):
            payload = (self.string(kids[0]),)
        elif word in ("say", "why", "remedy"):
            payload = (self.template(kids[0]),)
        elif word in ("when", "require", "as"):
            payload = (self.expr(kids[0]),)
        elif word == "default":
            payload = (self.constant(kids[0]), self.span(kids[0]))
        elif word == "kind":
            payload = (self.kind(kids[0]), self.span(kids[0]))
        elif word == "unit" or word == "level":
            payload = (str(kids[0]), self.span(kids[0]))
        elif word == "each":
            join = tuple((str(k), self.span(k)) for k in kids[1].children) if kids[1:] else None
            payload = (str(kids[0]), self.span(kids[0]), join)
        elif word == "let":
            payload = (str(kids[0]), self.span(kids[0]), self.expr(kids[1]))
        elif word == "set":
            safe = isinstance(kids[-1], lark.Token)
            rest = kids[1:-1] if safe else kids[1:]
            over = self.over(rest[0]) if len(rest) == 2 else None
            payload = (self.path(kids[0]), over, self.expr(rest[-1]), safe)
        elif word == "given":
            payload = (tuple(self.assignment(kid) for kid in kids),)
        else:
            payload = (self.example(tree),)
        return Clause(word, payload, at)

    def over(self, tree: Any) -> Expr:
        """The list that a set clause goes through: some item of it, where the condition holds."""
        at = self.span(tree)
        variable, path, *where = tree.children
        every = Expr("flag", (), (True,), at)
        condition = self.expr(where[0]) if where else every
        return Expr("some", (self.path(path), condition, every), (str(variable),), at)

    def kind(self, tree: Any) -> tuple[tuple[str, int, str, Span], ...]:
        """Factors of a kind as (word, power, operator before it, place)."""
        factors = []
        operator = "*"
        for kid in tree.children:
            if isinstance(kid, lark.Token):
                operator = str(kid)
                continue
            power = self.power(kid.children[1]) if len(kid.children) == 2 else 1
            factors.append((str(kid.children[0]), power, operator, self.span(kid)))
        return tuple(factors)

    def example(self, tree: Any) -> RawExample:
        kind, title, *rest = tree.children
        facts, expected, needs, says = [], [], [], []
        for kid in rest:
            if kid.data == "assignment":
                facts.append(self.assignment(kid))
            elif kid.data == "expect_value":
                name, value = kid.children
                expected.append((str(name), self.expr(value), self.span(kid)))
            elif kid.data == "expect_words":
                says.append((self.string(kid.children[0]), self.span(kid)))
            else:
                needs.append((str(kid.children[0]), self.span(kid)))
        return RawExample(
            str(kind),
            self.string(title),
            tuple(facts),
            tuple(expected),
            tuple(needs),
            tuple(says),
            self.span(tree),
        )

    def assignment(self, tree: Any) -> Assignment:
        path, value = tree.children
        return Assignment(str(path), self.constant(value), self.span(path), self.span(value))

    def constant(self, tree: Any, depth: int = 0) -> Any:
        """A plain value as the machine file would hold it."""
        if depth > MAX_DEPTH:
            raise self.file.error(self.span(tree), "this value is nested too deeply")
        kids = tree.children
        match str(tree.data):
            case "constant_number":
                text = "".join(map(str, kids))
                self.number_value(text, self.span(tree))
                return Decimal(text) if "." in text else int(text)
            case "constant_quantity":
                return "".join(map(str, kids))
            case "constant_text":
                return self.unquote(kids[0])
            case "constant_word":
                word = str(kids[0])
                return {"true": True, "false": False}.get(word, word)
            case "constant_none":
                return "none"
            case "constant_list":
                return [self.constant(kid, depth + 1) for kid in kids]
        pairs: dict[str, Any] = {}
        for kid in kids:
            key = str(kid.children[0])
            if key in pairs:
                raise self.file.error(self.span(kid), f"{key} is given twice")
            pairs[key] = self.constant(kid.children[1], depth + 1)
        return pairs

    # texts

    def unquote(self, token: Any) -> str:
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
        return " ".join(self.unquote(token) for token in tree.children)

    def template(self, tree: Any) -> Template:
        """Texts and holes; adjacent strings are joined by a space."""
        parts: list[str | Hole] = []
        for number, token in enumerate(tree.children):
            if number:
                parts.append(" ")
            parts.extend(self.template_token(token))
        merged: list[str | Hole] = []
        for part in parts:
            if isinstance(part, str) and merged and isinstance(merged[-1], str):
                merged[-1] += part
            else:
                merged.append(part)
        return tuple(merged)

    def template_token(self, token: Any) -> list[str | Hole]:
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
        base = Span(brace.line, brace.column + 1, brace.line, brace.column + 1)
        tree = _read(self.file, text, "template_value", base)
        inner = _Reader(self.file, base)
        kids = tree.children
        unit = str(kids[1]) if len(kids) == 2 else ""
        return Hole(inner.expr(kids[0]), unit)

    # expressions

    def path(self, token: Any) -> Expr:
        name = str(token)
        at = self.span(token)
        if name in ("true", "false"):
            return Expr("flag", (), (name == "true",), at)
        for word in name.split("."):
            if not word:
                raise self.file.error(at, f"{name} has an empty part")
        if name in KEYWORDS:
            raise self.file.error(at, f"{name} is a word of the language", "a name")
        return Expr("path", (), (name,), at)

    def power(self, token: Any) -> int:
        if str(token) not in ("1", "2", "3", "4"):
            raise self.file.error(self.span(token), f"power {_clip(str(token))}", "1, 2, 3 or 4")
        return int(token)

    def number_value(self, text: str, at: Span) -> Any:
        try:
            return parse_number(text)[0]
        except QuantityError as fault:
            raise self.file.error(at, fault.what, fault.expected) from None

    def expr(self, tree: Any, depth: int = 0) -> Expr:
        at = self.span(tree)
        if depth > MAX_DEPTH:
            raise self.file.error(at, f"this is nested more than {MAX_DEPTH} deep")
        kids = tree.children

        def sub(kid: Any) -> Expr:
            return self.expr(kid, depth + 1)

        match str(tree.data):
            case "number":
                return Expr("num", (), (self.number_value(str(kids[0]), at), str(kids[0])), at)
            case "quantity":
                return Expr("quantity", (), (str(kids[0]),), at)
            case "text":
                return Expr("text", (), (self.unquote(kids[0]),), at)
            case "path":
                return self.path(kids[0])
            case "arithmetic":
                return Expr(_ARITHMETIC[str(kids[1])], (sub(kids[0]), sub(kids[2])), (), at)
            case "compare":
                return Expr(_COMPARE[str(kids[1])], (sub(kids[0]), sub(kids[2])), (), at)
            case "or_" | "and_" | "else_":
                op = str(tree.data).rstrip("_")
                return Expr(op, (sub(kids[0]), sub(kids[1])), (), at)
            case "not_":
                return Expr("not", (sub(kids[0]),), (), at)
            case "negative":
                return Expr("neg", (sub(kids[-1]),), (), at)
            case "power":
                return Expr("pow", (sub(kids[0]),), (self.power(kids[1]),), at)
            case "choose":
                value, condition, other = kids
                return Expr("choose", (sub(condition), sub(value), sub(other)), (), at)
            case "is_whole" | "is_none" as op:
                return self.negated(Expr(op, (sub(kids[0]),), (), at), len(kids) == 2)
            case "is_":
                node = Expr("is", (sub(kids[0]), sub(kids[-1])), (), at)
                return self.negated(node, len(kids) == 3)
            case "is_one_of":
                negative = isinstance(kids[1], lark.Token)
                items = kids[2:] if negative else kids[1:]
                node = Expr("one_of", (sub(kids[0]), *(sub(kid) for kid in items)), (), at)
                return self.negated(node, negative)
            case "divides" | "includes" as op:
                return Expr(op, (sub(kids[0]), sub(kids[1])), (), at)
            case "within" | "between" as op:
                return Expr(op, tuple(sub(kid) for kid in kids), (), at)
            case "quantified":
                op, variable, path = str(kids[0]), str(kids[1]), self.path(kids[2])
                where = sub(kids[3]) if len(kids) == 5 else Expr("flag", (), (True,), at)
                return Expr(op, (path, where, sub(kids[-1])), (variable,), at)
            case "unique":
                where = sub(kids[3]) if len(kids) == 4 else Expr("flag", (), (True,), at)
                return Expr(
                    "unique", (self.path(kids[2]), where, sub(kids[0])), (str(kids[1]),), at
                )
            case "count":
                where = sub(kids[2]) if len(kids) == 3 else Expr("flag", (), (True,), at)
                return Expr("count", (self.path(kids[1]), where), (str(kids[0]),), at)
            case "aggregate":
                where = sub(kids[4]) if len(kids) == 5 else Expr("flag", (), (True,), at)
                kids_ = (self.path(kids[3]), where, sub(kids[1]))
                return Expr(str(kids[0]), kids_, (str(kids[2]),), at)
            case "decimals":
                return Expr("decimals", (self.path(kids[0]),), (), at)
            case "call":
                return Expr("call", tuple(sub(kid) for kid in kids[1:]), (str(kids[0]),), at)
        raise AssertionError(f"no reading for {tree.data}")

    def negated(self, node: Expr, negative: bool) -> Expr:
        return Expr("not", (node,), (), node.at) if negative else node
