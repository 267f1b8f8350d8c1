"""The unit table, reading quantities, and the patterns a schema uses for them."""

from __future__ import annotations

import re
import sys

import jsonschema
import pytest
from axisproof.numbers.dimensions import DIMENSION_WORDS, dim, dim_div, dim_mul, dim_words
from axisproof.numbers.exact import Pi, QuantityError
from axisproof.numbers.rational import Fraction
from axisproof.numbers.units import (
    KINDS,
    UNITS,
    default_unit,
    in_unit,
    parse_quantity,
    pattern_of,
    suggest_unit,
    units_of,
)
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples
from tests.numbers.random_fractions import random_fractions


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("62.5 mm/s", Fraction(125, 2), "mm/s"),
        ("62.5mm/s", Fraction(125, 2), "mm/s"),
        ("360 deg", 1, "deg"),
        ("1 in", Fraction(127, 5), "in"),
        ("3000 rpm", 50, "rpm"),
        ("3000 1/min", 50, "1/min"),
        ("3000min^-1", 50, "min^-1"),
        ("1 m/min/mm", Fraction(50, 3), "m/min/mm"),
        ("2 rad", Pi(1, -1), "rad"),
        ("1 N·m", Pi(2 * 10**6, 1), "N·m"),
        ("1 Nm", Pi(2 * 10**6, 1), "Nm"),
        ("1 kg m^2", Pi(4 * 10**6, 2), "kg m^2"),
        ("1 kgm²", Pi(4 * 10**6, 2), "kgm²"),
        ("0 N·m", 0, "N·m"),
        ("1 lb", Fraction(45359237, 10**8), "lb"),
        ("1 year", 31557600, "year"),
        ("50 %", Fraction(1, 2), "%"),
        ("50%", Fraction(1, 2), "%"),
        ("0.5", Fraction(1, 2), ""),
        ("720/7 deg", Fraction(2, 7), "deg"),
        ("4 deg/rev", Fraction(1, 90), "deg/rev"),
        ("10000 count/mm", 10000, "count/mm"),
        ("1 count/deg", 360, "count/deg"),
    ],
)
def test_a_quantity_is_read_exactly_into_base_units(
    text: str, value: int | Fraction | Pi, unit: str
) -> None:
    quantity = parse_quantity(text)
    assert quantity.value == value
    assert quantity.unit == unit
    assert quantity.dimension == UNITS[unit].dimension


def test_a_quantity_keeps_how_it_was_written() -> None:
    quantity = parse_quantity("3.3330 mm/rev")
    assert quantity.written == Fraction(3333, 1000)
    assert quantity.decimals == 4


def test_the_speed_gain_unit_is_the_handbook_value() -> None:
    # shared/domain.md section 6: 1 (m/min)/mm = 16.667 1/s.
    value = in_unit(parse_quantity("1 m/min/mm").value, "1/s")
    assert isinstance(value, Fraction)
    assert round(float(value), 3) == 16.667


@pytest.mark.parametrize(
    ("text", "what", "expected"),
    [
        ("5 kgm3", "'kgm3' is not a known unit", "kgm"),
        ("3 MM", "'MM' is not a known unit", "'mm'"),
        ("3 Mm/s", "'Mm/s' is not a known unit", "'mm/s'"),
        ("3 degs", "'degs' is not a known unit", "'deg'"),
        ("3  mm", "' mm' is not a known unit", "'mm'"),
        ("3 mm ", "'mm ' is not a known unit", "'mm'"),
        ("3 ", "'3 ' ends in a space", "no space"),
        ("31/min", "'/min' is not a known unit", "a space before '1/min'"),
        ("1.51/min", "'/min' is not a known unit", "a space before '1/min'"),
        ("2/71/s", "'/s' is not a known unit", "a space before '1/s'"),
        ("1e91/s", "'/s' is not a known unit", "a space before '1/s'"),
        ("3 month", "'month' is not a known unit", "a unit such as"),
        ("3 Seconds", "'Seconds' is not a known unit", "'s'"),
        ("3 inches", "'inches' is not a known unit", "'in'"),
        ("3 mm\n", r"'mm\\n' is not a known unit", "'mm'"),
        ("mm", "'mm' does not begin with a number", "12"),
        ("", "'' does not begin with a number", "12"),
        ("1/0 mm", "divides by zero", "above 0"),
        ("1e40 mm", "power of ten", "30"),
        ("1" * 41 + " mm", "41 digits", "40"),
        ("3 " + "x" * 100_000, "is not a known unit", "unit"),
    ],
)
def test_what_is_not_a_quantity_is_refused_with_what_would_do(
    text: str, what: str, expected: str
) -> None:
    with pytest.raises(QuantityError, match=what) as caught:
        parse_quantity(text)
    assert expected in caught.value.expected
    assert len(str(caught.value)) < 300


