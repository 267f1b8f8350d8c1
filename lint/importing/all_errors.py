"""The errors of a machine file that cannot be parsed: beside those of YAML, those of its facts."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from ..base.errors import MOST_ERRORS, AxisproofError, InputError
from ..machine.reader import read_machine
from ..source.further_errors import further_errors
from ..source.merge import INCLUDE, Tree
from ..source.parsing import parse
from ..source.reader import Reader, read_source
from ..source.yaml import parse_yaml

LACKING: Final = ("lacks ", "names no axis", "is an empty record", "holds no")
"""Words of an error that may only follow from what could not be parsed."""


def with_fact_errors(error: InputError, path: Path, reader: Reader) -> InputError:
    """The first error of a file in its order, with the further ones, where what is left is read.

    A fact that is missing is no error here: it may stand where nothing could be parsed.
    """
    if error.place is None or error.place.file != path.as_posix():
        return error
    try:
        source = read_source(path, reader)
        if source.form == "json":
            return error
        _, rest = further_errors(source, error, parse_yaml)
        plain = None if rest is None else parse(rest)
    except InputError:
        return error
    if rest is None or not isinstance(plain, dict):
        return error
    try:
        read_machine(Tree({key: each for key, each in plain.items() if key != INCLUDE}, (rest,)))
    except InputError as fault:
        found = [each for each in (fault, *fault.others) if not _is_lacking(each)]
        every = {str(each): each for each in (error, *error.others, *found)}
        first, *others = sorted(every.values(), key=_order)
        first.others = tuple(others[: MOST_ERRORS - 1])
        assert isinstance(first, InputError)
        return first
    return error


def _is_lacking(error: AxisproofError) -> bool:
    return any(words in error.what for words in LACKING)


def _order(error: AxisproofError) -> tuple[int, int]:
    return (error.place.line, error.place.column) if error.place else (0, 0)
