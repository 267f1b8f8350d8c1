"""Draws swaps, asks the tool, and compares what it says with what the simulation shows."""

from __future__ import annotations

import copy
import datetime
import json
import subprocess
import tempfile
from dataclasses import dataclass, field
from functools import cache
from itertools import count
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, Any

from axisproof.base.errors import InputError
from axisproof.swap.api import spare as judge_spare

from . import swap_drives, swap_encoders, swap_motors, swap_places
from .plain_axis import Plain, PlainAxis
from .swap_axis import DrawnSwap, put_in_place, spare_like_fitted, swap_axis
from .swap_list import KINDS, SwapKind
from .swap_motion import troubles
from .swap_truth import FITS, NOTHING, WITHOUT_SPARE, SwapTruth, rank, truth, with_writes

if TYPE_CHECKING:
    from axisproof.swap.result import SpareReport

LISTS = (swap_motors, swap_encoders, swap_drives, swap_places)
"""The files that fill the list of kinds."""

DAY = datetime.date(2026, 6, 1)

TRIES, TRIES_OF_PAIR = 4000, 150
"""Machines drawn before a kind, or a pair of kinds, counts as one that has no place."""


@dataclass(frozen=True)
class SwapOutcome:
    """One swap: what is true, and what the tool says that is not."""

    kind: str
    group: str
    seed: int
    true: str
    said: str
    wrong_fit: str = ""
    untaught: tuple[str, ...] = ()
    strict: str = ""
    in_vain: tuple[str, ...] = ()
    vague: str = ""
    why: tuple[str, ...] = ()


@cache
def _axis(seed: int) -> PlainAxis | None:
    """An axis that does its work with the parts that are fitted; of another, no spare is judged.

    A slope that friction holds is laid under a few axes after their motor was sized.
    """
    axis = swap_axis(seed)
    return None if axis is None or troubles(axis, axis) else axis


def last_commit_to_rules() -> str:
    """Hash of the last commit that changed a rule; the dice are thrown after the rules."""
    root = Path(__file__).resolve().parents[3]
    asked = ["git", "log", "-1", "--format=%H", "--", "rules"]
    return subprocess.run(
        asked, cwd=root, capture_output=True, text=True, check=True
    ).stdout.strip()


def draw(kind: SwapKind, dice: str, number: int) -> tuple[DrawnSwap, int] | None:
    """The swap ``number`` of a kind; None if no machine has a place for it."""
    rng = Random(f"{dice} {kind.name} {number}")
    for _ in range(TRIES_OF_PAIR if kind.pair else TRIES):
        seed = rng.randrange(POOL)
        axis = _axis(seed)
        if axis is None or not kind.where(axis):
            continue
        made = DrawnSwap(Random(f"{dice} {seed}"), axis.changed(), kind.part, {})
        if kind.part not in WITHOUT_SPARE:
            spare = spare_like_fitted(axis, kind.part, made.rng)
            if spare is None:
                continue
            made.spare = spare
        if kind.alter(made):
            return made, seed
    return None


POOL = 3000
"""Axes that swaps are drawn from."""


def pairs(dice: str, wanted: int) -> list[SwapKind]:
    """Two deviations at once on the same part, drawn at random."""
    rng = Random(f"{dice} pairs")
    single = [k for k in KINDS if k.part in ("motor", "encoder", "drive") and _deviates(k)]
    made: dict[str, SwapKind] = {}
    for _ in count():
        if len(made) == wanted:
            break
        first = rng.choice(single)
        second = rng.choice([k for k in single if k.part == first.part and k is not first])
        name = f"{first.part}: {first.name.split(': ')[1]} + {second.name.split(': ')[1]}"
        made[name] = SwapKind(
            name,
            first.part,
            lambda swap, a=first, b=second: a.alter(swap) and b.alter(swap),  # type: ignore[misc]
            lambda axis, a=first, b=second: a.where(axis) and b.where(axis),  # type: ignore[misc]
            pair=True,
        )
    return list(made.values())


def _deviates(kind: SwapKind) -> bool:
    return "not stated" not in kind.name and kind.alter is not swap_motors.like_fitted


