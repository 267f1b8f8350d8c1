"""Reading a machine: flat exact facts, what is absent, disputed or does not fit, and places."""

from __future__ import annotations

import copy
import datetime
import json
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from axisproof.base.absence import NONE, PRESENT
from axisproof.base.errors import InputError
from axisproof.machine.homing_order import HOMES_AFTER, WAITS_FOR_STRANGER
from axisproof.machine.machine import Dispute, Machine, Misfit, with_role
from axisproof.machine.reader import load_machine, read_plain
from axisproof.machine.records import NOTES, Facts, new_record, notes_of
from axisproof.machine.schema import (
    Leaf,
    ListType,
    MapType,
    RecordType,
    Type,
    axis_type,
    facts,
    load_schema,
    machine_type,
)
from axisproof.machine.value_reader import _KIND_WORDS
from axisproof.numbers.exact import Pi
from axisproof.numbers.rational import Fraction
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from tests.examples import examples


def axis(motion: Any = "linear", **parts: Any) -> Facts:
    """The facts of one axis, read from a plain tree."""
    return machine(motion, **parts).axes[0]


def machine(motion: Any = "linear", **parts: Any) -> Machine:
    return read_plain({"axes": {"a": {"motion": motion, **parts}}})


def claims(*values: Any) -> dict[str, Any]:
    return {"claims": [{"value": v, "source": f"s{i}"} for i, v in enumerate(values)]}


# Bare values ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("part", "written", "key", "bare"),
    [
        ({"controller": {"cycle": "12.5 mm"}}, "linear", "controller.cycle", Fraction(25, 2)),
        ({"controller": {"cycle": "1 in"}}, "linear", "controller.cycle", Fraction(127, 5)),
        ({"controller": {"cycle": "360 deg"}}, "rotary", "controller.cycle", 1),
        ({"controller": {"cycle": "1 rad"}}, "rotary", "controller.cycle", Pi(Fraction(1, 2), -1)),
        ({"motor": {"max_speed": "3000 rpm"}}, "linear", "motor.max_speed", 50),
        ({"motor": {"rated_torque": "1 N·m"}}, "linear", "motor.rated_torque", Pi(2 * 10**6, 1)),
        ({"motor": {"inertia": "1 kg m^2"}}, "linear", "motor.inertia", Pi(4 * 10**6, 2)),
        ({"drive": {"node": 3}}, "linear", "drive.node", 3),
        ({"encoder": {"distinguishable_revolutions": 65536}}, "linear",
         "encoder.distinguishable_revolutions", 65536),
        ({"encoder": {"index_pulse": False}}, "linear", "encoder.index_pulse", False),
        ({"encoder": {"kind": "incremental"}}, "linear", "encoder.kind", "incremental"),
        ({"motor": {"serial": "007"}}, "linear", "motor.serial", "007"),
        ({"mechanics": {"stated_ratio": "49/5"}}, "linear", "mechanics.stated_ratio",
         Fraction(49, 5)),
        ({"mechanics": {"stated_ratio": 7}}, "linear", "mechanics.stated_ratio", 7),
        ({"mechanics": {"efficiency": Decimal("0.90")}}, "linear", "mechanics.efficiency",
         Fraction(9, 10)),
        ({"mechanics": {"counterbalance": "80 %"}}, "linear", "mechanics.counterbalance",
         Fraction(4, 5)),
        ({"controller": {"counts_per_unit": "1000 count/deg"}}, "rotary",
         "controller.counts_per_unit", 360000),
        ({"drive": {"node": Decimal("3.0")}}, "linear", "drive.node", 3),
    ],
)  # fmt: skip
def test_a_fact_is_a_bare_value_in_base_units(
    part: dict[str, Any], written: str, key: str, bare: object
) -> None:
    value = axis(written, **part)[key]
    assert value == bare
    assert type(value) is type(bare)


@pytest.mark.parametrize("day", ["1970-01-01", "2026-03-14", "2024-02-29", "1969-12-31"])
def test_a_date_is_seconds_since_1970(day: str) -> None:
    value = axis(motor={"commutation": {"on": day}})["motor.commutation.on"]
    moment = datetime.datetime.fromisoformat(f"{day}T00:00:00+00:00")
    assert value == int(moment.timestamp())


