"""About how many values somebody has to find for a fact: several for a whole part or list."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from functools import lru_cache

from .schema import ListType, RecordType, axis_type, machine_type

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


MOST_VALUES: Final = 4
"""What a part or list that nobody states counts for at the most."""


@lru_cache(maxsize=4096)
def is_list(fact: str) -> bool:
    """Whether a path of a machine or an axis leads to a list of records."""
    fields = machine_type().fields
    names = re.sub(r"\[\d+\]", "", fact).split(".")
    if names[0] == "axes":
        fields, names = axis_type().fields, names[2:]
    kind = None
    for name in names:
        field = fields.get(name)
        if field is None:
            return False
        kind = field.type
        inner = kind.item if isinstance(kind, ListType) else kind
        fields = inner.fields if isinstance(inner, RecordType) else {}
    return isinstance(kind, ListType) and isinstance(kind.item, RecordType) and fact[-1:] != "]"


def values_to_find(fact: str) -> int:
    """About how many values an absolute path, or one within an axis, stands for."""
    name = re.sub(r"\[\d+\]|^axes\.[^.]+\.", "", fact)
    return min(_leaves().get(name, 1), MOST_VALUES)


@lru_cache(maxsize=1)
def _leaves() -> Mapping[str, int]:
    """For each part and list that a machine file can state, how many values it can hold."""
    found: Counter[str] = Counter()
    of_machine = machine_type().fields.items()
    fields = [(name, field.type) for name, field in of_machine if name != "axes"]
    fields += [(name, field.type) for name, field in axis_type().fields.items()]
    while fields:
        path, kind = fields.pop()
        inner = kind.item if isinstance(kind, ListType) else kind
        if isinstance(inner, RecordType):
            fields += [(f"{path}.{name}", field.type) for name, field in inner.fields.items()]
            continue
        parts = path.split(".")
        for end in range(1, len(parts)):
            found[".".join(parts[:end])] += 1
    return found
