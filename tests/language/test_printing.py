"""Formulas as an engineer writes them, with parentheses that a reader can trust."""

from __future__ import annotations

from typing import Any

import pytest
from axisproof.base.absence import NONE, PRESENT
from axisproof.language.operator_entry import ATOM, VALUE
from axisproof.language.printing import (
    exact,
    formula,
    in_formula,
    inline,
    text_of,
    unit_for,
    value_text,
)
from axisproof.language.syntax import DATE, FLAG, METHOD, TEXT, Expr, Type
from axisproof.numbers.dimensions import dim
from axisproof.numbers.exact import Approx, Pi
from axisproof.numbers.rational import Fraction
from axisproof.numbers.units import UNITS
from hypothesis import HealthCheck, given, settings

from tests.language.evaluating import checked, unless_refused
from tests.language.random_rules import BEFORE, flags

TIME = Type("number", dim(time=1))

SIGNS = str.maketrans({"×": "*", "÷": "/", "−": "-", "≤": "<=", "≥": ">="} | {
    sign: f"^{power}" for power, sign in enumerate("¹²³⁴", 1)})  # fmt: skip


def requirement(text: str) -> Expr:
    return checked(text, before=BEFORE).rules[0].require


def as_language(expr: Expr) -> str:
    """The formula in the signs of the rule language."""

    def leaf(node: Expr) -> tuple[str, int] | None:
        if node.op in ("fact", "derived"):
            return f"{node.data[0]}.{node.data[1]}", ATOM
        if node.op in ("num", "period"):
            return node.data[1], ATOM if node.data[1].isdigit() else VALUE
        return None

    return formula(expr, leaf).translate(SIGNS)


@settings(suppress_health_check=list(HealthCheck))
@given(flags(4))
def test_a_formula_read_again_is_the_same_tree(text: str) -> None:
    tree = unless_refused(lambda: requirement(text))
    assert requirement(as_language(tree)) == tree


@pytest.mark.parametrize(
    ("written", "printed"),
    [
        ("axis.drive.node * 2 + 1 <= 7", "drive.node × 2 + 1 ≤ 7"),
        ("(axis.drive.node + 1) * 2 = 7", "(drive.node + 1) × 2 = 7"),
        ("axis.drive.node - (1 - 2) = 7", "drive.node − (1 − 2) = 7"),
        ("axis.drive.node / (2 / 3) = 7", "drive.node ÷ (2 ÷ 3) = 7"),
        ("axis.drive.node / 2 / 3 = 7", "drive.node ÷ 2 ÷ 3 = 7"),
        ("-(axis.drive.node + 1) = 7", "−(drive.node + 1) = 7"),
        ("-(-axis.drive.node) = 7", "−(−drive.node) = 7"),
        ("(-axis.drive.node)^2 = 7", "(−drive.node)² = 7"),
        ("-axis.drive.node^2 = 7", "−drive.node² = 7"),
        ("(axis.drive.node^2)^3 = 7", "(drive.node²)³ = 7"),
        ("(5mm)^2 = 5mm * 5mm", "(5 mm)² = 5 mm × 5 mm"),
        ("(1 = 1 or 2 = 2) and 3 = 3", "(1 = 1 or 2 = 2) and 3 = 3"),
        ("not (1 = 1 and 2 = 2)", "not (1 = 1 and 2 = 2)"),
        ("axis.motion is not linear", "motion is not linear"),
        ("not axis.motion is linear", "motion is not linear"),
        ("axis.motion is not one of [linear, rotary]", "motion is not one of [linear, rotary]"),
        ("axis.drive.node is not whole", "drive.node is not whole"),
        ("1mm within 5mm of 3mm", "1 mm within 5 mm of 3 mm"),
        ("1 between 0.5 and 3/2", "1 between 0.5 and 3 ÷ 2"),
        ("(axis.drive.node default 1) + 1 = 2", "(drive.node default 1) + 1 = 2"),
        ("(1 if true else 2) = 1", "(1 if true else 2) = 1"),
        ("every s in axis.mechanics.stages has (s.reversing and strict)",
         "every s in mechanics.stages has (s.reversing and strict)"),
        ("(every s in axis.mechanics.stages has s.reversing) and strict",
         "(every s in mechanics.stages has s.reversing) and strict"),
        ("(sum of s.ratio for s in axis.mechanics.stages where s.kind is belt) + 1 = 2",
         "(sum of s.ratio for s in mechanics.stages where s.kind is belt) + 1 = 2"),
        ("(count of s in axis.mechanics.stages where (s.reversing or strict)) = 2",
         "(count of s in mechanics.stages where (s.reversing or strict)) = 2"),
        ("(count of s in axis.mechanics.stages where false) = 2",
         "(count of s in mechanics.stages where false) = 2"),
        ("unique s.ratio + 1 for s in axis.mechanics.stages where s.reversing",
         "unique s.ratio + 1 for s in mechanics.stages where s.reversing"),
        ('axis.motor.serial is "A 1"', 'motor.serial is "A 1"'),
        ("90° < 1rev", "90° < 1 rev"),
        ("axis.drive.supported_homing_methods includes 3",
         "drive.supported_homing_methods includes 3"),
        ("min(1, 2) + (decimals of axis.mechanics.stated_ratio) = 3",
         "min(1, 2) + decimals of mechanics.stated_ratio = 3"),
        ("machine.description is axis.description", "machine.description is description"),
    ],
)  # fmt: skip
def test_a_formula_is_written_as_an_engineer_would(written: str, printed: str) -> None:
    assert formula(requirement(written)) == printed


