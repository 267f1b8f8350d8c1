"""How much the loops of a rule may work on one machine, counted while they run.

What a rule's text costs is bounded when it is read (bounds.py). How often a loop runs depends on
the machine: ``every a in machine.axes has every b in machine.axes where b.motion is a.motion``
meets every axis with half of the others. So each loop over a list of the machine, and each loop
within a loop, is charged with its items times what one of them costs, before it runs. Where nobody
set a limit (``limited``), nothing is counted.
"""

from __future__ import annotations

from _thread import _local  # what threading offers as local, without its other parts
from contextlib import contextmanager
from itertools import islice
from math import inf

from ..base.errors import RuleError

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Sequence
    from typing import Final, TypeVar

    Item = TypeVar("Item")

MAX_STEPS: Final = 10_000_000
"""Most steps (about one operation each) that the loops of a rule may take on one machine.

A step takes 0.3 µs with everyday numbers.
"""

MAX_RUN_STEPS: Final = 50_000_000
"""Most steps that the loops of all rules together may take on one machine."""

MAX_OWN_STEPS: Final = 200_000_000
"""Most steps that a site's own rules may take on one machine, without their loops."""

PAIR_STEPS: Final = 250
"""What one pair of axes counts for: it may become a finding, which costs a thousand operations."""


CHUNK: Final = 16
"""Items of a long list that are charged for together."""

INCLUDED_STEPS: Final = 0.1
"""What `includes` counts for each item of its list, within a loop."""


class TooManySteps(RuleError):
    """The loops of a rule go beyond MAX_STEPS; the engine says of which rule."""

    rule: str = ""


class _StepBudget(_local):
    """The steps that loops may still take, for each thread its own."""

    steps_left: float = inf


BUDGET: Final = _StepBudget()

EXPECTED: Final = "loops that pick their items by an equality that few of them meet"


def metered(items: Collection[Item], steps: float) -> Iterable[Item]:
    """The items of a loop, each of which costs ``steps``. Raises TooManySteps.

    A long list is charged for bit by bit, since a loop mostly ends before it does.
    """
    if len(items) > CHUNK:
        return _in_chunks(items, steps)
    _charge(len(items) * steps)
    return items


def _in_chunks(items: Iterable[Item], steps: float) -> Iterator[Item]:
    rest = iter(items)
    while chunk := [*islice(rest, CHUNK)]:
        _charge(len(chunk) * steps)
        yield from chunk


def metered_as_read(items: Iterable[Item], steps: float) -> Iterator[Item]:
    """Items that are found one by one, charged for as `metered` does. Raises TooManySteps."""
    for number, item in enumerate(items, 1):
        if not number % CHUNK:
            _charge(CHUNK * steps)
        yield item


def charged(items: Sequence[Item], steps: float) -> Sequence[Item]:
    """The items of a list that is searched, each of which costs ``steps``. Raises TooManySteps."""
    _charge(len(items) * steps)
    return items


def searched(items: Sequence[Item]) -> Sequence[Item]:
    """Items that `includes` looks through within a loop. Raises TooManySteps.

    A list takes a look at each item; what is no list knows at once what it holds.
    """
    return charged(items, INCLUDED_STEPS) if items.__class__ is list else items


def _charge(steps: float) -> None:
    BUDGET.steps_left -= steps
    if BUDGET.steps_left < 0:
        raise TooManySteps(
            f"the loops of a rule or definition take more than {MAX_STEPS:,} steps",
            expected=EXPECTED,
        )


@contextmanager
def limited() -> Iterator[None]:
    """Let the loops that run inside take MAX_STEPS together."""
    before = BUDGET.steps_left
    BUDGET.steps_left = float(MAX_STEPS)
    try:
        yield
    finally:
        BUDGET.steps_left = before


class RunBudget:
    """What all rules together may still do on one machine."""

    def __init__(self) -> None:
        self.steps_left = float(MAX_RUN_STEPS)
        self.taken: dict[str, float] = {}

    @contextmanager
    def rule(self, name: str) -> Iterator[None]:
        """Let the loops inside take the steps of a rule, as far as all rules have them left."""
        before = BUDGET.steps_left
        BUDGET.steps_left = given = min(float(MAX_STEPS), self.steps_left)
        try:
            yield
        finally:
            self.take(name, given - BUDGET.steps_left)
            BUDGET.steps_left = before

    def take(self, name: str, steps: float) -> None:
        """Count steps that a rule has taken."""
        self.taken[name] = self.taken.get(name, 0) + steps
        self.steps_left -= steps

    def largest(self) -> str:
        """The rule that has taken the most steps."""
        return max(self.taken, key=self.taken.__getitem__)
