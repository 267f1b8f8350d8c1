"""One sound axis at random: every fact is stated and all numbers agree."""

from __future__ import annotations

import math
from fractions import Fraction
from random import Random

from .axis_draft import SCALES, AxisDraft, draft_axis, is_length_unit
from .linear_motor import give_linear_motor
from .mechanics import CONVEYORS, LINEAR_MOTORS, Kind, up
from .plain_axis import PI, Plain, digits, factor, in_unit, parts, rounded, spelled
from .swinging import give_weight

FILTER, SCAN, JITTER = Fraction(1, 1000), Fraction(1, 4000), Fraction(1, 4000)
"""Of the drive's inputs and of the latched position, in s."""

INDEXED = (1, 2, 3, 5, 8, 11)
"""Homing methods (CiA 402) with index pulse in the bench; each number + 16 is without."""

UPWARD = (1, 5, 8, 11)
"""Methods whose reference is on the positive side of the switch edge."""


def axis(rng: Random, kind: Kind, name: str, number: int) -> Plain:
    """A sound axis. ``number`` is its node number and gives its serials."""
    draft = None
    while draft is None:
        draft = draft_axis(rng, kind, name, number)
    encoder, per_turn, counts = _design_encoder(draft)
    facts: Plain = {
        "motion": "linear" if is_length_unit(draft.unit) else "rotary",
        "motor": draft.motor.facts,
        "encoder": encoder,
        "drive": _design_drive(draft, encoder),
        "controller": _design_controller(draft),
        "mechanics": draft.mechanics,
        "interlocks": [_design_interlock(draft, encoder)],
        "gantry": "none",
        "storage": {
            "offset": rng.choice(("drive", "controller")),
            "motor_data": rng.choice(("encoder", "drive")),
        },
    }
    _design_limit_inputs(draft, facts)
    homing = _design_homing(draft, facts, encoder, per_turn)
    facts["controller"]["homing"] = homing
    if draft.absolute:
        facts["storage"]["turns"] = "encoder"
        _design_unfolding(draft, facts, per_turn, homing)
    _design_scaling(draft, facts, per_turn, counts)
    _add_records(draft, facts)
    if kind in LINEAR_MOTORS:
        absolute = rng.random() < 0.5
        if absolute:
            _absolute_scale(draft, facts, counts)
        give_linear_motor(draft, facts, absolute=absolute)
    if kind == "wheel":
        _add_rim(draft)
    if kind == "arm":
        give_weight(Random(f"weight {number} {draft.move.v}"), name, facts)
    return facts


def _add_rim(d: AxisDraft) -> None:
    """State the rim of a wheel, and the speed that its maker permits there."""
    dice = Random(f"rim {d.number} {d.move.v}")
    diameter = Fraction(dice.choice((125, 230, 400, 600, 1200)))
    speed = diameter * PI * d.move.v * factor(d.unit)
    permitted = up(speed * Fraction(12, 10))
    d.mechanics["rim"] = {
        "diameter": spelled(diameter, "mm"),
        "max_speed": in_unit(permitted, dice.choice(("m/s", "mm/s"))),
    }


def _absolute_scale(d: AxisDraft, facts: Plain, counts: Fraction) -> None:
    """Make the scale absolute along its length, a tenth longer than the travel."""
    assert d.layout
    encoder, controller = facts["encoder"], facts["controller"]
    del encoder["max_frequency"]
    encoder |= {"kind": "absolute_singleturn", "index_pulse": False}
    encoder["total_range"] = math.ceil(counts * d.layout.span * Fraction(11, 10))
    encoder["serial_at_calibration"] = encoder["serial"]
    facts["drive"]["encoder_use"] = "absolute"
    controller |= {"homed_flag_retained": True, "unfolding": "encoder_zero_unsigned"}


# --- encoder --------------------------------------------------------------------------------------


