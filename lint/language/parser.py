"""Rule text to raw trees: lark does the reading, this module turns its trees into ours.

Raw trees know words and places but no types; the checker does the rest. Every fault is a
RuleError with the place in the rule file.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

import lark

from ..base.errors import RuleError
from ..source.files import FOREIGN
from . import LANGUAGE_VERSION
from .bounds import MAX_DEPTH
from .each_reader import read_each
from .expression_reader import ExpressionReader
from .grammar import read_tree
from .rule_file import Clause, RawExample, RawFile, RawItem, RuleFile
from .syntax import NOWHERE, Assignment, Expr, Span, Template, span_in

MAX_RULE_BYTES = 1 << 20
"""A rule file larger than this is refused; the shipped ones are a few kilobytes."""


def parse_rules(file: RuleFile) -> RawFile:
    """Read a rule file.

    Raises RuleError with line and column for any text that is not of the language.
    """
    if len(file.text) > MAX_RULE_BYTES:
        raise RuleError(
            f"{file.name} is larger than {MAX_RULE_BYTES} bytes", expected="a smaller rule file"
        )
    _refuse_characters(file)
    _refuse_version(file)
    tree = read_tree(file, file.text, "start", NOWHERE)
    reader = _ItemReader(file)
    _, *items = tree.children
    return RawFile(file, tuple(reader.item(item) for item in items))


_VERSION = re.compile(r"(?:\s|#[^\n]*\n)*language\s+([0-9.]+)")

_FROM_1 = (
    "language 2. In it the word default stands for the old else, and else for the old otherwise. "
    "Brackets stand around and/or after where and has. The page of `axisproof rules guide` has all"
)


def _refuse_version(file: RuleFile) -> None:
    """Refuse a file of another version before its other words are read, which may differ."""
    found = _VERSION.match(file.text)
    if found is None or found[1] == str(LANGUAGE_VERSION):
        return
    at = span_in(file.text, *found.span(1))
    if found[1] == "1":
        raise file.error(at, "this axisproof no longer reads language 1", _FROM_1)
    what = f"language version {found[1]} is not known to this axisproof"
    raise file.error(at, what, f"language {LANGUAGE_VERSION}")


def _refuse_characters(file: RuleFile) -> None:
    """Refuse control characters, and line breaks that only some programs see as one."""
    found = FOREIGN.search(file.text)
    if found:
        at = span_in(file.text, *found.span())
        what = f"the file holds the character U+{ord(found[0]):04X}"
        raise file.error(at, what, "printable text and ordinary line breaks")


class _ItemReader(ExpressionReader):
    """Turns lark trees of one file into raw items."""

    def item(self, tree: Any) -> RawItem:
        kids = tree.children
        if tree.data == "named_text":
            return self.named_text(tree)
        name = kids[0]
        loop = None
        rest = kids[1:]
        if tree.data == "define" and rest and isinstance(rest[0], lark.Token):
            loop = (str(rest[0]), str(rest[1]))
            rest = rest[2:]
        clauses = tuple(self.clause(kid) for kid in rest)
        span = self.span(tree)
        return RawItem(str(tree.data), str(name), self.span(name), clauses, loop, span.end_line)

    def named_text(self, tree: Any) -> RawItem:
        """A caution or remedy that rules refer to by its name."""
        word, name, text = tree.children
        clause = Clause("as", (self.template(text),), self.span(text))
        end = self.span(tree).end_line
        return RawItem(str(word), str(name), self.span(name), (clause,), None, end)

    def remedy(self, tokens: list[Any]) -> tuple[Template | tuple[str, Span], ...]:
        """Texts, and names of remedies with their places."""
        return tuple(
            tuple(self.template_token(token))
            if token.type == "STRING"
            else (str(token), self.span(token))
            for token in tokens
        )

    def clause(self, tree: Any) -> Clause:
        word = str(tree.data).removesuffix("_clause")
        kids = tree.children
        at = self.span(tree)
        payload: tuple[Any, ...]
        if word in ("meaning", "basis", "title"):
            payload = (self.string(kids[0]),)
        elif word in ("say", "why", "headline"):
            payload = (self.template(kids[0]),)
        elif word == "remedy":
            payload = self.remedy(kids)
        elif word in ("caution", "follows"):
            payload = tuple((str(kid), self.span(kid)) for kid in kids)
        elif word in ("when", "require", "as"):
            payload = (self.expr(kids[0]),)
        elif word == "default":
            payload = (self.constant(kids[0]), self.span(kids[0]))
        elif word == "kind":
            payload = (self.kind(kids[0]), self.span(kids[0]))
        elif word == "unit" or word == "level":
            payload = (str(kids[0]), self.span(kids[0]))
        elif word == "each":
            payload = (read_each(self, kids),)
        elif word == "let":
            payload = (
                str(kids[0]),
                self.span(kids[0]),
                self.expr(kids[-1]),
                *self.shown(kids[1:-1]),
            )
        elif word == "set":
            safe = isinstance(kids[-1], lark.Token)
            rest = kids[1:-1] if safe else kids[1:]
            over = self.over(rest[0]) if len(rest) == 2 else None
            payload = (self.path(kids[0]), over, self.expr(rest[-1]), safe)
        elif word == "warn":
            payload = (self.expr(kids[0]), self.template(kids[1]))
        elif word == "asks":
            payload = ()
        elif word == "given":
            payload = (tuple(self.assignment(kid) for kid in kids),)
        else:
            payload = (self.example(tree),)
        return Clause(word, payload, at)

    def shown(self, trees: list[Any]) -> tuple[str, str, Span]:
        """The label of a `let` and its unit, as far as they are stated."""
        label, unit, at = "", "", NOWHERE
        for tree in trees:
            if tree.data == "string":
                label = self.string(tree)
            else:
                unit, at = str(tree.children[0]), self.span(tree.children[0])
        return label, unit, at

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
            case "constant_quantity" | "constant_date":
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
