"""What holds for all tests: the examples that hypothesis tries, bytecode for child processes."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, settings

from tests.browser import browser as browser
from tests.shared_bytes import assert_shared_bytes_are_whole

QUICK, USUAL = "quick", "usual"
PATIENT = settings(
    deadline=None,  # other work on the machine makes any example slow
    suppress_health_check=[
        HealthCheck.too_slow,
        HealthCheck.data_too_large,
        HealthCheck.large_base_example,
    ],
)
settings.register_profile(QUICK, PATIENT, max_examples=10)
settings.register_profile(USUAL, PATIENT, max_examples=30)

BYTECODE = pytest.StashKey[str]()


def pytest_configure(config: pytest.Config) -> None:
    """Load the quick profile unless ``--hypothesis-profile`` names another.

    Other groups than the default one have time for the usual profile.

    Child processes keep bytecode in a folder of this run. Without it, each of them compiles the
    generated rules anew where the environment forbids bytecode beside the sources.
    """
    if config.getoption("--hypothesis-profile", None) is None:
        quick = config.getoption("markexpr", "") == "not exhaustive"
        settings.load_profile(QUICK if quick else USUAL)
    folder = getattr(config, "workerinput", {}).get("bytecode")
    if folder is None:
        folder = config.stash[BYTECODE] = tempfile.mkdtemp(prefix="bytecode-")
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    if hasattr(config, "workerinput") or not config.getoption("numprocesses", None):
        os.environ["PYTHONPYCACHEPREFIX"] = folder


@pytest.hookimpl(optionalhook=True)
def pytest_configure_node(node: object) -> None:
    """Tell a process that runs tests where the bytecode is."""
    node.workerinput["bytecode"] = node.config.stash[BYTECODE]  # type: ignore[attr-defined]


def pytest_unconfigure(config: pytest.Config) -> None:
    if BYTECODE in config.stash:
        shutil.rmtree(config.stash[BYTECODE], ignore_errors=True)


@pytest.fixture(autouse=True)
def _no_library_damages_what_all_tests_share() -> Iterator[None]:
    yield
    assert_shared_bytes_are_whole()
