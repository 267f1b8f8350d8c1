"""The machine with the spare in the place of the fitted part, read anew.

Nothing of the fitted part is left but what stays with the place. Two states are made: as it comes,
with the spare's own settings; and as planned, with the settings of the place written into it and
everything taught again. Every value keeps the place where it was stated.
"""

from __future__ import annotations

import copy
import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal

from ..base.absence import NONE
from ..base.errors import InputError, UsageError
from ..catalogue.catalogue import Catalogue
from ..catalogue.settings import Site, apply_settings
from ..importing.part_file import STATED_ANEW
from ..machine.machine import Machine
from ..machine.reader import read_machine, read_plain
from ..machine.records import Facts, notes_of, set_check_date
from ..source.files import Source
from ..source.merge import Tree
from ..source.places import KeyPath, path_text
from .part import TOUCHED, Part
from .roles import Role, Roles, record_facts

State = Literal["as it comes", "as planned"]

TO_BE_READ: Final = "(to be read from the spare's plate)"
"""Stands for a serial number that the spare's file does not state."""

MISSING: Final = object()


@dataclass(frozen=True, slots=True, eq=False)
class Swap:
    """What is put where: ``spots`` maps each record that is replaced to its path in the file.

    ``fitted`` maps it to the plain record it replaces. ``new`` names what is new afterwards;
    ``notes`` say in words what was taken for granted.
    """

    machine: Machine
    axis: str
    part: Part
    spots: Mapping[str, KeyPath]
    fitted: Mapping[str, Any]
    spare: Mapping[str, Any]
    new: frozenset[str]
    notes: tuple[str, ...] = ()


def axis_of(machine: Machine, name: str) -> Facts:
    """The facts of an axis by name."""
    return next(axis for axis in machine.axes if axis["name"] == name)


def plan_swap(machine: Machine, axis: str, part: Part, stage: int | None = None) -> Swap:
    """Find the place of the part. ``stage`` counts transmission stages from the motor, from 1.

    Raises InputError or UsageError if the axis has no such place, or several.
    """
    facts = axis_of(machine, axis)
    base: KeyPath = ("axes", axis)
    spots: dict[str, KeyPath] = {}
    notes: list[str] = []
    new: set[str] = {part.kind}
    spare = dict(part.records)
    if part.kind in TOUCHED:
        if stage is not None:
            raise UsageError("--stage is about a gearbox", expected="no --stage")
    elif part.kind == "gearbox":
        spots["gearbox"] = (*base, *_stage(machine, facts, axis, stage))
        notes += _taken_over(facts, part)
    elif stage is not None:
        raise UsageError("--stage is about a gearbox", expected="no --stage")
    elif part.kind == "battery":
        _needs_battery(machine, facts, axis)
        spots["battery"] = (*base, "encoder", "turn_counter", "battery")
    else:
        if part.kind == "second_encoder" and facts.get("second_encoder") in (None, NONE):
            what = f"axis {axis} states no second encoder to replace"
            raise _no_place(machine, f"axes.{axis}", what)
        spots[part.kind] = (*base, part.kind)
    if part.kind == "motor":
        _place_its_encoder(facts, base, spots, spare, new, notes)
    if part.set_up_for:
        new.add("other_motion")
        notes.append(
            f"The drive is set up for a {part.set_up_for} axis, and this axis is another kind. "
            "Its settings in user units mean nothing here. Set it back to the state of delivery, "
            "then write every setting of this axis."
        )
    if part.ran_on:
        notes.append(
            f"The {part.kind} comes from a {part.ran_on} axis, and this axis is another kind. It "
            "holds no settings in user units. What it states is compared as for each spare."
        )
    found = {name: _at(machine.plain, path) for name, path in spots.items()}
    fitted = {name: {} if record in (None, "none") else record for name, record in found.items()}
    return Swap(machine, axis, part, spots, fitted, spare, frozenset(new), tuple(notes))


def _known_to(record: str, plain: Mapping[str, Any], above: str = "") -> dict[str, Any]:
    """The facts of a plain record that a record of this name has too."""
    known = record_facts(record)
    kept: dict[str, Any] = {}
    for name, fact in plain.items():
        path = f"{above}{name}"
        if isinstance(fact, Mapping) and "claims" not in fact:
            inside = _known_to(record, fact, f"{path}.")
            kept |= {name: inside} if inside else {}
        elif path in known:
            kept[name] = fact
    return kept


