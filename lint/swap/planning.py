"""The work of a swap in order, from rules/swap_plan.yaml.

No step is written here: this module only asks which steps apply and fills in their numbers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any, Final, cast

from ..base.absence import NONE
from ..catalogue.catalogue import Catalogue
from ..language.printing import position_unit
from ..language.syntax import Expr, Template
from .comparing import text
from .judging import JudgedSpare
from .part import KINDS, TOUCHED
from .phrases import DataFile, PhraseSubjects
from .placing import path_of
from .result import PartFactRow, Plan, PlanReading, PlanRow, PlanStep, SpareReport
from .roles import any_of

FILE: Final = "swap_plan.yaml"
EVERYTHING: Final = frozenset({*KINDS, *TOUCHED, "encoder_moved", "other_motion"})


@dataclass(frozen=True, slots=True)
class Wording:
    """What a step says: the first text whose condition is known to hold (None always does) and
    whose holes can be filled. The last one is taken as it is where no other can be.
    """

    texts: tuple[tuple[Expr | None, Template], ...]


@dataclass(frozen=True, slots=True)
class StatedStep:
    """A step as the file states it.

    The plan has the step only if one of ``new`` is new, one of ``teaches`` (if any) is to be
    taught, and one of the memories that ``lost`` names (if any) is or may be lost. If it is not
    known whether ``when`` holds, the step stays in the plan. ``known`` must be known to hold. The
    step is left out if ``not_known`` is known to hold, or if the plan has one of the steps in
    ``unless``, which come earlier, for certain. Of the steps with one ``choice``, the plan has
    those that are known to apply. If there is none, but one of them may apply, the plan has the
    step with ``otherwise``: its order is right for all of them.
    """

    name: str
    phase: str
    new: frozenset[str]
    teaches: frozenset[str]
    when: Expr | None
    known: Expr | None
    not_known: Expr | None
    do: Wording
    why: Wording
    expect: Wording
    caution: Wording
    rows: str
    lost: frozenset[str] = frozenset()
    choice: str = ""
    otherwise: bool = False
    unless: frozenset[str] = frozenset()
    readings: tuple[PlanReading, ...] = ()


@dataclass(frozen=True, slots=True)
class Condition:
    """A condition that a swap brings about, and what clears it where the site does not say.

    One of the memories that ``lost`` names (if any) must be or may be lost.
    """

    name: str
    new: frozenset[str]
    lost: frozenset[str]
    when: Expr | None
    cleared_by: tuple[str, ...]


class PlanFile:
    """The steps and conditions of the file. Raises RuleError if a phrase no longer checks."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.file = DataFile(FILE, catalogue)
        self.plain = cast("dict[str, Any]", self.file.plain)

    @cached_property
    def phases(self) -> tuple[str, ...]:
        """The phases of the work, in order."""
        return tuple(each["phase"] for each in self.plain["phases"])

    def supplies(self, phase: str, new: Iterable[str]) -> str:
        """Which supplies are on in a phase; nothing where that is not known."""
        entry = self.plain["phases"][self.phases.index(phase)]
        texts = (
            each["text"]
            for each in entry["supplies"]
            if any_of(new, frozenset(each.get("new", EVERYTHING)))
        )
        return str(next(texts, ""))

    @cached_property
    def stated_steps(self) -> tuple[StatedStep, ...]:
        """All steps, in the order of the file."""
        return tuple(self._step(number, each) for number, each in enumerate(self.plain["steps"]))

    @cached_property
    def conditions(self) -> tuple[Condition, ...]:
        """All conditions, in the order of the file."""
        found = []
        for number, entry in enumerate(self.plain["conditions"]):
            path = ("conditions", number, "when")
            when = self.file.condition(path, entry["when"]) if "when" in entry else None
            cleared = tuple(entry["cleared_by"])
            new = frozenset(entry["new"])
            found.append(Condition(entry["condition"], new, _names(entry, "lost"), when, cleared))
        return tuple(found)

    def _step(self, number: int, entry: Mapping[str, Any]) -> StatedStep:
        path = ("steps", number)

        def condition(key: str) -> Expr | None:
            return self.file.condition((*path, key), entry[key]) if key in entry else None

        when = condition("when")

        def wording(key: str) -> Wording:
            stated = entry.get(key, "")
            texts: list[tuple[Expr | None, Template]] = []
            for place, each in enumerate(stated if isinstance(stated, list) else [stated]):
                spot: tuple[str | int, ...] = (*path, key)
                if isinstance(stated, list):
                    spot = (*spot, place)
                case = None
                if isinstance(each, Mapping):
                    case = self.file.condition((*spot, "when"), each["when"])
                    spot, each = (*spot, "text"), each["text"]
                texts.append((case, self.file.message(spot, each, case or when)))
            return Wording(tuple(texts))

        return StatedStep(
            entry["step"],
            entry["phase"],
            frozenset(entry.get("new", EVERYTHING)),
            _names(entry, "teaches"),
            when,
            condition("known"),
            condition("not_known"),
            wording("do"),
            wording("why"),
            wording("expect"),
            wording("caution"),
            entry.get("rows", ""),
            _names(entry, "lost"),
            entry.get("choice", ""),
            entry.get("otherwise", False),
            _names(entry, "unless"),
            tuple(PlanReading(each["label"], each["unit"]) for each in entry.get("readings", ())),
        )