def test_a_leaf_replaces_names_and_gets_parentheses_where_it_needs_them() -> None:
    expr = requirement("2 - axis.drive.node = axis.drive.node^2 * axis.drive.node")

    def leaf(node: Expr) -> tuple[str, int] | None:
        return in_formula("-5 mm") if node.op == "fact" else None

    assert formula(expr, leaf) == "2 − (-5 mm) = (-5 mm)² × (-5 mm)"
    assert text_of(expr, leaf)[1] < VALUE


LINEAR = {"axis": {"motion": "linear", "controller.units": "mm"}}
ROTARY = {"axis": {"motion": "rotary", "controller.units": "deg"}}
INCH = {"axis": {"motion": "linear", "controller.units": "in"}}


def position(**more: int) -> Type:
    bases = dim(**{"position:axis": 1, **more})
    return Type("number", bases)


@pytest.mark.parametrize(
    ("env", "type_", "unit"),
    [
        (LINEAR, position(), "mm"),
        (ROTARY, position(), "deg"),
        (INCH, position(), "in"),
        (LINEAR, position(time=-1), "mm/s"),
        (ROTARY, position(time=-2), "deg/s^2"),
        (LINEAR, position(angle=-1), "mm/rev"),
        (LINEAR, Type("number", dim(**{"count": 1, "position:axis": -1})), "count/mm"),
        (LINEAR, Type("number", dim(angle=1)), "rev"),
        ({"axis": {"motion": "rotary", "controller.units": "mm"}}, position(), "deg"),
    ],
)
def test_a_position_is_shown_in_the_user_unit_of_its_axis(
    env: dict[str, Any], type_: Type, unit: str
) -> None:
    assert unit_for(type_.dim, env) == unit


@pytest.mark.parametrize(
    ("value", "type_", "text"),
    [
        (None, TEXT, "unknown"),
        (NONE, TEXT, "none"),
        (PRESENT, Type("part"), "present"),
        (True, FLAG, "true"),
        (False, FLAG, "false"),
        ("x", TEXT, "x"),
        (20_487 * 86400, DATE, "2026-02-03"),
        (10**18, DATE, f"{10**18} s since 1970"),
        (Fraction(1, 2), DATE, "1/2 s since 1970"),
        ([], Type("list", item=TEXT), "an empty list"),
        (["a", "b"], Type("list", item=TEXT), "a, b"),
        ([{}, {}], Type("list", item=Type("record")), "2 entries"),
        ([{}], Type("list", item=Type("record")), "1 entry"),
        (Fraction(720, 7), Type("number"), "102.857… (720/7)"),
        (119, TIME, "119 s"),
        (216, TIME, "3.6 min"),
        (-7200, TIME, "-2 h"),
        (2246400, TIME, "26 d"),
        (Approx(7300.0, 1e-6), TIME, "≈ 2.02778 h"),
    ],
)
def test_a_value_is_shown_by_its_kind(value: Any, type_: Type, text: str) -> None:
    assert value_text(value, type_, {}) == text


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (Pi(Fraction(20, 3), 1), "mm", "20.9439… mm (20·π/3)"),
        (Fraction(1234567, 999), "mm", "1235.802… mm (1234567/999)"),
        (Fraction(1234567, 9999), "mm", "123.469… mm"),
        (Fraction(-1234567, 9999), "mm/s", "-123.469… mm/s"),
        (Fraction(1234567, 9999), "count/mm", "123.469… count/mm (1234567/9999)"),
        (Fraction(1234567, 9999), "", "123.469… (1234567/9999)"),
        (Pi(Fraction(1, 3), -2), "", "0.0337737…"),
        (Pi(5, 2), "mm", "49.34802… mm"),
        (Fraction(1, 3), "N", "0.333333… N"),
        (Pi(1, 1), "N·m", "3.14159… N·m"),
    ],
)
def test_an_exact_form_is_shown_where_somebody_can_use_it(value: Any, unit: str, text: str) -> None:
    """Of ratios and counts, and short ones of what is measured; never of forces and torques."""
    dimension = UNITS[unit].dimension if unit else ()
    base = value * UNITS[unit].factor if unit else value
    assert value_text(base, Type("number", dimension), {}, unit) == text


def test_a_homing_method_is_shown_in_words() -> None:
    assert "index" in value_text(34, METHOD, {})


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Fraction(720, 7), "720/7 mm"),
        (Fraction(5, 2), "2.5 mm"),
        (Pi(20, 1), "20·π mm"),
        (Approx(1.5, 1e-9), "≈ 1.5 mm"),
        (-3, "-3 mm"),
    ],
)
def test_within_a_formula_a_long_number_is_a_fraction(value: Any, text: str) -> None:
    assert inline(value, Type("number", dim(length=1)), {})[0] == text


def test_a_value_as_data_is_exact_or_bounded_or_text() -> None:
    ratio = Type("number")
    third = exact(Fraction(1, 3), ratio, {})
    assert (third["numerator"], third["denominator"]) == (1, 3)
    assert "text" not in third
    assert exact(Approx(1.5, 0.25), ratio, {})["error"] == pytest.approx(0.25)
    assert exact(NONE, ratio, {}) == {"text": "none"}
    assert exact("x", TEXT, {}) == {"text": "x"}
    # A number that Python would not turn into digits stays a text.
    assert set(exact(7**5000, ratio, {})) == {"text"}
