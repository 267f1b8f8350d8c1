"""Numbers: laws of arithmetic, error bounds that hold, questions that are decided or left open.

The truth behind an Approx is a Fraction chosen first; pi comes from the Gauss-Legendre iteration
below, which shares nothing with the module.
"""

from __future__ import annotations

import math
import operator

import pytest
from axisproof.numbers.digits_of_pi import PI_DIGITS, pi_bounds
from axisproof.numbers.exact import (
    Approx,
    Exact,
    Number,
    Pi,
    QuantityError,
    absolute,
    div,
    enclose,
    eq,
    maximum,
    minimum,
    to_approx,
    to_float,
    with_pi,
)
from axisproof.numbers.powers import MAX_BITS, bits, power, sqrt
from axisproof.numbers.rational import Fraction, norm
from axisproof.numbers.whole import (
    ceil,
    divides,
    floor,
    is_whole,
    nearest_remainder,
    nearest_whole,
    remainder,
)
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples
from tests.numbers.random_fractions import random_fractions


def gauss_legendre(digits: int) -> Fraction:
    """Pi to within 10^-digits (Brent-Salamin; Brent 1976)."""
    scale = 10 ** (digits + 20)
    a, b = scale, math.isqrt(scale * scale // 2)
    t, p = scale // 4, 1
    for _ in range(digits.bit_length() + 3):
        a_next = (a + b) // 2
        b = math.isqrt(a * b)
        t -= p * (a - a_next) ** 2 // scale
        a, p = a_next, 2 * p
    return Fraction((a + b) ** 2 // (4 * t), scale)


PI = gauss_legendre(250)
TINY = Fraction(1, 10**200)

rationals = st.one_of(
    st.integers(-(10**6), 10**6),
    random_fractions(-1000, 1000, max_denominator=10**5).map(norm),
    st.builds(Fraction, st.integers(-(10**25), 10**25), st.integers(1, 10**25)).map(norm),
)
exacts = st.builds(with_pi, rationals, st.integers(-3, 3))


def truth(value: Exact) -> Fraction:
    """The value as a fraction, right to about 200 digits."""
    if isinstance(value, Pi):
        return Fraction(value.coefficient) * Fraction(PI**value.exponent)
    return Fraction(value)


def holds(result: Number | None, true: Fraction) -> bool:
    assert result is not None
    if isinstance(result, Approx):
        if math.isinf(result.error):
            return True
        return abs(Fraction(result.value) - true) <= Fraction(result.error) + TINY
    return abs(truth(result) - true) <= TINY * (1 + abs(true))


@st.composite
def measured(draw: st.DrawFn) -> tuple[Number, Fraction]:
    """A number and the truth behind it: exact, or an Approx with the truth anywhere inside."""
    if draw(st.booleans()):
        exact = draw(exacts)
        return exact, truth(exact)
    value = draw(st.floats(-1e9, 1e9))
    error = draw(st.sampled_from([0.0, 1e-300, 1e-12, 1e-3, 2.0]))
    where = draw(random_fractions(-1, 1, max_denominator=7))
    return Approx(value, error), Fraction(value) + where * Fraction(error)


def test_the_stored_digits_of_pi_are_those_of_an_independent_iteration() -> None:
    assert int(PI_DIGITS) == math.floor(PI * 10 ** (len(PI_DIGITS) - 1))
    for digits in (20, 100, 149, 150, 200, 240):
        low, high = pi_bounds(digits)
        assert low < PI < high
        assert high - low == Fraction(1, 10**digits)


@given(exacts, exacts, exacts)
def test_exact_numbers_obey_the_laws_of_a_ring_as_far_as_they_stay_exact(
    a: Exact, b: Exact, c: Exact
) -> None:
    assert eq(a + b, b + a) is not False
    assert a * b == b * a
    assert (a * b) * c == a * (b * c)
    assert eq((a + b) + c, a + (b + c)) is not False
    assert eq(a * (b + c), a * b + a * c) is not False
    assert a + 0 == a
    assert a * 1 == a
    assert a * 0 == 0
    assert a - a == 0
    assert -a + a == 0
    for number in (a * b, a - a, a + a):
        assert not isinstance(number, Approx)


@given(measured(), measured())
@examples(2)
def test_sums_products_and_quotients_hold_the_true_value(
    first: tuple[Number, Fraction], second: tuple[Number, Fraction]
) -> None:
    (a, x), (b, y) = first, second
    assert holds(a + b, x + y)
    assert holds(a - b, x - y)
    assert holds(a * b, x * y)
    assert holds(-a, -x)
    assert holds(absolute(a), abs(x))
    quotient = div(a, b)
    if quotient is not None:
        assert holds(quotient, x / y)
    else:
        assert not y or isinstance(b, Approx)


@given(measured(), st.integers(-5, 6))
def test_powers_and_roots_hold_the_true_value(first: tuple[Number, Fraction], n: int) -> None:
    a, x = first
    raised = power(a, n)
    if raised is not None:
        assert holds(raised, x**n)
    root = sqrt(a)
    if root is None:
        assert x < 0 or isinstance(a, Approx)
    else:
        low, high = (Fraction(root.value) + sign * Fraction(root.error) for sign in (-1, 1))
        assert max(low, Fraction(0)) ** 2 <= x * (1 + TINY)
        assert x * (1 - TINY) <= high**2


@given(exacts)
def test_the_float_of_an_exact_number_is_right_to_a_few_units_in_the_last_place(a: Exact) -> None:
    near = to_approx(a)
    assert holds(near, truth(a))
    assert near.error <= 8 * math.ulp(near.value) + 1e-318
    assert to_float(a) == near.value


@given(measured(), measured())
@examples(1.5)
def test_an_ordering_is_right_whenever_it_is_decided(
    first: tuple[Number, Fraction], second: tuple[Number, Fraction]
) -> None:
    (a, x), (b, y) = first, second
    for said, true in ((a < b, x < y), (a <= b, x <= y), (a > b, x > y), (a >= b, x >= y)):
        assert said is None or said is true
        if not isinstance(a, Approx) and not isinstance(b, Approx):
            assert said is true
    same = eq(a, b)
    assert same is None or same is (a == b)
    if same is False:
        assert x != y


@given(rationals, st.integers(-40, 40).filter(bool))
def test_a_rational_next_to_a_power_of_pi_is_ordered_beyond_the_stored_digits(
    q: int | Fraction, k: int
) -> None:
    coefficient = q or 1
    near = coefficient * PI**k
    margin = abs(near) / 10**220
    assert (Pi(coefficient, k) < near + margin) is True
    assert (near - margin < Pi(coefficient, k)) is True
    assert (Pi(coefficient, k) >= near + margin) is False


@pytest.mark.parametrize("exponent", [-3, -1, 1, 2])
@pytest.mark.parametrize("coefficient", [Fraction(-7, 3), 2])
def test_an_enclosure_holds_the_value_and_closes_in(
    coefficient: int | Fraction, exponent: int
) -> None:
    value = Pi(coefficient, exponent)
    for digits in (30, 120):
        low, high = enclose(value, digits)
        assert low < truth(value) < high
        assert high - low < Fraction(1, 10 ** (digits - 3))


def test_convergents_of_pi_fall_on_their_known_sides() -> None:
    # Hardy & Wright, An Introduction to the Theory of Numbers, chapter X: convergents of pi.
    pi = Pi(1, 1)
    assert (Fraction(22, 7) > pi) is True
    assert (Fraction(333, 106) < pi) is True
    assert (Fraction(355, 113) > pi) is True
    assert (Fraction(103993, 33102) < pi) is True
    assert (Pi(1, 2) < 10) is True
    assert (Pi(1, 2) > Pi(3, 1)) is True


def test_numbers_take_their_simplest_form() -> None:
    assert Pi(2, 1) * Pi(Fraction(1, 2), -1) == 1
    assert type(Pi(2, 1) * Pi(Fraction(1, 2), -1)) is int
    assert Pi(2, 1) - Pi(2, 1) == 0
    assert Pi(2, 1) * 0 == 0
    assert Pi(Fraction(4, 2), 1).coefficient == 2
    assert type(Pi(Fraction(4, 2), 1).coefficient) is int
    assert type(div(6, 3)) is int
    assert div(Fraction(1, 2), Fraction(1, 4)) == 2
    assert div(1, Pi(2, 1)) == Pi(Fraction(1, 2), -1)
    assert isinstance(Pi(1, 1) + 1, Approx)


def test_numbers_on_the_left_hand_their_operations_over() -> None:
    pi, near = Pi(1, 1), Approx(2.0, 0.5)
    assert 2 * pi == Fraction(2) * pi == Pi(2, 1)
    assert operator.lt(3, pi) is True
    assert (Fraction(7, 2) < pi) is False
    assert operator.lt(1, near) is True
    assert (Fraction(5, 2) <= near) is None
    assert holds(1 - near, Fraction(-1))
    assert holds(Fraction(1, 3) + near, Fraction(7, 3))
    with pytest.raises(TypeError):
        operator.add(pi, "2")
    with pytest.raises(TypeError):
        operator.lt(near, "2")


def test_a_pi_or_approx_out_of_its_own_bounds_is_refused() -> None:
    for coefficient, exponent in ((0, 1), (1, 0)):
        with pytest.raises(ValueError, match="nonzero"):
            Pi(coefficient, exponent)
    with pytest.raises(ValueError, match="zero or more"):
        Approx(1.0, -1.0)


def test_dividing_by_what_may_be_zero_gives_nothing() -> None:
    for zero in (0, Fraction(0), Approx(0.0, 0.0), Approx(0.1, 0.2), Approx(-0.1, 0.1)):
        assert div(1, zero) is None
        assert remainder(1, zero) is None
        assert nearest_remainder(1, zero) is None
        assert divides(zero, 1) is None
        assert power(zero, -1) is None


def test_equality_is_decided_for_exact_numbers_and_never_affirmed_for_rounded_ones() -> None:
    assert eq(Fraction(2, 2), 1) is True
    assert eq(Pi(1, 1), Pi(1, 2)) is False
    assert eq(Pi(1, 1), Fraction(355, 113)) is False
    assert eq(Approx(1.0, 0.0), 1) is None
    assert eq(Approx(1.0, 1e-9), 1 + Fraction(1, 10**6)) is False


def test_a_value_inside_the_error_bound_stays_undecided() -> None:
    near = Approx(10.0, 0.25)
    assert (near < Fraction(41, 4)) is None
    assert (near < 11) is True
    assert (near > 11) is False
    assert (near <= 10) is None
    root = sqrt(2)
    assert root is not None
    assert (root * root <= 2) is None


def test_numbers_beyond_the_range_of_floats_are_open_but_never_wrong() -> None:
    huge = 10**400
    assert to_approx(huge) == Approx(0.0, math.inf)
    assert (to_approx(huge) > 1) is None
    assert (Pi(huge, 1) > huge) is True
    assert (Pi(Fraction(1, huge), 1) < Fraction(3, huge)) is False
    assert to_float(huge) == math.inf
    assert to_float(-huge) == -math.inf
    assert floor(to_approx(huge)) is None
    root = sqrt(huge)
    assert root is not None
    assert root.value == 1e200
    assert holds(Approx(1e308, 0.0) + Approx(1e308, 0.0), Fraction(2 * 10**308))
    assert to_approx(huge) * 0 == 0


def test_roots_of_perfect_squares_are_whole_and_negative_roots_are_refused() -> None:
    assert sqrt(144) == Approx(12.0, 0.0)
    assert sqrt(Fraction(9, 4)) == Approx(1.5, 0.0)
    assert sqrt(0) == Approx(0.0, 0.0)
    assert sqrt(-1) is None
    assert sqrt(Pi(-1, 1)) is None
    assert sqrt(Approx(0.1, 0.2)) is None


def test_a_root_next_to_zero_holds_both_ends_of_the_error_bound() -> None:
    root = sqrt(Approx(1.0, 1.0))
    assert root is not None
    assert root.value - root.error <= 0
    assert (root.value + root.error) ** 2 >= 2


@given(measured(), measured())
def test_rounding_to_whole_numbers_is_right_whenever_it_is_decided(
    first: tuple[Number, Fraction], second: tuple[Number, Fraction]
) -> None:
    (a, x), (b, y) = first, second
    away = math.floor(abs(x) + Fraction(1, 2)) * (1 if x >= 0 else -1)
    for said, true in (
        (floor(a), math.floor(x)),
        (ceil(a), math.ceil(x)),
        (nearest_whole(a), away),
    ):
        assert said is None or said == true
        assert said is not None or isinstance(a, Approx)
    whole = is_whole(a)
    assert whole is None or whole is (x.denominator == 1 and not isinstance(a, Pi))
    left = remainder(a, b)
    if left is not None:
        assert holds(left, x - y * math.floor(x / y))
    signed = nearest_remainder(a, b)
    if signed is not None:
        rest = x - abs(y) * math.ceil(x / abs(y) - Fraction(1, 2))
        assert holds(signed, rest)
        assert -abs(y) / 2 < rest <= abs(y) / 2


def test_halves_round_away_from_zero() -> None:
    assert nearest_whole(Fraction(5, 2)) == 3
    assert nearest_whole(Fraction(-5, 2)) == -3
    assert nearest_whole(Approx(2.5, 0.0)) == 3
    assert nearest_whole(Approx(-2.5, 0.0)) == -3
    assert nearest_whole(Approx(2.5, 0.1)) is None
    assert nearest_whole(Pi(-1, 1)) == -3


def test_the_shift_per_wrap_of_a_seven_to_one_table_is_two_sevenths_of_a_turn() -> None:
    # shared/domain.md section 2: N = 65536 leaves 2/7 turn per wrap, N = 65534 nothing.
    per_turn = Fraction(360, 7)
    assert nearest_remainder(65536 * per_turn, 360) == Fraction(720, 7)
    assert nearest_remainder(65534 * per_turn, 360) == 0
    assert nearest_remainder(65535 * per_turn, 360) == per_turn
    assert nearest_remainder(180, 360) == 180
    assert nearest_remainder(-180, 360) == 180
    assert nearest_remainder(180, -360) == 180
    assert nearest_remainder(-180, -360) == 180
    assert divides(7, 65534) is True
    assert divides(7, 65536) is False
    assert divides(Pi(1, 1), Pi(7, 1)) is True
    assert divides(Pi(1, 1), 7) is False
    assert divides(Approx(0.5, 1e-9), 7) is None


@given(st.lists(measured(), min_size=1, max_size=5))
def test_the_least_and_the_greatest_hold_the_true_ones(
    pairs: list[tuple[Number, Fraction]],
) -> None:
    numbers, truths = zip(*pairs, strict=True)
    assert holds(minimum(numbers), min(truths))
    assert holds(maximum(numbers), max(truths))


def test_the_least_of_nothing_is_nothing() -> None:
    assert minimum([]) is None
    assert maximum([]) is None
    assert maximum([3, Pi(1, 1), Fraction(25, 8)]) == Pi(1, 1)


def test_powers_beyond_the_cap_are_refused_before_they_are_computed() -> None:
    for base, exponent in ((10, 10**9), (Fraction(1, 10), 10**9), (Pi(1, 1), 10**9), (3, -(10**9))):
        with pytest.raises(QuantityError, match="too large"):
            power(base, exponent)
    assert power(-1, 10**9 + 1) == -1
    assert power(1, 10**9) == 1
    assert power(0, 5) == 0
    assert power(7, 0) == 1
    widest = power(2, MAX_BITS - 1)
    assert widest is not None
    assert bits(widest) == MAX_BITS
    assert bits(Pi(Fraction(1, 8), 2)) == 4


@pytest.mark.parametrize("sign", [1, -1])
def test_a_power_of_pi_is_refused_where_the_limit_is_and_not_before(sign: int) -> None:
    most = (MAX_BITS - 1) // 2
    assert power(Pi(1, sign), most) == Pi(1, sign * most)
    with pytest.raises(QuantityError, match="too large"):
        power(Pi(1, sign), most + 1)


@pytest.mark.parametrize("size", [1e-6, 1.0, 1e6])
def test_the_least_of_numbers_that_overlap_is_bound_hardly_wider_than_they_leave_it(
    size: float,
) -> None:
    one, two = Approx(10 * size, size), Approx(10.5 * size, size)
    for found, low, high in ((minimum([one, two]), 9, 11), (maximum([one, two]), 9.5, 11.5)):
        assert isinstance(found, Approx)
        assert found.value - found.error <= low * size
        assert found.value + found.error >= high * size
        assert found.error <= (high - low) / 2 * size * (1 + 1e-9)
