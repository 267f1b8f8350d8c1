"""Names that facts had in earlier files of format 1, so that an error gives the present one."""

from __future__ import annotations

from collections.abc import Collection

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

OLD_NAMES: Final = {
    "evaluation": "edges_per_line",
    "velocity_gain": "position_loop_gain",
    "vertical": "moved_by_gravity",
}


def new_name(name: str, names: Collection[str]) -> str:
    """Return the one of ``names`` that an old name, or a path that ends in one, has become.

    It is empty if the name is no old one, or if none of ``names`` has its place.
    """
    parent, dot, last = name.rpartition(".")
    found = f"{parent}{dot}{OLD_NAMES.get(last, '')}"
    return found if last in OLD_NAMES and found in names else ""
