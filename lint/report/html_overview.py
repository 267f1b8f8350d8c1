"""The overview of a page: a row for each axis, a cell for each group of concerns, what failed.

What could not be decided has a sign of its own, in the cell and in words below. It never looks
like what passed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from ..findings.finding import Finding, Report, Undecided
from .folding import folded
from .summary_table import Row
from .words import concern_words, counted, wrong_words

OTHERS: Final = "Records and network"

GROUPS: Final = MappingProxyType(
    {
        "Brake and limits": ("brake", "load brake", "clamp", "power off", "limits"),
        "Interlocks": ("interlocks", "interlock details", "conditions"),
        "Gear and units": (
            "units",
            "direction",
            "gearing",
            "speed factors",
            "screw",
            "second encoder",
        ),
        "Turn counter": ("turn counter",),
        "Homing": ("homing", "home switch", "index marks", "home reference", "homing motion"),
        "Gantry and coupled axes": ("gantry", "differential"),
        "Torque and loop": (
            *("torque", "torque curve", "motion cycle", "thrust", "unbalance", "tilt", "telescope"),
            *("changing feed", "loop"),
        ),
        OTHERS: ("statements", "network", "bookkeeping", "plausibility"),
    }
)
"""Groups of concerns, what can hurt people first; a concern of a site is with the last."""

SIGNS: Final = MappingProxyType(
    {
        "error": ("✗", "failed"),
        "warning": ("!", "warning"),
        "note": ("i", "note"),
        "waived": ("w", "waived"),
        "undecided": ("?", "cannot be decided"),
    }
)
"""What may stand in a cell besides what passed: the sign and the words, the worst first."""

FACTS_NAMED: Final = 4
WHOLE_MACHINE: Final = "whole machine"

Key = tuple[str, str]
"""Machine and axis."""

_GROUP_OF: Final = {concern: group for group, concerns in GROUPS.items() for concern in concerns}


@dataclass
class GroupCell:
    """Numbers of checks by how they look in a cell."""

    group: str
    numbers: Counter[str] = field(default_factory=Counter)

    @property
    def passed(self) -> int:
        """How many passed."""
        return self.numbers["passed"]

    @property
    def marks(self) -> list[tuple[str, str, str, int]]:
        """The look, sign, words and number of all that is no pass."""
        return [
            (look, sign, words, self.numbers[look])
            for look, (sign, words) in SIGNS.items()
            if self.numbers[look]
        ]

    @property
    def quiet(self) -> bool:
        """Whether nothing failed and nothing is undecided."""
        return not self.marks


@dataclass(frozen=True)
class ToldLine:
    """A line below the cells: its look, the level or another word, the text and its anchor.

    ``follows``: it follows from the line before it that does not. ``first`` is what to do first.
    """

    look: str
    word: str
    text: str
    anchor: str
    follows: bool = False
    first: str = ""


@dataclass
class OverviewRow:
    """An axis: its name and the anchor of its details, its cells and what is told below them."""

    machine: str
    name: str
    anchor: str
    cells: list[GroupCell]
    passed: int
    told: list[ToldLine]


def overview(
    report: Report,
    by_axis: Iterable[Row],
    anchors: Mapping[Key, str],
    finding_anchors: Mapping[int, str],
) -> tuple[list[str], list[OverviewRow]]:
    """Return the heads and rows in the order of ``by_axis``; ``finding_anchors`` is by ``id``."""
    cells = _cells(report)
    told = _told(report, anchors, finding_anchors)
    groups = [group for group in GROUPS if any(group in row for row in cells.values())]
    rows = []
    for each in by_axis:
        key = each.machine, each.subject
        own = cells.get(key, {})
        rows.append(
            OverviewRow(
                each.machine,
                each.subject or WHOLE_MACHINE,
                anchors.get(key, ""),
                [own.get(group, GroupCell(group)) for group in groups],
                each.numbers[5],
                told.get(key, []),
            )
        )
    return groups, rows


def _cells(report: Report) -> dict[Key, dict[str, GroupCell]]:
    cells: dict[Key, dict[str, GroupCell]] = {}

    def add(machine: str, subject: str, concern: str, look: str) -> None:
        group = _GROUP_OF.get(concern, OTHERS)
        row = cells.setdefault((machine, subject), {})
        row.setdefault(group, GroupCell(group)).numbers[look] += 1

    for outcome in report.outcomes:
        if outcome.verdict == "holds":
            concern = report.concerns.get(outcome.rule, "")
            add(outcome.machine, outcome.subject, concern, "passed")
    for finding in report.findings:
        look = "waived" if finding.waived else finding.level
        concern = finding.concern or report.concerns.get(finding.rule, "")
        add(finding.machine, finding.subject, concern, look)
    for check in report.undecided:
        concern = report.concerns.get(check.rule, "")
        add(check.machine, check.subject, concern, "undecided")
    return cells


def _told(
    report: Report,
    anchors: Mapping[Key, str],
    finding_anchors: Mapping[int, str],
) -> dict[Key, list[ToldLine]]:
    """What failed on each axis and what is undecided, each in a line."""
    told: dict[Key, list[ToldLine]] = {}
    for cause, consequences in folded(report.findings):
        for finding in (cause, *consequences):
            follows = finding is not cause
            look = "waived" if finding.waived else finding.level
            word = f"{finding.level}, waived" if finding.waived else finding.level
            anchor = finding_anchors[id(finding)]
            first = "" if follows or finding.waived else _first(finding)
            line = ToldLine(look, word, wrong_words(finding), anchor, follows, first)
            told.setdefault((finding.machine, finding.subject), []).append(line)
    for each in report.undecided_concerns:
        key = each.machine, each.subject
        line = ToldLine("error", "failure", concern_words(each), anchors.get(key, ""))
        told.setdefault(key, []).append(line)
    undecided: dict[Key, list[Undecided]] = {}
    for check in report.undecided:
        undecided.setdefault((check.machine, check.subject), []).append(check)
    for key, checks in undecided.items():
        anchor = f"{anchors[key]}-undecided" if key in anchors else ""
        line = ToldLine("undecided", "not decided", undecided_words(checks), anchor)
        told.setdefault(key, []).append(line)
    return told


def undecided_words(undecided: Sequence[Undecided]) -> str:
    """Return how many checks are undecided, how grave, and which facts most of them lack."""
    errors = sum(each.level == "error" for each in undecided)
    grave = f" ({errors} of level error)" if errors else ""
    facts = Counter(fact for each in undecided for fact in each.missing)
    named = [fact for fact, _ in facts.most_common(FACTS_NAMED)]
    more = f" and {len(facts) - len(named)} more" if len(facts) > len(named) else ""
    missing = f" Missing: {', '.join(map(_short, named))}{more}." if named else ""
    return f"{counted(len(undecided), 'check')}{grave} cannot be decided.{missing}"


def _short(fact: str) -> str:
    """A fact without the axis, which stands at the row."""
    parts = fact.split(".", 2)
    return parts[2] if len(parts) == 3 and parts[0] == "axes" else fact


def _first(finding: Finding) -> str:
    """What to do first about a finding: its special caution, or the first step of the remedy."""
    text = finding.special_cautions[0] if finding.special_cautions else finding.remedy
    first, dot, _ = text.partition(". ")
    return f"{first}{dot.strip()}"
