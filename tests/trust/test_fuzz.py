"""The fuzzers' targets, shortly: changed inputs of each kind, and those that found something."""

from __future__ import annotations

import random
import time
from collections.abc import Sequence
from pathlib import Path

import pytest
from axisproof.base.errors import InputError
from axisproof.importing.device_reader import read_device
from hypothesis import given
from hypothesis import strategies as st

from tests.bench.fuzz.file_bundle import pack, unpack
from tests.bench.fuzz.mutate import changed, mutator, words
from tests.bench.fuzz.run import NAMES, main
from tests.bench.fuzz.seeds import CORPUS, finds, seeds
from tests.bench.fuzz.targets import TARGETS, FuzzTarget, use_input
from tests.examples import examples

LARGEST_CORPUS = 64 * 1024
"""Bytes of all committed finds together."""


def flipped(data: bytes, most: int) -> bytes:
    """What stands in for libFuzzer's own mutations: one byte is another."""
    if not data:
        return b"\x00"
    dice = random.Random(data)
    at = dice.randrange(len(data))
    return data[:at] + bytes([dice.randrange(256)]) + data[at + 1 :][: most - at]


def test_the_names_of_the_command_are_the_targets() -> None:
    assert set(NAMES) == set(TARGETS)


WATCHING = ("records", "trees", "repositories", "quoted")
"""Targets that begin with hostile inputs too, most of which are refused."""


@pytest.mark.exhaustive
@pytest.mark.parametrize("name", WATCHING)
def test_no_hostile_input_reaches_what_lies_outside_it(name: str) -> None:
    verdicts = [use_input(TARGETS[name], data) for data in seeds(name)]
    assert [each.words for each in verdicts if each.kind == "fault"] == []
    assert "read" in {each.kind for each in verdicts}


@pytest.mark.exhaustive
@pytest.mark.parametrize("name", [name for name in NAMES if name not in WATCHING])
def test_what_fuzzing_begins_with_can_be_used(name: str) -> None:
    found = {path.read_bytes() for path in finds(name)}  # which may be refused
    made = [data for data in seeds(name) if data not in found]
    for data in made[:: max(1, len(made) // 5)]:
        verdict = use_input(TARGETS[name], data)
        assert verdict.kind == "read", verdict.words


@pytest.mark.exhaustive
@pytest.mark.parametrize("name", NAMES)
def test_changed_inputs_are_read_or_refused(name: str) -> None:
    known = seeds(name)
    mutate = mutator(name, known, known, flipped)

    @examples(0.25)
    @given(st.integers(0, 2**32 - 1), st.integers(0, len(known) - 1))
    def check(dice: int, number: int) -> None:
        verdict = use_input(TARGETS[name], mutate(known[number], 16_000, dice))
        assert verdict.kind != "fault", verdict.words

    check()


@pytest.mark.exhaustive
@pytest.mark.parametrize(
    "path", [path for name in NAMES for path in finds(name)], ids=lambda path: path.name
)
def test_what_once_found_something_finds_nothing_any_more(path: Path) -> None:
    verdict = use_input(TARGETS[path.parent.name], path.read_bytes())
    assert verdict.kind != "fault", verdict.words


def test_a_record_in_the_compact_form_of_arrays_is_told_of_and_not_read(tmp_path: Path) -> None:
    (found,) = finds("device")
    path = tmp_path / "d.dcf"
    path.write_bytes(unpack(found.read_bytes(), ("device.dcf",))["device.dcf"])
    device = read_device(path)
    assert [str(remark) for remark in device.remarks] == [
        f"{path}:13:1: 0x1018 has CompactSubObj and is no array"
    ]
    with pytest.raises(InputError, match="has CompactSubObj and is no array"):
        device.whole((0x1018, 1))


def test_the_committed_finds_stay_small() -> None:
    sizes = [path.stat().st_size for path in CORPUS.rglob("*") if path.is_file()]
    assert sum(sizes) <= LARGEST_CORPUS


def test_every_kind_of_change_is_made_and_words_of_the_schemas_are_known() -> None:
    text = b"format: 1\naxes:\n  x:\n    motion: linear\n    drive: {node: 5}\n"
    made = {
        changed(text, random.Random(dice), [text], {b"node": [b"7"]}, ("m",), "m", flipped)
        for dice in range(300)
    }
    assert len(made) > 100
    assert any(b"node: 7" in each for each in made)
    assert {b"mechanics", b"rotary", b" mm/s", b"largest_multiple"} <= set(words())


@given(
    st.dictionaries(
        st.sampled_from(["a.yaml", "b.yaml"]),
        st.binary(min_size=1).map(lambda data: data.replace(b"===", b"") + b"\n"),
    )
)
def test_an_input_holds_its_files(files: dict[str, bytes]) -> None:
    assert unpack(pack(files), ("a.yaml", "b.yaml")) == files


# Faults are noticed -------------------------------------------------------------------------------


def verdict_of(fault: BaseException) -> tuple[str, str]:
    def use(folder: Path, names: Sequence[str], thorough: bool) -> bool:
        raise fault

    verdict = use_input(FuzzTarget(("m.yaml",), use), b"x")
    return verdict.kind, verdict.key.partition(" ")[0]


def test_any_other_exception_is_a_fault_and_axisproofs_own_a_refusal() -> None:
    assert verdict_of(ZeroDivisionError()) == ("fault", "ZeroDivisionError")
    assert verdict_of(RecursionError()) == ("fault", "RecursionError")
    assert verdict_of(InputError("no", expected="yes")) == ("refused", "")


def test_a_message_with_a_terminal_sequence_is_a_fault() -> None:
    class Careless(InputError):
        def __str__(self) -> str:
            return self.what

    from tests.bench.fuzz import targets

    with pytest.raises(targets.UnsafeOutput, match=r"U\+001B"):
        targets._check_text("a\x1b[31m", "a message")
    with pytest.raises(targets.UnsafeOutput, match=r"U\+202E"):
        targets._check_text("a\u202eb", "a message")
    assert verdict_of(Careless("a\x1b[31m"))[0] == "refused"  # the report writes it out


def test_an_input_that_takes_too_long_is_a_fault() -> None:
    def use(folder: Path, names: Sequence[str], thorough: bool) -> bool:
        end = time.process_time() + 20
        while time.process_time() < end:
            try:
                pow(3, 10_000)
            except Exception:  # what is too slow is not hidden by a handler
                continue
        return True

    assert use_input(FuzzTarget(("m.yaml",), use), b"x", seconds=0.05).key == "TooSlow"


def test_without_atheris_the_command_says_what_to_install(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    import sys

    monkeypatch.setitem(sys.modules, "atheris", None)
    assert main(["machine"]) == 2
    assert "pip install" in capsys.readouterr().err
