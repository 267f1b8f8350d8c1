"""Files checked by the workers of an executor: the report of one process, or one error."""

from __future__ import annotations

import datetime
import functools
import multiprocessing
import os
import pickle
import shutil
import sys
from collections.abc import Callable
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.base.errors import AxisproofError, InputError
from axisproof.batch import elsewhere
from axisproof.cli import main as cli
from axisproof.findings.finding import Report
from axisproof.importing.carrying import carried
from axisproof.importing.entry import find_candidates
from axisproof.source.carried import NotCarried
from axisproof.source.reader import DISK, Reader

from tests.batch.batch_helpers import ROOT, RULES, SITE
from tests.captured import Captured

DAY = datetime.date(2026, 6, 1)


class WithoutFiles(Executor):
    """Does each task at once, while ``folder`` is gone."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.tasks = 0

    def submit(self, task: Callable[..., Any], /, *given: Any, **named: Any) -> Future[Any]:
        self.tasks += 1
        away = self.folder.rename(self.folder.with_name("away"))
        future: Future[Any] = Future()
        try:
            future.set_result(task(*given, **named))
        except Exception as fault:
            future.set_exception(fault)
        finally:
            away.rename(self.folder)
        return future


class Idle(Executor):
    """Takes tasks and does none."""

    def __init__(self) -> None:
        self.futures: list[Future[Any]] = []
        self.files: list[int] = []

    def submit(self, task: Callable[..., Any], /, *given: Any, **named: Any) -> Future[Any]:
        self.futures.append(Future())
        self.files.append(len(pickle.loads(given[-1])))
        return self.futures[-1]


@pytest.fixture
def here(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The files that no worker could read, so that they were read here."""
    names: list[str] = []
    real = elsewhere.make_record

    def noting(candidate: Any, *rest: Any) -> Any:
        names.append(candidate.path.name)
        return real(candidate, *rest)

    monkeypatch.setattr(elsewhere, "make_record", noting)
    return names


