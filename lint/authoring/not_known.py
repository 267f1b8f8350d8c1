"""What somebody said is not known of a machine, as comments at the end of its file.

So a later conversation asks for it last. A comment changes nothing of what the file states.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from typing import Final

from ..base.errors import InputError
from ..source.files import Plain, Source
from ..source.parsing import parse

MARK: Final = "# axisproof ask: not known: "
"""Begins the comment, which ends with the path of the fact."""

MOST: Final = 1000
"""Most of these comments in a file."""


def not_known_in(source: Source) -> tuple[str, ...]:
    """The facts that the comments of a file name."""
    if source.form == "json":
        return ()
    lines = (line.rstrip() for line in source.text.splitlines() if line.startswith(MARK))
    return tuple(dict.fromkeys(line.removeprefix(MARK).strip() for line in lines))[:MOST]


def with_note(source: Source, fact: str) -> str:
    """The text with a comment that a fact is not known; as it is where it can hold none."""
    known = not_known_in(source)
    if source.form == "json" or fact in known or len(known) >= MOST or "\n" in fact:
        return source.text
    newline = "\r\n" if "\r\n" in source.text else "\n"
    text = source.text if source.text.endswith(("\n", "\r")) else source.text + newline
    return _if_alike(source, f"{text}{MARK}{fact}{newline}")


def without_note(source: Source, text: str, fact: str) -> str:
    """A new text of the file without the comment that a fact is not known, once it is stated."""
    kept = [
        line for line in text.splitlines(keepends=True) if line.rstrip() != f"{MARK}{fact}".rstrip()
    ]
    return _if_alike(replace(source, text=text), "".join(kept))


def _if_alike(source: Source, text: str) -> str:
    """The new text if it states what the source does, else the text of the source."""
    if text == source.text:
        return text
    before: Plain | None = None
    after: Plain | None = None
    with suppress(InputError):
        before, after = parse(source), parse(replace(source, text=text))
    return text if before is not None and before == after else source.text
