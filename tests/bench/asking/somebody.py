"""Somebody who has a machine's papers, knows nothing else, and types what is asked for."""

from __future__ import annotations

import copy
import re
from typing import Any

from axisproof.machine.schema import ListType, RecordType, axis_type, machine_type

from ..faults.plain_axis import Plain

Key = str | int
_PART = re.compile(r"([^.\[\]]+)|\[(\d+)\]")


def keys(path: str) -> list[Key]:
    """The keys of a path such as ``axes.lift.mechanics.stages[0].kind``."""
    return [int(number) if number else name for name, number in _PART.findall(path)]


class Somebody:
    """Fills a machine file by and by; ``typed`` counts the values, "don't know" included."""

    def __init__(self, papers: Plain) -> None:
        self.papers = papers
        self.file: Plain = {"format": 1, "machine": papers["machine"]}
        self.file["axes"] = {
            name: {"motion": axis["motion"]} for name, axis in papers["axes"].items()
        }
        self.typed = 0

    def answer(self, path: str) -> bool:
        """Type what the papers say of a fact; False if they say nothing."""
        known: Any = self.papers
        given: Any = self.file
        types: Any = machine_type()
        way = keys(path)
        for number, key in enumerate(way):
            last = number == len(way) - 1
            types = _below(types, key)
            if isinstance(known, list):
                if not isinstance(key, int) or key >= len(known):
                    break
            elif key not in known:
                break
            value = known[key]
            there = key in given if isinstance(given, dict) else True
            if not last and isinstance(value, dict | list) and value != []:
                if not there:
                    given[key] = self.bare(value, types)
                known, given = value, given[key]
                continue
            if there:
                break
            given[key] = self.bare(value, types)
            self.typed += 1
            return True
        self.typed += 1
        return False

    def bare(self, value: Any, types: Any) -> Any:
        """A record without what need not be stated, a list of such records, or the value."""
        if isinstance(value, list) and any(isinstance(each, dict) for each in value):
            return [self.bare(each, types.item) for each in value]
        if not isinstance(value, dict):
            return copy.deepcopy(value)
        required = types.required if isinstance(types, RecordType) else ()
        self.typed += len(required)
        return {name: copy.deepcopy(value[name]) for name in required if name in value}


def _below(types: Any, key: Key) -> Any:
    if isinstance(types, ListType):
        return types.item
    if isinstance(types, RecordType):
        return types.fields[str(key)].type if key in types.fields else None
    return axis_type() if types is not None and hasattr(types, "key_pattern") else None