@pytest.fixture(scope="module")
def hall(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with rules, settings, plates, a machine that includes others, and two projects."""
    folder = tmp_path_factory.mktemp("hall") / "hall"
    shutil.copytree(ROOT / "fixtures/shelf/plates", folder / "plates")
    (folder / "machines").mkdir()
    for name in ("sound/hall.yaml", "sound/mechanics.yaml", "shelf/machines/crates.yaml"):
        shutil.copy(ROOT / "fixtures" / name, folder / "machines")
    shutil.copytree(ROOT / "fixtures/imports/cell", folder / "machines/cell")
    (folder / "site.rules").write_text(RULES, "utf-8")
    (folder / "site.yaml").write_text(SITE, "utf-8")
    return folder


def checked(hall: Path, executor: Executor | None = None, **options: Any) -> Report:
    asked = api.CheckOptions(
        rules=[hall / "site.rules"],
        settings=hall / "site.yaml",
        shelf=hall / "plates",
        on=DAY,
        **options,
    )
    return api.check([hall / "machines"], asked, executor=executor)


@functools.lru_cache
def by_one_process(hall: Path) -> Report:
    return checked(hall)


def test_workers_need_no_files(hall: Path, here: list[str]) -> None:
    one = by_one_process(hall)
    kinds = {Path(file).suffix for file in one.files}
    assert {".yaml", ".csv", ".dcf"} <= kinds
    assert any(finding.rule == "site-node" for finding in one.findings)
    executor = WithoutFiles(hall)
    assert checked(hall, executor) == one
    assert executor.tasks == len(one.machines) == 3
    assert here == []


def test_the_report_is_the_same_for_threads_and_processes(hall: Path) -> None:
    one = by_one_process(hall)
    with ThreadPoolExecutor(4) as threads:
        assert checked(hall, threads) == one
    forked = multiprocessing.get_context("fork")
    with ProcessPoolExecutor(2, forked) as processes:
        assert checked(hall, processes) == one


def test_what_a_worker_makes_is_kept(hall: Path, tmp_path: Path, judged: list[str]) -> None:
    kept = tmp_path / "kept"
    first = checked(hall, WithoutFiles(hall), cache=kept)
    executor = WithoutFiles(hall)
    assert checked(hall, executor, cache=kept) == first
    assert executor.tasks == 0
    assert checked(hall, cache=kept) == first
    assert judged == []


MACHINE = "format: 1\nmachine: m\naxes: {a: {motion: linear}}\n"


@pytest.mark.parametrize("included", ["a part.yaml", "missing.yaml", "../out.yaml", "m.yaml"])
def test_what_no_worker_can_read_is_read_here(
    tmp_path: Path, included: str, here: list[str]
) -> None:
    folder = tmp_path / "machines"
    folder.mkdir()
    (folder / "a part.yaml").write_text("description: d\n", "utf-8")
    (folder / "m.yaml").write_text(f'include: ["{included}"]\n{MACHINE}', "utf-8")

    def told(executor: Executor | None) -> Report | str:
        try:
            return api.check([folder / "m.yaml"], api.CheckOptions(on=DAY), executor=executor)
        except InputError as error:
            return f"{error} {error.source_line}"

    assert told(WithoutFiles(folder)) == told(None)
    assert here == (["m.yaml"] if included in ("a part.yaml", "missing.yaml") else [])


def test_a_machine_that_is_too_large_to_travel_is_read_here(
    hall: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (candidate,) = find_candidates([hall / "machines/hall.yaml"])
    there = carried(candidate, DISK)
    assert {Path(name).name for name in there.files} == {"hall.yaml", "mechanics.yaml"}
    size = there.size
    for bound, files in ((size, 2), (size - 1, 1)):
        monkeypatch.setattr("axisproof.source.carried.MAX_CARRIED", bound)
        assert len(carried(candidate, DISK).files) == files
    with pytest.raises(NotCarried):
        Reader(store=there).open(hall / "machines/crates.yaml")


# Errors -------------------------------------------------------------------------------------------


@pytest.fixture
def row(tmp_path: Path) -> Path:
    """A folder of nine small machines."""
    folder = tmp_path / "row"
    folder.mkdir()
    for number in range(9):
        text = MACHINE.replace("machine: m", f"machine: m{number}")
        (folder / f"m{number}.yaml").write_text(text, "utf-8")
    return folder


def told(folder: Path, executor: Executor | None) -> str:
    with pytest.raises(AxisproofError) as raised:
        api.check([folder], api.CheckOptions(on=DAY, partial=True), executor=executor)
    return str(raised.value)


def test_the_first_file_with_an_error_is_named(row: Path) -> None:
    for number in (4, 7):
        (row / f"m{number}.yaml").write_text(MACHINE.replace("}}", ""), "utf-8")
    seen = []
    for executor in (None, WithoutFiles(row)):
        with pytest.raises(InputError) as raised:
            api.check([row], api.CheckOptions(on=DAY), executor=executor)
        seen.append((str(raised.value), raised.value.source_line))
    assert seen[0] == seen[1]
    assert "m4.yaml" in seen[0][0]


def die(*given: Any) -> None:
    os._exit(1)


def fail(*given: Any) -> None:
    raise ValueError("no room\nfor this")


def test_a_worker_that_dies_or_a_task_that_raises_is_one_error(
    row: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(elsewhere, "answer", die)
    with ProcessPoolExecutor(1, multiprocessing.get_context("fork")) as processes:
        assert "a worker that checked files came to an unexpected end" in told(row, processes)
        assert "came to an unexpected end" in told(row, processes)  # it takes no task any more
    monkeypatch.setattr(elsewhere, "answer", fail)
    with ThreadPoolExecutor(2) as threads:
        assert "a worker cannot check files (ValueError: no room for this)" in told(row, threads)
    assert "after shutdown" in told(row, threads)


def test_a_worker_with_another_version_or_other_rules_is_an_error(
    row: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    version, code = elsewhere.own_code()
    real = elsewhere.answer
    for there, words in (
        (("9.9", code), f"has axisproof 9.9, and this computer has {version}"),
        ((version, "0"), f"axisproof {version} on the worker .* has other code or rules than here"),
    ):

        def other(asked: Any, *given: Any, there: Any = there) -> Any:
            with monkeypatch.context() as changed:
                changed.setattr(elsewhere, "own_code", lambda: there)
                return real(asked, *given)

        monkeypatch.setattr(elsewhere, "answer", other)
        with pytest.raises(AxisproofError, match=words):
            api.check([row], api.CheckOptions(on=DAY), executor=WithoutFiles(row))


def test_a_mistake_at_a_worker_comes_with_its_traceback(
    row: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(elsewhere, "record_of", None)
    with pytest.raises(TypeError) as raised:
        api.check([row], api.CheckOptions(on=DAY), executor=WithoutFiles(row))
    assert "elsewhere.py" in "".join(raised.value.__notes__)


def test_few_tasks_are_ahead_and_ctrl_c_cancels_them(
    row: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*given: Any) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(elsewhere, "wait", interrupted)
    size = (row / "m0.yaml").stat().st_size
    for bounds, files in (
        ({"CHUNK": 1, "AHEAD": 3}, [1, 1, 1]),
        ({"CHUNK": 1, "MAX_AHEAD": 5 * size}, [1, 1, 1, 1, 1]),
        ({"CHUNK": 1, "MAX_AHEAD": 1}, [1]),
        ({"CHUNK": 4, "AHEAD": 2}, [4, 4]),
        ({"CHUNK": 4, "AHEAD": 2, "MAX_TASK": 2 * size}, [2, 2]),
    ):
        with monkeypatch.context() as changed:
            for name, bound in bounds.items():
                changed.setattr(elsewhere, name, bound)
            idle = Idle()
            with pytest.raises(KeyboardInterrupt):
                api.check([row], api.CheckOptions(on=DAY), executor=idle)
        assert idle.files == files
        assert all(future.cancelled() for future in idle.futures)


def test_texts_in_place_of_files_are_checked_here(row: Path) -> None:
    texts = {row / "m1.yaml": MACHINE.replace("machine: m", "machine: Only in the editor")}
    report = api.check([row], api.CheckOptions(on=DAY, texts=texts), executor=Idle())
    assert "Only in the editor" in report.machines


# The command --------------------------------------------------------------------------------------


def test_without_the_extra_the_command_says_how_to_get_it(
    row: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    assert cli.run(["check", str(row), "--cluster", "tcp://host:8786"]) == 2
    assert "pip install '.[cluster]'" in " ".join(capsys.readouterr().err.split())


def test_a_cluster_is_asked_for_on_the_command_line_alone(row: Path, capsys: Captured) -> None:
    assert cli.run(["check", str(row), "--cluster", "tcp://host:8786", "--jobs", "2"]) == 2
    assert "--jobs and --cluster exclude each other" in capsys.readouterr().err
    site = row / "axisproof.yaml"
    for key in ("cluster", "executor"):
        site.write_text(f"axisproof: 1\n{key}: tcp://host:8786\n", "utf-8")
        assert cli.run(["check", str(row / "m1.yaml")]) == 2
        assert f"{site}:2:1" in "".join(capsys.readouterr().err.split())
