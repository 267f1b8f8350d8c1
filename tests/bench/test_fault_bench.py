"""The fault bench in small: every kind of fault is found, sound machines bring no finding."""

from __future__ import annotations

import copy

import pytest
from axisproof.catalogue.catalogue import shipped

from tests.bench.faults.fault_list import FAULTS, FaultKind
from tests.bench.faults.measure import (
    SHARES,
    FaultRun,
    SoundCounts,
    check_faulty,
    check_plain,
    check_sound,
    check_thinned,
    run_faults,
    seeded,
    shared_machine,
)
from tests.bench.faults.newer_kinds import NEWER, NewerAxes, kinds_of
from tests.bench.faults.order_measure import OrderRun, changed_facts, order_table, run_order
from tests.bench.faults.plain_axis import Plain, PlainAxis, digits, in_unit, parts
from tests.bench.faults.run import main, markdown, text
from tests.bench.faults.sound_machine import machine
from tests.bench.faults.verdicts import EXPECTED, OPEN, UNSEEN

SHOWN = (*(fault.name for fault in FAULTS[::6]), *UNSEEN, *OPEN)
"""The kinds that are put in where the form of the table is at stake."""

PLAN = FaultRun(seed=7, axes=400, per_kind=3)
SEEDS = PLAN.seeds(600)

DETECTABLE = [fault for fault in FAULTS if fault.name in EXPECTED]


def test_the_list_has_at_least_eighty_kinds_and_a_verdict_on_each() -> None:
    names = [fault.name for fault in FAULTS]
    assert len(DETECTABLE) >= 80
    assert sorted(names) == sorted([*EXPECTED, *UNSEEN, *OPEN])
    assert all(fault.what for fault in FAULTS)


def test_only_rules_that_ship_are_expected() -> None:
    ship = {entry.name for entry in shipped().entries} | {
        "unit-misfit",
        "disputed-fact",
        "export-is-current",
    }
    assert {rule for rules in EXPECTED.values() for rule in rules} <= ship


@pytest.mark.exhaustive
@pytest.mark.parametrize("concern", dict.fromkeys(fault.concern for fault in DETECTABLE))
def test_every_kind_of_fault_is_found_wherever_it_is_put(concern: str) -> None:
    found = [
        check_faulty(fault, SEEDS, PLAN.per_kind)
        for fault in DETECTABLE
        if fault.concern == concern
    ]
    assert {each.kind: each.missed for each in found if each.missed} == {}
    assert {each.kind for each in found if each.injected < PLAN.per_kind} == set()


@pytest.fixture(scope="module")
def sound() -> SoundCounts:
    return check_sound(SEEDS[:90])


def test_sound_axes_are_without_finding(sound: SoundCounts) -> None:
    assert sound.axes >= PLAN.axes
    assert sound.false == []
    assert sound.holds > 50 * sound.axes


def test_a_third_of_the_sound_axes_is_of_newer_kinds_and_has_all_checks_decided(
    sound: SoundCounts,
) -> None:
    newer = sound.newer
    assert sound.axes / 3 < newer.clean <= newer.axes < sound.axes
    assert newer.findings == 0
    assert newer.undecided <= sound.undecided.total()
    assert set(newer.by_kind) == set(NEWER)
    assert f"On {newer.clean} of them ({newer.clean / sound.axes:.1%} of all) every check" in (
        newer.told(sound.axes)
    )


def test_an_axis_of_a_newer_kind_is_clean_without_a_finding_and_an_undecided_check() -> None:
    part = {"clamp": {"acts_on": "carriage"}}
    clamp: Plain = {"mechanics": part, "gantry": "none"}
    both: Plain = {"mechanics": {**part, "rim": {"diameter": "230 mm"}}, "gantry": "none"}
    plain: Plain = {"axes": {"a": clamp, "b": clamp, "c": both, "d": {"gantry": "none"}}}
    counts = NewerAxes()
    counts.add(plain, ["b", "b", "d"], ["c", "d"])
    assert (counts.axes, counts.clean, counts.findings, counts.undecided) == (3, 1, 2, 1)
    assert counts.by_kind == {"a clamp": 3, "a rim": 1}
    assert (counts + counts).clean == 2


def test_a_pair_that_shares_no_torque_is_no_newer_kind() -> None:
    def kinds(leader: Plain, follower: Plain) -> list[tuple[str, ...]]:
        axes = {"l": {"gantry": {"role": "leader", **leader}}, "f": {"gantry": follower}}
        return [kinds_of(PlainAxis({"axes": axes}, name)) for name in axes]

    follower = {"role": "follower", "partner": "l"}
    several = ("gantries of several or of shared torque",)
    assert kinds({"partner": "f"}, follower) == [(), ()]
    assert kinds({"followers": ["f", "g"]}, follower) == [several, several]
    assert kinds({"partner": "f", "torque": "shared"}, follower) == [several, ()]


