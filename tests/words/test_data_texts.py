"""Texts that stand in data files: plans of swaps, what leaves with a part, descriptions of data."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
import yaml

from .measuring import DESCRIBES, ROOT, TELLS, Offence, misplaced_cautions, offences

SCHEMAS = sorted(path.name for path in (ROOT / "schemas").glob("*.schema.json"))
_HOLE = re.compile(r"\{[^{}]*\}")


def folded(text: str) -> str:
    """A text in one line, with a value in each hole."""
    return _HOLE.sub("7 mm", " ".join(text.split()))


def told(offenders: list[Offence]) -> str:
    """The offenders, each with its text."""
    return "\n".join(f"{each.where}: {each.what}\n    {each.text}" for each in offenders)


def texts_of(step: dict[str, Any], part: str) -> Iterator[str]:
    """The texts of a part of a step, whatever they depend on."""
    stated = step.get(part) or []
    for each in stated if isinstance(stated, list) else [stated]:
        yield folded(each["text"] if isinstance(each, dict) else each)


def test_the_steps_of_a_plan_are_written_for_people() -> None:
    plan = yaml.safe_load((ROOT / "rules/swap_plan.yaml").read_text("utf-8"))
    wrong: list[Offence] = []
    for step in plan["steps"]:
        for part in ("caution", "do", "why", "expect"):
            where = f"swap_plan.yaml {step['step']} {part}"
            for text in texts_of(step, part):
                wrong += offences(where, text, TELLS if part in ("caution", "do") else DESCRIBES)
                if part == "do":
                    wrong += misplaced_cautions(where, text)
    for phase in plan["phases"]:
        for each in phase["supplies"]:
            wrong += offences(f"swap_plan.yaml {phase['phase']}", folded(each["text"]), TELLS)
    assert not wrong, f"\n{told(wrong)}"


def values_under(names: frozenset[str], entry: Any, where: str) -> Iterator[tuple[str, str]]:
    """The texts under keys of these names, with the way to them."""
    if isinstance(entry, dict):
        for key, value in entry.items():
            if key in names and isinstance(value, str):
                yield f"{where}/{key}", folded(value)
            yield from values_under(names, value, f"{where}/{key}")
    elif isinstance(entry, list):
        for number, value in enumerate(entry):
            yield from values_under(names, value, f"{where}/{number}")


def test_what_leaves_with_a_part_is_told_for_people() -> None:
    swap = yaml.safe_load((ROOT / "rules/swap.yaml").read_text("utf-8"))
    found = [*values_under(frozenset({"why", "words", "unread", "name"}), swap, "swap.yaml")]
    found += [(f"swap.yaml/teach/{name}", text) for name, text in swap["teach"].items()]
    assert len(found) > 50
    wrong = [each for where, text in found for each in offences(where, text, DESCRIBES)]
    assert not wrong, f"\n{told(wrong)}"


@pytest.mark.parametrize("name", SCHEMAS)
def test_descriptions_in_schemas_are_written_for_people(name: str) -> None:
    schema = json.loads((ROOT / "schemas" / name).read_text("utf-8"))
    found = dict.fromkeys(values_under(frozenset({"description"}), schema, name))
    wrong = [each for where, text in found for each in offences(where, text, DESCRIBES)]
    assert found
    assert not wrong, f"\n{told(wrong)}"