@pytest.mark.parametrize(
    ("stated", "bare"),
    [
        ("limit_switch_negative_index", 1),
        ("next_index_positive", 34),
        ("current_position", "current_position"),
        ("hard_stop_positive", "hard_stop_positive"),
        (35, 35),
        (-3, -3),
        (Decimal("17.0"), 17),
    ],
)
def test_a_homing_method_is_a_number_where_the_name_means_one(stated: Any, bare: object) -> None:
    assert axis(controller={"homing": {"method": stated}})["controller.homing.method"] == bare
    found = axis(drive={"supported_homing_methods": [stated]})
    assert found["drive.supported_homing_methods"] == [bare]


@pytest.mark.parametrize(
    ("written", "decimals"),
    [
        ("3.333 mm", 3),
        ("3.50 mm", 2),
        ("3 mm", None),
        ("10/3 mm", None),
        ("3.333e2 mm", 3),
    ],
)
def test_a_number_written_as_a_decimal_keeps_how_many_digits(
    written: str, decimals: int | None
) -> None:
    found = axis(controller={"cycle": written})
    assert notes_of(found).decimals.get("controller.cycle") == decimals


def test_a_bare_number_written_as_a_decimal_keeps_its_digits_too() -> None:
    found = axis(mechanics={"stated_ratio": Decimal("1.0667"), "efficiency": 1})
    assert notes_of(found).decimals == {"mechanics.stated_ratio": 4}


# Absence ----------------------------------------------------------------------------------------


def test_a_missing_fact_has_no_key_and_none_is_known_to_be_absent() -> None:
    found = axis(motor={"brake": "none"}, drive={"stop_reaction": {"jerk": "none"}})
    assert found["motor.brake"] is NONE
    assert found["drive.stop_reaction.jerk"] is NONE
    assert "drive.gear" not in found
    assert not [key for key in found if key.startswith("motor.brake.")]


def test_a_part_that_could_be_none_and_is_described_is_present() -> None:
    found = axis(motor={"brake": {"voltage": "24 V"}}, gantry={})
    assert found["motor.brake"] is PRESENT
    assert found["motor.brake.voltage"] == 24 * 10**6
    assert found["gantry"] is PRESENT
    assert "drive" not in axis(drive={"node": 1})


def test_a_partial_list_is_marked_and_keeps_its_paths() -> None:
    found = axis(interlocks={"partial": [{"triggers": {"partial": ["position_lost"]}}]})
    assert notes_of(found).partial == {"interlocks"}
    (interlock,) = found["interlocks"]
    notes = notes_of(interlock)
    assert notes.path == "axes.a.interlocks[0]"
    assert notes.partial == {"triggers"}
    assert interlock == {"triggers": ["position_lost"], NOTES: notes}
    complete = axis(interlocks=[])
    assert complete["interlocks"] == []
    assert notes_of(complete).partial == set()


def test_items_of_a_list_are_records_with_a_path_of_their_own() -> None:
    found = axis(
        mechanics={"stages": [{"motor_side_teeth": 20}, {"motor_turns_per_load_turn": "7"}]}
    )
    assert found["mechanics.stages"] == [
        {**new_record("axes.a.mechanics.stages[0]"), "motor_side_teeth": 20},
        {**new_record("axes.a.mechanics.stages[1]"), "motor_turns_per_load_turn": 7},
    ]


def test_facts_after_a_list_still_belong_to_the_axis() -> None:
    found = machine(
        interlocks=[{"triggers": [], "max_speed": "20 mm/s"}],
        controller={"cycle": claims("1 mm", "2 mm")},
    )
    assert found.axes[0]["interlocks"][0]["max_speed"] == 20
    assert found.disputes[0].path == "axes.a.controller.cycle"


# The machine ------------------------------------------------------------------------------------


def test_axes_stand_in_the_order_of_the_file_and_know_their_machine() -> None:
    found = read_plain(
        {
            "format": 1,
            "machine": "hall",
            "axes": {"z": {"motion": "linear"}, "a": {"motion": "rotary"}},
            "network": {"cycle_time": "1 ms"},
        }
    )
    assert found.name == "hall"
    assert notes_of(found.facts).path == ""
    assert found.facts["network.cycle_time"] == Fraction(1, 1000)
    assert [(a["name"], notes_of(a).path) for a in found.axes] == [
        ("z", "axes.z"),
        ("a", "axes.a"),
    ]
    assert all(notes_of(a).machine is found.facts for a in found.axes)
    assert "machine" not in found.facts
    assert "format" not in found.facts


