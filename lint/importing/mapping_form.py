"""The part of a mapping that says which form the list has, and whether its parts go together."""

from __future__ import annotations

from typing import Any

from ..base.errors import InputError
from ..source.files import Source
from ..source.limits import shortened
from ..source.places import KeyPath
from .branches import path_steps
from .list_form import Layout, ListForm
from .shape import error_at


def form_of(plain: dict[str, Any], wanted: frozenset[str]) -> ListForm:
    """The form that a mapping states. ``wanted`` are the parameters that it names."""
    return ListForm(
        plain["form"],
        plain.get("encoding", ""),
        plain.get("delimiter", "comma"),
        plain.get("header_row", 1),
        layout_of(plain),
        columns_of(plain),
        plain.get("subject", ""),
        plain.get("records", ""),
        plain.get("unit_in_value", False),
        wanted,
    )


def layout_of(plain: dict[str, Any]) -> Layout:
    """What a row of the list is."""
    layout: Layout = plain.get("layout", "row_per_parameter")
    return layout


def columns_of(plain: dict[str, Any]) -> dict[str, str]:
    """The columns by their purpose."""
    columns: dict[str, str] = plain.get("columns", {})
    return columns


def _error(
    source: Source, path: KeyPath, what: str, expected: str, key: bool = False
) -> InputError:
    return error_at(source, path, what, expected, key=key)


def check_form(source: Source, plain: dict[str, Any]) -> None:
    """Refuse what does not fit the form of the list. Raises InputError, with a place."""
    form = plain["form"]
    if layout_of(plain) == "row_per_record" and "packed" in plain:
        what = "packed has no use where a row is a record"
        raise _error(source, ("packed",), what, "none", True)
    if "unit" in columns_of(plain) and plain.get("unit_in_value"):
        what = "a unit column, and unit_in_value"
        raise _error(source, ("unit_in_value",), what, "one of the two", True)
    if form != "csv":
        for key in ("delimiter", "header_row"):
            if key in plain:
                raise _error(
                    source, (key,), f"{key} is for csv, and the form is {form}", "none", True
                )
    if form in ("csv", "ini") and "records" in plain:
        raise _error(
            source,
            ("records",),
            f"records is for json, yaml and xml, and the form is {form}",
            "none",
            True,
        )
    if form == "xml" and "records" not in plain:
        raise _error(
            source,
            ("form",),
            "an XML list without records",
            "records: the path of the rows, such as drive/parameter",
        )
    if form == "csv" or "records" in plain:
        _check_columns(source, plain)
        return
    for key in ("layout", "columns"):
        if key in plain:
            what = f"{key} is for csv, and for lists with records"
            raise _error(source, (key,), what, "none, or records: and the path of the rows", True)


def _check_columns(source: Source, plain: dict[str, Any]) -> None:
    layout, columns = layout_of(plain), columns_of(plain)
    if (
        plain["form"] == "csv"
        and plain.get("decimal") == "comma"
        and plain.get("delimiter", "comma") == "comma"
    ):
        raise _error(
            source,
            ("decimal",),
            "the comma is both the decimal sign and the delimiter",
            "another delimiter, such as semicolon",
        )
    needed = ["parameter", "value"] if layout == "row_per_parameter" else []
    if plain.get("subject"):
        needed.append("subject")
    for name in needed:
        if name not in columns:
            at: KeyPath = ("columns",) if "columns" in plain else ()
            raise _error(source, at, f"columns lacks {name!r}", f"the column of the {name}", True)
    unwanted = set() if plain.get("subject") else {"subject"}
    if layout != "row_per_parameter":
        unwanted |= {"parameter", "value", "unit"}
    if layout == "row_per_axis" and not plain.get("subject"):
        raise _error(
            source, ("layout",), "a row per axis needs a subject", "subject: axis or subject: node"
        )
    _check_each_column(source, plain, unwanted)


def _check_each_column(source: Source, plain: dict[str, Any], unwanted: set[str]) -> None:
    columns = columns_of(plain)
    seen: dict[str, str] = {}
    for name, column in columns.items():
        if name in unwanted:
            raise _error(
                source,
                ("columns", name),
                f"the column {name} has no use here",
                "subject: axis or subject: node for it" if name == "subject" else "none",
                key=True,
            )
        if column in seen:
            what = f"{name} and {seen[column]} are the same column"
            raise _error(source, ("columns", name), what, "two columns")
        seen[column] = name
    if "records" not in plain:
        return
    for at in (("records",), *(("columns", name) for name in columns)):
        path = columns[at[1]] if len(at) > 1 else plain["records"]
        try:
            path_steps(path)
        except ValueError as fault:
            raise _error(source, at, f"the path is {shortened(path)}", str(fault)) from None
