"""A record that is not as it was written is refused in one message, whatever it holds instead."""

from __future__ import annotations

import copy
import io
import json
import os
import random
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

import pytest
from axisproof.batch import shards
from axisproof.cli.main import run
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples

FIXTURES = Path(__file__).parent.parent.parent / "fixtures"
DETAILS = ["--workings", "--every-outcome", "--pictures"]


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("record") / "r.json"
    machine = str(FIXTURES / "changes/lift/speed-raised-past-room.yaml")
    assert run(["check", machine, "--on", "2026-06-01", *DETAILS, "--record", str(path)]) == 1
    return path


def merged(*arguments: str) -> tuple[int, str, str]:
    """The status of a merge, and what it writes to standard output and error."""
    out, error = (io.TextIOWrapper(io.BytesIO(), "utf-8", write_through=True) for _ in range(2))
    with redirect_stdout(out), redirect_stderr(error):
        status = run(["merge", *arguments])
    first, second = (each.buffer.getvalue().decode() for each in (out, error))  # type: ignore[attr-defined]
    return status, first, second


def refused(path: Path, expected: str = "") -> None:
    """The record is refused by one message that names it and says what was expected."""
    status, out, error = merged(str(path))
    told = " ".join(error.split())
    assert (status, out) == (2, "")
    assert told.startswith(("Unusable input: ", "Cannot do this: "))
    assert path.name in told
    assert "expected: " in told
    assert expected in told


@examples(0.3)
@given(st.integers(0, 2**32), st.integers(0, 7))
def test_no_flipped_bit_goes_unnoticed(record: Path, at: int, bit: int) -> None:
    data = bytearray(record.read_bytes())
    data[at % len(data)] ^= 1 << bit
    bad = record.with_name("flipped.json")
    bad.write_bytes(data)
    refused(bad)


@examples(0.2)
@given(st.integers(0, 2**32))
def test_no_missing_end_goes_unnoticed(record: Path, at: int) -> None:
    data = record.read_bytes()
    bad = record.with_name("cut.json")
    bad.write_bytes(data[: at % len(data)])
    refused(bad)


@pytest.mark.parametrize("encoding", ["utf-16", "utf-32-le", "utf-8-sig", "utf-7"])
def test_another_encoding_is_refused(encoding: str, record: Path, tmp_path: Path) -> None:
    bad = tmp_path / "bad.json"
    bad.write_bytes(record.read_text("utf-8").encode(encoding))
    refused(bad)


def test_a_record_written_anew_by_another_program_is_refused(record: Path, tmp_path: Path) -> None:
    bad = tmp_path / "bad.json"
    bad.write_text(json.dumps(json.loads(record.read_text("utf-8")), indent=1), "utf-8")
    refused(bad, "bad.json is damaged")


def resealed(record: Path, content: dict[str, Any], name: str = "bad.json") -> Path:
    bad = record.with_name(name)
    bad.write_text(shards.sealed(content), "utf-8")
    return bad


def content(record: Path) -> dict[str, Any]:
    plain: dict[str, Any] = json.loads(record.read_text("utf-8"))
    del plain["digest"], plain[shards.KEY]
    return plain


@pytest.mark.parametrize(
    ("key", "value"),
    [
        *(("concerns", value) for value in ([], [1], "x", None, 5, {"a": None})),
        *(("files", value) for value in ({}, {"a": 1}, [1], ["number"], None, "x", [[]])),
        *(("shard", value) for value in ({"a": 1, "b": 2}, "12", [1], [10**30, 10**30], [1, 0])),
        *(("archive", value) for value in (None, 1, [], {})),
        *(("rules", value) for value in (None, -(10**30), 10**4000, 1.5, True, "1")),
        *(("level_changes", value) for value in (None, {}, [1], [{}], "x", 5)),
    ],
)
def test_a_part_of_another_kind_is_refused(key: str, value: Any, record: Path) -> None:
    bad = resealed(record, {**content(record), key: value})
    refused(bad, "bad.json is damaged")


PLACE = {"file": "m.yaml", "line": 1, "column": 1, "end_line": 1, "end_column": 2}


@pytest.mark.parametrize(
    "change",
    [
        *({name: value} for name in ("line", "column") for value in (0, -1, 10**12, 10**40, 1.5)),
        *({name: 0} for name in ("end_line", "end_column")),
        {"end_column": 10**12},
        {"file": None},
        {"line": "1"},
        {"more": 1},
    ],
)
def test_a_place_that_no_file_has_is_refused(change: dict[str, Any], record: Path) -> None:
    plain = content(record)
    finding = plain["files"][0]["record"]["findings"][0]
    finding["marks"][0]["place"] = {**PLACE, **change}
    refused(resealed(record, plain), "bad.json is damaged")


def test_a_number_that_is_none_is_refused(record: Path) -> None:
    plain = content(record)
    marks = plain["files"][0]["record"]["findings"][0]["figures"]
    rest = shards.sealed({**plain, "concerns": {"a": "NUMBER"}})
    assert marks
    for number in ("NaN", "Infinity", "-Infinity", "1e999"):
        marks[0]["exact"] = {"value": "NUMBER", "unit": ""}
        rest = json.dumps(plain)[1:].replace('"NUMBER"', number) + "\n"
        bad = record.with_name("bad.json")
        bad.write_text("".join(shards.sealed_pieces([rest])), "utf-8")
        refused(bad, "bad.json is damaged")


