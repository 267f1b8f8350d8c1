"""Kinds of swap of a drive, gearbox and battery: what is unlike the fitted one."""

from __future__ import annotations

from fractions import Fraction

from .plain_axis import PlainAxis, in_unit, parts, spelled
from .swap_axis import DrawnSwap
from .swap_brakes import drive_opens_load_brake
from .swap_list import Alter, add
from .swap_loads import returned
from .swap_motors import (
    both,
    braked,
    enough,
    forgetful,
    heating,
    like_fitted,
    multiturn,
    per_amp,
    pull,
    rate,
    short,
    times,
    to,
    top_speed,
    unbraked,
    vertical,
)

OTHER_WAY = {"normal": "reversed", "reversed": "normal"}

SET = (
    "node", "encoder_use", "encoder_direction", "counts_per_revolution",
    "distinguishable_revolutions", "gear", "gear_ratio", "feed_constant", "polarity",
    "velocity_polarity", "position_range", "input_filter", "stop_reaction",
    "following_error_window", "following_error_timeout", "max_speed", "torque_limit",
    "brake_release_delay", "brake_off_delay",
)  # fmt: skip


def _factory(swap: DrawnSwap) -> bool:
    """Only what it is by build is known."""
    gear = swap.new("drive.gear")
    for name in SET:
        swap.drop(f"drive.{name}")
    if gear:  # how it gears is how it is built; by how much is a setting
        built = ("multiplies", "min_ratio", "max_ratio")
        swap.put("drive.gear", {name: gear[name] for name in built})
    for name in ("negative", "positive", "negative_guards"):
        swap.drop(f"drive.limit_inputs.{name}")
    swap.drop("drive.home_input")
    return True


def _direction(swap: DrawnSwap) -> bool:
    known = swap.new("drive.encoder_direction")
    return swap.put("drive.encoder_direction", "same" if known == "reversed" else "reversed")


def _flip(*names: str) -> Alter:
    def alter(swap: DrawnSwap) -> bool:
        old = [swap.new(f"drive.{name}") for name in names]
        return all(
            value is not None and swap.put(f"drive.{name}", OTHER_WAY[str(value)])
            for name, value in zip(names, old, strict=True)
        )

    return alter


def _whole(path: str, by: Fraction) -> Alter:
    def alter(swap: DrawnSwap) -> bool:
        value = swap.new(path)
        return value is not None and (value * by).denominator == 1 and (
            swap.put(path, int(value * by))
        )  # fmt: skip

    return alter


def _use(swap: DrawnSwap) -> bool:
    use = swap.new("drive.encoder_use")
    return swap.put("drive.encoder_use", "absolute" if use == "incremental" else "incremental")


def _register(bits: int) -> Alter:
    def alter(swap: DrawnSwap) -> bool:
        if swap.axis.multiturn:
            wide = swap.axis.turns * swap.axis.need("encoder.counts_per_revolution")
            # Away from the edge: half a register is for negative positions.
            if 2 ** (bits - 1) < wide <= 2**bits:
                return False
        return swap.put("drive.position_register.bits", bits)

    return alter


def _methods(keep: bool) -> Alter:
    def alter(swap: DrawnSwap) -> bool:
        known = swap.new("drive.supported_homing_methods")
        if keep:
            return swap.put("drive.supported_homing_methods", [*known, 35])
        rest = [each for each in known if each != swap.axis.method]
        return swap.put("drive.supported_homing_methods", rest)

    return alter


def _inputs(axis: PlainAxis) -> bool:
    return axis.get("mechanics.limit_switches") is not None


def _inhibited(side: str) -> Alter:
    return lambda swap: swap.put(f"drive.limit_inputs.{side}", "inhibited")


def _follows(swap: DrawnSwap) -> bool:
    known = swap.new("drive.limit_inputs.follows_polarity")
    return known is not None and swap.put("drive.limit_inputs.follows_polarity", not known)


def _guards(swap: DrawnSwap) -> bool:
    known = swap.new("drive.limit_inputs.negative_guards")
    other = "positive" if known == "negative" else "negative"
    return known is not None and swap.put("drive.limit_inputs.negative_guards", other)


def _output(value: str) -> Alter:
    return lambda swap: swap.put("drive.brake_voltage", value)


def _powered(axis: PlainAxis) -> bool:
    """A brake that the drive itself releases."""
    return braked(axis) and axis.get("drive.brake_voltage") is not None


def _separate(axis: PlainAxis) -> bool:
    return braked(axis) and axis.get("drive.brake_voltage") is None


def _amps(share: str) -> Alter:
    """Less current: enough for the axis, or too little."""
    path = f"drive.{share}_current"
    need = heating if share == "rated" else pull
    return enough(path, lambda axis: need(axis) / per_amp(axis))


def _few_amps(share: str) -> Alter:
    path = f"drive.{share}_current"
    need = heating if share == "rated" else pull
    return short(path, lambda axis: need(axis) / per_amp(axis), Fraction(3, 5))


