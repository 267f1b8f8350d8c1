"""The bounds of the steps that rules take on one machine."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import RuleError
from axisproof.catalogue.catalogue import catalogue
from axisproof.language import budget
from axisproof.source.limits import (
    MAX_AXES,
)
from axisproof.source.merge import load_tree

from tests.trust.refusing import EXAMPLES, RULE, refused, refused_rule

Patch = pytest.MonkeyPatch


@pytest.mark.parametrize(
    "require",
    [
        "every a in machine.axes has every b in machine.axes has true",
        "every a in machine.axes has every b in machine.axes where b.motion is linear has true",
        "every a in machine.axes has every b in machine.axes where b.name is machine.name has true",
        "every a in machine.axes has every b in machine.axes where b.name is b.motor.serial "
        "has true",
    ],
    ids=["no filter", "a word", "a fact of the machine", "a fact of its own"],
)
def test_every_item_with_every_other_is_refused_when_the_rule_is_read(require: str) -> None:
    refused_rule("meets every one of machine.axes", require, each="machine")


def machine_of(folder: Path, axes: int) -> Path:
    lines = [
        f"  a{n}: {{motion: linear, gantry: none, drive: {{node: {n % 100 + 1}}}}}"
        for n in range(axes)
    ]
    path = folder / "m.yaml"
    path.write_text("format: 1\nmachine: M\naxes:\n" + "\n".join(lines) + "\n")
    return path


QUADRATIC = {
    "a loop within a loop": (
        "machine",
        "every a in machine.axes has every b in machine.axes where b.motion is a.motion "
        "has (b.drive.node >= 0 or b.name is a.name)",
    ),
    "a loop for each axis": (
        "axis",
        "every b in machine.axes where b.motion is axis.motion "
        "has (b.drive.node >= 0 or b.name is axis.name)",
    ),
    "a count for each axis": (
        "axis",
        "(count of b in machine.axes where (b.motion is axis.motion and b.name is not axis.name))"
        " >= 0",
    ),
    "a list searched in a loop": (
        "machine",
        "every a in machine.axes has every b in machine.axes where b.motion is a.motion "
        "has not b.homes_after includes a.name",
    ),
    "pairs": (
        "axis with other where axis.motion is other.motion unordered",
        "axis.drive.node >= 0",
    ),
}


@pytest.mark.parametrize(("each", "require"), QUADRATIC.values(), ids=QUADRATIC.keys())
def test_loops_beyond_the_bound_end_in_one_error_that_names_rule_and_bound(
    each: str, require: str, tmp_path: Path, monkeypatch: Patch
) -> None:
    from axisproof.engine import engine, verdicts

    rules = tmp_path / "site.rules"
    rules.write_text(RULE.format(before="", each=each, require=require, examples=EXAMPLES))
    path = machine_of(tmp_path, 60)
    assert api.check([path], api.CheckOptions(rules=[rules])).axes == 60
    # 60 axes make 1,770 pairs: at 250 steps each, and 3,600 items of 3 steps or more in loops.
    for module in (budget, engine, verdicts):
        monkeypatch.setattr(module, "MAX_STEPS", 10_000)
    with pytest.raises(RuleError) as caught:
        api.check([path], api.CheckOptions(rules=[rules]))
    error = caught.value
    assert "rule site-x takes more than 10,000 steps on M, which has 60 axes" in error.what
    assert error.place is not None
    assert (Path(error.place.file).name, error.place.line) == ("site.rules", 3)
    assert error.expected


def test_what_rules_of_a_site_take_without_loops_is_bounded_together(
    tmp_path: Path, monkeypatch: Patch
) -> None:
    from axisproof.engine import engine, too_much

    rules = tmp_path / "site.rules"
    require = "axis.drive.node + 1 > 0 and axis.drive.node + 2 > 0"
    rules.write_text(RULE.format(before="", each="axis", require=require, examples=EXAMPLES))
    [steps] = catalogue([rules]).own_steps.values()
    for module in (engine, too_much):
        monkeypatch.setattr(module, "MAX_OWN_STEPS", 60 * steps)
    options = api.CheckOptions(rules=[rules])
    assert api.check([machine_of(tmp_path, 60)], options).axes == 60
    with pytest.raises(RuleError) as caught:
        api.check([machine_of(tmp_path, 61)], options)
    error = caught.value
    assert f"take {steps} steps for each of the 61 axes of M. Rule site-x takes" in error.what
    assert error.place is not None
    assert (Path(error.place.file).name, error.place.line) == ("site.rules", 3)
    assert f"at most {60 * steps} steps" in error.expected


def test_a_machine_of_which_little_is_stated_takes_steps_in_proportion_to_its_axes(
    tmp_path: Path, monkeypatch: Patch
) -> None:
    from axisproof.engine import engine, verdicts

    path = tmp_path / "m.yaml"
    lines = "".join(f"  a{number}: {{motion: linear}}\n" for number in range(400))
    path.write_text(f"format: 1\nmachine: M\naxes:\n{lines}")
    for module in (budget, engine, verdicts):
        monkeypatch.setattr(module, "MAX_STEPS", 400 * budget.MAX_STEPS // MAX_AXES)
    assert len(api.check([path]).undecided) > 400


def test_the_bound_is_for_each_rule_anew_and_the_shipped_rules_stay_far_below_it(
    tmp_path: Path, monkeypatch: Patch
) -> None:
    from axisproof.engine import engine, verdicts

    for module in (budget, engine, verdicts):
        monkeypatch.setattr(module, "MAX_STEPS", 200_000)
    assert api.check([machine_of(tmp_path, 150)]).axes == 150


DEFINED = """define axis.alike
  kind    number
  meaning "axes that move like this one"
  as      count of b in machine.axes where b.motion is axis.motion
