"""Every fact stated of a spare is compared, written, taught, or named with the reason.

Parts are drawn from all that the machine and the folder of spares state of such parts, so that they
also hold facts that belong to a place and groups that the fitted part does not have.
"""

from __future__ import annotations

import copy
import datetime
import json
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

import pytest
import yaml
from axisproof.catalogue.catalogue import shipped
from axisproof.engine.rule_reads import rule_reads
from axisproof.importing.entry import load_trees
from axisproof.report import sheet, spare_json, spare_text
from axisproof.report.rendering import RenderOptions
from axisproof.swap.api import spare
from axisproof.swap.part import KINDS, Kind
from axisproof.swap.result import SpareReport
from axisproof.swap.roles import PLACES, facts_of_part, read_roles, record_facts
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples

FIXTURES: Final = Path(__file__).parents[2] / "fixtures"
HALL: Final = FIXTURES / "sound" / "hall.yaml"
TWO_ENCODERS: Final = FIXTURES / "sound" / "two_encoders.yaml"
PALLET: Final = FIXTURES / "sound" / "pallet.yaml"
DAY: Final = datetime.date(2026, 3, 1)
AXES: Final = {
    "drive": ("infeed_pusher", "lift"),
    "motor": ("infeed_pusher", "lift", "turret", "two_encoders_cap_turner"),
    "encoder": ("infeed_pusher", "index_table"),
    "second_encoder": ("two_encoders_lift", "two_encoders_infeed_pusher"),
    "gearbox": ("index_table",),
    "battery": ("infeed_pusher",),
}
RECORDS: Final[dict[str, tuple[str, ...]]] = {
    "drive": ("drive",),
    "motor": ("motor", "encoder"),
    "encoder": ("encoder",),
    "second_encoder": ("second_encoder",),
    "gearbox": ("gearbox",),
    "battery": ("battery",),
}

Path_ = tuple[str, ...]


def leaves(plain: Any, path: Path_ = ()) -> Iterator[tuple[Path_, Any]]:
    """Every value that a record states; a group counts only where it is stated to be none."""
    for name, value in plain.items():
        if isinstance(value, dict) and not {"partial", "claims"} & set(value):
            yield from leaves(value, (*path, name))
        else:
            yield (*path, name), value


@lru_cache(maxsize=1)
def hall() -> Any:
    """The hall, and beside its axes those with two encoders."""
    plain, other = (
        json.loads(json.dumps(load_trees([file])[0].plain, default=str))
        for file in (HALL, TWO_ENCODERS)
    )
    plain["axes"] |= {f"two_encoders_{name}": axis for name, axis in other["axes"].items()}
    return plain


@lru_cache(maxsize=1)
def pool() -> dict[str, tuple[tuple[Path_, Any], ...]]:
    """All that the machine and the spares state of each record."""
    found: dict[str, dict[str, tuple[Path_, Any]]] = {record: {} for record in PLACES}

    def take(record: str, plain: Any) -> None:
        if isinstance(plain, dict):
            for path, value in leaves(plain):
                if "deg" not in str(value):  # the drives are for linear axes
                    found[record][repr((path, value))] = (path, value)

    take("motor", yaml.safe_load(PALLET.read_text("utf-8"))["axes"]["crate_pusher"]["motor"])
    for axis in hall()["axes"].values():
        for record in ("motor", "encoder", "second_encoder", "drive"):
            take(record, axis.get(record))
        counter = axis.get("encoder", {}).get("turn_counter", {})
        take("battery", counter.get("battery") if isinstance(counter, dict) else None)
        for stage in axis.get("mechanics", {}).get("stages", []):
            take("gearbox", stage)
    for file in sorted((FIXTURES / "spares").glob("*_*.yaml")):
        part = json.loads(json.dumps(yaml.safe_load(file.read_text("utf-8")), default=str))
        for record in PLACES:
            take(record, part.get(record))
    return {record: tuple(each.values()) for record, each in found.items()}


def put(plain: dict[str, Any], path: Path_, value: Any) -> None:
    here = plain
    for name in path[:-1]:
        inner = here.setdefault(name, {})
        if not isinstance(inner, dict):
            return
        here = inner
    here[path[-1]] = copy.deepcopy(value)


def judged(axis: str, kind: Kind, records: dict[str, Any], plan: bool = False) -> SpareReport:
    with TemporaryDirectory() as folder:
        own, file = Path(folder, "machine.json"), Path(folder, "spare.json")
        plain = {"format": 1, "machine": "m", "axes": {axis: hall()["axes"][axis]}}
        own.write_text(json.dumps(plain))
        file.write_text(json.dumps({"format": 1, "part": kind, **records}))
        return spare(own, axis, kind, file, on=DAY, plan=plan)


