"""What tests of changes share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.changes.two_versions import PAIRS


@pytest.fixture
def version(tmp_path: Path) -> Callable[..., Path]:
    """Writes a version of the lift with some texts replaced."""

    def write(name: str, *replaced: tuple[str, str]) -> Path:
        text = (PAIRS / "lift/before.yaml").read_text("utf-8")
        for old, new in replaced:
            assert old in text, old
            text = text.replace(old, new)
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, "utf-8")
        return path

    return write
