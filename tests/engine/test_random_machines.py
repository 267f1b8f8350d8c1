"""Machines damaged at random: a report or one of our own errors, never anything else."""

from __future__ import annotations

import copy
import datetime
import json
from decimal import Decimal
from pathlib import Path
from typing import Any

from axisproof.api import CheckOptions, check
from axisproof.base.errors import AxisproofError
from axisproof.report.json import render as as_json
from axisproof.report.rendering import RenderOptions
from axisproof.report.text import render as as_text
from axisproof.source.merge import load_tree
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

ROOT = Path(__file__).parents[2]
HALL: dict[str, Any] = load_tree(ROOT / "fixtures" / "sound" / "hall.yaml").plain  # type: ignore[assignment]
DAY = datetime.date(2026, 6, 1)

ODD_VALUES = [
    0,
    1,
    -1,
    2**40,
    "none",
    "0 mm",
    "-3 mm",
    "1/3 mm",
    "1e30 mm",
    "1e-30 mm",
    "17/19 deg",
    "2 rad",
    "0 deg",
    "0.333 rev",
    "5 in",
    "7 rpm",
    "1 rad/s",
    "1 mm/s",
    "3 deg/s",
    "1 mm/s^2",
    "9 rad/s^2",
    "1 N·m",
    "1 kg",
    "0.1 %",
    "10/3",
    True,
    False,
    "2031-01-01",
    [],
    {},
    {"partial": []},
    35,
    -4,
    "screw",
    "direct",
    "rotary_table",
    "modulo",
    "linear",
    "rotary",
    "tracked",
    "encoder_zero_signed",
]


NUMBERS = ["1", "7", "0.001", "1/3", "65536", "123456789012345678", "1e20", "3e-9", "20.0"]


def renumbered(value: Any, number: str) -> Any:
    """The same kind of value with another number in it."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int):
        return int(number) if number.isdigit() else value
    if isinstance(value, str) and value[:1].isdigit() and " " in value:
        return f"{number} {value.split(' ', 1)[1]}"
    return value


def plain(value: Any) -> Any:
    """A tree that json can write."""
    if isinstance(value, dict):
        return {key: plain(item) for key, item in value.items()}
    if isinstance(value, list):
        return [plain(item) for item in value]
    return float(value) if isinstance(value, Decimal) else value


def spots(value: Any, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """Every path below the top of a tree."""
    items = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    return [spot for key, item in items for spot in ((*path, key), *spots(item, (*path, key)))]


@st.composite
def damaged(draw: st.DrawFn) -> dict[str, Any]:
    machine = plain(copy.deepcopy(HALL))
    name = draw(st.sampled_from(sorted(machine["axes"])))
    machine["axes"] = {name: machine["axes"][name]}
    for _ in range(draw(st.integers(1, 6))):
        all_spots = [spot for spot in spots(machine) if spot[0] not in ("format", "machine")]
        if not all_spots:
            break
        spot = draw(st.sampled_from(all_spots))
        here = machine
        for key in spot[:-1]:
            here = here[key]  # type: ignore[index]
        how = draw(
            st.sampled_from(["remove", "remove", "number", "number", "odd", "other", "claims"])
        )
        if how == "remove":
            del here[spot[-1]]  # type: ignore[arg-type]
        elif how == "number":
            here[spot[-1]] = renumbered(here[spot[-1]], draw(st.sampled_from(NUMBERS)))  # type: ignore[index]
        elif how == "odd":
            here[spot[-1]] = draw(st.sampled_from(ODD_VALUES))  # type: ignore[index]
        else:
            other = draw(st.sampled_from(all_spots))
            value: Any = machine
            try:
                for key in other:
                    value = value[key]
            except (KeyError, IndexError, TypeError):
                continue
            value = copy.deepcopy(value)
            if how == "claims":
                old = here[spot[-1]]  # type: ignore[index]
                value = {"claims": [{"value": old, "source": "a"}, {"value": value, "source": "b"}]}
            here[spot[-1]] = value  # type: ignore[index]
    return machine


@given(damaged())
@settings(suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture])
def test_a_damaged_machine_gives_a_report_or_one_of_our_errors(
    tmp_path: Path, machine: dict[str, Any]
) -> None:
    path = tmp_path / "machine.json"
    path.write_text(json.dumps(machine), "utf-8")
    try:
        report = check([path], CheckOptions(on=DAY, workings=True, every_outcome=True))
    except AxisproofError:
        return
    options = RenderOptions(workings=True)
    assert json.loads(as_json(report, options))["machines"]
    for line in as_text(report, options).splitlines():
        words = line.split()  # a path or the name of a fact is whole, however far it is indented
        assert len(line) <= 80 or len(words) == 1 or max(map(len, words)) > 40
