"""What the answer of `recalibrate` holds, and in which order."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.base.errors import UsageError
from axisproof.cli.main import run
from axisproof.numbers.rational import Fraction

from tests.swap.recalibrated import answer, facts, told

FIXTURES = Path(__file__).parents[2] / "fixtures" / "sound"


@pytest.mark.parametrize(
    ("file", "axis", "points", "accuracy"),
    [
        ("hall.yaml", "infeed_pusher", (90, 810), Fraction(1, 10)),  # 0 to 900 mm
        ("hall.yaml", "label_slide", (30, 270), Fraction(1, 20)),  # 0 to 300 mm
        ("shuttle.yaml", "tray_shuttle", (180, 820), Fraction(3, 100)),  # 100 to 900 mm
    ],
)
def test_the_two_places_to_prove_and_the_accuracy_to_reach_are_told(
    file: str, axis: str, points: tuple[int, int], accuracy: Fraction
) -> None:
    result = answer(facts(file, axis), "100 mm", "100 mm")
    assert (result.points, result.accuracy) == (points, accuracy)
    text = told(result)
    assert f"Measure the true position at {points[0]} mm and {points[1]} mm." in text
    assert f"must not exceed {result.say(accuracy)}" in text


def test_an_endless_axis_is_proved_half_a_cycle_apart() -> None:
    result = answer(facts("hall.yaml", "index_table"), "10 deg", "10 deg")
    assert result.points == (Fraction(10, 360), Fraction(190, 360))


def test_what_cannot_be_told_of_the_proof_is_said() -> None:
    one = facts("hall.yaml", "infeed_pusher", mechanics__required_accuracy=None)
    one["controller"].pop("software_limits")
    result = answer(one, "100 mm", "100 mm")
    assert result.accuracy is None
    assert result.points is None
    assert "at two distant places" in told(result)
    assert "must not exceed the accuracy that the process needs" in told(result)


@pytest.mark.parametrize("indicated", ["99.9 mm", "2000 mm"])
@pytest.mark.parametrize(("vertical", "words"), [
    (True, "Gravity moves this axis."), (False, ""), (None, "If gravity moves the axis,"),
])  # fmt: skip
def test_the_answer_comes_first_and_the_cautions_before_the_steps(
    indicated: str, vertical: bool | None, words: str
) -> None:
    one = facts("hall.yaml", "infeed_pusher", mechanics__moved_by_gravity=vertical)
    result = answer(one, "100 mm", indicated)
    text = told(result)
    first = "Write nothing yet." if result.to_solve else "New reference position: -59.9 mm"
    steps = "Keep to this" if result.to_solve else "Steps"
    assert bool(result.to_solve) == (indicated == "2000 mm")
    assert text.index(first) < text.index("Passed") < text.index("Caution") < text.index(steps)
    assert words in text[: text.index(steps)]
    assert ("Gravity moves this axis." in text) == (vertical is True)
    assert ("If gravity moves the axis," in text) == (vertical is None)


@pytest.mark.parametrize(
    ("option", "value"),
    [("index_angle", "-0.1rev"), ("index_angle", "1 mm"), ("reading", "-1"), ("reading", "x"),
     ("after", "paint")],
)  # fmt: skip
def test_a_reading_that_can_be_none_is_refused(option: str, value: str) -> None:
    with pytest.raises(UsageError) as caught:
        answer(facts("hall.yaml", "label_slide"), "1 mm", "1 mm", **{option: value})
    assert value in str(caught.value)
    assert option.replace("_", "-") in str(caught.value)


def test_nothing_is_to_be_written_before_somebody_says_what_was_done(
    capsys: pytest.CaptureFixture[str],
) -> None:
    given = ["recalibrate", str(FIXTURES / "hall.yaml"), "--axis", "infeed_pusher"]
    given += ["--true", "100mm", "--indicated", "98.75mm"]
    assert run(given) == 1
    lines = [line for line in capsys.readouterr().out.splitlines() if line]
    assert lines[2].startswith("Write nothing yet. State which part was replaced with --after")
    assert run([*given, "--after", "home-switch"]) == 0
    assert "New reference position: -58.75 mm" in capsys.readouterr().out
    assert run([*given, "--after", "nothing"]) == 1
    text = " ".join(capsys.readouterr().out.split())
    assert "Nothing was replaced, but the reference moves by 1.25 mm." in text
