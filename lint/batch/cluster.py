"""The workers of a Dask scheduler as an executor. It needs the optional extra ``cluster``.

Axisproof starts no scheduler and no worker. What happens to a task whose worker dies is decided by
the scheduler: another worker gets it.
"""

from __future__ import annotations

import asyncio
import logging
import re
import time
import warnings
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from contextlib import contextmanager, suppress
from importlib import metadata
from typing import TYPE_CHECKING, Any, Final

from ..base.errors import AxisproofError, UsageError
from ..base.version import tool_version
from ..source.limits import shortened
from .elsewhere import WatchedExecutor

if TYPE_CHECKING:
    from distributed import Client

PATIENCE: Final = 10.0
"""Seconds in which a scheduler must answer."""

WITHOUT_WORKERS: Final = 30.0
"""Seconds that a scheduler may be without any worker."""

_LOGGERS: Final = ("distributed", "tornado.application", "asyncio")
"""Loggers that tell, in lines of their own, what becomes one error here."""


class ClusterExecutor(WatchedExecutor):
    """The workers of a scheduler, through a client that is connected to it."""

    def __init__(self, client: Client, address: str) -> None:
        self.client = client
        self.address = address
        self.tasks = client.get_executor(pure=False)
        self.last_seen = time.monotonic()

    def submit(self, task: Callable[..., Any], /, *given: Any, **named: Any) -> Future[Any]:
        """Give a task to the scheduler."""
        future: Future[Any] = self.tasks.submit(task, *given, **named)
        return future

    def number(self) -> int:
        """How many tasks the workers can do at a time."""
        return sum(self._threads().values())

    def verify(self) -> None:
        """Raise AxisproofError if the scheduler is gone, or all workers for WITHOUT_WORKERS."""
        now = time.monotonic()
        if self._threads():
            self.last_seen = now
        elif now - self.last_seen > WITHOUT_WORKERS:
            raise AxisproofError(
                f"the scheduler at {self.address} has no worker any more",
                expected=f"at least one worker: `dask worker {self.address}`",
            )

    def _threads(self) -> dict[str, int]:
        """The number of threads of each worker. Raises AxisproofError if the scheduler is gone."""
        try:
            threads: dict[str, int] = self.client.sync(
                self.client.scheduler.ncores, workers=None, callback_timeout=PATIENCE
            )
        except Exception:
            raise AxisproofError(
                f"the scheduler at {self.address} does not answer any more",
                expected="a scheduler that is there until the check ends",
            ) from None
        return threads


@contextmanager
def cluster(address: str) -> Iterator[ClusterExecutor]:
    """The workers of the scheduler at an address such as ``tcp://host:8786``.

    Raises UsageError if the extra is missing, if no scheduler answers within ``PATIENCE``, if it
    has no worker, and if a worker has no axisproof or another version. Whether code and rules are
    the same is seen with each task.
    """
    shown = shortened(address, 200)
    with _quiet():
        client = _connected(address, shown)
        try:
            _require_workers(client, shown)
            yield ClusterExecutor(client, shown)
        finally:
            with suppress(Exception):
                client.close(PATIENCE)


def _require_workers(client: Client, shown: str) -> None:
    """Raise UsageError unless there are workers, all with this version of axisproof."""
    try:
        client.wait_for_workers(1, timeout=PATIENCE)
    except Exception:
        raise UsageError(
            f"the scheduler at {shown} has no worker",
            expected=f"at least one worker: `dask worker {shown}`",
        ) from None
    own = tool_version()
    try:  # a function of axisproof would end a worker that has none
        versions = client.run(
            metadata.version, "axisproof", on_error="return", callback_timeout=PATIENCE
        )
    except Exception:
        raise UsageError(
            f"not every worker of the scheduler at {shown} answers", expected="workers that do"
        ) from None
    for worker, version in sorted(versions.items()):
        if version != own:
            has = f"axisproof {version}" if isinstance(version, str) else "no axisproof"
            what = f"the worker at {worker} has {has}, and this computer has {own}"
            raise UsageError(what, expected="the same axisproof on every worker")


def _connected(address: str, shown: str) -> Client:
    try:
        from distributed import Client
    except ModuleNotFoundError as missing:
        if missing.name not in ("distributed", "dask"):
            raise
        raise UsageError(
            "--cluster needs the package distributed, which is not installed",
            expected="axisproof installed with its extra `cluster`, for example by "
            "pip install '.[cluster]' in its folder",
        ) from None
    expected = "the address that `dask scheduler` prints, such as tcp://host:8786"
    if not _is_address(address):
        what = f"{shown or 'an empty text'} is no address of a scheduler"
        raise UsageError(what, expected=expected)
    try:
        kind = asyncio.run(asyncio.wait_for(_kind_at(address), PATIENCE))
        if kind == "Scheduler":
            return Client(address, timeout=PATIENCE, set_as_default=False)
    except OSError:  # TimeoutError is one
        what = f"no scheduler answers at {shown} within {PATIENCE:.0f} s"
    except Exception as fault:
        what = f"there is no way to connect to {shown} ({' '.join(str(fault).split())})"
    else:
        what = f"at {shown} is a {kind.lower()} and no scheduler"
    raise UsageError(what, expected=expected)


async def _kind_at(address: str) -> str:
    """What answers at an address: ``Scheduler``, or another part of a cluster."""
    from distributed.core import rpc
    from distributed.security import Security

    arguments = Security().get_connection_args("client")
    async with rpc(address, timeout=PATIENCE, connection_args=arguments) as other:
        told = await other.identity()
    return str(told["type"])


_ADDRESS: Final = re.compile(r"(?:([a-z]+)://)?(?:[\w.-]+|\[[0-9A-Fa-f:.%\w]+\]):([0-9]{1,5})/?")


def _is_address(text: str) -> bool:
    """Whether a text is an address of a kind that the installed packages can connect to."""
    from distributed.comm.registry import backends

    found = _ADDRESS.fullmatch(text)
    return found is not None and (found[1] or "tcp") in backends and 0 < int(found[2]) < 1 << 16


@contextmanager
def _quiet() -> Iterator[None]:
    """Keep the client from writing log lines and warnings: what matters is raised."""
    loggers = [logging.getLogger(name) for name in _LOGGERS]
    levels = [logger.level for logger in loggers]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with suppress(ModuleNotFoundError):
            import distributed  # noqa: F401  (it sets the levels of its loggers)
        for logger in loggers:
            logger.setLevel(logging.CRITICAL + 1)
        try:
            yield
        finally:
            for logger, level in zip(loggers, levels, strict=True):
                logger.setLevel(level)
