"""Faults in ratios, feed, counts and units."""

from __future__ import annotations

from fractions import Fraction

from .fault_list import fault
from .plain_axis import PlainAxis, digits, parts, rounded, spelled

STAGES = "mechanics.stages"


def ends(value: Fraction) -> bool:
    """Whether a fraction is a finite decimal."""
    return "/" not in digits(value)


def harms(a: PlainAxis, off: Fraction) -> bool:
    """Whether a scaling error of this share harms: it adds up or nears the required accuracy."""
    accuracy = a.base("mechanics.required_accuracy")
    kept = a.get("encoder.kind") != "incremental" and a.get("controller.unfolding") == "tracked"
    if a.endless or kept or accuracy is None:
        return off != 0
    return off * a.span > accuracy / 100


def counts_the_position(a: PlainAxis) -> bool:
    """Whether the position is that of the first encoder, so that the controller is scaled by it.

    If the position loop is closed with a second encoder, the controller counts that one. Then its
    scaling does not depend on the counts of the first encoder.
    """
    return a.get("drive.position_feedback") in (None, "encoder")


@fault("drive-ratio-swapped", "types motor and shaft revolutions of the gear ratio the wrong way")
def _(a: PlainAxis) -> bool:
    return a.swap("drive.gear_ratio.motor_turns", "drive.gear_ratio.shaft_turns")


@fault("stage-ratio-inverted", "takes load per motor for motor per load when noting a gearbox")
def _(a: PlainAxis) -> bool:
    for number, ratio in enumerate(a.stage_ratios):
        path = f"{STAGES}.{number}.motor_turns_per_load_turn"
        if a.get(path) is not None and ratio != 1:
            return a.put(path, spelled(1 / ratio))
    return False


@fault("stage-teeth-swapped", "notes the teeth of driver and driven wheel the wrong way round")
def _(a: PlainAxis) -> bool:
    return any(
        a.swap(f"{STAGES}.{number}.motor_side_teeth", f"{STAGES}.{number}.load_side_teeth")
        for number in range(len(a.stage_ratios))
    )


@fault("stage-tooth-miscounted", "counts one tooth too many on the driven wheel")
def _(a: PlainAxis) -> bool:
    for number in range(len(a.stage_ratios)):
        teeth = a.get(f"{STAGES}.{number}.load_side_teeth")
        if teeth:
            return a.put(f"{STAGES}.{number}.load_side_teeth", teeth + 1)
    return False


@fault("stage-forgotten-in-drive", "enters the gearbox and forgets the belt stage behind it")
def _(a: PlainAxis) -> bool:
    ratios = a.stage_ratios
    if len(ratios) < 2 or ratios[-1] == 1:
        return False
    left = a.ratio / ratios[-1]
    a.put("drive.gear_ratio.motor_turns", left.numerator)
    return a.put("drive.gear_ratio.shaft_turns", left.denominator)


@fault("stage-forgotten-in-drawing", "leaves the last stage out when noting the mechanics")
def _(a: PlainAxis) -> bool:
    ratios = a.stage_ratios
    if not ratios or ratios[-1] == 1 or a.linear_scale:
        return False
    return a.put(STAGES, a.get(STAGES)[:-1])


@fault(
    "gearbox-of-next-size", "fits a gearbox of the next size in the series and changes no setting"
)
def _(a: PlainAxis) -> bool:
    for number, ratio in enumerate(a.stage_ratios):
        path = f"{STAGES}.{number}.motor_turns_per_load_turn"
        if a.get(path) is not None:
            return a.put(path, spelled(ratio + 2 if ratio >= 3 else ratio + 1))
    return False


@fault("plate-of-another-gearbox", "copies the ratio of a sister machine's gearbox into the papers")
def _(a: PlainAxis) -> bool:
    return a.scale("mechanics.stated_ratio", Fraction(5, 4))


@fault("stage-ratio-typed-short", "types 6.67 where the plate means 20/3")
def _(a: PlainAxis) -> bool:
    for number, ratio in enumerate(a.stage_ratios):
        path = f"{STAGES}.{number}.motor_turns_per_load_turn"
        if a.get(path) is not None and not ends(ratio):
            return a.put(path, digits(rounded(ratio, 3)))
    return False


@fault("load-encoder-ratio-typed-short", "types 1.67 where a measuring gear gives 5/3")
def _(a: PlainAxis) -> bool:
    path = "encoder.turns_per_driving_shaft_turn"
    ratio = a.base(path)
    return ratio is not None and not ends(ratio) and a.put(path, digits(rounded(ratio, 3)))


