"""Messages for people: which numbers are rounded, which way, and in which unit."""

from __future__ import annotations

from typing import Any

import pytest

from tests.engine.small_rules import catalogue_of, checked, plain, rule


def told(require: str, say: str, remedy: str = "Work.", **parts: Any) -> tuple[str, str]:
    """What the finding of a rule on a machine of one axis tells, and its remedy."""
    text = rule("some-rule", require, say=say).replace('remedy "r"', f'remedy "{remedy}"')
    found = catalogue_of(text)
    (finding,) = checked(found, plain(a=parts)).findings
    return finding.message, finding.remedy


def test_a_typed_value_stands_as_typed_and_a_computed_one_in_its_unit() -> None:
    drive = {"brake_release_delay": "70.123 ms", "input_filter": "0.08 s"}
    message, _ = told(
        "axis.drive.brake_release_delay >= axis.drive.input_filter",
        "{axis.drive.brake_release_delay} {axis.drive.input_filter in ms} "
        "{axis.drive.brake_release_delay / 3} {axis.drive.brake_release_delay / 3 in s}",
        drive=drive,
    )
    assert message == "70.123 ms 0.08 s 23.37 ms 0.02337 s"


def test_the_two_sides_of_a_failed_comparison_never_look_alike() -> None:
    message, _ = told(
        "axis.drive.brake_release_delay / 3 >= axis.drive.input_filter / 7",
        "{axis.drive.brake_release_delay / 3} {axis.drive.input_filter / 7}",
        drive={"brake_release_delay": "30 ms", "input_filter": "70.001 ms"},
    )
    assert message == "10 ms 10.00015 ms"


@pytest.mark.parametrize(
    ("require", "texts"),
    [
        ("axis.drive.input_filter / 3 <= 1ms", "3.334 ms"),
        ("axis.drive.input_filter / 3 < 1ms", "3.334 ms"),
        ("axis.drive.input_filter / 3 >= 9ms", "3.333 ms"),
        ("axis.drive.input_filter / 3 > 9ms", "3.333 ms"),
        ("9ms <= axis.drive.input_filter / 3", "3.333 ms"),
        ("axis.drive.input_filter / 3 within 1/7ms of 9ms", "3.33 ms"),
        ("absolute(axis.drive.input_filter / 3) <= 1/7ms", "3.333 ms"),
    ],
)
def test_a_side_is_rounded_so_that_what_it_says_passes(require: str, texts: str) -> None:
    drive = {"input_filter": "10 ms"}
    message, _ = told(require, "{axis.drive.input_filter / 3}", drive=drive)
    assert message.startswith(texts.removesuffix(" ms"))


def test_a_tolerance_asks_for_a_tenth_of_it() -> None:
    message, _ = told(
        "axis.drive.input_filter / 3 within 0.001ms of 9ms",
        "{axis.drive.input_filter / 3}",
        drive={"input_filter": "10 ms"},
    )
    assert message == "3.3333 ms"


def test_the_words_of_a_rule_say_which_way_to_round() -> None:
    message, _ = told(
        "1 = 2",
        "{axis.drive.input_filter / 3 rounded up} {axis.drive.input_filter / 3 in s rounded down}",
        drive={"input_filter": "10 ms"},
    )
    assert message == "3.334 ms 0.003333 s"


def test_what_is_true_or_false_is_told_as_yes_or_no() -> None:
    message, _ = told("1 = 2", "{1 = 1} {axis.drive.node is whole}", drive={"node": 3})
    assert message == "yes yes"


def test_a_value_to_enter_stands_in_full() -> None:
    _, remedy = told(
        "1 = 2",
        "s",
        remedy="Set {axis.drive.input_filter / 16} and {axis.drive.input_filter / 3}.",
        drive={"input_filter": "10.001 ms"},
    )
    assert remedy == "Set 0.6250625 ms and 3.334 ms."


def test_what_no_fraction_equals_has_the_digits_that_matter_where_somebody_enters_it() -> None:
    """The circumference of 10.001 mm is 31.41906811… mm, by Python's own pi."""
    message, _ = told(
        "1 = 2",
        "{circumference(axis.mechanics.final.diameter)}"
        " {circumference(axis.mechanics.final.diameter) to enter}"
        " {axis.mechanics.final.diameter / 3 to enter}",
        motion="linear",
        mechanics={"final": {"kind": "roller", "diameter": "10.001 mm"}},
    )
    assert message == "31.42 mm 31.41907 mm 10001/3000 mm"


def test_a_sentence_with_a_list_that_holds_something_unknown_is_left_out() -> None:
    say = "One. {all of x.drive.node for x in machine.axes where x.name is axis.name}."
    assert told("1 = 2", say, drive={"node": 3})[0] == "One. 3."
    assert told("1 = 2", say, drive={"firmware": "1"})[0] == "One."
