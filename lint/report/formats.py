"""The forms of a report, and what each needs from the check."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from types import MappingProxyType

from ..base.lazy import dataclass
from ..findings.finding import Report
from .rendering import RenderOptions

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


Render = Callable[[Report, RenderOptions], str]


@dataclass(frozen=True, slots=True)
class Form:
    """What a form shows and a check otherwise leaves out."""

    every_outcome: bool = False
    workings: bool = False
    sketches: bool = False


FORMS: Final = MappingProxyType(
    {
        "text": Form(),
        "lines": Form(),
        "annotations": Form(),
        "codequality": Form(),
        "json": Form(),
        "sarif": Form(),
        "junit": Form(every_outcome=True),
        "markdown": Form(),
        "html": Form(every_outcome=True, workings=True, sketches=True),
    }
)
"""All forms by name; the module of a form has its name. `axisproof check --help` describes them."""


def renderer(name: str) -> Render:
    """Return the function that renders a form; its module is imported late."""
    render: Render = import_module(f".{name}", __package__).render
    return render
