"""Many files checked by several processes: the same report, the same errors, a clean end."""

from __future__ import annotations

import datetime
import functools
import multiprocessing
import os
import pickle
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.api import Progress
from axisproof.base.errors import AxisproofError, InputError, UsageError
from axisproof.base.lazy import replace
from axisproof.batch import workers as fleet
from axisproof.cli import main as cli
from axisproof.findings.finding import Report
from axisproof.importing.entry import Candidate
from axisproof.report.formats import FORMS, renderer
from axisproof.report.rendering import RenderOptions
from hypothesis import given
from hypothesis import strategies as st

from tests.batch.batch_helpers import ROOT, RULES, SITE, archive, named

DAY = datetime.date(2026, 6, 1)


@pytest.fixture(scope="module")
def plant(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("plant")
    (folder / "site.rules").write_text(RULES, "utf-8")
    (folder / "site.yaml").write_text(SITE, "utf-8")
    archive(folder / "machines", 12)
    return folder


@functools.lru_cache
def bare(plant: Path, jobs: int) -> Report:
    return checked(plant, jobs)


@functools.lru_cache
def brief(plant: Path, jobs: int) -> Report:
    """The report without what takes longest: workings, outcomes and pictures."""
    return checked(plant, jobs, workings=False, every_outcome=False, sketches=False)


def checked(plant: Path, jobs: int, progress: Progress | None = None, **options: Any) -> Report:
    asked: dict[str, Any] = {
        "rules": [plant / "site.rules"],
        "settings": plant / "site.yaml",
        "on": DAY,
        "workings": True,
        "every_outcome": True,
        "sketches": True,
        "jobs": jobs,
    }
    return api.check([plant / "machines"], api.CheckOptions(**(asked | options)), progress=progress)


@pytest.mark.exhaustive
def test_the_report_is_the_same_for_any_number_of_processes(plant: Path) -> None:
    one, three = bare(plant, 1), bare(plant, 3)
    assert len(one.findings) > 20
    assert len(one.undecided) > 20
    assert any("(" in name for name in one.machines)  # some share a name
    assert any(setting[2] == "battery_change_notice" for setting in one.settings)
    for form in FORMS:
        options = RenderOptions(workings=True)
        assert renderer(form)(one, options) == renderer(form)(three, options), form
    assert one == three


@pytest.mark.exhaustive
def test_machines_stand_in_the_order_of_their_files(plant: Path) -> None:
    files = list(brief(plant, 3).files)
    tops = [file for file in files if re.search(r"/m\d+\.yaml$", file)]
    assert tops == sorted(tops)
    assert len(tops) == 12


@pytest.mark.exhaustive
def test_a_part_of_another_machine_is_no_machine_of_its_own_for_any_number(plant: Path) -> None:
    for jobs in (1, 3):
        report = brief(plant, jobs)
        halls = [name for name in report.machines if name.startswith("Bottling hall")]
        assert sum("mechanics" in name for name in halls) == 0
        assert any(file.endswith("mechanics.yaml") for file in report.files)


@pytest.mark.exhaustive
def test_waivers_and_the_accepted_set_cover_the_same(plant: Path, tmp_path: Path) -> None:
    report = bare(plant, 1)
    finding = next(
        each
        for each in report.findings
        if each.subject
        and "(" not in each.machine
        and "motion: rotary" not in Path(each.marks[0].place.file).read_text("utf-8")
    )
    others = [each for each in report.findings if each is not finding]
    accepted = tmp_path / "accepted.json"
    accepted.write_text(api.accepted_text(replace(report, findings=others[::2]), DAY), "utf-8")
    waivers = tmp_path / "waivers.yaml"
    waivers.write_text(
        f"""waivers: 1
entries:
  - {{rule: {finding.rule}, machine: {finding.machine}, axis: {finding.subject}, reason: known,
     approved_by: head of maintenance, expires: 2030-01-01, values: {{motion: linear}}}}
  - {{rule: {finding.rule}, machine: nowhere, axis: {finding.subject}, reason: known,
     approved_by: head of maintenance, expires: 2030-01-01, values: {{motion: linear}}}}
""",
        "utf-8",
    )
    reports = [checked(plant, jobs, waivers=waivers, accepted=accepted) for jobs in (1, 2)]
    assert reports[0] == reports[1]
    assert any(each.waived and not each.waived.accepted for each in reports[0].findings)
    assert any(each.waived and each.waived.accepted for each in reports[0].findings)


# Errors -------------------------------------------------------------------------------------------


def told(folder: Path, jobs: int) -> str:
    with pytest.raises(AxisproofError) as raised:
        api.check([folder], api.CheckOptions(on=DAY, jobs=jobs))
    return f"{type(raised.value).__name__} {raised.value} | {raised.value.source_line}"


BROKEN = "format: 1\nmachine: x\naxes: {a: {motion: sideways}}\n"


def spoil(folder: Path, *numbers: int, text: str = BROKEN) -> None:
    for number in numbers:
        (folder / f"m{number:03d}.yaml").write_text(text, "utf-8")


@pytest.mark.exhaustive
@pytest.mark.parametrize("text", [BROKEN, "a: [", "", "format: 1\naxes: {}\n"])
def test_the_first_file_with_an_error_is_named_by_any_number(tmp_path: Path, text: str) -> None:
    folder = archive(tmp_path / "machines", 20)
    spoil(folder, 11, 18, text=text)
    one = told(folder, 1)
    assert "m011.yaml" in one
    assert told(folder, 2) == one


@pytest.mark.exhaustive
def test_a_setting_that_is_none_is_named_by_any_number(tmp_path: Path) -> None:
    folder = archive(tmp_path / "machines", 20)
    path = folder / "m015.yaml"
    text = path.read_text("utf-8")
    path.write_text(text + "settings: {no_such: {value: 1, reason: r}}\n", "utf-8")
    one = told(folder, 1)
    assert "no_such" in one
    assert told(folder, 2) == one


def test_a_part_that_is_no_machine_passes_if_another_file_includes_it(tmp_path: Path) -> None:
    folder = archive(tmp_path / "machines", 20)
    part = folder / "a_part.yaml"
    part.write_text("description: what all share\n", "utf-8")
    path = folder / "m019.yaml"
    path.write_text("include: [a_part.yaml]\n" + path.read_text("utf-8"), "utf-8")
    reports = [api.check([folder], api.CheckOptions(on=DAY, jobs=jobs)) for jobs in (1, 2)]
    assert reports[0] == reports[1]
    assert str(part) in reports[0].files
    path.write_text("include: [a_part.yaml]\naxes: [\n", "utf-8")
    one = told(folder, 1)
    assert "m019.yaml" in one  # and not the part, of which nothing is known without it
    assert told(folder, 2) == one
    path.unlink()
    assert "a_part.yaml" in told(folder, 1)


@pytest.mark.exhaustive
def test_a_part_that_includes_others_and_comes_first_is_known_for_a_part(tmp_path: Path) -> None:
    folder = archive(tmp_path / "machines", 4)
    (folder / "b_part.yaml").write_text("description: what all share\n", "utf-8")
    (folder / "a_part.yaml").write_text("include: [b_part.yaml]\n", "utf-8")
    path = folder / "m003.yaml"
    path.write_text("include: [a_part.yaml]\n" + path.read_text("utf-8"), "utf-8")
    report = api.check([folder], api.CheckOptions(on=DAY))
    assert len(report.machines) == len(
        api.check([archive(tmp_path / "m", 4)], api.CheckOptions(on=DAY)).machines
    )


@pytest.mark.parametrize(
    "text",
    [
        "include: [a.yaml]\n",
        '"include" : [a.yaml]\n',
        "{include: [a.yaml]}\n",
        "? include\n: [a.yaml]\n",
        '"incl\\x75de": [a.yaml]\n',
        '"incl\\u0075de": [a.yaml]\n',
        '"incl\\U00000075de": [a.yaml]\n',
    ],
)
def test_a_file_that_includes_another_is_never_passed_over(tmp_path: Path, text: str) -> None:
    (tmp_path / "a.yaml").write_text("description: d\n", "utf-8")
    file = tmp_path / "m.yaml"
    rest = "format: 1\nmachine: m\naxes: {a: {motion: linear}}\n"
    if text.startswith("{"):
        text, rest = "{include: [a.yaml], format: 1, machine: m, axes: {a: {motion: linear}}}\n", ""
    file.write_text(text + rest, "utf-8")
    assert api.check([tmp_path], api.CheckOptions(on=DAY)).machines == ("m",)


def test_a_process_that_dies_is_told_in_words(plant: Path) -> None:
    def kill(done: int, total: int) -> None:
        for child in multiprocessing.active_children():
            child.kill()

    with pytest.raises(AxisproofError, match=r"came to an unexpected end\. Expected: memory"):
        checked(plant, 2, progress=kill)
    assert multiprocessing.active_children() == []


def test_a_mistake_in_another_process_comes_with_its_traceback(plant: Path) -> None:
    file = Candidate(str(plant / "machines" / "m001.yaml"), None, False, False)
    mistake = fleet._answer([file], None, None)  # type: ignore[arg-type]
    back = pickle.loads(pickle.dumps(mistake))
    assert isinstance(back, AttributeError)
    assert "record.py" in "".join(back.__notes__)


def test_no_process_is_left_after_an_error(tmp_path: Path) -> None:
    folder = archive(tmp_path / "machines", 20)
    spoil(folder, 0)
    with pytest.raises(InputError):
        api.check([folder], api.CheckOptions(on=DAY, jobs=2))
    assert multiprocessing.active_children() == []


# Ctrl-C -------------------------------------------------------------------------------------------


def children(pid: int) -> set[int]:
    try:
        found = Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
    except OSError:
        return set()
    return {int(each) for each in found} | {c for each in found for c in children(int(each))}


def alive(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False


def at_work(pid: int) -> bool:
    """Whether a process that checks files has used a fifth of a second of processor time."""
    used = 0
    for child in children(pid):
        with suppress(OSError):
            fields = Path(f"/proc/{child}/stat").read_text().rsplit(")", 1)[1].split()
            used = max(used, int(fields[11]) + int(fields[12]))
    return used / os.sysconf("SC_CLK_TCK") > 0.2


def until(question: Callable[[], bool]) -> bool:
    for _ in range(6000):
        if question():
            return True
        time.sleep(0.05)
    return False


@pytest.fixture(scope="module")
def long_check(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    folder = archive(tmp_path_factory.mktemp("long") / "machines", 280)
    for copy in range(4):
        shutil.copytree(folder, folder / f"again{copy}")
    return [sys.executable, "-m", "axisproof", "check", str(folder), "--jobs", "2", "--workings"]


proc = pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="needs /proc")


@pytest.mark.exhaustive
@proc
@pytest.mark.parametrize("when", ["as they start", "at work"])
def test_ctrl_c_ends_all_processes_without_a_word(long_check: list[str], when: str) -> None:
    running = subprocess.Popen(
        long_check, stdout=subprocess.PIPE, stderr=subprocess.PIPE, start_new_session=True
    )
    assert until(lambda: len(children(running.pid)) >= 3)  # two, and one that keeps account
    if when == "at work":
        assert until(lambda: at_work(running.pid))
    started = children(running.pid)
    os.killpg(running.pid, signal.SIGINT)  # as a terminal does: to all of them
    out, err = running.communicate(timeout=300)
    assert (running.returncode, out, err.strip()) == (130, b"", b"")
    assert until(lambda: not any(map(alive, started)))


@pytest.mark.exhaustive
@proc
def test_processes_end_with_the_one_that_started_them(long_check: list[str]) -> None:
    running = subprocess.Popen(long_check, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert until(lambda: len(children(running.pid)) >= 3)
    assert until(lambda: at_work(running.pid))
    started = children(running.pid)
    running.kill()
    running.communicate(timeout=300)
    assert until(lambda: not any(map(alive, started)))


# How many, and what a check of one file does without -------------------------------------------


@given(st.integers(1, 20_000), st.one_of(st.none(), st.integers(1, 1000)))
def test_there_are_never_more_processes_than_asked_for_or_than_files(
    files: int, asked: int | None
) -> None:
    jobs = fleet.jobs_for(files, asked)
    assert 1 <= jobs <= min(files, fleet.MAX_JOBS, asked or fleet.cores())
    if asked is None and files < fleet.PARALLEL_FROM:
        assert jobs == 1
    assert 1 <= fleet.chunk_size(files, jobs) <= fleet.CHUNK
    assert fleet.chunk_size(files, jobs) * (jobs - 1) < files  # there is work for each


def test_a_check_of_one_file_imports_nothing_that_only_many_need() -> None:
    code = (
        "import sys\n"
        "from axisproof.cli.start import plain_check, run_plain\n"
        f"sys.argv = ['axisproof', 'check', {str(ROOT / 'fixtures/sound/hall.yaml')!r}]\n"
        "status = run_plain(*plain_check(sys.argv[1:]))\n"
        "late = {'multiprocessing', 'concurrent', 'concurrent.futures', 'signal',\n"
        "        'platformdirs', 'axisproof.batch.codec', 'axisproof.batch.cache',\n"
        "        'axisproof.batch.shards'}\n"
        "found = late & set(sys.modules)\n"
        "sys.exit(status or (str(found) if found else 0))\n"
    )
    environment = {k: v for k, v in os.environ.items() if not k.startswith("COV")}
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, timeout=300, env=environment
    )
    assert done.returncode == 0, done.stderr


def test_unsaved_texts_are_checked_here_whatever_is_asked(plant: Path) -> None:
    file = plant / "machines" / "m001.yaml"
    text = named(file.read_text("utf-8"), "Only in the editor")
    report = api.check([plant / "machines"], api.CheckOptions(on=DAY, texts={file: text}, jobs=3))
    assert "Only in the editor" in report.machines
    assert multiprocessing.active_children() == []


def test_a_folder_without_machines_is_refused(tmp_path: Path) -> None:
    shutil.copy(ROOT / "fixtures/imports/cell/controller.mapping.yaml", tmp_path)
    with pytest.raises(UsageError, match="no machine file to check"):
        api.check([tmp_path])


@pytest.mark.exhaustive
def test_the_command_takes_the_number_of_processes(
    plant: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    arguments = ["check", str(plant / "machines"), "--on", "2026-06-01", "--jobs"]
    assert cli.run([*arguments, "1"]) == 1
    one = capsys.readouterr().out
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    assert cli.run([*arguments, "2"]) == 1
    two = capsys.readouterr()
    assert two.out == one
    assert re.search(r"([1-9][0-9]*) of \1 machines", two.err)
    assert cli.run([*arguments, "0"]) == 2