def stated(swap: DrawnSwap) -> tuple[Plain, Plain]:
    """Machine and spare as the files have them, without what is hidden."""
    machine, spare = copy.deepcopy(swap.axis.machine), copy.deepcopy(swap.spare)
    for each in swap.hidden:
        for path in (each.path, *each.joined):
            at: Any = spare if each.of_spare else machine["axes"][swap.axis.name]
            *above, last = path.split(".")
            for key in above:
                at = at[key]
            at.pop(last, None)
    return machine, spare


def ask(swap: DrawnSwap) -> SpareReport:
    """What the tool says, by its files."""
    machine, spare = stated(swap)
    with tempfile.TemporaryDirectory() as folder:
        here = Path(folder)
        (here / "machine.json").write_text(json.dumps(machine), "utf-8")
        file = None
        if swap.part not in WITHOUT_SPARE:
            file = here / "spare.json"
            head: Plain = {"format": 1, "part": swap.part}
            if swap.used_elsewhere:
                head["motion"] = swap.used_elsewhere
            file.write_text(json.dumps(head | spare), "utf-8")
        part: Any = swap.part
        return judge_spare(here / "machine.json", swap.axis.name, part, file, on=DAY)


def compare(kind: SwapKind, swap: DrawnSwap, seed: int) -> SwapOutcome:
    """Judge what the tool says by the simulation."""
    true = truth(swap, seed)
    try:
        report = ask(swap)
    except InputError as refused:
        strict = "" if true.verdict == "does not fit" else f"refused: {refused.what}"
        return SwapOutcome(kind.name, kind.part, seed, true.verdict, "refused", strict=strict)
    lessons = {each.what for each in report.lessons}
    # What does not fit stays out, so nothing has to be taught to it.
    due = frozenset() if true.verdict == "does not fit" else true.teach
    spare = lessons if true.verdict == "does not fit" else true.teach
    wrong, strict, vague = _verdict(swap, true, report)
    return SwapOutcome(
        kind.name,
        kind.part,
        seed,
        true.verdict,
        report.verdict,
        wrong,
        tuple(sorted(due - lessons)),
        strict,
        tuple(sorted(lessons - spare)),
        vague,
        true.why,
    )


def _verdict(swap: DrawnSwap, true: SwapTruth, report: SpareReport) -> tuple[str, str, str]:
    """Why it is a wrong "fits", too strict, or vaguer than the facts; each empty if it is not."""
    said = report.verdict
    if NOTHING in (said, true.verdict):
        return ("" if said == true.verdict else "compared with nothing"), "", ""
    if said in FITS:
        if true.verdict not in FITS:
            return f"it {true.verdict}", "", ""
        if rank(said) < rank(true.verdict):
            return f"it {true.verdict}", "", ""
        placed = put_in_place(swap.axis, swap.part, swap.spare)
        done = with_writes(placed, [(each.fact, each.new) for each in report.writes])
        left = troubles(done, swap.axis)
        if left and not true.open:
            return f"with all that is written: {left[0]}", "", ""
    if said == "cannot be said yet" and not true.open:
        return ("", "the facts decide it", "") if true.verdict in FITS else ("", "", "left open")
    if said == "does not fit" and true.verdict == "cannot be said yet":
        return "", "facts are missing that could acquit it", ""
    if rank(said) > rank(true.verdict):
        return "", f"it {true.verdict}", ""
    return "", "", ""


@dataclass
class SwapCounts:
    """The results of a run."""

    outcomes: list[SwapOutcome] = field(default_factory=list)
    nowhere: list[str] = field(default_factory=list)

    @property
    def kinds(self) -> int:
        return len({each.kind for each in self.outcomes})


@dataclass(frozen=True)
class SwapJob:
    dice: str
    kind: int
    pairs: int
    per_kind: int


@cache
def swap_kinds(dice: str, wanted: int) -> tuple[SwapKind, ...]:
    """The kinds of the list, and pairs of them."""
    return (*KINDS, *pairs(dice, wanted))


def run_job(job: SwapJob) -> SwapCounts:
    """The swaps of one kind."""
    kind = swap_kinds(job.dice, job.pairs)[job.kind]
    result = SwapCounts()
    for number in range(job.per_kind):
        drawn = draw(kind, job.dice, number)
        if drawn is None:
            result.nowhere += [] if kind.pair else [kind.name]
            break
        result.outcomes.append(compare(kind, *drawn))
    return result
