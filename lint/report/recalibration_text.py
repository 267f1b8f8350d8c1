"""A recalibration as text for a terminal: the answer, the steps, then the checks."""

from __future__ import annotations

from ..swap.recalibrating import Recalibrated
from .blocks import hanging, heading, paragraph
from .layout import pad, prose, wrap
from .paint import paint
from .recalibration_check_words import check_words
from .recalibration_words import (
    answer_words,
    caution_words,
    comparison_words,
    plausibility_words,
    proof_words,
    step_words,
)
from .rendering import CAUTION, RenderOptions

SAYS_LITTLE = ("weak", "no power", "invisible", "open")


def render(result: Recalibrated, options: RenderOptions) -> str:
    """Return a recalibration as text that ends in a newline."""
    sections = [
        _answer(result, options),
        _to_solve(result, options),
        _passed(result, options),
        paragraph("Caution", " ".join((*caution_words(result), CAUTION)), options),
        _steps(result, options),
        _proof(result, options),
        _little(result, options),
    ]
    return "\n\n".join("\n".join(lines) for lines in sections if lines) + "\n"


def _answer(result: Recalibrated, options: RenderOptions) -> list[str]:
    lines = [*heading(f"{result.machine} · {result.axis}: recalibration", options), ""]
    for number, text in enumerate(answer_words(result)):
        role = "heading" if number or not result.to_solve else "error"
        broken = wrap(prose(text), options.width)
        lines += [paint(line, role, options) if number < 2 else line for line in broken]
    return lines + wrap(prose(plausibility_words(result)), options.width)


def _to_solve(result: Recalibrated, options: RenderOptions) -> list[str]:
    lines: list[str] = []
    for check in result.to_solve:
        failed = check.outcome == "failed"
        word = pad("Failed" if failed else "Open", 9)
        first, *rest = hanging(word, prose(check_words(result, check)), options.width)
        role = "error" if failed else "undecided"
        lines += [paint(word, role, options) + first[len(word) :], *rest]
    return lines


def _steps(result: Recalibrated, options: RenderOptions) -> list[str]:
    head = "Keep to this" if result.to_solve else "Steps"
    lines = [paint(head, "heading", options)]
    for number, text in enumerate(step_words(result), 1):
        lines += hanging(f"{number:>3}  ", prose(text), options.width)
    return lines


def _proof(result: Recalibrated, options: RenderOptions) -> list[str]:
    """The proof to come, where the steps do not say it yet."""
    if not result.to_solve:
        return []
    places, within = proof_words(result)
    return paragraph("Proof", f"At {places} the difference must not exceed {within}.", options)


def _passed(result: Recalibrated, options: RenderOptions) -> list[str]:
    passed = [each for each in result.checks if each.outcome == "passed"]
    if not passed:
        return []
    words = ", ".join(dict.fromkeys(check_words(result, each) for each in passed))
    tolerance = f"{result.say(result.result.tolerance)}, {result.tolerance_from}"
    return paragraph("Passed", f"{words} (tolerance {tolerance}).", options)


def _little(result: Recalibrated, options: RenderOptions) -> list[str]:
    """Comparisons that tell nothing, or too little."""
    lines: list[str] = []
    for each in result.result.comparisons:
        if each.finding in SAYS_LITTLE:
            lines += paragraph("Not told", comparison_words(result, each), options)
    return lines
