"""Numbers as somebody writes them: read exactly, or refused with a short reason."""

from __future__ import annotations

import pytest
from axisproof.numbers.exact import QuantityError
from axisproof.numbers.rational import Fraction
from axisproof.numbers.written import parse_number


@pytest.mark.parametrize(
    ("text", "value", "decimals"),
    [
        ("0", 0, 0),
        ("-12", -12, 0),
        ("+12", 12, 0),
        ("62.50", Fraction(125, 2), 2),
        ("3.333", Fraction(3333, 1000), 3),
        ("1.5e-3", Fraction(3, 2000), 1),
        ("2E3", 2000, 0),
        ("1e30", 10**30, 0),
        ("720/7", Fraction(720, 7), 0),
        ("-14/7", -2, 0),
        ("1" * 40, int("1" * 40), 0),
        ("0." + "3" * 39, Fraction(int("3" * 39), 10**39), 39),
    ],
)
def test_a_written_number_is_read_exactly(text: str, value: int | Fraction, decimals: int) -> None:
    read = parse_number(text)
    assert read == (value, decimals)
    assert isinstance(read[0], int) or read[0].denominator > 1


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "not a number"),
        ("1_000", "not a number"),
        ("٣", "not a number"),
        ("½", "not a number"),
        (" 1", "not a number"),
        ("1\n", "not a number"),
        (".5", "not a number"),
        ("5.", "not a number"),
        ("--5", "not a number"),
        ("1.5/2", "not a number"),
        ("1/2/3", "not a number"),
        ("1/-2", "not a number"),
        ("nan", "not a number"),
        ("0x10", "not a number"),
        ("1/0", "divides by zero"),
        ("1e31", "power of ten"),
        ("1e-31", "power of ten"),
        ("1e001", "power of ten"),
        ("1" * 41, "41 digits"),
        ("1." + "1" * 40, "41 digits"),
        ("1/" + "1" * 40, "41 digits"),
        ("1e" + "9" * 100_000, "digits"),
        ("9" * 1_000_000, "1000000 digits"),
    ],
)
def test_what_is_not_a_usable_number_is_refused_with_a_short_reason(text: str, told: str) -> None:
    with pytest.raises(QuantityError, match=told) as caught:
        parse_number(text)
    assert caught.value.expected
    assert len(str(caught.value)) < 250 + 20 * min(len(text), 10)