def _place_its_encoder(
    facts: Facts,
    base: KeyPath,
    spots: dict[str, KeyPath],
    spare: dict[str, Any],
    new: set[str],
    notes: list[str],
) -> None:
    """Put the encoder that is built into a spare motor where the fitted motor has its own.

    ``spots``, ``spare``, ``new`` and ``notes`` are those of the swap, and are added to.
    """
    own = facts.get("encoder.mounted_on") != "load"
    its = "encoder" if own else "second_encoder"
    stated = spare.pop("encoder", None)
    if not own and facts.get("second_encoder.mounted_on") != "motor":
        if stated != "none":
            notes.append(
                "The encoder of the position loop is on the load and stays. An encoder in the "
                "motor is not compared."
            )
        return
    if stated == "none":
        notes.append("The spare brings no encoder: the fitted one is put on it.")
        if own:
            new.add("encoder_moved")
        return
    spots[its] = (*base, its)
    spare[its] = (stated or {}) if own else _known_to(its, stated or {})
    new.add(its)
    if stated is None:
        notes.append(
            "The file of the spare does not say which encoder is built into the motor. "
            "State it under encoder. Write `encoder: none` if the fitted one is put on it."
        )


_OF_THE_TRANSMISSION: Final = {
    "efficiency": "efficiency",
    "transmission_inertia": "inertia",
    "backlash": "backlash",
}
"""What the axis states of its transmission as a whole, with the word for it."""


def _taken_over(facts: Facts, part: Part) -> list[str]:
    """What is taken to be as with the fitted gearbox, in words."""
    words = [
        word
        for fact, word in _OF_THE_TRANSMISSION.items()
        if f"mechanics.{fact}" in facts and ("mechanics", fact) not in part.stated_anew
    ]
    if not words:
        return []
    listed = " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))
    return [
        f"Not compared: {listed} of the transmission. They are taken as with the fitted gearbox. "
        "If the spare has others, state them in its file."
        if len(words) > 1
        else f"Not compared: {listed} of the transmission. It is taken as with the fitted gearbox. "
        "If the spare has another, state it in its file."
    ]


def _stage(machine: Machine, facts: Facts, axis: str, stage: int | None) -> KeyPath:
    stages = facts.get("mechanics.stages")
    path = f"axes.{axis}.mechanics.stages"
    if not stages:
        what = "has no transmission stage" if stages == [] else "states no transmission stages"
        raise _no_place(machine, path, f"axis {axis} {what}, so there is no gearbox to replace")
    if stage is None:
        if len(stages) > 1:
            raise UsageError(
                f"axis {axis} has {len(stages)} transmission stages",
                expected=f"--stage 1 to {len(stages)}, counted from the motor",
            )
        stage = 1
    if not 1 <= stage <= len(stages):
        raise UsageError(
            f"axis {axis} has no transmission stage {stage}",
            expected=f"1 to {len(stages)}, counted from the motor",
        )
    partial = ("partial",) if "mechanics.stages" in notes_of(facts).partial else ()
    return ("mechanics", "stages", *partial, stage - 1)


def _needs_battery(machine: Machine, facts: Facts, axis: str) -> None:
    path = f"axes.{axis}.encoder.turn_counter"
    if facts.get("encoder.turn_counter.battery") is NONE:
        what = f"axis {axis} has no battery to replace: encoder.turn_counter.battery is `none`"
        raise _no_place(machine, f"{path}.battery", what)
    if facts.get("encoder.turn_counter.backup") == "batteryless":
        what = f"axis {axis} has no battery to replace: its turn counter is batteryless"
        raise _no_place(machine, f"{path}.backup", what)
    kind = facts.get("encoder.kind")
    if kind is not None and kind != "absolute_multiturn":
        what = f"axis {axis} has no turns for a battery to keep: its encoder is {kind}"
        raise _no_place(machine, f"axes.{axis}.encoder.kind", what)


def _no_place(machine: Machine, path: str, what: str) -> InputError:
    place = machine.nearest(path)
    line = None if place is None else machine.line_text(place)
    return InputError(what, expected="a part that the axis has", place=place, source_line=line)


def _at(plain: Any, path: KeyPath) -> Any:
    for part in path:
        if isinstance(plain, dict):
            plain = plain.get(part)
        elif isinstance(plain, list) and isinstance(part, int):
            plain = plain[part]
        else:
            return None
    return plain


# Dotted paths in plain records -----------------------------------------------------------------


def fetch(record: Any, path: str) -> Any:
    """The plain value at a dotted path below a record; MISSING if it is not stated."""
    here = record
    for part in path.split("."):
        if not isinstance(here, dict) or part not in here:
            return MISSING
        here = here[part]
    return here


def put(record: dict[str, Any], path: str, value: Any) -> bool:
    """Set a plain value at a dotted path; False if a group above it is `none`."""
    *above, last = path.split(".")
    here = record
    for part in above:
        inner = here.setdefault(part, {})
        if not isinstance(inner, dict):
            return False
        here = inner
    here[last] = value
    return True


