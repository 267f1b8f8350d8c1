"""A real scheduler with workers of its own: the report of one process, or one error."""

from __future__ import annotations

import datetime
import importlib.util
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.base.errors import AxisproofError, UsageError
from axisproof.report.formats import FORMS, renderer
from axisproof.report.rendering import RenderOptions

from tests.batch.batch_helpers import ROOT, RULES, SITE, archive

pytestmark = [
    pytest.mark.exhaustive,
    pytest.mark.skipif(
        importlib.util.find_spec("distributed") is None,
        reason="needs the extra `cluster` (pip install '.[cluster]')",
    ),
]

DAY = datetime.date(2026, 6, 1)
DASK = Path(sys.executable).with_name("dask")


class Cluster:
    """A scheduler and workers, each a process of its own with a folder that holds no file."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.processes: list[subprocess.Popen[bytes]] = []
        where = folder / "scheduler.json"
        options = ["--host", "127.0.0.1", "--port", "0", "--no-dashboard"]
        self.scheduler = self._start("scheduler", *options, "--scheduler-file", str(where))
        assert until(lambda: where.exists() and bool(where.read_text()))
        self.address: str = json.loads(where.read_text())["address"]

    def add_worker(self, **environment: str) -> subprocess.Popen[bytes]:
        """A worker that nothing starts again."""
        options = ["--no-nanny", "--nthreads", "1", "--no-dashboard"]
        return self._start("worker", self.address, *options, **environment)

    def wait_for(self, workers: int) -> None:
        from distributed import Client

        with Client(self.address, set_as_default=False) as client:
            client.wait_for_workers(workers, timeout=120)

    def _start(self, *arguments: str, **environment: str) -> subprocess.Popen[bytes]:
        own = self.folder / str(len(self.processes))
        own.mkdir()
        process = subprocess.Popen(
            [DASK, *arguments],
            cwd=own,
            env={**os.environ, **environment},
            stdout=subprocess.DEVNULL,
            stderr=(own / "told").open("wb"),
        )
        self.processes.append(process)
        return process

    def end(self) -> None:
        for process in self.processes:
            process.kill()
            process.wait()


@pytest.fixture
def started(tmp_path: Path) -> Iterator[Cluster]:
    folder = tmp_path / "cluster"
    folder.mkdir()
    found = Cluster(folder)
    try:
        yield found
    finally:
        found.end()


@pytest.fixture(scope="module")
def plant(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Machines that include others, projects, and the rules, settings and plates of a site."""
    folder = tmp_path_factory.mktemp("plant")
    (folder / "site.rules").write_text(RULES, "utf-8")
    (folder / "site.yaml").write_text(SITE, "utf-8")
    archive(folder / "machines", 50)
    shutil.copytree(ROOT / "fixtures/shelf", folder / "shelf")
    shutil.copy(ROOT / "fixtures/shelf/machines/crates.yaml", folder / "machines")
    return folder


def until(question: Callable[[], bool], seconds: float = 120) -> bool:
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if question():
            return True
        time.sleep(0.05)
    return False


def asked(plant: Path) -> api.CheckOptions:
    return api.CheckOptions(
        rules=[plant / "site.rules"],
        settings=plant / "site.yaml",
        shelf=plant / "shelf/plates",
        on=DAY,
        workings=True,
        every_outcome=True,
        sketches=True,
    )


def checked(plant: Path, started: Cluster, progress: Callable[[int, int], None]) -> Any:
    from axisproof.batch.cluster import cluster

    with cluster(started.address) as executor:
        return api.check([plant / "machines"], asked(plant), executor=executor, progress=progress)


def test_the_report_is_the_same_if_one_of_three_workers_is_killed(
    plant: Path, started: Cluster
) -> None:
    from axisproof.batch.cluster import cluster

    workers = [started.add_worker() for _ in range(3)]
    started.wait_for(3)
    one = api.check([plant / "machines"], asked(plant))
    killed: list[int] = []

    with cluster(started.address) as executor:

        def kill(done: int, total: int) -> None:
            if done < 5 or killed:
                return
            tasks = executor.client.processing()
            busy = sorted(name for name in tasks if tasks[name])
            for pid in executor.client.run(os.getpid, workers=busy[:1]).values():
                os.kill(pid, signal.SIGKILL)
                killed.append(pid)

        three = api.check([plant / "machines"], asked(plant), executor=executor, progress=kill)
        assert len(killed) == 1
        assert [worker.pid for worker in workers if worker.poll() is not None] == killed
        assert executor.number() == 2
    assert len(one.findings) > 40
    for form in FORMS:
        options = RenderOptions(workings=True)
        assert renderer(form)(one, options) == renderer(form)(three, options), form
    assert one == three


