"""Checks that no rule text can express, with the same texts as rules have."""

from __future__ import annotations

from ..base.lazy import dataclass
from .finding import Finding, Level, Mark


@dataclass(frozen=True, slots=True)
class BuiltIn:
    """Name and texts of a check that no rule text can express."""

    name: str
    level: Level
    title: str
    condition: str
    requirement: str
    why: str
    remedy: str
    basis: str

    def finding(self, machine: str, subject: str, message: str, marks: tuple[Mark, ...]) -> Finding:
        """A finding of this check."""
        return Finding(
            self.name,
            self.level,
            machine,
            subject,
            self.title,
            message,
            self.why,
            self.remedy,
            self.basis,
            marks,
        )


DISPUTE = BuiltIn(
    "sources-agree",
    "error",
    "Two sources state a fact differently",
    "a fact is stated more than once",
    "all statements of it are equal, compared as exact values and not as text",
    "A fact that two sources state differently is known to neither. Every rule that needs it is "
    "left undecided rather than decided on a guess.",
    "Find out which statement is true (read it from the device, not from paper) and correct or "
    "remove the other.",
    "computed",
)

MISFIT = BuiltIn(
    "unit-fits-motion",
    "error",
    "A unit does not fit the motion of the axis",
    "a fact is stated in user units of an axis",
    "it is a length on a linear axis and an angle on a rotary one",
    "A length on a rotary axis (or an angle on a linear one) has no meaning there; whoever wrote "
    "it had another axis or another unit in mind. Rules that need the fact are left undecided.",
    "State the value in a unit of the axis, or correct the axis's motion.",
    "computed",
)

EXPORT_OLD = BuiltIn(
    "export-is-current",
    "warning",
    "Settings were read out before the axis was taught",
    "the day of an export and the day of a teaching are stated",
    "the settings were read from the device on the day of the teaching, or later",
    "Teaching writes settings: the reference, the turns, the commutation angle. An export from "
    "before shows the values that were there then, and so do all checks of them.",
    "Read the settings from the device again, and check them. If the day is wrong, correct the "
    "day.",
    "common practice, no source",
)

ZERO_DIVISOR = BuiltIn(
    "divisor-is-not-zero",
    "error",
    "A calculation divides by zero",
    "a rule divides by something computed from facts",
    "the divisor is not zero",
    "A quantity that other facts make zero cannot be divided by, so the rule that needed the "
    "quotient is undecided. A zero here is almost always a wrong or swapped value.",
    "Correct the facts the divisor is computed from.",
    "computed",
)

AXIS_REMOVED = BuiltIn(
    "axis-removed",
    "warning",
    "An axis is gone",
    "two versions of a machine are compared",
    "every axis of the old one is in the new one",
    "Whatever named the axis names nothing now: a gantry partner, a collision pair, an order of "
    "homing. Its interlocks are no longer checked, and the axis itself may well still move.",
    "Leave the axis in the file as long as it is on the machine. If it was taken away, remove also "
    "what named it; if it was renamed, keep its serial numbers so that it is known again.",
    "computed",
)

AXIS_RENAMED = BuiltIn(
    "axis-renamed",
    "note",
    "An axis has another name",
    "two versions of a machine are compared",
    "every axis keeps its name",
    "Records of teaching, waivers, drawings and the operator's screen know the axis by its old "
    "name; a name given to another axis than before is how the wrong one gets moved.",
    "Carry the new name through to all of them, or keep the old one.",
    "computed",
)

WAIVER_LAPSED = BuiltIn(
    "waiver-lapsed",
    "warning",
    "A waiver has lapsed",
    "waivers are given",
    "the last day of each has not passed, and every value it was granted for is as it was",
    "Whoever approved it looked at certain values and for a certain time. Nobody has decided to "
    "live with what is there now, so the finding counts again.",
    "Mend what the finding says. If it must be lived with longer, have the waiver approved anew "
    "for the present values, with a new day.",
    "computed",
)

WAIVER_UNUSED = BuiltIn(
    "waiver-unused",
    "warning",
    "A waiver covers nothing",
    "waivers are given",
    "each covers a finding",
    "What was waived has been mended, or the waiver names something else than was meant. Left in "
    "place it would cover the same fault again, should it come back, without anyone deciding.",
    "Take the waiver out, or correct what it names.",
    "computed",
)

BUILT_IN = (
    DISPUTE,
    MISFIT,
    EXPORT_OLD,
    ZERO_DIVISOR,
    AXIS_REMOVED,
    AXIS_RENAMED,
    WAIVER_LAPSED,
    WAIVER_UNUSED,
)
