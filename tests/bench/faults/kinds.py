"""Faults of the rarer kinds of axis: chains, turning nuts, helical racks, telescopes, rims."""

from __future__ import annotations

import math
from fractions import Fraction

from .fault_list import fault
from .motion import CRITICAL
from .plain_axis import PI, PlainAxis, parts, rounded, spelled

FINAL = "mechanics.final"


# --- chains ---------------------------------------------------------------------------------------


def _is_chain(a: PlainAxis) -> bool:
    return bool(a.get(f"{FINAL}.kind") == "chain")


def _pitch_circle(a: PlainAxis) -> Fraction:
    """The diameter on which the pins of the chain lie, in mm: p / sin(pi/z)."""
    pitch, teeth = a.need(f"{FINAL}.pitch"), a.need(f"{FINAL}.teeth")
    return rounded(pitch / Fraction(math.sin(math.pi / int(teeth))), 8)


@fault("pitch-circle-for-chain-feed", "enters pi times the pitch circle as the feed of a sprocket")
def _(a: PlainAxis) -> bool:
    return _is_chain(a) and a.write("drive.feed_constant.feed", rounded(_pitch_circle(a) * PI, 7))


@fault("sprocket-noted-as-roller", "notes a sprocket as a roller of its pitch circle's diameter")
def _(a: PlainAxis) -> bool:
    if not _is_chain(a):
        return False
    circle = _pitch_circle(a)
    a.put(f"{FINAL}.kind", "roller")
    a.facts["mechanics"]["final"]["diameter"] = "1 mm"
    return a.write(f"{FINAL}.diameter", circle)


@fault("sprocket-of-next-size", "fits a sprocket with one tooth more and changes no setting")
def _(a: PlainAxis) -> bool:
    return _is_chain(a) and a.put(f"{FINAL}.teeth", a.get(f"{FINAL}.teeth") + 1)


@fault("chain-of-next-pitch", "notes the pitch of the chain that is one size larger")
def _(a: PlainAxis) -> bool:
    return _is_chain(a) and a.scale(f"{FINAL}.pitch", Fraction(5, 4))


@fault("chain-pitch-cut-short", "types 9.53 or 15.88 in the drive for pitches of 3/8 or 5/8 inch")
def _(a: PlainAxis) -> bool:
    if not _is_chain(a):
        return False
    pitch = a.need(f"{FINAL}.pitch")
    typed = rounded(pitch, 3 if pitch < 10 else 4)
    return typed != pitch and a.scale("drive.feed_constant.feed", typed / pitch)


@fault("chain-scaled-by-its-pitch-circle", "scales the controller by pi times the pitch circle")
def _(a: PlainAxis) -> bool:
    if not _is_chain(a) or a.get("drive.gear"):
        return False
    by = rounded(a.feed / (_pitch_circle(a) * PI), 7)
    if a.get("controller.scaling"):
        return a.scale("controller.scaling.distance", 1 / by)
    return a.scale("controller.counts_per_unit", by)


# --- a nut that turns on a screw that stands ------------------------------------------------------


def _turns_its_nut(a: PlainAxis) -> bool:
    return bool(a.get(f"{FINAL}.turning_part") == "nut")


@fault("nut-of-half-the-speed", "fits a nut that permits half the speed")
def _(a: PlainAxis) -> bool:
    if not _turns_its_nut(a):
        return False
    return a.write(f"{FINAL}.nut_rated_speed", a.need("controller.max_velocity") / a.feed / 2)


@fault("turning-nut-speed-one-decimal-off", "runs an axis at ten times the speed its nut permits")
def _(a: PlainAxis) -> bool:
    return _turns_its_nut(a) and a.scale(f"{FINAL}.nut_rated_speed", Fraction(1, 10))


@fault("nut-drive-turned-into-screw-drive", "turns a screw of three times the length, no nut")
def _(a: PlainAxis) -> bool:
    if not _turns_its_nut(a):
        return False
    k = CRITICAL[a.get(f"{FINAL}.support")] * 10**7
    length = 3 * a.need(f"{FINAL}.unsupported_length")
    critical = k * a.need(f"{FINAL}.root_diameter") / length**2 / 60
    top = a.need("controller.max_velocity") / a.feed
    a.scale(f"{FINAL}.unsupported_length", 3)
    return critical < top and a.put(f"{FINAL}.turning_part", "screw")


@fault("screw-under-its-nut-permits-less", "fits a screw whose maker permits half the nut's speed")
def _(a: PlainAxis) -> bool:
    if not _turns_its_nut(a):
        return False
    top = a.need("controller.max_velocity") / a.feed
    if a.get(f"{FINAL}.rated_speed") is not None:
        return a.write(f"{FINAL}.rated_speed", top / 2)
    index = a.need(f"{FINAL}.nominal_diameter") * top * 60 / 2
    return a.put(f"{FINAL}.speed_index", int(index))


# --- racks of any helix angle ---------------------------------------------------------------------


def _cosine(a: PlainAxis) -> Fraction | None:
    """The cosine of the helix angle of a rack that states it."""
    angle = a.base(f"{FINAL}.helix_angle")
    return None if angle is None else Fraction(math.cos(math.tau * float(angle)))