def test_settings_keep_their_plain_value_and_reason() -> None:
    plain = {
        "settings": {"margin": {"value": Decimal("0.5"), "reason": "old cams"}},
        "axes": {
            "a": {"motion": "linear", "settings": {"margin": {"value": "5 mm", "reason": "new"}}},
            "b": {"motion": "linear"},
        },
    }
    found = read_plain(plain)
    assert notes_of(found.facts).stated_settings == {"margin": (Decimal("0.5"), "old cams")}
    assert [notes_of(a).stated_settings for a in found.axes] == [{"margin": ("5 mm", "new")}, {}]


# Claims and motion ------------------------------------------------------------------------------


def test_claims_that_agree_are_one_fact_however_they_are_written() -> None:
    found = machine(controller={"cycle": claims("0.5 m", "500 mm", "500.0 mm")})
    assert found.axes[0]["controller.cycle"] == 500
    assert "controller.cycle" not in notes_of(found.axes[0]).decimals
    assert found.disputes == ()


def test_unlike_claims_leave_the_fact_unknown_and_are_kept() -> None:
    found = machine(drive={"node": claims(3, 4), "gear": {"numerator": claims(1, 1)}})
    assert "drive.node" not in found.axes[0]
    assert found.axes[0]["drive.gear.numerator"] == 1
    assert found.disputes == (Dispute("axes.a.drive.node", (("3", "s0"), ("4", "s1"))),)


@pytest.mark.parametrize("name", ["ax", "axe"])
def test_a_disputed_fact_is_listed_with_every_record_it_lies_in(name: str) -> None:
    stages = [{"kind": "gearbox"}, {"kind": "gearbox", "motor_turns_per_load_turn": claims(3, 4)}]
    plain = {"motion": "linear", "drive": {"node": claims(3, 4)}, "mechanics": {"stages": stages}}
    found = read_plain({"axes": {name: plain}})
    node, turns = "drive.node", "mechanics.stages[].motor_turns_per_load_turn"
    stated = found.axes[0]["mechanics.stages"]
    assert notes_of(found.axes[0]).disputed == {node, turns}
    assert notes_of(stated[1]).disputed == {"motor_turns_per_load_turn"}
    assert notes_of(stated[0]).disputed == set()
    assert {f"axes[].{node}", f"axes[].{turns}"} <= notes_of(found.facts).disputed


def test_a_machine_set_aside_has_all_its_paths_under_its_role() -> None:
    found = machine(drive={"node": claims(3, 4)}, controller={"cycle": "360 deg"})
    aside = with_role(found, "before")
    assert [each.path for each in aside.disputes] == ["before:axes.a.drive.node"]
    assert aside.disputes[0].claims == found.disputes[0].claims
    assert [each.path for each in aside.misfits] == ["before:axes.a.controller.cycle"]
    assert notes_of(aside.axes[0]).path == "before:axes.a"
    assert aside.axes[0].keys() == found.axes[0].keys()


@pytest.mark.parametrize(
    ("plain", "known", "cut"),
    [
        ({"qqqqqq": 1}, "motion", False),
        ({"drive": {"gear": {"qqqqqq": 1}}}, "numerator", False),
        ({"encoder": {"qqqqqq": 1}}, "kind", True),
    ],
)
def test_a_list_of_names_is_cut_only_if_it_is_long(
    plain: dict[str, Any], known: str, cut: bool
) -> None:
    with pytest.raises(InputError) as caught:
        machine(**plain)
    names = caught.value.expected.removeprefix("one of ").split(", ")
    assert known in names
    assert (names[-1] == "…") == cut
    assert len(names) == 13 or not cut


def test_claims_that_all_are_decimals_keep_the_finest_digits() -> None:
    found = machine(controller={"cycle": claims("3.50 mm", "3.5 mm")})
    assert notes_of(found.axes[0]).decimals["controller.cycle"] == 2


def test_methods_are_claimed_alike_by_name_and_number() -> None:
    found = machine(controller={"homing": {"method": claims(1, "limit_switch_negative_index")}})
    assert found.axes[0]["controller.homing.method"] == 1
    assert found.disputes == ()


