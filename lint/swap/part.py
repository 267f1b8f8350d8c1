"""The spare: a part file, or the same part of an axis in another machine file or export."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Final, Literal, cast

from ..base.errors import InputError, UsageError
from ..machine.machine import Machine
from ..machine.reader import read_machine, read_plain
from ..machine.reading import Fault
from ..machine.records import notes_of
from ..machine.schema import near
from ..source.merge import Tree
from ..source.parsing import parse
from ..source.places import KeyPath, path_text
from ..source.reader import read_source

Kind = Literal[
    "drive",
    "motor",
    "encoder",
    "gearbox",
    "battery",
    "coupling",
    "belt",
    "feedback_cable",
    "home_switch",
    "controller",
    "motor_refitted",
    "backup",
]
KINDS: Final[tuple[Kind, ...]] = ("drive", "motor", "encoder", "gearbox", "battery")
"""Parts that a spare is compared with."""

TOUCHED: Final[tuple[Kind, ...]] = (
    "coupling",
    "belt",
    "feedback_cable",
    "home_switch",
    "controller",
    "motor_refitted",
    "backup",
)
"""Work for which no spare is compared: the report says what it does to the memories."""

FORMAT: Final = 1
HEADER: Final = ("format", "$schema", "part", "description", "motion")

_RECORDS: Final[Mapping[Kind, tuple[str, ...]]] = {
    "drive": ("drive",),
    "motor": ("motor", "encoder"),
    "encoder": ("encoder",),
    "gearbox": ("gearbox",),
    "battery": ("battery",),
}
"""The records that a part file of each kind may state; the first one must be there."""


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """A spare as stated: its records (plain values) by name, and where each stands in ``tree``.

    A motor's ``encoder`` is the one built into it; it is ``"none"`` if it has none, and missing if
    nothing is said of it. ``set_up_for`` is the motion that a drive is set up for, if not that of
    the axis (empty: that of the axis); ``foreign`` are then its settings in user units, by their
    path from the record, as text. They mean nothing on this axis, and ``records`` lacks them.
    """

    kind: Kind
    name: str
    records: Mapping[str, Any]
    at: Mapping[str, KeyPath]
    tree: Tree
    set_up_for: str = ""
    foreign: Mapping[str, str] = field(default_factory=dict)

    def error(self, path: KeyPath, what: str, expected: str, *, key: bool = False) -> InputError:
        """An error about a value of its file (or its key), to be raised by the caller."""
        return _error(self.tree, path, what, expected, key)


def touched_part(kind: Kind) -> Part:
    """The work on something of which no facts are compared."""
    return Part(kind, "", {}, {}, Tree({}, ()))


def load_part(path: Path, kind: Kind, motion: str | None, axis: str | None = None) -> Part:
    """Read the spare at ``path`` as a part of ``kind`` for an axis of ``motion`` (None: unknown).

    ``axis`` names the axis of a machine file that the part is taken from; a machine of one axis
    needs no name. Raises InputError, with a place, for a file that is unusable, that describes
    another kind of part or a part for another type of axis; UsageError for an axis name that leads
    nowhere.
    """
    from ..importing.entry import kind_of, load_trees

    if kind_of(path) in ("project", "mapping") or path.is_dir():
        trees = load_trees([path])
        if len(trees) != 1:
            raise UsageError(
                f"{path} holds {len(trees)} machines", expected="a part file, or one machine"
            )
        return _from_machine(read_machine(trees[0]), trees[0], kind, motion, axis)
    source = read_source(path)
    tree = Tree(parse(source), (source,))
    plain = tree.plain
    if isinstance(plain, dict) and "part" not in plain and ("axes" in plain or "machine" in plain):
        (whole,) = load_trees([path])
        return _from_machine(read_machine(whole), whole, kind, motion, axis)
    if axis is not None:
        raise UsageError(
            f"{path.as_posix()} is a part file, which has no axis {axis}",
            expected="no axis to take the part from",
        )
    return _from_part_file(tree, kind, motion)


def _from_part_file(tree: Tree, kind: Kind, motion: str | None) -> Part:
    plain = tree.plain
    if not isinstance(plain, dict):
        raise _error(tree, (), "the file holds no record", "format, part and the facts of the part")
    _check_header(tree, plain, kind, motion)
    names = _RECORDS[kind]
    if names[0] not in plain:
        raise _error(tree, ("part",), f"the file states nothing under {names[0]}", names[0])
    records = {name: plain[name] for name in names if name in plain}
    for name, value in records.items():
        optional = kind == "motor" and name == "encoder"
        if not isinstance(value, dict) and not (optional and value == "none"):
            expected = f"a record of the {name}'s facts" + (", or none" if optional else "")
            raise _error(tree, (name,), f"{name} is no record", expected)
    part = Part(kind, tree.sources[0].name, records, {name: (name,) for name in records}, tree)
    if kind == "drive":
        return _drive_for(part, str(plain["motion"]) if "motion" in plain else None, motion)
    _check_facts(part, motion)
    return part


def _drive_for(part: Part, stated: str | None, motion: str | None) -> Part:
    """A drive for an axis of ``motion``; ``stated`` is the motion that its settings are for.

    Where that is not stated, the units of its settings tell it.
    """
    own = stated or motion
    if stated is None and motion is not None and _misfits(part, motion):
        other = "rotary" if motion == "linear" else "linear"
        own = motion if _misfits(part, other) else other
    _check_facts(part, own)
    if motion is None or own == motion:
        return part
    foreign = _misfits(part, motion)
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


def _check_header(tree: Tree, plain: dict[str, Any], kind: Kind, motion: str | None) -> None:
    if "part" not in plain:
        raise _error(tree, (), "the file does not say what part it describes", f"part: {kind}")
    stated = plain["part"]
    if stated not in KINDS:
        close = near(str(stated), KINDS)
        hint = f"perhaps {close[0]}" if close else f"one of {', '.join(KINDS)}"
        raise _error(tree, ("part",), f"part is {stated!r}", hint)
    if stated != kind:
        raise _error(
            tree,
            ("part",),
            f"the file describes {_one(stated)}, and {_one(kind)} is to be replaced",
            f"part: {kind}, or the option --part {stated}",
        )
    if "format" not in plain:
        raise _error(tree, (), "the file does not state its format", f"format: {FORMAT}")
    form = plain["format"]
    if type(form) is not int or form != FORMAT:
        newer = type(form) is int and form > FORMAT
        what = f"format is {form}" + (", which this axisproof is too old to read" if newer else "")
        raise _error(tree, ("format",), what, str(FORMAT))
    known = (*HEADER, *_RECORDS[kind])
    for name in plain:
        if name not in known:
            close = near(name, known)
            hint = f"perhaps {close[0]}" if close else f"one of {', '.join(known)}"
            raise _error(tree, (name,), f"{name} is not known in a {kind} file", hint, key=True)
    for name in ("description", "$schema"):
        if not isinstance(plain.get(name, ""), str):
            raise _error(tree, (name,), f"{name} is no text", "text")
    if "motion" in plain:
        if plain["motion"] not in ("linear", "rotary"):
            raise _error(tree, ("motion",), f"motion is {plain['motion']!r}", "linear or rotary")
        if kind != "drive" and motion is not None and plain["motion"] != motion:
            raise _other_motion(tree, ("motion",), kind, str(plain["motion"]), motion)


def _other_motion(tree: Tree, path: KeyPath, kind: str, stated: str, wanted: str) -> InputError:
    return _error(
        tree,
        path,
        f"the {kind} is set up for a {stated} axis, and the axis is {wanted}",
        f"{_one(kind)} for a {wanted} axis",
    )


def _check_facts(part: Part, motion: str | None) -> None:
    """Read every record as the machine file's reader does, and place what is wrong in the file."""
    for name, record in part.records.items():
        if record == "none":
            continue
        nested, prefix = _nested(name, record)
        start: KeyPath = ("axes", "spare", *prefix)
        before = path_text(start)

        def where(fault: Fault, name: str = name, start: KeyPath = start) -> InputError:
            path = (*part.at[name], *fault.path[len(start) :])
            what = fault.what.removeprefix(path_text(fault.path))
            return part.error(path, path_text(path) + what, fault.expected, key=fault.key)

        axis = {"motion": motion or "linear", **nested}
        machine = read_plain({"axes": {"spare": axis}}, where)
        if motion is None:
            continue
        for misfit in machine.misfits:
            inside = misfit.path.removeprefix(before).removeprefix(".")
            due = "a length" if motion == "linear" else "an angle"
            raise part.error(
                (*part.at[name], *inside.split(".")),
                f"{name}.{inside} is {misfit.written}, but the axis is {motion}",
                f"{due}; this {part.kind} is set up for another type of axis",
            )


