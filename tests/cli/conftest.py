"""What tests of the command line share."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import axisproof
import pytest

from tests.cli.fake_api import FakeApi
from tests.cli.site_repository import WEAK
from tests.repositories import commit, git


@pytest.fixture
def api(monkeypatch: pytest.MonkeyPatch) -> FakeApi:
    fake = FakeApi()
    monkeypatch.setitem(sys.modules, "axisproof.api", fake)
    monkeypatch.setattr(axisproof, "api", fake, raising=False)
    monkeypatch.delenv("AXISPROOF_DEBUG", raising=False)
    return fake


@pytest.fixture
def hall(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A repository with a machine that has one fault, which the present folder is."""
    top = tmp_path / "repository"
    (top / "machines").mkdir(parents=True)
    git(top, "init", "-q")
    shutil.copy(WEAK, top / "machines" / "weak.yaml")
    monkeypatch.chdir(top)
    commit(top)
    return top
