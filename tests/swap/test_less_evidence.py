"""Less evidence never acquits a spare.

Facts of the machine and of the spare are left out in random subsets. What is left is true of the
same axis, so the verdict must not get better, nothing that has to be taught may vanish, and the
plan must not talk of what is not known, nor hold two steps of which only one can be right.
"""

from __future__ import annotations

import copy
import datetime
import json
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final, cast

import pytest
import yaml
from axisproof.base.errors import InputError, UsageError
from axisproof.importing.entry import load_trees
from axisproof.swap.api import spare
from axisproof.swap.part import TOUCHED, Kind
from axisproof.swap.result import SpareReport, Verdict
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples

FIXTURES: Final = Path(__file__).parents[2] / "fixtures"
DAY: Final = datetime.date(2026, 3, 1)
EXPECTED: Final = yaml.safe_load((FIXTURES / "spares" / "expected.yaml").read_text("utf-8"))
CASES: Final = tuple(sorted(EXPECTED)) + tuple(f"{kind} of lift" for kind in TOUCHED)
RANK: Final[dict[Verdict, int]] = {
    "nothing to compare": 0,
    "does not fit": 0,
    "cannot be said yet": 0,
    "fits with warnings": 1,
    "fits after settings": 2,
    "fits as it is": 3,
}
"""How good a verdict is. What keeps a spare from fitting may become open: that acquits nothing."""
KEPT: Final = frozenset({"motion", "serial", "name"})
"""Facts without which there is no axis, and names, which are never evidence."""
CHOICES: Final = (
    {"record-position", "record-position-incremental", "record-position-unsure"},
    {"read-again", "home-again", "read-again-unsure"},
    {"shift-offset", "preset-at-gauge", "correct-where-it-lives"},
    {"home", "set-at-gauge", "home-from-gauge"},
    {"calibrate", "set-at-gauge", "calibrate-from-gauge"},
    {"wrap-unsigned", "wrap-unsigned-falling", "wrap-signed", "wrap-follows-reference",
     "wrap-modulo", "wrap-unsure"},
    {"isolate", "control-supply-stays-on"},
)  # fmt: skip
"""Steps of which at most one is right."""


@lru_cache(maxsize=1)
def hall() -> dict[str, Any]:
    plain = load_trees([FIXTURES / "sound" / "hall.yaml"])[0].plain
    return cast("dict[str, Any]", json.loads(json.dumps(plain, default=str)))


def inputs(case: str) -> tuple[dict[str, Any], str, Kind, dict[str, Any] | None]:
    """The axis alone, its name, the kind of work and the spare."""
    if " of " in case:
        kind, axis = case.split(" of ")
        return {"axes": {axis: copy.deepcopy(hall()["axes"][axis])}}, axis, cast("Kind", kind), None
    axis = EXPECTED[case]["axis"]
    part = yaml.safe_load((FIXTURES / "spares" / f"{case}.yaml").read_text("utf-8"))
    part = json.loads(json.dumps(part, default=str))
    own = {"axes": {axis: copy.deepcopy(hall()["axes"][axis])}}
    return own, axis, cast("Kind", case.partition("_")[0]), part


def judged(
    machine: dict[str, Any], axis: str, kind: Kind, part: dict[str, Any] | None
) -> SpareReport:
    with TemporaryDirectory() as folder:
        own, file = Path(folder, "machine.json"), Path(folder, "spare.json")
        own.write_text(json.dumps({"format": 1, "machine": "m", **machine}))
        if part is None:
            return spare(own, axis, kind, on=DAY, plan=True)
        file.write_text(json.dumps(part))
        return spare(own, axis, kind, file, on=DAY, plan=True)


def facts(plain: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Every fact that can be left out: leaves, lists whole, groups, and what is none."""
    for name, value in plain.items():
        here = (*path, name)
        if name in KEPT:
            continue
        if path:
            yield here
        if isinstance(value, dict) and not {"partial", "claims"} & set(value):
            yield from facts(value, here)


def leave_out(plain: dict[str, Any], path: tuple[str, ...]) -> None:
    here: Any = plain
    for name in path[:-1]:
        here = here.get(name) if isinstance(here, dict) else None
    if isinstance(here, dict):
        here.pop(path[-1], None)


@lru_cache(maxsize=64)
def whole(case: str) -> SpareReport:
    return judged(*inputs(case))


def taught(report: SpareReport) -> set[str]:
    return {lesson.what for lesson in report.lessons}


def problem(case: str, gone: list[tuple[str, tuple[str, ...]]]) -> str:
    """What got better by leaving facts out; empty if nothing did."""
    machine, axis, kind, part = inputs(case)
    for side, path in gone:
        if side == "machine":
            leave_out(machine["axes"][axis], path)
        elif part is not None:
            leave_out(part, path)
    full = whole(case)
    try:
        thin = judged(machine, axis, kind, part)
    except (InputError, UsageError):
        return ""  # the place of the part is no longer stated: refused, which acquits nothing
    if RANK[thin.verdict] > RANK[full.verdict]:
        return f"{full.verdict} became {thin.verdict}"
    if not taught(full) <= taught(thin):
        return f"no longer taught: {sorted(taught(full) - taught(thin))}"
    assert thin.plan is not None
    for step in thin.plan.steps:
        for text in (step.do, step.why, step.expect, step.caution):
            if "unknown" in text:
                return f"step {step.name} says: {text}"
    names = {step.name for step in thin.plan.steps}
    for choice in CHOICES:
        if len(names & choice) > 1:
            return f"contradicting steps: {sorted(names & choice)}"
    return ""


def places(case: str) -> list[tuple[str, tuple[str, ...]]]:
    machine, axis, _, part = inputs(case)
    found = [("machine", path) for path in facts(machine["axes"][axis], ())]
    found += [("machine", (group,)) for group in machine["axes"][axis] if group not in KEPT]
    if part is not None:
        found += [("spare", path) for path in facts({k: v for k, v in part.items()
                                                     if isinstance(v, dict)})]  # fmt: skip
    return found


@pytest.mark.parametrize("case", CASES)
@examples(0.15)
@given(st.data())
def test_less_evidence_never_acquits(case: str, data: st.DataObject) -> None:
    some = st.lists(st.sampled_from(places(case)), min_size=1, max_size=12, unique=True)
    gone = data.draw(some)
    assert problem(case, gone) == ""
