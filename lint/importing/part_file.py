"""Part files: what one motor, drive, encoder, gearbox or battery states (part.schema.json)."""

from __future__ import annotations

from collections.abc import Mapping

from ..base.errors import InputError
from ..machine.reader import read_plain
from ..machine.reading import Fault
from ..machine.schema import near
from ..source.merge import Tree
from ..source.places import KeyPath, path_text

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final, Literal, TypeAlias

PartKind: TypeAlias = 'Literal["drive", "motor", "encoder", "second_encoder", "gearbox", "battery"]'
FORMAT: Final = 1
KINDS: Final[tuple[PartKind, ...]] = (
    *("drive", "motor", "encoder"),
    *("second_encoder", "gearbox", "battery"),
)
"""Parts that a file describes, and that a spare is compared with."""

HEADER: Final = ("format", "$schema", "part", "description", "motion")

RECORDS: Final[Mapping[str, tuple[str, ...]]] = {
    "drive": ("drive",),
    "motor": ("motor", "encoder"),
    "encoder": ("encoder",),
    "second_encoder": ("second_encoder",),
    "gearbox": ("gearbox",),
    "battery": ("battery",),
}
"""The records that a part file of each kind may state; the first one must be there."""

STATED_ANEW: Final[Mapping[str, Mapping[str, KeyPath]]] = {
    "gearbox": {
        "duty": ("controller", "duty"),
        "efficiency": ("mechanics", "efficiency"),
        "transmission_inertia": ("mechanics", "transmission_inertia"),
        "backlash": ("mechanics", "backlash"),
    },
}
"""Facts of the axis that a part file may state as they are with the spare, and where they stand."""


def part_error(
    tree: Tree, path: KeyPath, what: str, expected: str, *, key: bool = False
) -> InputError:
    """An error about a value of a part file (or its key), to be raised by the caller."""
    places = (tree.key_places if key else tree.places)(path)
    place = places[0] if places else tree.nearest(path)
    return InputError(what, expected=expected, place=place, source_line=tree.line_text(place))


def one(kind: str) -> str:
    """A kind of part with its article."""
    words = kind.replace("_", " ")
    return f"an {words}" if kind[0] in "aeiou" else f"a {words}"


def records_of(tree: Tree, wanted: str | None = None) -> tuple[str, dict[str, Any]]:
    """The kind of a part file and its records by name, as plain values.

    ``wanted`` is the kind that it must be of (None: any). The facts are not looked at. Raises
    InputError, with a place, for a file that is of another kind or no part file.
    """
    plain = tree.plain
    if not isinstance(plain, dict):
        expected = "format, part and the facts of the part"
        raise part_error(tree, (), "the file holds no record", expected)
    kind = _kind_of_part(tree, plain, wanted)
    _check_header(tree, plain, kind)
    names = RECORDS[kind]
    if names[0] not in plain:
        raise part_error(tree, ("part",), f"the file states nothing under {names[0]}", names[0])
    records = {name: plain[name] for name in names if name in plain}
    for name, value in records.items():
        optional = kind == "motor" and name == "encoder"
        if not isinstance(value, dict) and not (optional and value == "none"):
            expected = f"a record of the {name}'s facts" + (", or `none`" if optional else "")
            raise part_error(tree, (name,), f"{name} is no record", expected)
    return kind, records


def _kind_of_part(tree: Tree, plain: dict[str, Any], wanted: str | None) -> str:
    if "part" not in plain:
        expected = f"part: {wanted or 'motor'}"
        raise part_error(tree, (), "the file does not say what part it describes", expected)
    stated = plain["part"]
    if stated not in KINDS:
        close = near(str(stated), KINDS)
        hint = f"perhaps {close[0]}" if close else f"one of {', '.join(KINDS)}"
        raise part_error(tree, ("part",), f"part is {stated!r}", hint)
    if wanted is not None and stated != wanted:
        raise part_error(
            tree,
            ("part",),
            f"the file describes {one(stated)}, and {one(wanted)} is to be replaced",
            f"part: {wanted}, or the option --part {stated}",
        )
    return str(stated)


def _check_header(tree: Tree, plain: dict[str, Any], kind: str) -> None:
    if "format" not in plain:
        raise part_error(tree, (), "the file does not state its format", f"format: {FORMAT}")
    form = plain["format"]
    if type(form) is not int or form != FORMAT:
        newer = type(form) is int and form > FORMAT
        what = f"format is {form}" + (", which this axisproof is too old to read" if newer else "")
        raise part_error(tree, ("format",), what, str(FORMAT))
    known = (*HEADER, *RECORDS[kind], *STATED_ANEW.get(kind, ()))
    for name in plain:
        if name not in known:
            close = near(name, known)
            hint = f"perhaps {close[0]}" if close else f"one of {', '.join(known)}"
            raise part_error(tree, (name,), f"{name} is not known in a {kind} file", hint, key=True)
    for name in ("description", "$schema"):
        if not isinstance(plain.get(name, ""), str):
            raise part_error(tree, (name,), f"{name} is no text", "text")
    if "motion" in plain and plain["motion"] not in ("linear", "rotary"):
        raise part_error(tree, ("motion",), f"motion is {plain['motion']!r}", "linear or rotary")


def check_record(
    tree: Tree,
    kind: str,
    motion: str | None,
    nested: tuple[dict[str, Any], KeyPath],
    name: str,
    at: KeyPath,
) -> None:
    """Read a record as the machine file's reader does, and place what is wrong in the part file.

    ``nested`` are the facts of an axis that hold the record, with its path; ``at`` is the path of
    the record in the file. ``motion`` None: units are not compared with the motion of an axis.
    """
    facts, prefix = nested
    start: KeyPath = ("axes", "spare", *prefix)
    before = path_text(start)

    def where(fault: Fault) -> InputError:
        path = (*at, *fault.path[len(start) :])
        what = fault.what.removeprefix(path_text(fault.path))
        return part_error(tree, path, path_text(path) + what, fault.expected, key=fault.key)

    machine = read_plain({"axes": {"spare": {"motion": motion or "linear", **facts}}}, where)
    if motion is None:
        return
    for misfit in machine.misfits:
        inside = misfit.path.removeprefix(before).removeprefix(".")
        due = "a length" if motion == "linear" else "an angle"
        raise part_error(
            tree,
            (*at, *inside.split(".")),
            f"{name}.{inside} is {misfit.written}, but the axis is {motion}",
            f"{due}. This {kind} is for another type of axis",
        )


def nested(name: str, record: Any) -> tuple[dict[str, Any], KeyPath]:
    """The facts of an axis that hold a record, and the path from the axis to it."""
    if name == "gearbox":
        return {"mechanics": {"stages": [record]}}, ("mechanics", "stages", 0)
    if name == "battery":
        path: KeyPath = ("encoder", "turn_counter", "battery")
        return {"encoder": {"turn_counter": {"battery": record}}}, path
    return {name: record}, (name,)