def _design_encoder(d: AxisDraft) -> tuple[Plain, Fraction, Fraction]:
    """The encoder, user units per its revolution, and its counts per user unit."""
    rng, made = d.rng, d.train
    direction = rng.choice(("same", "same", "reversed"))
    facts: Plain = {"serial": f"E-{d.number:05}", "count_direction": direction}
    if d.kind in SCALES:
        step = Fraction(rng.choice((1, 5, 10)), 10000)
        rate = d.move.v * factor(d.unit) / step
        facts |= {"kind": "incremental", "form": "linear", "mounted_on": "load"}
        facts |= {"measuring_step": in_unit(step, "um"), "index_pulse": True}
        facts["max_frequency"] = in_unit(up(rate * 2), "count/s")
        return facts, made.per_turn, factor(d.unit) / step
    per_turn, on_load = made.per_turn, d.kind == "measured_table"
    facts |= {"form": "rotary", "mounted_on": "load" if on_load else "motor"}
    if on_load:
        its = Fraction(rng.choice(("1", "1", "2", "5/2", "5/3", "7/3")))
        facts["turns_per_driving_shaft_turn"] = int(its) if its.denominator == 1 else spelled(its)
        per_turn = made.feed / its
    speed = d.move.v / per_turn * 60
    facts["max_speed"] = f"{max(6000, math.ceil(speed * 2))} rpm"
    if d.kind == "slide":
        lines = rng.choice((500, 1000, 1024, 2500, 5000))
        facts |= {"kind": "incremental", "lines_per_revolution": lines, "edges_per_line": 4}
        facts["index_pulse"] = True
        facts["max_frequency"] = in_unit(up(speed / 60 * lines * 8), "count/s")
        return facts, per_turn, lines * 4 / per_turn
    counts = 1 << rng.choice((13, 16, 17, 17, 20, 23))
    able = rng.choice((4096, 16384, 65536))
    facts |= {"kind": "absolute_multiturn", "counts_per_revolution": counts}
    facts |= {"index_pulse": False, "serial_at_calibration": facts["serial"]}
    turns = able
    if d.layout:
        while able * per_turn < 4 * d.layout.span:
            able *= 2
        turns = able
        while turns > 4 and turns // 2 * per_turn > 4 * d.layout.span and rng.random() < 0.3:
            turns //= 2
    elif d.kind not in CONVEYORS:
        turns = able - able % (per_turn / _design_cycle(d)).denominator
    facts["distinguishable_revolutions"] = turns
    facts["capability"] = {"distinguishable_revolutions": able, "counts_per_revolution": counts}
    if rng.random() < 0.3:
        facts["total_range"] = counts * turns
    if rng.random() < 0.5:
        facts["turn_counter"] = {"backup": "batteryless", "battery": "none"}
    else:
        place = rng.choice(("cable", "drive"))
        facts["turn_counter"] = {
            "backup": "battery",
            "battery": {
                "places": [place],
                "offered_places": ["cable", "drive"] if rng.random() < 0.7 else [place],
                "fitted_on": f"2026-0{rng.randint(1, 5)}-{rng.randint(10, 28)}",
                "life": f"{rng.choice((2, 3, 5))} years",
                "low_warning": rng.choice(("warns", "stops")),
            },
            "power_off_speed_limit": f"{max(6000, math.ceil(speed * 2))} rpm",
        }
    return facts, per_turn, counts / per_turn


def _design_cycle(d: AxisDraft) -> Fraction:
    """The cycle of an endless axis in its unit; for a conveyor, its draft has it."""
    if d.kind not in CONVEYORS:
        return 1 / factor(d.unit)
    return Fraction(d.mechanics.setdefault("cycle", rounded(d.train.feed * 3 / 4, 2)))


# --- drive ----------------------------------------------------------------------------------------


