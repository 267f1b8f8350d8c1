"""The algebra of dimensions, and their names."""

from __future__ import annotations

from axisproof.numbers.dimensions import dim, dim_div, dim_mul, dim_pow, dim_words


def test_dimensions_multiply_divide_and_raise() -> None:
    speed = dim(length=1, time=-1)
    assert dim_div(dim(length=1), dim(time=1)) == speed
    assert dim_mul(speed, dim(time=1)) == dim(length=1)
    assert dim_mul(speed, dim_pow(speed, -1)) == ()
    assert dim_pow(speed, 2) == dim(length=2, time=-2)
    assert dim_pow(speed, 0) == dim() == ()
    assert dim(time=0, length=1) == (("length", 1),)


def test_dimensions_have_everyday_names() -> None:
    assert dim_words(dim(length=2, mass=1, time=-2, angle=-1)) == "torque"
    assert dim_words(dim(angle=1, time=-1)) == "angular speed"
    assert dim_words(()) == "plain number"
    assert dim_words(dim(length=1, time=-4)) == "length·time^-4"
    table = "position:axis table"
    assert dim_words(((table, 1), ("time", -1))) == "position speed"
    other = dim(**{table: 1, "position:axis x": -1})
    assert dim_words(other) == "position:axis table·position:axis x^-1"
