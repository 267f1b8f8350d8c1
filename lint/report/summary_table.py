"""The table at the top of a text report: each axis with what failed on it, the worst first."""

from __future__ import annotations

from collections.abc import Sequence

from ..base.lazy import dataclass
from ..findings.finding import LEVELS, Finding, Report, Tally
from .layout import columns, pad, prose, visible, wrap
from .paint import paint
from .rendering import RenderOptions
from .words import counted

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

    Key = tuple[str, str]


COLUMNS: Final = (
    ("failed", "failed", "error"),
    ("warnings", "warn", "warning"),
    ("notes", "note", "note"),
    ("waived", "waived", ""),
    ("cannot be decided", "no data", "undecided"),
    ("passed", "passed", ""),
    ("do not apply", "", ""),
)
"""The columns: their heads, those of a narrow table (some have none), and the roles of colours."""

ROWS_SHOWN: Final = 40
"""Most rows, unless more axes have findings."""

NAME_ROOM: Final = 20
"""Columns that the name of an axis has at least, but in a narrow table."""

ALWAYS: Final = ("failed", "warnings", "cannot be decided", "passed")
"""Columns that stand even where they are empty."""


@dataclass(frozen=True, slots=True)
class Row:
    """The numbers of an axis (or of the whole machine), in the order of the columns."""

    machine: str
    subject: str
    numbers: tuple[int, ...]
    cause: int

    @property
    def gravity(self) -> tuple[int, ...]:
        """A key that sorts the worst axis first; among equals that with the likeliest cause."""
        failed, warnings, notes, waived, undecided = self.numbers[:5]
        return (-failed, -warnings, -notes, self.cause, -undecided, -waived)

    @property
    def has_findings(self) -> bool:
        """Whether a check failed on the axis, waived or not."""
        return any(self.numbers[:4])

    @property
    def is_sound(self) -> bool:
        """Whether nothing failed on the axis and nothing is undecided."""
        return not any(self.numbers[:5])


def rows_of(report: Report) -> list[Row]:
    """Return the row of each axis, the worst machine and in it the worst axis first."""
    found: dict[Key, list[int]] = {}
    causes: dict[Key, int] = {}
    for tally in report.tallies:
        found.setdefault((tally.machine, tally.subject), [0] * len(COLUMNS))
    for finding in report.findings:
        key = finding.machine, finding.subject
        numbers = found.setdefault(key, [0] * len(COLUMNS))
        causes[key] = min(causes.get(key, LAST_CAUSE), cause_rank(finding))
        numbers[3 if finding.waived else LEVELS.index(finding.level)] += 1
    for tally in report.tallies:
        _add(found[tally.machine, tally.subject], tally)
    rows = [
        Row(*key, tuple(numbers), causes.get(key, LAST_CAUSE)) for key, numbers in found.items()
    ]
    worst: dict[str, tuple[int, ...]] = {}
    for row in rows:
        worst[row.machine] = min(worst.get(row.machine, row.gravity), row.gravity)
    order = {name: number for number, name in enumerate(report.machines)}

    def rank(row: Row) -> tuple[object, ...]:
        at = order.get(row.machine, len(order))
        return (worst[row.machine], at, row.machine, row.gravity)

    return sorted(rows, key=rank)


def _add(numbers: list[int], tally: Tally) -> None:
    numbers[4] += tally.undecided
    numbers[5] += tally.holds
    numbers[6] += tally.not_applicable


def worst_first(report: Report, rows: Sequence[Row] | None = None) -> list[Finding]:
    """Return the findings by axis as in the table; on an axis by level, then likeliest cause.

    ``rows`` are those of the report, where the caller has them already.
    """
    rows = rows_of(report) if rows is None else rows
    order = {(row.machine, row.subject): number for number, row in enumerate(rows)}

    def rank(finding: Finding) -> tuple[object, ...]:
        return (order[finding.machine, finding.subject], *rank_on_axis(finding))

    return sorted(report.findings, key=rank)


def rank_on_axis(finding: Finding) -> tuple[object, ...]:
    """Return a key that sorts the findings of an axis: by level, then likeliest cause."""
    return (
        LEVELS.index(finding.level),
        bool(finding.follows),
        cause_rank(finding),
        finding.rule,
        [mark.place for mark in finding.marks],
        finding.message,
    )


_CAUSES: Final = (
    "brake",
    "load brake",
    "clamp",
    "limits",
    "interlocks",
    "interlock details",
    "statements",
    "units",
    "plausibility",
    "direction",
    "gearing",
    "speed factors",
    "screw",
    "second encoder",
    "turn counter",
    "homing",
    "home switch",
    "index marks",
    "home reference",
    "homing motion",
    "gantry",
    "differential",
    "torque",
    "torque curve",
    "motion cycle",
    "thrust",
    "unbalance",
    "tilt",
    "telescope",
    "changing feed",
    "power off",
    "loop",
    "network",
    "conditions",
    "bookkeeping",
)
"""Concerns in order: what can hurt people first, then the way from the encoder to the motion."""

_HURTS: Final = _CAUSES.index("statements")
"""The place of the first concern after those that can hurt people at once."""