def _design_drive(d: AxisDraft, encoder: Plain) -> Plain:
    rng, made, move = d.rng, d.train, d.move
    feed = rounded(made.feed, 11) if made.has_pi else made.feed
    polarity = rng.choice(("normal", "normal", "normal", "reversed"))
    window = up(2 * move.lag)
    facts: Plain = {
        "serial": f"D-{d.number:05}",
        "node": d.number,
        "firmware": "2.10.4",
        "firmware_minimum": rng.choice(("none", "2.8.0", "2.10.4")),
        "encoder_use": "absolute" if d.absolute else "incremental",
        "encoder_direction": encoder["count_direction"],
        "gear_ratio": {
            "motor_turns": made.ratio.numerator,
            "shaft_turns": made.ratio.denominator,
        },
        "feed_constant": {"feed": d.say(feed), "shaft_turns": 1},
        "polarity": polarity,
        "velocity_polarity": polarity,
        "max_speed": d.motor.facts["max_speed"],
        "torque_limit": d.motor.facts["peak_torque"],
        "following_error_window": d.say(window),
        "following_error_timeout": f"{rng.choice((5, 10, 20))} ms",
        "input_filter": in_unit(FILTER, "ms"),
        "input_scan": in_unit(SCAN, "ms"),
    }
    d.mechanics["free_distance"] = d.say(up((window + move.v * Fraction(20, 1000)) * 2))
    if d.kind not in SCALES:
        counts = encoder.get("counts_per_revolution") or encoder["lines_per_revolution"] * 4
        facts["counts_per_revolution"] = counts
    if d.absolute:
        facts["distinguishable_revolutions"] = encoder["distinguishable_revolutions"]
        wide = facts["counts_per_revolution"] * encoder["distinguishable_revolutions"] > 2**31
        facts["position_register"] = {"bits": 64 if wide else 32, "signed": True}
    else:
        facts["position_register"] = {"bits": 64, "signed": True}
        rate = encoder["max_frequency"].split()[0]
        facts["feedback_frequency_limit"] = spelled(up(Fraction(rate)), "count/s")
    if d.motor.facts["brake"] != "none":
        brake = d.motor.facts["brake"]
        release, apply = (int(brake[f"{what}_time"].split()[0]) for what in ("release", "apply"))
        facts["brake_release_delay"] = f"{release + 20} ms"
        facts["brake_off_delay"] = f"{apply * 2} ms"
        facts["brake_voltage"] = "24 V"
    if d.mechanics["moved_by_gravity"]:
        facts["braking_power"] = spelled(up(d.motor.returned * 1.5), "W")
    facts["stop_reaction"] = {
        "option": rng.choice(("quick_stop_then_disable", "slow_down_then_disable")),
        "stop_category": 1,
        "deceleration": d.say(move.drive_stop, "/s^2"),
        "jerk": "none",
        "delay": in_unit(move.drive_delay, "ms"),
    }
    facts["fault_reaction_option"] = facts["stop_reaction"]["option"]
    facts["fault_deceleration"] = facts["stop_reaction"]["deceleration"]
    facts["position_range"] = "none"
    return facts


def _design_limit_inputs(d: AxisDraft, facts: Plain) -> None:
    """Polarities for the right direction of the mechanics, and the wires of the switches."""
    drive, rng = facts["drive"], d.rng
    straight = (drive["polarity"] == "normal") == (d.train.sign > 0)
    facts["controller"]["polarity"] = "normal" if straight else "reversed"
    if d.layout is None:
        return
    if d.layout.switches is None:
        drive["limit_inputs"] = {"negative": "unwired", "positive": "unwired"}
        return
    follows = straight and rng.random() < 0.4
    motor_way = "negative" if d.train.sign > 0 else "positive"
    drive["limit_inputs"] = {
        "negative": "wired",
        "positive": "wired",
        "negative_guards": "negative" if follows else motor_way,
        "follows_polarity": follows,
    }


# --- controller -----------------------------------------------------------------------------------


