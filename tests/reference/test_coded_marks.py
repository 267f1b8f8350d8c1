"""Coded index marks: what the rules compute, against scales that are laid out mark by mark.

A fixed mark lies at each multiple of the spacing G, and one more between each two of them, k·d off
their middle, with another k in each pair.
"""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from axisproof.numbers.rational import Fraction

from tests.reference.test_homing_worked_examples import derived

CODES = [(20, 2), (20, 3), (12, 1), (10, 1), (7, 1), (9, 2)]
"""Spacing and difference in mm."""


def computed(name: str, spacing: int, difference: int, read: int) -> Fraction:
    marks = {"spacing": f"{spacing} mm", "difference": f"{difference} mm"}
    facts = {
        "encoder": {"form": "linear", "index_marks": marks},
        "controller": {"homing": {"marks_read": read}},
    }
    return Fraction(derived(name, facts))


def offsets(spacing: int, difference: int) -> list[int]:
    """All k for which a mark lies between two fixed ones and on neither of them."""
    near = range(-spacing, spacing + 1)
    return [k for k in near if 0 < Fraction(spacing, 2) + k * difference < spacing]


def scale(spacing: int, difference: int, order: list[int]) -> list[Fraction]:
    """The places of all marks, for pairs in an order of k, with the fixed mark at the end."""
    places: list[Fraction] = []
    for number, k in enumerate(order):
        start = Fraction(number * spacing)
        places += [start, start + Fraction(spacing, 2) + k * difference]
    return [*places, Fraction(len(order) * spacing)]


def seen(places: list[Fraction], read: int) -> list[tuple[Fraction, ...]]:
    """What is seen along the scale: the distances of each so many neighbouring marks."""
    distances = [after - before for before, after in pairwise(places)]
    width = read - 1
    return [tuple(distances[at : at + width]) for at in range(len(distances) - width + 1)]


def unique(places: list[Fraction], read: int) -> bool:
    found = seen(places, read)
    return len(set(found)) == len(found)


@pytest.mark.parametrize(("spacing", "difference"), CODES)
def test_two_marks_tell_no_more_pairs_apart_than_computed(spacing: int, difference: int) -> None:
    known = offsets(spacing, difference)
    most = max(
        count
        for count in range(len(known) + 1)
        for order in combinations(known, count)
        if unique(scale(spacing, difference, list(order)), 2)
    )
    assert computed("code_pairs", spacing, difference, 2) == most
    assert computed("code_range", spacing, difference, 2) == most * spacing


@pytest.mark.parametrize(("spacing", "difference"), CODES)
def test_three_marks_tell_all_pairs_apart_that_there_are(spacing: int, difference: int) -> None:
    known = offsets(spacing, difference)
    assert unique(scale(spacing, difference, known), 3)
    assert not unique(scale(spacing, difference, [*known, known[0]]), 3)
    assert computed("code_pairs", spacing, difference, 3) == len(known)


@pytest.mark.parametrize("read", [2, 3])
@pytest.mark.parametrize(("spacing", "difference"), CODES)
def test_no_start_needs_a_longer_way_than_computed(
    spacing: int, difference: int, read: int
) -> None:
    """An axis that stands right behind a mark has the longest way."""
    places = scale(spacing, difference, offsets(spacing, difference))
    ways = [places[at + read] - places[at] for at in range(len(places) - read)]
    longest = computed("code_search", spacing, difference, read)
    assert max(ways) <= longest < max(ways) + 2 * (difference + Fraction(spacing, 2))
    if read == 2:
        assert max(ways) == longest
