"""The homing methods of CiA 402 / IEC 61800-7-201 (object 0x6098) and what each one relies on.

Numbers and traits are from memory; a reference test compares them with the table that the
``canopen`` library carries. A method is given as its number (int) or as a neutral name of the
machine schema (str). Negative numbers are the maker's own: every question about one is None.
"""

from __future__ import annotations

from types import MappingProxyType

from ..base.lazy import dataclass

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final, Literal, TypeAlias


Direction: TypeAlias = 'Literal["negative", "positive"]'
Method: TypeAlias = int | str

RESERVED: Final = frozenset({15, 16, 31, 32, 36})
WITHDRAWN: Final = frozenset({35})
"""35 was given up in favour of 37, which does the same."""


@dataclass(frozen=True, slots=True)
class Traits:
    """What a method relies on; None where the method as stated leaves it open.

    ``limit_switch`` is the limit switch it cannot do without: its reference, or where it reverses.
    ``search`` is the direction it starts in where that does not depend on the switch's state,
    ``held_side`` the end of travel to which the home switch must stay actuated, ``approach`` the
    direction of the last move, in which the reference is met.
    """

    words: str
    index: bool | None = False
    home_switch: bool | None = False
    limit_switch: Direction | None = None
    uses_limit_switch: bool | None = False
    held_switch: bool | None = False
    held_side: Direction | None = None
    hard_stop: bool | None = False
    current_position: bool | None = False
    search: Direction | None = None
    approach: Direction | None = None


_OPPOSITE: Final[dict[Direction, Direction]] = {"negative": "positive", "positive": "negative"}


def _limit(side: Direction, index: bool) -> Traits:
    return Traits(
        f"{side} limit switch{_with(index)}",
        index=index,
        limit_switch=side,
        uses_limit_switch=True,
        search=side,
        approach=_OPPOSITE[side],
    )


def _held(side: Direction, approach: Direction, index: bool) -> Traits:
    return Traits(
        f"{side} home switch, approached in the {approach} direction{_with(index)}",
        index=index,
        home_switch=True,
        held_switch=True,
        held_side=side,
        approach=approach,
    )


def _cam(search: Direction, edge: str, approach: Direction, index: bool) -> Traits:
    return Traits(
        f"{edge} edge of the home switch, searched and reversed at the {search} limit switch, "
        f"approached in the {approach} direction{_with(index)}",
        index=index,
        home_switch=True,
        limit_switch=search,
        uses_limit_switch=True,
        search=search,
        approach=approach,
    )


def _with(index: bool) -> str:
    return " and index pulse" if index else ""


def _switch_methods(index: bool) -> tuple[Traits, ...]:
    """The fourteen methods 1 to 14, and again 17 to 30 without index."""
    return (
        _limit("negative", index),
        _limit("positive", index),
        _held("positive", "negative", index),
        _held("positive", "positive", index),
        _held("negative", "positive", index),
        _held("negative", "negative", index),
        _cam("positive", "negative", "negative", index),
        _cam("positive", "negative", "positive", index),
        _cam("positive", "positive", "negative", index),
        _cam("positive", "positive", "positive", index),
        _cam("negative", "positive", "positive", index),
        _cam("negative", "positive", "negative", index),
        _cam("negative", "negative", "positive", index),
        _cam("negative", "negative", "negative", index),
    )


def _next_index(side: Direction) -> Traits:
    return Traits(
        f"next index pulse in the {side} direction", index=True, search=side, approach=side
    )


def _home(search: Direction, index: bool) -> Traits:
    return Traits(
        f"home switch searched in the {search} direction{_with(index)}",
        index=index,
        home_switch=True,
        uses_limit_switch=None,
        held_switch=None,
        search=search,
    )


def _hard_stop(side: Direction, index: bool) -> Traits:
    return Traits(
        f"{side} hard stop{_with(index)}",
        index=index,
        hard_stop=True,
        search=side,
        approach=_OPPOSITE[side] if index else side,
    )


_HERE: Final = Traits("current position", current_position=True)

NUMBERED: Final = MappingProxyType(
    {
        0: Traits("no homing"),
        **{1 + step: traits for step, traits in enumerate(_switch_methods(index=True))},
        **{17 + step: traits for step, traits in enumerate(_switch_methods(index=False))},
        33: _next_index("negative"),
        34: _next_index("positive"),
        35: _HERE,
        37: _HERE,
    }
)
"""The methods that the standard defines, by number."""

NAMED: Final = MappingProxyType(
    {
        "limit_switch_negative_index": NUMBERED[1],
        "limit_switch_positive_index": NUMBERED[2],
        "home_switch_negative_index": _home("negative", index=True),
        "home_switch_positive_index": _home("positive", index=True),
        "limit_switch_negative": NUMBERED[17],
        "limit_switch_positive": NUMBERED[18],
        "home_switch_negative": _home("negative", index=False),
        "home_switch_positive": _home("positive", index=False),
        "next_index_negative": NUMBERED[33],
        "next_index_positive": NUMBERED[34],
        "current_position": _HERE,
        "hard_stop_negative": _hard_stop("negative", index=False),
        "hard_stop_positive": _hard_stop("positive", index=False),
        "hard_stop_negative_index": _hard_stop("negative", index=True),
        "hard_stop_positive_index": _hard_stop("positive", index=True),
    }
)
"""The neutral names. A ``home_switch_...`` name says in which direction the switch is searched."""