def _nested(name: str, record: Any) -> tuple[dict[str, Any], KeyPath]:
    """The facts of an axis that hold a record, and the path from the axis to it."""
    if name == "gearbox":
        return {"mechanics": {"stages": [record]}}, ("mechanics", "stages", 0)
    if name == "battery":
        return (
            {"encoder": {"turn_counter": {"battery": record}}},
            ("encoder", "turn_counter", "battery"),
        )
    return {name: record}, (name,)


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
    stages = facts.get("mechanics.stages", ())
    if kind == "gearbox" and len(stages) == 1:
        partial = ("partial",) if "mechanics.stages" in notes_of(facts).partial else ()
        paths["gearbox"] = ("mechanics", "stages", *partial, 0)
    records: dict[str, Any] = {}
    at: dict[str, KeyPath] = {}
    for key in _RECORDS[kind]:
        if kind == "motor" and key == "encoder" and facts.get("encoder.mounted_on") == "load":
            records[key] = "none"
            continue
        path = ("axes", name, *paths.get(key, ("mechanics", "stages", 0)))
        record = _value(tree.plain, path)
        if isinstance(record, dict):
            records[key], at[key] = record, path
    if _RECORDS[kind][0] not in records:
        raise _error(tree, ("axes", name), f"axis {name} has no {kind} to take", _one(kind))
    part = Part(kind, f"{tree.sources[0].name}, axis {name}", records, at, tree)
    if kind == "drive":
        # Only a drive is set up in user units; motors, encoders and gearboxes just turn.
        return _drive_for(part, stated, motion)
    _check_facts(part, motion)
    return part


def _one(kind: str) -> str:
    """A kind of part with its article."""
    return f"an {kind}" if kind[0] in "aeiou" else f"a {kind}"


def pick_axis(names: list[str], wanted: str | None, machine: str) -> str:
    """The axis that is meant. Raises UsageError, with a suggestion, if it is not clear."""
    if wanted is None:
        if len(names) == 1:
            return names[0]
        raise UsageError(f"{machine} has {len(names)} axes", expected=f"one of {_listed(names)}")
    if wanted in names:
        return wanted
    close = near(wanted, names)
    raise UsageError(
        f"{machine} has no axis {wanted}",
        expected=f"perhaps {close[0]}" if close else f"one of {_listed(names)}",
    )


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


def _error(tree: Tree, path: KeyPath, what: str, expected: str, key: bool = False) -> InputError:
    places = (tree.key_places if key else tree.places)(path)
    place = places[0] if places else tree.nearest(path)
    return InputError(what, expected=expected, place=place, source_line=tree.line_text(place))
