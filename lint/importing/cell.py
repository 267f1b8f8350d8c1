"""One value of a parameter list or device file, as written, with its place."""

from __future__ import annotations

from dataclasses import dataclass

from ..base.errors import Place


@dataclass(frozen=True, slots=True)
class Cell:
    """One value. ``subject`` (an axis or a node) and ``unit`` are None where the list has none.

    ``row`` counts the rows, where one row states a record. ``index`` and ``sub`` are those of an
    object of a device file, and ``is_default`` says that such a value is no setting.
    """

    parameter: str
    text: str
    place: Place
    subject: str | None = None
    subject_place: Place | None = None
    unit: str | None = None
    unit_place: Place | None = None
    row: int = 0
    index: int | None = None
    sub: int | None = None
    is_default: bool = False