def test_a_claim_can_be_none_where_the_fact_can() -> None:
    found = machine(mechanics={"counterbalance": claims("none", "80 %")})
    assert "mechanics.counterbalance" not in found.axes[0]
    assert found.disputes[0].claims == (("none", "s0"), ("80 %", "s1"))
    agreed = machine(mechanics={"counterbalance": claims("none", "none")})
    assert agreed.axes[0]["mechanics.counterbalance"] is NONE
    with pytest.raises(InputError, match="is none"):
        machine(drive={"counts_per_revolution": claims(4096, "none")})


@pytest.mark.parametrize(
    ("motion", "fact", "written"),
    [
        ("linear", "cycle", "360 deg"),
        ("rotary", "cycle", "10 mm"),
        ("rotary", "max_velocity", "10 mm/s"),
        ("linear", "max_velocity", "10 rpm"),
        ("linear", "max_acceleration", "10 deg/s^2"),
        ("rotary", "max_jerk", "10 mm/s^3"),
        ("linear", "counts_per_unit", "10 count/deg"),
        ("rotary", "counts_per_unit", "10 count/mm"),
    ],
)
def test_a_quantity_of_the_other_motion_is_unknown_and_kept_as_a_misfit(
    motion: str, fact: str, written: str
) -> None:
    found = machine(motion, controller={fact: written})
    assert f"controller.{fact}" not in found.axes[0]
    assert found.misfits == (Misfit(f"axes.a.controller.{fact}", written, motion),)


def test_a_misfit_among_claims_leaves_the_fact_unknown() -> None:
    found = machine(controller={"cycle": claims("10 mm", "360 deg", "10 mm")})
    assert "controller.cycle" not in found.axes[0]
    assert found.misfits == (
        Misfit("axes.a.controller.cycle.claims[1].value", "360 deg", "linear"),
    )
    assert found.disputes == ()


def test_a_fact_whose_every_claim_is_a_misfit_is_unknown_and_not_disputed() -> None:
    found = machine("rotary", controller={"cycle": claims("10 mm", "20 mm")})
    assert "controller.cycle" not in found.axes[0]
    assert [misfit.written for misfit in found.misfits] == ["10 mm", "20 mm"]
    assert found.disputes == ()


def test_a_misfit_in_a_list_item_has_its_path() -> None:
    found = machine("rotary", interlocks=[{"triggers": [], "max_speed": "20 mm/s"}])
    assert found.misfits[0].path == "axes.a.interlocks[0].max_speed"


def test_quantities_with_a_fixed_dimension_fit_any_axis() -> None:
    found = machine("rotary", encoder={"measuring_step": "0.1 um"}, motor={"max_speed": "9 rpm"})
    assert found.misfits == ()
    assert "encoder.measuring_step" in found.axes[0]


def test_an_axis_of_disputed_motion_has_no_facts_in_user_units() -> None:
    found = machine(claims("linear", "rotary"), controller={"cycle": "1 mm"}, drive={"node": 3})
    assert "motion" not in found.axes[0]
    assert "controller.cycle" not in found.axes[0]
    assert found.axes[0]["drive.node"] == 3
    assert found.misfits == ()
    assert [dispute.path for dispute in found.disputes] == ["axes.a.motion"]


def test_the_motion_may_stand_after_what_depends_on_it_and_be_claimed_twice() -> None:
    plain = {"controller": {"cycle": "1 mm"}, "motion": claims("linear", "linear")}
    found = read_plain({"axes": {"a": plain}})
    assert found.axes[0]["controller.cycle"] == 1


# Places -----------------------------------------------------------------------------------------

TEXT = """\
format: 1
machine: hall
axes:
  infeed:
    motion: linear
    drive:
      node: 3
    controller:
      cycle: {claims: [{value: 0x1F, source: a}]}
    interlocks:
      partial:
        - triggers: [position_lost]
          max_speed: none
"""


@pytest.fixture
def infeed(tmp_path: Path) -> Machine:
    text = TEXT.replace("0x1F", "500 mm")
    (tmp_path / "hall.yaml").write_text(text)
    return load_machine(tmp_path / "hall.yaml")