def _elsewhere(swap: DrawnSwap) -> bool:
    """Used on an axis of the other kind of motion, with the units of that."""
    linear = swap.axis.get("motion") == "linear"
    swap.used_elsewhere = "rotary" if linear else "linear"
    per = "deg" if linear else "mm"
    for path, value in (
        ("drive.feed_constant.feed", "360 deg" if linear else "20 mm"),
        ("drive.following_error_window", f"3 {per}"),
        ("drive.stop_reaction.deceleration", f"2000 {per}/s^2"),
    ):
        swap.put(path, value)
    if swap.new("drive.gear"):
        swap.put("drive.gear.command_increment", f"0.001 {per}")
    return True


def _back(axis: PlainAxis) -> Fraction:
    return Fraction(returned(axis))


def _drives() -> None:
    add("drive", "of the same type, settings loaded", like_fitted)
    add("drive", "from the factory", _factory)
    add(
        "drive",
        "of another designation, all else equal",
        lambda s: s.put("drive.model", "SD other"),
    )
    add("drive", "at another node", to("drive.node", 41))
    add(
        "drive",
        "with older firmware than it needs",
        both(
            lambda s: s.axis.get("drive.firmware_minimum") is not None,
            to("drive.firmware", "2.7.9"),
        ),
    )
    add("drive", "with newer firmware", to("drive.firmware", "2.11.0"))
    add("drive", "of an axis of another motion", _elsewhere)
    add("drive", "with a lower torque limit", times("drive.torque_limit", 0.2))
    add("drive", "with a higher torque limit", times("drive.torque_limit", 1.6))
    add("drive", "with a lower speed limit", short("drive.max_speed", top_speed))
    add("drive", "with a higher speed limit", times("drive.max_speed", 1.6))
    add("drive", "set to the other polarity", _flip("polarity", "velocity_polarity"))
    add("drive", "set to two polarities", _flip("velocity_polarity"))
    add("drive", "set to the other encoder direction", _direction)
    add("drive", "set to twice the counts", _whole("drive.counts_per_revolution", Fraction(2)))
    add(
        "drive",
        "set to a quarter of the counts",
        _whole("drive.counts_per_revolution", Fraction(1, 4)),
    )
    add(
        "drive",
        "set to other turns",
        both(
            lambda s: s.axis.multiturn,
            lambda s: s.put("drive.distinguishable_revolutions", s.axis.turns + 1),
        ),
    )
    add(
        "drive",
        "set to half the turns",
        _whole("drive.distinguishable_revolutions", Fraction(1, 2)),
    )
    add(
        "drive",
        "set to another gear ratio",
        lambda s: s.put("drive.gear_ratio.motor_turns", s.new("drive.gear_ratio.motor_turns") + 1),
    )
    add("drive", "set to another feed", times("drive.feed_constant.feed", 2))
    add(
        "drive",
        "set to another electronic gear",
        lambda s: (
            s.new("drive.gear") is not None
            and s.put("drive.gear.numerator", s.new("drive.gear.numerator") + 1)
        ),
    )
    add("drive", "set to use the encoder otherwise", _use)
    add("drive", "with 32 bits of position", _register(32), multiturn)
    add("drive", "with 64 bits of position", _register(64), multiturn)
    add("drive", "without the homing method", _methods(False))
    add("drive", "with more homing methods", _methods(True))
    add("drive", "whose negative limit input is off", _inhibited("negative"), _inputs)
    add(
        "drive",
        "whose limit inputs are off",
        both(_inhibited("negative"), _inhibited("positive")),
        _inputs,
    )
    add("drive", "whose limit inputs look at the other polarity", _follows)
    add("drive", "set to the limit switches crosswise", _guards)
    add("drive", "with another input filter", to("drive.input_filter", "8 ms", "5 ms"))
    add(
        "drive",
        "with another stop",
        to("drive.stop_reaction.option", "disable_at_once", "slow_down_and_hold"),
    )
    add("drive", "with a slower stop", times("drive.stop_reaction.deceleration", 0.3))
    add("drive", "with a later stop", to("drive.stop_reaction.delay", "40 ms"))
    add("drive", "with a wider window", times("drive.following_error_window", 10))
    add("drive", "with a later time-out", to("drive.following_error_timeout", "500 ms"))
    add("drive", "for the other supply", to("drive.supply_voltage", "230 V", "400 V"))
    add(
        "drive",
        "for another encoder",
        to("drive.encoder_protocol", "serial A", "serial B", "serial C"),
    )
    add("drive", "of less continuous current, enough", _amps("rated"))
    add("drive", "of too little continuous current", _few_amps("rated"))
    add("drive", "of less peak current, enough", _amps("peak"))
    add("drive", "of too little peak current", _few_amps("peak"))
    add(
        "drive",
        "of more current",
        both(times("drive.rated_current", 1.5), times("drive.peak_current", 1.5)),
    )
    add("drive", "without output for the brake", _output("none"), _powered)
    add("drive", "with another voltage for the brake", _output("90 V"), _powered)
    add(
        "drive", "with an output for a brake that is switched elsewhere", _output("24 V"), _separate
    )
    opens = drive_opens_load_brake
    add("drive", "without output for the brake on the load", _output("none"), opens)
    add("drive", "with another voltage for the brake on the load", _output("90 V"), opens)
    add(
        "drive",
        "that starts before the brake on the load is off",
        to("drive.brake_release_delay", "5 ms"),
        # Where motion waits for a signal, the delay matters to nobody, and yet it is a setting.
        lambda a: opens(a) and not a.get("mechanics.load_brake.motion_waits_for_open"),
    )
    add(
        "drive",
        "that lets go before the brake on the load is on",
        to("drive.brake_off_delay", "2 ms"),
        lambda a: opens(a) and vertical(a),
    )
    add(
        "drive",
        "with an output where there is no brake",
        _output("24 V"),
        lambda a: unbraked(a) and not a.get("drive.brake_voltage"),
    )
    add(
        "drive",
        "without an output that nobody uses",
        _output("none"),
        lambda a: unbraked(a) and bool(a.get("drive.brake_voltage")) and not opens(a),
    )
    add(
        "drive",
        "that takes back less power, enough",
        enough("drive.braking_power", _back),
        vertical,
    )
    add(
        "drive",
        "that takes back too little power",
        short("drive.braking_power", _back, Fraction(1, 2)),
        vertical,
    )
    add(
        "drive",
        "that starts before the brake is off",
        to("drive.brake_release_delay", "5 ms"),
        braked,
    )
    add(
        "drive",
        "that lets go before the brake is on",
        to("drive.brake_off_delay", "2 ms"),
        vertical,
    )
    add(
        "drive",
        "that counts slower, enough",
        enough("drive.feedback_frequency_limit", rate),
        forgetful,
    )
    add("drive", "that counts too slowly", short("drive.feedback_frequency_limit", rate), forgetful)
    add(
        "drive",
        "with a range of positions set",
        both(
            lambda s: s.axis.get("drive.position_range") is None,
            lambda s: s.put("drive.position_range", {"min": 0, "max": 4095}),
        ),
    )


