"""Examples that the tool proposes notice what they are said to, once somebody has added them."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.findings.rule_info import RuleTestReport
from axisproof.report.rendering import RenderOptions
from axisproof.report.rule_text import MOST_SHOWN, render_rule_test
from axisproof.rulebook.rule_tests import run_rule_tests

PLAIN = RenderOptions()

HEAD = """language 2
setting most_nodes default 5 meaning "m" basis "b"
setting battery_life default 18months meaning "m" basis "b"
{define}
define remedy count-again as "Count {axis.drive.node + 1} again."
rule site-rule
  level warning title "t" each axis
"""

DEFINE = 'define axis.twice kind ratio as axis.drive.node * 2 meaning "m"'

TAIL = """
  say "{says}" why "w" remedy "r" count-again basis "b"
"""


def report_on(folder: Path, text: str) -> RuleTestReport:
    file = folder / "site.rules"
    file.write_text(text, "utf-8")
    return run_rule_tests([file])


def with_proposals(text: str, report: RuleTestReport) -> str:
    """The rule with every example and line that the report proposes."""
    for each in report.unnoticed:
        lines = "\n".join(each.example)
        if each.adds_to:
            assert each.adds_to in text
            text = text.replace(each.adds_to, f"{each.adds_to}\n{lines}")
        else:
            text += f"\n{lines}\n"
    return text


CASES = {
    "a bound": (
        "require axis.drive.node <= most_nodes",
        'passes "far below" axis.drive.node = 1 fails "far above" axis.drive.node = 100',
    ),
    "a condition, a let and a definition": (
        "when axis.motion is linear and (axis.drive.node = 1 or axis.drive.polarity is normal)\n"
        "let x = (axis.drive.node + 2) / 4\n require axis.twice <= 10 and x > 0.75",
        'passes "p" axis.drive.node = 2 axis.drive.polarity = normal'
        ' fails "f" axis.drive.node = 100 axis.drive.polarity = normal',
    ),
    "a quantity with a factor": (
        "let least = axis.motor.brake.release_time * 120% + 10ms\n"
        "require axis.drive.brake_release_delay >= least",
        'given axis.motor.brake.release_time = "60 ms"'
        ' passes "p" axis.drive.brake_release_delay = "200 ms"'
        ' fails "f" axis.drive.brake_release_delay = "10 ms"',
    ),
    "a reciprocal": (
        "require 1 / axis.drive.node < 1/20",
        'passes "p" axis.drive.node = 100 fails "f" axis.drive.node = 1',
    ),
    "words": (
        "require axis.encoder.kind is one of [incremental, absolute_singleturn]",
        'passes "p" axis.encoder.kind = incremental'
        ' fails "f" axis.encoder.kind = absolute_multiturn',
    ),
    "items of a list": (
        "require every s in axis.mechanics.stages where s.kind is belt has s.motor_side_teeth > 10",
        'passes "p" axis.mechanics.stages = []'
        ' fails "f" axis.mechanics.stages = [{kind: belt, motor_side_teeth: 1}]',
    ),
    "a day": (
        "require machine.check_date <= axis.encoder.turn_counter.battery.fitted_on + battery_life",
        "given axis.encoder.turn_counter.battery.fitted_on = 2024-08-31"
        ' passes "p" machine.check_date = 2025-01-01 fails "f" machine.check_date = 2027-01-01',
    ),
    "a part that may be none": (
        "require axis.motor.brake is not none or not axis.mechanics.moved_by_gravity",
        'passes "p" axis.motor.brake.voltage = "24 V" fails "f" axis.motor.brake = none'
        " axis.mechanics.moved_by_gravity = true",
    ),
    "the name of an axis under given": (
        'when axis.name begins with "feed"\n require axis.drive.node > 3',
        'given feed_1.drive.node = 4 passes "p" fails "f" feed_1.drive.node = 3',
    ),
    "a name that begins with a text": (
        'when axis.name begins with "feed"\n require axis.drive.node > 3',
        'passes "p" feed_1.drive.node = 10 fails "f" feed_1.drive.node = 3',
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_proposed_examples_notice_every_alteration(name: str, tmp_path: Path) -> None:
    asked, examples = CASES[name]
    head = HEAD.replace("{define}", DEFINE if "twice" in asked else "")
    text = head + asked + TAIL.replace("{says}", "{axis.drive.node * 3}") + examples
    report = report_on(tmp_path, text)
    assert report.faults == ()
    assert report.killed < report.mutants
    assert all(each.example for each in report.unnoticed), report.unnoticed
    again = report_on(tmp_path, with_proposals(text, report))
    assert again.faults == ()
    assert again.clean


def test_an_alteration_that_changes_nothing_has_no_example(tmp_path: Path) -> None:
    text = HEAD.replace("{define}", "") + "require axis.drive.node < 5 and axis.drive.node < 7"
    text += TAIL.replace("{says}", "s") + (
        'passes "p" axis.drive.node = 4 fails "f" axis.drive.node = 5'
        ' says "Count 6" fails "g" axis.drive.node = 8'
    )
    (only,) = report_on(tmp_path, text).unnoticed
    assert only.example == ()
    assert "leave out `and axis.drive.node < 7`" in [each.what for each in only.alterations]


def test_what_is_altered_in_a_named_remedy_is_told_where_that_stands(tmp_path: Path) -> None:
    texts = tmp_path / "texts.rules"
    lines = HEAD.splitlines()
    texts.write_text("\n".join([lines[0], *["# a comment"] * 40, lines[4]]), "utf-8")
    rule = "\n".join([lines[0], *lines[5:], ""]) + "require axis.drive.node < 5"
    rule += TAIL.replace("{says}", "s")
    rule += 'passes "p" axis.drive.node = 4 fails "f" axis.drive.node = 5'
    (tmp_path / "site.rules").write_text(rule, "utf-8")
    (only,) = run_rule_tests([tmp_path]).unnoticed
    assert {Path(each.place.file).name for each in only.alterations} == {"texts.rules"}
    assert all("axis.drive.node + 1" in each.source_line for each in only.alterations)


def test_the_summary_comes_first_and_tells_what_more_examples_would_do(tmp_path: Path) -> None:
    asked, examples = CASES["a bound"]
    text = HEAD.replace("{define}", "") + asked + TAIL.replace("{says}", "s") + examples
    text = text.replace("{axis.drive.node + 1} ", "").replace("= 100", "= 6")
    lines = render_rule_test(report_on(tmp_path, text), PLAIN).splitlines()
    assert lines[0] == "1 rule, 2 examples: each gives what it states."
    assert lines[1].startswith("2 altered rules tried: no example notices 1 of them.")
    assert "  Change `<=` to `<` here. No example notices." in lines
    at = lines.index("  One that would:")
    assert lines[at + 1 : at + 3] == [
        '      passes "far below, but axis.drive.node = 5"',
        "        axis.drive.node = 5",
    ]
    whole = render_rule_test(report_on(tmp_path, with_proposals(text, run(tmp_path))), PLAIN)
    assert whole.splitlines()[1] == "2 altered rules tried: an example notices each."


def run(folder: Path) -> RuleTestReport:
    return run_rule_tests([folder / "site.rules"])


def test_of_many_alterations_that_one_example_notices_a_few_are_shown(tmp_path: Path) -> None:
    conditions = " and ".join(f"axis.drive.node < {number}" for number in range(10, 15))
    text = HEAD.replace("{define}", "") + f"require axis.drive.polarity is normal and {conditions}"
    text += TAIL.replace("{says}", "s") + (
        'passes "p" axis.drive.node = 1 axis.drive.polarity = normal'
        ' fails "f" axis.drive.node = 30 axis.drive.polarity = reversed'
    )
    shown = render_rule_test(report_on(tmp_path, text), PLAIN)
    assert "  And " in shown
    for block in shown.split("\n\n"):
        if "would notice all" in block:
            assert block.count("no example notices") <= MOST_SHOWN + 1
