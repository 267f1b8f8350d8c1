"""Rule-checking linter for servo axis configuration exports.

``__all__`` lists the names for Python programs; each is imported when it is first used.
"""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final

    from .api import CheckOptions as CheckOptions
    from .api import check as check
    from .api import explain as explain
    from .api import fixes as fixes
    from .api import list_rules as list_rules
    from .api import show as show
    from .api import write_fixes as write_fixes
    from .base.errors import AxisproofError as AxisproofError
    from .base.errors import InputError as InputError
    from .base.errors import Place as Place
    from .base.errors import RuleError as RuleError
    from .base.errors import UsageError as UsageError
    from .findings.finding import Finding as Finding
    from .findings.finding import Fix as Fix
    from .findings.finding import Mark as Mark
    from .findings.finding import Report as Report
    from .findings.finding import Undecided as Undecided

_NAMES_BY_MODULE: Final = {
    "api": ("CheckOptions", "check", "explain", "fixes", "list_rules", "show", "write_fixes"),
    "base.errors": ("AxisproofError", "InputError", "Place", "RuleError", "UsageError"),
    "findings.finding": ("Finding", "Fix", "Mark", "Report", "Undecided"),
}
_MODULE_OF: Final = {name: module for module, names in _NAMES_BY_MODULE.items() for name in names}

__all__ = [
    "AxisproofError",
    "CheckOptions",
    "Finding",
    "Fix",
    "InputError",
    "Mark",
    "Place",
    "Report",
    "RuleError",
    "Undecided",
    "UsageError",
    "check",
    "explain",
    "fixes",
    "list_rules",
    "show",
    "write_fixes",
]


def __getattr__(name: str) -> Any:
    """Import a name at its first use."""
    if name not in _MODULE_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    found = globals()[name] = getattr(import_module(f".{_MODULE_OF[name]}", __name__), name)
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
