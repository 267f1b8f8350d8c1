"""Results kept for files that have not changed: never stale, never in the way."""

from __future__ import annotations

import datetime
import errno
import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.base import safe_write
from axisproof.base.errors import InputError, UsageError
from axisproof.batch import cache, codec, run_conditions
from axisproof.checking import record
from axisproof.checking.record import Record
from axisproof.cli import main as cli
from axisproof.findings.finding import Feature, Figure, Report
from axisproof.numbers.exact import Approx, Number, Pi
from axisproof.numbers.rational import Fraction, norm
from axisproof.report.formats import FORMS, renderer
from axisproof.report.rendering import RenderOptions
from axisproof.source.reader import digest_of
from hypothesis import given
from hypothesis import strategies as st

from tests.batch.batch_helpers import RULES, SITE, archive
from tests.numbers.random_fractions import random_fractions

DAY = datetime.date(2026, 6, 1)
Captured = pytest.CaptureFixture[str]


@pytest.fixture
def plant(tmp_path: Path) -> Path:
    folder = tmp_path / "plant"
    folder.mkdir()
    (folder / "site.rules").write_text(RULES, "utf-8")
    (folder / "site.yaml").write_text(SITE, "utf-8")
    archive(folder / "machines", 3)
    return folder


@pytest.fixture
def judged(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The files that were checked and not taken from the cache."""
    names: list[str] = []
    real = record.record_of

    def noting(candidate: Any, *rest: Any) -> Any:
        names.append(candidate.path.name)
        return real(candidate, *rest)

    monkeypatch.setattr(record, "record_of", noting)
    return names


def checked(plant: Path, noted: Callable[[str], None] | None = None, **options: Any) -> Report:
    given: dict[str, Any] = {
        "rules": [plant / "site.rules"],
        "settings": plant / "site.yaml",
        "on": DAY,
        "cache": plant / "kept",
    }
    return api.check([plant / "machines"], api.CheckOptions(**(given | options)), noted=noted)


@pytest.mark.exhaustive
def test_reports_from_the_cache_are_the_same_in_every_form(plant: Path, judged: list[str]) -> None:
    all_there_is = {"workings": True, "every_outcome": True, "sketches": True}
    without = checked(plant, cache=None, **all_there_is)
    first = checked(plant, **all_there_is)
    assert len(without.findings) > 5
    assert len(without.undecided) > 5
    assert without.sketches
    judged.clear()
    second = checked(plant, **all_there_is)
    assert judged == []
    assert without == first == second
    for form in FORMS:
        options = RenderOptions(workings=True)
        assert renderer(form)(without, options) == renderer(form)(second, options), form


def append(path: Path, text: str) -> None:
    path.write_text(path.read_text("utf-8") + text, "utf-8")


def replace_in(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")


CHANGES: dict[str, tuple[Callable[[Path], Any], set[str]]] = {
    "the file itself": (lambda p: append(p / "machines/m001.yaml", "# a\n"), {"m001.yaml"}),
    "a file that it includes": (
        lambda p: replace_in(p / "machines/mechanics.yaml", "45 kg", "46 kg"),
        {"hall.yaml"},
    ),
    "the mapping of an export": (
        lambda p: append(p / "machines/cell/controller.mapping.yaml", "# a\n"),
        {"project.yaml"},
    ),
    "a parameter list": (
        lambda p: [append(each, "\n") for each in (p / "machines/cell").glob("*.csv")],
        {"project.yaml"},
    ),
    "a device file": (
        lambda p: [append(each, "\n") for each in (p / "machines/cell").glob("*.dcf")],
        {"project.yaml"},
    ),
    "the name of the file": (
        lambda p: shutil.move(p / "machines/m001.yaml", p / "machines/m009.yaml"),
        {"m009.yaml"},
    ),
}


@pytest.mark.exhaustive
@pytest.mark.parametrize("what", CHANGES)
def test_a_change_of_a_file_is_seen_and_nothing_else_is_checked_again(
    plant: Path, judged: list[str], what: str
) -> None:
    change, again = CHANGES[what]
    checked(plant)
    change(plant)
    judged.clear()
    kept = checked(plant)
    assert set(judged) == again
    assert kept == checked(plant, cache=None)


def test_an_included_file_that_is_gone_is_missed(plant: Path) -> None:
    checked(plant)
    (plant / "machines" / "mechanics.yaml").unlink()
    errors = set()
    for folder in (plant / "kept", None):
        with pytest.raises(InputError, match="yaml cannot be read") as raised:
            checked(plant, cache=folder)
        errors.add(str(raised.value))
    assert len(errors) == 1


OPTIONS: dict[str, dict[str, Any]] = {
    "the day": {"on": datetime.date(2026, 6, 2)},
    "workings": {"workings": True},
    "every outcome": {"every_outcome": True},
    "pictures": {"sketches": True},
    "no rules of the site": {"rules": [], "settings": None},
    "no settings": {"settings": None},
}


@pytest.mark.exhaustive
@pytest.mark.parametrize("what", OPTIONS)
def test_whatever_alters_the_outcome_lets_all_be_checked_again(
    plant: Path, judged: list[str], what: str
) -> None:
    checked(plant)
    number = len(judged)
    judged.clear()
    kept = checked(plant, **OPTIONS[what])
    assert len(judged) == number
    assert kept == checked(plant, cache=None, **OPTIONS[what])
    judged.clear()
    checked(plant)  # what was kept before is still there
    assert judged == []


def rewrite_rule(plant: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    replace_in(plant / "site.rules", "drive.node > 3", "drive.node > 2")
    replace_in(plant / "site.rules", "drive.node = 3", "drive.node = 2")


SITE_CHANGES: dict[str, Callable[[Path, pytest.MonkeyPatch], Any]] = {
    "a rule of the site": rewrite_rule,
    "a setting": lambda p, m: replace_in(p / "site.yaml", "100 d", "101 d"),
    "a reason": lambda p, m: replace_in(p / "site.yaml", "we are slow", "we are not"),
    "a level": lambda p, m: replace_in(p / "site.yaml", '"off"', '"note"'),
    "the code": lambda p, m: m.setattr(run_conditions, "code_digest", lambda: "other"),
    "the version of a library": lambda p, m: m.setattr(
        run_conditions, "_version", lambda name: name
    ),
    "the interpreter": lambda p, m: m.setattr(sys, "version", "4.0"),
}


@pytest.mark.exhaustive
@pytest.mark.parametrize("what", SITE_CHANGES)
def test_a_change_of_rules_settings_or_program_lets_all_be_checked_again(
    plant: Path, judged: list[str], what: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    checked(plant)
    number = len(judged)
    SITE_CHANGES[what](plant, monkeypatch)
    judged.clear()
    kept = checked(plant)
    assert len(judged) == number
    assert kept == checked(plant, cache=None)


def test_the_digest_of_the_code_covers_code_rules_and_schemas(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = set()
    monkeypatch.syspath_prepend(tmp_path)
    for package in ("onepart", "onepart.inner"):
        folder = tmp_path / package.replace(".", "/")
        folder.mkdir()
        (folder / "__init__.py").write_text("x = 1\n", "utf-8")
    monkeypatch.setattr(run_conditions, "PACKAGES", ("onepart",))
    for change in ("__init__.py", "inner/__init__.py", "new.rules", "inner/machine.schema.json"):
        seen.add(run_conditions.code_digest.__wrapped__())
        path = tmp_path / "onepart" / change
        path.write_text((path.read_text("utf-8") if path.exists() else "") + "#\n", "utf-8")
    seen.add(run_conditions.code_digest.__wrapped__())
    assert len(seen) == 5
    cached = tmp_path / "onepart" / "__pycache__"
    cached.mkdir(exist_ok=True)
    (cached / "x.pyc").write_bytes(b"x")
    assert run_conditions.code_digest.__wrapped__() in seen


def test_a_link_that_leads_elsewhere_is_noticed(plant: Path, judged: list[str]) -> None:
    machines = plant / "machines"
    shutil.copy(machines / "mechanics.yaml", machines / "other.yaml")
    (machines / "mechanics.yaml").rename(machines / "one.yaml")
    (machines / "mechanics.yaml").symlink_to("one.yaml")
    first = checked(plant)
    assert any(name.endswith("one.yaml") for name in first.files)
    (machines / "mechanics.yaml").unlink()
    (machines / "mechanics.yaml").symlink_to("other.yaml")
    judged.clear()
    second = checked(plant)
    assert "hall.yaml" in judged  # the content is the same, but it stands in another file
    assert second == checked(plant, cache=None)
    assert second != first


def test_files_of_one_name_in_two_checkouts_share_entries(
    plant: Path, judged: list[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    shutil.copytree(plant, tmp_path / "again", ignore=shutil.ignore_patterns("kept"))
    reports = []
    for place in (plant, tmp_path / "again"):
        monkeypatch.chdir(place)
        judged.clear()
        reports.append(api.check(["machines"], api.CheckOptions(on=DAY, cache=plant / "kept")))
    assert judged == []
    assert reports[0] == reports[1]


def test_a_file_with_an_error_is_not_kept(plant: Path) -> None:
    bad = plant / "machines" / "m001.yaml"
    bad.write_text("format: 1\nmachine: x\naxes: {a: {motion: up}}\n", "utf-8")
    messages = set()
    for _ in range(2):
        with pytest.raises(InputError) as raised:
            checked(plant)
        messages.add(str(raised.value))
    assert len(messages) == 1


def test_unsaved_texts_neither_use_nor_fill_the_cache(plant: Path) -> None:
    file = plant / "machines" / "m001.yaml"
    checked(plant, texts={file: file.read_text("utf-8") + "# x\n"})
    assert not (plant / "kept").exists()


# Entries that are not what they should be ---------------------------------------------------------


def entries(folder: Path) -> list[Path]:
    return sorted(folder.rglob("*" + cache.ENDING))


def sealed(body: bytes) -> bytes:
    return digest_of(body).encode() + b"\n" + body


def spoiled(data: bytes) -> dict[str, bytes]:
    """What an entry may turn into by accident, by another program or by ill will."""
    body = data.partition(b"\n")[2]
    plain = json.loads(body)

    def altered(**changes: Any) -> bytes:
        return sealed(json.dumps({**plain, **changes}).encode())

    def recorded(**changes: Any) -> bytes:
        return altered(record={**plain["record"], **changes})

    name = plain["record"]["file"]
    return {
        "nothing": b"",
        "cut off": data[: len(data) // 2],
        "one byte": data[:-9] + bytes([data[-9] ^ 1]) + data[-8:],
        "no JSON": sealed(b"{"),
        "deep": sealed(b"[" * 100_000),
        "a list": sealed(b"[]"),
        "a number of many digits": sealed(b"9" * 5000),
        "not UTF-8": sealed(b"\xff\xfe"),
        "no record": altered(record=None),
        "another key": altered(key="0" * 40),
        "no files": altered(files={}),
        "files that are none": altered(files=[1, 2]),
        "another file's record": recorded(file=name + "x"),
        "not judged": recorded(judged=False),
        "findings that are none": recorded(findings=[{"rule": "x"}]),
        "a text for a number": recorded(axes="1"),
        "a flag for a number": recorded(axes=True),
        "one field more": recorded(more=1),
        "a file outside": altered(files={**plain["files"], "/etc/passwd": "x" * 40}),
        "a file above": altered(files={**plain["files"], str(Path(name).parent) + "/../x": "x"}),
        "a name with a NUL": altered(files={**plain["files"], str(Path(name).parent) + "/\0": "x"}),
        "a link that is none": altered(links=[["x", 1, 2]]),
        "a link of two parts": altered(links=[["x", "y"]]),
    }


@pytest.mark.exhaustive
def test_an_entry_that_is_not_whole_or_not_ours_counts_as_none(
    plant: Path, judged: list[str]
) -> None:
    shutil.rmtree(plant / "machines")
    archive(plant / "machines", 1)
    shutil.rmtree(plant / "machines" / "cell")
    for each in (plant / "machines").iterdir():
        if each.name != "m000.yaml":
            each.unlink()
    right = checked(plant)
    (entry,) = entries(plant / "kept")
    whole = entry.read_bytes()
    for what, data in spoiled(whole).items():
        entry.write_bytes(data)
        judged.clear()
        assert checked(plant) == right, what
        assert judged == ["m000.yaml"], what
        assert entry.read_bytes() == whole, what
    entry.unlink()
    os.mkfifo(entry)
    judged.clear()
    assert checked(plant) == right
    assert entry.read_bytes() == whole  # a pipe would have made it wait for ever
    judged.clear()
    checked(plant)
    assert judged == []


@given(st.binary(max_size=300), st.booleans())
def test_no_bytes_upset_the_reader(tmp_path_factory: Any, data: bytes, seal: bool) -> None:
    path = tmp_path_factory.getbasetemp() / "any.entry"
    path.write_bytes(sealed(data) if seal else data)
    cache._read_entry(path)


# Writing ------------------------------------------------------------------------------------------


def test_a_folder_with_other_things_is_left_alone(plant: Path) -> None:
    before = sorted(plant.rglob("*"))
    with pytest.raises(UsageError, match="holds other things than results of axisproof"):
        checked(plant, cache=plant / "machines")
    assert sorted(plant.rglob("*")) == before


@pytest.mark.exhaustive
@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EROFS, errno.EACCES])
@pytest.mark.parametrize("jobs", [1, 2])
def test_a_folder_that_takes_nothing_is_told_once_and_changes_nothing(
    plant: Path, monkeypatch: pytest.MonkeyPatch, code: int, jobs: int
) -> None:
    checked(plant)
    right = checked(plant, cache=None)
    shutil.rmtree(plant / "kept")
    (plant / "kept").mkdir()
    safe_write.put_file(plant / "kept" / cache.TAG, cache.TAG_TEXT.encode())
    if jobs > 1:  # another process: nothing that is changed here reaches it
        for first in range(256):
            (plant / "kept" / f"{first:02x}").write_text("in the way", "utf-8")
    else:

        def refuse(path: Path, data: bytes) -> None:
            raise OSError(code, os.strerror(code), str(path))

        monkeypatch.setattr(cache, "put_file", refuse)
    notes: list[str] = []
    assert checked(plant, noted=notes.append, jobs=jobs) == right
    assert len(notes) == 1
    assert "The report is complete without it" in notes[0]
    assert entries(plant / "kept") == []


def test_a_file_in_place_of_the_folder_is_told_on_standard_error(
    plant: Path, capsys: Captured
) -> None:
    (plant / "kept").write_text("a file", "utf-8")
    arguments = ["check", str(plant / "machines"), "--on", "2026-06-01"]
    status = cli.run(arguments)
    right = capsys.readouterr()
    assert cli.run([*arguments, "--cache", str(plant / "kept" / "below")]) == status
    told = capsys.readouterr()
    assert told.out == right.out
    assert " ".join(told.err.split()).startswith("Note: nothing is kept in ")
    assert (plant / "kept").read_text("utf-8") == "a file"


KILLED = """
import os, sys
from axisproof import api
from axisproof.base import safe_write
real = os.replace
count = 0
def replace(old, new):
    global count
    count += 1
    if count == 4:
        os.kill(os.getpid(), 9)
    real(old, new)
safe_write.os.replace = replace
on = __import__("datetime").date(2026, 6, 1)
api.check([sys.argv[1]], api.CheckOptions(cache=sys.argv[2], on=on))
"""


@pytest.mark.exhaustive
def test_a_writer_that_is_killed_leaves_a_cache_that_can_be_used(
    plant: Path, judged: list[str]
) -> None:
    arguments = [sys.executable, "-c", KILLED, str(plant / "machines"), str(plant / "kept")]
    assert subprocess.run(arguments, capture_output=True, timeout=300).returncode == -9
    (part,) = (plant / "kept").rglob("*.part")
    options = {"rules": [], "settings": None}
    assert checked(plant, **options) == checked(plant, cache=None, **options)
    judged.clear()
    checked(plant, **options)
    assert judged == []
    assert part.exists()
    os.utime(part, (time.time() - 7200,) * 2)
    cache.prune(plant / "kept")
    assert not part.exists()
    assert entries(plant / "kept")


@pytest.mark.exhaustive
def test_two_runs_at_once_share_a_cache(plant: Path) -> None:
    code = (
        "import sys, datetime; from axisproof import api\n"
        "options = api.CheckOptions(cache=sys.argv[2], on=datetime.date(2026, 6, 1))\n"
        "r = api.check([sys.argv[1]], options)\n"
        "from axisproof.report.rendering import RenderOptions\n"
        "from axisproof.report.json import render\n"
        "sys.stdout.write(render(r, RenderOptions()))\n"
    )
    arguments = [sys.executable, "-c", code, str(plant / "machines"), str(plant / "kept")]
    running = [subprocess.Popen(arguments, stdout=subprocess.PIPE) for _ in range(3)]
    reports = {each.communicate(timeout=300)[0] for each in running}
    assert [each.returncode for each in running] == [0, 0, 0]
    right = checked(plant, cache=None, rules=[], settings=None)
    assert reports == {renderer("json")(right, RenderOptions()).encode()}
    assert list((plant / "kept").rglob("*.part")) == []


def test_old_entries_are_dropped_and_those_in_use_are_not(
    plant: Path, judged: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    checked(plant)
    every = entries(plant / "kept")
    for each in every:
        os.utime(each, (time.time() - 2 * 86400,) * 2)
    checked(plant)  # in use: their day is noted
    assert all(time.time() - each.stat().st_mtime < 3600 for each in every)
    os.utime(every[0], (time.time() - cache.MAX_AGE - 9,) * 2)
    cache.prune(plant / "kept")
    assert entries(plant / "kept") == every[1:]
    latest = sorted(every[1:], key=lambda each: each.stat().st_size)
    for age, each in enumerate(latest, 1):
        os.utime(each, (time.time() - age,) * 2)
    monkeypatch.setattr(cache, "MAX_ENTRIES", 4)
    cache.prune(plant / "kept")
    assert entries(plant / "kept") == sorted(latest[:3])  # the latest, and some room
    monkeypatch.setattr(cache, "MAX_SIZE", latest[0].stat().st_size * 10 // 9 + 1)
    cache.prune(plant / "kept")
    assert entries(plant / "kept") == [latest[0]]


def test_a_run_that_keeps_something_drops_what_is_too_much(
    plant: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cache, "MAX_ENTRIES", 2)
    checked(plant)
    assert len(entries(plant / "kept")) == 1


# The command --------------------------------------------------------------------------------------


def test_nothing_is_kept_unless_it_is_asked_for(
    plant: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(plant / "home"))
    monkeypatch.delenv("AXISPROOF_CACHE", raising=False)
    arguments = ["check", str(plant / "machines"), "--on", "2026-06-01"]
    cli.run(arguments)
    assert not (plant / "home").exists()
    out = capsys.readouterr().out
    cli.run([*arguments, "--cache"])
    if sys.platform == "linux":
        assert len(entries(plant / "home" / "axisproof")) > 3
    assert capsys.readouterr().out == out
    cli.run([*arguments, "--cache", str(plant / "kept")])
    assert len(entries(plant / "kept")) > 3
    shutil.rmtree(plant / "kept")
    monkeypatch.setenv("AXISPROOF_CACHE", str(plant / "kept"))
    cli.run([*arguments, "--no-cache"])
    assert not (plant / "kept").exists()
    cli.run(arguments)
    assert len(entries(plant / "kept")) > 3


def test_a_cache_among_machine_files_is_not_taken_for_machines(plant: Path) -> None:
    one = checked(plant, cache=plant / "machines" / "kept")
    assert checked(plant, cache=plant / "machines" / "kept") == one


# The encoding -------------------------------------------------------------------------------------

rationals = random_fractions().map(norm)
numbers: st.SearchStrategy[Number] = st.one_of(
    st.integers(),
    random_fractions(),
    st.builds(Pi, rationals.filter(bool), st.integers(-5, 5).filter(bool)),
    st.builds(Approx, st.floats(allow_nan=False), st.floats(0)),
)
texts = st.text(st.characters())  # halves of surrogate pairs included: names of files may have them


@given(texts, texts, numbers, st.none() | numbers)
def test_what_is_encoded_comes_back_as_it_was(
    name: str, text: str, start: Number, end: Number | None
) -> None:
    feature = Feature("wrap", name, text, start, end)
    plain = json.loads(json.dumps(codec.encoder(Feature)(feature)))
    back = codec.decoder(Feature)(plain)
    assert back == feature
    assert [type(back.start), type(back.end)] == [type(start), type(end)]


plain_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["rule", "file", "fraction", "pi", "approx", "start", "x"]),
            inner,
            max_size=3,
        )
    ),
    max_leaves=8,
)


@given(plain_values, st.sampled_from(Feature.__match_args__))
def test_a_value_of_the_wrong_form_is_refused_and_nothing_else_happens(
    value: Any, field: str
) -> None:
    right = codec.encoder(Feature)(Feature("wrap", "n", "t", Fraction(1, 3), None))
    for plain in (value, {**right, field: value}):
        try:
            back = codec.decoder(Feature)(plain)
        except codec.DecodeError:
            continue
        again = codec.encoder(Feature)(back)
        assert codec.decoder(Feature)(again) == back


def test_every_part_of_a_record_has_an_encoding() -> None:
    assert is_dataclass(Record)
    empty = Record("a.yaml", figures := ())
    assert figures == ()
    plain = codec.encoder(Record)(empty)
    assert set(plain) == {each.name for each in fields(Record)}
    assert codec.decoder(Record)(plain) == empty
    figure = Figure("f", "1 mm", {"value": 1.5, "error": 0.1, "unit": "mm", "text": None})
    assert codec.decoder(Figure)(codec.encoder(Figure)(figure)) == figure
    with pytest.raises(TypeError):
        codec.encoder(bytes)
    with pytest.raises(TypeError):
        codec.decoder(bytes)
