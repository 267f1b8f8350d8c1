"""Many files checked by several processes; the report is that of one process, byte for byte.

Nothing that only this needs is imported before it is decided that it pays.
"""

from __future__ import annotations

import datetime
import os
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from itertools import islice
from typing import TYPE_CHECKING, Final, TypeAlias

from .catalogue import own_texts, with_texts
from .engine import Options
from .errors import AxisproofError
from .importing.entry import Candidate
from .light import dataclass
from .reading import Rules
from .record import Made, Orders, make_records
from .settings import Site

if TYPE_CHECKING:
    from concurrent.futures import Future, ProcessPoolExecutor
    from multiprocessing.process import BaseProcess
    from pathlib import Path

    from .cache import Cache

Make: TypeAlias = Callable[[Iterable[Candidate]], Iterator[Made]]
"""From files to their records, one by one."""

PAYS_FROM: Final = 400
"""Files from which on more than one process is faster."""

MOST_JOBS: Final = 61
"""No more processes than one Windows call can wait for, on any system."""

CHUNK: Final = 16
"""Files handed to a process at a time: few enough for progress and for Ctrl-C to be prompt."""


def jobs_for(files: int, asked: int | None) -> int:
    """How many processes check so many files: those asked for, else as many as cores if it pays."""
    if asked is None:
        asked = cores() if files >= PAYS_FROM else 1
    return max(1, min(asked, MOST_JOBS, -(-files // CHUNK)))


def cores() -> int:
    """Cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def workers(orders: Orders, jobs: int, cache: Cache | None = None) -> Iterator[Make]:
    """Give the function that makes the records of files, in their order.

    All processes it starts have ended afterwards. It raises AxisproofError if one of them dies.
    """
    if jobs == 1:
        yield lambda candidates: make_records(candidates, orders, cache)
        return
    with _processes(orders, jobs, cache) as make:
        yield make


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
    def of(cls, orders: Orders, cache: Cache | None) -> _Parcel:
        texts = own_texts(orders.rules.every)
        kept = None if cache is None else (cache.folder, cache.run)
        return cls(texts, orders.rules.site, orders.on, orders.options, orders.sketches, kept)

    def orders(self) -> Orders:
        rules = Rules.with_site(with_texts(self.texts), self.site)
        return Orders(rules, self.on, self.options, self.sketches)


_orders: Orders | None = None
_cache: Cache | None = None
"""In a process that checks for another one: what it was told to do, and with which cache."""


def _begin(parcel: _Parcel) -> None:
    """Prepare this process, which checks for another one and ends with it."""
    import multiprocessing
    import signal
    import threading

    global _orders, _cache
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # whoever started it will end it
    parent = multiprocessing.parent_process()
    assert parent is not None

    def end_with_parent() -> None:
        parent.join()
        os._exit(1)

    threading.Thread(target=end_with_parent, daemon=True).start()
    _orders = parcel.orders()
    if parcel.cache is not None:
        from .cache import Cache

        _cache = Cache(*parcel.cache)


def _make(candidates: Sequence[Candidate]) -> tuple[list[Made], str, int]:
    """The records of files, and what is to be known of the cache: its trouble, entries kept."""
    assert _orders is not None
    made = list(make_records(candidates, _orders, _cache))
    if _cache is None:
        return made, "", 0
    kept, _cache.kept = _cache.kept, 0
    return made, _cache.trouble, kept


@contextmanager
def _processes(orders: Orders, jobs: int, cache: Cache | None) -> Iterator[Make]:
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor
    from concurrent.futures.process import BrokenProcessPool

    before = set(multiprocessing.active_children())
    context = multiprocessing.get_context("spawn")
    pool = ProcessPoolExecutor(jobs, context, _begin, (_Parcel.of(orders, cache),))
    finished = False
    try:
        with _undisturbed():  # processes start with the first call
            pool.submit(int)
        yield partial(_made, pool, 4 * jobs, cache)
        finished = True
    except BrokenProcessPool:
        raise AxisproofError(
            "a process that checked files came to an unexpected end",
            expected="memory enough for every process, or fewer of them (--jobs)",
        ) from None
    finally:
        pool.shutdown(wait=finished, cancel_futures=True)
        if not finished:
            _end(set(multiprocessing.active_children()) - before)


def _made(
    pool: ProcessPoolExecutor, ahead: int, cache: Cache | None, candidates: Iterable[Candidate]
) -> Iterator[Made]:
    """The records in order, of which no more than ``ahead`` chunks are made before they are due."""
    waiting = iter(candidates)
    running: deque[Future[tuple[list[Made], str, int]]] = deque()

    def submit() -> bool:
        chunk = list(islice(waiting, CHUNK))
        if chunk:
            running.append(pool.submit(_make, chunk))
        return bool(chunk)

    while len(running) < ahead and submit():
        pass
    while running:
        made, trouble, kept = running.popleft().result()
        if cache is not None:
            cache.trouble = cache.trouble or trouble
            cache.kept += kept
        submit()
        yield from made


def _end(processes: set[BaseProcess]) -> None:
    """End processes that are at work on something nobody wants any more."""
    for process in processes:
        process.terminate()
    for process in processes:
        process.join()


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
