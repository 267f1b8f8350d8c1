"""The homing table held against the constants of the ``canopen`` library (profile CiA 402).

That library lists the methods it has a name for; the name says which switch and whether an index
pulse is used. Its negative numbers are left out: the standard leaves those to the maker.
"""

from __future__ import annotations

import pytest
from axisproof.machine import homing_methods as methods

p402 = pytest.importorskip(
    "canopen.profiles.p402", reason="the reference library canopen is not installed"
)


def listed() -> list[tuple[int, str]]:
    """Each positive number of the reference table with its name."""
    found: list[tuple[int, str]] = []
    for name, value in vars(p402.Homing).items():
        if name.startswith("HM_"):
            numbers = value if isinstance(value, tuple) else (value,)
            found += [(number, name) for number in numbers if number > 0]
    return sorted(found)


def test_the_reference_lists_what_it_is_asked_about() -> None:
    assert [number for number, _ in listed()] == [
        *range(1, 7),
        *range(17, 23),
        *range(33, 36),
    ]


@pytest.mark.parametrize(("number", "name"), listed())
def test_the_same_switch_and_index_are_used(number: int, name: str) -> None:
    traits = methods.traits(number)
    assert traits is not None
    assert traits.index is ("INDEX_PULSE" in name)
    assert traits.home_switch is ("HOME_SWITCH" in name)
    assert traits.uses_limit_switch is ("LIMIT_SWITCH" in name)
    assert traits.current_position is ("CURRENT_POSITION" in name)
    assert traits.hard_stop is ("MECHANICAL_LIMIT" in name)


@pytest.mark.parametrize(("number", "name"), [pair for pair in listed() if pair[0] < 35])
def test_the_same_side_is_meant(number: int, name: str) -> None:
    words = methods.method_words(number).partition("(")[2]
    side = "negative" if "NEGATIVE" in name else "positive"
    if number >= 33:
        assert words.endswith(f"in the {side} direction)")
        assert methods.search_direction(number) == side
    else:
        assert words.startswith(f"{side} ")
    if number in (1, 2, 17, 18):
        assert methods.limit_switch(number) == side
