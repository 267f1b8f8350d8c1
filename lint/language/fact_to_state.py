"""Which fact to state where one is missing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..base.absence import parts_above
from ..machine.schema import optional_parts


def fact_to_state(record: Mapping[str, Any], path: str) -> str:
    """The fact at ``path``, which is missing, or the part it stands in, if that may be none.

    Whether there is such a part at all is the first question, and `none` may be the whole answer.
    """
    unasked = (part for part in parts_above(path) if part not in record)
    return next((part for part in unasked if part in optional_parts()), path)
