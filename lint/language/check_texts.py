"""Checks the texts of rules, and puts in those that they refer to by name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from .expression_checker import ExpressionChecker
from .expression_reader import spaced
from .rule_file import Clause, RawItem, RuleFile
from .scope import Scope
from .syntax import NamedText, Span, Template
from .wording import nearest_name

Texts = Mapping[tuple[str, str], NamedText]
"""The cautions and remedies that have a name, by word and name."""


def named_texts(
    base: Sequence[NamedText], items: Iterable[tuple[RuleFile, RawItem]]
) -> tuple[list[NamedText], dict[tuple[str, str], NamedText]]:
    """The texts that files state, and all that can be referred to. Raises RuleError."""
    known = {(text.word, text.name): text for text in base}
    shipped = frozenset(known)
    stated = []
    for file, item in items:
        key = item.word, item.name
        if key in shipped:
            what = f"a {item.word} that ships with axisproof is called {item.name}"
            raise file.error(item.name_at, what, "another name")
        if key in known:
            raise file.error(item.name_at, f"{item.word} {item.name} stands twice", "another name")
        (clause,) = item.clauses
        text = NamedText(item.word, item.name, clause.payload[0], item.name_at, file.name)
        known[key] = text
        stated.append(text)
    return stated, known


def check_remedy(
    expressions: ExpressionChecker, texts: Texts, remedy: Clause, scope: Scope
) -> Template:
    """The remedy of a rule, without its cautions."""
    parts: list[Template] = []
    for part in remedy.payload:
        named = len(part) == 2 and isinstance(part[1], Span)
        parts.append(
            _named(expressions, texts, "remedy", part, scope)
            if named
            else expressions.template(part, scope)
        )
    return spaced(parts)


def check_cautions(
    expressions: ExpressionChecker, texts: Texts, cautions: Clause | None, scope: Scope
) -> tuple[Template, ...]:
    """The cautions of a rule, in the order of their names."""
    names = cautions.payload if cautions else ()
    return tuple(_named(expressions, texts, "caution", part, scope) for part in names)


def _named(
    expressions: ExpressionChecker, texts: Texts, word: str, part: tuple[str, Span], scope: Scope
) -> Template:
    name, at = part
    text = texts.get((word, name))
    if text is None:
        names = [other for kind, other in texts if kind == word]
        what = f"{name} is not a {word}"
        hint = (
            nearest_name(name, names) or f'a {word} that a line states: define {word} {name} as "…"'
        )
        raise scope.file.error(at, what, hint)
    return expressions.template(text.text, scope)