@pytest.mark.parametrize(
    ("path", "line", "column", "written"),
    [
        ("axes.infeed.motion", 5, 13, "linear"),
        ("axes.infeed.drive.node", 7, 13, "3"),
        ("axes.infeed.controller.cycle", 9, 32, "500 mm"),
        ("axes.infeed.interlocks[0].max_speed", 13, 22, "none"),
        ("axes.infeed.interlocks[0].triggers[0]", 12, 22, "position_lost"),
        ("machine", 2, 10, "hall"),
    ],
)
def test_a_path_leads_back_to_where_it_was_written(
    infeed: Machine, path: str, line: int, column: int, written: str
) -> None:
    (place,) = infeed.places(path)
    assert (place.line, place.column) == (line, column)
    assert infeed.written(path) == written
    assert written in infeed.line_text(place)


def test_a_missing_path_has_no_place_but_a_nearest_one(infeed: Machine) -> None:
    assert infeed.places("axes.infeed.drive.gear.numerator") == ()
    assert infeed.written("axes.infeed.drive.gear.numerator") is None
    nearest = infeed.nearest("axes.infeed.drive.gear.numerator")
    assert nearest is not None
    assert (nearest.line, nearest.column) == (6, 5)
    assert infeed.nearest("axes.infeed.interlocks[7].max_speed") is not None
    assert infeed.written("axes.infeed.interlocks[7].max_speed") is None
    assert infeed.written("axes.infeed.drive") is None


def test_a_machine_without_a_file_has_no_places() -> None:
    found = machine(drive={"node": 3})
    assert found.places("axes.a.drive.node") == ()
    assert found.nearest("axes.a.drive.node") is None
    assert found.written("axes.a.drive.node") == "3"


def test_unlike_files_become_a_dispute_with_a_place_in_each(tmp_path: Path) -> None:
    (tmp_path / "hall.yaml").write_text(TEXT.replace("0x1F", "500 mm") + "include: [drive.json]\n")
    part = {"axes": {"infeed": {"drive": {"node": 4, "firmware": "2"}}}}
    (tmp_path / "drive.json").write_text(json.dumps(part))
    found = load_machine(tmp_path / "hall.yaml")
    assert found.axes[0]["drive.firmware"] == "2"
    (dispute,) = found.disputes
    assert dispute.path == "axes.infeed.drive.node"
    assert [text for text, _ in dispute.claims] == ["3", "4"]
    files = [Path(place.file).name for place in found.places(dispute.path)]
    assert files == ["hall.yaml", "drive.json"]


def test_the_same_facts_come_from_yaml_and_from_json(tmp_path: Path) -> None:
    plain = full()
    (tmp_path / "m.json").write_text(json.dumps(plain))
    (tmp_path / "m.yaml").write_text(json.dumps(plain))  # JSON is YAML in flow style
    one, two = load_machine(tmp_path / "m.json"), load_machine(tmp_path / "m.yaml")
    for mine, other in zip(one.axes, two.axes, strict=True):
        assert mine == other


# The whole schema -------------------------------------------------------------------------------


def sample(kind: Type, examples: tuple[Any, ...] = ()) -> Any:
    """A valid plain value of a type, by its first example where it has one."""
    if isinstance(kind, RecordType):
        return {
            name: sample(field.type, field.examples)
            for name, field in kind.fields.items()
            if not field.implied and not isinstance(field.type, MapType)
        }
    if isinstance(kind, ListType):
        return [sample(kind.item, examples)]
    assert isinstance(kind, Leaf)
    if examples:
        return examples[0]
    if kind.kind == "quantity":
        return 7 if kind.quantity == "ratio" else _KIND_WORDS[kind.quantity or ""][1]
    values = {"text": "X1", "flag": True, "date": "2026-01-02", "method": 33, "any": "5 mm"}
    return values.get(kind.kind) or (kind.names[0] if kind.names else kind.minimum or 1)


@cache
def _full() -> dict[str, Any]:
    plain: dict[str, Any] = sample(machine_type())
    plain["include"] = []
    reason = {"margin": {"value": 0.25, "reason": "so"}}
    a, b = sample(axis_type()), sample(axis_type())
    plain["axes"] = {"a": {**a, "settings": reason}, "b": b}
    return plain


def full() -> dict[str, Any]:
    """A machine of two axes in which every fact of the schema is stated."""
    return copy.deepcopy(_full())