def _names(entry: Mapping[str, Any], key: str) -> frozenset[str]:
    """The names under a key, which may be one or a list of them."""
    stated = entry.get(key, ())
    return frozenset([stated] if isinstance(stated, str) else stated)


@lru_cache(maxsize=4)
def plan_file(catalogue: Catalogue) -> PlanFile:
    """The shipped file, read once per catalogue."""
    return PlanFile(catalogue)


def make_plan(judged: JudgedSpare, catalogue: Catalogue) -> Plan:
    """Make the plan of a swap that has been judged."""
    file = plan_file(catalogue)
    swap = judged.swap
    steps: list[PlanStep] = []
    chosen: set[str] = set()
    doubts: dict[str, _Doubt] = {}
    for stated in file.stated_steps:
        doubt = _doubt(stated, judged)
        if doubt is None or any(s.name in stated.unless and not s.missing for s in steps):
            continue
        if stated.otherwise:
            if stated.choice in chosen or stated.choice not in doubts:
                continue
            doubt = doubts[stated.choice]
        elif stated.choice:
            if doubt.open:
                before = doubts.get(stated.choice, _Doubt())
                doubts[stated.choice] = _Doubt(True, (*before.missing, *doubt.missing))
                continue
            chosen.add(stated.choice)
        kind, _, record = stated.rows.partition(" ")
        rows = _ROWS[kind](judged, file, record) if kind else ()
        if stated.rows in _ONLY_WITH_ROWS and not rows:
            continue
        subjects = judged.subjects
        steps.append(
            PlanStep(
                stated.name,
                stated.phase,
                _said(subjects, stated.caution),
                _said(subjects, stated.do),
                _said(subjects, stated.why),
                _said(subjects, stated.expect),
                rows,
                tuple(dict.fromkeys(doubt.missing)),
                file.supplies(stated.phase, swap.new),
                _readings(stated, judged),
            )
        )
    return Plan(swap.machine.name, swap.axis, swap.part.kind, tuple(steps))


_ONLY_WITH_ROWS: Final = frozenset(
    {"settings", "warnings", "memories", "carried", "motor_data", "conditions"}
)


@dataclass(frozen=True, slots=True)
class _Doubt:
    """Whether it is open that a step applies, and the facts that would decide it."""

    open: bool = False
    missing: tuple[str, ...] = ()


def _doubt(stated: StatedStep, judged: JudgedSpare) -> _Doubt | None:
    """Whether a step applies for certain or perhaps; None if it does not."""
    if not any_of(judged.swap.new, stated.new):
        return None
    report = judged.report
    missing: tuple[str, ...] = ()
    if stated.teaches:
        taught = [each.missing for each in report.lessons if each.what in stated.teaches]
        if not taught:
            return None
        missing = _missing_for_any(taught)
    if stated.lost:
        lost = _losses(report, stated.lost)
        if not lost:
            return None
        missing = (*missing, *_missing_for_any(lost))
    subjects = judged.subjects
    if subjects.truth(stated.known).value is not True:
        return None
    if stated.not_known is not None and subjects.truth(stated.not_known).value is True:
        return None
    known = subjects.truth(stated.when)
    if known.value is False:
        return None
    if known.value is None:
        return _Doubt(True, (*missing, *known.missing))
    return _Doubt(False, missing)


