"""A real browser for tests of pages and sheets.

Needs a Chromium of the system (``apt-get install chromium``); skipped where there is none, except
in CI, where a missing browser is a failure.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from typing import Any

import pytest


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    from playwright.sync_api import sync_playwright

    found = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
    if found is None:
        if os.environ.get("CI"):
            pytest.fail("CI has no chromium, so no page can be opened")
        pytest.skip("no chromium on this machine, so no page can be opened")
    with sync_playwright() as playwright:
        # Containers have no user namespaces for the sandbox; the page is our own.
        opened = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
        yield opened
        opened.close()
