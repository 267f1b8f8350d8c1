"""The work of a swap in order, from rules/swap_plan.yaml.

No step is written here: this module only asks which steps apply and fills in their numbers.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any, Final, cast

from ..base.absence import NONE
from ..catalogue.catalogue import Catalogue
from ..language.syntax import Expr, Template
from .judging import JudgedSpare
from .phrases import DataFile, PhraseSubjects
from .placing import path_of
from .result import PartFactRow, Plan, PlanRow, PlanStep, SpareReport
from .roles import met

FILE: Final = "swap_plan.yaml"
EVERYTHING: Final = frozenset({"motor", "encoder", "drive", "gearbox", "battery", "encoder_moved"})


@dataclass(frozen=True, slots=True)
class Wording:
    """What a step says: the first text whose condition is known to hold (None always does) and
    whose holes can be filled. The last one is taken as it is where no other can be.
    """

    texts: tuple[tuple[Expr | None, Template], ...]


@dataclass(frozen=True, slots=True)
class Draft:
    """A step as the file states it. ``new`` and ``teaches`` say when it is thought of at all.

    What is not known makes ``when`` keep a step in the plan; ``known`` has to be known to hold, and
    where ``not_known`` is known to hold the step is left out.
    """

    name: str
    phase: str
    new: frozenset[str]
    teaches: str
    when: Expr | None
    known: Expr | None
    not_known: Expr | None
    do: Wording
    why: Wording
    expect: Wording
    caution: Wording
    rows: str


@dataclass(frozen=True, slots=True)
class Condition:
    """A condition that a swap brings about, and what clears it where the site does not say."""

    name: str
    new: frozenset[str]
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
        return tuple(self.plain["phases"])

    @cached_property
    def drafts(self) -> tuple[Draft, ...]:
        """All steps, in the order of the file."""
        return tuple(self._draft(number, each) for number, each in enumerate(self.plain["steps"]))

    @cached_property
    def conditions(self) -> tuple[Condition, ...]:
        """All conditions, in the order of the file."""
        found = []
        for number, entry in enumerate(self.plain["conditions"]):
            path = ("conditions", number, "when")
            when = self.file.condition(path, entry["when"]) if "when" in entry else None
            cleared = tuple(entry["cleared_by"])
            found.append(Condition(entry["condition"], frozenset(entry["new"]), when, cleared))
        return tuple(found)

    def _draft(self, number: int, entry: Mapping[str, Any]) -> Draft:
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

        return Draft(
            entry["step"],
            entry["phase"],
            frozenset(entry.get("new", EVERYTHING)),
            entry.get("teaches", ""),
            when,
            condition("known"),
            condition("not_known"),
            wording("do"),
            wording("why"),
            wording("expect"),
            wording("caution"),
            entry.get("rows", ""),
        )


@lru_cache(maxsize=4)
def plan_file(catalogue: Catalogue) -> PlanFile:
    """The shipped file, read once per catalogue."""
    return PlanFile(catalogue)


def make_plan(judged: JudgedSpare, catalogue: Catalogue) -> Plan:
    """Make the plan of a swap that has been judged."""
    file = plan_file(catalogue)
    swap = judged.swap
    lessons = {lesson.what: lesson for lesson in judged.report.lessons}
    steps: list[PlanStep] = []
    for draft in file.drafts:
        if not met(swap.new, draft.new):
            continue
        missing: tuple[str, ...] = ()
        if draft.teaches:
            lesson = lessons.get(draft.teaches)
            if lesson is None:
                continue
            missing = lesson.missing
        ground = judged.ground
        if ground.truth(draft.known).value is not True:
            continue
        if draft.not_known is not None and ground.truth(draft.not_known).value is True:
            continue
        known = ground.truth(draft.when)
        if known.value is False:
            continue
        if known.value is None:
            missing = tuple(dict.fromkeys((*missing, *known.missing)))
        kind, _, record = draft.rows.partition(" ")
        rows = _ROWS[kind](judged, file, record) if kind else ()
        if draft.rows in ("settings", "warnings") and not rows:
            continue
        steps.append(
            PlanStep(
                draft.name,
                draft.phase,
                _said(ground, draft.do),
                _said(ground, draft.why),
                _said(ground, draft.expect),
                _said(ground, draft.caution),
                rows,
                missing,
            )
        )
    return Plan(swap.machine.name, swap.axis, swap.part.kind, tuple(steps))


def _said(ground: PhraseSubjects, wording: Wording) -> str:
    for case, text in wording.texts:
        if ground.truth(case).value is True:
            known = ground.fill(text)
            if known.value is not None:
                return known.text
    return ground.fill(wording.texts[-1][1]).text


# Lists below a step ------------------------------------------------------------------------------


def _allowed(judged: JudgedSpare, row: PartFactRow) -> str:
    """What may become of a fact, or the rules that refuse what the spare has or warn of it."""
    report = judged.report
    if refusing := report.against(row.fact):
        return f"NOT allowed: {', '.join(refusing)}"
    if warning := report.warned(row.fact):
        return f"to be settled: {', '.join(warning)}"
    return row.role_words


def _short(judged: JudgedSpare, fact: str) -> str:
    """The path of a fact below the axis, which the sheet is about."""
    return fact.removeprefix(f"axes.{judged.swap.axis}.")


def _settings(judged: JudgedSpare, file: PlanFile, record: str) -> tuple[PlanRow, ...]:
    rows = []
    for write in judged.report.writes:
        note = f"was {write.old}" if write.old else "not stated before"
        if write.role == "place":
            note += "; set for this place"
        if write.reason:
            note += f"; so that {write.reason}"
        rows.append(PlanRow(_short(judged, write.fact), write.new, note))
    return tuple(rows)


def _warnings(judged: JudgedSpare, file: PlanFile, record: str) -> tuple[PlanRow, ...]:
    return tuple(
        PlanRow(each.rule, each.message, f"remedy: {each.remedy}")
        for each in judged.report.warnings
    )


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
        if (row.built or row.role in ("equal", "free")) and row.state != "same"
        if row.fact.startswith(base)
    )


def _beside(fitted: str, role: str) -> str:
    return f"fitted: {fitted or 'not stated'}; {role}"


def _conditions(judged: JudgedSpare, file: PlanFile, record: str) -> tuple[PlanRow, ...]:
    ground, swap = judged.ground, judged.swap
    stated = ground.env["machine"].get("conditions") or []
    found: dict[str, PlanRow] = {}
    for each in file.conditions:
        if each.name in found or not met(swap.new, each.new):
            continue
        known = ground.truth(each.when)
        if known.value is False:
            continue
        of_site = [entry for entry in stated if entry.get("condition") == each.name]
        codes = ", ".join(str(entry["code"]) for entry in of_site)
        cleared = next(
            (entry["cleared_by"] for entry in of_site if entry.get("cleared_by")), each.cleared_by
        )
        told = [entry["guidance"] for entry in of_site if entry.get("guidance") not in (None, NONE)]
        note = "cleared by " + ", then ".join(_words(way) for way in cleared)
        if known.value is None:
            note += "; only perhaps"
        if told:
            note += f"; the operator is told: {told[0]}"
        found[each.name] = PlanRow(
            _words(each.name), f"shown as {codes}" if codes else "code not stated", note
        )
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
    "compare": _compare,
    "conditions": _conditions,
    "records": _records,
}


def step_names(report: SpareReport) -> tuple[str, ...]:
    """The names of a plan's steps in order; empty without a plan."""
    return () if report.plan is None else tuple(step.name for step in report.plan.steps)