# --- gearboxes ------------------------------------------------------------------------------------


def _one_stage(axis: PlainAxis) -> bool:
    return len(axis.get("mechanics.stages") or []) == 1


def _ratio(by: Fraction) -> Alter:
    """Another ratio, clear of the speed that motor, encoder and drive stand."""

    def alter(swap: DrawnSwap) -> bool:
        new = swap.axis.ratio * by
        fast = top_speed(swap.axis) * by
        bounds = [swap.axis.base(f"{part}.max_speed") for part in ("motor", "drive")]
        margin = [bound / fast for bound in bounds if bound is not None]
        if any(Fraction(9, 10) < each < MARGIN_OF_SPEED for each in margin):
            return False
        for name in ("motor_side_teeth", "load_side_teeth"):
            swap.drop(f"gearbox.{name}")
        text = int(new) if new.denominator == 1 else spelled(new)
        return swap.put("gearbox.motor_turns_per_load_turn", text)

    return alter


MARGIN_OF_SPEED = Fraction(5, 4)


def _reversing(swap: DrawnSwap) -> bool:
    return swap.put("gearbox.reversing", not swap.new("gearbox.reversing"))


def _said_otherwise(swap: DrawnSwap) -> bool:
    """The same ratio in teeth or as a number."""
    if swap.new("gearbox.motor_side_teeth") is None:
        return False
    ratio = swap.axis.ratio
    for name in ("motor_side_teeth", "load_side_teeth"):
        swap.drop(f"gearbox.{name}")
    return swap.put("gearbox.motor_turns_per_load_turn", spelled(ratio))


def _gearboxes() -> None:
    add("gearbox", "of the same ratio", like_fitted, _one_stage)
    add("gearbox", "of the same ratio, said otherwise", _said_otherwise, _one_stage)
    add("gearbox", "of a ratio too high", _ratio(Fraction(3)), _one_stage)
    add("gearbox", "that turns the other way", _reversing, _one_stage)


# --- batteries ------------------------------------------------------------------------------------


def _place(swap: DrawnSwap) -> bool:
    offered = swap.axis.get("encoder.turn_counter.battery.offered_places")
    other = [each for each in ("cable", "drive", "encoder", "cabinet") if each not in offered]
    return swap.put("battery.places", [swap.rng.choice(other)])


def _life(years: int) -> Alter:
    def alter(swap: DrawnSwap) -> bool:
        number, unit = parts(swap.new("battery.life"))
        return number + years > 0 and swap.put(
            "battery.life", in_unit((number + years) * 365, unit)
        )

    return alter


def _batteries() -> None:
    add("battery", "of the same kind", like_fitted)
    add("battery", "for a place that is not there", _place)
    add("battery", "that lasts less long", _life(-1))
    add("battery", "that lasts longer", _life(2))
    add("battery", "with a cell made long ago", to("battery.made_on", "2009-05-04"))
    add("battery", "in two places at once", lambda s: s.put("battery.places", ["cable", "drive"]))


_drives()
_gearboxes()
_batteries()