ODD: list[Any] = [
    *(None, True, False, 0, -1, 1, 1.5, 2**31, 2**63, -(2**70), 10**40, 10**4000),
    *("", "x", "\x1b[31m", "\u202e", "\ud800", "\x00", "::error::x", "##vso[x]", "<b>", "a\nb"),
    *("9" * 5000, "../../x", "/etc/passwd", "2026-01-01", "error", "holds"),
    *([], {}, [[]], [{}], {"a": 1}, {"fraction": [1, 0]}, {"fraction": [1, 10**300]}),
    *({"pi": [1, 1, 10**9]}, {"pi": [1, 3, -60]}, {"pi": [0, 1, 1]}, {"approx": ["inf", "0"]}),
    *({"approx": ["0x1p99999", "x"]}, {"approx": ["nan", "nan"]}, {"approx": ["1", "-1"]}),
]


def nodes(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Paths of all values, those of lists at most at three items each."""
    yield path
    if isinstance(value, dict):
        for key in value:
            yield from nodes(value[key], (*path, key))
    elif isinstance(value, list):
        for number in range(min(3, len(value))):
            yield from nodes(value[number], (*path, number))


def altered(plain: dict[str, Any], dice: random.Random) -> dict[str, Any]:
    """A content with one to three values changed, doubled or left out."""
    plain = copy.deepcopy(plain)
    for _ in range(dice.choice((1, 1, 2, 3))):
        paths = [path for path in nodes(plain) if path]
        *above, last = dice.choice(paths)
        here: Any = plain
        for part in above:
            here = here[part]
        roll = dice.random()
        if roll < 0.1:
            del here[last]
        elif roll < 0.2 and isinstance(here, list):
            here.append(copy.deepcopy(here[last]))
        else:
            here[last] = dice.choice(ODD)
    return plain


@examples(0.5)
@given(st.randoms(use_true_random=False), st.sampled_from(["text", "json", "sarif", "html"]))
def test_whatever_a_sealed_record_holds_there_is_a_report_or_one_message(
    record: Path, dice: random.Random, form: str
) -> None:
    bad = resealed(record, altered(content(record), dice), "sealed.json")
    status, out, error = merged(str(bad), "--format", form)
    assert "Unforeseen" not in error
    assert (status == 2) == bool(error)
    assert not (status == 2 and out)
    assert "\x1b" not in out + error
    assert len(out) < 20_000_000


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names here")
def test_what_is_no_file_is_refused(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.json")
    (tmp_path / "folder.json").mkdir()
    (tmp_path / "circle.json").symlink_to("circle.json")
    for name in ("pipe", "folder"):
        refused(tmp_path / f"{name}.json", "is not a file")
    refused(tmp_path / "circle.json")
    refused(tmp_path / ("a" * 300))
    refused(Path("/dev/zero"), "/dev/zero is not a file")


def test_a_record_that_is_too_large_is_refused_before_it_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shards, "MAX_RECORD", 1 << 20)
    with (tmp_path / "large.json").open("wb") as stream:
        stream.truncate(1 << 40)
    refused(tmp_path / "large.json", "large.json is larger than 1 MiB")


def test_a_record_at_its_bound_is_read(record: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    size = record.stat().st_size
    monkeypatch.setattr(shards, "MAX_RECORD", size)
    assert merged(str(record))[0] == 1
    monkeypatch.setattr(shards, "MAX_RECORD", size - 1)
    refused(record, "is larger than")


def test_records_of_no_machine_are_no_report(record: Path) -> None:
    bad = resealed(record, {**content(record), "files": []})
    status, out, error = merged(str(bad))
    assert (status, out) == (2, "")
    assert "the records hold no machine" in error


def test_a_record_given_twice_is_refused(record: Path) -> None:
    status, _, error = merged(str(record), str(record))
    assert status == 2
    assert "are both of shard 1/1" in " ".join(error.split())


def test_a_record_of_another_version_says_so(record: Path) -> None:
    plain = content(record)
    plain["conditions"]["version"] = "9.9"
    refused(resealed(record, plain), "written by another axisproof (version 9.9)")
    bad = record.with_name("bad.json")
    bad.write_text(json.dumps({shards.KEY: 1, "conditions": {"version": "0.0"}}), "utf-8")
    refused(bad, "written by another axisproof (version 0.0)")


def test_what_a_record_names_is_not_quoted_if_it_is_another_file(
    record: Path, tmp_path: Path
) -> None:
    secret = tmp_path / "secret.yaml"
    secret.write_text("password: [hidden\n")
    waivers = tmp_path / "waivers.yaml"
    plain = content(record)
    plain["files"][0]["record"]["file"] = str(secret)
    machine = plain["files"][0]["record"]["machine"]
    waivers.write_text(
        "waivers: 1\nentries:\n- {rule: software-limits-leave-room-to-stop, "
        f'machine: "{machine}", axis: lift, reason: r, approved_by: a, expires: 2026-12-31, '
        "values: {controller.max_velocity: 1 mm/s}}\n"
    )
    bad = resealed(record, plain)
    status, _, told = merged(str(bad), "--waivers", str(waivers))
    assert status == 2
    assert "has changed since it was checked" in " ".join(told.split())
    assert "hidden" not in told
