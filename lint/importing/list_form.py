"""Which form a parameter list has: what says where its names, values and units stand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

Form = Literal["csv", "ini", "json", "yaml", "xml"]
Layout = Literal["row_per_parameter", "row_per_axis", "row_per_record"]

DELIMITERS: Final = {"comma": ",", "semicolon": ";", "tab": "\t", "bar": "|", "blanks": "  "}
"""By name; ``blanks`` are two or more of them, as between the columns of a printed list."""


@dataclass(frozen=True, slots=True)
class ListForm:
    """The form of a parameter list.

    ``encoding`` is empty for UTF-8, or what an XML file declares. ``delimiter`` and ``header_row``
    are for csv. ``columns`` gives by purpose (parameter, value, unit, subject) the name of a column
    or, where ``records`` says which parts of a json, yaml or xml file are the rows, the path of a
    field in a row (see branches.py). ``subject`` is what rows are named after: axis, node or
    nothing. ``unit_in_value`` says that a unit stands behind its number in one cell. ``wanted`` are
    names of cells that are passed on though they name the subject.
    """

    form: Form
    encoding: str = ""
    delimiter: str = "comma"
    header_row: int = 1
    layout: Layout = "row_per_parameter"
    columns: Mapping[str, str] = field(default_factory=dict)
    subject: str = ""
    records: str = ""
    unit_in_value: bool = False
    wanted: frozenset[str] = frozenset()

    @property
    def codec(self) -> str:
        """The name of the encoding as Python knows it, a byte order mark read over."""
        return "utf-8-sig" if self.encoding in ("", "utf-8") else self.encoding

    @property
    def encoding_name(self) -> str:
        """The encoding in words."""
        return self.encoding or "utf-8"