def exact(node: Any) -> Any:
    """A JSON tree as the sources give it, with Decimal for float."""
    if isinstance(node, dict):
        return {key: exact(value) for key, value in node.items()}
    if isinstance(node, list):
        return [exact(value) for value in node]
    return Decimal(repr(node)) if isinstance(node, float) else node


def test_every_fact_of_the_schema_can_be_stated() -> None:
    found = read_plain(exact(full()), headless=False)
    assert found.disputes == ()
    misfits = {
        misfit.path.removeprefix("axes.a.")
        for misfit in found.misfits
        if misfit.path.startswith("axes.a.")
    }
    derived = {HOMES_AFTER, WAITS_FOR_STRANGER}
    stated = {key for key in found.axes[0] if key != NOTES} - derived | misfits
    assert stated == set(facts(axis_type()))
    assert {key for key in found.facts if key != NOTES} - {"axes"} == set(facts(machine_type()))


# jsonschema as referee --------------------------------------------------------------------------

VALIDATOR = Draft202012Validator(load_schema())


def accepts(plain: Any) -> bool:
    try:
        read_plain(exact(plain), headless=False)
    except InputError:
        return False
    return True


Path_ = tuple[str | int, ...]


def paths(node: Any, at: Path_ = ()) -> list[Path_]:
    """Every path in a plain tree."""
    found: list[Path_] = [at] if at else []
    if isinstance(node, dict):
        for key, value in node.items():
            found += paths(value, (*at, key))
    elif isinstance(node, list):
        for index, value in enumerate(node):
            found += paths(value, (*at, index))
    return found


PATHS = [path for path in paths(_full()) if path[:2] != ("axes", "b")]

SCALARS: list[Any] = [
    "none", "None", "", "x", "true", True, False, 0, 1, -1, 37, 38, -128, -129, 64, 65, 65535,
    65536, 10**20, 1.0, 0.5, -0.5, 0.0, 1e-9, "5", "-5", "0", "5 mm", "-5 mm", "+5 mm", "-0 mm",
    "0 mm", "0.00 mm", "0.0e5 mm", "00.1 mm", "1e-9 mm", "1/3 mm", "1/0 mm", "0/3 mm", "5mm",
    "5  mm", " 5 mm", "5 mm\n", "5 mm ", "٣ mm", "5 MM", "5 deg", "-90 deg", "5°", "5 rev", "5 s",
    "5 ms", "0 s", "-1 s", "5 mm/s", "5 rpm", "0 rpm", "5 1/min", "51/min", "5 1/s", "5 Hz",
    "5 mm/s^2", "5 mm/s²", "5 deg/s^3", "5 kg", "5 N", "5 N·m", "5 Nm", "-5 N m", "5 kg m^2",
    "5 count/mm", "5 counts/deg", "5 count/s", "5 V", "80 %", "-3 %", "0 %", "10/3", "5 ppm",
    "2026-02-28", "2026-02-28\n", "2026-13-01", "2026-1-1", "26-01-01", "linear", "rotary",
    "incremental", "limit_switch_negative", "homing", "a b", "9a", "a" * 64, "a" * 65, "a\n",
    "x" * 200, "x" * 201, "x" * 2001,
]  # fmt: skip


def mutate(draw: st.DrawFn, plain: dict[str, Any]) -> None:
    """Change, remove, wrap or add one thing somewhere in the tree, which may have changed."""
    path = draw(st.sampled_from(PATHS))
    node: Any = plain
    for part in path[:-1]:
        try:
            node = node[part]
        except (KeyError, IndexError, TypeError):
            return
    last = path[-1]
    if isinstance(node, dict) and isinstance(last, int):
        return
    if not isinstance(node, dict | list) or (isinstance(node, list) and isinstance(last, str)):
        return
    if isinstance(node, list) and isinstance(last, int) and last >= len(node):
        return
    if isinstance(node, dict) and last not in node:
        return
    there: Any = node[last]  # type: ignore[index]
    kinds = ["scalar", "none", "list", "partial", "claims", "bad claims", "remove", "add", "empty"]
    match draw(st.sampled_from(kinds)):
        case "scalar":
            new = draw(st.sampled_from(SCALARS))
        case "none":
            new = "none"
        case "list":
            new = [there]
        case "partial":
            new = {"partial": there}
        case "claims":
            other = draw(st.sampled_from([there, "none", *SCALARS[:12]]))
            new = claims(there, other)
        case "bad claims":
            entry = draw(
                st.sampled_from(
                    [
                        there,
                        {"value": there},
                        {"value": there, "source": ""},
                        {"value": there, "source": 1},
                        {"value": there, "source": "a", "on": "b"},
                    ]
                )
            )
            new = draw(
                st.sampled_from(
                    [
                        {"claims": []},
                        {"claims": [entry]},
                        {"claims": [entry] * 21},
                        {"claims": entry},
                        {"claims": [{"value": there, "source": "a"}], "x": 1},
                        {"claim": []},
                    ]
                )
            )
        case "remove":
            del node[last]  # type: ignore[arg-type]
            return
        case "add":
            if isinstance(node, dict):
                key = draw(st.sampled_from(["x", "serial", "name", "B 1", "partial", "value", ""]))
                node[key] = draw(st.sampled_from(["x", 1, {}, {"motion": "linear"}]))
            else:
                node.append(draw(st.sampled_from(["x", 1, {}, there])))
            return
        case _:
            new = draw(st.sampled_from([{}, [], "", {"partial": []}]))
    node[last] = new  # type: ignore[index]


