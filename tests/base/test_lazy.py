"""The quick frozen dataclasses against the real ones: whatever is done to both comes out alike."""

import copy
import dataclasses
import pickle
from functools import cached_property
from typing import Any, ClassVar

import pytest
from axisproof.base import lazy as light
from hypothesis import given
from hypothesis import strategies as st


def both(slots: bool, order: bool) -> tuple[type, type]:
    made: list[type] = []
    for how in (light.dataclass, dataclasses.dataclass):
        field = light.field if how is light.dataclass else dataclasses.field

        class Thing:
            a: "int"
            b: "str"
            c: "list[int]" = field(default_factory=list)
            d: "int" = 7
            kind: "ClassVar[str]" = "thing"

            @property
            def double(self) -> int:
                return 2 * self.a

        # Both kinds need their annotations as text, as `from __future__ import annotations` does.
        made.append(how(frozen=True, slots=slots, order=order)(Thing))
    return made[0], made[1]


@light.dataclass(frozen=True, slots=True, order=True)
class Spot:
    line: "int"
    column: "int" = 1


@light.dataclass(frozen=True)
class Text:
    text: "str"
    read: "Any" = light.field(repr=False)

    @cached_property
    def length(self) -> int:
        return len(self.text)


@light.dataclass(frozen=True, slots=True, eq=False)
class Pin:
    name: "str"


def outcome(action: Any) -> Any:
    """What an action gives, or which kind of error it raises; objects told apart by their repr."""
    try:
        found = action()
    except Exception as error:
        return type(error)
    return repr(found)


ARGUMENTS = st.tuples(
    st.lists(st.integers(0, 2), max_size=5),
    st.dictionaries(st.sampled_from("abcdef"), st.integers(0, 2), max_size=4),
)


@pytest.mark.parametrize("slots", [True, False])
@given(arguments=ARGUMENTS, others=ARGUMENTS)
def test_making_comparing_and_changing_is_as_with_the_real_ones(
    slots: bool, arguments: Any, others: Any
) -> None:
    quick, real = KINDS[slots]
    (given_values, named), (other_given, other_named) = arguments, others
    assert outcome(lambda: quick(*given_values, **named)) == outcome(
        lambda: real(*given_values, **named)
    )
    for action in (
        lambda cls: cls(*given_values, **named) == cls(*other_given, **other_named),
        lambda cls: cls(*given_values, **named) < cls(*other_given, **other_named),
        lambda cls: cls(*given_values, **named) >= cls(*other_given, **other_named),
        lambda cls: hash(cls(*given_values, **named)),
        lambda cls: hash(cls(1, 2, 3, *other_given)),
        lambda cls: dataclasses.asdict(cls(*given_values, **named)),
        lambda cls: dataclasses.replace(cls(*given_values, **named), **other_named),
        lambda cls: light.replace(cls(*given_values, **named), **other_named),
        lambda cls: copy.deepcopy(cls(*given_values, **named)),
        lambda cls: cls(*given_values, **named).double,
        lambda cls: cls.__match_args__,
        lambda cls: [(f.name, f.default) for f in dataclasses.fields(cls) if f.name != "c"],
    ):
        assert outcome(lambda: action(quick)) == outcome(lambda: action(real))  # noqa: B023


KINDS = {slots: both(slots, True) for slots in (True, False)}


def test_a_default_that_is_made_is_made_anew_for_each() -> None:
    quick, _ = KINDS[True]
    quick(1, 2).c.append(3)
    assert quick(1, 2).c == []


def test_nothing_can_be_set_or_deleted() -> None:
    spot = Spot(1)
    with pytest.raises(dataclasses.FrozenInstanceError):
        spot.line = 2  # type: ignore[misc]
    with pytest.raises(dataclasses.FrozenInstanceError):
        del spot.line
    assert not hasattr(spot, "__dict__")


def test_it_counts_as_a_dataclass_and_a_real_one_can_extend_it() -> None:
    @dataclasses.dataclass(frozen=True)
    class Marked(Text):
        mark: int = 0

    assert dataclasses.is_dataclass(Spot(1))
    assert dataclasses.asdict(Spot(1)) == {"line": 1, "column": 1}
    assert [each.name for each in dataclasses.fields(Marked)] == ["text", "read", "mark"]
    assert Marked("abc", None, 2).length == 3


def test_it_can_be_pickled_and_copied() -> None:
    assert pickle.loads(pickle.dumps(Spot(3, 4))) == Spot(3, 4)
    assert copy.copy(Spot(3, 4)) == Spot(3, 4)
    assert pickle.loads(pickle.dumps(Text("abc", 1))).length == 3


def test_what_is_hidden_is_not_shown_and_what_has_no_default_is_wanted() -> None:
    assert repr(Text("abc", 1)) == "Text(text='abc')"
    with pytest.raises(TypeError, match="read"):
        Text("abc")  # type: ignore[call-arg]


def test_without_comparison_only_an_object_itself_is_equal() -> None:
    pin = Pin("a")
    assert pin == pin
    assert pin != Pin("a")
    assert len({pin, Pin("a")}) == 2


def test_other_kinds_are_never_equal_and_never_ordered() -> None:
    assert Spot(1) != (1, 1)
    assert Spot(1) != Pin("a")
    with pytest.raises(TypeError):
        assert Spot(1) < (1, 1)  # type: ignore[operator]
