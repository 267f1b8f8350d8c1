"""Which fact to state where one is missing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from ..base.absence import parts_above
from ..machine.schema import optional_parts


def parts_that_may_be_none(path: str) -> Iterator[str]:
    """The parts that a fact stands in and that a machine may be without, outermost first."""
    return (part for part in parts_above(path) if part in optional_parts())


def fact_to_state(record: Mapping[str, Any], path: str) -> str:
    """The fact at ``path``, which is missing, or the part it stands in, if that may be none.

    Whether there is such a part at all is the first question, and `none` may be the whole answer.
    """
    return next((part for part in parts_that_may_be_none(path) if part not in record), path)
