"""Rules about a change or a spare: one axis of two machines, each fact told from its own file."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.base.errors import RuleError
from axisproof.catalogue.catalogue import Catalogue, from_texts, shipped
from axisproof.engine.cases import change_case, spare_case
from axisproof.engine.engine import Options, Results, check_cases
from axisproof.machine.machine import Machine, with_role
from axisproof.machine.reader import load_machine
from axisproof.machine.records import notes_of
from axisproof.rulebook.rule_tests import run_rule_tests

MACHINE = """format: 1
machine: hall
axes:
  infeed:
    motion: {motion}
    controller: {{max_velocity: {speed}, software_limits: {{min: 0 mm, max: 900 mm}}}}
    mechanics:
      stages: [{{motor_side_teeth: 20, load_side_teeth: {teeth}}}]
      final: {{kind: screw, lead: 10 mm}}
"""

RULE = """language 2

setting faster
  default 1
  meaning "how many times as fast an axis may become"
  basis   "common practice, no source"

rule speed-not-raised
  level error
  title "the speed is not raised"
  each change
  when before.motion is after.motion
  require after.controller.max_velocity <= faster * before.controller.max_velocity
  say "{before.controller.max_velocity} became {after.controller.max_velocity};"
      "{before.units_per_motor_rev} became {after.units_per_motor_rev}"
  why "because"
  remedy "mend"
  set after.controller.max_velocity to before.controller.max_velocity
  basis "computed"
  given
    before.controller.max_velocity = "500 mm/s"
  passes "as it was"
    after.controller.max_velocity = "500 mm/s"
    expect faster = 1
  fails "a hair more"
    after.controller.max_velocity = "500.1 mm/s"
  skips "another motion"
    before.controller.max_velocity = missing
    after.motion = rotary
  undecided "it was not known"
    before.controller.max_velocity = missing
    after.controller.max_velocity = "500 mm/s"
    needs before.controller.max_velocity
  undecided "it is not known"
    needs after.controller.max_velocity
"""

SPARE_RULE = """language 2

rule spare-has-the-counts
  level error
  title "the spare has the counts of the one fitted"
  each spare
  require axis.encoder.counts_per_revolution = fitted.encoder.counts_per_revolution
  say "{fitted.encoder.counts_per_revolution} became {axis.encoder.counts_per_revolution}"
  why "because"
  remedy "mend"
  basis "computed"
  given
    fitted.encoder.counts_per_revolution = 4096
  passes "alike"
    axis.encoder.counts_per_revolution = 4096
  fails "twice as many"
    axis.encoder.counts_per_revolution = 8192
  undecided "not known"
    fitted.encoder.counts_per_revolution = missing
    axis.encoder.counts_per_revolution = 8192
    needs fitted.encoder.counts_per_revolution
