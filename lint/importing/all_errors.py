"""The errors of a machine file that cannot be parsed: those of its text, and of its facts."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from ..base.errors import MOST_ERRORS, AxisproofError, InputError
from ..machine.reader import read_machine
from ..source.files import Plain
from ..source.merge import INCLUDE, Tree
from ..source.parsing import errors_after
from ..source.reader import Reader, read_source

_HEAD: Final[dict[str, Plain]] = {"format": 1, "machine": "unread"}
"""Stands for the head of a file where this could not be parsed, so that the facts are read."""


def with_fact_errors(error: InputError, path: Path, reader: Reader) -> InputError:
    """The first error of a file in its order, with the further ones, where what is left is read.

    A fact that is missing is no error here: it may stand where nothing could be parsed.
    """
    if error.place is None or error.place.file != path.as_posix():
        return error
    try:
        _, left = errors_after(read_source(path, reader), error)
    except InputError:
        return error
    if left is None:
        return error
    source, plain = left
    if not isinstance(plain, dict):
        return error
    known = {key: each for key, each in plain.items() if key != INCLUDE}
    try:
        read_machine(Tree({**_HEAD, **known}, (source,)))
    except InputError as fault:
        found = [each for each in (fault, *fault.others) if not each.lacking]
        every = {str(each): each for each in (error, *error.others, *found)}
        first, *others = sorted(every.values(), key=_order)
        first.others = tuple(others[: MOST_ERRORS - 1])
        assert isinstance(first, InputError)
        return first
    return error


def _order(error: AxisproofError) -> tuple[int, int]:
    return (error.place.line, error.place.column) if error.place else (0, 0)