@pytest.mark.parametrize(("kind", "base"), [("torque", "N·m"), ("inertia", "kg·m²")])
def test_every_compound_unit_has_a_spelling_without_spaces(kind: str, base: str) -> None:
    assert base in units_of(kind)
    by_factor: dict[object, list[str]] = {}
    for name, unit in UNITS.items():
        by_factor.setdefault((unit.dimension, unit.factor), []).append(name)
    for names in by_factor.values():
        assert any(" " not in name for name in names)


@given(st.sampled_from(sorted(UNITS)), random_fractions(-1000, 1000, max_denominator=1000))
def test_converting_to_a_unit_undoes_reading_from_it(name: str, number: Fraction) -> None:
    text = f"{number} {name}" if name else str(number)
    assert in_unit(parse_quantity(text).value, name) == number


def test_converting_to_an_unknown_unit_names_the_unit_and_a_near_one() -> None:
    with pytest.raises(QuantityError, match=r"'Nmm/s' is not a known unit\. Expected: perhaps"):
        in_unit(1, "Nmm/s")
    assert suggest_unit("N m", choices=["N·m", "mm"]) == "N·m"
    assert suggest_unit("zzzz") == ""


def test_every_unit_but_none_belongs_to_a_kind_of_its_dimension() -> None:
    named = {name for kind in KINDS for name in units_of(kind)}
    assert named == set(UNITS)
    for kind, dimensions in KINDS.items():
        assert {UNITS[name].dimension for name in units_of(kind)} == dimensions
        assert list(units_of(kind)) == sorted(units_of(kind))


def test_a_feed_in_degrees_per_turn_is_not_mistaken_for_a_ratio() -> None:
    assert "deg/rev" in units_of("feed")
    assert "deg/rev" not in units_of("ratio")
    assert "%" not in units_of("feed")


def test_the_kinds_have_the_dimensions_of_the_trade() -> None:
    assert KINDS["position"] == {dim(length=1), dim(angle=1)}
    assert KINDS["position_speed"] == {dim(length=1, time=-1), dim(angle=1, time=-1)}
    assert KINDS["inertia"] == {dim(mass=1, length=2, angle=-2)}
    assert KINDS["torque"] == {dim(mass=1, length=2, time=-2, angle=-1)}
    assert KINDS["rate"] == {dim(time=-1)}
    assert KINDS["resolution"] == {dim(count=1, length=-1), dim(count=1, angle=-1)}
    # P = torque * angular speed, P = force * speed, P = voltage * current
    assert KINDS["power"] == {dim(mass=1, length=2, time=-3)}
    assert KINDS["voltage"] == {dim(mass=1, length=2, time=-3, current=-1)}
    # voltage per angular speed, and torque per current (in SI units the same number)
    constant = dim(mass=1, length=2, time=-2, current=-1, angle=-1)
    assert KINDS["voltage_constant"] == {constant}


def test_power_is_torque_times_angular_speed_and_voltage_times_current() -> None:
    def base(text: str) -> object:
        return parse_quantity(text).value

    torque, speed = parse_quantity("3 N·m").value, parse_quantity("7 rad/s").value
    assert torque * speed == base("21 W")
    assert parse_quantity("24 V").value * parse_quantity("2 A").value == base("48 W")
    # E = J w^2 / 2: 2 kg·m² at 3 rad/s holds 9 J
    inertia, turning = parse_quantity("2 kg·m²").value, parse_quantity("3 rad/s").value
    assert inertia * turning * turning == base("18 J")
    assert parse_quantity("2 N").value * parse_quantity("500 mm").value == base("1 J")


number_texts = st.one_of(
    st.integers(-999, 999).map(str),
    st.from_regex(r"[+-]?[0-9]{1,3}(\.[0-9]{1,3})?([eE][+-]?[0-2]?[0-9])?", fullmatch=True),
    st.from_regex(r"[+-]?[0-9]{1,3}/[0-9]{1,3}", fullmatch=True),
    st.text("0123456789+-./eE", max_size=6),
)
unit_texts = st.one_of(
    st.sampled_from(sorted(UNITS)),
    st.text("0123456789/smin²^.µ °%kgN·", max_size=5),
)
texts = st.one_of(
    st.builds("{}{}{}{}".format, number_texts, st.sampled_from(["", " ", "  "]), unit_texts,
              st.sampled_from(["", "", "", " ", "\n", "1"])),
    st.builds("{}1{}".format, number_texts, unit_texts),
)  # fmt: skip


