"""Records that the workers of any executor make: threads, processes, or other computers.

The files need not be there: what reading them asks travels with each task (source/carried.py), and
so do the rules, settings and plates of a site. A worker answers with the records of one process.
What a worker cannot read from what came with the task is read here.
"""

from __future__ import annotations

import pickle
import zlib
from collections import deque
from collections.abc import Iterator, Sequence
from concurrent.futures import BrokenExecutor, CancelledError, Executor, Future, wait
from functools import lru_cache
from typing import Any, Final, TypeAlias

from ..base.errors import AxisproofError, UsageError
from ..base.garbage_collection import held_back, sweep
from ..base.lazy import dataclass, replace
from ..base.version import tool_version
from ..checking.record import CheckRequest, RecordResult, make_record, record_of
from ..importing.carrying import carried
from ..importing.entry import Candidate
from ..source.carried import Carried, NotCarried
from ..source.limits import shortened
from ..source.reader import FilesRead, Reader
from .cache import Cache
from .portable import PortableRequest
from .run_conditions import code_digest
from .workers import CHUNK, with_traceback

AHEAD: Final = 64
"""Most tasks that may be ahead of the order of the files, if it is not known how many share them.

A task has at most ``CHUNK`` files.
"""

MAX_TASK: Final = 1 << 20
"""Bytes of files from which a task takes no other file."""

MAX_AHEAD: Final = 1 << 26
"""Bytes of files of all tasks that may be ahead; one task may always be."""

LOOK: Final = 2.0
"""Seconds between two looks whether there is still somebody to do the work."""


class WatchedExecutor(Executor):
    """An executor that knows of its workers."""

    def number(self) -> int:
        """How many tasks the workers can do at a time."""
        raise NotImplementedError

    def verify(self) -> None:
        """Raise AxisproofError if nobody is left to do the work. It is asked every ``LOOK`` s."""
        raise NotImplementedError


# At the worker ------------------------------------------------------------------------------------

Made: TypeAlias = "tuple[RecordResult | None, FilesRead | None]"
"""What a worker made of a file: None if it could not read it; and what was read, for a cache."""


@lru_cache(maxsize=1)
def own_code() -> tuple[str, str]:
    """The version of axisproof in this process, and a digest of its code and rules."""
    return tool_version(), code_digest()


def answer(code: tuple[str, str], run: bytes, files: bytes) -> bytes | tuple[str, str, str]:
    """What a worker makes of a task, as bytes of pickle: a list of ``Made``, or a bug.

    ``run`` and ``files`` are bytes of what ``ExecutorPool`` sends. They are not looked at if the
    code here is not ``code``. Then the answer is the name of this computer and its code.
    """
    own = own_code()
    if own != tuple(code):
        import socket

        return socket.gethostname(), *own
    try:
        made: Any = list(_made(run, pickle.loads(files)))
    except MemoryError:
        raise
    except Exception as bug:
        made = with_traceback(bug)
    return pickle.dumps(made, pickle.HIGHEST_PROTOCOL)


def _made(run: bytes, files: Sequence[tuple[Candidate, Carried]]) -> Iterator[Made]:
    request, plates, with_account = _run(run)
    for number, (candidate, there) in enumerate(files):
        if number:
            sweep()
        reader = replace(request.reader, store=replace(there, reals={**plates, **there.reals}))
        account = FilesRead()
        try:
            with held_back():
                result = record_of(candidate, replace(request, reader=reader), account)
        except NotCarried:
            yield None, None
        else:
            yield result, account if with_account else None


@lru_cache(maxsize=2)
def _run(run: bytes) -> tuple[CheckRequest, dict[str, str], bool]:
    """The request of a run, where its plates lie, and whether a cache keeps what is found."""
    portable, plates, with_account = pickle.loads(zlib.decompress(run))
    return portable.request(), plates, with_account


# Where the files lie ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Task:
    """Files that a worker has, with their size in bytes and what will hold its answer."""

    candidates: tuple[Candidate, ...]
    size: int
    future: Future[Any]


