"""The truths beside the parameter lists: rows that exist, facts that exist, units that fit."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest
from axisproof.base.errors import InputError
from axisproof.importing.mapping import Mapping, fact_sources_of, read_mapping
from axisproof.importing.values import fact_at
from axisproof.source.parsing import parse
from axisproof.source.reader import read_source

LISTS = Path(__file__).parent / "lists"
TRUTHS = sorted(LISTS.glob("*.truth.yaml"))
PLACES = {"line", "column", "name", "id"}
TAKES = {"unit", "scale", "offset", "names", "date", "reference_reads"}
REMARKS = {"also", "trap", "note"}

each_truth = pytest.mark.parametrize("path", TRUTHS, ids=lambda path: path.name)


def truth_of(path: Path) -> dict[str, Any]:
    plain = parse(read_source(path))
    assert isinstance(plain, dict)
    return plain


def rows_of(path: Path) -> list[dict[str, Any]]:
    """The rows of a truth."""
    return [dict(row) for row in truth_of(path)["truth"]]


def lines_of(path: Path) -> list[str]:
    truth = truth_of(path)
    encoding: str = truth["encoding"]
    text = (LISTS / str(truth["list"])).read_bytes().decode(encoding)
    return text.splitlines()


def mapping_of(rows: list[dict[str, Any]], folder: Path) -> Mapping:
    """The mapping file that says what the truth says, read and so checked."""
    parameters = {}
    for row in rows:
        if row["fact"] == "none":
            continue
        take = {key: value for key, value in row.items() if key in TAKES}
        if take.get("reference_reads") == "not_stated":
            take["reference_reads"] = "offset"
        parameters[row["name"]] = {"to": row["fact"], **take}
    columns = {"parameter": "Name", "value": "Value"}
    written = {"mapping": 1, "form": "csv", "columns": columns, "parameters": parameters}
    path = folder / "truth.mapping.yaml"
    path.write_text(json.dumps(written, default=str, ensure_ascii=False), "utf-8")
    return read_mapping(path)


def test_there_are_twelve_lists_each_with_its_truth() -> None:
    named = {truth_of(path)["list"] for path in TRUTHS}
    beside = {path.name for path in LISTS.iterdir()} - {path.name for path in TRUTHS}
    assert beside - {"README.md"} == named
    assert len(named) == 12


@each_truth
def test_the_counts_are_those_of_the_rows(path: Path) -> None:
    truth, rows = truth_of(path), rows_of(path)
    assert 40 <= len(rows) <= 120
    assert int(truth["rows"]) == len(rows)
    assert int(truth["mappable"]) == sum(row["fact"] != "none" for row in rows)
    counts = f"| {truth['list']} | {truth['language']} | {truth['layout']} | {truth['encoding']} |"
    counts += f" {truth['rows']} | {truth['mappable']} |"
    assert counts in (LISTS / "README.md").read_text("utf-8")


@each_truth
def test_each_row_of_the_truth_stands_in_the_list(path: Path) -> None:
    lines = lines_of(path)
    for row in rows_of(path):
        assert set(row) <= PLACES | {"fact"} | TAKES | REMARKS
        if "column" in row:
            assert next(csv.reader(lines))[int(row["column"]) - 1] == row["name"]
            continue
        line = lines[int(row["line"]) - 1]
        name = row["name"]
        if path.name.startswith("05"):
            section, name = name.split(".")
            above = [each for each in lines[: int(row["line"])] if each.startswith("[")]
            assert above[-1] == f"[{section}]"
        assert name in line
        assert row.get("id", "") in line
        if "names" in row:
            assert any(code in line.replace(name, "", 1) for code in row["names"])


@each_truth
def test_each_row_of_the_list_has_its_truth(path: Path) -> None:
    lines, rows = lines_of(path), rows_of(path)
    if "column" in rows[0]:
        assert len(next(csv.reader(lines))) == len(rows)
        return
    told = [int(row["line"]) for row in rows]
    assert told == sorted(set(told))
    for number, line in enumerate(lines, 1):
        if number > told[0] and number not in told:
            assert line == "" or line[0] in "[]<", f"line {number} has no truth: {line}"


@each_truth
def test_facts_units_and_words_are_those_of_the_schema(path: Path, tmp_path: Path) -> None:
    rows = rows_of(path)
    mapping = mapping_of(rows, tmp_path)
    assert len(list(fact_sources_of(mapping))) == int(truth_of(path)["mappable"])
    for row in rows:
        if "also" in row:
            assert row["also"] != row["fact"]
            fact_at(row["also"])


@pytest.mark.parametrize(
    "change", [{"fact": "drive.max_sped"}, {"unit": "mm/s"}, {"unit": ""}, {"fact": "interlocks"}]
)
def test_a_wrong_truth_is_refused(change: dict[str, str], tmp_path: Path) -> None:
    row = {"name": "Pace", "fact": "drive.max_speed", "unit": "rpm"}
    mapping_of([row], tmp_path)
    with pytest.raises(InputError):
        mapping_of([row | change], tmp_path)
