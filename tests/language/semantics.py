"""The value of an expression, the findings of a rule, and the error of a faulty one."""

from __future__ import annotations

from typing import Any

import pytest
from axisproof.base.errors import RuleError
from axisproof.engine.engine import Options, check_machine

from tests.language.evaluating import (
    checked,
)


def refused(require: str, **parts: str) -> str:
    with pytest.raises(RuleError) as caught:
        checked(require, **parts)
    assert caught.value.place is not None
    return str(caught.value)


def findings_of(found: Any, machine: Any) -> list[Any]:
    return check_machine(machine, "hall", found, Options()).findings


def stages(*teeth: int | None, partial: bool = False) -> dict[str, Any]:
    items = [{} if t is None else {"motor_side_teeth": t} for t in teeth]
    return {"mechanics": {"stages": {"partial": items} if partial else items}}


PARTNER = (
    "axis with other where axis.gantry.partner is other.name"
    " directed by axis.gantry.partner without skips"
)
