"""The records of all files of a check, by whoever is asked to make them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from pathlib import Path

from ..base.garbage_collection import held_back
from ..base.set_aside import SetAside
from ..checking.assembling import RecordCollector
from ..checking.options import CheckOptions
from ..checking.record import CheckRequest, RecordResult
from ..importing.entry import Candidate
from .workers import WorkerPool, jobs_for

TYPE_CHECKING = False
if TYPE_CHECKING:
    from concurrent.futures import Executor
    from typing import Protocol

    from .cache import Cache

    class Pool(Protocol):
        """Makes the records of files, in whatever process."""

        def make(self, candidates: Sequence[Candidate]) -> Iterator[RecordResult]:
            """Check files and give their records, in the order of the files."""


def collect(
    collector: RecordCollector,
    request: CheckRequest,
    options: CheckOptions,
    executor: Executor | None,
    progress: Callable[[int, int], None] | None,
    noted: Callable[[str], None] | None,
) -> None:
    """Make a record of each file, by the executor or by as many processes as are asked for.

    A check of texts in place of files stays in this process.
    """
    number = len(collector.candidates)
    folder = None if options.texts or options.cache is None else Path(options.cache)
    kept = None
    if folder is not None:
        from .cache_use import opened_cache

        kept = opened_cache(folder, request, noted)
    with ExitStack() as stack:
        pool = _pool(stack, request, number, options, kept, executor)
        for stage in (collector.first, collector.rest):
            asked = stage()
            made = _cached_or_made(pool, kept, [collector.candidates[each] for each in asked])
            for each, result in zip(asked, made, strict=True):
                if progress:
                    progress(collector.number_done, number)
                collector.add(each, result)
    if kept is not None:
        from .cache_use import close_cache

        close_cache(kept, noted)


def _pool(
    stack: ExitStack,
    request: CheckRequest,
    number: int,
    options: CheckOptions,
    kept: Cache | None,
    executor: Executor | None,
) -> Pool:
    """Who makes the records of ``number`` files; what is started for it ends with the stack."""
    if options.texts:
        return WorkerPool(stack, request, 1, False, kept)
    if executor is None:
        jobs = jobs_for(number, options.jobs)
        return WorkerPool(stack, request, jobs, options.jobs is None, kept)
    from .elsewhere import ExecutorPool

    pool = ExecutorPool(request, executor, kept)
    stack.callback(pool.end)
    return pool


def _cached_or_made(
    pool: Pool, cache: Cache | None, candidates: Sequence[Candidate]
) -> Iterator[RecordResult]:
    """The records of files, from the cache or from a check.

    This process reads the cache, because that is faster than the transfer of its records.
    """
    if cache is None:
        yield from pool.make(candidates)
        return
    with held_back():
        found = SetAside(cache.find(each) for each in candidates)
    missing = [each for each, record in zip(candidates, found, strict=True) if record is None]
    new_results = pool.make(missing)
    for record in found:
        yield next(new_results) if record is None else RecordResult(record)
