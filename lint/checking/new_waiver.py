"""A waiver of a finding, written into a waiver file for somebody to complete.

Reason, role and day are left empty. A file with an empty one cannot be used, so the finding counts
until a person has filled them in.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from ..base.errors import InputError
from ..findings.builtin import WAIVER_LAPSED, WAIVER_UNUSED
from ..findings.finding import Finding
from ..machine.machine import Machine
from ..source.files import Source
from ..source.parsing import locate, parse
from .waivers import UNSTATED, stated_value

TO_FILL_IN: Final = ("reason", "approved_by", "expires")
"""The keys of a waiver that only a person can write."""

_DASH: Final = re.compile(r"( *)- +\Z")


@dataclass(frozen=True, slots=True)
class Insertion:
    """A text to be put into a file at an offset."""

    offset: int
    text: str


def waiver_entry(finding: Finding, machine: Machine) -> dict[str, Any] | None:
    """The waiver of a finding for the values as they are; None if it takes none."""
    if finding.waived is not None or finding.rule in (WAIVER_LAPSED.name, WAIVER_UNUSED.name):
        return None
    own = f"axes.{finding.subject}."
    values: dict[str, Any] = {}
    for path in finding.facts:
        if path.startswith("axes.") and path.count(".") < 2:
            continue  # the axis itself
        value = stated_value(machine, path)
        fact = path.removeprefix(own) if finding.subject else path
        values[fact] = UNSTATED if value is None else value
    if not values:
        return None
    entry: dict[str, Any] = {"rule": finding.rule, "machine": machine.name}
    entry |= {"axis": finding.subject} if finding.subject else {}
    entry |= {"stage": finding.stage} if finding.stage else {}
    return {**entry, **dict.fromkeys(TO_FILL_IN, ""), "values": values}


def insertion(source: Source, entry: Mapping[str, Any]) -> Insertion | None:
    """Where and how a waiver file takes an entry behind its others; None if that is not sure."""
    node = locate(source).node(("entries",))
    if node is None or node.quoting != "collection":
        return None
    items = [each for _, each in node.parts()]
    if source.text[node.start : node.start + 1] == "[":
        written = json.dumps(entry, ensure_ascii=False, indent=1)
        at = items[-1].end if items else node.start + 1
        found: Insertion | None = Insertion(at, f",\n{written}" if items else f"\n{written}\n")
    else:
        found = _in_block(source, items[-1].start, items[-1].end, entry)
    return found if found is not None and _fits(source, found, entry) else None


def _in_block(source: Source, start: int, end: int, entry: Mapping[str, Any]) -> Insertion | None:
    line = source.text.rfind("\n", 0, start) + 1
    dash = _DASH.match(source.text[line:start])
    if dash is None:
        return None
    indent = dash[1]
    lines = []
    for key, value in entry.items():
        if isinstance(value, dict) and value:
            lines.append(f"{key}:")
            lines += [f"  {_json(name)}: {_json(each)}" for name, each in value.items()]
        else:
            lines.append(f"{key}: {_json(value)}")
    text = f"{indent}- " + f"\n{indent}  ".join(lines) + "\n"
    line_end = source.text.find("\n", end)
    if line_end < 0:
        return Insertion(len(source.text), "\n" + text)
    return Insertion(line_end + 1, text)


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)


def _fits(source: Source, found: Insertion, entry: Mapping[str, Any]) -> bool:
    """Whether the file then holds all it held, and the entry behind it."""
    text = source.text[: found.offset] + found.text + source.text[found.offset :]
    try:
        before: Any = parse(source)
        after: Any = parse(Source(source.path, source.name, text, source.form, source.bom))
    except InputError:
        return False
    return bool(after == {**before, "entries": [*before["entries"], entry]})
