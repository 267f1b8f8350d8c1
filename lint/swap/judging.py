"""Does the spare fit: all rules on the machine as it was, as it comes, and as planned."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from ..catalogue.catalogue import Catalogue
from ..catalogue.settings import Site
from ..engine.cases import spare_case
from ..engine.engine import Options, check_cases, check_machine
from ..engine.finding_builder import exact_text
from ..findings.finding import Finding, Undecided
from ..machine.machine import Machine, with_role
from ..machine.records import Facts
from ..machine.schema import Leaf, axis_type, lookup
from ..numbers.exact import Approx, Pi
from ..numbers.formats import say_near
from ..numbers.rational import Fraction
from ..numbers.units import in_unit, parse_quantity
from .comparing import rows_of, text
from .memory import lessons_of, memory_fates
from .not_judged import facts_not_judged
from .part import TOUCHED
from .phrases import PhraseSubjects
from .placing import SettingChange, Swap, SwapBuilder, axis_of
from .relevance import PartComparison, settling_facts
from .result import (
    FigureRow,
    MemoryFate,
    PartFactRow,
    SettingToWrite,
    SpareReport,
    Verdict,
)
from .roles import Adaptation, any_of, read_roles

ROUNDS: Final = 12
"""Most rounds of adapting settings to the spare; each sets at least one."""

SIXTEENTHS: Final = (8, 4, 12, 2, 14, 6, 10, 1, 15)
"""Parts of the range of turns at which the reference is tried: the middle first, then outwards."""


@dataclass(frozen=True, slots=True, eq=False)
class JudgedSpare:
    """A report without plan, and what the plan is made from."""

    report: SpareReport
    subjects: PhraseSubjects
    swap: Swap
    planned: Machine


@dataclass(frozen=True, slots=True)
class _Outcome:
    findings: tuple[Finding, ...]
    undecided: tuple[Undecided, ...]


def judge(
    swap: Swap, catalogue: Catalogue, site: Site, on: datetime.date, workings: bool = False
) -> JudgedSpare:
    """Judge a spare. The fitted machine has its check date and settings in its facts already."""
    return _Judge(swap, catalogue, site, on, workings).run()


class _Judge:
    def __init__(
        self, swap: Swap, catalogue: Catalogue, site: Site, on: datetime.date, workings: bool
    ) -> None:
        self.swap = swap
        self.catalogue = catalogue
        self.roles = read_roles(catalogue)
        self.aside = with_role(swap.machine, "fitted")
        self.builder = SwapBuilder(swap, self.roles, catalogue, site, on)
        self.options = Options(workings=workings)
        self.settings: tuple[SettingChange, ...] = ()
        """The settings that are adapted to the spare."""
        self.trials: dict[int, frozenset[tuple[str, str]]] = {}
        """What does not hold, by the turn reading at the reference that is tried."""

    def run(self) -> JudgedSpare:
        swap, builder = self.swap, self.builder
        before = self.outcome(swap.machine)
        as_it_comes = builder.machine("as it comes")
        notes = [*swap.notes, *self.forget_outdated(self.subjects(as_it_comes))]
        if builder.outdated:
            as_it_comes = builder.machine("as it comes")
        comes = self.subjects(as_it_comes)
        for record in swap.spots:
            for fact, role in self.roles.roles[record].items():
                if role.writable is not None:
                    can = comes.truth(role.writable).value is True
                    builder.writable[record, fact] = can
        rows = rows_of(swap, self.roles, as_it_comes, builder.writable)
        planned, after, adapted = self.adapt(before)
        subjects = self.subjects(planned)
        compared = PartComparison(swap, self.roles, self.catalogue, comes, builder.can_write)
        compared.changed = frozenset(adapted)
        changed = new_findings(after.findings, before.findings)
        broken = tuple(each for each in changed if each.level == "error")
        warnings = tuple(each for each in changed if each.level == "warning")
        must_be_alike = ("equal", "identity")
        unequal = tuple(r for r in rows if r.role in must_be_alike and r.state == "differs")
        unstated = tuple(row for row in rows if compared.open_row(row))
        carried = tuple(row.fact for row in rows if compared.carried_row(row))
        rows = tuple(r for r in rows if r.state != "not stated" or r in unstated)
        writes = self.writes(rows, as_it_comes, planned, adapted)
        fates = self.fates(comes, {write.fact for write in writes if write.rule})
        undecided, later = self.still_open(before, after, compared, planned)
        report = SpareReport(
            swap.machine.name,
            swap.axis,
            swap.part.kind,
            swap.part.name,
            files_of(swap),
            "fits as it is",
            rows,
            writes,
            lessons_of(fates, self.roles.teach),
            self.figures(subjects),
            broken,
            unequal,
            undecided,
            unstated,
            later,
            new_findings(self.outcome(as_it_comes).findings, before.findings),
            before.findings,
            before.undecided,
            tuple(each for each in changed if each.level == "note"),
            tuple(notes),
            carried,
            warnings=warnings,
            memories=fates,
            not_judged=facts_not_judged(swap, self.roles, rows, writes, compared.read_by_rules()),
        )
        settle = settling_facts(unstated, report.open_checks)
        report = replace(report, verdict=verdict_of(report), settle=settle)
        return JudgedSpare(report, subjects, swap, planned)

    def forget_outdated(self, subjects: PhraseSubjects) -> list[str]:
        """Have the builder leave out what holds for the fitted part alone, and say so."""
        swap = self.swap
        axis = axis_of(swap.machine, swap.axis)
        notes = []
        for each in self.roles.outdated:
            if each.part not in swap.spots or each.fact not in axis:
                continue
            anew = tuple(each.fact.split(".")) in swap.part.stated_anew
            if not anew and subjects.truth(each.when).value is not False:
                self.builder.outdated.append(each.fact)
                notes.append(each.why)
        return notes

    def still_open(
        self, before: _Outcome, after: _Outcome, compared: PartComparison, planned: Machine
    ) -> tuple[tuple[Undecided, ...], tuple[Undecided, ...]]:
        """The checks that leave open whether it fits, and those that only teaching decides."""
        known = {(each.rule, each.subject) for each in before.undecided}
        facts = axis_of(planned, self.swap.axis)
        taught = frozenset(f"{base}.{fact}" for base, fact in self.taught_facts())
        undecided: list[Undecided] = []
        later: list[Undecided] = []
        for check in after.undecided:
            was_open = (check.rule, check.subject) in known
            if compared.decided_by_teaching(check, taught, facts) or (
                not was_open and set(check.missing) <= taught and self.can_be_taught(check, facts)
            ):
                later += [] if was_open else [check]
            elif not was_open or compared.leaves_open(check):
                undecided.append(check)
        return tuple(undecided), tuple(later)

    def can_be_taught(self, check: Undecided, planned: Facts) -> bool:
        """Whether the encoder can be set so at the reference that a check holds."""
        turns = planned.get("encoder.distinguishable_revolutions")
        if not isinstance(turns, int) or not check.missing:
            return False
        for sixteenths in SIXTEENTHS:
            at = turns * sixteenths // 16
            if at not in self.trials:
                reading = SettingChange("encoder.turn_counter.reading_at_reference", at)
                made = self.builder.machine("as planned", (*self.settings, reading))
                outcome = self.outcome(made)
                failed = {(each.rule, each.subject) for each in outcome.findings}
                left = {(each.rule, each.subject) for each in outcome.undecided}
                self.trials[at] = frozenset(failed | left)
            if (check.rule, check.subject) not in self.trials[at]:
                return True
        return False

    def fates(self, subjects: PhraseSubjects, adapted: set[str]) -> tuple[MemoryFate, ...]:
        """What becomes of every memory of the axis."""
        base = f"axes.{self.swap.axis}."
        written = frozenset(fact.removeprefix(base) for fact in adapted)
        return memory_fates(self.roles.memories, subjects, self.swap.new, written)

    def taught_facts(self) -> Iterable[tuple[str, str]]:
        """Facts of the part that only teaching settles, whether stated before or not."""
        for record, spot in self.swap.spots.items():
            base = ".".join(map(str, spot))
            for fact, role in self.roles.roles[record].items():
                if role.name == "teach":
                    yield base, fact

    def outcome(self, machine: Machine) -> _Outcome:
        """All rules on a machine, and those about spares on the axis."""
        args = (machine, machine.name, self.catalogue, self.options)
        whole = check_machine(*args)
        axis = axis_of(machine, self.swap.axis)
        case = spare_case(axis, axis_of(self.aside, self.swap.axis))
        given = check_cases("spare", [case], *args, self.aside)
        found = (each for each in given.findings if self.is_asked(each.rule))
        undecided = (each for each in given.undecided if self.is_asked(each.rule))
        return _Outcome((*whole.findings, *found), (*whole.undecided, *undecided))

    def is_asked(self, rule: str) -> bool:
        """Whether a rule about spares is about a record that this swap replaces."""
        return self.roles.asked_of.get(rule) in (None, *self.swap.spots)

    def subjects(self, machine: Machine) -> PhraseSubjects:
        env = {
            "axis": axis_of(machine, self.swap.axis),
            "fitted": axis_of(self.aside, self.swap.axis),
            "machine": machine.facts,
        }

        def written(path: str) -> str | None:
            return (self.aside if self.aside.owns(path) else machine).written(path)

        return PhraseSubjects(self.catalogue, env, written)

    # adapting settings to the spare

    def adapt(self, before: _Outcome) -> tuple[Machine, _Outcome, dict[str, Adaptation]]:
        """Change settings until no rule asks for another; what no setting mends stays broken."""
        settings: dict[str, SettingChange] = {}
        tried: set[SettingChange] = set()
        causes: dict[str, Adaptation] = {}
        for _ in range(ROUNDS):
            planned = self.builder.machine("as planned", tuple(settings.values()))
            after = self.outcome(planned)
            changed = new_findings(after.findings, before.findings)
            wanted = self.wanted(changed, planned, settings, tried, further=False)
            wanted = wanted or self.wanted(changed, planned, settings, tried, further=True)
            if not wanted:
                break
            for setting, adaptation in wanted:
                settings[setting.fact] = setting
                tried.add(setting)
                causes[setting.fact] = adaptation
        self.settings = tuple(settings.values())
        return planned, after, causes

    def wanted(
        self,
        broken: Sequence[Finding],
        planned: Machine,
        settings: dict[str, SettingChange],
        tried: set[SettingChange],
        *,
        further: bool,
    ) -> list[tuple[SettingChange, Adaptation]]:
        """The settings that the adaptations for broken rules ask for and that are not tried yet.

        A setting that is made already stays, unless ``further`` ones are asked for.
        """
        found: list[tuple[SettingChange, Adaptation]] = []
        taken: set[str] = set()
        subjects = self.subjects(planned)
        for adaptation in self.roles.adaptations:
            finding = next(
                (
                    each
                    for each in broken
                    if each.rule == adaptation.rule and each.subject == self.swap.axis
                ),
                None,
            )
            if finding is None or adaptation.fact in taken or not self.free(adaptation.fact):
                continue
            value: Any = None
            if adaptation.value is not None:
                old = planned.written(f"axes.{self.swap.axis}.{adaptation.fact}")
                share = None
                if adaptation.within is not None:
                    share = subjects.value(adaptation.within).value
                found_value = subjects.value(adaptation.value).value
                value = _plain(adaptation.fact, found_value, old, share)
            elif finding.fix is not None and finding.fix.fact.endswith(f".{adaptation.fact}"):
                value = _from_text(adaptation.fact, finding.fix.value)
            setting = SettingChange(adaptation.fact, value)
            if value is not None and setting not in tried:
                found.append((setting, adaptation))
                taken.add(adaptation.fact)
            elif value is not None and settings.get(adaptation.fact) == setting and not further:
                taken.add(adaptation.fact)
        return found

    def free(self, fact: str) -> bool:
        """Whether a fact can be set: one of the spare's own only if it is a setting of it."""
        for record, spot in self.swap.spots.items():
            base = ".".join(map(str, spot[2:])) + "."
            if fact.startswith(base):
                return self.roles.role(record, fact.removeprefix(base)).name in ("match", "place")
        return True

    # what the report says

    def writes(
        self,
        rows: Sequence[PartFactRow],
        as_it_comes: Machine,
        planned: Machine,
        adapted: dict[str, Adaptation],
    ) -> tuple[SettingToWrite, ...]:
        base = f"axes.{self.swap.axis}."
        axis, was = axis_of(planned, self.swap.axis), axis_of(as_it_comes, self.swap.axis)
        found: list[SettingToWrite] = []
        for row in rows:
            fact = row.fact.removeprefix(base)
            if row.writable and row.state in ("differs", "spare silent") and fact not in adapted:
                found.append(
                    SettingToWrite(row.fact, fact.split(".")[0], row.spare, row.fitted, row.role)
                )
        titles = self.catalogue.rules
        for fact, adaptation in adapted.items():
            path = base + fact
            new, old = text(planned, path, axis.get(fact)), text(as_it_comes, path, was.get(fact))
            if new == old:
                continue
            title = titles[adaptation.rule].title if adaptation.rule in titles else ""
            found.append(
                SettingToWrite(path, fact.split(".")[0], old, new, "match", adaptation.rule, title)
            )
        return tuple(found)

    def figures(self, subjects: PhraseSubjects) -> tuple[FigureRow, ...]:
        found = []
        fitted = {"axis": subjects.env["fitted"], "machine": subjects.env["machine"]}
        for line in self.roles.figures:
            if not any_of(self.swap.new, line.new) or subjects.truth(line.when).value is False:
                continue
            was, now = subjects.value(line.value, fitted), subjects.value(line.value)
            if was.value is None and now.value is None:
                continue
            found.append(FigureRow(line.name, was.text, now.text, was.data or {}, now.data or {}))
        return tuple(found)


