"""Random well-typed rules as text, and random machines with facts for them.

A rule is drawn by type: an expression of a dimension is a leaf of it or an operation whose operands
are drawn likewise. Facts may be missing, disputed, none, zero, a multiple of pi; lists may be empty
or partial.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

BEFORE = """
setting room default 10% meaning "m" basis "b"
setting strict default true meaning "m" basis "b"
define axis.bare kind ratio as axis.mechanics.counterbalance meaning "m"
define axis.quotient kind ratio as axis.drive.node / axis.bare meaning "m"
define axis.round kind ratio
  as circumference(axis.bare) + (axis.drive.gear.min_ratio default axis.drive.node) meaning "m"
define axis.signed kind flag
  as axis.drive.position_register.signed default (axis.round > 3) meaning "m"
define s.ratio for s in axis.mechanics.stages kind ratio
  as s.motor_turns_per_load_turn default s.load_side_teeth / s.motor_side_teeth meaning "m"
define axis.total kind ratio as product of s.ratio for s in axis.mechanics.stages meaning "m"
define machine.nodes kind ratio as count of n in machine.network.nodes meaning "m"
"""

LEAVES: dict[str, list[str]] = {
    "ratio": [
        "axis.drive.node",
        "axis.drive.gear.min_ratio",
        "axis.mechanics.counterbalance",
        "axis.mechanics.stated_ratio",
        "decimals of axis.mechanics.stated_ratio",
        "axis.bare",
        "axis.quotient",
        "axis.round",
        "axis.total",
        "machine.nodes",
        "room",
        "pi",
        "0",
        "1",
        "3",
        "0.5",
        "25%",
    ],
    "time": [
        "axis.drive.input_filter",
        "axis.motor.brake.apply_time",
        "machine.network.cycle_time",
        "0s",
        "5ms",
        "(machine.check_date - (2026-01-31 + 1month))",
        "(machine.check_date - axis.encoder.turn_counter.battery.fitted_on)",
    ],
    "angle": [
        "axis.encoder.distinguishable_revolutions",
        "axis.mechanics.inclination",
        "1rev",
        "90deg",
        "1rad",
    ],
    "position": [
        "axis.controller.cycle",
        "axis.controller.software_limits.min",
        "axis.controller.software_limits.max",
        "axis.mechanics.backlash",
    ],
    "jerk": ["axis.drive.stop_reaction.jerk", "axis.controller.stop.jerk"],
    "item": ["s.motor_side_teeth", "s.load_side_teeth", "s.ratio", "s.motor_turns_per_load_turn"],
}
FLAGS = [
    "true",
    "false",
    "strict",
    "axis.signed",
    "axis.encoder.index_pulse",
    "axis.drive.position_register.signed",
    "axis.motion is linear",
    "axis.drive.polarity is not axis.controller.polarity",
    "axis.encoder.kind is one of [incremental, absolute_multiturn]",
    "axis.motor.brake is none",
    "axis.mechanics.counterbalance is not none",
    "axis.motor.serial is axis.encoder.serial",
    "axis.encoder.turn_counter.battery.places includes cable",
    "axis.drive.supported_homing_methods includes axis.controller.homing.method",
    'axis.motor.serial begins with "A"',
    "axis.motor.serial contains axis.encoder.serial",
    'axis.encoder.serial is one of ["A", "C"]',
    "any of axis.encoder.turn_counter.battery.places in [cable, encoder]",
    "all of axis.encoder.turn_counter.battery.places in [cable]",
    "all of [3, 35] in axis.drive.supported_homing_methods",
    "none of axis.drive.supported_homing_methods in [34, 35]",
    "axis.encoder.turn_counter.battery.places is empty",
    "axis.interlocks is not empty",
    "axis.controller.homing.method is 3",
    "uses_index(axis.controller.homing.method)",
    "uses_hard_stop(axis.controller.homing.method)",
    "machine.check_date > axis.encoder.turn_counter.battery.fitted_on + 18months",
    "2026-03-14 - 1year <= axis.encoder.turn_counter.battery.fitted_on",
    "machine.check_date > axis.encoder.turn_counter.battery.fitted_on",
]
ITEM_FLAGS = ["s.kind is belt", "s.reversing", "s.kind is not one of [gearbox, worm]", "true"]
STAGES = "s in axis.mechanics.stages"


@st.composite
def numbers(draw: st.DrawFn, kind: str, depth: int) -> str:
    """An expression of a kind of LEAVES."""
    if depth <= 0:
        return draw(st.sampled_from(LEAVES[kind]))
    form = draw(st.integers(0, 9))

    def same() -> str:
        return draw(numbers(kind, depth - 1))

    match form:
        case 0 | 1:
            return draw(st.sampled_from(LEAVES[kind]))
        case 2 | 3:
            return f"({same()} {draw(st.sampled_from('+-'))} {same()})"
        case 4:
            ratio = draw(numbers("item" if kind == "item" else "ratio", depth - 1))
            return f"({same()} {draw(st.sampled_from('*/'))} {ratio})"
        case 5:
            return f"({same()} default {same()})"
        case 6:
            return f"({same()} if {draw(flags(depth - 1, kind == 'item'))} else {same()})"
        case 7:
            name = draw(st.sampled_from(["min", "max", "remainder", "nearest_remainder"]))
            return f"{name}({same()}, {same()})"
        case 8:
            return draw(st.sampled_from([f"absolute({same()})", f"-{same()}"]))
    if kind == "ratio":
        return draw(ratios(depth))
    return f"(circumference({same()}) / 3)"


@st.composite
def ratios(draw: st.DrawFn, depth: int) -> str:
    """A plain number from something else."""
    match draw(st.integers(0, 5)):
        case 0:
            kind = draw(st.sampled_from(["time", "angle", "position", "jerk"]))
            above, below = draw(numbers(kind, depth - 1)), draw(numbers(kind, depth - 1))
            return f"({above} / {below})"
        case 1:
            name = draw(st.sampled_from(["floor", "ceiling", "numerator", "denominator"]))
            return f"{name}({draw(numbers('ratio', depth - 1))})"
        case 2:
            return f"({draw(numbers('ratio', depth - 1))})^{draw(st.integers(1, 4))}"
        case 3:
            where = draw(st.sampled_from(["", f" where ({draw(flags(1, True))})"]))
            return f"(count of {STAGES}{where})"
        case 4:
            name = draw(st.sampled_from(["sum", "product", "max", "min"]))
            where = draw(st.sampled_from(["", f" where ({draw(flags(1, True))})"]))
            return f"({name} of {draw(numbers('item', depth - 1))} for {STAGES}{where})"
    return f"power_of_two({draw(numbers('ratio', depth - 1))})"


@st.composite
def flags(draw: st.DrawFn, depth: int, item: bool = False) -> str:
    """A condition; ``item``: on a stage ``s``, and free of further loops over stages."""
    if depth <= 0:
        return draw(st.sampled_from(ITEM_FLAGS if item else FLAGS))

    def same() -> str:
        return draw(flags(depth - 1, item))

    form = draw(st.integers(0, 8 if item else 11))
    match form:
        case 0:
            return draw(st.sampled_from(ITEM_FLAGS if item else FLAGS))
        case 1 | 2:
            return f"({same()} and {same()})"
        case 3 | 4:
            return f"({same()} or {same()})"
        case 5:
            return f"not ({same()})"
        case 6:
            return f"(({same()}) default ({same()}))"
    kind = "item" if item else draw(st.sampled_from(["ratio", "time", "angle", "position", "jerk"]))

    def number() -> str:
        return draw(numbers(kind, depth - 1))

    match form:
        case 7:
            sign = draw(st.sampled_from(["<", "<=", ">", ">=", "=", "divides"]))
            return f"({number()} {sign} {number()})"
        case 8:
            word = draw(st.sampled_from(["within {} of {}", "between {} and {}"]))
            return f"({number()} {word.format(number(), number())})"
        case 9:
            return f"({draw(numbers('ratio', depth - 1))} is whole)"
        case 10:
            where = draw(st.sampled_from(["", f" where ({draw(flags(1, True))})"]))
            if draw(st.booleans()):
                return f"(unique {draw(numbers('item', 1))} for {STAGES}{where})"
            word = draw(st.sampled_from(["every", "some"]))
            return f"({word} {STAGES}{where} has ({draw(flags(depth - 1, True))}))"
    word = draw(st.sampled_from(["every", "some", "no"]))
    lock = draw(
        st.sampled_from(
            [
                "i.triggers includes position_lost",
                "any of i.triggers in [position_lost, encoder_replaced]",
                "all of i.released_by in [homing]",
                "i.triggers is empty",
                "i.latched and i.released_by includes homing",
                "i.max_speed is none",
                "i.max_speed < axis.controller.max_velocity",
                "(count of n in machine.network.nodes where n.address = axis.drive.node) = 1",
            ]
        )
    )
    return f"({word} i in axis.interlocks has ({lock}))"


# Machines ---------------------------------------------------------------------------------------

MISSING = object()


def _claims(first: Any, second: Any) -> dict[str, Any]:
    return {"claims": [{"value": first, "source": "a"}, {"value": second, "source": "b"}]}


def _lists(items: list[Any]) -> st.SearchStrategy[Any]:
    some = st.lists(st.sampled_from(items), max_size=3)
    return st.one_of(some, some.map(lambda found: {"partial": found}))


_STAGES: list[Any] = [
    {},
    {"motor_side_teeth": 20, "load_side_teeth": 40, "kind": "belt"},
    {"motor_side_teeth": 20, "load_side_teeth": 40, "kind": "belt"},
    {"motor_side_teeth": 17, "kind": "gearbox", "reversing": True},
    {"load_side_teeth": 60, "motor_turns_per_load_turn": "10/3"},
    {"motor_turns_per_load_turn": 7, "reversing": False},
    {"motor_turns_per_load_turn": _claims(7, 8), "kind": "worm"},
]
_LOCKS: list[Any] = [
    {"triggers": ["position_lost"], "latched": True, "released_by": ["homing"]},
    {"triggers": [], "max_speed": "none"},
    {"triggers": {"partial": ["encoder_replaced"]}, "latched": False},
    {"triggers": ["motor_replaced"], "released_by": {"partial": []}},
]

FACTS: dict[str, Any] = {
    "motor.serial": ["A", "B"],
    "encoder.serial": ["A", _claims("A", "B")],
    "motor.brake": ["none", {}, {"apply_time": "20 ms"}, {"apply_time": "0 s"}],
    "encoder.kind": ["incremental", "absolute_multiturn", "absolute_singleturn"],
    "encoder.index_pulse": [True, False],
    "encoder.distinguishable_revolutions": [1, 65536, _claims(1, 2)],
    "encoder.turn_counter.battery": [
        "none",
        {"fitted_on": "2026-02-03", "places": ["cable"]},
        {"fitted_on": "2036-02-03", "places": {"partial": ["drive"]}},
        {"places": []},
    ],
    "drive.node": [1, 3, _claims(1, 3)],
    "drive.gear": ["none", {"min_ratio": "1/3"}, {"min_ratio": 3}],
    "drive.polarity": ["normal", "reversed"],
    "controller.polarity": ["normal", "reversed"],
    "drive.input_filter": ["0 s", "1 ms", "1/3 s"],
    "drive.position_register.signed": [True, False],
    "drive.stop_reaction.jerk": ["none", "20 mm/s^3", "20 rad/s^3"],
    "controller.stop.jerk": ["none", "20 mm/s^3", "20 deg/s^3"],
    "drive.supported_homing_methods": _lists([3, 35, -1, "hard_stop_negative"]),
    "controller.homing": [
        {"method": 3}, {"method": 34}, {"method": -1}, {"method": "hard_stop_negative"}, "none",
    ],
    "controller.cycle": ["1 mm", "360 deg", "2 rad", "1/3 mm"],
    "controller.max_velocity": ["10 mm/s", "10 deg/s"],
    "controller.software_limits": ["none", {"min": "-5 mm", "max": "1 mm"}, {"max": "1 rad"}],
    "mechanics.backlash": ["0 mm", "0.5 rad", "0 deg", "0.02 mm"],
    "mechanics.counterbalance": ["none", 0, "1/3", 2, _claims(0, 1)],
    "mechanics.stated_ratio": ["3.333", "1/3", 7],
    "mechanics.inclination": ["0 deg", "1 rad", "90 deg"],
    "mechanics.stages": _lists(_STAGES),
    "interlocks": _lists(_LOCKS),
}  # fmt: skip


@st.composite
def machines(draw: st.DrawFn) -> dict[str, Any]:
    """A plain machine of one axis, with about two thirds of FACTS stated."""
    axis: dict[str, Any] = {"motion": draw(st.sampled_from(["linear", "rotary"]))}
    for path, choices in FACTS.items():
        chosen = choices if isinstance(choices, st.SearchStrategy) else st.sampled_from(choices)
        value = draw(st.one_of(st.just(MISSING), chosen, chosen))
        if value is MISSING:
            continue
        *above, last = path.split(".")
        here = axis
        for part in above:
            here = here.setdefault(part, {})
        here[last] = value
    plain: dict[str, Any] = {"axes": {"axis": axis}}
    network = draw(
        st.sampled_from(
            [
                MISSING,
                {"cycle_time": "1 ms"},
                {"nodes": [{"address": 1}, {"address": 3}]},
                {"nodes": {"partial": [{"address": 3}]}},
            ]
        )
    )
    if network is not MISSING:
        plain["network"] = network
    return plain
