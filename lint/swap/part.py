"""The spare: a part file, or the same part of an axis in another machine file or export."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Final, Literal, cast

from ..base.errors import InputError, UsageError
from ..importing.part_file import (
    KINDS as KINDS,
)
from ..importing.part_file import (
    RECORDS,
    STATED_ANEW,
    check_record,
    nested,
    one,
    part_error,
    records_of,
)
from ..importing.shelf import with_plates_of_part
from ..machine.machine import Machine
from ..machine.reader import read_machine, read_plain
from ..machine.records import notes_of
from ..machine.schema import no_such_axis
from ..source.merge import Tree
from ..source.parsing import parse
from ..source.places import KeyPath
from ..source.reader import DISK, Reader, read_source

Kind = Literal[
    "drive",
    "motor",
    "encoder",
    "second_encoder",
    "gearbox",
    "battery",
    "coupling",
    "belt",
    "chain",
    "feedback_cable",
    "home_switch",
    "controller",
    "motor_refitted",
    "backup",
]
TOUCHED: Final[tuple[Kind, ...]] = (
    "coupling",
    "belt",
    "chain",
    "feedback_cable",
    "home_switch",
    "controller",
    "motor_refitted",
    "backup",
)
"""Work for which no spare is compared: the report says what it does to the memories."""


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """A spare as stated: its records (plain values) by name, and where each stands in ``tree``.

    A motor's ``encoder`` is the one built into it; it is ``"none"`` if it has none, and missing if
    nothing is said of it. ``set_up_for`` is the motion that a drive is set up for, if not that of
    the axis (empty: that of the axis); ``foreign`` are then its settings in user units, by their
    path from the record, as text. They mean nothing on this axis, and ``records`` lacks them.
    ``ran_on`` is that motion of another part, which holds no settings in user units.
    ``stated_anew`` are facts of the axis with the spare in place, by their path in the axis.
    """

    kind: Kind
    name: str
    records: Mapping[str, Any]
    at: Mapping[str, KeyPath]
    tree: Tree
    set_up_for: str = ""
    stated_anew: Mapping[KeyPath, Any] = field(default_factory=dict)
    foreign: Mapping[str, str] = field(default_factory=dict)
    ran_on: str = ""

    def error(self, path: KeyPath, what: str, expected: str, *, key: bool = False) -> InputError:
        """An error about a value of its file (or its key), to be raised by the caller."""
        return part_error(self.tree, path, what, expected, key=key)


def touched_part(kind: Kind) -> Part:
    """The work on something of which no facts are compared."""
    return Part(kind, "", {}, {}, Tree({}, ()))


def load_part(
    path: Path,
    kind: Kind,
    motion: str | None,
    axis: str | None = None,
    reader: Reader = DISK,
) -> Part:
    """Read the spare at ``path`` as a part of ``kind`` for an axis of ``motion`` (None: unknown).

    ``axis`` names the axis of a machine file that the part is taken from; a machine of one axis
    needs no name. Raises InputError, with a place, for a file that is unusable, that describes
    another kind of part or a part for another type of axis; UsageError for an axis name that leads
    nowhere.
    """
    from ..importing.entry import kind_of, load_trees

    if kind_of(path, reader) in ("project", "mapping") or path.is_dir():
        trees = load_trees([path], reader)
        if len(trees) != 1:
            raise UsageError(
                f"{path} holds {len(trees)} machines", expected="a part file, or one machine"
            )
        return _from_machine(read_machine(trees[0]), trees[0], kind, motion, axis)
    source = read_source(path, reader)
    tree = Tree(parse(source), (source,))
    plain = tree.plain
    if isinstance(plain, dict) and "part" not in plain and ("axes" in plain or "machine" in plain):
        (whole,) = load_trees([path], reader)
        return _from_machine(read_machine(whole), whole, kind, motion, axis)
    if axis is not None:
        raise UsageError(
            f"{path.as_posix()} is a part file, which has no axis {axis}",
            expected="no axis to take the part from",
        )
    return _from_part_file(with_plates_of_part(tree, reader), kind, motion)


def _from_part_file(tree: Tree, kind: Kind, motion: str | None) -> Part:
    _, records = records_of(tree, kind)
    plain = tree.plain
    assert isinstance(plain, dict)
    anew = {path: plain[name] for name, path in STATED_ANEW.get(kind, {}).items() if name in plain}
    part = Part(
        kind,
        tree.sources[0].name,
        records,
        {name: (name,) for name in records},
        tree,
        stated_anew=anew,
    )
    stated = str(plain["motion"]) if "motion" in plain else None
    if kind == "drive":
        return _drive_for(part, stated, motion)
    _check_facts(part, motion)
    elsewhere = stated is not None and motion is not None and stated != motion
    return replace(part, ran_on=str(stated)) if elsewhere else part


def _drive_for(part: Part, stated: str | None, motion: str | None) -> Part:
    """A drive for an axis of ``motion``; ``stated`` is the motion that its settings are for.

    Where that is not stated, the units of its settings tell it. Where it is another motion, no
    setting in user units means anything here, so that their units do not matter.
    """
    other = "rotary" if motion == "linear" else "linear"
    own = stated or motion
    if stated is None and motion is not None and _misfits(part, motion):
        own = motion if _misfits(part, other) else other
    elsewhere = motion is not None and own != motion
    _check_facts(part, None if elsewhere else own)
    if motion is None or own == motion:
        return part
    foreign = {**_misfits(part, other), **_misfits(part, motion)}
    record = copy.deepcopy(part.records["drive"])
    for fact in foreign:
        _leave_out(record, fact.split("."))
    return replace(part, records={"drive": record}, set_up_for=str(own), foreign=foreign)


def _leave_out(record: Any, path: list[str]) -> None:
    for name in path[:-1]:
        record = record[name]
    del record[path[-1]]


def _misfits(part: Part, motion: str) -> Mapping[str, str]:
    """The facts of a drive whose unit is none of an axis of ``motion``, as text."""
    machine = read_plain({"axes": {"spare": {"motion": motion, "drive": part.records["drive"]}}})
    return {
        each.path.removeprefix("axes.spare.drive."): str(each.written) for each in machine.misfits
    }


def _check_facts(part: Part, motion: str | None) -> None:
    """Read every record as the machine file's reader does, and place what is wrong in the file."""
    for name, record in part.records.items():
        if record != "none":
            held = nested(name, record)
            check_record(part.tree, part.kind, motion, held, name, part.at[name])
    for name, path in STATED_ANEW.get(part.kind, {}).items():
        if path in part.stated_anew:
            facts: Any = part.stated_anew[path]
            for above in reversed(path):
                facts = {above: facts}
            check_record(part.tree, part.kind, motion, (facts, path), name, (name,))


