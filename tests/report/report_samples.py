"""Reports made by hand for the tests of report formats."""

from __future__ import annotations

from dataclasses import replace

from axisproof.base.errors import Place
from axisproof.findings.finding import (
    AxisSketch,
    DecidingFact,
    DerivationStep,
    Feature,
    Figure,
    Finding,
    Fix,
    Gap,
    LeftOut,
    LevelChange,
    Mark,
    Outcome,
    Picture,
    Report,
    Tally,
    Undecided,
)
from axisproof.findings.unusable import Unusable
from axisproof.numbers.rational import Fraction

TURNS = "axes.turntable.encoder.distinguishable_revolutions"


def mark(line_text: str, value: str, label: str, file: str = "hall.yaml", line: int = 41) -> Mark:
    """Return a mark under the first occurrence of ``value`` in ``line_text``."""
    column = line_text.index(value) + 1
    place = Place(file, line, column, line, column + len(value))
    return Mark(place, line_text, TURNS, label)


# Worked by hand: 360 deg / 7 per encoder revolution; 65536 mod 7 = 2, so a wrap is 2/7 turn off.
ROLLOVER = Finding(
    rule="rollover-divides-cycle",
    level="error",
    machine="hall",
    subject="turntable",
    title="The turn counter wraps on a whole number of machine cycles",
    message=(
        "After 65536 encoder revolutions the table has made 9362.28… cycles (65536/7), so each "
        "wrap shifts the indicated position by 102.857… deg (720/7)."
    ),
    why="The controller reduces the reading into the cycle; that is right only if cycles fit.",
    remedy="Set encoder, drive and controller to 65534 revolutions, then home and calibrate.",
    basis="computed",
    marks=(
        mark("    distinguishable_revolutions: 65536 # new", "65536", "turn states"),
        mark("    cycle: 360 deg", "360 deg", "one cycle of the table", line=77),
    ),
    figures=(
        Figure(
            "cycles",
            "9362.28… (65536/7)",
            {"numerator": 65536, "denominator": 7, "pi_power": 0, "unit": ""},
            True,
        ),
        Figure("radius", "≈ 12.5 mm", {"value": 12.5, "error": 1e-9, "unit": "mm"}, True),
        Figure("state", "referenced", {"text": "referenced"}, True),
        Figure("if_not_strict", "no", {"text": "no"}),
    ),
    workings=(
        DerivationStep(
            "u", "F / i", "360 deg / 7", "51.4285… deg (360/7)", "travel per encoder revolution"
        ),
        DerivationStep(
            "cycles", "N * u / C", "65536 * (360/7 deg) / 360 deg", "9362.28… (65536/7)"
        ),
    ),
    fix=Fix(
        TURNS,
        "65534",
        False,
        Place("hall.yaml", 41, 34, 41, 39),
        "    distinguishable_revolutions: 65536 # new",
    ),
)
NODES = replace(
    ROLLOVER,
    rule="node-address-unique",
    level="warning",
    subject="",
    title="Every drive has its own node address",
    message="infeed and outfeed both have node 4.",
    marks=(),
    figures=(),
    workings=(),
    fix=None,
)
SPEED = Undecided(
    "speed-through-gearing",
    "error",
    "hall",
    "infeed",
    "No part turns faster than it may",
    ("axes.infeed.motor.max_speed",),
    "axes.infeed.motor.max_speed is not stated",
)
TRAVEL = Picture(
    "strip",
    "Travel",
    "Hard stops at -10 mm and 110 mm.",
    "mm",
    -15,
    115,
    (
        Feature("hard stop", "lower hard stop", "-10 mm", -10),
        Feature("hard stop", "upper hard stop", "110 mm", 110),
        Feature("limit switch", "upper limit switch", "100 mm", 100),
        Feature("software limit", "lower software limit", "0 mm", 0),
        Feature("reference", "reference", "0 mm", 0),
        Feature("stopping distance", "run past the lower software limit", "5 mm", 0, -5),
    ),
)
DIAL = Picture(
    "dial",
    "Cycle and rollover",
    "Each rollover shifts the indicated position by -102.857… deg (-720/7).",
    "deg",
    0,
    360,
    (
        Feature("reference", "reference", "0 deg", 0),
        Feature("encoder turn", "whole turns", "every 360/7 deg", Fraction(360, 7), 360),
        Feature("drift", "after one rollover", "-720/7 deg", 0, Fraction(-720, 7)),
    ),
)
SKETCHES = (
    AxisSketch(
        "hall",
        "infeed",
        "Pushes a row",
        (TRAVEL,),
        ("It has no software limits.",),
        (Gap("stopping distance past the limit switch", ("axes.infeed.drive.delay",)),),
    ),
    AxisSketch("hall", "turntable", "", (DIAL,)),
)
FULL = Report(
    files=("hall.yaml",),
    machines=("hall",),
    axes=2,
    rules=15,
    findings=(NODES, ROLLOVER),
    undecided=(SPEED,),
    tallies=(
        Tally("hall", "infeed", 11, 0, 1, 3),
        Tally("hall", "turntable", 12, 1, 0, 2),
        Tally("hall", "", 0, 1, 0, 0),
    ),
    deciding_facts=(DecidingFact("axes.infeed.motor.max_speed", 1, 1, ("infeed",)),),
    outcomes=(
        Outcome("home-method-fits", "hall", "infeed", "holds"),
        Outcome("rollover-divides-cycle", "hall", "infeed", "not applicable", "no modulo axis"),
    ),
    settings=(("hall", "infeed", "range_margin", "20 %", "Retuned every spring."),),
    levels={"error": 1, "warning": 1},
    concerns={"home-method-fits": "homing", "rollover-divides-cycle": "turn counter"},
    sketches=SKETCHES,
)
WEAKENED = replace(
    FULL,
    left_out=(LeftOut("hall", Place("lift.dcf", 7, 1, 7, 9), "0x6085 is left out: no reason"),),
    level_changes=(
        LevelChange("brake-holds-load", "The brake holds", "error", "off", "No load hangs here."),
        LevelChange("home-method-fits", "Homing fits", "error", "note", "Homed by hand."),
    ),
)
PARTIAL = replace(
    WEAKENED,
    skipped=("package.json", "a b{0}](x).yaml"),
    unusable=(
        Unusable("a.yaml", "no value stands here", "a value", Place("b.yaml", 2, 4, 2, 5), "a: ["),
        Unusable("c{0}](x).yaml", "c.yaml cannot be read: permission denied"),
    ),
)
CLEAN = Report(
    files=("hall.yaml",),
    machines=("hall",),
    axes=1,
    rules=15,
    tallies=(Tally("hall", "infeed", 12, 0, 0, 3),),
)
