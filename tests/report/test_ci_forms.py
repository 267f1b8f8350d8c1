"""The forms of two build systems: commands that annotate lines, and the list of code quality."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

from axisproof.findings.finding import Caution, UndecidedConcern, WaivedBy
from axisproof.report import annotations, codequality
from axisproof.report.rendering import RenderOptions

from tests.report.report_samples import CLEAN, FULL, NODES, ROLLOVER, mark

WRONG = replace(
    ROLLOVER, headline="It wraps 100% late.", cautions=(Caution("lock-out", "Lock it."),)
)


def commands(**changes: Any) -> list[str]:
    return annotations.render(replace(FULL, **changes), RenderOptions()).splitlines()


def entries(**changes: Any) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(
        codequality.render(replace(FULL, **changes), RenderOptions())
    )
    return found


def test_a_command_names_place_and_rule_and_says_what_is_wrong_and_what_to_do() -> None:
    lines = commands(findings=(NODES, WRONG))
    assert lines[0] == (
        "::error file=hall.yaml,line=41,col=34,endColumn=39,title=rollover-divides-cycle"
        "::hall · turntable: It wraps 100%25 late.%0ACaution: Lock it."
        f"%0ARemedy: {ROLLOVER.remedy}"
    )
    assert lines[1].startswith("::warning title=node-address-unique::hall (whole machine): Infeed")
    assert "::notice title=axisproof::1 check of 1 rule cannot be decided" in "\n".join(lines)


def test_what_a_file_says_neither_ends_a_command_nor_begins_one() -> None:
    name = "a:b,c%.yaml"
    finding = replace(
        WRONG, headline="one\n::error::two\r##[x] 5%", marks=(mark("x: 1", "1", "x", name),)
    )
    (line, *_) = commands(findings=(finding,))
    assert line.startswith("::error file=a%3Ab%2Cc%25.yaml,line=41,col=4,endColumn=5,title=")
    assert "::hall · turntable: one ::error::two #\\x23[x] 5%25%0A" in line


def test_a_waived_finding_is_a_notice_and_missing_data_that_fails_an_error() -> None:
    waived = replace(WRONG, waived=WaivedBy("for now", "plant engineer", "2026-09-01"))
    open_ = UndecidedConcern("hall", "infeed", "homing", 3)
    lines = commands(findings=(waived,), undecided_concerns=(open_,))
    assert lines[0].startswith("::notice file=hall.yaml")
    assert "%0AWaived: until 2026-09-01" in lines[0]
    assert lines[1].startswith("::error title=concern-is-decided::hall · infeed: ")


def test_an_entry_of_the_list_has_all_that_it_needs() -> None:
    first, second, *rest = entries(findings=(NODES, WRONG))
    assert first["description"] == (
        f"hall · turntable: It wraps 100% late. Lock it. {ROLLOVER.remedy}"
    )
    assert first["check_name"] == "rollover-divides-cycle"
    assert first["severity"] == "critical"
    assert first["location"] == {"path": "hall.yaml", "lines": {"begin": 41}}
    assert second["severity"] == "major"
    assert {each["severity"] for each in rest} == {"info"}


def test_fingerprints_differ_and_stay_when_lines_move() -> None:
    twice = entries(findings=(WRONG, WRONG, NODES))
    assert len({each["fingerprint"] for each in twice}) == len(twice)
    moved = replace(
        WRONG,
        marks=tuple(
            replace(each, place=replace(each.place, line=7, end_line=7)) for each in WRONG.marks
        ),
    )
    assert (
        entries(findings=(moved,))[0]["fingerprint"] == entries(findings=(WRONG,))[0]["fingerprint"]
    )


def test_a_sound_machine_has_neither() -> None:
    assert annotations.render(CLEAN, RenderOptions()) == ""
    assert json.loads(codequality.render(CLEAN, RenderOptions())) == []
