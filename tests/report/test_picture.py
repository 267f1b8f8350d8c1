"""Pictures: drawn to scale, each thing with its label, nothing of an input acts as markup."""

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
from axisproof.report.drawn_faults import DrawnFaults
from axisproof.report.picture import NARROW, WIDE, draw
from hypothesis import given
from hypothesis import strategies as st

from tests.numbers.random_fractions import random_fractions
from tests.report.report_samples import DIAL, TRAVEL

SVG = "{http://www.w3.org/2000/svg}"


KINDS = get_args(get_type_hints(Feature, localns=vars(typing))["kind"])


def drawn(picture: Picture) -> ET.Element:
    return ET.fromstring(draw(picture, "p"))


def labels(root: ET.Element) -> dict[str, tuple[float, float, float, float]]:
    """The text of each label with the box that it takes: left, top, right, bottom."""
    found = {}
    for text in root.iter(f"{SVG}text"):
        if (text.get("class") or "").split()[:1] == ["label"]:
            lines = list(text)
            x, y = float(lines[0].get("x", "")), float(lines[0].get("y", ""))
            wide = max(len(line.text or "") for line in lines) * 6.5
            left = x - wide if text.get("text-anchor") == "end" else x
            words = " ".join(line.text or "" for line in lines)
            found[words] = (left, y - 12, left + wide, y - 12 + 15 * len(lines))
    return found


def marks(root: ET.Element, kind: str) -> list[ET.Element]:
    """The groups of a kind."""
    return [each for each in root.iter(f"{SVG}g") if (each.get("class") or "").startswith(kind)]


def ticks(root: ET.Element) -> dict[float, float]:
    """The x of each label of the ruler by its value."""
    found = {}
    for text in root.iter(f"{SVG}text"):
        if text.get("class") == "tick" and re.fullmatch(r"-?[0-9.]+(e[+-]\d+)?", text.text or ""):
            found[float(text.text or "")] = float(text.get("x", ""))
    return found


def strip(*features: Feature, low: int = -15, high: int = 115) -> Picture:
    return Picture("strip", "t", "s", "mm", low, high, features)


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_points_stand_where_the_ruler_says(width: int) -> None:
    root = ET.fromstring(draw(TRAVEL, "p", width=width))
    ruler = ticks(root)
    scale = (ruler[100] - ruler[0]) / 100
    for feature in (TRAVEL.features[3], TRAVEL.features[4]):
        (group,) = marks(root, feature.kind.replace(" ", "-"))
        place = next(each for each in group.iter() if each.get("cx") or each.get("d"))
        x = float(place.get("cx") or re.match(r"M([\d.]+)", place.get("d", ""))[1])  # type: ignore[index]
        assert isinstance(feature.start, int)
        assert x == pytest.approx(ruler[0] + scale * feature.start, abs=0.02)


@pytest.mark.parametrize("width", [WIDE, NARROW])
@pytest.mark.parametrize("picture", [TRAVEL, DIAL], ids=["strip", "dial"])
def test_each_thing_has_its_label_with_name_and_place(picture: Picture, width: int) -> None:
    found = labels(ET.fromstring(draw(picture, "p", width=width)))
    assert set(found) == {f"{each.name}: {each.text}" for each in picture.features}
    for left, _, right, _ in found.values():
        assert left >= 0
        assert right <= width + 1


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
def test_labels_never_cover_each_other(points: list[Fraction], bars: list[tuple[int, int]]) -> None:
    features = [Feature("software limit", f"n{k}", "t", at) for k, at in enumerate(points)]
    features += [
        Feature("stopping distance", f"run{number}", "text", start, end)
        for number, (start, end) in enumerate(bars)
    ]
    for width in (WIDE, NARROW):
        picture = strip(*features, low=-1100, high=1100)
        found = labels(ET.fromstring(draw(picture, "p", width=width)))
        assert len(found) == len(features)
        boxes = list(found.values())
        for index, (left, top, right, bottom) in enumerate(boxes):
            for other_left, other_top, other_right, other_bottom in boxes[index + 1 :]:
                apart = right <= other_left or other_right <= left
                assert apart or bottom <= other_top or other_bottom <= top


def test_every_kind_has_a_sign_of_its_own() -> None:
    signs = set()
    kinds = [kind for kind in KINDS if kind not in ("drift", "encoder turn")]
    for kind in kinds:
        end = 60 if kind in ("stopping distance", "travel", "index band") else None
        svg = draw(strip(Feature(kind, "n", "t", 20, end)), "p")
        signs.add(re.sub(rf'<g class="{kind.replace(" ", "-")}">', "<g>", svg))
    assert len(signs) == len(kinds)


@pytest.mark.parametrize("picture", [TRAVEL, DIAL], ids=["strip", "dial"])
def test_what_is_at_fault_is_drawn_with_a_mark_and_named_to_a_screen_reader(
    picture: Picture,
) -> None:
    for place, feature in enumerate(picture.features):
        root = ET.fromstring(draw(picture, "p", DrawnFaults(frozenset((place,)))))
        faults = [each for each in root.iter(f"{SVG}g") if "fault" in (each.get("class") or "")]
        assert [each.get("class") for each in faults] == [f"{feature.kind.replace(' ', '-')} fault"]
        assert f"✗ {feature.name}: {feature.text}" in labels(root)
        assert f"At fault: {feature.name}" in (root.findtext(f"{SVG}desc") or "")


def test_a_dial_runs_clockwise_from_the_top() -> None:
    quarter = Picture("dial", "t", "s", "deg", 0, 360, (Feature("reference", "n", "t", 90),))
    root = drawn(quarter)
    (circle,) = [each for each in root.iter(f"{SVG}circle") if each.get("fill") == "none"]
    (group,) = marks(root, "reference")
    (ring,) = group.iter(f"{SVG}circle")
    assert float(ring.get("cy", "")) == pytest.approx(float(circle.get("cy", "")), abs=0.02)
    right = float(circle.get("cx", "")) + float(circle.get("r", ""))
    assert float(ring.get("cx", "")) == pytest.approx(right, abs=0.02)


def test_a_shift_backwards_is_an_arc_against_the_clock() -> None:
    svg = draw(DIAL, "p")
    assert re.search(r"A[\d.]+ [\d.]+ 0 0 0 ", svg)
    forwards = replace(DIAL.features[2], end=Fraction(720, 7))
    assert re.search(
        r"A[\d.]+ [\d.]+ 0 0 1 ", draw(replace(DIAL, features=(*DIAL.features[:2], forwards)), "p")
    )


def test_whole_encoder_turns_are_strokes_round_the_dial() -> None:
    root = drawn(replace(DIAL, features=DIAL.features[1:2]))
    (group,) = marks(root, "encoder-turn")
    strokes = list(group.iter(f"{SVG}line"))
    assert len(strokes) == 7


def test_title_and_description_name_the_picture_to_a_screen_reader() -> None:
    root = drawn(TRAVEL)
    assert root.get("role") == "img"
    named = [root.find(f"*[@id='{each}']") for each in root.get("aria-labelledby", "").split()]
    title, words = (each.text or "" for each in named if each is not None)
    assert title == TRAVEL.title
    assert words.startswith(TRAVEL.summary)
    assert "lower software limit: 0 mm." in words


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
