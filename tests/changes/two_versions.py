"""Two versions of a machine, and what one command tells of them."""

from __future__ import annotations

import json
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path

from axisproof.findings.change_report import ChangeReport, FactChange

ROOT = Path(__file__).parents[2]
PAIRS = ROOT / "fixtures/changes"
SCHEMA = json.loads(files("axisproof.schemas").joinpath("changes.schema.json").read_text("utf-8"))
Version = Callable[..., Path]


def told(report: ChangeReport) -> list[tuple[str, str | None, str | None]]:
    return [(change.fact, change.old, change.new) for change in report.facts]


def one(report: ChangeReport) -> FactChange:
    (change,) = report.facts
    return change
