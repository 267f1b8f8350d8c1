"""Colours of terminal output, after the safety colours of ISO 3864 (from memory).

Red is for errors, yellow for caution, blue for information. Green, the colour of a safe condition,
is not used: the tool never says that a machine is safe.
"""

from __future__ import annotations

from .rendering import RenderOptions

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final


_STYLES: Final[dict[str, dict[str, Any]]] = {
    "error": {"fg": "red", "bold": True},
    "warning": {"fg": "yellow", "bold": True},
    "note": {"fg": "blue", "bold": True},
    "undecided": {"fg": "magenta"},
    "heading": {"bold": True},
    "word": {"dim": True},
    "place": {"underline": True},
}


def paint(text: str, role: str, options: RenderOptions) -> str:
    """Return ``text`` in the colour of ``role``, unchanged if colours are off."""
    if not options.colour or not text.strip():
        return text
    from click import style

    return style(text, **_STYLES[role])
