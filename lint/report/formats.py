"""The forms a report can take, and what each needs to be told by the check."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from types import MappingProxyType
from typing import Final, cast

from ..base.lazy import dataclass
from ..findings.finding import Report
from . import RenderOptions

Render = Callable[[Report, RenderOptions], str]


@dataclass(frozen=True, slots=True)
class Form:
    """What a form shows that a check leaves out unless asked."""

    every_outcome: bool = False
    workings: bool = False
    sketches: bool = False


FORMS: Final = MappingProxyType(
    {
        "text": Form(),
        "json": Form(),
        "sarif": Form(),
        "junit": Form(every_outcome=True),
        "markdown": Form(),
        "html": Form(every_outcome=True, workings=True, sketches=True),
    }
)
"""All forms by name; the module of a form has its name. `axisproof check --help` describes them."""


def renderer(name: str) -> Render:
    """Return the function that renders a form; its module is imported only now."""
    return cast(Render, import_module(f".{name}", __package__).render)
