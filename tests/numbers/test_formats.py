"""Numbers as words: what is said is exact, or says that it is not."""

from __future__ import annotations

import json
import math

import pytest
from axisproof.numbers.dimensions import dim
from axisproof.numbers.exact import Approx, Number, Pi, QuantityError, enclose
from axisproof.numbers.formats import (
    exact_json,
    say,
    say_exact,
    say_in_full,
    say_number,
    say_rounded,
)
from axisproof.numbers.rational import Fraction, read_fraction
from axisproof.numbers.units import parse_quantity
from axisproof.numbers.written import parse_number
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples
from tests.numbers.random_fractions import random_fractions


@pytest.mark.parametrize(
    ("value", "unit", "said"),
    [
        # shared/rule-language.md, "Messages"
        (Fraction(720, 7), "deg", "102.857… deg (720/7)"),
        (Fraction(125, 2), "", "62.5"),
        (65536, "", "65536"),
        (Pi(20, 1), "mm", "62.8318… mm (20·π)"),
        (Approx(math.pi, 1e-15), "N·m", "≈ 3.14159 N·m"),
        (0, "mm", "0 mm"),
        (Fraction(6, 2), "mm", "3 mm"),
        (Fraction(-1, 3), "%", "-0.333333… % (-1/3)"),
        (90, "°", "90°"),
        (Fraction(980665, 100000), "m/s²", "9.80665 m/s²"),
        (123456789012345, "count", "123456789012345 count"),
        (1234567890123456, "", "1.23456…e+15"),
        (10**20, "", "1e+20"),
        (Fraction(2469135, 2), "", "1234567… (2469135/2)"),
        (Fraction(100000012, 10**8), "", "1.0000001… (25000003/25000000)"),
        (65534 + Fraction(1, 2**16), "", "65534.00001… (4294836225/65536)"),
        (Fraction(-287500001, 10**7), "mm", "-28.7500001 mm"),
        (1 + Fraction(1, 10**30), "", "1.00000…"),
        (Fraction(1, 10**6), "", "0.000001"),
        (Fraction(5, 10**7), "", "5e-7"),
        (Fraction(10**12, 7), "", "142857142857…"),
        (Fraction(1, 3 * 10**9), "s", "3.33333…e-10 s (1/3000000000)"),
        (Pi(Fraction(-5, 3), -2), "rad", "-0.168868… rad (-5/(3·π^2))"),
        (Pi(10**12, 1), "", "3141592653589…"),
        (Approx(0.0, 0.0), "", "≈ 0"),
        (Approx(-2.0, 0.0), "s", "≈ -2 s"),
        (Approx(1234567.8, 1e-9), "mm", "≈ 1234568 mm"),
        (Approx(999999.7, 0.0), "", "≈ 1000000"),
        (Approx(2.5e-9, 0.0), "s", "≈ 2.5e-9 s"),
        (Approx(3.0, 0.25), "mm", "≈ 3 ± 0.2 mm"),
        (Approx(0.0, math.inf), "", "≈ a number out of reach"),
    ],
)
def test_a_number_is_said_as_agreed(value: Number, unit: str, said: str) -> None:
    assert say_number(value, unit) == said


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (Pi(1, 1), "π"),
        (Pi(-1, 2), "-π^2"),
        (Pi(1, -1), "1/π"),
        (Pi(3, -1), "3/π"),
        (Pi(Fraction(1, 2), 1), "π/2"),
        (Pi(Fraction(1, 2), -1), "1/(2·π)"),
        (Fraction(-3, 4), "-3/4"),
        (Fraction(1, 10**12), ""),
        (Pi(10**12, 1), ""),
    ],
)
def test_an_exact_form_is_said_as_a_fraction_with_pi(value: Fraction | Pi, said: str) -> None:
    assert say_exact(value) == said


def shown_digits(text: str) -> tuple[Fraction, Fraction, bool]:
    """The value shown, one unit of its last shown digit, and whether more digits follow."""
    head = text.partition(" (")[0]
    mantissa, _, tens = head.replace("…", "").partition("e")
    scale = Fraction(10) ** int(tens or 0)
    step = Fraction(1, 10 ** len(mantissa.partition(".")[2])) * scale
    return read_fraction(mantissa) * scale, step, "…" in head


values = st.one_of(
    st.integers(-(10**18), 10**18),
    random_fractions(-(10**6), 10**6, max_denominator=10**4),
    st.builds(Fraction, st.integers(-(10**6), 10**6), st.sampled_from([1, 10, 1000, 10**9, 3**30])),
    st.builds(
        Pi, random_fractions(-100, 100, max_denominator=99).filter(bool), st.sampled_from([-2, 1])
    ),
)


@given(values)
@examples(1.5)
def test_a_number_said_without_a_mark_is_exact_and_one_cut_is_cut_towards_zero(
    value: Number,
) -> None:
    text = say_number(value)
    assert isinstance(value, int | Fraction | Pi)
    true = enclose(value)[0] if isinstance(value, Pi) else Fraction(value)
    shown, step, cut = shown_digits(text)
    if cut:
        assert shown * true >= 0
        assert 0 < abs(true) - abs(shown) < step
        if "(" in text and not isinstance(value, Pi):
            assert parse_number(text.partition("(")[2].rstrip(")"))[0] == value
    else:
        assert shown == true


def test_a_product_with_pi_next_to_a_round_number_is_cut_on_its_own_side() -> None:
    _, above = enclose(Pi(1, -1), 140)
    assert say_number(Pi(above, 1)) == "1.00000…"
    below, _ = enclose(Pi(1, -1), 140)
    assert say_number(Pi(below, 1)) == "0.999999…"


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_rounded_number_is_said_to_six_digits(value: float) -> None:
    text = say_number(Approx(value, 0.0))
    assert text.startswith("≈ ")
    assert float(text[2:]) == pytest.approx(value, rel=5.1e-6, abs=1e-306)