@pytest.mark.parametrize("share", [0.1, 0.5])
def test_leaving_facts_out_brings_undecided_checks_and_no_finding(share: float) -> None:
    whole, less = check_sound(SEEDS[:15]), check_thinned(SEEDS[:15], share)
    assert less.false == []
    assert less.share_undecided > whole.share_undecided + share


def test_what_is_called_undetectable_leaves_the_machine_without_trace() -> None:
    kinds = [fault for fault in FAULTS if fault.name in UNSEEN]
    found = [check_faulty(fault, SEEDS, 6) for fault in kinds]
    # By chance one may come near another bound.
    assert [each.kind for each in found if each.found > each.injected / 2] == []


def test_a_seed_gives_the_same_machine_each_time_and_another_one_another() -> None:
    assert machine(3) == machine(3)
    assert machine(3) != machine(4)
    assert seeded(1, 0) != seeded(2, 0)
    assert len(machine(3, axes=5)["axes"]) in (5, 6)  # a gantry is not cut in two


@pytest.mark.exhaustive
@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.name)
def test_a_fault_changes_a_copy_of_the_machine(fault: FaultKind) -> None:
    for seed in SEEDS[:120]:
        before = copy.deepcopy(shared_machine(seed))
        for name in before["axes"]:
            changed = fault.on(PlainAxis(shared_machine(seed), name))
            assert shared_machine(seed) == before
            if changed is not None:
                check_plain(changed.machine)
                return
    pytest.fail(f"{fault.name} applies nowhere")


def test_numbers_are_read_and_written_exactly() -> None:
    assert digits(parts("40/3 mm")[0]) == "40/3"
    assert digits(parts("-12.50 mm")[0]) == "-12.5"
    assert in_unit(parts("254 mm")[0], "in") == "10 in"
    assert in_unit(parts("1 rev")[0], "deg") == "360 deg"


@pytest.fixture(scope="module")
def tables() -> dict[str, str]:
    """What the command prints of a small run, by form."""
    found = run_faults(FaultRun(seed=7, axes=10, per_kind=1, kinds=SHOWN), jobs=1)
    some, thin = check_sound(SEEDS[:5]), [check_thinned(SEEDS[:1], share) for share in SHARES]
    return {form.__name__: "\n".join(form(found, some, thin)) for form in (text, markdown)}


@pytest.mark.exhaustive
def test_the_command_prints_a_line_per_kind_and_the_counts(tables: dict[str, str]) -> None:
    assert all(name in tables["text"] for name in SHOWN)
    assert "findings on them: 0" in tables["text"]
    assert "are of newer kinds, with 0 findings" in tables["text"]


@pytest.mark.exhaustive
def test_the_command_prints_the_table_of_the_readme(tables: dict[str, str]) -> None:
    assert tables["markdown"].startswith("| concern | kinds of fault | put in | found |")
    assert "| facts left out | 0% | 10% | 20% | 30% | 40% | 50% |" in tables["markdown"]
    assert "are of newer kinds, with 0 findings" in tables["markdown"]
    assert "| sound axes with | |" in tables["markdown"]
    assert all(kind in tables["markdown"] for kind in (*UNSEEN, *OPEN))


def test_the_command_tells_of_a_few_kinds(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--kinds", "drive-ratio-swapped", "--per-kind", "2", "--jobs", "1"]) == 0
    assert "drive-ratio-swapped                         2/2" in capsys.readouterr().out


def test_a_run_in_two_processes_is_that_in_one() -> None:
    plan = FaultRun(
        seed=7, axes=20, per_kind=2, kinds=("quadrature-twice-in-drive", "battery-missing")
    )
    assert run_faults(plan, jobs=2) == run_faults(plan, jobs=1)


def test_the_command_refuses_a_kind_it_does_not_know(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["--kinds", "lightning"])
    assert "no such kind of fault: lightning" in capsys.readouterr().err


ORDERED = (
    "evaluation-changed", "pulley-tooth-miscounted", "gantry-partner-of-another",
    "turns-of-old-encoder-in-drive", "torque-limit-of-larger-motor",
)  # fmt: skip
"""Kinds of which a consequence was read first, until the report put first what others rest on."""


def test_the_fault_is_read_before_its_consequences() -> None:
    counts = run_order(OrderRun(11, 1, kinds=ORDERED))
    assert {each.kind: each.before for each in counts if each.before} == {}
    assert sum(each.first + each.points for each in counts) == len(ORDERED)


def test_the_table_of_the_order_names_what_stands_before_the_fault() -> None:
    counts = run_order(OrderRun(11, 1, kinds=("heavier-load", "evaluation-changed")))
    table = order_table(counts)
    assert table[0] == "heavier-load: 0/1; read first: acceleration-torque-available (1)"
    assert "by its rule or a cause of it: 1 (50.0%)" in table[-2]


def test_what_a_fault_changes_is_named_by_its_path() -> None:
    before = {"a": {"b": [1, 2], "c": 3}, "d": 4}
    after = {"a": {"b": [1, 5], "e": 3}, "d": 4}
    assert set(changed_facts(before, after)) == {"a.b[1]", "a.c", "a.e"}
