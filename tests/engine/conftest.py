"""What tests of the engine share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from axisproof.machine.machine import Machine
from axisproof.machine.reader import read_machine
from axisproof.source.merge import load_tree


@pytest.fixture
def hall(tmp_path: Path) -> Callable[[str], Machine]:
    def write(body: str, **more: str) -> Machine:
        for name, text in more.items():
            (tmp_path / f"{name}.yaml").write_text(text, "utf-8")
        path = tmp_path / "hall.yaml"
        path.write_text("format: 1\nmachine: hall\n" + body, "utf-8")
        return read_machine(load_tree(path))

    return write
