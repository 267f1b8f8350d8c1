"""Rules whose expressions are wrong: dimensions, names and kinds of value."""

from __future__ import annotations

from tests.language.rule_parts import DEFINE, PAIR

EXPRESSIONS: list[tuple[str, dict[str, str] | str, str, str]] = [
    # dimensions
    ("mm plus deg", {"require": "§1mm + 1deg > 1mm"}, "angle cannot be added to a length", "two"),
    ("seconds minus mm", {"require": "§1mm - 1s > 1mm"}, "a time cannot be subtracted", ""),
    ("mm against s", {"require": "§1mm < 1s"}, "a length cannot be compared with a time", ""),
    ("mm against number", {"require": "§1mm = 1"}, "a length cannot be compared with a plain", ""),
    ("mm between s", {"require": "§1mm between 1mm and 2s"}, "cannot be compared", "one dimension"),
    ("mm within s", {"require": "§1mm within 1s of 1mm"}, "cannot be compared", ""),
    ("mm divides s", {"require": "§1mm divides 1s"}, "cannot be compared", ""),
    ("counts plus turns", {"require": "§1count + 1rev = 1rev"}, "cannot be added", ""),
    (
        "literal against position",
        {"require": "§axis.controller.cycle > 5mm"},
        "a position of axis cannot be compared with a length",
        "a condition on axis.motion",
    ),
    (
        "literal under the wrong guard",
        {"require": "§axis.controller.cycle > 5mm", "when": "axis.motion is rotary"},
        "an angle cannot be compared with a length",
        "",
    ),
    (
        "positions of two axes",
        {"require": "§axis.controller.cycle = other.controller.cycle", "each": PAIR},
        "cannot be compared",
        "the condition axis.motion is other.motion before",
    ),
    (
        "sum of user units of all axes",
        {
            "require": "(sum of §a.controller.cycle for a in machine.axes) > 1mm",
            "each": "machine",
        },
        "different axes cannot be combined",
        "a condition on a.motion",
    ),
    ("whole mm", {"require": "§1mm is whole"}, "depends on the unit", "counts or turns"),
    (
        "product of lengths",
        {"require": "(product of §1mm for s in axis.mechanics.stages) > 1mm"},
        "only ratios",
        "a ratio",
    ),
    ("choice of kinds", {"require": "(1mm if true else §1s) > 1mm"}, "this is a time", "leng"),
    (
        "default of kinds",
        {"require": "(axis.drive.node default §1s) > 1"},
        "this is a time",
        "number",
    ),
    ("argument of the wrong dimension", {"require": "floor(§1mm) = 1"}, "this is a length", "x"),
    ("arguments that differ", {"require": "min(1mm, §1s) = 1mm"}, "this is a time", "length"),
    (
        "kind of a definition",
        {"require": "true", "before": DEFINE.format("§1mm")},
        "this is a length",
        "declared as",
    ),
    ("unit in a message", {"require": "true", "say": "{§1mm in s}"}, "s is a unit of time", "leng"),
    (
        "unknown unit in a message",
        {"require": "true", "say": "{§1mm in mn}"},
        "mn is not a unit",
        "perhaps",
    ),
    ("unknown unit", {"require": "§5mn > 1mm"}, "mn", ""),
    ("date plus number", {"require": "§machine.check_date + 1 > 1"}, "a date is not something", ""),
    ("date against number", {"require": "machine.check_date > §1"}, "a number and a date", ""),
    # names
    (
        "unknown fact",
        {"require": "§axis.controller.cylce > 1"},
        "is not a fact",
        "perhaps axis.controller.cycle",
    ),
    (
        "fact in the wrong place",
        {"require": "§axis.cycle > 1"},
        "is not a fact",
        "perhaps axis.controller.cycle",
    ),
    (
        "unknown root",
        {"require": "§axle.drive.node = 1"},
        "axle is not known here",
        "begins with axis or machine",
    ),
    ("unknown word", {"require": "§room > 1"}, "room is not known here", ""),
    (
        "unknown let",
        {"require": "§cycels = 1", "lets": "let cycles = 1"},
        "cycels is not known",
        "perhaps cycles",
    ),
    (
        "group of facts",
        {"require": "§axis.drive.position_register = 1"},
        "is a group of facts",
        "such as",
    ),
    (
        "unknown name",
        {"require": "axis.motion is §lineal"},
        "is not one of its words",
        "perhaps linear",
    ),
    (
        "unknown name in a list",
        {"require": "axis.motion is one of [linear, §rotari]"},
        "not one of its words",
        "perhaps rotary",
    ),
    (
        "no word in common",
        {"require": "axis.motion is §axis.drive.polarity"},
        "no word in common",
        "",
    ),
    ("unknown function", {"require": "§flor(1) = 1"}, "flor is not a function", "perhaps floor"),
    ("too few arguments", {"require": "§remainder(1) = 1"}, "is given 1 values", "remainder(a, b)"),
    ("too many arguments", {"require": "§floor(1, 2) = 1"}, "is given 2 values", "floor(x)"),
    ("let twice", {"require": "true", "lets": "let a = 1 let §a = 2"}, "a means something", ""),
    ("let named as a subject", {"require": "true", "lets": "let §axis = 1"}, "means something", ""),
    ("let with a dot", {"require": "true", "lets": "let §a.b = 1"}, "cannot be used as a name", ""),
    (
        "let named by a keyword",
        {"require": "true", "lets": "let §whole = 1"},
        "whole is a word of",
        "another name",
    ),
    (
        "let named true",
        {"require": "true", "lets": "let §true = 1"},
        "true is a word of",
        "another name",
    ),
    (
        "loop over a taken name",
        {"require": "every §axis in axis.mechanics.stages has true"},
        "means something already",
        "",
    ),
    (
        "keyword as a value",
        {"require": "§safe = 1"},
        "safe is a word of the language",
        "another name",
    ),
    (
        "list in a let",
        {"require": "true", "lets": "let a = §axis.mechanics.stages"},
        "a list cannot be named",
        "",
    ),
    (
        "let before it is known",
        {"require": "true", "lets": "let a = §b let b = 1"},
        "b is not known",
        "",
    ),
    # kinds of value
    ("number as a condition", {"require": "§1"}, "a number is not a condition", "true or false"),
    ("number before is", {"require": "§1 is 2"}, "a number before is", "= for numbers"),
    ("word compared by size", {"require": "§axis.motion < 1"}, "a word has no order", ""),
    ("word equated", {"require": "§axis.motion = linear"}, "a word has no order", "is for words"),
    ("text in a sum", {"require": "§axis.drive.serial + 1 > 1"}, "a text is not something", ""),
    ("never none", {"require": "§axis.drive.serial is none"}, "this is never none", "may be none"),
    ("not a list", {"require": "every s in §axis.drive.node has true"}, "has no records", "a list"),
    (
        "includes in no list",
        {"require": "§axis.drive.node includes 1"},
        "before includes",
        "a list",
    ),
    (
        "includes in a choice of lists",
        {
            "require": "(§axis.encoder.turn_counter.battery.places default"
            " axis.encoder.turn_counter.battery.places) includes cable"
        },
        "a list cannot be chosen",
        "single value",
    ),
    (
        "unique flags",
        {"require": "unique §s.reversing for s in axis.mechanics.stages"},
        "cannot be told apart",
        "",
    ),
    (
        "decimals of a sum",
        {"require": "decimals of §axis.x = 1", "before": DEFINE.format("1")},
        "only a stated fact",
        "a fact",
    ),
    (
        "part in a message",
        {"require": "true", "say": "{§axis.motor.brake}"},
        "a part cannot be",
        "",
    ),
    (
        "unit of a word",
        {"require": "true", "say": "{§axis.motion in mm}"},
        "a word has no unit",
        "",
    ),
    (
        "equality of what is never exact",
        {"require": "§1rad + 1rev = 1rev"},
        "never exact",
        "within",
    ),
    (
        "wholeness of what is never exact",
        {"require": "§circumference(1) + 1 is whole"},
        "never exact",
        "",
    ),
    (
        "division of what is never exact",
        {"require": "1 divides §circumference(1) + 1"},
        "never exact",
        "",
    ),
    ("power too high", {"require": "2^§5 > 1"}, "5 is no power", "1, 2, 3 or 4"),
    ("power that is not whole", {"require": "2^§2.5 > 1"}, "2.5 is no power", "1, 2, 3 or 4"),
    ("number too long", {"require": f"§{'1' * 41} > 1"}, "41 digits", "at most 40"),
]
"""A case: its name, the parts of a rule or a whole text, and words of what is wrong and expected.

§ stands where the fault must be placed; it is taken out before the text is read.
"""
