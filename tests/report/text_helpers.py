"""A report as text, and samples of it."""

from __future__ import annotations

from axisproof.findings.finding import (
    Report,
    Undecided,
)
from axisproof.report.rendering import RenderOptions
from axisproof.report.text import render

PLAIN = RenderOptions()


def shown(report: Report, **options: object) -> str:
    return render(report, RenderOptions(**options))  # type: ignore[arg-type]


def folded(text: str) -> str:
    return " ".join(text.split())


def undecided(rule: str, level: str, axis: str, *missing: str, reason: str = "") -> Undecided:
    facts = tuple(f"axes.{axis}.{fact}" for fact in missing)
    return Undecided(rule, level, "hall", axis, "t", facts, reason)  # type: ignore[arg-type]
