"""JSON text in pieces, so that a long report is never in memory as a whole."""

from __future__ import annotations

import json
from collections.abc import Iterator

from ..findings.rows import Rows

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final

STEP: Final = "  "


def json_pieces(document: Any) -> Iterator[str]:
    """The text of dicts, lists, text and numbers, and of rows of them, which ends in a newline.

    The bytes are those of ``json.dumps`` with an indent of two, with a list for rows.
    """
    yield from _pieces(document, "")
    yield "\n"


def _pieces(value: Any, indent: str) -> Iterator[str]:
    inner = indent + STEP
    if isinstance(value, Rows):
        yield from _listed((_text(each, inner) for each in value), indent)
    elif not _has_rows(value):
        yield _text(value, indent)
    elif isinstance(value, dict):
        start = "{\n"
        for key, each in value.items():
            yield f"{start}{inner}{json.dumps(key)}: "
            yield from _pieces(each, inner)
            start = ",\n"
        yield f"\n{indent}}}"
    else:
        start = "[\n"
        for each in value:
            yield start + inner
            yield from _pieces(each, inner)
            start = ",\n"
        yield f"\n{indent}]"


def _listed(texts: Iterator[str], indent: str) -> Iterator[str]:
    start = "[\n"
    for text in texts:
        yield f"{start}{indent}{STEP}{text}"
        start = ",\n"
    yield "[]" if start == "[\n" else f"\n{indent}]"


def _has_rows(value: Any) -> bool:
    inside = value.values() if isinstance(value, dict) else value
    if isinstance(value, dict | list):
        return any(map(_has_rows, inside))
    return isinstance(value, Rows)


def _text(value: Any, indent: str) -> str:
    text = json.dumps(value, indent=len(STEP), ensure_ascii=True, allow_nan=False)
    return text.replace("\n", f"\n{indent}") if indent else text