@fault("load-encoder-ratio-inverted", "takes shaft per encoder for encoder per shaft revolutions")
def _(a: PlainAxis) -> bool:
    path = "encoder.turns_per_driving_shaft_turn"
    ratio = a.base(path)
    return ratio not in (None, 1) and a.put(path, spelled(1 / a.need(path)))


@fault("load-encoder-noted-on-motor", "notes an encoder on the load as the one on the motor")
def _(a: PlainAxis) -> bool:
    if a.get("encoder.mounted_on") != "load" or a.linear_scale or a.encoder_ratio == a.ratio:
        return False
    return a.put("encoder.mounted_on", "motor")


@fault("motor-encoder-noted-on-load", "notes the motor's encoder as one on the driving shaft")
def _(a: PlainAxis) -> bool:
    if a.get("encoder.mounted_on") != "motor" or a.ratio == 1:
        return False
    a.facts["encoder"]["turns_per_driving_shaft_turn"] = 1
    return a.put("encoder.mounted_on", "load")


@fault("electronic-gear-swapped", "enters numerator and denominator of the electronic gear swapped")
def _(a: PlainAxis) -> bool:
    return a.swap("drive.gear.numerator", "drive.gear.denominator")


@fault(
    "electronic-gear-on-wrong-side", "takes a gear that multiplies the command for the feedback's"
)
def _(a: PlainAxis) -> bool:
    side = a.get("drive.gear.multiplies")
    if side is None or a.get("drive.gear.numerator") == a.get("drive.gear.denominator"):
        return False
    return a.put("drive.gear.multiplies", "feedback" if side == "command" else "command")


@fault("electronic-gear-rounded", "rounds the electronic gear to three figures over 1000")
def _(a: PlainAxis) -> bool:
    if not a.get("drive.gear"):
        return False
    exact = Fraction(a.get("drive.gear.numerator"), a.get("drive.gear.denominator"))
    typed = rounded(exact, 3)
    if not harms(a, abs(typed / exact - 1)):
        return False
    a.put("drive.gear.numerator", typed.numerator)
    return a.put("drive.gear.denominator", typed.denominator) or True


@fault("electronic-gear-of-old-encoder", "fits a 4 times finer encoder; the gear stays as it was")
def _(a: PlainAxis) -> bool:
    if not a.get("drive.gear"):
        return False
    for part in ("encoder.counts_per_revolution", "encoder.capability.counts_per_revolution"):
        a.scale(part, 4)
    return a.scale("drive.counts_per_revolution", 4)


@fault("electronic-gear-beyond-drive", "takes over a gear that a smaller drive does not allow")
def _(a: PlainAxis) -> bool:
    if not a.get("drive.gear"):
        return False
    exact = Fraction(a.get("drive.gear.numerator"), a.get("drive.gear.denominator"))
    return a.put("drive.gear.max_ratio", spelled(rounded(exact / 2, 2)))


@fault(
    "gear-limits-of-the-other-way-round", "notes smallest and largest gear at each other's place"
)
def _(a: PlainAxis) -> bool:
    return a.swap("drive.gear.min_ratio", "drive.gear.max_ratio")


@fault("linear-motor-behind-old-gearbox", "leaves the old gearbox on record for a linear motor")
def _(a: PlainAxis) -> bool:
    if a.turns_shaft:
        return False
    old = {"kind": "gearbox", "motor_turns_per_load_turn": 5, "reversing": False}
    return a.put("mechanics.stages", [old])


@fault("table-noted-on-linear-axis", "copies the mechanics of a table to a linear axis")
def _(a: PlainAxis) -> bool:
    if a.get("motion") != "linear":
        return False
    return a.put("mechanics.final.kind", "rotary_table")


@fault("cycle-in-rad-cut-short", "types a cycle in rad to four digits")
def _(a: PlainAxis) -> bool:
    if a.get("motion") != "rotary" or not a.endless or a.get("drive.position_range"):
        return False
    if a.get("controller.remainder_carried") and a.get("controller.wraps_retained"):
        return False
    return a.put("controller.cycle", "6.283 rad")


@fault("command-increment-one-decimal-off", "enters hundredths where increments are thousandths")
def _(a: PlainAxis) -> bool:
    return a.scale("drive.gear.command_increment", 10)


@fault("pitch-for-lead-in-drive", "enters the pitch of a multi-start screw as its feed")
def _(a: PlainAxis) -> bool:
    pitch = a.get("mechanics.final.pitch")
    if a.get("mechanics.final.kind") != "screw" or a.get("mechanics.final.starts") in (1, None):
        return False
    return a.put("drive.feed_constant.feed", pitch)