@given(texts)
@examples(4)
def test_the_pattern_of_a_kind_accepts_exactly_what_can_be_read_as_that_kind(text: str) -> None:
    try:
        unit = parse_quantity(text).unit
    except QuantityError as error:
        if "digits" in error.what or "power of ten" in error.what:
            return  # the caps are no part of the pattern
        for kind in KINDS:
            assert re.search(pattern_of(kind), text) is None
    else:
        for kind in KINDS:
            accepted = re.search(pattern_of(kind), text) is not None
            assert accepted is (unit in units_of(kind))


@given(st.sampled_from(sorted(KINDS)), st.data())
def test_what_a_pattern_generates_can_be_read(kind: str, data: st.DataObject) -> None:
    text = data.draw(st.from_regex(pattern_of(kind)).filter(lambda t: len(t) < 60))
    try:
        unit = parse_quantity(text).unit
    except QuantityError as error:
        told = error.what
    else:
        told = "digits" if unit in units_of(kind) else unit
    assert "digits" in told or "power of ten" in told


@pytest.mark.parametrize("kind", KINDS)
def test_a_pattern_uses_only_what_ecma_262_and_python_read_alike(kind: str) -> None:
    pattern = pattern_of(kind)
    assert pattern.startswith("^")
    assert pattern.endswith("$")
    assert not re.search(r"\(\?(?![:!])", pattern)  # groups: only (?: and (?!
    assert set(re.findall(r"\\(.)", pattern)) <= set("^$\\.*+?()[]{}|n")  # ECMA SyntaxCharacter
    jsonschema.Draft202012Validator.check_schema({"type": "string", "pattern": pattern})


def test_the_unit_shown_is_the_usual_one_or_a_product_of_base_units() -> None:
    for dimension in {unit.dimension for unit in UNITS.values()}:
        shown = default_unit(dimension)
        assert UNITS[shown].dimension == dimension
    assert default_unit(dim(angle=1, time=-1)) == "rpm"
    assert default_unit(dim(mass=1, length=2, angle=-2)) == "kg·m²"
    assert default_unit(dim(length=2)) == "mm²"
    assert default_unit(dim(length=1, time=-4)) == "mm/s^4"
    assert default_unit(dim(time=-2, mass=-1)) == "1/(kg·s²)"
    assert default_unit((("position:x", 1), ("time", -1))) == "unit/s"


def test_reading_a_quantity_needs_no_large_library() -> None:
    import subprocess

    code = "import sys, axisproof.numbers.units; print(*sys.modules)"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert not {"lark", "jsonschema", "yaml", "rich", "difflib", "click"} & set(run.stdout.split())


NAMED = {
    "plain number": "%",
    "length": "mm",
    "area": "mm mm",
    "volume": "mm mm mm",
    "angle": "deg",
    "time": "ms",
    "mass": "kg",
    "count": "counts",
    "current": "A",
    "speed": "mm/s",
    "acceleration": "mm/s²",
    "jerk": "mm/s³",
    "angular speed": "rpm",
    "angular acceleration": "rad/s²",
    "angular jerk": "rad/s³",
    "feed per turn": "mm / rev",
    "force": "N",
    "force constant": "N / A",
    "voltage per speed": "V / rpm",
    "energy": "J",
    "power": "W",
    "torque": "N·m",
    "inertia": "kg·m²",
    "voltage": "V",
    "rate": "Hz",
    "count rate": "counts/s",
    "counts per length": "counts / mm",
    "counts per angle": "counts / rev",
}


def test_a_dimension_is_called_what_its_units_measure() -> None:
    """``NAMED`` spells each by units, whose dimensions are held to pint's in tests/reference."""
    assert NAMED.keys() == {word for word in DIMENSION_WORDS.values() if "position" not in word}
    for word, spelled in NAMED.items():
        above, _, below = spelled.partition(" / ")
        dimension = dim()
        for unit in above.split():
            dimension = dim_mul(dimension, UNITS[unit].dimension)
        if below:
            dimension = dim_div(dimension, UNITS[below].dimension)
        assert dim_words(dimension) == word


def test_positions_are_named_as_lengths_are() -> None:
    for dimension, word in DIMENSION_WORDS.items():
        if "position" in word:
            length = tuple(sorted(("length" if b == "position" else b, n) for b, n in dimension))
            expected = DIMENSION_WORDS[length]
            told = word.replace("position per turn", "feed per turn").replace("position ", "")
            assert told.replace("position", "length") == expected