BASIC: Final = (
    "stage-ratio-is-that-of-its-teeth",
    "lead-is-starts-times-pitch",
    "helix-stated-alike",
    "rack-pitch-is-that-of-its-module",
    "papers-state-ratio-of-stages",
    "final-element-fits-axis",
    "encoder-counts-stated-alike",
    "encoder-counts-match",
    "quadrature-factor-used-once",
    "drive-gear-ratio-not-upside-down",
    "drive-position-factors-agree",
    "gantry-partners-name-each-other",
    "gantry-leader-lists-its-followers",
    "coupled-axes-name-each-other",
    "turn-counts-match",
    "turn-range-covers-travel",
    "motor-data-in-order",
    "torque-limit-within-motor-peak",
)
"""Rules that compare what others are worked out from, in the order of that work.

Where one of them fails beside others of its level, what the others say is worked out with a value
that is in doubt. They stand after what can hurt people at once, and before all the rest.
"""


LAST_CAUSE: Final = len(_CAUSES) + len(BASIC)
"""The place of what is no likely cause of anything."""


def cause_rank(finding: Finding) -> int:
    """Return the place of a finding among others of its level: the likeliest cause first."""
    concern = _CAUSES.index(finding.concern) if finding.concern in _CAUSES else len(_CAUSES)
    if concern < _HURTS:
        return concern
    if finding.rule in BASIC:
        return _HURTS + BASIC.index(finding.rule)
    return concern + len(BASIC)


def table(rows: Sequence[Row], options: RenderOptions) -> list[str]:
    """Return the table; sound axes share a row. Nothing was checked: no line."""
    if not rows:
        return []
    widths, heads = _heads(rows, options)
    room = max(options.width - sum(widths.values()), 10)
    shown, rest = _shown(rows)
    rest_words = others([row.subject for row in rest])
    names = [*(visible(row.subject) for row in rows), rest_words]
    longest = max(map(columns, names)) + 4
    room = min(room, max(longest, NAME_ROOM))
    lines = [paint((pad("Axis", room) + heads).rstrip(), "heading", options)]

    def add(name: str, numbers: Sequence[int]) -> None:
        cells = "".join(
            _cell(numbers[number], across, COLUMNS[number][2], options)
            for number, across in widths.items()
        )
        lines.extend(_named(name, cells, room, options))

    several = len({row.machine for row in rows}) > 1
    machine = None
    for row in shown:
        if several and row.machine != machine:
            machine = row.machine
            lines += wrap(prose(machine), options.width)
        add("  " + (visible(row.subject) or "(whole machine)"), row.numbers)
    if shown and rest:
        add(f"  {rest_words}", _sum(rest))
    if len(rows) > 1:
        add("all", _sum(rows))
    return lines


def others(subjects: Sequence[str]) -> str:
    """How many axes share a row, and whether checks of a whole machine are in it too."""
    axes = sum(map(bool, subjects))
    parts = [counted(axes, "other axis", "other axes")] if axes else []
    if whole := len(subjects) - axes:
        parts.append("machine" if whole == 1 else counted(whole, "machine"))
    return ", ".join(parts)


def _shown(rows: Sequence[Row]) -> tuple[list[Row], list[Row]]:
    """The rows of their own, and those that share one: sound axes, and those of a long table."""
    failed = [row for row in rows if row.has_findings]
    sound = [row for row in rows if row.is_sound]
    undecided = [row for row in rows if not row.has_findings and not row.is_sound]
    room = max(ROWS_SHOWN - len(failed), 0)
    rest = [*undecided[room:], *(sound if len(sound) > 1 else [])]
    hidden = {(row.machine, row.subject) for row in rest}
    return [row for row in rows if (row.machine, row.subject) not in hidden], rest


def _heads(rows: Sequence[Row], options: RenderOptions) -> tuple[dict[int, int], str]:
    """The widths of the columns that are shown, and the line of their heads."""
    used = [
        number
        for number, (name, _, _) in enumerate(COLUMNS)
        if name in ALWAYS
        or (any(row.numbers[number] for row in rows) and (name != "do not apply" or options.whole))
    ]
    heads = {number: f"  {COLUMNS[number][0]}" for number in used}
    if sum(map(len, heads.values())) + NAME_ROOM > options.width:
        heads = {number: f" {COLUMNS[number][1]}" for number in used if COLUMNS[number][1]}
    return {number: len(head) for number, head in heads.items()}, "".join(heads.values())


def _sum(rows: Sequence[Row]) -> list[int]:
    return [sum(row.numbers[number] for row in rows) for number in range(len(COLUMNS))]


def _cell(number: int, across: int, role: str, options: RenderOptions) -> str:
    cell = f"{number or '-':>{across}}"
    return paint(cell, role, options) if number and role else cell


def _named(name: str, cells: str, room: int, options: RenderOptions) -> list[str]:
    if columns(name) < room:
        return [pad(name, room) + cells]
    indent = len(name) - len(name.lstrip(" "))
    own = [" " * indent + line for line in wrap(name.strip(" "), options.width - indent)]
    return [*own, " " * room + cells]
