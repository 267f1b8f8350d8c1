"""Colours and links of terminal output, after the safety colours of ISO 3864 (from memory).

Red is for errors, yellow for caution, blue for information. Green, the colour of a safe condition,
is not used: the tool never says that a machine is safe. Text that no terminal shows is as it is,
and needs no library.
"""

from __future__ import annotations

from .rendering import RenderOptions

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


_STYLES: Final[dict[str, str]] = {
    "error": "bold red",
    "warning": "bold yellow",
    "note": "bold blue",
    "undecided": "magenta",
    "heading": "bold",
    "word": "dim",
    "place": "underline",
}


def paint(text: str, role: str, options: RenderOptions) -> str:
    """Return ``text`` in the colour of ``role``, unchanged if colours are off."""
    if not options.colour or not text.strip():
        return text
    from rich.color import ColorSystem
    from rich.style import Style

    return Style.parse(_STYLES[role]).render(text, color_system=ColorSystem.STANDARD)


def linked(text: str, file: str, options: RenderOptions) -> str:
    """Return ``text``, a place in ``file``, as a link to it; unchanged if colours are off."""
    if not options.colour:
        return text
    from pathlib import Path

    from rich.color import ColorSystem
    from rich.style import Style

    try:
        address = Path(file).absolute().as_uri()
    except (OSError, ValueError):
        return paint(text, "place", options)
    style = Style.parse(_STYLES["place"]) + Style(link=address)
    return style.render(text, color_system=ColorSystem.STANDARD)
