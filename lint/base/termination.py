"""How a process ends that the system or its user terminates: as at any other end, it clears up."""

from __future__ import annotations

import signal
import sys


def clear_up_when_terminated() -> None:
    """Let a termination end the process as any other end does, so that part files are removed."""

    def ended(number: int, _: object) -> None:
        signal.signal(number, signal.SIG_DFL)  # a second one ends the process at once
        sys.exit(128 + number)

    for name in ("SIGTERM", "SIGHUP"):  # Windows has no SIGHUP
        number = getattr(signal, name, None)
        if number is not None and signal.getsignal(number) is signal.SIG_DFL:
            signal.signal(number, ended)