def _losses(report: SpareReport, memories: frozenset[str]) -> list[tuple[str, ...]]:
    """For each of the memories that is or may be lost, the facts that it is not certain for."""
    fates = [fate.lost for fate in report.memories if fate.memory in memories]
    return [lost.missing for lost in fates if lost.why]


def _missing_for_any(causes: list[tuple[str, ...]]) -> tuple[str, ...]:
    """The facts that are missing to be certain of one of several causes."""
    if not all(causes):
        return ()
    return tuple(dict.fromkeys(fact for cause in causes for fact in cause))


def _readings(stated: StatedStep, judged: JudgedSpare) -> tuple[PlanReading, ...]:
    """What a step reads; a position is in the unit of the axis."""
    axis = judged.subjects.env["axis"]
    stated_motion = axis.get("motion") in ("linear", "rotary")
    unit = position_unit(axis) if stated_motion else "unit of the axis"
    return tuple(
        PlanReading(each.label, unit if each.unit == "position" else each.unit)
        for each in stated.readings
    )


def _said(subjects: PhraseSubjects, wording: Wording) -> str:
    for case, template in wording.texts:
        if subjects.truth(case).value is True:
            known = subjects.fill(template)
            if known.value is not None:
                return known.text
    return subjects.fill(wording.texts[-1][1]).text


# Lists below a step ------------------------------------------------------------------------------


def _allowed(judged: JudgedSpare, row: PartFactRow) -> str:
    """What may become of a fact, or the rules that refuse the value of the spare or warn of it."""
    report = judged.report
    if refusing := report.against(row.fact):
        return f"NOT allowed: {', '.join(refusing)}"
    if warning := report.warned(row.fact):
        return f"to be settled: {', '.join(warning)}"
    if row.state == "differs" and report.verdict.startswith("fits"):
        return "permitted"
    return row.role_words


def _short(judged: JudgedSpare, fact: str) -> str:
    """The path of a fact below the axis, which the sheet is about."""
    return fact.removeprefix(f"axes.{judged.swap.axis}.")


def _settings(judged: JudgedSpare, file: PlanFile, record: str) -> tuple[PlanRow, ...]:
    rows = []
    for write in judged.report.writes:
        note = f"was {write.old}" if write.old else "not stated before"
        if write.role == "place":
            note += ", set for this place"
        aside = f"Required: {write.reason.removesuffix('.')}." if write.reason else ""
        rows.append(PlanRow(_short(judged, write.fact), write.new, note, aside))
    return tuple(rows)


def _warnings(judged: JudgedSpare, file: PlanFile, record: str) -> tuple[PlanRow, ...]:
    return tuple(
        PlanRow(
            each.rule,
            each.headline or each.message,
            " ".join(each.special_cautions),
            each.remedy,
        )
        for each in judged.report.warnings
    )


def _memories(judged: JudgedSpare, file: PlanFile, record: str) -> tuple[PlanRow, ...]:
    rows = []
    for fate in judged.report.memories:
        for value, answer in (
            ("is lost", fate.lost),
            ("stays and is wrong", fate.wrong),
            ("is at risk", fate.at_risk),
        ):
            if answer.why:
                missing = ", ".join(answer.missing)
                note = f"Not certain: {missing} is not stated." if missing else ""
                rows.append(PlanRow(fate.words, value, note, " ".join(answer.why)))
    return tuple(rows)


def _carried(judged: JudgedSpare, file: PlanFile, record: str) -> tuple[PlanRow, ...]:
    return tuple(
        PlanRow(_short(judged, fact), "as in the backup of the fitted part", "not stated here")
        for fact in judged.report.carried
    )


MOTOR_DATA: Final = (
    "rated_current",
    "peak_current",
    "pole_pairs",
    "rated_voltage",
    "rated_speed",
    "max_speed",
    "rated_torque",
    "peak_torque",
    "rated_velocity",
    "max_velocity",
    "rated_force",
    "peak_force",
    "force_constant",
    "inertia",
    "moving_mass",
)
"""The facts of a motor that a drive is set up with."""

_KINDS_OF_MOTOR: Final = (
    ("rated_torque", "peak_torque", "rated_speed", "max_speed", "inertia"),
    (
        "rated_force",
        "peak_force",
        "rated_velocity",
        "max_velocity",
        "force_constant",
        "moving_mass",
    ),
)
"""A motor gives a torque or a force, so facts of the other kind are not asked for."""