@st.composite
def mutated(draw: st.DrawFn) -> dict[str, Any]:
    plain = full()
    for _ in range(draw(st.integers(1, 3))):
        mutate(draw, plain)
    return plain


@examples(1.5, suppress_health_check=list(HealthCheck))
@given(mutated())
def test_the_reader_and_jsonschema_accept_and_refuse_alike(plain: dict[str, Any]) -> None:
    assert accepts(plain) == VALIDATOR.is_valid(plain)


LEAF_FIELDS = {
    field.type.definition: path
    for path, field in facts(axis_type()).items()
    if isinstance(field.type, Leaf) and not field.implied
}


@pytest.mark.parametrize("definition", LEAF_FIELDS)
def test_the_reader_and_jsonschema_agree_on_every_kind_of_leaf(definition: str) -> None:
    path = LEAF_FIELDS[definition]
    outcomes = set()
    for value in [*SCALARS, [], {}, ["5 mm"], {"claims": [{"value": "x", "source": "y"}]}]:
        plain: Any = value
        for name in reversed(path.split(".")):
            plain = {name: plain}
        tree = {"format": 1, "machine": "m", "axes": {"a": {"motion": "linear"} | plain}}
        valid = VALIDATOR.is_valid(tree)
        assert accepts(tree) == valid, (path, value)
        outcomes.add(valid)
    assert False in outcomes


STRICTER: dict[str, dict[str, Any]] = {
    "a day that no calendar has": {"motor": {"commutation": {"on": "2026-02-30"}}},
    "the year zero": {"motor": {"commutation": {"on": "0000-01-01"}}},
    "a power of ten beyond the cap": {"controller": {"cycle": "1e31 mm"}},
    "a power of ten below the cap": {"controller": {"cycle": "1e-31 mm"}},
    "more digits than the cap": {"controller": {"cycle": f"{'1' * 41} mm"}},
    "more digits than the cap, after the point": {"controller": {"cycle": f"0.{'1' * 40} mm"}},
}
"""What jsonschema accepts and the reader refuses: the whole list."""


@pytest.mark.parametrize("name", STRICTER)
def test_the_reader_is_stricter_than_jsonschema_only_in_named_cases(name: str) -> None:
    tree = {"format": 1, "machine": "m", "axes": {"a": {"motion": "linear", **STRICTER[name]}}}
    assert VALIDATOR.is_valid(tree)
    assert not accepts(tree)


def test_unlike_claims_and_misfits_are_no_fault_of_shape() -> None:
    controller = {"cycle": claims("10 mm", "360 deg"), "max_jerk": "5 deg/s^3"}
    axes = {"a": {"motion": "linear", "controller": controller}}
    tree = {"format": 1, "machine": "m", "axes": axes}
    assert VALIDATOR.is_valid(tree)
    assert accepts(tree)


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=8) | st.sampled_from(SCALARS),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["format", "machine", "axes", "a", "motion", "drive", "claims", "x"]),
            inner,
            max_size=4,
        )
    ),
    max_leaves=12,
)


@given(json_values)
def test_no_plain_tree_raises_anything_but_our_own_error(plain: Any) -> None:
    assert accepts(plain) == VALIDATOR.is_valid(plain)
