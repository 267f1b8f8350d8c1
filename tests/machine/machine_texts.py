"""Machine files as texts."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent, indent

import pytest
from axisproof.base.errors import InputError
from axisproof.machine.reader import load_machine


def axis(body: str) -> str:
    """A machine file of one linear axis with ``body`` in it."""
    head = "format: 1\nmachine: hall\naxes:\n  infeed:\n    motion: linear\n"
    return head + indent(dedent(body).strip("\n"), "    ") + "\n"


ONE_AXIS = "axes:\n  a:\n    motion: linear\n"


def refused(path: Path) -> InputError:
    with pytest.raises(InputError) as caught:
        load_machine(path)
    return caught.value
