"""What the code itself says to people: errors, reports, the editor. No text is exempt for its age.

The texts are the string literals of ``lint/``, with one word for each value that they fill in.
Whatever holds a sentence is measured; names, patterns and markup hold none.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

import pytest

from .measuring import DESCRIBES, ROOT, Offence, offences

LINT = ROOT / "lint"
FILES = sorted(path.relative_to(LINT).as_posix() for path in LINT.rglob("*.py"))
_WORDS = re.compile(r"[a-z]{2,}[,;]? [a-z]{2,}")
_MARKUP = re.compile(r"^[<.#@]|</|charset|^\s*[a-z-]+:\s*[^ ]+;$|\\[bdsSwW(]|\(\?")


def _docstrings(tree: ast.AST) -> set[int]:
    return {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }


def _filled(node: ast.JoinedStr) -> str:
    return "".join(
        str(part.value) if isinstance(part, ast.Constant) else "VALUE" for part in node.values
    )


def texts_of(source: str) -> Iterator[tuple[int, str]]:
    """The texts in a module that hold words in a row, with their lines."""
    tree = ast.parse(source)
    inner = _docstrings(tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            inner |= {id(part) for part in node.values}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            text = _filled(node)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            text = "" if id(node) in inner else node.value
        else:
            continue
        in_words = _WORDS.search(text) and not _MARKUP.search(text)
        if in_words or re.fullmatch(r"[^\w]*; ", text):
            yield node.lineno, text


TYPED = ("authoring", "catalogue", "engine", "importing", "language", "machine", "source")
"""Rooms whose messages say what to type into a file: none, true and false are words of files."""


def found_in(name: str) -> list[Offence]:
    source = (LINT / name).read_text("utf-8")
    found = [
        each
        for line, text in texts_of(source)
        for each in offences(f"lint/{name}:{line}", text, DESCRIBES)
    ]
    typed = name.partition("/")[0] in TYPED
    return [each for each in found if not (typed and each.what.startswith("a word of programs"))]


@pytest.mark.parametrize("folder", sorted({name.partition("/")[0] for name in FILES}))
def test_texts_in_the_code_are_written_for_people(folder: str) -> None:
    names = [name for name in FILES if name.partition("/")[0] == folder]
    offenders = [each for name in names for each in found_in(name)]
    told = "\n".join(f"{each.where}: {each.what}: {each.text}" for each in offenders)
    assert offenders == [], told


def test_texts_are_found_with_their_values() -> None:
    source = '"""A doc; string."""\nraise X(f"the {a} is; wrong here", "; ")\nname = "a_b"\n'
    assert list(texts_of(source)) == [(2, "the VALUE is; wrong here"), (2, "; ")]
    assert sum(1 for name in FILES for _ in texts_of((LINT / name).read_text("utf-8"))) > 1000
