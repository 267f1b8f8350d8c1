"""The JUnit report: a library reads it, one case per rule and axis, undecided is skipped."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path
from typing import Any

import junitparser
import pytest
from axisproof.api import CheckOptions, check
from axisproof.findings.finding import Finding, Outcome, Report, Undecided
from axisproof.report.junit import render
from axisproof.report.rendering import CAUTION, RenderOptions
from hypothesis import given
from hypothesis import strategies as st

from tests.report.report_samples import CLEAN, FULL, NODES, ROLLOVER, SPEED

SOUND = Path(__file__).parents[2] / "fixtures" / "sound"
NOTE = replace(NODES, level="note")


def suites_of(report: Report, options: RenderOptions | None = None) -> list[Any]:
    text = render(report, options or RenderOptions())
    return list(junitparser.JUnitXml.fromstring(text.encode()))


def cases_of(report: Report, options: RenderOptions | None = None) -> dict[tuple[str, str], Any]:
    (suite,) = suites_of(report, options)
    return {(case.classname, case.name): case for case in suite}


def outcome_of(case: Any) -> Any:
    return case.result[0] if case.result else None


def test_every_check_that_applies_is_one_case() -> None:
    assert set(cases_of(FULL)) == {
        ("hall.infeed", "home-method-fits"),
        ("hall.infeed", "speed-through-gearing"),
        ("hall.turntable", "rollover-divides-cycle"),
        ("hall", "node-address-unique"),
    }


def test_a_broken_rule_is_a_failure_that_tells_all() -> None:
    failure = outcome_of(cases_of(FULL)["hall.turntable", "rollover-divides-cycle"])
    assert isinstance(failure, junitparser.Failure)
    assert failure.type == "error"
    assert failure.message == ROLLOVER.message
    for words in ("hall.yaml, line 41", ROLLOVER.why, ROLLOVER.remedy, CAUTION, "= 65534"):
        assert words in failure.text


def test_an_undecided_check_is_skipped_with_its_reason() -> None:
    skipped = outcome_of(cases_of(FULL)["hall.infeed", "speed-through-gearing"])
    assert isinstance(skipped, junitparser.Skipped)
    assert skipped.message == "undecided: axes.infeed.motor.max_speed is not stated"


def test_what_does_not_apply_is_counted_and_no_case() -> None:
    (suite,) = suites_of(FULL)
    found = {each.name: each.value for each in suite.properties()}
    assert found["checks that do not apply"] == "1"
    assert found["setting range_margin of infeed"] == "20 % (Retuned every spring.)"


def test_the_counts_of_the_suite_are_those_of_its_cases() -> None:
    (suite,) = suites_of(FULL)
    assert (suite.tests, suite.failures, suite.skipped, suite.errors) == (4, 2, 1, 0)
    whole = junitparser.JUnitXml.fromstring(render(FULL, RenderOptions()).encode())
    assert (whole.tests, whole.failures, whole.skipped) == (4, 2, 1)


@pytest.mark.parametrize(
    ("fail_at", "failures"), [("error", 1), ("warning", 2), ("note", 2), (None, 0)]
)
def test_failures_follow_the_failing_level_of_the_command(fail_at: Any, failures: int) -> None:
    (suite,) = suites_of(FULL, RenderOptions(fail_at=fail_at))
    assert suite.failures == failures
    assert suite.tests == 4


def test_a_lesser_finding_is_still_told() -> None:
    case = cases_of(replace(FULL, findings=(NOTE,)))["hall", "node-address-unique"]
    assert outcome_of(case) is None
    assert case.system_out.startswith("note: ")
    assert NOTE.message in case.system_out
    # A title says what the rule requires, so it never stands alone beside what is wrong.
    assert f"\nRequired: {NOTE.title}\n" in case.system_out


def test_a_rule_with_several_checks_on_an_axis_has_cases_of_different_names() -> None:
    outcomes = (Outcome("pair", "hall", "infeed", "holds"),) * 2
    names = [name for _, name in cases_of(replace(CLEAN, outcomes=outcomes))]
    assert names == ["pair", "pair (2)"]


def test_each_machine_is_a_suite_even_if_nothing_applied() -> None:
    report = replace(CLEAN, machines=("hall", "cell"))
    assert [(suite.name, suite.tests) for suite in suites_of(report)] == [("hall", 0), ("cell", 0)]


def test_a_real_check_counts_as_its_tallies_do() -> None:
    report = check([SOUND], CheckOptions(every_outcome=True))
    suites = suites_of(report)
    assert sum(suite.tests for suite in suites) == sum(
        tally.holds + tally.broken + tally.undecided for tally in report.tallies
    )
    assert sum(suite.tests for suite in suites) > 30


@given(st.text(st.characters(), max_size=40))
def test_any_text_of_an_input_gives_xml_that_can_be_read(text: str) -> None:
    finding: Finding = replace(ROLLOVER, message=text, why=text, machine=text, subject=text)
    undecided: Undecided = replace(SPEED, machine=text, reason=text, missing=(text,))
    report = replace(FULL, machines=(text,), findings=(finding,), undecided=(undecided,))
    (suite, *_) = suites_of(report)
    assert suite.failures == 1


def test_equal_reports_give_equal_text() -> None:
    assert render(FULL, RenderOptions(width=50)) == render(FULL, RenderOptions())


def test_a_case_of_a_finding_names_file_and_line_and_its_message_what_is_wrong() -> None:
    finding = replace(ROLLOVER, headline="It wraps too late.")
    root = ET.fromstring(render(replace(FULL, findings=(finding, NODES)), RenderOptions()))
    cases = {case.get("name"): case for case in root.iter("testcase")}
    failed = cases["rollover-divides-cycle"]
    assert (failed.get("file"), failed.get("line")) == ("hall.yaml", "41")
    (failure,) = failed
    assert failure.get("message") == "It wraps too late."
    assert "hall.yaml, line 41, turn states: distinguishable_revolutions: 65536" in str(
        failure.text
    )
    assert cases["node-address-unique"].get("file") is None


def test_a_case_without_a_finding_names_file_and_line_of_its_axis() -> None:
    report = check([SOUND / "hall.yaml"], CheckOptions(every_outcome=True))
    lines = (SOUND / "hall.yaml").read_text("utf-8").splitlines()
    root = ET.fromstring(render(report, RenderOptions()))
    cases = list(root.iter("testcase"))
    assert len(cases) > 300
    for case in cases:
        assert Path(str(case.get("file"))).name in ("hall.yaml", "mechanics.yaml")
        subject = str(case.get("classname")).partition(".")[2]
        line = lines[int(str(case.get("line"))) - 1]
        assert f"{subject or 'axes'}:" in line, case.attrib


def test_a_skipped_case_names_file_and_line_of_its_axis(tmp_path: Path) -> None:
    file = tmp_path / "bare.yaml"
    file.write_text("format: 1\nmachine: bare\naxes:\n  lift:\n    motion: linear\n", "utf-8")
    report = check([file], CheckOptions(every_outcome=True))
    cases = list(ET.fromstring(render(report, RenderOptions())).iter("testcase"))
    skipped = [case for case in cases if case.find("skipped") is not None]
    assert len(skipped) > 5
    assert {case.get("line") for case in skipped if str(case.get("classname")) != "bare"} == {"4"}
