"""After any edits the editor tells what a fresh check tells."""

from __future__ import annotations

import shutil
from collections import Counter
from pathlib import Path
from random import Random
from typing import Any

import pytest
from axisproof.base.errors import AxisproofError
from axisproof.catalogue.catalogue import shipped
from axisproof.checking.reading import read_machines
from axisproof.editor.diagnostics import of_finding
from axisproof.editor.machines import Workspace
from axisproof.editor.side_files import SideFileOptions
from axisproof.editor.state import CheckedTexts, ServerState, check_texts
from axisproof.engine.again import Stale, rules_by_reach
from axisproof.engine.engine import Options, check_machine
from axisproof.source.reader import Reader
from hypothesis import given
from hypothesis import strategies as st

from tests.editor.editor_helpers import FIXTURES
from tests.editor.edits import edited, written
from tests.examples import examples

OPTIONS = SideFileOptions()


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A file in a folder of its own, which is never written."""
    return (tmp_path_factory.mktemp("editing") / "machine.yaml").resolve()


def checked(path: Path, text: str, last: CheckedTexts | None = None) -> CheckedTexts:
    return check_texts({path: text}, OPTIONS, Workspace(), last or CheckedTexts())


def told(found: CheckedTexts) -> dict[Path, Counter[Any]]:
    return {path: Counter(each) for path, each in found.diagnostics.items()}


def compare(path: Path, seed: int, steps: int) -> None:
    """Edit a machine, and compare what is told with a whole check of each text."""
    random = Random(f"editing {seed}")
    text = good = written(seed, random.randint(1, 5))
    last: CheckedTexts | None = None
    for _ in range(steps):
        last = checked(path, text, last)
        assert told(last) == told(checked(path, text)), text
        rules = last.side_files.rules
        assert rules is not None
        try:
            ((machine, label),) = read_machines(
                [path], rules, None, Reader.of({path: text})
            ).machines
        except AxisproofError:
            assert any(not each.rule for each in last.diagnostics[path])
        else:
            good = text
            whole = check_machine(machine, label, rules.catalogue, Options())
            shown = [each for each in last.machines[path].diagnostics if each.severity != "hint"]
            assert Counter(shown) == Counter(filter(None, map(of_finding, whole.findings)))
            (judged,) = last.machines[path].judged
            assert judged.judgement is not None
            assert Counter(judged.judgement.undecided) == Counter(whole.undecided)
        text = edited(text if random.random() < 0.3 else good, random)


@given(seed=st.integers(0, 1_000_000))
@examples(0.1)
def test_findings_after_any_edits_are_those_of_a_fresh_check(path: Path, seed: int) -> None:
    compare(path, seed, 3)


@pytest.mark.exhaustive
def test_findings_after_many_edits_are_those_of_a_fresh_check(path: Path) -> None:
    for seed in range(60):
        compare(path, seed, 15)


@pytest.mark.exhaustive
@pytest.mark.parametrize(
    ("names", "options"),
    [
        (("sound/hall.yaml", "sound/mechanics.yaml"), OPTIONS),
        (("sound/table.json",), OPTIONS),
        (
            ("site/cell.yaml",),
            SideFileOptions((FIXTURES / "site/rules",), FIXTURES / "site/settings.yaml"),
        ),
    ],
)
def test_findings_of_several_files_of_json_and_of_own_rules_are_those_of_a_fresh_check(
    tmp_path: Path, names: tuple[str, ...], options: SideFileOptions
) -> None:
    workspace = Workspace((tmp_path.resolve(),))
    good = {}
    for name in names:
        file = Path(shutil.copy(FIXTURES / name, tmp_path)).resolve()
        good[file] = file.read_text("utf-8")
    for seed in range(8):
        random, texts, last = Random(seed), good, CheckedTexts()
        for _ in range(6):
            last = check_texts(texts, options, workspace, last)
            fresh = check_texts(texts, options, Workspace(workspace.folders), CheckedTexts())
            assert told(last) == told(fresh), seed
            usable = all(each.machines for each in last.machines.values())
            texts = texts if usable else good
            file = random.choice([*texts])
            texts = {**texts, file: edited(texts[file], random)}


def judged_again(found: CheckedTexts) -> tuple[str, ...]:
    ((judged,),) = [each.judged for each in found.machines.values()]
    assert judged.judgement is not None
    return judged.judgement.judged_again


def test_only_the_axes_that_state_something_else_are_judged_again(path: Path) -> None:
    axis = "    motion: linear\n    drive: {node: 1}\n    controller: {homing: {after: [a]}}\n"
    text = f"format: 1\nmachine: M\naxes:\n  a:\n{axis}  b:\n{axis}  c:\n    motion: rotary\n"
    first = checked(path, text)
    assert judged_again(first) == ("a", "b", "c")
    note = checked(path, text.replace("  b:", "  # note\n  b:"), first)
    assert judged_again(note) == ()
    node = checked(path, text.replace("  b:\n    motion: linear", "  b:\n    motion: rotary"), note)
    assert judged_again(node) == ("b",)
    order = checked(path, text.replace("after: [a]", "after: [c]", 1), first)
    assert judged_again(order) == ("a", "b")  # b waits for a, and so for c
    bound = "settings:\n  turn_range_margin: {value: 20 %, reason: long tools}\n"
    assert judged_again(checked(path, text + bound, first)) == ("a", "b", "c")


def test_rules_are_kept_by_axis_only_if_they_read_nothing_of_another() -> None:
    found = rules_by_reach(shipped())
    across = {entry.name for entry in found.across}
    beside = {entry.name for entry in found.beside}
    assert {"records-are-not-of-tomorrow", "drive-found-on-network"} <= beside
    assert "cycle-times-are-multiples" not in {entry.name for entry in found.alone}
    assert all(entry.range is None for entry in (*found.alone, *found.beside))
    assert len(found.alone) > 100
    assert across


def test_a_change_ends_the_check_that_runs(path: Path) -> None:
    state = ServerState()
    state.open(path, "format: 1\nmachine: M\naxes:\n  a: {motion: linear}\n")
    with pytest.raises(Stale):
        state.check(lambda: True)()
