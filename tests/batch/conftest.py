"""What tests of checks of many files share."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from axisproof.checking import record

from tests.batch.batch_helpers import RULES, SITE, archive


@pytest.fixture
def plant(tmp_path: Path) -> Path:
    folder = tmp_path / "plant"
    folder.mkdir()
    (folder / "site.rules").write_text(RULES, "utf-8")
    (folder / "site.yaml").write_text(SITE, "utf-8")
    archive(folder / "machines", 3)
    return folder


@pytest.fixture
def judged(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The files that were checked and not taken from the cache."""
    names: list[str] = []
    real = record.record_of

    def noting(candidate: Any, *rest: Any) -> Any:
        names.append(candidate.path.name)
        return real(candidate, *rest)

    monkeypatch.setattr(record, "record_of", noting)
    return names
