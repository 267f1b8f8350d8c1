"""Spare, plan and recalibrate, as the command line and Python users call them."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from ..base.errors import UsageError
from ..catalogue.settings import Overrides, apply_settings
from ..checking.options import CheckOptions
from ..checking.reading import Rules, left_out_of
from ..checking.site_use import use_of, with_site
from ..findings.finding import LeftOut
from ..importing.shelf import with_shelf
from ..machine.machine import Machine
from ..machine.reader import read_machine
from ..machine.records import Facts, set_check_date
from ..machine.schema import near
from ..source.merge import Tree
from ..source.reader import DISK, Reader
from .part import TOUCHED, Kind, Part, load_part, pick_axis, touched_part

if TYPE_CHECKING:
    from ..importing.site_file import SiteFile
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
    site: SiteFile | None = None,
    shelf: PathLike | None = None,
    texts: Mapping[Path, str] | None = None,
) -> SpareReport:
    """Judge the spare in ``file`` for the place of a part of an axis.

    ``file`` can be the type of a plate on the shelf, too, if there is no such file.

    Some work has no spare (see swap.part.TOUCHED): the report then says what it does to the axis.

    ``name`` picks a machine where a folder holds several, ``stage`` the gearbox where an axis has
    several (from 1 at the motor), ``spare_axis`` the axis of a machine file that the spare is taken
    from. ``plan`` adds the plan of the work. ``site`` stands in for rules, settings and a shelf
    that are not given. ``texts`` are read in place of files, by path. Raises InputError,
    UsageError and RuleError as
    ``axisproof.api.check`` does, and for a spare that is no such part.
    """
    from .judging import judge
    from .placing import plan_swap

    day = on or datetime.date.today()
    site, rules, settings, shelf = _filled(site, rules, settings, shelf)
    in_force = Rules.of(rules, settings)
    reader = with_shelf(Reader.of(texts or {}), Path(shelf) if shelf else None)
    fitted, overrides = load_fitted(machine, name, in_force, day, reader)
    facts = chosen_axis(fitted, axis)
    spare_part = _part(part, file, facts.get("motion"), spare_axis, reader)
    swap = plan_swap(fitted, axis, spare_part, stage)
    judged = judge(swap, in_force.catalogue, in_force.site, day, workings)
    changed = in_force.level_changes("axis", "machine", "spare")
    report = replace(
        judged.report,
        settings=overrides,
        level_changes=changed,
        site_rules=in_force.site_rules("axis", "machine", "spare"),
        left_out=tuple(_left_out(fitted.tree, fitted.name, swap.part)),
        site_file=None if site is None else use_of(site, changed),
        day=day.isoformat(),
    )
    if not plan:
        return report
    from .planning import make_plan

    return replace(report, plan=make_plan(judged, in_force.catalogue))


def _left_out(fitted: Tree | None, name: str, part: Part) -> Iterator[LeftOut]:
    """What imports do not take, and the types of parts of which the shelf has no plate."""
    trees = [*([(name, fitted)] if fitted is not None else []), (part.name, part.tree)]
    for label, tree in trees:
        yield from left_out_of(tree, label)
        for each in tree.without_plate:
            text = f"the shelf has no plate of the {each.kind} {each.type}"
            if each.near:
                text += f". It has one of {each.near[0]}"
            yield LeftOut(label, tree.nearest(each.path), text)


def _filled(
    site: SiteFile | None,
    rules: Sequence[PathLike],
    settings: PathLike | None,
    shelf: PathLike | None,
) -> tuple[SiteFile | None, Sequence[PathLike], PathLike | None, PathLike | None]:
    """Rules, settings and shelf in force, and the site file without what is given beside it."""
    if site is None:
        return None, rules, settings, shelf
    filled = with_site(CheckOptions(rules=rules, settings=settings, shelf=shelf, site=site))
    assert filled.site is not None
    left = filled.site.without(("patterns", "waivers", "accepted", "fail_at"))
    return left, filled.rules, filled.settings, filled.shelf


def _part(
    kind: Kind, file: PathLike | None, motion: str | None, axis: str | None, reader: Reader
) -> Part:
    """The spare, or the work where no spare is compared. Raises UsageError for a wrong pair."""
    if kind in TOUCHED:
        if file is not None or axis is not None:
            raise UsageError(f"no spare is compared for {kind}", expected="no file of a spare")
        return touched_part(kind)
    if file is None:
        raise UsageError(f"no spare is named for {kind}", expected="the file of the spare")
    return load_part(spare_file(file, kind, reader), kind, motion, axis, reader)


def spare_file(file: PathLike, kind: Kind, reader: Reader) -> Path:
    """The file of a spare: as it is named, or else the plate of that type on the shelf.

    Raises UsageError for a word that is neither.
    """
    path = Path(file)
    if reader.shelf is None or path.exists() or reader.given(path) is not None:
        return path
    plate = reader.shelf.plates.get((kind, str(file)))
    if plate is not None:
        return plate.source.path
    types = [model for of_kind, model in reader.shelf.plates if of_kind == kind]
    close = near(str(file), types)
    raise UsageError(
        f"there is no file {file}, and the shelf has no plate of a {kind} of that type",
        expected=f"perhaps {close[0]}" if close else "the file of the spare, or a type",
    )


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
    site: SiteFile | None = None,
    shelf: PathLike | None = None,
    texts: Mapping[Path, str] | None = None,
) -> Recalibrated:
    """Work out the new reference position of an axis from a true and an indicated position.

    All are quantities as text ("12.5 mm"). ``reference`` is the position assigned at present, if
    not that of the file; ``tolerance`` how well the true position is known; ``after`` the work
    that went before (a part as of ``spare``); ``reading`` the turns that the encoder shows at the
    reference after the work, ``index_angle`` the angle measured from the switch edge to the index
    pulse. A machine file may change settings of the rules of ``site``. What the site changes does
    not count here. Raises InputError and UsageError.
    """
    from .recalibrating import Readings, recalibrate_axis

    in_force = Rules.of(site.rules if site else (), None)
    shelf = shelf or (site.shelf if site else None)
    reader = with_shelf(Reader.of(texts or {}), Path(shelf) if shelf else None)
    fitted, _ = load_fitted(machine, name, in_force, datetime.date.today(), reader)
    chosen_axis(fitted, axis)
    readings = Readings(true, indicated, reference, tolerance, after, reading, index_angle)
    return recalibrate_axis(fitted, axis, readings, in_force.catalogue)


def load_fitted(
    path: PathLike, name: str | None, rules: Rules, on: datetime.date, reader: Reader = DISK
) -> tuple[Machine, Overrides]:
    """The machine as it is, with check date and settings in its facts, and those settings."""
    from ..importing.entry import load_trees

    machines = [read_machine(tree) for tree in load_trees([Path(path)], reader)]
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
