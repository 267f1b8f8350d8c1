"""Spare, plan and recalibrate, as the command line and Python users call them."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from ..base.errors import UsageError
from ..catalogue.settings import Overrides, apply_settings
from ..checking.reading import Rules
from ..machine.machine import Machine
from ..machine.reader import read_machine
from ..machine.records import Facts, set_check_date
from .part import TOUCHED, Kind, Part, load_part, pick_axis, touched_part

if TYPE_CHECKING:
    from .recalibrating import Recalibrated
    from .result import SpareReport

PathLike = Path | str


def spare(
    machine: PathLike,
    axis: str,
    part: Kind,
    file: PathLike | None = None,
    *,
    name: str | None = None,
    stage: int | None = None,
    spare_axis: str | None = None,
    rules: Sequence[PathLike] = (),
    settings: PathLike | None = None,
    on: datetime.date | None = None,
    workings: bool = False,
    plan: bool = False,
) -> SpareReport:
    """Judge the spare in ``file`` for the place of a part of an axis.

    Some work has no spare (see swap.part.TOUCHED): the report then says what it does to the axis.

    ``name`` picks a machine where a folder holds several, ``stage`` the gearbox where an axis has
    several (from 1 at the motor), ``spare_axis`` the axis of a machine file that the spare is taken
    from. ``plan`` adds the plan of the work. Raises InputError, UsageError and RuleError as
    ``axisproof.api.check`` does, and for a spare that is no such part.
    """
    from .judging import judge
    from .placing import plan_swap

    day = on or datetime.date.today()
    in_force = Rules.of(rules, settings)
    fitted, overrides = load_fitted(machine, name, in_force, day)
    facts = chosen_axis(fitted, axis)
    swap = plan_swap(fitted, axis, _part(part, file, facts.get("motion"), spare_axis), stage)
    judged = judge(swap, in_force.catalogue, in_force.site, day, workings)
    changed = in_force.level_changes("axis", "machine", "spare")
    own = in_force.site_rules("axis", "machine", "spare")
    report = replace(judged.report, settings=overrides, level_changes=changed, site_rules=own)
    if not plan:
        return report
    from .planning import make_plan

    return replace(report, plan=make_plan(judged, in_force.catalogue))


def _part(kind: Kind, file: PathLike | None, motion: str | None, axis: str | None) -> Part:
    """The spare, or the work where no spare is compared. Raises UsageError for a wrong pair."""
    if kind in TOUCHED:
        if file is not None or axis is not None:
            raise UsageError(f"no spare is compared for {kind}", expected="no file of a spare")
        return touched_part(kind)
    if file is None:
        raise UsageError(f"no spare is named for {kind}", expected="the file of the spare")
    return load_part(Path(file), kind, motion, axis)


def recalibrate(
    machine: PathLike,
    axis: str,
    true: str,
    indicated: str,
    *,
    name: str | None = None,
    reference: str | None = None,
    tolerance: str | None = None,
    after: str | None = None,
    reading: str | None = None,
    index_angle: str | None = None,
) -> Recalibrated:
    """Work out the new reference position of an axis from a true and an indicated position.

    All are quantities as text ("12.5 mm"). ``reference`` is the position assigned at present, if
    not that of the file; ``tolerance`` how well the true position is known; ``after`` the work
    that went before (a part as of ``spare``); ``reading`` the turns that the encoder shows at the
    reference after the work, ``index_angle`` the angle measured from the switch edge to the index
    pulse. Raises InputError and UsageError.
    """
    from .recalibrating import Readings, recalibrate_axis

    in_force = Rules.of((), None)
    fitted, _ = load_fitted(machine, name, in_force, datetime.date.today())
    chosen_axis(fitted, axis)
    readings = Readings(true, indicated, reference, tolerance, after, reading, index_angle)
    return recalibrate_axis(fitted, axis, readings, in_force.catalogue)


def load_fitted(
    path: PathLike, name: str | None, rules: Rules, on: datetime.date
) -> tuple[Machine, Overrides]:
    """The machine as it is, with check date and settings in its facts, and those settings."""
    from ..importing.entry import load_trees

    machines = [read_machine(tree) for tree in load_trees([Path(path)])]
    names = [machine.name for machine in machines]
    if not machines:
        raise UsageError(f"{path} holds no machine", expected="a machine file")
    if name is None and len(machines) > 1:
        raise UsageError(
            f"{path} holds {len(machines)} machines", expected=f"--machine with one of {names}"
        )
    if name is not None and names.count(name) != 1:
        raise UsageError(f"{path} holds no machine {name!r}", expected=f"one of {names}")
    machine = machines[0 if name is None else names.index(name)]
    set_check_date(machine.facts, on)
    return machine, apply_settings(machine, machine.name, rules.every, rules.site)


def chosen_axis(machine: Machine, axis: str) -> Facts:
    """The facts of an axis by name. Raises UsageError with a suggestion."""
    pick_axis([each["name"] for each in machine.axes], axis, machine.name)
    return next(each for each in machine.axes if each["name"] == axis)
