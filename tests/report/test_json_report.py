"""The JSON report: it follows its published schema, is complete and is always the same."""

from __future__ import annotations

import datetime
import json
from dataclasses import fields, replace
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from axisproof.api import CheckOptions, check
from axisproof.findings.finding import Finding, Report
from axisproof.report.json import render
from axisproof.report.rendering import CAUTION, RenderOptions
from hypothesis import given
from hypothesis import strategies as st

from tests.report.report_samples import CLEAN, FULL, NODES, PARTIAL, ROLLOVER, WEAKENED, mark

SCHEMA = json.loads(files("axisproof.schemas").joinpath("findings.schema.json").read_text("utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


def document(report: Report) -> Any:
    return json.loads(render(report, RenderOptions()))


def test_the_published_schema_is_a_valid_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize(
    "report", [FULL, CLEAN, WEAKENED, PARTIAL], ids=["full", "clean", "weakened", "not whole"]
)
def test_a_report_follows_the_published_schema(report: Report) -> None:
    VALIDATOR.validate(document(report))


def test_every_object_of_the_schema_refuses_unknown_keys_and_requires_the_known() -> None:
    objects = []
    stack: list[Any] = [SCHEMA]
    while stack:
        node = stack.pop()
        if isinstance(node, dict):
            if "properties" in node and node.get("type") == "object":
                objects.append(node)
            stack += node.values()
        elif isinstance(node, list):
            stack += node
    assert len(objects) >= 14
    for node in objects:
        assert node["additionalProperties"] is False
        assert set(node["required"]) == set(node["properties"])
        assert node["description"]


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("format",), 1),
        (("findings", 0, "level"), "fatal"),
        (("findings", 0, "extra"), 1),
        (("findings", 0, "marks", 0, "place", "line"), 0),
        (("findings", 0, "figures", 0, "exact"), {"numerator": 1}),
        (("findings", 0, "figures", 0, "exact", "denominator"), 0),
        (("levels", "fatal"), 1),
        (("tallies", 0, "holds"), -1),
    ],
)
def test_the_schema_refuses_what_the_format_does_not_have(
    path: tuple[str | int, ...], value: object
) -> None:
    report = document(FULL)
    node = report
    for key in path[:-1]:
        node = node[key]
    node[path[-1]] = value
    assert not VALIDATOR.is_valid(report)


def test_every_field_of_report_and_finding_is_in_the_json() -> None:
    report = document(FULL)
    # Format 1 takes no new keys; which share of an archive was checked stands in its record.
    keys = {"deciding_facts": "wanted"}  # the format keeps this key
    names = {keys.get(field.name, field.name) for field in fields(Report)}
    assert names - {"share"} <= set(report)
    assert {field.name for field in fields(Finding)} == set(report["findings"][0])


def test_figures_keep_their_exact_value() -> None:
    figures = document(FULL)["findings"][0]["figures"]
    assert [figure["exact"] for figure in figures] == [f.exact for f in ROLLOVER.figures]


def test_findings_come_in_the_order_of_the_text_report() -> None:
    rules = [finding["rule"] for finding in document(FULL)["findings"]]
    assert rules == ["rollover-divides-cycle", "node-address-unique"]


def test_equal_reports_give_equal_text_whatever_order_dicts_were_filled_in() -> None:
    figure = ROLLOVER.figures[0]
    turned = replace(figure, exact=dict(reversed(figure.exact.items())))
    other = replace(
        FULL,
        findings=(replace(ROLLOVER, figures=(turned, *ROLLOVER.figures[1:])), NODES),
        levels=dict(reversed(FULL.levels.items())),
    )
    assert render(other, RenderOptions()) == render(FULL, RenderOptions())
    assert render(FULL, RenderOptions(width=50, colour=True)) == render(FULL, RenderOptions())


def test_the_caution_goes_with_findings_and_only_with_them() -> None:
    assert document(FULL)["caution"] == CAUTION
    assert document(CLEAN)["caution"] is None


def test_a_file_on_one_huge_line_is_not_repeated_with_every_mark() -> None:
    line = "a: 1, " * 1000 + "b: 2"
    report = replace(FULL, findings=(replace(ROLLOVER, marks=(mark(line, "2", "x"),)),))
    assert document(report)["findings"][0]["marks"][0]["line_text"] is None
    VALIDATOR.validate(document(report))


@given(st.text(st.characters(categories=["L", "Cc", "Cf", "Cs", "Zl", "So"]), max_size=60))
def test_any_text_is_written_in_printable_ascii_and_read_back_the_same(text: str) -> None:
    report = replace(FULL, findings=(replace(ROLLOVER, message=text),))
    written = render(report, RenderOptions())
    assert written.replace("\n", "").isascii()
    assert written.replace("\n", "").isprintable()
    # json joins the two halves of a pair, so compare as UTF-16.
    read = json.loads(written)["findings"][0]["message"]
    assert read.encode("utf-16-le", "surrogatepass") == text.encode("utf-16-le", "surrogatepass")


def test_the_json_of_a_sound_axis_is_at_most_a_kilobyte_unless_details_are_asked_for() -> None:
    folder = Path(__file__).parents[2] / "fixtures" / "sound"
    day = datetime.date(2026, 6, 1)
    report = check([folder / "table.json"], CheckOptions(on=day))
    assert report.axes == 1
    assert report.findings == ()
    text = render(report, RenderOptions())
    assert len(text.encode()) <= 1024
    told = check([folder / "table.json"], CheckOptions(on=day, every_outcome=True))
    assert len(render(told, RenderOptions())) > 10 * len(text)