def _design_controller(d: AxisDraft) -> Plain:
    move, layout = d.move, d.layout
    facts: Plain = {
        "type": "linear" if layout else "modulo",
        "units": d.unit,
        "position_register": {"bits": 64, "signed": True},
        "max_velocity": d.say(move.v, "/s"),
        "max_acceleration": d.say(move.a, "/s^2"),
        "max_jerk": d.say(move.j, "/s^3") if move.j else "none",
        "position_loop_gain": f"{move.kv} 1/s",
        "velocity_feedforward": spelled(move.feedforward * 100, "%"),
        "cycle_time": in_unit(move.cycle_time, "ms"),
        "duty": d.motor.duty,
        "homed_flag_retained": d.absolute,
        "stop": {
            "deceleration": d.say(move.stop, "/s^2"),
            "jerk": d.say(move.stop_jerk, "/s^3") if move.stop_jerk else "none",
            "delay": in_unit(move.stop_delay, "ms"),
        },
    }
    if layout is None:
        facts["software_limits"] = "none"
        facts["cycle"] = d.say(_design_cycle(d))
        d.mechanics |= {"travel": "none", "limit_switches": "none"}
        d.mechanics.pop("cycle", None)
        return facts
    facts["software_limits"] = {
        "min": d.say(layout.soft[0]),
        "max": d.say(layout.soft[1]),
        "active": "always" if d.absolute else "after_homing",
        "planned": layout.planned,
    }
    if layout.planned:
        facts["overshoot"] = d.say(layout.overshoot)
    d.mechanics["travel"] = {"min": d.say(layout.hard[0]), "max": d.say(layout.hard[1])}
    d.mechanics["limit_switches"] = "none"
    if layout.switches:
        d.mechanics["limit_switches"] = {
            "negative": d.say(layout.switches[0]),
            "positive": d.say(layout.switches[1]),
            "scatter": d.say(rounded(d.train.per_turn / 1000, 1)),
            "held_to_hard_stop": True,
        }
    return facts


def _design_homing(d: AxisDraft, facts: Plain, encoder: Plain, per_turn: Fraction) -> Plain:
    rng, layout, move = d.rng, d.layout, d.move
    homing: Plain = {"after": [], "switch": "none"}
    supported = {1, 2, 17, 18, 33, 34, 37}
    # Slower than reduced speed: nobody knows where the axis is.
    slow = Fraction(200) if is_length_unit(d.unit) else Fraction(24, 360)
    search = rounded(min(move.v / 8, slow / factor(d.unit)), 1)
    creep = rounded(search / 10, 1)
    if layout is None or (d.absolute and rng.random() < 0.25) or layout.switches is None:
        homing["method"] = 37
        at = Fraction(0)
        if layout:
            at = layout.soft[0] + (layout.soft[1] - layout.soft[0]) * rng.randint(0, 10) / 10
        homing["reference_position"] = d.say(at)
        facts["drive"]["supported_homing_methods"] = sorted(supported)
        return homing
    assert layout.switches
    motor = d.motor
    if d.absolute and d.kind != "lift" and motor.gravity == 0 and rng.random() < 0.2 and (
        motor.friction < float(motor.rated) / 8
    ):  # fmt: skip
        homing |= {"method": "hard_stop_negative", "direction": "negative"}
        homing["reference_position"] = d.say(layout.hard[0])
        homing["search_speed"] = d.say(creep, "/s")
        homing["torque_limit"] = spelled(rounded(motor.rated * 3 / 10, 2), "N·m")
        homing["following_error_reaction"] = rng.choice(("wide", "off"))
        facts["drive"]["supported_homing_methods"] = [*sorted(supported), "hard_stop_negative"]
        return homing
    plain = d.absolute or d.kind in SCALES or rng.random() < 0.3
    method = rng.choice((1, 2)) if d.absolute else rng.choice(INDEXED)
    homing["direction"] = "negative" if method in (1, 5, 11) else "positive"
    if method in (1, 2):
        edge = layout.switches[method - 1]
    else:
        edge = _design_home_switch(d, method, homing, search)
        facts["drive"]["home_input"] = "wired"
    homing["method"] = method + 16 if plain else method
    reference = edge
    if not plain:
        after = Fraction(rng.randint(30, 70), 100)
        homing["index_after_switch"] = spelled(after, "rev")
        reference += after * per_turn if method in UPWARD else -after * per_turn
    homing["reference_position"] = d.say(reference)
    homing["search_speed"], homing["creep_speed"] = d.say(search, "/s"), d.say(creep, "/s")
    homing["acceleration"] = d.say(rounded(move.a / 4, 2), "/s^2")
    homing["latch_delay"], homing["latch_jitter"] = "1 ms", in_unit(JITTER, "ms")
    if plain:
        scatter = rounded(d.train.per_turn / 1000, 1)
        homing["repeatability"] = d.say(up((creep * (SCAN + JITTER) + scatter) * 3 / 2))
    facts["drive"]["supported_homing_methods"] = sorted(supported | {homing["method"]})
    return homing


