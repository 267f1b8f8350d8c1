"""Machine files of any size for measurements: random sound axes, which all differ.

They are the machines of the fault bench: every rule holds or does not apply. No two axes share
their numbers, so a memory of values already read brings no advantage.
"""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from random import Random
from typing import Any

import yaml
from axisproof.catalogue.catalogue import Catalogue
from axisproof.language.reach import reach
from axisproof.language.syntax import Expr
from axisproof.machine.homing_order import add_homing_order
from axisproof.machine.machine import Machine
from axisproof.machine.reader import read_machine
from axisproof.machine.records import NOTES, Facts, notes_of, set_check_date
from axisproof.source.merge import load_tree

from tests.bench.faults.measure import without_facts
from tests.bench.faults.plain_axis import Plain
from tests.bench.faults.sound_machine import machine

DAY = "2026-06-01"
"""The day as of which machines are checked."""

LARGEST = 10_000
"""Axes of the largest machine: the schema lets a network have so many nodes."""


def clean(axes: int, seed: int = 1) -> Plain:
    """A sound machine of ``axes`` axes, or one more if the last has a gantry partner."""
    made: Plain = _plain_numbers(machine(seed, axes, varied=False))
    return made


def thinned(whole: Plain, share: float = 0.2) -> Plain:
    """The machine without this share of its facts, chosen at random."""
    return without_facts(whole, share, Random("speed"))


def faulty(whole: Plain) -> Plain:
    """The machine with one fault on every axis: a following error is found far too late."""
    axes = {
        name: {**axis, "drive": {**axis["drive"], "following_error_timeout": "9999 s"}}
        for name, axis in whole["axes"].items()
    }
    return {**whole, "axes": axes}


def small(number: int) -> Plain:
    """A sound machine of one to eight axes, a different one for each number."""
    made: Plain = _plain_numbers(machine(1_000_000 + number, varied=False))
    return made


def _plain_numbers(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _plain_numbers(each) for key, each in value.items()}
    if isinstance(value, list):
        return [_plain_numbers(each) for each in value]
    return float(value) if isinstance(value, Decimal) else value


def write_yaml(plain: Plain, path: Path) -> Path:
    """Write a machine in the style of the fixtures: records of a few scalars on one line."""
    text = yaml.dump(
        plain,
        Dumper=yaml.CSafeDumper,
        allow_unicode=True,
        sort_keys=False,
        default_flow_style=None,
        width=100,
    )
    path.write_text(text, "utf-8")
    return path


def write_json(plain: Plain, path: Path) -> Path:
    """Write a machine as JSON, a line for each value."""
    path.write_text(json.dumps(plain, ensure_ascii=False, indent=1), "utf-8")
    return path


def count_facts(plain: Any) -> int:
    """Number of facts of a machine: numbers, words and flags, also those in lists."""
    if isinstance(plain, dict):
        return sum(map(count_facts, plain.values()))
    return sum(map(count_facts, plain)) if isinstance(plain, list) else 1


def across_axes(catalogue: Catalogue) -> set[str]:
    """The rules about several axes: pairs, uniqueness, lists of the machine."""
    return {
        rule.name
        for rule in catalogue.trees.rules
        if rule.subject in ("axis", "machine")
        and (
            rule.range is not None
            or any(_over_machine(each, catalogue) for each in (rule.when, rule.require))
        )
    }


def _over_machine(expr: Expr | None, catalogue: Catalogue) -> bool:
    """Whether a rule or one of its definitions loops over a list of the machine."""
    return expr is not None and any(
        owner == "machine" and "[]" in path for owner, path in reach(expr, catalogue.definitions)
    )


def repeated(path: Path, copies: int) -> Machine:
    """A machine in memory with several copies of the axes of a file, each with its own names.

    It can be larger than the limits of files and networks. Serial numbers and addresses of copies
    differ, and each copy names its own axes.
    """
    read = read_machine(load_tree(path))
    facts = {**read.facts, NOTES: notes_of(read.facts).beside("", None), "axes": []}
    set_check_date(facts, date.fromisoformat(DAY))
    lists = {name: facts[name] for name in ("network.nodes", "collision_pairs")}
    facts |= {name: [] for name in lists}
    for copy in range(copies):
        suffix, shift = f"_{copy}", copy * 1_000_000
        for axis in read.axes:
            notes = notes_of(axis).beside(notes_of(axis).path + suffix, facts)
            facts["axes"].append({**_renamed(axis, suffix, shift), NOTES: notes})
        for name, items in lists.items():
            for item in items:
                notes = notes_of(item).beside(f"{name}[{len(facts[name])}]", None)
                facts[name].append({**_renamed(item, suffix, shift), NOTES: notes})
    add_homing_order(facts["axes"])
    return replace(read, facts=facts)


NAMES = ("first", "second", "name", "gantry.partner")
"""Where an axis is named, beside its serial numbers."""


def _renamed(record: Facts, suffix: str, shift: int) -> Facts:
    renamed: Facts = {}
    for key, value in record.items():
        if key.endswith(("serial", "serial_at_calibration")) or key in NAMES:
            renamed[key] = value + suffix
        elif key in ("drive.node", "address"):
            renamed[key] = value + shift
        elif key == "controller.homing.after":
            renamed[key] = [name + suffix for name in value]
        else:
            renamed[key] = value
    return renamed