def stated(axis: str, records: dict[str, Any], report: SpareReport) -> set[str]:
    """The paths of all that was stated, as the report names facts."""
    found = set()
    replaced = {row.fact.split(".")[2] for row in report.rows}
    for record, plain in records.items():
        base = f"axes.{axis}.{PLACES[record]}" + ("[0]" if record == "gearbox" else "")
        for path, _ in leaves(plain):
            fact = ".".join(path)
            if record == "encoder" and "motor" in records and "encoder" not in replaced:
                # That of the motor, where the fitted one is on the load. It can be the second one.
                second = axis == "two_encoders_cap_turner" and fact in record_facts(
                    "second_encoder"
                )
                base = f"axes.{axis}.second_encoder" if second else "encoder"
            found.add(f"{base}.{fact}")
    return found


def accounted(report: SpareReport) -> set[str]:
    compared = {row.fact for row in report.rows if row.spare}
    return compared | {each.fact for each in (*report.writes, *report.not_judged)}


@st.composite
def parts(draw: st.DrawFn, kind: Kind) -> dict[str, Any]:
    records: dict[str, Any] = {}
    for record in RECORDS[kind]:
        some = draw(st.lists(st.sampled_from(pool()[record]), max_size=30))
        plain: dict[str, Any] = {}
        for path, value in some:
            put(plain, path, value)
        if plain or record == kind:
            records[record] = plain
    return records


@pytest.mark.parametrize("kind", KINDS)
@examples(0.2)
@given(st.data())
def test_nothing_stated_of_a_spare_is_dropped(kind: Kind, data: st.DataObject) -> None:
    axis = data.draw(st.sampled_from(AXES[kind]))
    records = data.draw(parts(kind))
    report = judged(axis, kind, records)
    assert stated(axis, records, report) == stated(axis, records, report) & accounted(report)
    for each in report.not_judged:
        assert each.value
        assert each.reason.endswith(".")


def test_what_is_not_judged_stands_in_every_form() -> None:
    drive = yaml.safe_load((FIXTURES / "spares" / "drive_like_fitted.yaml").read_text("utf-8"))
    records = {"drive": {**drive["drive"], "firmware_minimum": "9.8.7", "discharge_time": "77 min"}}
    report = judged("infeed_pusher", "drive", records, plan=True)
    named = {each.fact.rpartition(".")[2]: each for each in report.not_judged}
    assert set(named) == {"firmware_minimum", "discharge_time"}
    assert "stays there" in named["firmware_minimum"].reason
    for render in (spare_text.render, spare_json.render, sheet.render):
        text = " ".join(render(report, RenderOptions()).split())
        for each in report.not_judged:
            assert each.fact in text
            assert each.value in text
            assert each.reason in text


def test_a_drive_of_another_kind_of_axis_names_each_setting_that_it_loses() -> None:
    settings = {"brake_release_delay": "100 ms", "stop_reaction": {"deceleration": "7200 deg/s^2"}}
    report = judged("infeed_pusher", "drive", {"drive": settings})
    named = {each.fact.rpartition(".")[2]: each.reason for each in report.not_judged}
    assert "state of delivery" in named["brake_release_delay"]


def test_a_brake_that_the_fitted_motor_does_not_have_is_shown_in_full() -> None:
    motor = yaml.safe_load((FIXTURES / "spares" / "motor_like_fitted.yaml").read_text("utf-8"))
    brake = {"holding_torque": "4 N·m", "voltage": "24 V"}
    records = {"motor": {**motor["motor"], "brake": brake}, "encoder": motor["encoder"]}
    rows = {
        row.fact.rpartition(".")[2]: row for row in judged("infeed_pusher", "motor", records).rows
    }
    assert (rows["voltage"].fitted, rows["voltage"].spare) == ("none", "24 V")
    assert rows["voltage"].state == "differs"


def test_how_a_part_is_built_is_read_by_a_rule_or_has_a_word_for_people() -> None:
    roles = read_roles(shipped())
    paths = {path for reach in rule_reads(shipped()).values() for _, path in reach}
    for record in PLACES:
        read = {fact for _, fact in facts_of_part(paths, [record])}
        for fact in record_facts(record):
            role = roles.role(record, fact)
            if role.name == "build":
                below = any(each == fact or each.startswith(f"{fact}.") for each in read)
                assert below != bool(role.unread), f"{record}.{fact}"


def test_the_fixtures_state_most_facts_of_a_part() -> None:
    """The draw reaches nearly all facts of every record, or the property says little."""
    for record in PLACES:
        known = {".".join(path) for path, _ in pool()[record]}
        leaf = [fact for fact in record_facts(record) if not any(
            other.startswith(f"{fact}.") for other in record_facts(record))]  # fmt: skip
        missing = set(leaf) - known
        assert len(missing) <= len(leaf) // 3, (record, sorted(missing))
