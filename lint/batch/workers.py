"""Many files checked by several processes; the report is that of one process, byte for byte.

Nothing that only this needs is imported before it is decided that it pays.
"""

from __future__ import annotations

import datetime
import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from functools import partial
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from ..base.errors import AxisproofError
from ..base.garbage_collection import held_back
from ..base.lazy import dataclass
from ..catalogue.catalogue import own_texts, with_texts
from ..catalogue.settings import Site
from ..checking.reading import Rules
from ..checking.record import CheckRequest, RecordResult, make_records
from ..engine.engine import Options
from ..importing.entry import Candidate

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.process import BaseProcess
    from pathlib import Path

    from .cache import Cache

Make: TypeAlias = Callable[[Sequence[Candidate]], Iterator[RecordResult]]
"""From files to their records, one by one."""

PAYS_FROM: Final = 800
"""Files to be checked from which on more than one process is faster.

Measured with bench/archive.py: a file takes 1.5 ms here and 1.7 ms with its way to another process
and back, and a process is ready after 0.4 s. Two break even at 0.4 s / (1.5 ms - 1.7 ms / 2), some
620 files, and more of them no earlier than at 0.4 s / 1.5 ms, some 270.
"""

MOST_JOBS: Final = 61
"""No more processes than one Windows call can wait for, on any system."""

CHUNK: Final = 32
"""Most files handed to a process at a time."""

AHEAD: Final = 4
"""Chunks for each process that are made before they are due."""


def jobs_for(files: int, asked: int | None) -> int:
    """How many processes check so many files: those asked for, else as many as cores if it pays."""
    if asked is None:
        asked = cores() if files >= PAYS_FROM else 1
    return max(1, min(asked, MOST_JOBS, files))