class ExecutorPool:
    """Makes records with an executor, which whoever opened it closes."""

    def __init__(self, request: CheckRequest, executor: Executor, cache: Cache | None) -> None:
        self.request = request
        self.executor = executor
        self.cache = cache
        self.watched = executor if isinstance(executor, WatchedExecutor) else None
        shelf = request.reader.shelf
        plates = [plate.source.path for plate in shelf.plates.values()] if shelf else []
        reals = {path.as_posix(): request.reader.real(path).as_posix() for path in plates}
        sent = PortableRequest.of(request), reals, cache is not None
        self.run = zlib.compress(pickle.dumps(sent, pickle.HIGHEST_PROTOCOL))
        self.tasks: deque[_Task] = deque()

    def end(self) -> None:
        """Cancel what no worker has begun."""
        while self.tasks:
            self.tasks.pop().future.cancel()

    def make(self, candidates: Sequence[Candidate]) -> Iterator[RecordResult]:
        """The records of files in their order. Raises AxisproofError if a worker does not answer.

        Of the tasks that are ahead, number and size are bounded.
        """
        ahead = max(AHEAD, 4 * self.watched.number()) if self.watched else AHEAD
        for files in _shares(candidates, self.request.reader, ahead):
            size = sum(there.size for _, there in files)
            while self.tasks and (
                len(self.tasks) >= ahead or size + sum(t.size for t in self.tasks) > MAX_AHEAD
            ):
                yield from self._results()
            self._submit(files, size)
        while self.tasks:
            yield from self._results()

    def _submit(self, files: Sequence[tuple[Candidate, Carried]], size: int) -> None:
        sent = pickle.dumps(files, pickle.HIGHEST_PROTOCOL)
        try:
            future = self.executor.submit(answer, own_code(), self.run, sent)
        except (BrokenExecutor, RuntimeError) as fault:  # RuntimeError: it has been shut down
            raise _not_done(fault) from None
        self.tasks.append(_Task(tuple(candidate for candidate, _ in files), size, future))

    def _results(self) -> Iterator[RecordResult]:
        """The records of the first task, once it is done."""
        task = self.tasks[0]
        while not wait([task.future], LOOK).done:
            if self.watched:
                self.watched.verify()
        self.tasks.popleft()
        for candidate, (result, account) in zip(
            task.candidates, _answered(task.future), strict=True
        ):
            if result is None:
                yield make_record(candidate, self.request, self.cache)
                continue
            if self.cache is not None and account is not None and result.error is None:
                self.cache.keep(candidate, result.record, account)
            yield result


def _shares(
    candidates: Sequence[Candidate], reader: Reader, ahead: int
) -> Iterator[list[tuple[Candidate, Carried]]]:
    """The files of each task with what their reading asks, in order."""
    number = max(1, min(CHUNK, len(candidates) // ahead))
    share: list[tuple[Candidate, Carried]] = []
    size = 0
    for candidate in candidates:
        there = carried(candidate, reader)
        share.append((candidate, there))
        size += there.size
        if len(share) >= number or size >= MAX_TASK:
            yield share
            share, size = [], 0
    if share:
        yield share


def _answered(future: Future[Any]) -> list[Made]:
    """What a worker answered. Raises AxisproofError for what is no answer, and the worker's bug."""
    try:
        fault = future.exception()
    except CancelledError as cancelled:
        fault = cancelled
    if isinstance(fault, KeyboardInterrupt | AxisproofError):
        raise fault
    if fault is not None:
        raise _not_done(fault) from None
    answered = future.result()
    if isinstance(answered, tuple):
        raise _other_code(*answered)
    made: list[Made] | Exception = pickle.loads(answered)
    if isinstance(made, Exception):
        raise made
    return made


def _not_done(fault: BaseException) -> AxisproofError:
    """The error, to be raised by the caller, that a task was not done."""
    if isinstance(fault, BrokenExecutor | MemoryError):
        return AxisproofError(
            "a worker that checked files came to an unexpected end",
            expected="memory enough for every worker, or fewer of them",
        )
    if isinstance(fault, CancelledError):
        return AxisproofError(
            "the check of some files was cancelled before it was done",
            expected="workers that are there until the check ends",
        )
    if isinstance(fault, ImportError | AttributeError):
        return UsageError(
            f"a worker cannot load axisproof ({fault})", expected="axisproof on every worker"
        )
    text = shortened(" ".join(str(fault).split()), 200)
    return AxisproofError(
        f"a worker cannot check files ({type(fault).__name__}: {text})",
        expected="workers that take tasks",
    )


def _other_code(host: str, version: str, code: str) -> UsageError:
    """The error, to be raised by the caller, that a worker has another axisproof."""
    own, _ = own_code()
    what = f"the worker on {host} has axisproof {version}, and this computer has {own}"
    if version == own:
        what = f"axisproof {version} on the worker {host} has other code or rules than here"
    return UsageError(what, expected="the same axisproof on every worker")
