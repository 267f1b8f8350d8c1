"""Facts of an axis, and the answer of `recalibrate` to a reading."""

from __future__ import annotations

import copy
import json
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, cast

from axisproof.importing.entry import load_trees
from axisproof.report import recalibration_text
from axisproof.report.rendering import RenderOptions
from axisproof.swap.api import recalibrate
from axisproof.swap.recalibrating import Recalibrated

FIXTURES = Path(__file__).parents[2] / "fixtures" / "sound"


@lru_cache(maxsize=4)
def plain(file: str) -> dict[str, Any]:
    return json.loads(json.dumps(load_trees([FIXTURES / file])[0].plain, default=str))


def facts(file: str, axis: str, **changes: Any) -> dict[str, Any]:
    """An axis of a fixture; a name such as controller__homing__method replaces a fact."""
    one = copy.deepcopy(plain(file)["axes"][axis])
    for name, value in changes.items():
        *groups, last = name.split("__")
        here = one
        for group in groups:
            here = here[group]
        if value is None:
            del here[last]
        else:
            here[last] = value
    return cast("dict[str, Any]", one)


def answer(one: dict[str, Any], true: str, indicated: str, **others: str) -> Recalibrated:
    with TemporaryDirectory() as folder:
        file = Path(folder, "machine.json")
        file.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"a": one}}))
        return recalibrate(file, "a", true, indicated, **{"after": "nothing", **others})


def outcomes(result: Recalibrated) -> dict[str, str]:
    return {each.name: each.outcome for each in result.checks}


def told(result: Recalibrated) -> str:
    """The text, on one line."""
    return " ".join(recalibration_text.render(result, RenderOptions(width=100)).split())