"""


def read(folder: Path, name: str, **values: str) -> Machine:
    """A machine of one axis in a file of its own."""
    fields = {"motion": "linear", "speed": "500 mm/s", "teeth": "40"} | values
    file = folder / name
    file.write_text(MACHINE.format(**fields))
    machine = load_machine(file)
    machine.facts["check_date"] = 0
    return machine


def changed(before: Machine, after: Machine, found: Catalogue) -> Results:
    was = with_role(before, "before")
    case = change_case(was.axes[0], after.axes[0])
    return check_cases("change", [case], after, "hall", found, Options(workings=True), was)


@pytest.fixture(scope="module")
def found() -> Catalogue:
    return from_texts({"own.rules": RULE}, shipped())


def test_a_finding_points_into_both_files(tmp_path: Path, found: Catalogue) -> None:
    before = read(tmp_path, "old.yaml")
    after = read(tmp_path, "new.yaml", speed="600 mm/s", teeth="20")
    results = changed(before, after, found)
    finding = next(f for f in results.findings if f.rule == "speed-not-raised")
    assert finding.subject == "infeed"
    assert finding.message == "500 mm/s became 600 mm/s; 5 mm/rev became 10 mm/rev"
    seen = {(Path(m.place.file).name, m.label, m.fact) for m in finding.marks}
    assert seen == {
        ("new.yaml", "controller.max_velocity", "axes.infeed.controller.max_velocity"),
        (
            "old.yaml",
            "before: controller.max_velocity",
            "before:axes.infeed.controller.max_velocity",
        ),
    }
    assert all("max_velocity" in mark.line_text for mark in finding.marks)
    assert {figure.text for figure in finding.figures} >= {"600 mm/s", "100 mm/s"}


def test_workings_tell_the_two_machines_apart(tmp_path: Path, found: Catalogue) -> None:
    before = read(tmp_path, "old.yaml")
    after = read(tmp_path, "new.yaml", speed="600 mm/s", teeth="20")
    results = changed(before, after, found)
    finding = next(f for f in results.findings if f.rule == "speed-not-raised")
    steps = {step.name: step.result for step in finding.workings}
    assert steps["before.units_per_motor_rev"] == "5 mm/rev"
    assert steps["after.units_per_motor_rev"] == "10 mm/rev"
    assert steps["before.stages[0].ratio"] == "2"
    assert steps["after.stages[0].ratio"] == "1"
    assert "500 mm/s" in finding.workings[-1].filled


def test_a_fix_is_offered_in_the_new_file(tmp_path: Path, found: Catalogue) -> None:
    before, after = read(tmp_path, "old.yaml"), read(tmp_path, "new.yaml", speed="600 mm/s")
    results = changed(before, after, found)
    fix = next(f for f in results.findings if f.rule == "speed-not-raised").fix
    assert fix is not None
    assert fix.value == "500 mm/s"
    assert fix.place is not None
    assert Path(fix.place.file).name == "new.yaml"


def test_an_undecided_check_says_which_side_lacks_the_fact(
    tmp_path: Path, found: Catalogue
) -> None:
    before, after = read(tmp_path, "old.yaml"), read(tmp_path, "new.yaml")
    del before.axes[0]["controller.max_velocity"]
    results = changed(before, after, found)
    told = next(each for each in results.undecided if each.rule == "speed-not-raised")
    assert told.missing == ("before:axes.infeed.controller.max_velocity",)


def test_setting_a_machine_aside_leaves_it_as_it_is(tmp_path: Path) -> None:
    machine = read(tmp_path, "old.yaml")
    notes_of(machine.axes[0]).settings = {"faster": 2}
    aside = with_role(machine, "before")
    assert notes_of(machine.axes[0]).path == "axes.infeed"
    assert notes_of(aside.axes[0]).path == "before:axes.infeed"
    assert notes_of(aside.axes[0]["mechanics.stages"][0]).path == (
        "before:axes.infeed.mechanics.stages[0]"
    )
    assert notes_of(aside.axes[0]).machine is aside.facts
    assert notes_of(aside.axes[0]).settings["faster"] == 2
    path = "axes.infeed.mechanics.stages[0].load_side_teeth"
    assert aside.written("before:" + path) == machine.written(path) == "40"
    assert aside.places("before:" + path) == machine.places(path) != ()


def test_rules_about_a_change_are_no_part_of_an_ordinary_check(
    tmp_path: Path, found: Catalogue
) -> None:
    from axisproof.engine.engine import check_machine

    machine = read(tmp_path, "new.yaml", speed="600 mm/s")
    results = check_machine(machine, "hall", found, Options(every_outcome=True))
    assert all(outcome.rule != "speed-not-raised" for outcome in results.outcomes)


@pytest.mark.parametrize("text", [RULE, SPARE_RULE], ids=["change", "spare"])
def test_examples_about_two_machines_are_run_and_tell_mutants_apart(
    tmp_path: Path, text: str
) -> None:
    (tmp_path / "own.rules").write_text(text)
    report = run_rule_tests([tmp_path])
    assert report.clean
    assert report.rules == 1
    assert report.mutants > 0
    assert report.killed == report.mutants


def test_a_wrong_example_about_two_machines_is_told(tmp_path: Path) -> None:
    wrong = RULE.replace('"500.1 mm/s"', '"499 mm/s"').replace(
        "needs after.controller.max_velocity", "needs before.motor.serial"
    )
    (tmp_path / "own.rules").write_text(wrong)
    faults = [fault.what for fault in run_rule_tests([tmp_path]).faults]
    assert faults == [
        'fails "a hair more": the rule holds, by after.controller.max_velocity = 499 mm/s, '
        "before.controller.max_velocity = 500 mm/s",
        "before.motor.serial is not what is missing",
    ]


def test_an_example_names_no_other_axis(tmp_path: Path) -> None:
    wrong = RULE.replace('after.controller.max_velocity = "500.1 mm/s"', "axis.drive.node = 1")
    (tmp_path / "own.rules").write_text(wrong)
    (fault,) = run_rule_tests([tmp_path]).faults
    assert (fault.what, fault.expected) == (
        "axis is not what the rule looks at",
        "before or after or machine",
    )


def test_positions_of_two_machines_meet_only_under_one_motion() -> None:
    with pytest.raises(RuleError, match="cannot be compared"):
        from_texts({"own.rules": RULE.replace("when before.motion is after.motion", "")}, shipped())


def test_a_spare_is_held_against_what_is_fitted(tmp_path: Path) -> None:
    found = from_texts({"own.rules": SPARE_RULE}, shipped())
    fitted, machine = read(tmp_path, "hall.yaml"), read(tmp_path, "spare.yaml")
    fitted.axes[0]["encoder.counts_per_revolution"] = 4096
    machine.axes[0]["encoder.counts_per_revolution"] = 8192
    was = with_role(fitted, "fitted")
    case = spare_case(machine.axes[0], was.axes[0])
    results = check_cases("spare", [case], machine, "hall", found, Options(), was)
    (finding,) = [f for f in results.findings if f.rule == "spare-has-the-counts"]
    assert finding.message == "4096 count/rev became 8192 count/rev"