def new_findings(after: Iterable[Finding], before: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings that were not there before, or not with these numbers."""
    known = {(each.rule, each.subject, each.message) for each in before}
    return tuple(each for each in after if (each.rule, each.subject, each.message) not in known)


def verdict_of(report: SpareReport) -> Verdict:
    """The verdict that what was found comes to."""
    if report.part in TOUCHED:
        return "nothing to compare"
    if report.broken or report.unequal:
        return "does not fit"
    if report.open_checks or report.unstated:
        return "cannot be said yet"
    if report.warnings:
        return "fits with warnings"
    if report.writes or report.carried:
        return "fits after settings"
    return "fits as it is"


def files_of(swap: Swap) -> tuple[str, ...]:
    """Every file that was read."""
    trees = [swap.machine.tree, swap.part.tree]
    names = [source.name for tree in trees if tree for source in tree.sources]
    return tuple(dict.fromkeys(names))


def _leaf(fact: str) -> Leaf:
    leaf = lookup(axis_type(), fact).type
    assert isinstance(leaf, Leaf), fact
    return leaf


def _plain(fact: str, value: Any, old: str | None, share: Any = None) -> Any:
    """A value in base units as the machine file has it, in the unit of the ``old`` one.

    None if it cannot be written, exactly or rounded by a tenth of ``share`` at the most.
    """
    if not isinstance(value, int | Fraction | Pi | Approx):
        return None
    leaf = _leaf(fact)
    if leaf.kind == "whole" or leaf.quantity == "ratio":
        if not isinstance(value, int | Fraction):
            return None
        if leaf.kind != "whole":
            return str(value)
        return int(value) if Fraction(value).denominator == 1 else None
    if old is None:
        return None
    unit = parse_quantity(old).unit
    written = exact_text(in_unit(value, unit), unit)
    if written is None and isinstance(share, int | Fraction) and share > 0:
        written = say_near(in_unit(value, unit), unit, Fraction(share) / 10)
    return written


def _from_text(fact: str, written: str) -> Any:
    """A value that a rule proposes as text, as the machine file has it."""
    kind = _leaf(fact).kind
    if kind == "whole":
        return int(written)
    return written == "true" if kind == "flag" else written
