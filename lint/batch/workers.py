"""From many files to their records, by several processes if that is faster.

The records are those of one process, byte for byte. Imports that only several processes need come
late.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager

from ..base.errors import AxisproofError
from ..checking.record import CheckRequest, RecordResult, make_records
from ..importing.entry import Candidate

TYPE_CHECKING = False
if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.process import BaseProcess
    from pathlib import Path
    from typing import Any, Final, TypeAlias

    from .cache import Cache
    from .portable import PortableRequest

PARALLEL_FROM: Final = 800
"""Number of files from which on several processes are faster than one.

Measured with tests/bench/archive.py: a file takes 1.5 ms here. In another process it takes 1.7 ms,
transfer included, and a process needs 0.4 s to start. Two processes break even at
0.4 s / (1.5 ms - 1.7 ms / 2), about 620 files. More processes break even at
0.4 s / 1.5 ms, about 270 files, or later.
"""

MAX_JOBS: Final = 61
"""Most processes that one Windows call can wait for; the limit on every system."""

CHUNK: Final = 32
"""Most files that a process gets at a time."""

AHEAD: Final = 4
"""Number of chunks that each process may be ahead of the order of the files."""


def jobs_for(files: int, asked: int | None) -> int:
    """Number of processes for ``files`` files: ``asked``, else one a core if that is faster."""
    if asked is None:
        asked = cores() if files >= PARALLEL_FROM else 1
    return max(1, min(asked, MAX_JOBS, files))


def chunk_size(files: int, jobs: int) -> int:
    """Number of files a process gets at a time: few enough that every process has work."""
    return max(1, min(CHUNK, files // (8 * jobs)))


def cores() -> int:
    """Number of cores that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


PATIENCE: Final = 5.0
"""Seconds in which a process that is ended may clear up."""


class WorkerPool:
    """Makes records: in this process, or in several processes once there is enough work.

    They end with ``stack``. ``free`` is whether nobody asked for this number of ``jobs``.
    """

    def __init__(
        self, stack: ExitStack, request: CheckRequest, jobs: int, free: bool, cache: Cache | None
    ) -> None:
        self.stack = stack
        self.request = request
        self.jobs = jobs
        self.parallel_from = PARALLEL_FROM if free else 2
        self.cache = cache
        self.processes: _WorkerProcesses | None = None

    def make(self, candidates: Sequence[Candidate]) -> Iterator[RecordResult]:
        """Check files and give their records. Raises AxisproofError if a process dies."""
        if self.jobs == 1 or len(candidates) < self.parallel_from:
            return make_records(candidates, self.request, self.cache)
        if self.processes is None:
            self.processes = _WorkerProcesses(self.request, self.jobs, self.cache)
            self.stack.callback(self.processes.end)
        return self.processes.make(candidates)


# Several processes --------------------------------------------------------------------------------

# Every process starts new (spawn): all systems have this way, and threads of the caller cannot
# disturb it. It builds the rules from their texts, so every process has the same rules.


_Answer: TypeAlias = "tuple[list[RecordResult], str, int] | Exception"
"""What a process returns: records, the cache's write error and number of kept entries; or a bug."""


def _serve(
    connection: Connection, portable: PortableRequest, folder_and_run: tuple[Path, str] | None
) -> None:
    """Make records for another process, chunk by chunk, until it closes the connection."""
    import signal

    from ..base.termination import clear_up_when_terminated

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the process that started this one ends it
    clear_up_when_terminated()
    try:
        request = portable.request()
        cache = None
        if folder_and_run is not None:
            from .cache import Cache

            cache = Cache(*folder_and_run)
        while True:
            connection.send(_answer(connection.recv(), request, cache))
    except (EOFError, ConnectionError):
        pass
    except MemoryError:
        os._exit(1)  # the process that started this one sees the end and tells of it


