"""Finds elements and attributes of device files in XML, whatever the case of their names."""

from __future__ import annotations

from collections.abc import Iterator

from .branches import Branch


def inside(branch: Branch, *path: str) -> Iterator[Branch]:
    """The elements (or, with @, attributes) at a path of names below an element."""
    if not path:
        yield branch
        return
    wanted = path[0].lower()
    for part in branch.parts:
        if part.name.lower() == wanted:
            yield from inside(part, *path[1:])


def first(branch: Branch, *path: str) -> Branch | None:
    """The first at a path that has a text."""
    return next((each for each in inside(branch, *path) if each.text), None)


def anywhere(branch: Branch, name: str) -> Iterator[Branch]:
    """The elements of a name at any depth below an element, in the order of the file."""
    for part in branch.parts:
        if part.name.lower() == name.lower():
            yield part
        elif not part.name.startswith("@"):
            yield from anywhere(part, name)
