"""Kinds of option that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

import click


class _File(click.Path):
    """A path; an empty word (an unset variable in a script) is refused, not taken for a folder."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        if value == "":
            self.fail("an empty path", param, ctx)
        return super().convert(value, param, ctx)


FILE: Final = _File(path_type=Path)
"""A file or folder."""

WIDTH: Final = click.IntRange(80, 400)
"""Columns of text; every report is laid out for 80 or more."""
