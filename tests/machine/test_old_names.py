"""A fact that was renamed: whoever writes its old name is told the new one, wherever that is."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.base.errors import AxisproofError
from axisproof.cli.main import run
from axisproof.machine.old_names import OLD_NAMES
from axisproof.machine.reader import read_machine
from axisproof.machine.schema import axis_type, facts
from axisproof.source.merge import load_tree

from tests.language.evaluating import assert_refused, checked

PLACES = {
    "evaluation": ("encoder", "4"),
    "velocity_gain": ("controller", "30 1/s"),
    "vertical": ("mechanics", "true"),
}


def test_no_old_name_is_that_of_a_fact() -> None:
    names = {path.rpartition(".")[2] for path in facts(axis_type())}
    assert names.isdisjoint(OLD_NAMES)
    assert names >= set(OLD_NAMES.values())


@pytest.mark.parametrize("old", OLD_NAMES)
def test_a_machine_file_with_an_old_name_is_told_the_new_one(old: str, tmp_path: Path) -> None:
    part, value = PLACES[old]
    path = tmp_path / "a.yaml"
    text = f"format: 1\nmachine: m\naxes:\n  a:\n    motion: linear\n    {part}: {{{old}: {value}}}"
    path.write_text(text, "utf-8")
    with pytest.raises(AxisproofError) as caught:
        read_machine(load_tree(path))
    assert caught.value.expected == f"its new name, '{OLD_NAMES[old]}'"


@pytest.mark.parametrize("old", OLD_NAMES)
def test_a_rule_with_an_old_name_is_told_the_new_one(old: str) -> None:
    path = f"{PLACES[old][0]}.{old}"
    new = f"axis.{PLACES[old][0]}.{OLD_NAMES[old]}"
    assert_refused(lambda: checked(f"axis.{path} is none"), "is not a fact", new)


@pytest.mark.parametrize("old", OLD_NAMES)
def test_explain_of_an_old_name_gives_the_new_one(
    old: str, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert run(["explain", old]) == 2
    assert OLD_NAMES[old].encode() in capsysbinary.readouterr().err
