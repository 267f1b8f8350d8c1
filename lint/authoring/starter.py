"""From the schema to a commented starter machine file; known facts are filled in.

The published schema decides which facts there are. The file asks for those that rollover, gearing,
homing and interlock are judged by, or for all. The kind of an axis fills in what follows from it
and leaves out what such an axis cannot have. A rotary axis has its own examples.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

from ..base.errors import UsageError
from ..machine.names import AXIS_NAME, MACHINE_NAME
from ..machine.schema import (
    HEADER,
    Field,
    Leaf,
    ListType,
    MapType,
    RecordType,
    axis_type,
    machine_type,
)
from ..machine.value_reader import as_written, expectation
from ..numbers.units import parse_quantity
from ..numbers.written import in_quotes
from ..source.merge import Tree
from ..source.places import KeyPath
from .axis_kinds import ASKED_FIRST, KINDS, AxisKind
from .starter_examples import ROTARY
from .yaml_writing import origin, scalar, yaml_lines

_EXAMPLE: Final = re.compile(r'such as "([^"]+)"')
UNFILLED: Final = "…"
"""Stands where only the machine tells the value; a file that still states it is refused."""

_INTRODUCTION: Final = """\
# yaml-language-server: $schema=machine.schema.json
# That line lets an editor check and complete this file, once the schema is beside it:
#   axisproof schema machine > machine.schema.json
#
# A machine file for axisproof. Lines that begin with # are not read: take the # away from a fact
# that you know and put your own value in place of the example.
#
#   - A quantity carries its unit (500 mm/s); fractions are exact (20/3 mm).
#   - A fact that is left out is not known, and a check that needs it is undecided.
#   - `none` is a fact too: the thing is known not to be there.
#   - A list is complete unless it is written as {partial: [...]}.
#   - `…` stands where only your machine tells the value. It is no value, and `check` refuses it.
#
# Until facts are filled in, `axisproof check` ends with status 1: nothing can be decided.
# `axisproof check` on this file says which facts would decide most.
"""
_ONLY_FIRST: Final = """\
#
# This file asks for what rollover, gearing, homing and interlock are judged by. Many checks need
# more: `axisproof check` names the facts, and `axisproof init --long` writes a file with all.
"""


def starter_yaml(
    machine: str, axes: Mapping[str, str], known: Tree | None = None, *, long: bool = False
) -> str:
    """A starter file for a machine with ``axes``; facts of ``known`` are filled in.

    ``axes`` are kinds (see KINDS) by name; ``long`` asks for every fact. Axes of ``known`` come
    first. Raises UsageError for names that a machine file does not allow, for kinds that are none
    and for a file without an axis.
    """
    plain: dict[str, Any] = {}
    if known is not None:
        assert isinstance(known.plain, dict)
        plain = known.plain
    if not MACHINE_NAME.fullmatch(machine):
        raise UsageError(
            f"{in_quotes(machine) or 'nothing'} is no name for a machine",
            expected="up to 100 letters, digits, spaces, and . _ -",
        )
    found: dict[str, dict[str, Any]] = dict(plain.get("axes", {}))
    for name, kind in axes.items():
        if kind not in KINDS:
            raise UsageError(
                f"{in_quotes(kind) or 'nothing'} is no kind of axis",
                expected=f"one of {', '.join(KINDS)}",
            )
        if not AXIS_NAME.fullmatch(name):
            raise UsageError(
                f"{in_quotes(name) or 'nothing'} is no name for an axis",
                expected="up to 64 letters, digits, - and _ that begin with a letter",
            )
        found[name] = _with_settled(KINDS[kind], found.get(name, {}))
    if not found:
        raise UsageError("the machine has no axis", expected="at least one, such as lift:linear")
    writer = _StarterWriter(known, long)
    lines = [*_INTRODUCTION.splitlines(), *([] if long else _ONLY_FIRST.splitlines())]
    lines += ["", "format: 1", f"machine: {scalar(machine)}"]
    fields = {n: f for n, f in machine_type().fields.items() if n not in HEADER and n != "axes"}
    writer.record(RecordType(fields), plain, (), "", lines)
    lines += ["", "axes:"]
    for name, axis in found.items():
        lines += [f"  {scalar(name)}:"]
        writer.kind = KINDS[axes.get(name) or axis.get("motion", "linear")]
        writer.record(axis_type(), axis, ("axes", name), "    ", lines)
        lines.append("")
    return "\n".join(lines).rstrip("\n") + "\n"


def _with_settled(kind: AxisKind, axis: Mapping[str, Any]) -> dict[str, Any]:
    """The facts of an axis, and those that follow from its kind where it does not state them."""
    found: dict[str, Any] = {"motion": kind.motion, **axis}
    for path, value in kind.settled.items():
        *records, name = path.split(".")
        record = found
        for each in records:
            inner = record.get(each, {})
            if not _is_record(inner):
                break
            record[each] = record = dict(inner)
        else:
            record.setdefault(name, value)
    return found


class _StarterWriter:
    def __init__(self, known: Tree | None, long: bool) -> None:
        self.known = known
        self.long = long
        self.kind: AxisKind | None = None
        """The kind of the axis that is written; None for facts of the machine."""

    @property
    def motion(self) -> str:
        return "linear" if self.kind is None else self.kind.motion

    def wants(self, fact: str) -> bool:
        """Whether the file asks for a fact, or for one within this record."""
        kind = self.kind
        if kind is None:
            return self.long
        if any(f"{fact}.".startswith(f"{each}.") for each in kind.without):
            return False
        asked = (*ASKED_FIRST, *kind.asked)
        return self.long or any(f"{each}.".startswith(f"{fact}.") for each in asked)

    def comment(self, path: KeyPath) -> str:
        return "" if self.known is None else origin(self.known, path)

    def record(
        self,
        kind: RecordType,
        plain: Mapping[str, Any],
        path: KeyPath,
        indent: str,
        lines: list[str],
    ) -> None:
        """The fields of a stated record: known ones as values, the others as comments."""
        for name, field in kind.fields.items():
            if field.implied or isinstance(field.type, MapType):
                if name in plain and not field.implied:
                    self.known_value(name, plain[name], path, indent, lines)
                continue
            if name not in plain:
                self.unknown((*path, name), field, indent, lines)
            elif isinstance(field.type, RecordType) and _is_record(plain[name]):
                lines.append(f"{indent}{name}:")
                self.record(field.type, plain[name], (*path, name), f"{indent}  ", lines)
            else:
                self.known_value(name, plain[name], path, indent, lines)

    def known_value(
        self, name: str, value: Any, path: KeyPath, indent: str, lines: list[str]
    ) -> None:
        written = yaml_lines({name: value}, lambda inner: self.comment((*path, *inner)))
        lines.extend(f"{indent}{line}" for line in written)

    def unknown(self, path: KeyPath, field: Field, indent: str, lines: list[str]) -> None:
        """An unknown field: its example and its description, as comments."""
        inner: list[str] = []
        fact = ".".join(map(str, path[2:] if path[0] == "axes" else path))
        self.example(fact, field, "", inner)
        lines.extend(f"{indent}# {line}" for line in inner)

    def example(self, fact: str, field: Field, indent: str, lines: list[str]) -> None:
        """An example of the fact at this dotted path; none if only linear axes have the fact."""
        if not self.wants(fact):
            return
        kind = field.type
        name = fact.rpartition(".")[2]
        words = field.description.rstrip(".")
        if field.nullable and "none" not in words:
            words += " (or none)"
        if not self.long and fact in ASKED_FIRST and field.nullable:
            lines.append(f"{indent}{name}: none # {words}")
        elif isinstance(kind, RecordType) and (pair := self.pair(fact, kind)):
            lines.append(f"{indent}{name}: {{{pair}}} # {words}")
        elif isinstance(kind, RecordType):
            lines.append(f"{indent}{name}: # {words}")
            for each, inner in kind.fields.items():
                self.example(f"{fact}.{each}", inner, f"{indent}  ", lines)
        elif (
            isinstance(kind, ListType)
            and isinstance(kind.item, RecordType)
            and (pair := self.pair(fact, kind.item))
        ):
            lines.append(f"{indent}{name}: [{{{pair}}}] # {words}")
        elif isinstance(kind, ListType) and isinstance(kind.item, RecordType):
            lines.append(f"{indent}{name}: # {words}")
            start = f"{indent}  - "
            for each, inner in kind.item.fields.items():
                before = len(lines)
                self.example(f"{fact}.{each}", inner, f"{indent}    ", lines)
                if len(lines) > before:
                    lines[before] = start + lines[before][len(start) :]
                    start = f"{indent}    "
        elif isinstance(kind, ListType):
            assert isinstance(kind.item, Leaf)
            shown = self.value(fact, kind.item, ())
            lines.append(f"{indent}{name}: [{shown}] # {words}{_choice(kind.item)}")
        else:
            assert isinstance(kind, Leaf)
            shown = self.value(fact, kind, field.examples)
            lines.append(f"{indent}{name}: {shown} # {words}{_choice(kind)}")

    def pair(self, fact: str, kind: RecordType) -> str:
        """One or two values of a record that the file asks for, if it asks for no more of it."""
        wanted = {
            name: field for name, field in kind.fields.items() if self.wants(f"{fact}.{name}")
        }
        if self.long or len(wanted) > 2:
            return ""
        found = []
        for name, field in wanted.items():
            if not isinstance(field.type, Leaf):
                return ""
            found.append(f"{name}: {self.value(f'{fact}.{name}', field.type, field.examples)}")
        return ", ".join(found)

    def fits(self, text: str) -> bool:
        """Whether a quantity is a length on a linear axis, or an angle on a rotary one."""
        linear = any(base == "length" for base, _ in parse_quantity(text).dimension)
        return bool(linear == (self.motion != "rotary"))

    def value(self, fact: str, leaf: Leaf, examples: tuple[object, ...]) -> str:
        """An example of a value, in units that fit the axis's motion."""
        if fact == "encoder.kind":
            return "absolute_multiturn"
        if self.motion == "rotary" and fact in ROTARY:
            return scalar(ROTARY[fact])
        if leaf.in_user_units:
            for each in examples:
                if isinstance(each, str) and self.fits(each):
                    return scalar(each)
            found = _EXAMPLE.search(expectation(leaf))
            assert found
            return scalar(found[1])
        if leaf.definition == "serial":
            return UNFILLED
        if examples:
            first = examples[0]
            return scalar(first) if isinstance(first, str) else as_written(first)
        if leaf.kind == "quantity" and leaf.quantity == "ratio":
            return "0.85"
        if leaf.kind in ("quantity", "date"):
            found = _EXAMPLE.search(expectation(leaf))
            return scalar(found[1]) if found else "1"
        if leaf.kind in ("name", "method"):
            return leaf.names[0]
        if leaf.kind == "flag":
            return "true"
        if leaf.kind == "whole":
            return str(max(leaf.minimum or 0, 1))
        return UNFILLED


def _is_record(value: Any) -> bool:
    return isinstance(value, dict) and "claims" not in value


def _choice(leaf: Leaf) -> str:
    return f": {', '.join(leaf.names)}" if leaf.kind == "name" and len(leaf.names) > 1 else ""