"""


def test_what_follows_from_the_facts_is_bounded_too(tmp_path: Path, monkeypatch: Patch) -> None:
    from axisproof.catalogue.catalogue import catalogue
    from axisproof.editor.facts import fact_hover
    from axisproof.machine.reader import read_machine

    rules = tmp_path / "site.rules"
    rules.write_text(f"language 2\n{DEFINED}")
    path = machine_of(tmp_path, 60)
    machine, known = read_machine(load_tree(path)), catalogue([rules])

    def told() -> str:
        return fact_hover(("axes", "a1"), True, read_machine(load_tree(path)), known, ())

    assert len(api.show(path, rules=[rules])) == 60
    assert "alike" in told().replace("\\", "")
    assert machine.axes
    monkeypatch.setattr(budget, "MAX_STEPS", 100)
    refused(lambda: api.show(path, rules=[rules]), "take more than 100 steps", RuleError)
    assert "alike" not in told()


def test_the_examples_of_a_rule_are_bounded_too(tmp_path: Path, monkeypatch: Patch) -> None:
    rules = tmp_path / "site.rules"
    axes = " ".join(f"a{number}.motion = linear" for number in range(40))
    each, require = QUADRATIC["a count for each axis"]
    examples = EXAMPLES.replace("axis.motion = linear", axes)
    rules.write_text(RULE.format(before="", each=each, require=require, examples=examples))
    monkeypatch.setattr(budget, "MAX_STEPS", 1000)
    (fault,) = api.test_rules([rules]).faults
    assert "take more than 1,000 steps" in fault.what


def test_outside_a_check_nothing_is_counted() -> None:
    assert list(budget.metered(range(10**6), 10**6))[-1] == 10**6 - 1
    with budget.limited(), pytest.raises(budget.TooManySteps):
        budget.charged(range(10**6), 100)
    assert budget.charged(range(10**6), 10**6)


def test_steps_are_charged_as_far_as_a_loop_goes() -> None:
    with budget.limited():
        for _ in range(1000):  # each looks at the first items only
            for item in budget.metered(range(10**6), 100):
                assert item == 0
                break
