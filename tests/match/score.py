"""How many rows of the twelve lists `axisproof match` proposes right, and what is wrong and active.

    python -m tests.match.score [NUMBER...]

A row that states a fact is right if its likeliest proposal is that fact (or one that the truth says
it can also mean), with the value it states. A proposal for a row without a fact is wrong.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from axisproof import api
from axisproof.authoring.matching import Match, RowProposal
from axisproof.base.errors import AxisproofError
from axisproof.importing.unit_words import export_unit
from axisproof.importing.values import fact_at
from axisproof.numbers.rational import read_fraction
from axisproof.numbers.units import UNITS
from axisproof.source.parsing import parse
from axisproof.source.reader import read_source

LISTS: Final = Path(__file__).parent / "lists"


@dataclass(slots=True)
class Score:
    """What came of one list; ``wrong`` are rows with what they mean and what is proposed."""

    name: str
    mappable: int = 0
    right: int = 0
    active: int = 0
    missed: list[str] = field(default_factory=list)
    wrong_active: list[str] = field(default_factory=list)
    wrong_doubtful: list[str] = field(default_factory=list)
    error: str = ""


def truth_of(path: Path) -> Mapping[str, Any]:
    """A truth file as plain values."""
    plain = parse(read_source(path))
    assert isinstance(plain, dict)
    return plain


def score(path: Path) -> Score:
    """The score of the list that a truth file is about."""
    truth = truth_of(path)
    result = Score(str(truth["list"]))
    rows = [dict(row) for row in truth["truth"]]
    result.mappable = sum(row["fact"] != "none" for row in rows)
    try:
        match = api.match(LISTS / result.name)
    except AxisproofError as error:
        result.error = str(error)
        return result
    proposals = _by_row(match)
    for row in rows:
        _judge(row, proposals.pop(_key(row, match), None), result)
    for left in proposals.values():
        result.wrong_active += [f"{left.row.name}: no such row"] if left.active else []
    return result


def _key(row: Mapping[str, Any], match: Match) -> str:
    if "line" in row and match.shape.layout != "row_per_axis":
        return f"line {row['line']}"
    return str(row["name"]).strip()


def _by_row(match: Match) -> dict[str, RowProposal]:
    wide = match.shape.layout == "row_per_axis"
    return {
        each.row.name.strip() if wide else f"line {each.row.line}": each for each in match.proposals
    }


def _judge(row: Mapping[str, Any], proposal: RowProposal | None, result: Score) -> None:
    fact = row["fact"]
    if proposal is None:
        if fact != "none":
            result.missed.append(f"{row['name']}: {fact}")
        return
    told = f"{row['name']}: {proposal.fact}, and it means {fact}"
    also = str(row.get("also", "")).split(", ")
    if fact != "none" and proposal.fact in (fact, *also):
        result.right += 1
        result.active += proposal.active
        if proposal.active:
            result.wrong_active += [f"{told}: {why}" for why in _otherwise(row, proposal)]
    elif proposal.active:
        result.wrong_active.append(told)
    else:
        result.wrong_doubtful.append(f"{told} ({proposal.why})")


def _otherwise(row: Mapping[str, Any], proposal: RowProposal) -> Iterator[str]:
    """How the entry of an active proposal reads the value otherwise than the truth."""
    entry = proposal.evidence[0].entry
    unit = proposal.row.unit if entry.get("unit") == "as_written" else entry.get("unit", "")
    due = str(row.get("unit", ""))
    kind = fact_at(proposal.fact).type.quantity
    known = export_unit(str(unit), kind or "ratio")
    if known is None or UNITS[due][1:] != UNITS[known][1:]:
        yield f"unit {unit}, not {due}"
    for key, usual in (("scale", "1"), ("offset", "0")):
        if read_fraction(str(row.get(key, usual))) != read_fraction(str(entry.get(key, usual))):
            yield f"{key} {entry.get(key)}, not {row.get(key)}"
    if row.get("names"):
        due_names = {str(name): str(word) for name, word in row["names"].items()}
        own = {str(name): str(word) for name, word in (entry.get("names") or {}).items()}
        if any(due_names.get(name) != word for name, word in own.items()):
            yield f"names {own}, not {due_names}"


def scores(numbers: Iterable[str] = ()) -> list[Score]:
    """The scores of the lists whose names begin with one of ``numbers``, or of all."""
    chosen = tuple(numbers)
    paths = sorted(LISTS.glob("*.truth.yaml"))
    return [score(path) for path in paths if not chosen or path.name.startswith(chosen)]


def main() -> None:
    """Print a line a list, then what is wrong; rows themselves only if lists are named."""
    total = scores(sys.argv[1:])
    for each in total:
        print(
            f"{each.name:26} {each.right:3} of {each.mappable:3} right, {each.active:3} active, "
            f"{len(each.wrong_active)} wrong and active, {len(each.wrong_doubtful)} wrong doubtful"
            + (f" ERROR {each.error}" if each.error else "")
        )
        if sys.argv[1:]:
            for title in ("missed", "wrong_doubtful", "wrong_active"):
                for row in getattr(each, title):
                    print(f"    {title}: {row}")
    right, mappable = sum(each.right for each in total), sum(each.mappable for each in total)
    active = sum(each.active for each in total)
    wrong = sum(len(each.wrong_active) for each in total)
    share = f"{right} of {mappable} right ({right / mappable:.1%})"
    print(f"{share}, {active} active, {wrong} wrong active")


if __name__ == "__main__":
    main()
