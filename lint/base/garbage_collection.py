"""Python's collector of cyclic garbage, held back while there is none.

Reading a machine only makes objects that stay: the collector would look through all of them again
and again, the longer the more there are, and find nothing. Each machine is garbage once it has been
checked; ``sweep`` then takes it away, however many there are to come.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def held_back() -> Iterator[None]:
    """Hold back the collector, and let it go on afterwards if it was at work before."""
    at_work = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if at_work:
            gc.enable()


def sweep() -> None:
    """Collect what has become garbage of all that was made since the last time."""
    gc.collect(1)  # what may have been looked through once meanwhile, too