def _answer(candidates: Sequence[Candidate], request: CheckRequest, cache: Cache | None) -> _Answer:
    try:
        results = list(make_records(candidates, request, cache))
    except MemoryError:
        raise
    except Exception as bug:
        return with_traceback(bug)
    if cache is None:
        return results, "", 0
    kept_count, cache.kept_count = cache.kept_count, 0
    return results, cache.write_error, kept_count


def with_traceback(bug: Exception) -> Exception:
    """The exception with a note of where it was raised, which pickle leaves out."""
    import traceback

    bug.add_note("".join(traceback.format_exception(bug)))
    return bug


class _WorkerProcesses:
    """Processes that make records for this one, each with a connection of its own.

    They share nothing and this process needs no thread. The connection shows that a process died,
    even in the middle of a transfer.
    """

    def __init__(self, request: CheckRequest, jobs: int, cache: Cache | None) -> None:
        import multiprocessing

        from .portable import PortableRequest

        self.cache = cache
        self.processes: list[tuple[BaseProcess, Connection]] = []
        context = multiprocessing.get_context("spawn")
        folder_and_run = None if cache is None else (cache.folder, cache.run)
        given = PortableRequest.of(request), folder_and_run
        try:
            with _interrupts_delayed():
                for _ in range(jobs):
                    here, there = context.Pipe()
                    process = context.Process(target=_serve, args=(there, *given), daemon=True)
                    process.start()
                    there.close()
                    self.processes.append((process, here))
        except BaseException:
            self.end()
            raise

    def end(self) -> None:
        """End all processes, even those that are at work."""
        for process, connection in self.processes:
            connection.close()
            process.terminate()
        for process, _ in self.processes:
            process.join(PATIENCE)
            process.kill()
            process.join()

    def make(self, candidates: Sequence[Candidate]) -> Iterator[RecordResult]:
        """The records of files in their order; processes are at most a few chunks ahead."""
        from multiprocessing.connection import wait

        size = chunk_size(len(candidates), len(self.processes))
        chunks = [candidates[at : at + size] for at in range(0, len(candidates), size)]
        idle = [connection for _, connection in self.processes]
        busy: dict[Any, int] = {}
        done: dict[int, list[RecordResult]] = {}
        sent = 0
        for next_chunk in range(len(chunks)):
            while next_chunk not in done:
                while idle and sent < min(len(chunks), next_chunk + AHEAD * len(self.processes)):
                    connection = idle.pop()
                    _transfer(connection.send, chunks[sent])
                    busy[connection] = sent
                    sent += 1
                for ready in wait(list(busy)):
                    done[busy.pop(ready)] = self._results(_transfer(ready.recv))  # type: ignore[union-attr]
                    idle.append(ready)  # type: ignore[arg-type]
            yield from done.pop(next_chunk)

    def _results(self, answer: _Answer) -> list[RecordResult]:
        if isinstance(answer, Exception):
            raise answer
        results, write_error, kept_count = answer
        if self.cache is not None:
            self.cache.write_error = self.cache.write_error or write_error
            self.cache.kept_count += kept_count
        return results


def _transfer(send_or_receive: Callable[..., Any], *arguments: Any) -> Any:
    """Send or receive. Raises AxisproofError if the process at the other end has died."""
    try:
        return send_or_receive(*arguments)
    except (EOFError, OSError):
        raise AxisproofError(
            "a process that checked files came to an unexpected end",
            expected="memory enough for every process, or fewer of them (--jobs)",
        ) from None


@contextmanager
def _interrupts_delayed() -> Iterator[None]:
    """Delay Ctrl-C while processes start, as they cannot ignore it before they are ready.

    This process gets the delayed Ctrl-C afterwards. On a system without signal masks (Windows)
    nothing is delayed.
    """
    import signal

    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    from multiprocessing import resource_tracker

    resource_tracker.ensure_running()  # else the start of a process starts it, which lifts the mask
    mask = signal.pthread_sigmask(signal.SIG_BLOCK, [signal.SIGINT])
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, mask)