@fault("helix-angle-forgotten-in-drive", "enters pi times module times teeth of a helical rack")
def _(a: PlainAxis) -> bool:
    cosine = _cosine(a)
    if cosine is None:
        return False
    return a.write("drive.feed_constant.feed", rounded(a.feed * cosine, 9))


@fault("helix-cosine-multiplied", "multiplies by the cosine of the helix where one divides by it")
def _(a: PlainAxis) -> bool:
    cosine = _cosine(a)
    if cosine is None:
        return False
    return a.write("drive.feed_constant.feed", rounded(a.feed * cosine**2, 9))


@fault("helix-angle-of-another-rack", "fits a rack whose helix is a degree steeper")
def _(a: PlainAxis) -> bool:
    angle = a.base(f"{FINAL}.helix_angle")
    return angle is not None and a.write(f"{FINAL}.helix_angle", angle + Fraction(1, 360))


@fault("helix-noted-as-usual", "notes a rack with a helix of its own as one with the usual helix")
def _(a: PlainAxis) -> bool:
    if _cosine(a) is None:
        return False
    del a.facts["mechanics"]["final"]["helix_angle"]
    return a.put(f"{FINAL}.helix", "standard")


@fault("helix-scaled-as-straight", "scales the controller of a helical rack as a straight one")
def _(a: PlainAxis) -> bool:
    cosine = _cosine(a)
    if cosine is None:
        return False
    if a.get("controller.scaling"):
        return a.scale("controller.scaling.distance", rounded(cosine, 9))
    return a.scale("controller.counts_per_unit", rounded(1 / cosine, 9))


@fault("pitch-of-the-old-rack", "leaves the pitch of the old rack beside the module of a new one")
def _(a: PlainAxis) -> bool:
    if a.get(f"{FINAL}.kind") != "rack" or a.get(f"{FINAL}.module") is None:
        return False
    module = Fraction(a.facts["mechanics"]["final"]["module"].split()[0])
    # As of a straight rack of the next module: longer than that of the module by a tenth or more.
    a.facts["mechanics"]["final"]["pitch"] = f"{float(module) * 1.25 * math.pi:.3f} mm"
    return True


@fault("helix-stated-twice-unlike", "leaves the old helix on record beside the angle of a new rack")
def _(a: PlainAxis) -> bool:
    if _cosine(a) is None:
        return False
    a.facts["mechanics"]["final"]["helix"] = "straight"
    return True


@fault("helix-typed-short-beside-its-word", "sets a rack with the usual helix by 19.5 deg")
def _(a: PlainAxis) -> bool:
    """Drive and controller are set by the rounded angle too, so that all of them agree."""
    if a.get(f"{FINAL}.helix") != "standard" or a.get("drive.gear"):
        return False
    a.facts["mechanics"]["final"]["helix_angle"] = "19.5 deg"
    return _set_by_angle(a)


@fault(
    "usual-helix-stated-by-a-short-angle", "states 19.5 deg alone for a rack with the usual helix"
)
def _(a: PlainAxis) -> bool:
    if a.get(f"{FINAL}.helix") != "standard" or a.get("drive.gear"):
        return False
    del a.facts["mechanics"]["final"]["helix"]
    a.facts["mechanics"]["final"]["helix_angle"] = "19.5 deg"
    return _set_by_angle(a)


def _set_by_angle(a: PlainAxis) -> bool:
    """Set drive and controller by pi times module over the cosine of 19.5 deg."""
    by = Fraction(3, 10) * PI / Fraction(math.cos(math.radians(19.5)))
    a.write("drive.feed_constant.feed", rounded(a.need("drive.feed_constant.feed") * by, 9))
    if a.get("controller.scaling"):
        number, unit = parts(a.get("controller.scaling.distance"))
        return a.put("controller.scaling.distance", spelled(rounded(number * by, 11), unit))
    number, unit = parts(a.get("controller.counts_per_unit"))
    return a.put("controller.counts_per_unit", spelled(rounded(number / by, 11), unit))


# --- rims -----------------------------------------------------------------------------------------


@fault("wheel-of-next-size", "fits a wheel of one and a half times the diameter")
def _(a: PlainAxis) -> bool:
    return a.scale("mechanics.rim.diameter", Fraction(3, 2))


@fault("wheel-that-permits-less", "fits a wheel whose maker permits half the speed")
def _(a: PlainAxis) -> bool:
    return a.scale("mechanics.rim.max_speed", Fraction(1, 2))


@fault("rim-speed-per-minute", "types the metres per second of a wheel as metres per minute")
def _(a: PlainAxis) -> bool:
    path = "mechanics.rim.max_speed"
    if a.get(path) is None or not a.get(path).endswith(" m/s"):
        return False
    return a.retype(path, "m/min")


@fault("wheel-runs-faster", "runs a wheel half as fast again and fits a motor that can do it")
def _(a: PlainAxis) -> bool:
    if a.get("mechanics.rim") is None:
        return False
    for path in ("motor.rated_speed", "motor.max_speed", "drive.max_speed"):
        a.scale(path, Fraction(3, 2))
    return a.scale("controller.max_velocity", Fraction(3, 2))