def chunk_size(files: int, jobs: int) -> int:
    """Files for a process at a time: more if there are more, but so few that all have work."""
    return max(1, min(CHUNK, files // (8 * jobs)))


def cores() -> int:
    """Cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def workers(
    orders: CheckRequest, files: int, asked: int | None, cache: Cache | None = None
) -> Iterator[Make]:
    """Give the function that makes the records of files, in their order.

    ``asked`` processes (see ``jobs_for``) share the work on so many ``files``, but they are only
    started once there is enough to check; what the cache holds is read here, in less time than it
    would take to send. All have ended afterwards. Raises AxisproofError if one of them dies.
    """
    with ExitStack() as stack:
        yield partial(
            _records, WorkerPool(stack, orders, jobs_for(files, asked), asked is None, cache)
        )


class WorkerPool:
    """Who makes records: this process, and others from when it first pays."""

    def __init__(
        self, stack: ExitStack, orders: CheckRequest, jobs: int, free: bool, cache: Cache | None
    ) -> None:
        self.stack = stack
        self.orders = orders
        self.jobs = jobs
        self.least = PAYS_FROM if free else 2
        self.cache = cache
        self.others: _WorkerProcesses | None = None

    def make(self, candidates: Sequence[Candidate]) -> Iterator[RecordResult]:
        """The records of files that are to be checked."""
        if self.jobs == 1 or len(candidates) < self.least:
            return make_records(candidates, self.orders, self.cache)
        if self.others is None:
            self.others = _WorkerProcesses(self.orders, self.jobs, self.cache)
            self.stack.callback(self.others.end)
        return self.others.make(candidates)


def _records(crew: WorkerPool, candidates: Sequence[Candidate]) -> Iterator[RecordResult]:
    """The records of files, from the cache or made."""
    if crew.cache is None:
        yield from crew.make(candidates)
        return
    with held_back():
        found = [crew.cache.find(each) for each in candidates]
    lacking = [each for each, record in zip(candidates, found, strict=True) if record is None]
    made = crew.make(lacking)
    for record in found:
        yield next(made) if record is None else RecordResult(record)


# Several processes --------------------------------------------------------------------------------

# Every process is started afresh (spawn): the one way all systems have, and the one that threads of
# the caller cannot upset. It builds the rules again from their texts, so that all have the same.


@dataclass(frozen=True, slots=True)
class _Parcel:
    """Orders as they can be sent: the site's rules as text."""

    texts: dict[str, str]
    site: Site
    on: datetime.date
    options: Options
    sketches: bool
    cache: tuple[Path, str] | None

    @classmethod
    def of(cls, orders: CheckRequest, cache: Cache | None) -> _Parcel:
        texts = own_texts(orders.rules.every)
        kept = None if cache is None else (cache.folder, cache.run)
        return cls(texts, orders.rules.site, orders.on, orders.options, orders.sketches, kept)

    def orders(self) -> CheckRequest:
        rules = Rules.with_site(with_texts(self.texts), self.site)
        return CheckRequest(rules, self.on, self.options, self.sketches)


_Answer: TypeAlias = "tuple[list[RecordResult], str, int] | Exception"
"""What a process sends back: records, the trouble of the cache and entries kept; or a mistake."""


def _serve(connection: Connection, parcel: _Parcel) -> None:
    """Make records for another process, chunk by chunk, until it hangs up or is gone."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # whoever started this will end it
    try:
        orders = parcel.orders()
        cache = None
        if parcel.cache is not None:
            from .cache import Cache

            cache = Cache(*parcel.cache)
        while True:
            connection.send(_answer(connection.recv(), orders, cache))
    except (EOFError, ConnectionError):
        pass


def _answer(candidates: Sequence[Candidate], orders: CheckRequest, cache: Cache | None) -> _Answer:
    try:
        made = list(make_records(candidates, orders, cache))
    except Exception as mistake:
        import traceback

        mistake.add_note("".join(traceback.format_exception(mistake)))  # it does not travel along
        return mistake
    if cache is None:
        return made, "", 0
    kept, cache.kept = cache.kept, 0
    return made, cache.trouble, kept


class _WorkerProcesses:
    """Processes at work for this one, each at the other end of its own connection.

    Nothing is shared among them, no thread is needed here, and one that dies is noticed by its
    connection, whatever it was just about to send.
    """

    def __init__(self, orders: CheckRequest, jobs: int, cache: Cache | None) -> None:
        import multiprocessing

        self.cache = cache
        self.processes: list[tuple[BaseProcess, Connection]] = []
        context = multiprocessing.get_context("spawn")
        parcel = _Parcel.of(orders, cache)
        try:
            with _undisturbed():
                for _ in range(jobs):
                    here, there = context.Pipe()
                    process = context.Process(target=_serve, args=(there, parcel), daemon=True)
                    process.start()
                    there.close()
                    self.processes.append((process, here))
        except BaseException:
            self.end()
            raise

    def end(self) -> None:
        """End all processes, whatever they are at."""
        for process, connection in self.processes:
            connection.close()
            process.terminate()
        for process, _ in self.processes:
            process.join()

    def make(self, candidates: Sequence[Candidate]) -> Iterator[RecordResult]:
        """The records of files in their order, of which few are made long before they are due."""
        from multiprocessing.connection import wait

        size = chunk_size(len(candidates), len(self.processes))
        chunks = [candidates[at : at + size] for at in range(0, len(candidates), size)]
        idle = [connection for _, connection in self.processes]
        busy: dict[Any, int] = {}
        done: dict[int, list[RecordResult]] = {}
        given = 0
        for due in range(len(chunks)):
            while due not in done:
                while idle and given < min(len(chunks), due + AHEAD * len(self.processes)):
                    connection = idle.pop()
                    _whole(connection.send, chunks[given])
                    busy[connection] = given
                    given += 1
                for ready in wait(list(busy)):
                    done[busy.pop(ready)] = self._taken(_whole(ready.recv))  # type: ignore[union-attr]
                    idle.append(ready)  # type: ignore[arg-type]
            yield from done.pop(due)

    def _taken(self, answer: _Answer) -> list[RecordResult]:
        if isinstance(answer, Exception):
            raise answer
        made, trouble, kept = answer
        if self.cache is not None:
            self.cache.trouble = self.cache.trouble or trouble
            self.cache.kept += kept
        return made


def _whole(talk: Callable[..., Any], *what: Any) -> Any:
    """Send or receive. Raises AxisproofError if there is nobody at the other end any more."""
    try:
        return talk(*what)
    except (EOFError, OSError):
        raise AxisproofError(
            "a process that checked files came to an unexpected end",
            expected="memory enough for every process, or fewer of them (--jobs)",
        ) from None


@contextmanager
def _undisturbed() -> Iterator[None]:
    """Let processes be started that hear of no Ctrl-C until they are ready to pass it over.

    One that is pressed meanwhile is heard here afterwards. A system without signal masks (Windows)
    does without.
    """
    import signal

    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    from multiprocessing import resource_tracker

    resource_tracker.ensure_running()  # else it would be started meanwhile, and lift the mask
    mask = signal.pthread_sigmask(signal.SIG_BLOCK, [signal.SIGINT])
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, mask)
