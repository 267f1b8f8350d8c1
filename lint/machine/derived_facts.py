"""The facts of an axis that no file states: each follows from what several axes state."""

from __future__ import annotations

from .gantries import FOLLOWERS, FOLLOWERS_ELSEWHERE
from .homing_order import HOMES_AFTER, STATED_AS, WAITS_FOR_STRANGER

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Mapping
    from typing import Final


FOLLOWS_FROM: Final[Mapping[str, str]] = {
    HOMES_AFTER: STATED_AS,
    WAITS_FOR_STRANGER: STATED_AS,
    FOLLOWERS_ELSEWHERE: FOLLOWERS,
}
"""Each of these facts, with the statement of the axis that it follows from."""


def stated_path(path: str) -> str:
    """The path under which a machine file states a fact."""
    return FOLLOWS_FROM.get(path, path)