def _not_of_its_kind(axis: Any) -> tuple[str, ...]:
    """The facts of the other kind of motor, where the kind is known."""
    torque, force = (
        any(axis.get(f"motor.{each}") is not None for each in kind) for kind in _KINDS_OF_MOTOR
    )
    return _KINDS_OF_MOTOR[int(torque)] if torque != force else ()


def _motor_data(judged: JudgedSpare, file: PlanFile, record: str) -> tuple[PlanRow, ...]:
    axis = judged.subjects.env["axis"]
    machine = judged.planned
    rows = []
    left_out = _not_of_its_kind(axis)
    for fact in (each for each in MOTOR_DATA if each not in left_out):
        path = f"axes.{judged.swap.axis}.motor.{fact}"
        value = text(machine, path, axis.get(f"motor.{fact}"))
        rows.append(PlanRow(f"motor.{fact}", value or "read it from the plate"))
    return tuple(rows)


def _compare(judged: JudgedSpare, file: PlanFile, record: str) -> tuple[PlanRow, ...]:
    if record not in judged.swap.spots:
        return ()
    base = path_of(judged.swap.spots[record], "")
    return tuple(
        PlanRow(
            _short(judged, row.fact),
            row.spare or "not stated",
            _beside(row.fitted, _allowed(judged, row)),
        )
        for row in judged.report.rows
        if (row.built or row.role in ("equal", "identity", "free")) and row.state != "same"
        if row.fact.startswith(base)
    )


def _beside(fitted: str, role: str) -> str:
    return f"fitted: {fitted or 'not stated'}, {role}"


def _conditions(judged: JudgedSpare, file: PlanFile, record: str) -> tuple[PlanRow, ...]:
    subjects, swap = judged.subjects, judged.swap
    stated = subjects.env["machine"].get("conditions") or []
    found: dict[str, PlanRow] = {}
    for each in file.conditions:
        if each.name in found or not any_of(swap.new, each.new):
            continue
        known = subjects.truth(each.when)
        if known.value is False or (each.lost and not _losses(judged.report, each.lost)):
            continue
        of_site = [entry for entry in stated if entry.get("condition") == each.name]
        codes = ", ".join(str(entry["code"]) for entry in of_site)
        cleared = next(
            (entry["cleared_by"] for entry in of_site if entry.get("cleared_by")), each.cleared_by
        )
        guidance = [
            entry["guidance"] for entry in of_site if entry.get("guidance") not in (None, NONE)
        ]
        note = "cleared by " + ", then ".join(_words(way) for way in cleared)
        if known.value is None:
            note += ", possible only"
        aside = f"The operator is told: {guidance[0]}" if guidance else ""
        shown = f"shown as {codes}" if codes else "code not stated"
        found[each.name] = PlanRow(_words(each.name), shown, note, aside)
    return tuple(found.values())


def _words(name: str) -> str:
    return name.replace("_", " ").removeprefix("by ")


def _records(judged: JudgedSpare, file: PlanFile, record: str) -> tuple[PlanRow, ...]:
    rows = []
    for row in judged.report.rows:
        if row.fact.endswith((".serial", ".model", ".firmware")):
            rows.append(PlanRow(_short(judged, row.fact), row.spare or "read it from the plate"))
        elif row.role in ("record", "teach") and row.fitted not in ("none", "present"):
            rows.append(PlanRow(_short(judged, row.fact), "as it is now", f"was {row.fitted}"))
    if any(lesson.what == "reference" for lesson in judged.report.lessons):
        rows.append(PlanRow("controller.homing.reference_position", "as calibrated"))
        rows.append(PlanRow("controller.homing.taught", "day and serial numbers of this teaching"))
    return tuple(rows)


_ROWS: Final[Mapping[str, Callable[[JudgedSpare, PlanFile, str], tuple[PlanRow, ...]]]] = {
    "settings": _settings,
    "warnings": _warnings,
    "memories": _memories,
    "carried": _carried,
    "motor_data": _motor_data,
    "compare": _compare,
    "conditions": _conditions,
    "records": _records,
}


def step_names(report: SpareReport) -> tuple[str, ...]:
    """The names of a plan's steps in order; empty without a plan."""
    return () if report.plan is None else tuple(step.name for step in report.plan.steps)
