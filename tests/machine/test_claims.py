"""Claims of several sources, and quantities that do not fit the motion."""

from __future__ import annotations

from typing import Any

import pytest
from axisproof.base.absence import NONE
from axisproof.base.errors import InputError
from axisproof.machine.machine import Dispute, Misfit, with_role
from axisproof.machine.reader import read_plain
from axisproof.machine.records import notes_of

from tests.machine.plain_machines import claims, machine


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
    assert len(names) == 15 or not cut


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
