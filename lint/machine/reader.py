"""Turns a machine file into flat facts with exact values, and notes what cannot be used."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from ..base.errors import AxisproofError, InputError
from ..source.merge import Tree, load_tree
from .fact_readers import machine_reader
from .gantries import settle_couplings, settle_gantries
from .homing_order import add_homing_order
from .machine import Machine
from .reading import Fault, Reading
from .records import Facts, new_record, notes_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


def load_machine(path: Path, root: Path | None = None) -> Machine:
    """Read a machine file and what it includes; raises InputError (see source.merge.load_tree)."""
    return read_machine(load_tree(path, root))


def read_machine(tree: Tree) -> Machine:
    """Read a plain tree with places; raises InputError at the first fault, with the others."""

    def where(fault: Fault) -> AxisproofError:
        places = (tree.key_places if fault.key else tree.places)(fault.path)
        place = places[0] if places else tree.nearest(fault.path)
        return InputError(
            fault.what,
            expected=fault.expected,
            place=place,
            source_line=tree.line_text(place),
            lacking=fault.lacking,
        )

    return _read(tree.plain, tree, where, headless=False)


def read_plain(
    plain: Any,
    where: Callable[[Fault], AxisproofError] | None = None,
    *,
    headless: bool = True,
) -> Machine:
    """Read a plain tree that comes from no file, such as a rule's example.

    ``where`` turns a fault into the error to raise (default: an InputError without a place).
    ``headless``: the keys ``format`` and ``machine`` may be left out.
    """

    def without_place(fault: Fault) -> AxisproofError:
        return InputError(fault.what, expected=fault.expected, lacking=fault.lacking)

    return _read(plain, None, where or without_place, headless=headless)


def _read(
    plain: Any,
    tree: Tree | None,
    where: Callable[[Fault], AxisproofError],
    *,
    headless: bool,
) -> Machine:
    reading = Reading()
    out = new_record("")
    out |= {"name": "example", "axes": []}
    try:
        machine_reader(headless)(plain, out, reading)
    except Fault as fault:
        from .further_faults import further_faults

        error = where(fault)
        others = [where(each) for each in further_faults(plain, fault, headless)]
        error.others = tuple(sorted(others, key=_order)) if tree else tuple(others)
        raise error from None
    add_homing_order(out["axes"])
    unusable = [dispute.path for dispute in reading.disputes]
    unusable += [misfit.path for misfit in reading.misfits]
    if unusable:
        _mark_disputed(out, unusable)
    settle_gantries(out["axes"])
    settle_couplings(out["axes"])
    return Machine(out, plain, tree, tuple(reading.disputes), tuple(reading.misfits))


def _order(error: AxisproofError) -> tuple[str, int, int]:
    place = error.place
    return (place.file, place.line, place.column) if place else ("", 0, 0)


def _mark_disputed(machine: Facts, paths: list[str]) -> None:
    """Note facts that are stated and cannot be used as disputed in the records they lie in.

    Paths there are relative to the record, with ``[]`` for an index (see language/reach.py).
    """
    axes = {notes_of(axis).path: axis for axis in machine["axes"]}
    of_machine: set[str] = set()
    for each in paths:
        path = re.sub(r"\.claims\[[0-9]+\]\.value$", "", each)
        plain = re.sub(r"\[[0-9]+\]", "[]", path)
        of_machine.add(plain)
        begin = path.find(".", len("axes.")) + 1  # the name of an axis holds no dot
        axis = axes.get(path[: begin - 1]) if begin else None
        if axis is None:
            _mark_item(machine, path)
            continue
        of_machine.add("axes[]." + plain[begin:])
        notes_of(axis).disputed |= {plain[begin:]}
        _mark_item(axis, path[begin:])
    notes_of(machine).disputed |= of_machine


def _mark_item(record: Facts, path: str) -> None:
    found = re.match(r"([^\[]+)\[([0-9]+)\]\.(.+)", path)
    items = record.get(found[1]) if found else None
    if found and isinstance(items, list):
        item = items[int(found[2])]
        notes_of(item).disputed |= {re.sub(r"\[[0-9]+\]", "[]", found[3])}
        _mark_item(item, found[3])