def drop(record: dict[str, Any], path: str) -> None:
    """Take the value at a dotted path away."""
    *above, last = path.split(".")
    here: Any = record
    for part in above:
        here = here.get(part) if isinstance(here, dict) else None
    if isinstance(here, dict):
        here.pop(last, None)


# Composing -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class SettingChange:
    """A fact to be set beyond what roles say: its path in the axis and its plain value."""

    fact: str
    value: Any


class SwapBuilder:
    """Makes machines with the spare in place. ``writable`` says which facts can be written."""

    def __init__(
        self, swap: Swap, roles: Roles, catalogue: Catalogue, site: Site, on: datetime.date
    ) -> None:
        self.swap = swap
        self.roles = roles
        self.catalogue = catalogue
        self.site = site
        self.on = on
        self.writable: dict[tuple[str, str], bool] = {}
        self.outdated: list[str] = []
        """Facts of the axis that hold for the fitted part alone."""

    def can_write(self, record: str, fact: str, role: Role) -> bool:
        """Whether a fact of the spare can be set to what it was."""
        if role.name == "place":
            return True
        return role.name == "match" and self.writable.get((record, fact), role.writable is None)

    def machine(self, state: State, settings: tuple[SettingChange, ...] = ()) -> Machine:
        """The machine with the spare in place, its check date and settings put in."""
        swap = self.swap
        plain = dict(swap.machine.plain)
        plain["axes"] = dict(plain["axes"])
        plain["axes"][swap.axis] = copy.deepcopy(plain["axes"][swap.axis])
        origins: dict[KeyPath, tuple[Source, KeyPath]] = {}
        for record in swap.spots:
            self._place(record, state, plain, origins)
        axis = plain["axes"][swap.axis]
        if "drive" in swap.spots:
            _scan_again(plain, swap.fitted["drive"], axis["drive"])
        if state == "as planned":
            self._renew(axis)
            self._renew_coupled(plain["axes"], axis)
        for fact in self.outdated:
            drop(axis, fact)
        self._state_anew(axis, origins)
        for setting in settings:
            put(axis, setting.fact, setting.value)
        machine = self._read(plain, origins)
        set_check_date(machine.facts, self.on)
        apply_settings(machine, machine.name, self.catalogue, self.site)
        return machine

    def _read(
        self, plain: dict[str, Any], origins: dict[KeyPath, tuple[Source, KeyPath]]
    ) -> Machine:
        tree = self.swap.machine.tree
        if tree is None:
            return read_plain(plain)
        sources = (*tree.sources, *self.swap.part.tree.sources)
        # What the spare states hides what the fitted part had under the same path.
        kept = {
            path: origin
            for path, origin in tree.origins.items()
            if not any(path[: len(own)] == own for own in origins)
        }
        return read_machine(Tree(plain, sources, {**kept, **origins}))

    def _place(
        self,
        record: str,
        state: State,
        plain: dict[str, Any],
        origins: dict[KeyPath, tuple[Source, KeyPath]],
    ) -> None:
        spot = self.swap.spots[record]
        fitted, spare = self.swap.fitted[record], self.swap.spare.get(record, {})
        made: dict[str, Any] = {}
        for fact in record_facts(record):
            role = self.roles.role(record, fact)
            value, own = self._value(record, fact, role, state, fitted, spare)
            if value is MISSING:
                continue
            if isinstance(value, dict) and not _whole(value):
                value = {}
            if put(made, fact, value) and own:
                self._trace(record, fact, spot, origins)
        *above, last = spot
        holder = _made(plain, tuple(above))
        holder[last] = made

    def _value(
        self, record: str, fact: str, role: Role, state: State, fitted: Any, spare: Any
    ) -> tuple[Any, bool]:
        """The plain value of a fact of the part in place, and whether it is the spare's own."""
        was, own = fetch(fitted, fact), fetch(spare, fact)
        if self.swap.part.set_up_for and role.name in ("match", "place"):
            own = MISSING  # it goes back to the state of delivery, and nobody states that
        if role.name == "record" and own == "none":
            return own, True  # it says that it needs no such record
        if role.name == "record" and was == "none" and state == "as it comes":
            return MISSING, False  # the fitted part needed no such record; the spare may
        if role.name in ("stays", "record"):
            return was, False
        if role.name == "teach":
            return MISSING, False
        if state == "as planned":
            if self.can_write(record, fact, role):
                return was, False  # what is not stated is taken over as it was
            if fact == "serial" and own is MISSING:
                return TO_BE_READ, False
        return own, True

    def _state_anew(
        self, axis: dict[str, Any], origins: dict[KeyPath, tuple[Source, KeyPath]]
    ) -> None:
        """State what the file of the spare says of the axis with it in place."""
        part = self.swap.part
        for name, path in STATED_ANEW.get(part.kind, {}).items():
            if path in part.stated_anew:
                put(axis, ".".join(map(str, path)), copy.deepcopy(part.stated_anew[path]))
                origins["axes", self.swap.axis, *path] = part.tree.located((name,))[0]

    def _trace(
        self,
        record: str,
        fact: str,
        spot: KeyPath,
        origins: dict[KeyPath, tuple[Source, KeyPath]],
    ) -> None:
        part = self.swap.part
        # The encoder built into a motor can take the place of the second encoder.
        at = part.at.get(record) or part.at.get("encoder", ())
        found = part.tree.located((*at, *fact.split(".")))
        if found:
            origins[(*spot, *fact.split("."))] = found[0]

    def _renew(self, axis: dict[str, Any]) -> None:
        """Note the parts that are fitted now, as is done after teaching."""
        for fact, becomes in self.roles.records.items():
            old = fetch(axis, fact)
            group = fact.rpartition(".")[0]
            if becomes == "now":
                # Taught for the first time, if it never was. What is not known stays so.
                if old == "none":
                    put(axis, fact, {})
                continue
            if not isinstance(fetch(axis, group), dict):
                continue
            if old is MISSING and fact.startswith(("encoder.", "drive.")):
                continue
            if becomes == "encoder_on_motor.serial":
                becomes = f"{_encoder_on_motor(axis)}.serial"
            value = self.on.isoformat() if becomes == "today" else fetch(axis, becomes)
            if value is MISSING and becomes.endswith(".serial"):
                drop(axis, fact)
            elif value is not MISSING:
                put(axis, fact, copy.deepcopy(value))
        if self.swap.part.kind == "battery":
            put(axis, "encoder.turn_counter.battery.fitted_on", self.on.isoformat())

    def _renew_coupled(self, axes: dict[str, Any], axis: dict[str, Any]) -> None:
        """Note the day for the axis that shares its motors, which is taught with this one."""
        partner, day = fetch(axis, "differential.partner"), "controller.homing.taught.on"
        other = axes.get(partner) if isinstance(partner, str) else None
        if other is None or MISSING in (fetch(other, day), fetch(axis, day)):
            return
        if fetch(other, day) != "none":
            axes[partner] = copy.deepcopy(other)
            put(axes[partner], day, fetch(axis, day))


