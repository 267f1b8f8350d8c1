"""Checks that no rule text can express, with the same texts as rules have."""

from __future__ import annotations

from ..base.lazy import dataclass
from .finding import Finding, Level, Mark

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


def sentence(text: str) -> str:
    """A text as a sentence: a capital first, unless it begins with a fact's name, and a stop."""
    first = text.split(None, 1)[0]
    start = text if "." in first or "[" in first else text[:1].upper() + text[1:]
    return start if start.endswith((".", "…")) else f"{start}."


STATEMENTS: Final = "statements"
"""The concern of the checks that no rule text could express."""


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

    def finding(
        self,
        machine: str,
        subject: str,
        message: str,
        marks: tuple[Mark, ...],
        headline: str = "",
    ) -> Finding:
        """A finding of this check; where ``headline`` is left out, the message is short enough."""
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
            concern=STATEMENTS,
            headline=headline or sentence(message),
        )


DISPUTE = BuiltIn(
    "sources-agree",
    "error",
    "All sources state the same value of a fact",
    "a fact is stated more than once",
    "all statements of it are equal, compared as exact values and not as text",
    "If two sources state a fact differently, nobody knows the value. Rules that need the fact "
    "cannot be decided.",
    "Read the value from the device, not from paper. Correct or remove the wrong statement.",
    "computed",
)

MISFIT = BuiltIn(
    "unit-fits-motion",
    "error",
    "Each value has a unit that fits the motion of its axis",
    "a fact is stated in user units of an axis",
    "it is a length on a linear axis and an angle on a rotary one",
    "A length has no meaning on a rotary axis, and an angle has none on a linear axis. The value "
    "can belong to another axis. Rules that need the fact cannot be decided.",
    "State the value in a unit of the axis, or correct the motion of the axis.",
    "computed",
)

EXPORT_OLD = BuiltIn(
    "export-is-current",
    "warning",
    "Settings are read out after the last teaching",
    "the day of an export and the day of a teaching are stated",
    "the settings were read from the device on the day of the teaching, or later",
    "Teaching writes settings: the reference, the turns, the commutation angle. An older export "
    "shows the values before the teaching, and so do all checks of them.",
    "Read the settings from the device again. Check them again. If the day is wrong, correct it.",
    "common practice, no source",
)

NO_PLATE = BuiltIn(
    "type-has-a-plate",
    "note",
    "Each type that an axis names has a plate on the shelf",
    "a shelf is given, and an axis names the type of a part",
    "the shelf holds a plate of this type",
    "Without its plate, nothing is known of the part but what the file of the machine states. "
    "Rules that need more facts cannot be decided, and nothing is compared with the plate.",
    "If the type is misspelt, correct it. Otherwise, write the plate of this type into the shelf.",
    "computed",
)

ZERO_DIVISOR = BuiltIn(
    "divisor-is-not-zero",
    "error",
    "No calculation divides by zero",
    "a rule divides by something computed from facts",
    "the divisor is not zero",
    "The rule cannot divide by zero, so it cannot be decided. Here a zero is usually a wrong "
    "value, or two values that were swapped.",
    "Correct the facts from which the divisor is calculated.",
    "computed",
)

AXIS_REMOVED = BuiltIn(
    "axis-removed",
    "warning",
    "Each axis of the old version is in the new version",
    "two versions of a machine are compared",
    "every axis of the old one is in the new one",
    "A gantry partner, a collision pair or an order of homing that named the axis names nothing "
    "now. Nobody checks its interlocks any more. The axis itself may still move.",
    "Leave the axis in the file as long as it is on the machine. If it was taken away, also remove "
    "what named it. If it was renamed, keep its serial numbers so that it is known again.",
    "computed",
)

AXIS_RENAMED = BuiltIn(
    "axis-renamed",
    "note",
    "Each axis keeps its name",
    "two versions of a machine are compared",
    "every axis keeps its name",
    "Records of teaching, waivers, drawings and the screen of the operator use the old name. "
    "If another axis gets that name, people move the wrong axis.",
    "Change the name in all of them, or keep the old one.",
    "computed",
)

WAIVER_LAPSED = BuiltIn(
    "waiver-lapsed",
    "warning",
    "Each waiver is in force",
    "waivers are given",
    "the last day of each has not passed, and every value it was granted for is as it was",
    "The approval was for certain values and for a certain time. Nobody approved what is there "
    "now, so the finding counts again.",
    "Correct what the finding names. If that needs more time, get a new approval for the present "
    "values, with a new day.",
    "computed",
)

WAIVER_UNUSED = BuiltIn(
    "waiver-unused",
    "warning",
    "Each waiver covers a finding",
    "waivers are given",
    "each covers a finding",
    "The fault was corrected, or the waiver names the wrong thing. If the fault comes back, the "
    "waiver hides it and nobody decides.",
    "Remove the waiver, or correct what it names.",
    "computed",
)

BUILT_IN = (
    DISPUTE,
    MISFIT,
    EXPORT_OLD,
    NO_PLATE,
    ZERO_DIVISOR,
    AXIS_REMOVED,
    AXIS_RENAMED,
    WAIVER_LAPSED,
    WAIVER_UNUSED,
)
