"""A small plant, and its check with a cache."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any

from axisproof import api
from axisproof.findings.finding import Report

DAY = datetime.date(2026, 6, 1)


def checked(plant: Path, noted: Callable[[str], None] | None = None, **options: Any) -> Report:
    given: dict[str, Any] = {
        "rules": [plant / "site.rules"],
        "settings": plant / "site.yaml",
        "on": DAY,
        "cache": plant / "kept",
    }
    return api.check([plant / "machines"], api.CheckOptions(**(given | options)), noted=noted)
