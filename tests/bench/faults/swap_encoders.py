"""Kinds of swap of an encoder, alone or built into a motor: what is unlike the fitted one."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from .plain_axis import PlainAxis
from .swap_axis import PROTOCOLS, DrawnSwap, built_in
from .swap_list import Alter, add, anywhere
from .swap_motion import counts
from .swap_motors import (
    both,
    encoder_speed,
    enough,
    forgetful,
    indexed,
    multiturn,
    rate,
    reach,
    short,
    to,
)


def _incremental(swap: DrawnSwap) -> bool:
    number = swap.new("encoder.counts_per_revolution")
    if number is None:
        return False
    for name in ("distinguishable_revolutions", "capability", "turn_counter", "total_range"):
        swap.drop(f"encoder.{name}")
    swap.put("encoder.kind", "incremental")
    swap.put("encoder.max_frequency", "100 Mcount/s")
    return swap.put("encoder.index_pulse", True)


def _single_turn(swap: DrawnSwap) -> bool:
    for name in ("distinguishable_revolutions", "turn_counter", "total_range"):
        swap.drop(f"encoder.{name}")
    swap.drop("encoder.capability.distinguishable_revolutions")
    return swap.put("encoder.kind", "absolute_singleturn")


def _absolute(swap: DrawnSwap) -> bool:
    for name in ("lines_per_revolution", "edges_per_line", "max_frequency"):
        swap.drop(f"encoder.{name}")
    swap.put("encoder.protocol", PROTOCOLS[0])
    swap.put("encoder.counts_per_revolution", 131072)
    swap.put("encoder.distinguishable_revolutions", 65536)
    swap.put("encoder.turn_counter", {"backup": "batteryless"})
    swap.put("encoder.index_pulse", False)
    return swap.put("encoder.kind", "absolute_multiturn")


def _counts(by: Fraction, settable: bool) -> Alter:
    def alter(swap: DrawnSwap) -> bool:
        number = swap.new("encoder.counts_per_revolution")
        if number is None or (number * by).denominator != 1 or not 1024 <= number * by <= 2**24:
            return False
        new = int(number * by)
        if settable:
            swap.put("encoder.capability.counts_per_revolution", new)
        else:
            swap.drop("encoder.capability.counts_per_revolution")
        if swap.new("encoder.total_range"):
            swap.drop("encoder.total_range")
        return swap.put("encoder.counts_per_revolution", new)

    return alter


def _turns(choose: Callable[[DrawnSwap], int | None], settable: bool) -> Alter:
    def alter(swap: DrawnSwap) -> bool:
        if not swap.axis.multiturn:
            return False
        new = choose(swap)
        if new is None:
            return False
        swap.drop("encoder.total_range")
        able = {"distinguishable_revolutions": new} if settable else {}
        if not settable:  # nobody says that it could be set
            swap.hide_absent("encoder.capability.distinguishable_revolutions", new, 1)
        known = swap.new("encoder.capability.counts_per_revolution")
        swap.put("encoder.capability", able | ({"counts_per_revolution": known} if known else {}))
        return swap.put("encoder.distinguishable_revolutions", new)

    return alter


def _fewer_enough(swap: DrawnSwap) -> int | None:
    new = swap.axis.turns // 2
    return new if not swap.axis.endless and new > 6 * reach(swap.axis) else None


def _too_few(swap: DrawnSwap) -> int | None:
    if swap.axis.endless:
        return None
    new = int(reach(swap.axis) * Fraction(7, 10))
    return new if new >= 1 else None


def _indivisible(swap: DrawnSwap) -> int | None:
    """A number of turns that the gearing does not divide, and that cannot be set."""
    if not swap.axis.endless or swap.axis.get("controller.wraps_retained"):
        return None
    share = swap.axis.per_encoder_turn / swap.axis.need("controller.cycle")
    new = swap.axis.turns + 1
    return new if new % share.denominator else None


def _swollen(swap: DrawnSwap) -> int | None:
    """So many that positions do not go into the drive."""
    bits = swap.axis.get("drive.position_register.bits")
    per = counts(swap.axis)
    new = int(2 ** (bits + 1) / per)
    return new if new <= 2**24 and new > swap.axis.turns else None


def _backup(kind: str) -> Alter:
    def alter(swap: DrawnSwap) -> bool:
        if not swap.axis.multiturn or swap.axis.get("encoder.turn_counter.backup") == kind:
            return False
        if kind == "battery":
            swap.put("encoder.turn_counter.power_off_speed_limit", "6000 rpm")
        else:
            swap.drop("encoder.turn_counter.power_off_speed_limit")
        return swap.put("encoder.turn_counter.backup", kind)

    return alter


def _direction(swap: DrawnSwap) -> bool:
    fitted = swap.new("encoder.count_direction")
    return swap.put("encoder.count_direction", "same" if fitted == "reversed" else "reversed")


def _index(swap: DrawnSwap) -> bool:
    return swap.put("encoder.index_pulse", not swap.new("encoder.index_pulse"))


def _lines(by: Fraction) -> Alter:
    def alter(swap: DrawnSwap) -> bool:
        lines = swap.new("encoder.lines_per_revolution")
        return lines is not None and swap.put("encoder.lines_per_revolution", int(lines * by))

    return alter


def _encoders(part: str, where: Callable[[PlainAxis], bool]) -> None:
    """The kinds of encoder, alone or built into a motor."""

    def put(name: str, alter: Alter, also: Callable[[PlainAxis], bool] = anywhere) -> None:
        add(part, name, alter, lambda axis: where(axis) and also(axis))

    put("whose encoder talks otherwise", to("encoder.protocol", *PROTOCOLS, "serial C"))
    put("whose encoder takes another supply", to("encoder.supply_voltage", "5 V", "8 V", "24 V"))
    put("whose encoder is incremental", _incremental, multiturn)
    put("whose encoder is single-turn", _single_turn, multiturn)
    put("whose encoder is absolute where none was", _absolute, forgetful)
    put("whose encoder counts finer and can be set", _counts(Fraction(8), True))
    put("whose encoder counts finer for good", _counts(Fraction(2), False))
    put("whose encoder counts coarser for good", _counts(Fraction(1, 2), False))
    put("whose encoder has fewer turns, enough", _turns(_fewer_enough, True))
    put("whose encoder has fewer turns for good, enough", _turns(_fewer_enough, False))
    put("whose encoder has too few turns", _turns(_too_few, True))
    put("whose encoder has turns that do not divide", _turns(_indivisible, False))
    put("whose encoder has turns that can be set to divide", _turns(_indivisible, True))
    put(
        "whose encoder could count more turns",
        both(
            lambda s: s.axis.multiturn,
            lambda s: s.put(
                "encoder.capability.distinguishable_revolutions",
                2 * int(s.axis.need("encoder.capability.distinguishable_revolutions")),
            ),
        ),
    )
    put("whose encoder has more positions than the drive, settable", _turns(_swollen, True))
    put("whose encoder needs no battery", _backup("batteryless"))
    put("whose encoder needs a battery", _backup("battery"))
    put("whose encoder counts the other way", _direction)
    put("whose encoder is slower, enough", enough("encoder.max_speed", encoder_speed))
    put("whose encoder is too slow", short("encoder.max_speed", encoder_speed))
    put("whose encoder sends slower, enough", enough("encoder.max_frequency", rate))
    put("whose encoder sends too slowly", short("encoder.max_frequency", rate))
    put("whose encoder has no index pulse", _index, indexed)
    put("whose encoder has an index pulse too", _index, multiturn)
    put("whose encoder has twice the lines", _lines(Fraction(2)))
    put("whose encoder has half the lines", _lines(Fraction(1, 2)))
    put("whose encoder is counted otherwise", to("encoder.edges_per_line", 1, 2))


def _rotary(axis: PlainAxis) -> bool:
    return not axis.linear_scale


_encoders("motor", built_in)
_encoders("encoder", _rotary)