def _encoder_on_motor(axis: dict[str, Any]) -> str:
    """The encoder with which the motor is commutated: of two encoders the one on the motor."""
    places = (fetch(axis, "encoder.mounted_on"), fetch(axis, "second_encoder.mounted_on"))
    return "second_encoder" if places == ("load", "motor") else "encoder"


def _scan_again(plain: dict[str, Any], fitted: Any, spare: dict[str, Any]) -> None:
    """Have the scan of the network find the spare where it found the fitted drive."""
    nodes = fetch(plain, "network.nodes")
    partial = isinstance(nodes, dict)
    found = nodes.get("partial") if partial else nodes
    if not isinstance(found, list):
        return
    listed = []
    for node in found:
        if isinstance(node, dict) and _station(node, "address") == _station(fitted, "node"):
            kept = {name: node[name] for name in ("network", "address", "drive") if name in node}
            own = {"address": "node", "serial": "serial", "firmware": "firmware"}
            node = kept | {name: spare[fact] for name, fact in own.items() if fact in spare}
        listed.append(node)
    plain["network"] = {**plain["network"], "nodes": {"partial": listed} if partial else listed}


def _station(plain: dict[str, Any], address: str) -> tuple[Any, Any]:
    """The network, which is the first where none is stated, and the address on it."""
    return plain.get("network", 1), plain.get(address, MISSING)


def _whole(value: dict[str, Any]) -> bool:
    """Whether a mapping is one value (claims, or a list that may be incomplete)."""
    return "claims" in value or "partial" in value


def _made(plain: Any, path: KeyPath) -> Any:
    """The collection at a path, made where it is missing."""
    for part in path:
        if isinstance(plain, list):
            assert isinstance(part, int)
            plain = plain[part]
            continue
        inner = plain.get(part)
        if not isinstance(inner, dict | list):
            inner = plain[part] = {}
        plain = inner
    return plain


def path_of(spot: KeyPath, fact: str) -> str:
    """The absolute path of a fact as findings name it."""
    text = path_text(part for part in spot if part != "partial")
    return f"{text}.{fact}"
