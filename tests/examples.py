"""How many examples a test tries, measured by the profile in force (see ``conftest.py``)."""

from __future__ import annotations

from typing import Any

from hypothesis import settings


def examples(share: float, **others: Any) -> settings:
    """Return settings with ``share`` times the examples of the profile.

    A share below 1 is for a test whose examples take long, one above 1 for a test that finds
    something only among many.
    """
    most = settings.default.max_examples  # type: ignore[attr-defined]
    return settings(max_examples=max(5, round(most * share)), **others)
