"""The shelf: a folder of part files that axes name by type, each a plate that is typed once.

A plate says what each part of its type is. What differs from piece to piece (a serial number, the
settings of a drive) is refused there: the file of the machine states it.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from ..base.errors import InputError, UsageError
from ..machine.schema import near
from ..source.limits import shortened
from ..source.merge import MissingPlate, Tree
from ..source.parsing import parse
from ..source.places import KeyPath, path_text
from ..source.plates import lay_plate
from ..source.reader import FilesRead, Reader, find_sources, read_source
from ..source.shelf import Plate, Shelf
from .part_file import STATED_ANEW, check_record, nested, part_error, records_of

KINDS: Final = ("motor", "encoder", "drive", "gearbox")
"""The kinds of plates, in the order in which they are laid: a motor can name its encoder."""

MODEL: Final = "model"
"""The fact by which a part names its type."""

MAX_PLATES: Final = 1000
"""Most plates of a shelf."""

_OF_ONE_PIECE: Final[Mapping[str, frozenset[KeyPath]]] = {
    "motor": frozenset({("serial",), ("commutation",)}),
    "encoder": frozenset(
        {
            ("serial",),
            ("serial_at_calibration",),
            ("exported_on",),
            ("angle_at_reference",),
            ("turn_counter", "reading_at_reference"),
            ("turn_counter", "battery"),
        }
    ),
}
"""Facts of a record that no plate of a type can state."""

OF_DRIVES: Final = frozenset(
    {
        MODEL,
        "command_frequency_limit",
        "discharge_time",
        "encoder_protocol",
        "feedback_frequency_limit",
        "input_scan",
        "peak_current",
        "rated_current",
        "supply_voltage",
        "supported_homing_methods",
    }
)
"""What the plate of a drive can state. All else is set in the drive, or is of one piece."""


def with_shelf(reader: Reader, folder: Path | None) -> Reader:
    """The reader with the plates of a folder, which ``load_trees`` lays over what names them.

    Raises InputError and UsageError as ``read_shelf`` does.
    """
    return reader if folder is None else reader.with_shelf(read_shelf(folder, reader))


def read_shelf(folder: Path, reader: Reader) -> Shelf:
    """The plates of a folder and of those in it.

    Raises InputError, with a place, for a file that is no part file or cannot be used, UsageError
    for a folder that holds none. The part file of a battery is passed over: no axis names its type.
    """
    if not reader.is_folder(folder):
        raise UsageError(
            f"there is no folder {reader.name(folder)}", expected="a folder of part files"
        )
    account = FilesRead()
    noting = reader.with_account(account)
    plates: dict[tuple[str, str], Plate] = {}
    for path in find_sources([folder], reader):
        plate = _plate(path, noting)
        if plate is None:
            continue
        first = plates.setdefault((plate.kind, plate.type), plate)
        if first is not plate:
            raise _twice(plate, first)
    if not plates:
        raise UsageError(
            f"the folder {reader.name(folder)} holds no plate", expected="part files with a model"
        )
    if len(plates) > MAX_PLATES:
        what = f"the folder {reader.name(folder)} holds more than {MAX_PLATES} plates"
        raise UsageError(what, expected="fewer plates")
    return Shelf(folder, plates, account.content)


def _plate(path: Path, reader: Reader) -> Plate | None:
    """The plate of a part file; None for that of a battery."""
    source = read_source(path, reader)
    tree = Tree(parse(source), (source,))
    kind, records = records_of(tree)
    if kind not in KINDS:
        return None
    for name, record in records.items():
        if record == "none":
            continue
        check_record(tree, kind, None, nested(name, record), name, (name,))
        _check_is_of_type(tree, name, record)
    for name in STATED_ANEW.get(kind, ()):
        if isinstance(tree.plain, dict) and name in tree.plain:
            raise _of_one_axis(tree, name)
    model = records[kind].get(MODEL)
    if not isinstance(model, str):
        what = f"the plate does not state its type under {kind}"
        raise part_error(tree, (kind,), what, f"{MODEL}: the type designation", key=True)
    return Plate(kind, model, source, records)


def _check_is_of_type(tree: Tree, name: str, record: dict[str, Any]) -> None:
    """Refuse a fact that differs from piece to piece."""
    if name == "drive":
        refused: list[KeyPath] = [(key,) for key in record if key not in OF_DRIVES]
        why = "is set in the drive, or is of one piece"
    else:
        refused = [path for path in sorted(_OF_ONE_PIECE.get(name, ())) if _states(record, path)]
        why = "is of one piece"
    if refused:
        path: KeyPath = (name, *refused[0])
        what = f"{'.'.join(map(str, path))} {why}, and a plate is of each part of its type"
        expected = "the fact in the file of the machine, and not on the plate"
        raise part_error(tree, path, what, expected, key=True)


def _states(record: Any, path: KeyPath) -> bool:
    for key in path:
        if not isinstance(record, dict) or key not in record:
            return False
        record = record[key]
    return bool(record != "none")


def _of_one_axis(tree: Tree, name: str) -> InputError:
    what = f"{name} is of one axis, and a plate is of each gearbox of its type"
    expected = "the fact in the file of the machine, and not on the plate"
    return part_error(tree, (name,), what, expected, key=True)


def _twice(plate: Plate, first: Plate) -> InputError:
    path: KeyPath = (plate.kind, MODEL)
    place = Tree({}, (first.source,)).places(path)[0]
    what = f"{shortened(plate.type)} has two plates of a {plate.kind}: here and in {place}"
    tree = Tree({}, (plate.source,))
    return part_error(tree, path, what, "one plate of each type")


def with_plates(tree: Tree, reader: Reader) -> Tree:
    """A machine with each plate laid over the record that names its type, if there is a shelf.

    Types that no plate has are noted in the tree. Raises InputError, with both places, for a plate
    that cannot be laid over what the machine states.
    """
    return tree if reader.shelf is None else _laid(tree, reader.shelf, reader, _named)


def with_plates_of_part(tree: Tree, reader: Reader) -> Tree:
    """A part file with the plates of the types that it names, as ``with_plates`` for a machine."""

    def named(tree: Tree, kind: str) -> Iterator[tuple[KeyPath, str]]:
        return _with_model(tree, [(kind,)])

    return tree if reader.shelf is None else _laid(tree, reader.shelf, reader, named)


@dataclass(frozen=True, slots=True)
class TypeToName:
    """A type that an axis could name, by the path of the fact, and the types on the shelf."""

    fact: str
    types: tuple[str, ...]


def type_to_name(
    plain: Any, path: KeyPath, reader: Reader, left_open: Container[str]
) -> TypeToName | None:
    """The type whose plate may state the fact at a path; None if none is to be named.

    ``left_open`` are types, by path, that nobody knows. An encoder can be that of the motor.
    """
    if reader.shelf is None or path[0] != "axes" or len(path) < 3:
        return None
    kind, spot = str(path[2]), path[:3]
    if path[2:4] == ("mechanics", "stages"):
        end = next((n for n, key in enumerate(path) if isinstance(key, int)), 0) + 1
        kind, spot = "gearbox", path[:end]
    with_encoder = [
        type_
        for (of_kind, type_), plate in reader.shelf.plates.items()
        if of_kind == "motor" and isinstance(plate.records.get("encoder"), dict)
    ]
    ways = [(kind, spot, [type_ for of, type_ in reader.shelf.plates if of == kind])]
    if kind == "encoder":
        ways.insert(0, ("motor", (*path[:2], "motor"), with_encoder))
    for _, at, types in ways:
        record = _at(plain, at)
        fact = path_text((*at, MODEL))
        named = isinstance(record, dict) and MODEL in record
        if types and len(at) > 2 and not named and fact not in left_open:
            return TypeToName(fact, tuple(sorted(types)))
    return None


def _laid(
    tree: Tree,
    shelf: Shelf,
    reader: Reader,
    named: Callable[[Tree, str], Iterator[tuple[KeyPath, str]]],
) -> Tree:
    missing: list[MissingPlate] = []
    first = reader.real(tree.sources[0].path)
    for kind in KINDS:
        for spot, model in list(named(tree, kind)):
            plate = shelf.plates.get((kind, model))
            if plate is not None and reader.real(plate.source.path) == first:
                continue  # it is this plate
            if plate is None:
                types = [type_ for of_kind, type_ in shelf.plates if of_kind == kind]
                missing.append(MissingPlate((*spot, MODEL), kind, model, tuple(near(model, types))))
                continue
            for at, inside in _spots(tree, plate, spot):
                tree = lay_plate(tree, plate, at, inside)
            reader.note_plate(plate.source.path, plate.source.text)
    return replace(tree, without_plate=tuple(missing))


def named_types(tree: Tree) -> frozenset[tuple[str, str]]:
    """The types that a machine names, each with the kind of the part."""
    return frozenset((kind, model) for kind in KINDS for _, model in _named(tree, kind))


def _spots(tree: Tree, plate: Plate, spot: KeyPath) -> Iterator[tuple[KeyPath, KeyPath]]:
    """Where the records of a plate lie on an axis: an encoder in the motor closes the loop, too.

    It does not if the axis states that its encoder is on the load.
    """
    yield spot, (plate.kind,)
    built_in = plate.records.get("encoder") if plate.kind == "motor" else None
    if isinstance(built_in, dict):
        at = (*spot[:-1], "encoder")
        own = _at(tree.plain, at)
        if not (isinstance(own, dict) and own.get("mounted_on") == "load"):
            yield at, ("encoder",)


def _named(tree: Tree, kind: str) -> Iterator[tuple[KeyPath, str]]:
    """The records of a kind that name a type, each with it, by axis."""
    axes = _at(tree.plain, ("axes",))
    for axis in axes if isinstance(axes, dict) else ():
        start: KeyPath = ("axes", axis)
        spots = [(*start, kind)] if kind != "gearbox" else list(_stages(tree, start))
        yield from _with_model(tree, spots)


def _with_model(tree: Tree, spots: Iterable[KeyPath]) -> Iterator[tuple[KeyPath, str]]:
    for spot in spots:
        record = _at(tree.plain, spot)
        model = _single(record.get(MODEL)) if isinstance(record, dict) else None
        if model is not None:
            yield spot, model


def _stages(tree: Tree, axis: KeyPath) -> Iterator[KeyPath]:
    at: KeyPath = (*axis, "mechanics", "stages")
    stages = _at(tree.plain, at)
    if isinstance(stages, dict) and "partial" in stages:
        at, stages = (*at, "partial"), stages["partial"]
    yield from ((*at, number) for number in range(len(stages) if isinstance(stages, list) else 0))


def _single(model: Any) -> str | None:
    """A type as it is stated; None where claims of it differ, which is a finding of its own."""
    if isinstance(model, dict) and isinstance(model.get("claims"), list):
        said = [each.get("value") if isinstance(each, dict) else None for each in model["claims"]]
        model = said[0] if said and all(each == said[0] for each in said) else None
    return model if isinstance(model, str) else None


def _at(plain: Any, path: KeyPath) -> Any:
    for key in path:
        if isinstance(plain, dict):
            plain = plain.get(key)
        elif isinstance(plain, list) and isinstance(key, int) and key < len(plain):
            plain = plain[key]
        else:
            return None
    return plain
