"""Rule text to lark trees, and the faults that lark finds in words and with their place."""

from __future__ import annotations

import difflib
import re
from functools import lru_cache
from importlib import resources
from typing import Any

import lark

from ..base.errors import RuleError
from .bounds import MAX_DEPTH
from .rule_file import RuleFile
from .syntax import NOWHERE, Span, span_in


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


@lru_cache(maxsize=1)
def keywords() -> frozenset[str]:
    """The words of the language, which nothing can be named after."""
    found: set[str] = set()
    for terminal in _lark().terminals:
        pattern = terminal.pattern
        if isinstance(pattern, lark.lexer.PatternStr):
            found.add(pattern.value)
        elif alternatives := re.match(r"\(([a-zπ|]+)\)\(\?!", pattern.value):
            found.update(alternatives[1].split("|"))
    return frozenset(word for word in found if word.isalpha())


_TOKEN_WORDS = {
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
    "QUANTIFIER": "every, some or no",
    "AGGREGATE": "sum or product",
    "EXTREME": "max or min",
    "PI": "pi",
    "DATE": "a date",
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


def _expected_words(names: set[str], got: str) -> str:
    words = sorted({_TOKEN_WORDS.get(name, name.lower()) for name in names})
    close = difflib.get_close_matches(got, [w for w in words if w.isalpha()], 1, 0.75)
    if close and close[0] != got and got not in ("true", "false"):
        return f"perhaps {close[0]}"
    if len(words) > 8:
        return "another clause or operator of the rule language here"
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " or " + words[-1]


_BRACKETS = re.compile(r'"(?:[^"\\\n]|\\.)*"|#[^\n]*|[()\[\]{}]')


def _refuse_depth(file: RuleFile, text: str, base: Span) -> None:
    """Refuse brackets nested too deeply before anything is built from them."""
    depth = 0
    for found in _BRACKETS.finditer(text):
        token = found.group()
        if token in ("(", "[", "{"):
            depth += 1
            if depth > MAX_DEPTH:
                at = shifted(span_in(text, *found.span()), base)
                raise file.error(at, f"this is nested more than {MAX_DEPTH} deep")
        elif token in (")", "]", "}"):
            depth -= 1


def read_tree(file: RuleFile, text: str, start: str, base: Span) -> Any:
    """The lark tree of a text that stands at ``base``. Raises RuleError at its first fault."""
    _refuse_depth(file, text, base)
    try:
        return _lark().parse(text, start=start)
    except lark.exceptions.UnexpectedToken as fault:
        token = fault.token
        if token.type == "$END":
            at = span_in(text, len(text), len(text))
            what = "the text ends too early" if base is NOWHERE else "the value ends too early"
            if not text.strip() and base is not NOWHERE:
                raise file.error(
                    shifted(at, base),
                    "this {} holds no value",
                    "{axis.drive.node}, or {{}} as text",
                ) from None
        else:
            at = token_span(token)
            what = f"{shortened_token(str(token))} does not fit here"
        names = set(fault.accepts or fault.expected)
        place = len(text) if token.type == "$END" else token.start_pos
        raise _refusal(file, text, base, place, names) or file.error(
            shifted(at, base), what, _expected_words(names, str(token))
        ) from None
    except lark.exceptions.UnexpectedCharacters as fault:
        at = Span(fault.line, fault.column, fault.line, fault.column + 1)
        got = text[fault.pos_in_stream or 0 :][:1]
        what = f"{got!r} does not fit here"
        if got == '"':
            what = 'a text that begins with " is not closed on its line'
        names = set(fault.allowed or ())
        cured = None if got == '"' else _refusal(file, text, base, fault.pos_in_stream or 0, names)
        raise cured or file.error(shifted(at, base), what, _expected_words(names, got)) from None


def _refusal(
    file: RuleFile, text: str, base: Span, place: int, names: set[str]
) -> RuleError | None:
    """The error of a slip that has a cure of its own."""
    from .cures import cure_of  # its patterns are made for a fault alone

    cure = cure_of(text, place, names)
    if cure is None:
        return None
    at = span_in(text, cure.start, cure.end)
    return file.error(shifted(at, base), cure.what, cure.expected or _expected_words(names, ""))


def shortened_token(text: str) -> str:
    """A text short enough to stand in a message."""
    return text if len(text) <= 40 else text[:37] + "…"


def token_span(token: Any) -> Span:
    """Where a token stands in the text that was read."""
    return Span(token.line, token.column, token.end_line, token.end_column)


def shifted(at: Span, base: Span) -> Span:
    """A place in a text that begins at ``base``, as a place in its file."""
    if base is NOWHERE:
        return at
    return Span(base.line, base.column + at.column - 1, base.line, base.column + at.end_column - 1)
