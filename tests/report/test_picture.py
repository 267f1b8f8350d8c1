"""Pictures: drawn to scale, every feature numbered, nothing of an input acts as markup."""

from __future__ import annotations

import math
import re
import typing
import xml.etree.ElementTree as ET
from dataclasses import replace
from typing import get_args, get_type_hints

import pytest
from axisproof.findings.finding import Feature, Picture
from axisproof.numbers.exact import Approx
from axisproof.numbers.rational import Fraction
from axisproof.report.picture import draw, shape_words
from hypothesis import given
from hypothesis import strategies as st

from tests.numbers.random_fractions import random_fractions
from tests.report.report_samples import DIAL, TRAVEL

SVG = "{http://www.w3.org/2000/svg}"


KINDS = get_args(get_type_hints(Feature, localns=vars(typing))["kind"])


def drawn(picture: Picture) -> ET.Element:
    return ET.fromstring(draw(picture, "p"))


def keys(root: ET.Element) -> dict[str, tuple[float, float]]:
    """Where each number stands."""
    return {
        str(text.text): (float(text.get("x", "")), float(text.get("y", "")) - 4)
        for text in root.iter(f"{SVG}text")
        if text.get("class") == "key"
    }


def ticks(root: ET.Element) -> dict[float, float]:
    """The x of each label of the ruler by its value."""
    found = {}
    for text in root.iter(f"{SVG}text"):
        if text.get("class") == "tick" and re.fullmatch(r"-?[0-9.]+(e[+-]\d+)?", text.text or ""):
            found[float(text.text or "")] = float(text.get("x", ""))
    return found


def strip(*features: Feature, low: int = -15, high: int = 115) -> Picture:
    return Picture("strip", "t", "s", "mm", low, high, features)


def test_points_stand_where_the_ruler_says() -> None:
    root = drawn(TRAVEL)
    ruler = ticks(root)
    scale = (ruler[100] - ruler[0]) / 100
    numbers = keys(root)
    for key, feature in enumerate(TRAVEL.features[:5], 1):
        assert isinstance(feature.start, int)
        assert numbers[str(key)][0] == pytest.approx(ruler[0] + scale * feature.start, abs=0.02)


def test_a_stretch_is_as_long_as_its_distance_on_the_ruler() -> None:
    root = drawn(strip(Feature("stopping distance", "n", "t", 20, 60)))
    ruler = ticks(root)
    (bar,) = [each for each in root.iter(f"{SVG}rect") if "-hatch" in each.get("fill", "")]
    assert float(bar.get("x", "")) == pytest.approx(ruler[20], abs=0.02)
    assert float(bar.get("width", "")) == pytest.approx(ruler[60] - ruler[20], abs=0.02)


def test_a_stretch_left_in_the_negative_direction_has_its_arrow_at_its_lower_end() -> None:
    root = drawn(strip(Feature("stopping distance", "n", "t", 60, 20)))
    (group,) = [each for each in root.iter(f"{SVG}g") if each.get("class") == "stopping-distance"]
    arrow = next(each for each in group.iter(f"{SVG}path") if each.get("class") == "solid")
    x = float(re.match(r"M([\d.]+)", arrow.get("d", ""))[1])  # type: ignore[index]
    assert x == pytest.approx(ticks(root)[20], abs=0.02)


@given(
    st.lists(random_fractions(-1000, 1000, max_denominator=50), min_size=1, max_size=12),
    st.lists(st.tuples(st.integers(-900, 900), st.integers(-900, 900)), max_size=6),
)
def test_numbers_never_cover_each_other(
    points: list[Fraction], bars: list[tuple[int, int]]
) -> None:
    features = [Feature("soft limit", "n", "t", at) for at in points]
    features += [Feature("stopping distance", "n", "t", start, end) for start, end in bars]
    numbers = keys(drawn(strip(*features, low=-1100, high=1100)))
    assert len(numbers) == len(features)
    places = list(numbers.values())
    for index, first in enumerate(places):
        for second in places[index + 1 :]:
            assert math.dist(first, second) >= 20


def test_every_kind_has_a_sign_of_its_own_and_words_for_it() -> None:
    words = set()
    signs = set()
    for kind in KINDS:
        end = 60 if kind in ("stopping distance", "travel", "index band", "drift") else None
        feature = Feature(kind, "n", "t", 20, end)
        words.add(shape_words(feature))
        if kind not in ("drift", "encoder turn"):
            svg = draw(strip(feature), "p")
            signs.add(re.sub(rf'<g class="{kind.replace(" ", "-")}">', "<g>", svg))
    assert len(words) == len(KINDS)
    assert len(signs) == len(KINDS) - 2


def test_a_dial_runs_clockwise_from_the_top() -> None:
    quarter = Picture("dial", "t", "s", "deg", 0, 360, (Feature("reference", "n", "t", 90),))
    root = drawn(quarter)
    (circle,) = [each for each in root.iter(f"{SVG}circle") if each.get("fill") == "none"]
    x, y = keys(root)["1"]
    assert y == pytest.approx(float(circle.get("cy", "")), abs=0.02)
    assert x > float(circle.get("cx", "")) + float(circle.get("r", ""))


def test_a_shift_backwards_is_an_arc_against_the_clock() -> None:
    svg = draw(DIAL, "p")
    assert re.search(r"A[\d.]+ [\d.]+ 0 0 0 ", svg)
    forwards = replace(DIAL.features[2], end=Fraction(720, 7))
    assert re.search(
        r"A[\d.]+ [\d.]+ 0 0 1 ", draw(replace(DIAL, features=(*DIAL.features[:2], forwards)), "p")
    )


def test_whole_encoder_turns_are_strokes_round_the_dial() -> None:
    root = drawn(replace(DIAL, features=DIAL.features[1:2]))
    strokes = [each for each in root.iter(f"{SVG}line") if each.get("class") == "ink thick"]
    assert len(strokes) == 7


def test_title_and_description_name_the_picture_to_a_screen_reader() -> None:
    root = drawn(TRAVEL)
    assert root.get("role") == "img"
    named = [root.find(f"*[@id='{each}']") for each in root.get("aria-labelledby", "").split()]
    assert [each.text for each in named if each is not None] == [TRAVEL.title, TRAVEL.summary]


@given(st.text(st.characters(), max_size=30))
def test_any_text_is_text_in_the_picture(text: str) -> None:
    hostile = replace(TRAVEL, title=text, summary=text, unit=text)
    harmless = replace(TRAVEL, title="t", summary="s", unit="mm")
    assert [each.tag for each in drawn(hostile).iter()] == [
        each.tag for each in drawn(harmless).iter()
    ]


@pytest.mark.parametrize(
    "picture",
    [
        replace(TRAVEL, high=10**400),
        replace(TRAVEL, high=-15),
        replace(TRAVEL, low=Approx(math.inf, math.inf)),
    ],
    ids=["beyond floats", "no length", "unbounded"],
)
def test_what_cannot_be_drawn_is_left_out(picture: Picture) -> None:
    assert draw(picture, "p") == ""


@pytest.mark.parametrize(("low", "high"), [(0, Fraction(1, 10**6)), (-(10**9), 10**12), (5, 6)])
def test_the_ruler_has_a_few_round_labels_at_any_scale(low: int, high: int) -> None:
    found = ticks(drawn(strip(low=low, high=high)))
    assert 2 <= len(found) <= 9
