"""The type of what a test captures of the output."""

import pytest

Captured = pytest.CaptureFixture[str]
