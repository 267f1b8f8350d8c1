"""Cautions and remedies by name, labels and units of a let, headlines."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.base.errors import RuleError
from axisproof.catalogue.catalogue import from_texts, parse_texts, shipped
from axisproof.engine.engine import Options, check_machine
from axisproof.findings.finding import COVERED_CAUTIONS, Finding
from axisproof.language.store import from_plain, to_plain
from axisproof.language.syntax import RuleSet
from axisproof.report.finding_text import finding_lines
from axisproof.report.rendering import RenderOptions
from axisproof.rulebook.rule_tests import run_rule_tests

from tests.language.evaluating import assert_refused, machine_of, rule_text

TEXTS = """
define caution lock-out as "Isolate and lock out." "Keep clear of {axis.name}."
define remedy home-again as "Home {axis.name}."
"""


def text_of(remedy: str = '"Mend."', extra: str = "caution lock-out", **parts: str) -> str:
    before = parts.pop("before", TEXTS)
    written = rule_text(
        parts.pop("require", "axis.drive.node = 1"), before=before, extra=extra, **parts
    )
    return written.replace('remedy "mend"', f"remedy {remedy}")


def read(text: str, base: RuleSet | None = None) -> RuleSet:
    return parse_texts({"site.rules": text}, base) if base else parse_texts({"site.rules": text})


def finding(text: str) -> Finding:
    machine = machine_of({"drive": {"node": 2}, "motor": {"max_speed": "1000 rpm"}})
    (found,) = check_machine(machine, "m", from_texts({"a.rules": text}), Options()).findings
    return found


def test_a_caution_by_name_stands_beside_the_remedy() -> None:
    found = finding(text_of())
    assert found.remedy == "Mend."
    (caution,) = found.cautions
    assert (caution.name, caution.text) == ("lock-out", "Isolate and lock out. Keep clear of axis.")


def test_a_finding_that_is_read_alone_has_its_cautions_before_the_remedy() -> None:
    assert finding(text_of()).remedy_alone == "Isolate and lock out. Keep clear of axis. Mend."


def test_the_top_of_a_report_covers_the_cautions_that_ship_and_no_other() -> None:
    before = TEXTS + 'define caution two-axes as "Both axes stand."'
    found = finding(text_of(extra="caution two-axes lock-out", before=before))
    assert found.special_cautions == ("Both axes stand.",)
    shipped_names = {text.name for text in shipped().trees.texts if text.word == "caution"}
    assert shipped_names >= COVERED_CAUTIONS


def test_a_remedy_by_name_stands_among_texts() -> None:
    remedy = finding(text_of('"First mend." home-again "Then look."', "")).remedy
    assert remedy == "First mend. Home axis. Then look."


def test_several_cautions_stand_in_their_order() -> None:
    before = TEXTS + 'define caution two-axes as "Both axes stand."'
    remedy = finding(text_of(extra="caution two-axes lock-out", before=before)).remedy_alone
    assert remedy == "Both axes stand. Isolate and lock out. Keep clear of axis. Mend."


def test_a_rule_remembers_the_names_of_its_cautions() -> None:
    (rule,) = read(text_of()).rules
    assert rule.cautions == ("lock-out",)


def test_texts_of_another_set_can_be_referred_to_and_are_kept_as_data() -> None:
    first = read(text_of())
    kept = from_plain(to_plain(first))
    assert kept == first
    site = text_of(before="").replace("the-rule", "site-rule")
    (rule,) = read(site, kept).rules
    assert rule.cautions == ("lock-out",)


@pytest.mark.parametrize(
    ("text", "what", "expected"),
    [
        (text_of(extra="caution lock-uot"), "lock-uot is not a caution", "perhaps lock-out"),
        (text_of("go-home", ""), "go-home is not a remedy", "define remedy go-home"),
        (text_of("lock-out", ""), "lock-out is not a remedy", "define remedy lock-out"),
        (text_of(before=TEXTS + 'define caution lock-out as "x"'), "stands twice", "another name"),
        (text_of(extra="caution lock-out caution lock-out"), "states caution twice", ""),
        (
            text_of(before=TEXTS.replace("axis.name", "axis.nmae")),
            "axis.nmae is not a fact",
            "axis.name",
        ),
        (text_of(lets='let x "a speed" in rpm = 1mm'), "rpm is a unit of", "a unit of length"),
        (text_of(lets='let x "a word" in rpm = axis.motion'), "not something to compute", ""),
        (text_of(lets="let x in rmp = axis.motor.max_speed"), "rmp is not a unit", "perhaps rpm"),
    ],
)
def test_what_is_refused(text: str, what: str, expected: str) -> None:
    assert_refused(lambda: read(text), what, expected)


def test_a_clash_with_a_text_that_ships_says_so() -> None:
    with pytest.raises(RuleError, match="a caution that ships with axisproof is called lock-out"):
        read(text_of().replace("the-rule", "site-rule"), read(text_of()))


def test_a_let_is_shown_under_its_label_in_its_unit() -> None:
    shown = finding(
        text_of(lets='let top "speed of the motor" in rev/s = axis.motor.max_speed * 2')
    )
    figure = shown.figures[0]
    assert figure.name == "speed of the motor"
    assert figure.text == "33.33 rev/s"
    assert figure.exact["unit"] == "rev/s"
    plain = finding(text_of(lets="let top = axis.motor.max_speed")).figures[0]
    assert (plain.name, plain.text) == ("top", "1000 rpm")


def test_a_headline_says_what_is_wrong_and_the_title_what_is_required() -> None:
    found = finding(text_of(extra='headline "Node {axis.drive.node} is wrong"'))
    assert (found.headline, found.title) == ("Node 2 is wrong", "a rule")
    lines = [line.split() for line in finding_lines(found, RenderOptions(detail=True))]
    assert lines[0] == ["ERROR", "Node", "2", "is", "wrong"]
    assert ["Required", "a", "rule"] in lines
    assert finding(text_of()).headline == ""


def test_examples_must_notice_what_a_caution_computes(tmp_path: Path) -> None:
    before = 'define caution wait-first as "Wait {axis.drive.node * 2}."'
    facts = 'axis.drive.node = 2 says "{}"'
    file = tmp_path / "site.rules"
    for said, faults in (("Wait 4", 0), ("Wait", 2)):
        text = text_of(
            before=before,
            extra="caution wait-first",
            passes="axis.drive.node = 1",
            fails=facts.format(said),
        )
        file.write_text(text, "utf-8")
        found = run_rule_tests([file])
        assert found.faults == ()
        assert found.mutants - found.killed == faults