@fault("pitch-for-lead-in-drawing", "notes the pitch of a multi-start screw as its lead")
def _(a: PlainAxis) -> bool:
    if a.get("mechanics.final.kind") != "screw" or a.get("mechanics.final.starts") in (1, None):
        return False
    return a.put("mechanics.final.lead", a.get("mechanics.final.pitch"))


@fault("screw-starts-forgotten", "notes a two-start screw as one with a single start")
def _(a: PlainAxis) -> bool:
    return (a.get("mechanics.final.starts") or 1) > 1 and a.put("mechanics.final.starts", 1)


@fault("feed-in-inches", "enters the feed's millimetres as inches")
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft:
        return False
    unit = parts(a.get("drive.feed_constant.feed"))[1]
    return unit == "mm" and a.retype("drive.feed_constant.feed", "in")


@fault("degrees-for-revs-in-feed", "enters 360 revolutions per revolution for 360 degrees")
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft:
        return False
    unit = parts(a.get("drive.feed_constant.feed"))[1]
    return unit == "deg" and a.retype("drive.feed_constant.feed", "rev")


@fault("feed-of-motor-for-shaft", "enters the feed per motor revolution where the shaft's belongs")
def _(a: PlainAxis) -> bool:
    return a.ratio != 1 and a.scale("drive.feed_constant.feed", 1 / a.ratio)


@fault("pulley-tooth-miscounted", "notes a pulley with one tooth more than it has")
def _(a: PlainAxis) -> bool:
    teeth = a.get("mechanics.final.teeth")
    return teeth is not None and not a.linear_scale and a.put("mechanics.final.teeth", teeth + 1)


@fault("inch-pitch-for-metric", "fits a 5.08 mm belt and pulley in place of the 5 mm ones")
def _(a: PlainAxis) -> bool:
    if a.get("mechanics.final.kind") != "belt":
        return False
    return a.scale("mechanics.final.pitch", Fraction(127, 125))


@fault("helix-forgotten", "notes a helical rack as a straight one")
def _(a: PlainAxis) -> bool:
    return a.get("mechanics.final.helix") == "standard" and (
        a.put("mechanics.final.helix", "straight")
    )


@fault("roller-replaced-by-thicker", "fits a roller 2 mm thicker and leaves the scaling")
def _(a: PlainAxis) -> bool:
    diameter = a.base("mechanics.final.diameter")
    return diameter is not None and a.write("mechanics.final.diameter", diameter + 2)


@fault("quadrature-twice-in-drive", "multiplies by four what the drive multiplies by itself")
def _(a: PlainAxis) -> bool:
    return a.get("encoder.kind") == "incremental" and a.scale("drive.counts_per_revolution", 4)


@fault("lines-for-counts-in-drive", "enters the lines on the encoder's plate as counts")
def _(a: PlainAxis) -> bool:
    if a.get("encoder.kind") != "incremental":
        return False
    return a.scale("drive.counts_per_revolution", Fraction(1, 4))


def _scaling(a: PlainAxis, by: Fraction) -> bool:
    if a.get("controller.scaling"):
        return a.scale("controller.scaling.counts", by) or (
            a.scale("controller.scaling.distance", 1 / by)
        )
    return a.scale("controller.counts_per_unit", by)


@fault("quadrature-twice-in-controller", "multiplies counts by four that are edges already")
def _(a: PlainAxis) -> bool:
    return _scaling(a, Fraction(4))


@fault("lines-for-counts-in-controller", "scales the controller by lines, a quarter of the counts")
def _(a: PlainAxis) -> bool:
    return _scaling(a, Fraction(1, 4))


@fault("evaluation-changed", "sets the evaluation of a quadrature encoder to two edges per line")
def _(a: PlainAxis) -> bool:
    return a.get("encoder.edges_per_line") is not None and a.put("encoder.edges_per_line", 2)


@fault("counts-of-old-encoder-in-drive", "fits a 4 times finer encoder; the drive keeps its counts")
def _(a: PlainAxis) -> bool:
    a.scale("encoder.capability.counts_per_revolution", 4)
    if a.get("encoder.lines_per_revolution"):
        return a.scale("encoder.lines_per_revolution", 4)
    return a.scale("encoder.counts_per_revolution", 4)


@fault("scaling-of-old-encoder", "fits a finer encoder and tells the drive, not the controller")
def _(a: PlainAxis) -> bool:
    if a.get("drive.gear") or a.linear_scale or not counts_the_position(a):
        return False
    for part in (
        "encoder.capability.counts_per_revolution",
        "encoder.lines_per_revolution",
        "encoder.counts_per_revolution",
    ):
        a.scale(part, 4)
    return a.scale("drive.counts_per_revolution", 4)