_ONE_NUMBER: Final = MappingProxyType(
    {
        "limit_switch_negative_index": 1,
        "limit_switch_positive_index": 2,
        "limit_switch_negative": 17,
        "limit_switch_positive": 18,
        "next_index_negative": 33,
        "next_index_positive": 34,
    }
)

_OPEN: Final = Traits("", None, None, None, None, None, None, None, None)


def normalised(method: Method) -> Method:
    """Give the number of a neutral name that means exactly one number, anything else unchanged.

    ``current_position`` stays a name because it is both 35 and 37.
    """
    return _ONE_NUMBER.get(method, method) if isinstance(method, str) else method


def traits(method: Method) -> Traits | None:
    """Give the traits of a method, None for reserved numbers and those of the maker."""
    return NAMED.get(method) if isinstance(method, str) else NUMBERED.get(method)


def _known(method: Method) -> Traits:
    return traits(method) or _OPEN


def uses_index(method: Method) -> bool | None:
    """Tell whether the reference is an index pulse."""
    return _known(method).index


def uses_home_switch(method: Method) -> bool | None:
    """Tell whether the method needs a home switch."""
    return _known(method).home_switch


def uses_limit_switch(method: Method) -> bool | None:
    """Tell whether the method needs a limit switch, as its reference or to reverse at."""
    return _known(method).uses_limit_switch


def limit_switch(method: Method) -> Direction | None:
    """Give the side of the limit switch that the method needs; None if it needs none, or open."""
    return _known(method).limit_switch


_SEVERAL: Final = MappingProxyType(
    {
        "home_switch_positive_index": (3, 4, 7, 8, 9, 10),
        "home_switch_negative_index": (5, 6, 11, 12, 13, 14),
        "home_switch_positive": (19, 20, 23, 24, 25, 26),
        "home_switch_negative": (21, 22, 27, 28, 29, 30),
    }
)
"""The numbers that a neutral name can mean: they meet different edges of the home switch."""


def means_several(method: Method) -> bool:
    """Tell whether the method is a neutral name that several numbers of the standard can mean."""
    return method in _SEVERAL


def meant_method(method: Method, place: int) -> int | None:
    """Give one of the six numbers that a neutral name can mean, by its place from 1; else None."""
    numbers = _SEVERAL.get(str(method), ())
    return numbers[int(place) - 1] if 1 <= place <= len(numbers) else None


def needs_held_switch(method: Method) -> bool | None:
    """Tell whether the home switch must stay actuated to the travel end (3 to 6, 19 to 22)."""
    return _known(method).held_switch


def uses_hard_stop(method: Method) -> bool | None:
    """Tell whether the axis is driven against a hard stop (only neutral names say so)."""
    return _known(method).hard_stop


def sets_current_position(method: Method) -> bool | None:
    """Tell whether the method takes the axis where it stands (35, 37) without any motion."""
    return _known(method).current_position


def search_direction(method: Method) -> Direction | None:
    """Give the direction in which the search starts, None where it depends or is open."""
    return _known(method).search


def approach_direction(method: Method) -> Direction | None:
    """Give the direction of the last move, in which the reference is met; None where open."""
    return _known(method).approach


def searches_negative(method: Method) -> bool | None:
    """Tell whether the reference is searched in the negative direction by an axis that is on no
    switch; False if in the positive one, None if the method is open or there is no search.
    """
    known = _known(method)
    return _is_negative(known.search or known.held_side)


def approaches_negative(method: Method) -> bool | None:
    """Tell whether the reference is met in the negative direction; None if open or no motion."""
    return _is_negative(_known(method).approach)


def _is_negative(direction: Direction | None) -> bool | None:
    return None if direction is None else direction == "negative"


def is_makers_own(method: Method) -> bool:
    """Tell whether the number is one of the maker's own, of which nothing is known (negative)."""
    return not isinstance(method, str) and method < 0


def is_reserved(method: Method) -> bool:
    """Tell whether the standard reserves the number without a meaning."""
    return not isinstance(method, str) and (method in RESERVED or method > max(NUMBERED))


def is_withdrawn(method: Method) -> bool:
    """Tell whether the standard has given the number up (35, now 37)."""
    return method in WITHDRAWN


def method_words(method: Method) -> str:
    """Say what the method is, such as ``method 1 (negative limit switch and index pulse)``."""
    found = traits(method)
    if isinstance(method, str):
        return found.words if found else method
    if found:
        return f"method {method} ({found.words}{', withdrawn' if is_withdrawn(method) else ''})"
    return f"method {method} ({'the maker’s own' if method < 0 else 'reserved'})"