def _design_home_switch(d: AxisDraft, method: int, homing: Plain, search: Fraction) -> Fraction:
    """Add a home switch where the method needs it; return its edge."""
    layout = d.layout
    assert layout
    assert layout.switches
    stroke = layout.soft[1] - layout.soft[0]
    low, high = layout.soft
    if method == 5:
        edge = (low + layout.switches[0]) / 2
        width = edge - layout.hard[0]
    elif method == 3:
        edge = (high + layout.switches[1]) / 2
        width = layout.hard[1] - edge
    else:
        edge = low + stroke * Fraction(d.rng.randint(2, 8), 10)
        width = max(up(search * (FILTER + SCAN) * 4), stroke / 100)
    homing["switch"] = {
        "position": d.say(edge),
        "width": d.say(width),
        "held_to_travel_end": method in (3, 5),
        "scatter": d.say(rounded(d.train.per_turn / 1000, 1)),
    }
    return edge


def _design_unfolding(d: AxisDraft, facts: Plain, per_turn: Fraction, homing: Plain) -> None:
    """Choose the unfolding, and the reading at the reference that belongs to it."""
    rng, controller, encoder = d.rng, facts["controller"], facts["encoder"]
    turns: int = encoder["distinguishable_revolutions"]
    reading = rng.randrange(turns)
    if d.layout is None:
        retained = d.kind in CONVEYORS or rng.random() < 0.2
        controller["unfolding"] = "tracked" if retained else "encoder_zero_unsigned"
        controller["wraps_retained"] = retained
        if retained:
            away = rounded(turns * per_turn * rng.randint(5, 30) / 100, 1)
            controller["power_off_motion"] = d.say(away)
    else:
        choices = ["symmetric", "encoder_zero_unsigned", "encoder_zero_signed", "tracked"]
        if homing["method"] == "hard_stop_negative":
            choices.append("from_reference")
        unfolding = controller["unfolding"] = rng.choice(choices)
        middle = (turns // 2 + rng.randint(-turns // 20, turns // 20)) % turns
        if unfolding == "encoder_zero_unsigned":
            reading = middle
        elif unfolding == "encoder_zero_signed":
            reading = (middle + turns // 2) % turns
        elif unfolding == "tracked":
            controller["power_off_motion"] = d.say(rounded(d.layout.span / 4, 1))
    encoder["turn_counter"]["reading_at_reference"] = reading


def _design_scaling(d: AxisDraft, facts: Plain, per_turn: Fraction, counts: Fraction) -> None:
    """The controller's scaling, with or without an electronic gear in the drive."""
    rng, controller, drive, unit = d.rng, facts["controller"], facts["drive"], d.unit
    per_count = 1 / counts
    coarse = up(10 * per_count)
    backlash = rounded(d.train.per_turn * Fraction(rng.randint(1, 20), 10000), 1)
    d.mechanics["backlash"] = d.say(backlash)
    repeats = parts(controller["homing"].get("repeatability", 0))[0]
    d.mechanics["required_accuracy"] = d.say(up(max(2 * coarse, 3 * backlash, repeats)))
    drive["gear"] = "none"
    fine = {"mm": 1000, "in": 10000, "cm": 10000, "m": 1000000, "deg": 1000}.get(unit, 100000)
    if not d.train.has_pi and d.kind not in SCALES and rng.random() < 0.3:
        gear = counts / fine
        multiplies = rng.choice(("command", "feedback"))
        top, bottom = (gear if multiplies == "command" else 1 / gear).as_integer_ratio()
        drive["gear"] = {
            "numerator": top,
            "denominator": bottom,
            "multiplies": multiplies,
            "min_ratio": spelled(min(Fraction(1, 1000), up(Fraction(top, bottom) / 4))),
            "max_ratio": spelled(max(Fraction(10000), up(Fraction(top, bottom) * 4))),
            "command_increment": d.say(Fraction(1, fine)),
        }
        drive["command_frequency_limit"] = spelled(up(d.move.v * fine * 3), "count/s")
        controller["counts_per_unit"] = f"{fine} count/{unit}"
    elif d.train.has_pi:
        controller["counts_per_unit"] = spelled(rounded(counts, 11), f"count/{unit}")
    elif "/" in digits(counts) or rng.random() < 0.4:
        pair = Fraction(drive.get("counts_per_revolution") or 1000)
        controller["scaling"] = {"counts": int(pair), "distance": d.say(pair / counts)}
    else:
        controller["counts_per_unit"] = spelled(counts, f"count/{unit}")
    if d.layout and d.number % 3 == 0 and d.layout.span * max(counts, Fraction(fine)) < 2**30:
        # As drives come: all of 32 bits, about the zero.
        drive["position_range"] = {"min": -(2**31), "max": 2**31 - 1}
    if d.layout is None:
        steps = counts if drive["gear"] == "none" else Fraction(fine)
        _design_endless(d, facts, counts * _cycle_of(controller), steps * _cycle_of(controller))


def _design_endless(d: AxisDraft, facts: Plain, counts: Fraction, steps: Fraction) -> None:
    """State whether each cycle leaves a part of a count, and where the drive wraps."""
    whole = counts.denominator == 1 and not d.train.has_pi
    facts["controller"]["remainder_carried"] = not whole
    if whole and steps.denominator == 1 and d.rng.random() < 0.4:
        # In command units of the drive: counts, or increments with an electronic gear.
        facts["drive"]["position_range"] = {"min": 0, "max": int(steps) - 1}


def _cycle_of(controller: Plain) -> Fraction:
    return Fraction(controller["cycle"].split()[0])


def _design_interlock(d: AxisDraft, encoder: Plain) -> Plain:
    triggers = ["position_lost", "encoder_replaced", "motor_replaced", "drive_replaced"]
    if d.absolute:
        triggers.insert(1, "turn_count_disagreement")
        if encoder["turn_counter"]["battery"] != "none":
            triggers.insert(2, "battery_dead_at_power_up")
    slow = Fraction(10) if is_length_unit(d.unit) else Fraction(5, 360)
    return {
        "name": "position doubtful",
        "triggers": triggers,
        "inhibits": [d.rng.choice(("automatic_motion", "all_motion"))],
        "released_by": ["homing_and_calibration"],
        "latched": True,
        "clears_homed_flag": True,
        "inhibits_partners": True,
        "max_speed": in_unit(min(slow, d.move.v * factor(d.unit) / 10), f"{d.unit}/s"),
        "guidance": f"Position is in doubt. Home and calibrate {d.name}.",
    }


def _add_records(d: AxisDraft, facts: Plain) -> None:
    """Add serials, and those present when reference and commutation were taught."""
    motor, encoder, drive = facts["motor"], facts["encoder"], facts["drive"]
    motor["serial"] = f"M-{d.number:05}"
    day = f"2026-05-{d.rng.randint(10, 28)}"
    facts["controller"]["homing"]["taught"] = {
        "on": day,
        "encoder_serial": encoder["serial"],
        "motor_serial": motor["serial"],
        "drive_serial": drive["serial"],
    }
    motor["commutation"] = "none"
    if d.rng.random() < 0.3:
        pair = {"motor_serial": motor["serial"], "encoder_serial": encoder["serial"]}
        motor["commutation"] = {**pair, "on": "2026-04-20"}
