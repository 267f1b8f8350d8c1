"""The rollover rule against a counter and a mechanism simulated count by count.

The simulation knows nothing of divisibility or remainders over cycles: it moves an axis by whole
counts, cycles power, and does what a controller without retained wraps does with the reading.
Source: the definition of the turn counter in CiA 406 (raw position runs 0 … R·N − 1 and wraps).
"""

from __future__ import annotations

from typing import Any

from axisproof.catalogue.catalogue import shipped
from axisproof.language.tracer import Tracer
from axisproof.machine.reader import read_plain
from axisproof.numbers.rational import Fraction
from hypothesis import given
from hypothesis import strategies as st

RULE = "rollover-divides-cycle"
COUNTS = 8  # per encoder revolution; small, so that wraps come soon


def axis(ratio: Fraction, turns: int, cycle: Fraction, able: int = 65536) -> dict[str, Any]:
    return {
        "motion": "rotary",
        "encoder": {
            "kind": "absolute_multiturn",
            "mounted_on": "motor",
            "counts_per_revolution": COUNTS,
            "distinguishable_revolutions": turns,
            "capability": {"distinguishable_revolutions": able},
        },
        "drive": {"encoder_use": "absolute"},
        "controller": {"type": "modulo", "cycle": f"{cycle} deg", "wraps_retained": False},
        "mechanics": {
            "stages": [{"motor_turns_per_load_turn": str(ratio)}],
            "final": {"kind": "rotary_table"},
        },
    }


def verdict_and_lets(plain: dict[str, Any]) -> tuple[int | None, dict[str, Any]]:
    machine = read_plain({"axes": {"axis": plain}})
    catalogue = shipped()
    entry = next(e for e in catalogue.entries if e.name == RULE)
    env = {"axis": machine.axes[0], "machine": machine.facts}
    verdict = entry.function(*(env[name] for name in entry.arguments))
    tracer = Tracer(catalogue.definitions, catalogue.defaults)
    traced = tracer.with_lets(catalogue.rules[RULE], env)
    return verdict, {k.removeprefix("let "): v.value for k, v in traced.items() if " " in k}


def nearest(value: Fraction, cycle: Fraction) -> Fraction:
    """Into (−C/2, C/2] by stepping, not by formula."""
    while value > cycle / 2:
        value -= cycle
    while value <= -cycle / 2:
        value += cycle
    return value


def into_cycle(value: Fraction, cycle: Fraction) -> Fraction:
    return value - cycle * (value // cycle)


class Simulated:
    """An axis that moves by counts, and a controller that has only the reading after power-on."""

    def __init__(self, ratio: Fraction, turns: int, cycle: Fraction) -> None:
        self.per_count = Fraction(360) / ratio / COUNTS  # deg of table per encoder count
        self.states = COUNTS * turns
        self.cycle = cycle
        self.reading = 0
        self.travelled = 0  # counts, the truth
        self.wraps = 0

    def move(self, counts: int) -> None:
        self.travelled += counts
        self.reading += counts
        while self.reading >= self.states:
            self.reading -= self.states
            self.wraps += 1
        while self.reading < 0:
            self.reading += self.states
            self.wraps -= 1

    def error_after_power_on(self) -> Fraction:
        """Indicated minus true position, as the nearest signed value."""
        indicated = into_cycle(self.reading * self.per_count, self.cycle)
        true = into_cycle(self.travelled * self.per_count, self.cycle)
        return nearest(indicated - true, self.cycle)


ratios = st.builds(Fraction, st.integers(1, 60), st.integers(1, 12))
cycles = st.sampled_from([Fraction(360), Fraction(120), Fraction(90), Fraction(1080), Fraction(25)])
turn_counts = st.integers(1, 400)


@st.composite
def settings_of_axes(draw: st.DrawFn) -> tuple[Fraction, int, Fraction]:
    ratio, cycle = draw(ratios), draw(cycles)
    turns = draw(turn_counts)
    if draw(st.booleans()):  # make turn counts that divide as common as those that do not
        turns = (Fraction(360) / ratio / cycle).denominator * draw(st.integers(1, 5))
    return ratio, turns, cycle


@given(settings_of_axes(), st.lists(st.integers(-20_000, 20_000), min_size=1, max_size=25))
def test_where_the_rule_holds_no_power_cycle_ever_shows_an_error(
    case: tuple[Fraction, int, Fraction], moves: list[int]
) -> None:
    ratio, turns, cycle = case
    verdict, lets = verdict_and_lets(axis(ratio, turns, cycle))
    simulated = Simulated(ratio, turns, cycle)
    for counts in moves:
        simulated.move(counts)
        error = simulated.error_after_power_on()
        if verdict == 1:
            assert error == 0
        else:
            shift = Fraction(lets["shift_per_wrap"]) * cycle
            assert error == nearest(into_cycle(shift * simulated.wraps, cycle), cycle)


@given(settings_of_axes())
def test_where_the_rule_is_broken_the_first_wrap_shows_the_shift_it_names(
    case: tuple[Fraction, int, Fraction],
) -> None:
    ratio, turns, cycle = case
    verdict, lets = verdict_and_lets(axis(ratio, turns, cycle))
    simulated = Simulated(ratio, turns, cycle)
    simulated.move(simulated.states)
    assert simulated.wraps == 1
    error = simulated.error_after_power_on()
    assert verdict == (1 if error == 0 else 0)
    assert error == nearest(Fraction(lets["shift_per_wrap"]) * cycle, cycle)


@given(settings_of_axes(), st.integers(0, 200))
def test_the_turn_count_it_proposes_is_the_greatest_that_the_simulation_finds_good(
    case: tuple[Fraction, int, Fraction], more: int
) -> None:
    ratio, turns, cycle = case

    def good(candidate: int) -> bool:
        simulated = Simulated(ratio, candidate, cycle)
        simulated.move(simulated.states)
        return simulated.error_after_power_on() == 0

    _, lets = verdict_and_lets(axis(ratio, turns, cycle, turns + more))
    assert lets["best"] == next((n for n in range(turns + more, 0, -1) if good(n)), 0)


def test_the_worked_example_7_to_1_gearbox_and_360_deg_table() -> None:
    """65536 turns leave 65536 mod 7 = 2, which is 2/7 turn = 102.857 deg per wrap (by hand)."""
    for turns, expected in ((65536, Fraction(2, 7)), (65534, Fraction(0)), (65535, Fraction(1, 7))):
        verdict, lets = verdict_and_lets(axis(Fraction(7), turns, Fraction(360)))
        assert verdict == (1 if expected == 0 else 0)
        assert -Fraction(lets["shift_per_wrap"]) % 1 == expected
