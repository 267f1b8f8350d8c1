"""From rules and axes to verdicts: what the generated functions of the rules return."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from ..catalogue.catalogue import RunnableRule
from ..language.budget import BUDGET, MAX_STEPS, RunBudget, TooManySteps
from ..machine.records import Facts
from .cases import Case, looks_at_one_axis

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


BROKEN, HOLDS, NOT_APPLICABLE = 0, 1, 2
"""The verdicts of a rule's function; None stands for undecided."""

AXIS_BATCH: Final = 32
"""Number of axes that all rules run over before the next ones. So few stay in a core's cache."""


def verdicts_on_axes(
    entries: Sequence[RunnableRule], axes: Sequence[Facts], facts: Facts, budget: RunBudget
) -> list[list[int | None]]:
    """The verdicts of each rule that looks at one axis, on axes of a machine in their order.

    Raises TooManySteps, which names the rule, if its loops take too many steps on all axes.
    """
    judging = [entry for entry in entries if looks_at_one_axis(entry)]
    columns: list[list[int | None]] = [[] for _ in judging]
    left = [float(MAX_STEPS)] * len(judging)
    for start in range(0, len(axes), AXIS_BATCH):
        batch = axes[start : start + AXIS_BATCH]
        for number, entry in enumerate(judging):
            function = entry.function
            BUDGET.steps_left = given = min(left[number], budget.steps_left)
            try:
                columns[number] += [function(axis, facts) for axis in batch]
            except TooManySteps as fault:
                fault.rule = entry.name
                raise
            finally:
                taken = given - BUDGET.steps_left
                if taken:
                    left[number] -= taken
                    budget.take(entry.name, taken)
                BUDGET.steps_left = inf
    return columns


_WORST_FIRST: Final = (BROKEN, None, HOLDS, NOT_APPLICABLE)


def worse(first: int | None, second: int | None) -> int | None:
    """The verdict of both ways of a pair: broken before undecided before all others."""
    return min(first, second, key=_WORST_FIRST.index)


def verdict_of(entry: RunnableRule, case: Case) -> int | None:
    """The verdict of a rule on a case. Of one that nothing matches the condition is asked, too."""
    if case.missing:
        return None
    if case.absent and not case.fails:
        return NOT_APPLICABLE
    return settled(case, entry.function(*map(case.env.get, entry.arguments)))


def settled(case: Case, verdict: int | None) -> int | None:
    """The verdict of a rule's function: what shares nothing breaks no rule about sharing."""
    return HOLDS if verdict is None and case.rest and not case.lacks else verdict