def test_a_quantity_is_said_in_its_usual_unit_or_the_one_asked_for() -> None:
    speed = parse_quantity("1500 rpm")
    assert say(speed.value, speed.dimension) == "1500 rpm"
    assert say(speed.value, speed.dimension, "deg/s") == "9000 deg/s"
    assert say(speed.value, speed.dimension, "rad/s") == "157.079… rad/s (50·π)"
    inertia = parse_quantity("0.002 kgm2")
    assert say(inertia.value, inertia.dimension) == "0.002 kg·m²"
    assert say(5, dim(length=1, time=1)) == "5 mm·s"
    assert say(5, (("position:x", 1), ("time", -1))) == "5 unit/s"
    assert say(Fraction(1, 2), (), "%") == "50 %"
    with pytest.raises(QuantityError, match="'furlong' is not a known unit"):
        say(1, dim(length=1), "furlong")


def test_numbers_go_into_json_with_all_that_makes_them_exact() -> None:
    assert exact_json(Fraction(720, 7), "deg") == {
        "numerator": 720,
        "denominator": 7,
        "pi_power": 0,
        "unit": "deg",
        "text": "102.857… deg (720/7)",
    }
    assert exact_json(Pi(Fraction(1, 2), -1), "turn") == {
        "numerator": 1,
        "denominator": 2,
        "pi_power": -1,
        "unit": "turn",
        "text": "0.159154… turn (1/(2·π))",
    }
    assert exact_json(Approx(2.5, 0.0), "s") == {
        "value": 2.5,
        "error": 0.0,
        "unit": "s",
        "text": "≈ 2.5 s",
    }
    unbounded = exact_json(Approx(0.0, math.inf), "s")
    assert json.loads(json.dumps(unbounded, allow_nan=False))["value"] is None


@pytest.mark.parametrize(
    ("value", "unit", "said"),
    [
        (Fraction(720, 7), "deg", "102.9 deg"),
        (Fraction(-720, 7), "deg", "-102.9 deg"),
        (Fraction(23592960, 7), "deg", "3370000 deg"),
        (Fraction(9, 10), "N·m", "0.9 N·m"),
        (Fraction(99996, 10), "rpm", "10000 rpm"),
        (Fraction(123450, 10**9), "s", "0.0001235 s"),
        (Fraction(1, 3 * 10**9), "s", "3.333e-10 s"),
        (Pi(20, 1), "mm", "62.83 mm"),
        (Pi(-20, 1), "mm", "-62.83 mm"),
        (Approx(1.404691, 1e-9), "N·m", "1.405 N·m"),
        (Approx(3.0, 0.25), "mm", "3 ± 0.2 mm"),
        (Approx(0.0, math.inf), "mm", "a number out of reach"),
        (0, "mm", "0 mm"),
        (90, "°", "90°"),
    ],
)
def test_a_computed_value_has_four_digits_for_people(value: Number, unit: str, said: str) -> None:
    assert say_rounded(value, unit) == said


@pytest.mark.parametrize(
    ("value", "way", "said"),
    [
        (Fraction(211, 3), 1, "70.34"),
        (Fraction(211, 3), -1, "70.33"),
        (Fraction(-211, 3), 1, "-70.33"),
        (Fraction(-211, 3), -1, "-70.34"),
        (70, 1, "70"),
        (Pi(1, 1), 1, "3.142"),
        (Pi(1, 1), -1, "3.141"),
        (Approx(1.0, 1e-9), 1, "1.001"),
        (Approx(1.0, 1e-9), -1, "0.9999"),
    ],
)
def test_a_bound_is_rounded_to_the_side_that_passes(value: Number, way: int, said: str) -> None:
    assert say_rounded(value, way=way) == said


@given(values, st.sampled_from([1, -1]))
@examples(0.5)
def test_a_value_rounded_up_is_never_below_itself(value: Number, way: int) -> None:
    shown = read_fraction(say_rounded(value, way=way))
    assert isinstance(value, int | Fraction | Pi)
    low, high = enclose(value) if isinstance(value, Pi) else (Fraction(value), Fraction(value))
    assert shown >= low if way > 0 else shown <= high
    assert abs(shown - low) <= abs(high) / 1000


def test_more_digits_stand_where_rounding_would_move_too_much() -> None:
    assert say_rounded(Fraction(131072, 10), finest=Fraction(1, 50)) == "13107.2"
    assert say_rounded(Fraction(1025, 1024), finest=Fraction(1, 10**7)) == "1.0009766"
    assert say_rounded(Fraction(1, 3), finest=Fraction(1, 10**30)) == "0.333333333333"
    assert say_rounded(Fraction(2, 3), way=1, finest=Pi(1, -14)) == "0.6666667"


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (131072, "131072"),
        (Fraction(65536, 7), "9362.29"),
        (Fraction(35000, 3), "11666.67"),
        (Fraction(1025, 1024), "1.001"),
    ],
)
def test_what_counts_has_all_its_digits(value: Number, said: str) -> None:
    assert say_rounded(value, whole=True) == said


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (Fraction(512, 125), "4.096 mm"),
        (Fraction(1, 3), "1/3 mm"),
        (123456789012, "123456789012 mm"),
        (Fraction(10**13, 3), "3333333333333.33 mm"),
        (Pi(20, 1), "62.83185 mm"),
    ],
)
def test_a_value_to_enter_stands_in_full(value: Number, said: str) -> None:
    assert say_in_full(value, "mm") == said
