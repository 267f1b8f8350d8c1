"""A text that no reader takes."""

from __future__ import annotations

DEEP = "[" * 65 + "]" * 65