def test_the_command_prints_the_same_bytes(plant: Path, started: Cluster) -> None:
    started.add_worker()
    started.wait_for(1)
    command = [sys.executable, "-m", "axisproof", "check", str(plant / "machines"), "--on"]
    command += ["2026-06-01", "--format", "json", "--fail-at", "never"]
    told = [
        subprocess.run([*command, *more], capture_output=True, timeout=300)
        for more in (["--jobs", "1"], ["--cluster", started.address])
    ]
    assert told[0].stdout == told[1].stdout
    assert [(each.returncode, each.stderr) for each in told] == [(0, b"")] * 2


@pytest.mark.parametrize("gone", ["all workers", "the scheduler"])
def test_a_cluster_that_is_gone_is_one_error(
    plant: Path, started: Cluster, gone: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    from axisproof.batch import cluster

    monkeypatch.setattr(cluster, "WITHOUT_WORKERS", 3.0)
    workers = [started.add_worker() for _ in range(2)]
    started.wait_for(2)

    def kill(done: int, total: int) -> None:
        if done == 3:
            for process in workers if gone == "all workers" else [started.scheduler]:
                process.kill()

    with pytest.raises(AxisproofError) as raised:
        checked(plant, started, kill)
    words = {
        "all workers": "has no worker any more",
        "the scheduler": "(does not answer any more|was cancelled before it was done)",
    }
    assert raised.match(words[gone])


HIDDEN = """
from importlib import metadata

def version(name):
    raise metadata.PackageNotFoundError(name)

metadata.version = version
"""


@pytest.mark.parametrize("what", ["rules", "version", "nothing"])
def test_a_worker_with_another_axisproof_or_none_is_an_error(
    plant: Path, started: Cluster, what: str
) -> None:
    other = started.folder / "other"
    shutil.copytree(ROOT / "lint", other / "axisproof")
    environment = {"PYTHONPATH": str(other)}
    if what == "rules":
        for name in ("rules", "schemas"):
            shutil.copytree(ROOT / name, other / "axisproof" / name)
        rules = other / "axisproof/rules/gearing.rules"
        rules.write_text(rules.read_text("utf-8") + "\n# a remark\n", "utf-8")
        words = "on the worker .* has other code or rules than here"
    elif what == "version":
        (other / "axisproof-9.9.dist-info").mkdir()
        about = other / "axisproof-9.9.dist-info/METADATA"
        about.write_text("Metadata-Version: 2.1\nName: axisproof\nVersion: 9.9\n", "utf-8")
        words = r"the worker at tcp://.* has axisproof 9\.9, and this computer has"
    else:
        (other / "hidden.py").write_text(HIDDEN, "utf-8")
        environment["DASK_DISTRIBUTED__WORKER__PRELOAD"] = str([str(other / "hidden.py")])
        words = "the worker at tcp://.* has no axisproof, and this computer has"
    started.add_worker()
    started.add_worker(**environment)
    started.wait_for(2)
    with pytest.raises(UsageError, match=words):
        checked(plant, started, lambda done, total: None)


def test_ctrl_c_leaves_no_task(plant: Path, started: Cluster) -> None:
    from axisproof.batch.cluster import cluster

    started.add_worker()
    started.wait_for(1)
    command = [sys.executable, "-m", "axisproof", "check", str(plant / "machines")]
    command += ["--workings", "--cluster", started.address]
    with cluster(started.address) as executor:

        def tasks() -> int:
            return sum(map(len, executor.client.processing().values()))

        running = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        assert until(lambda: tasks() > 0)
        running.send_signal(signal.SIGINT)
        out, err = running.communicate(timeout=60)
        assert (running.returncode, out, err.strip()) == (130, b"", b"")
        assert until(lambda: tasks() == 0, 15)


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("tcp://127.0.0.1:1", "no scheduler answers at tcp://127.0.0.1:1 within 1 s"),
        ("nowhere", "nowhere is no address of a scheduler"),
        ("", "an empty text is no address of a scheduler"),
        ("tls://127.0.0.1:1", "there is no way to connect to tls://127.0.0.1:1"),
        ("worker", "at tcp://.* is a worker and no scheduler"),
        ("idle", "the scheduler at tcp://.* has no worker"),
    ],
)
def test_an_address_without_a_scheduler_or_workers_is_told_in_bounded_time(
    address: str, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from axisproof.batch import cluster

    started = None
    if address in ("worker", "idle"):
        started = Cluster(tmp_path)
        if address == "worker":
            from distributed import Client

            started.add_worker()
            with Client(started.address, set_as_default=False) as client:
                client.wait_for_workers(1, timeout=60)
                address = next(iter(client.scheduler_info()["workers"]))
        else:
            address = started.address
    else:
        monkeypatch.setattr(cluster, "PATIENCE", 1.0)
    try:
        start = time.monotonic()
        with pytest.raises(UsageError, match=words), cluster.cluster(address):
            pass
        assert time.monotonic() - start < 3 * cluster.PATIENCE + 5
    finally:
        if started is not None:
            started.end()
