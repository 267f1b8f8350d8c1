"""The forms of a report, and what each needs from the check."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from importlib import import_module
from types import MappingProxyType

from ..base.lazy import dataclass, replace
from ..findings.finding import Report
from ..findings.rows import Rows, in_memory
from .rendering import RenderOptions

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final


Render = Callable[[Report, RenderOptions], str]


@dataclass(frozen=True, slots=True)
class Form:
    """What a form shows and a check otherwise leaves out.

    ``looks_once``: it looks at most rows once, so that they need not be in memory.
    """

    every_outcome: bool = False
    workings: bool = False
    sketches: bool = False
    looks_once: bool = False


FORMS: Final = MappingProxyType(
    {
        "text": Form(),
        "lines": Form(looks_once=True),
        "annotations": Form(looks_once=True),
        "codequality": Form(looks_once=True),
        "json": Form(looks_once=True),
        "sarif": Form(looks_once=True),
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


def rendered(name: str, report: Report, options: RenderOptions) -> Iterator[str]:
    """Return a report in a form, in pieces of text.

    A form whose module has ``pieces`` never holds its whole text in memory.
    """
    module = import_module(f".{name}", __package__)
    given = report if FORMS[name].looks_once else with_rows_in_memory(report)
    if hasattr(module, "pieces"):
        yield from module.pieces(given, options)
    else:
        yield module.render(given, options)


def with_rows_in_memory(report: Report) -> Report:
    """The same report with all rows in memory, for forms that look at them often."""
    long: dict[str, Any] = {
        name: in_memory(value)
        for name in report.__match_args__
        if isinstance(value := getattr(report, name), Rows)
    }
    return replace(report, **long) if long else report