def _from_machine(
    machine: Machine, tree: Tree, kind: Kind, motion: str | None, wanted: str | None
) -> Part:
    """Take the part from an axis of a machine."""
    axes = cast("dict[str, Any]", machine.plain["axes"])
    name = pick_axis(list(axes), wanted, f"{machine.name} (the spare's machine)")
    facts = next(axis for axis in machine.axes if axis["name"] == name)
    stated = facts.get("motion")
    paths: dict[str, KeyPath] = {"drive": ("drive",), "motor": ("motor",), "encoder": ("encoder",)}
    paths["battery"] = ("encoder", "turn_counter", "battery")
    paths["second_encoder"] = ("second_encoder",)
    stages = facts.get("mechanics.stages", ())
    if kind == "gearbox" and len(stages) == 1:
        partial = ("partial",) if "mechanics.stages" in notes_of(facts).partial else ()
        paths["gearbox"] = ("mechanics", "stages", *partial, 0)
    records: dict[str, Any] = {}
    at: dict[str, KeyPath] = {}
    for key in RECORDS[kind]:
        of_motor = key
        if kind == "motor" and key == "encoder" and facts.get("encoder.mounted_on") == "load":
            if facts.get("second_encoder.mounted_on") != "motor":
                records[key] = "none"
                continue
            of_motor = "second_encoder"
        path = ("axes", name, *paths.get(of_motor, ("mechanics", "stages", 0)))
        record = _value(tree.plain, path)
        if isinstance(record, dict):
            records[key], at[key] = record, path
    if RECORDS[kind][0] not in records:
        raise part_error(
            tree, ("axes", name), f"axis {name} has no {kind.replace('_', ' ')} to take", one(kind)
        )
    part = Part(kind, f"{tree.sources[0].name}, axis {name}", records, at, tree)
    if kind == "drive":
        # Only a drive is set up in user units; motors, encoders and gearboxes just turn.
        return _drive_for(part, stated, motion)
    _check_facts(part, motion)
    return part


def pick_axis(names: list[str], wanted: str | None, machine: str) -> str:
    """The axis that is meant. Raises UsageError, with a suggestion, if it is not clear."""
    if wanted is None:
        if len(names) == 1:
            return names[0]
        raise UsageError(f"{machine} has {len(names)} axes", expected=f"one of {_listed(names)}")
    if wanted in names:
        return wanted
    raise no_such_axis(machine, wanted, names, _listed(names))


def _listed(names: list[str]) -> str:
    return ", ".join(names[:12]) + (", …" if len(names) > 12 else "")


def _value(plain: Any, path: KeyPath) -> Any:
    for part in path:
        if isinstance(plain, dict):
            plain = plain.get(part)
        elif isinstance(plain, list) and isinstance(part, int) and part < len(plain):
            plain = plain[part]
        else:
            return None
    return plain
