"""What a mutant changes, in the words of the rule file: change this to that, or leave this out."""

from __future__ import annotations

import re
from typing import Final

from ..findings.rule_info import Alteration
from ..language.operators import OPERATORS
from ..language.printing import Text, formula, operation_text, text_of
from ..language.rule_file import RuleFile
from ..language.syntax import Expr, Span
from .mutants import Change

_TOKEN: Final = re.compile(r'"(?:[^"\\]|\\.)*"|[0-9]{4}-[0-9]{2}-[0-9]{2}|[\w.·/²³^°%‰]+|[<>]=|\S')

_SOURCE_SIGNS: Final = str.maketrans({"≤": "<=", "≥": ">=", "×": "*", "÷": "/", "−": "-"})
"""The signs of printed operators, as a rule file writes them."""


_SHOWN: Final = 80
"""Most characters of the file that an alteration repeats."""


def alteration(change: Change, file: RuleFile, owner: str = "") -> Alteration:
    """The least piece of the text of a rule or definition that has to change, and how."""
    at = change.before.at
    if change.before.op == "and" and at in [kid.at for kid in change.before.kids]:
        return _of_requirements(change, file, owner)
    new = _source_text(change, file)
    old = _tokens(file, at)
    removed, added = min((_difference(old, text) for text in (new, f"({new})")), key=_length)
    if removed:
        at = Span(*removed[0][1][:2], *removed[-1][1][2:])
        new = added
    here = _shortened(file.written(at))
    what = f"change `{here}` to `{_shortened(new)}`" if new else f"leave out `{here}`"
    return Alteration(owner, what, file.place(at), file.line(at.line))


def _of_requirements(change: Change, file: RuleFile, owner: str) -> Alteration:
    """What becomes of two lines `require`, which hold together without a word between them."""
    first, second = change.before.kids
    at = first.at if change.after is second else second.at
    what = f"leave out `{_shortened(file.written(at))}`"
    if change.after.op == "or":
        what = f"join `{_shortened(file.written(at))}` by `or` to the requirement before"
    return Alteration(owner, what, file.place(at), file.line(at.line))


def _shortened(text: str) -> str:
    return text if len(text) <= _SHOWN else f"{text[: _SHOWN - 22]} … {text[-20:]}"


_Tokens = list[tuple[str, Span]]


def _length(difference: tuple[_Tokens, str]) -> int:
    removed, added = difference
    return sum(len(text) for text, _ in removed) + len(added)


def _source_text(change: Change, file: RuleFile) -> str:
    """The altered node as a rule file would state it, with the operands as they are written."""
    old, new = change.before, change.after
    kept = {id(kid) for kid in (old, *old.kids)} - {id(new)}

    def as_written(expr: Expr) -> Text | None:
        return (file.written(expr.at), text_of(expr)[1]) if id(expr) in kept else None

    if any(new is kid for kid in old.kids):
        return file.written(new.at)
    if new.op in ("num", "period", "date"):
        return str(new.data[1])
    if new.op == "not":
        denial = OPERATORS[old.op].denial if old.op in OPERATORS else ""
        if denial:
            return operation_text(denial, old, as_written)
        return f"not ({file.written(old.at)})"
    if new.op in OPERATORS:
        return operation_text(OPERATORS[new.op].text.translate(_SOURCE_SIGNS), new, as_written)
    return formula(new)


def _tokens(file: RuleFile, at: Span) -> _Tokens:
    """The words and signs of a stretch of a file, each with its place."""
    found: _Tokens = []
    for number in range(at.line, at.end_line + 1):
        line = file.line(number)
        start = at.column - 1 if number == at.line else 0
        end = at.end_column - 1 if number == at.end_line else len(line)
        for token in _TOKEN.finditer(line[:end], start):
            if token[0] == "#":
                break
            place = Span(number, token.start() + 1, number, token.end() + 1)
            found.append((token[0], place))
    return found


def _difference(old: _Tokens, new: str) -> tuple[_Tokens, str]:
    """What is left of the old words and of the new text without what both begin and end with."""
    words = [text for text, _ in old]
    matches = list(_TOKEN.finditer(new))
    added = [match[0] for match in matches]
    first = 0
    while first < min(len(words), len(added)) and words[first] == added[first]:
        first += 1
    last = 0
    while last < min(len(words), len(added)) - first and words[-1 - last] == added[-1 - last]:
        last += 1
    rest = matches[first : len(matches) - last]
    text = new[rest[0].start() : rest[-1].end()] if rest else ""
    return old[first : len(old) - last], text