@fault("scaling-typed-short", "types counts per unit to five figures where they do not end")
def _(a: PlainAxis) -> bool:
    path = "controller.counts_per_unit"
    if a.get(path) is None:
        return False
    number, unit = parts(a.get(path))
    typed = rounded(number, 5)
    # Where pi is in it, a millionth is as good as it gets.
    off = abs(typed / number - 1)
    if a.has_pi and off <= Fraction(3, 10**6):
        return False
    return harms(a, off) and a.put(path, spelled(typed, unit))


@fault("scaling-pair-swapped", "enters the counts as distance and the distance as counts")
def _(a: PlainAxis) -> bool:
    if not a.get("controller.scaling"):
        return False
    counts = a.get("controller.scaling.counts")
    number, unit = parts(a.get("controller.scaling.distance"))
    if number.denominator != 1 or number == counts:
        return False
    a.put("controller.scaling.counts", int(number))
    return a.put("controller.scaling.distance", spelled(Fraction(counts), unit))


@fault("scaling-inverted", "enters units per count where counts per unit are asked for")
def _(a: PlainAxis) -> bool:
    path = "controller.counts_per_unit"
    if a.get(path) is None:
        return False
    number, unit = parts(a.get(path))
    return number != 1 and a.put(path, spelled(1 / number, unit))


@fault("gear-forgotten-in-scaling", "scales the controller as if the motor were the driving shaft")
def _(a: PlainAxis) -> bool:
    if a.ratio == 1 or a.get("encoder.mounted_on") != "motor":
        return False
    return _scaling(a, 1 / a.ratio)


@fault("gear-applied-twice", "puts the gear ratio into drive and scaling")
def _(a: PlainAxis) -> bool:
    if a.ratio == 1 or a.get("encoder.mounted_on") != "motor":
        return False
    return _scaling(a, a.ratio)


@fault("scaling-per-inch", "types counts per millimetre into a field that is per inch")
def _(a: PlainAxis) -> bool:
    if a.get("controller.scaling"):
        unit = parts(a.get("controller.scaling.distance"))[1]
        return unit == "mm" and a.retype("controller.scaling.distance", "in")
    unit = parts(a.get("controller.counts_per_unit"))[1]
    return unit == "count/mm" and a.retype("controller.counts_per_unit", "count/in")


@fault(
    "scaling-per-rev-for-degree", "scales a table in counts per degree with those per revolution"
)
def _(a: PlainAxis) -> bool:
    return a.unit == "deg" and _scaling(a, Fraction(360))


@fault("length-unit-on-rotary-axis", "leaves millimetres as the unit of a rotary axis")
def _(a: PlainAxis) -> bool:
    return a.get("motion") == "rotary" and a.put("controller.units", "mm")


@fault("angle-unit-on-linear-axis", "leaves degrees as the unit of a linear axis")
def _(a: PlainAxis) -> bool:
    return a.get("motion") == "linear" and a.put("controller.units", "deg")


@fault("measuring-step-one-decimal-off", "enters a linear scale of 1 um as one of 0.1 um")
def _(a: PlainAxis) -> bool:
    return counts_the_position(a) and a.scale("encoder.measuring_step", Fraction(1, 10))


@fault("degrees-for-revs-in-cycle", "enters a cycle of 360 revolutions for 360 degrees")
def _(a: PlainAxis) -> bool:
    path = "controller.cycle"
    return a.get(path) is not None and parts(a.get(path))[1] == "deg" and a.retype(path, "rev")


@fault("position-range-of-one-motor-turn", "limits the position range to one motor revolution")
def _(a: PlainAxis) -> bool:
    if not a.endless or not a.get("drive.position_range") or a.ratio == 1:
        return False
    return a.put("drive.position_range.max", int(a.get("drive.counts_per_revolution")) - 1)


@fault("resolution-too-coarse", "fits an encoder of 16 counts in place of the one that was")
def _(a: PlainAxis) -> bool:
    if not a.get("encoder.counts_per_revolution") or a.get("drive.gear"):
        return False
    if not counts_the_position(a):
        return False  # the resolution of the position is that of the second encoder
    old = int(a.get("encoder.counts_per_revolution"))
    a.put("encoder.counts_per_revolution", 16)
    a.put("drive.counts_per_revolution", 16)
    return _scaling(a, Fraction(16, old))


@fault("backlash-worn", "runs on with a backlash of twice the accuracy wanted")
def _(a: PlainAxis) -> bool:
    if a.get("encoder.mounted_on") != "motor":
        return False
    accuracy = a.base("mechanics.required_accuracy")
    return accuracy is not None and a.write("mechanics.backlash", 2 * accuracy)
