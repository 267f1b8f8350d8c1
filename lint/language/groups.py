"""What a rule calls items that share a key."""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


GROUP: Final = "group"
"""The record of a group, and the list of its members for a rule."""

MEMBERS: Final = "members"
"""The fact of a group's record that holds the list."""
