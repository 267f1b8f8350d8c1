"""A JSON, YAML or XML file as one tree, and paths in it that name rows and their fields.

A path is made of steps with / between them: the name of a part (in XML, of an element, without its
namespace), ``@name`` (an XML attribute), a number (an entry of a list, from 1), ``*`` (every part),
``**`` (the parts at any depth), ``..`` (one level up), ``.`` (itself) and ``#`` (its own name).
Lists are gone through: ``axes/parameters`` are the parameters of all axes, lists or not.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any, Final

from ..base.errors import InputError, Place
from ..machine.value_reader import as_written
from ..source.files import Source
from ..source.limits import shortened
from ..source.parsing import locate, parse

MAX_BRANCHES: Final = 1_000_000
"""Most values of a file that is read whole, which takes some 500 bytes for each."""


class Branch:
    """One value with its parts. ``text`` is None for one that is made of parts only.

    ``span`` and ``name_span`` are offsets in the text of the file. An entry of a list has no name;
    its bracket stands for that.
    """

    __slots__ = ("is_list", "name", "name_span", "parts", "span", "text", "up")

    def __init__(self, name: str, up: Branch | None, name_span: tuple[int, int]) -> None:
        self.name = name
        self.up = up
        self.name_span = name_span
        self.span = name_span
        self.text: str | None = None
        self.parts: list[Branch] = []
        self.is_list = False


def path_steps(path: str) -> tuple[str, ...]:
    """The steps of a path. Raises ValueError, with what was expected, for one that is none."""
    steps = tuple(path.split("/"))
    if not all(step and step == step.strip() for step in steps):
        raise ValueError("steps with one / between them, such as axes/parameters")
    if "#" in steps[:-1]:
        raise ValueError("the step # (its own name) at the end")
    return steps


def select(branch: Branch, steps: Iterable[str]) -> list[Branch]:
    """All that a path leads to from a branch, in the order of the file, each once."""
    found = [branch]
    for step in steps:
        found = list(dict.fromkeys(each for one in found for each in _step(one, step)))
    return found


def entries(branches: Iterable[Branch]) -> Iterator[Branch]:
    """The branches, with the entries of each list in its place."""
    for branch in branches:
        if branch.is_list:
            yield from entries(branch.parts)
        else:
            yield branch


def _step(branch: Branch, step: str) -> Iterator[Branch]:
    if step == ".":
        yield branch
    elif step == "..":
        above = around(branch)
        if above is not None:
            yield above
    elif step == "#":
        yield _own_name(branch)
    elif step == "**":
        yield from _deep(branch)
    elif branch.is_list and step.isascii() and step.isdigit():
        yield from branch.parts[int(step[:9]) - 1 :][: int(step[:9]) > 0]
    else:
        for each in entries([branch]):
            for part in each.parts:
                if part.name == step or (step == "*" and not part.name.startswith("@")):
                    yield part


def around(branch: Branch) -> Branch | None:
    """What a branch is a part of, lists passed over; None for the top."""
    above = branch.up
    while above is not None and above.is_list:
        above = above.up
    return above


def _deep(branch: Branch) -> Iterator[Branch]:
    yield branch
    for part in branch.parts:
        if not part.name.startswith("@"):
            yield from _deep(part)


def _own_name(branch: Branch) -> Branch:
    while not branch.name and branch.up is not None:
        branch = branch.up
    name = Branch("#", branch, branch.name_span)
    name.text = branch.name.removeprefix("@")
    return name


def leaves(branch: Branch, name: str = "") -> Iterator[tuple[str, Branch]]:
    """All single values in a branch, each with the path that leads to it."""
    if branch.text is not None:
        yield name or ".", branch
    for number, part in enumerate(branch.parts, 1):
        step = str(number) if branch.is_list else part.name
        yield from leaves(part, f"{name}/{step}" if name else step)


# From JSON and YAML -----------------------------------------------------------------------------


_NULL: Final = re.compile(r'"(?:[^"\\]|\\.)*"|\bnull\b')


def data_tree(source: Source) -> Branch:
    """A JSON or YAML file as a tree; ``null`` is an empty text. Raises InputError as ``parse``."""
    if source.form == "json" and "null" in source.text:
        text = _NULL.sub(lambda found: '""  ' if found[0] == "null" else found[0], source.text)
        source = replace(source, text=text)
    plain = parse(source)
    outline = locate(source).outline
    outline.end(outline.top())  # so that it is scanned to its end
    if len(outline) > MAX_BRANCHES:
        raise too_many(source, outline.starts[MAX_BRANCHES])

    def grow(value: Any, number: int, name: str, up: Branch | None) -> Branch:
        start, end = outline.key_span(number)
        span = outline.starts[number], outline.ends[number]
        branch = Branch(name, up, (span[0], span[0] + 1) if start < 0 else (start, end))
        branch.span = span
        if isinstance(value, dict):
            for child in outline.children(number):
                key = outline.key(child)
                if key in value:
                    branch.parts.append(grow(value[key], child, str(key), branch))
        elif isinstance(value, list):
            branch.is_list = True
            for each, child in zip(value, outline.children(number), strict=False):
                branch.parts.append(grow(each, child, "", branch))
        else:
            branch.text = as_written(value)
        return branch

    return grow(plain, 0, "", None)


def too_many(source: Source, at: int) -> InputError:
    """The error, to be raised by the caller, about a file of too many values."""
    return source.error(
        f"the file holds more than {MAX_BRANCHES} values", at, at + 1, "a smaller file, or csv"
    )


def place_of(source: Source, branch: Branch) -> Place:
    """Where a branch stands: its text, or the beginning of what it is made of."""
    start, end = branch.span
    if branch.text is None:
        end = min(end, start + 1)
    return source.place(start, end)


def scalar(source: Source, branch: Branch, what: str) -> str:
    """The text of a branch. Raises InputError if it is made of parts only."""
    if branch.text is None:
        kind = "a list" if branch.is_list else "a record"
        raise source.error_at(
            f"{what} ({shortened(branch.name)}) is {kind}", place_of(source, branch), "one value"
        )
    return branch.text.strip()
