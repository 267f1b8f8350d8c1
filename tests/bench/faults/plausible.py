"""Numbers that somebody types with a decimal point, a prefix or a unit that is not theirs.

The kinds were written before the rules that find them. Each leaves all other facts as they are.
"""

from __future__ import annotations

from fractions import Fraction

from .fault_list import fault
from .plain_axis import PlainAxis, parts

FINAL, STAGES = "mechanics.final", "mechanics.stages"
ROTOR = "motor.inertia"


@fault("rotor-of-kg-cm2-in-kg-m2", "types the kg cm² of a data sheet with the unit kg m²")
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft or a.need("motor.peak_torque") / a.need(ROTOR) > 500_000:
        return False
    return parts(a.get(ROTOR))[1] == "kg cm^2" and a.retype(ROTOR, "kg m^2")


@fault("rotor-of-kg-m2-in-kg-cm2", "types the kg m² of a data sheet with the unit kg cm²")
def _(a: PlainAxis) -> bool:
    return a.turns_shaft and a.scale(ROTOR, Fraction(1, 10_000))


@fault("peak-torque-in-millinewtons", "types the mN·m of a data sheet with the unit N·m")
def _(a: PlainAxis) -> bool:
    return a.turns_shaft and a.scale("motor.peak_torque", 1000)


@fault("peak-torque-one-decimal-off", "moves the decimal point of a motor's peak torque")
def _(a: PlainAxis) -> bool:
    return a.turns_shaft and a.scale("motor.peak_torque", 10)


@fault("highest-speed-one-decimal-off", "moves the decimal point of a motor's highest speed")
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft or a.get("motor.field_weakening"):
        return False
    return a.scale("motor.max_speed", 10)


@fault("load-of-tonnes-in-kg", "types a load in tonnes with the unit kg")
def _(a: PlainAxis) -> bool:
    return a.turns_shaft and a.scale("mechanics.load_mass", Fraction(1, 1000))


def _of_a_thousandth(a: PlainAxis) -> bool:
    """A mass a thousand times too small, without the facts that other rules compare it with.

    On a level screw a motor feels little of any load.
    """
    if not a.turns_shaft or a.get(f"{FINAL}.kind") == "screw":
        return False
    a.facts["controller"].pop("duty", None)
    for name in ("friction_force", "friction_coefficient"):
        a.facts["mechanics"].pop(name, None)
    return a.scale("mechanics.load_mass", Fraction(1, 1000))


@fault("load-of-tonnes-of-which-no-duty-tells", "types tonnes as kg; friction and duty unknown")
def _(a: PlainAxis) -> bool:
    return not a.get("mechanics.moved_by_gravity") and _of_a_thousandth(a)


@fault("load-of-grams-in-kg", "types grams of a load as kg; friction, losses and duty unknown")
def _(a: PlainAxis) -> bool:
    a.facts["controller"].pop("duty", None)
    for name in ("friction_force", "friction_coefficient", "efficiency"):
        a.facts["mechanics"].pop(name, None)
    # On a screw with a gearbox a motor feels little of any load, and some feed slowly.
    if a.get(f"{FINAL}.kind") == "screw" or a.get("mechanics.stages"):
        return False
    return a.get("motion") == "linear" and a.scale("mechanics.load_mass", 1000)


@fault("hanging-load-of-kg-in-g", "types a hanging load of kg as g; friction and duty unknown")
def _(a: PlainAxis) -> bool:
    return bool(a.get("mechanics.moved_by_gravity")) and _of_a_thousandth(a)


@fault("friction-of-millinewtons-in-newtons", "types a friction force a thousand times too large")
def _(a: PlainAxis) -> bool:
    return a.turns_shaft and a.scale("mechanics.friction_force", 1000)


@fault("table-of-kg-m2-in-kg-cm2", "types the inertia of a table in kg cm², of which no duty tells")
def _(a: PlainAxis) -> bool:
    a.facts["controller"].pop("duty", None)
    return a.turns_shaft and a.retype("mechanics.load_inertia", "kg cm^2")


@fault("velocity-of-metres-in-millimetres", "types metres per second with the unit mm/s")
def _(a: PlainAxis) -> bool:
    return a.turns_shaft and a.scale("controller.max_velocity", Fraction(1, 1000))


@fault("ratio-two-decimals-off", "moves the decimal point of a gearbox by two places")
def _(a: PlainAxis) -> bool:
    if a.get("motor.field_weakening"):
        return False
    for number, stage in enumerate(a.get(STAGES) or ()):
        if "motor_turns_per_load_turn" in stage and stage["kind"] == "gearbox":
            path = f"{STAGES}.{number}.motor_turns_per_load_turn"
            ratio = a.need(path) / 100
            return a.put(path, f"{ratio.numerator}/{ratio.denominator}")
    return False


@fault("pulley-of-ten-times-the-teeth", "types a naught too many to the teeth of a pulley")
def _(a: PlainAxis) -> bool:
    for number, stage in enumerate(a.get(STAGES) or ()):
        if stage["kind"] in ("belt", "chain") and "load_side_teeth" in stage:
            return a.scale(f"{STAGES}.{number}.load_side_teeth", 10)
    return False


@fault("worm-of-a-hundred-times-the-ratio", "types a worm's ratio of thousands")
def _(a: PlainAxis) -> bool:
    for number, stage in enumerate(a.get(STAGES) or ()):
        if stage["kind"] == "worm":
            return a.scale(f"{STAGES}.{number}.motor_turns_per_load_turn", 100)
    return False


@fault("screw-root-one-decimal-off", "moves the decimal point of a screw's root diameter")
def _(a: PlainAxis) -> bool:
    return a.scale(f"{FINAL}.root_diameter", 10)


@fault("brake-of-newton-centimetres", "types the N·cm of a brake with the unit N·m")
def _(a: PlainAxis) -> bool:
    return a.turns_shaft and a.scale("motor.brake.holding_torque", 100)
