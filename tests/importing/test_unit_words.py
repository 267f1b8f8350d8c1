"""What exports call units: never another unit, and never a guess between two."""

from __future__ import annotations

from pathlib import Path

import pint
import pytest
from axisproof.base.errors import InputError
from axisproof.importing.unit_words import AmbiguousUnit, export_unit, plain_word, unit_words
from axisproof.numbers.units import KINDS, UNITS, units_of

from tests.importing.list_exports import UNITS as UNIT_ROWS
from tests.importing.list_exports import by_row

KNOWN = (
    ("Inc", "count", "counts"),
    ("Ink", "count", "counts"),
    ("inc/mm", "resolution", "counts/mm"),
    ("Ink/U", "resolution", "counts/rev"),
    ("U/min", "angular_speed", "rev/min"),
    ("Umdr./min", "angular_speed", "rev/min"),
    ("1/min", "angular_speed", "1/min"),
    ("min-1", "angular_speed", "1/min"),
    ("rpm", "angular_speed", "rpm"),
    ("об/мин", "angular_speed", "rev/min"),
    ("1/s", "angular_speed", "rev/s"),
    ("1/s", "rate", "1/s"),
    ("°", "angle", "°"),
    ("°/s", "position_speed", "°/s"),
    ('"', "length", "in"),
    ('"', "angle", "arcsec"),
    ("'", "angle", "arcmin"),
    ("mm/s", "position_speed", "mm/s"),
    ("[MM/SEC]", "speed", "mm/s"),
    ("mm/s**2", "acceleration", "mm/s^2"),
    ("m/s/s", "acceleration", "m/s^2"),
    ("mm/U", "feed", "mm/rev"),
    ("kg-cm2", "inertia", "kg·cm²"),
    ("in-lb", "torque", "lbf·in"),
    ("NM", "torque", "N·m"),
    ("Aeff", "current", "A"),
    ("Prozent", "ratio", "%"),
    ("-", "ratio", ""),
)


@pytest.mark.parametrize(("word", "kind", "unit"), KNOWN)
def test_a_trade_word_is_the_unit_it_stands_for(word: str, kind: str, unit: str) -> None:
    assert export_unit(word, kind) == unit


@pytest.mark.parametrize(
    ("word", "kind"),
    [("mm", "angle"), ("furlong", "length"), ("NM", "length"), ("pulse", "count"), ("-", "length")],
)
def test_another_word_is_no_unit(word: str, kind: str) -> None:
    assert export_unit(word, kind) is None


def test_a_spelling_of_the_machine_file_stays_what_it_is() -> None:
    for kind in KINDS:
        for unit in units_of(kind):
            assert export_unit(unit, kind) == unit


QUOTES = {'"', "″", "''", "'", "′"}
OF_BOTH = {"position", "position_speed", "position_acceleration", "position_jerk", "resolution"}


def test_only_quotes_and_the_grad_are_ambiguous_and_only_where_both_can_be_meant() -> None:
    several: dict[str, set[str]] = {}
    for kind in KINDS:
        for word in unit_words():
            try:
                export_unit(word, kind)
            except AmbiguousUnit:
                several.setdefault(word, set()).add(kind)
    for word, kinds in several.items():
        parts = set(word.split("/"))
        assert parts & (QUOTES | {"grad"}), word
        assert "grad" in parts or kinds <= OF_BOTH, word
    assert several['"'] == {"position"}
    assert several["grad"] == {"angle", "position"}


def test_no_word_hides_another_unit_of_its_kind() -> None:
    """What differs from a spelling of the machine file by case alone is that unit or unlike."""
    for name, unit in UNITS.items():
        for other in unit_words().get(plain_word(name), ()):
            same = UNITS[other].dimension == unit.dimension
            assert not same or UNITS[other].factor == unit.factor, (name, other)


@pytest.mark.parametrize(
    ("word", "unit"),
    [
        *(("inches", "in"), ("feet", "ft"), ("degrees", "deg"), ("arcsec", "arcsec")),
        *(("arcmin", "arcmin"), ("revolutions", "rev"), ("turns", "rev"), ("rpm", "rpm")),
        *(("minutes", "min"), ("hours", "h"), ("msec", "ms"), ("pounds", "lb"), ("tonnes", "t")),
        *(
            ("micron", "um"),
            ("radians", "rad"),
            ("grade", "gon"),
            ("amperes", "A"),
            ("joules", "J"),
        ),
    ],
)
def test_words_are_worth_what_the_reference_library_says(word: str, unit: str) -> None:
    """``pint`` is the reference for words that are English."""
    registry = pint.get_application_registry()
    wanted = {"in": "inch", "h": "hour", "t": "metric_ton", "min": "minute", "um": "micrometer"}
    other = wanted.get(unit, "revolution" if unit == "rev" else unit)
    spelled = {"msec": "millisecond", "tonnes": "tonne"}.get(word, word)
    if unit == "gon":
        assert float(registry.Quantity(1, "grade").to("degree").magnitude) == pytest.approx(0.9)
        other = "grade"
    ratio = registry.Quantity(1, spelled).to(other).magnitude
    assert float(ratio) == pytest.approx(1)
    assert unit in unit_words()[plain_word(word)]


# In a list ---------------------------------------------------------------------------------------

SPEED = "A: {to: drive.max_speed, unit: as_written}"


def test_a_list_may_use_trade_words(tmp_path: Path) -> None:
    assert by_row(tmp_path, SPEED, "A,4500,U/min", UNIT_ROWS) == {"drive.max_speed": "4500 rev/min"}


def test_the_unit_that_a_mapping_states_decides_an_ambiguous_word(tmp_path: Path) -> None:
    entry = "A: {to: controller.software_limits.min, unit: in}"
    row = 'A,5,""""'
    assert by_row(tmp_path, entry, row, UNIT_ROWS) == {"controller.software_limits.min": "5 in"}
    with pytest.raises(InputError, match="which is in or arcsec") as caught:
        by_row(tmp_path, entry.replace("in}", "as_written}"), row, UNIT_ROWS)
    assert caught.value.place is not None
    assert (caught.value.place.line, caught.value.place.column) == (2, 5)
    with pytest.raises(InputError, match="the unit of A"):
        by_row(tmp_path, entry.replace("in}", "mm}"), row, UNIT_ROWS)


def test_a_count_has_no_unit_of_measure(tmp_path: Path) -> None:
    entry = "A: {to: encoder.counts_per_revolution}"
    assert by_row(tmp_path, entry, "A,4096,Ink/U", UNIT_ROWS)
    assert by_row(tmp_path, entry, "A,4096,bits of ours", UNIT_ROWS)
    with pytest.raises(InputError, match="the unit of A is 'mm'"):
        by_row(tmp_path, entry, "A,4096,mm", UNIT_ROWS)
