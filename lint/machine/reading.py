"""One reading of a machine file: what the readers share, and the fault it stops at, in words."""

from __future__ import annotations

from ..base.errors import MOST_ERRORS
from ..source.places import KeyPath, path_text
from .machine import Dispute, Misfit
from .old_names import new_name
from .schema import Field, Leaf, ListType, RecordType, facts, near
from .value_reader import expectation, show

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


class Fault(Exception):
    """The first thing wrong with a plain tree: where, what, and what was expected.

    ``what`` is a whole sentence that begins with the path; ``key`` tells whether the key is at
    fault (unknown, or without a key that it needs below it) and not the value. ``lacking``: nothing
    is wrong with what stands there, but something is missing. ``missing`` is the missing key,
    or that an unknown key is meant as.
    """

    def __init__(
        self,
        path: KeyPath,
        what: str,
        expected: str,
        key: bool = False,
        lacking: bool = False,
        missing: str = "",
    ) -> None:
        self.path = path
        self.what = f"{path_text(path) or 'the file'} {what}"
        self.expected = expected
        self.key = key
        self.lacking = lacking
        self.missing = missing
        super().__init__(self.what)


class Reading:
    """What the readers share: where the record at hand stands, and what they found on the way.

    ``excused`` are paths of facts that may be missing, as this was told before.
    """

    __slots__ = ("disputes", "entries", "excused", "misfits", "motion", "parts", "text")

    def __init__(self, excused: frozenset[KeyPath] = frozenset()) -> None:
        self.excused = excused
        self.parts: KeyPath = ()
        self.text = ""
        self.entries = 0
        self.motion: str | None = None
        self.disputes: list[Dispute] = []
        self.misfits: list[Misfit] = []


def named(value: Any) -> str:
    """A plain value in a fault: a text says that it is one."""
    return f"the text {show(value)}" if isinstance(value, str) else show(value)


def record_words(kind: RecordType) -> str:
    """What a fault expects where a record stands."""
    names = [*kind.required, *(name for name, field in kind.fields.items() if not field.implied)]
    names = list(dict.fromkeys(names))
    return f"a record with facts such as {', '.join(names[:3])}"


def field_words(field: Field) -> str:
    """What a fault expects where a field is missing."""
    if isinstance(field.type, Leaf):
        return expectation(field.type, field.examples)
    if isinstance(field.type, ListType):
        return "a list"
    return "a record" if isinstance(field.type, RecordType) else "a record of records by name"


def lacks_fact(path: KeyPath, name: str, kind: RecordType, stated: dict[str, Any]) -> Fault:
    """The fault of a record without a fact that it needs: the key that is meant as it, if any."""
    names = [each for each, field in kind.fields.items() if not field.implied]
    unknown = [each for each in stated if each not in names][:MOST_ERRORS]
    for key in unknown:
        if near(key, names)[:1] == (name,):
            fault = unknown_fact(path, key, kind, names)
            fault.missing = name
            return fault
    wanted = f"{name}: {field_words(kind.fields[name])}"
    return Fault(path, f"lacks {name!r}", wanted, key=True, lacking=True, missing=name)


def unknown_fact(path: KeyPath, name: str, kind: RecordType, names: list[str]) -> Fault:
    """The fault of a key that no fact has, with the facts that may be meant."""
    candidates = near(name, names)
    elsewhere = [fact for fact in facts(kind) if fact.endswith(f".{name}")]
    if new_name(name, names):
        expected = f"its new name, {candidates[0]!r}"
    elif candidates:
        expected = " or ".join(repr(each) for each in candidates)
        expected = f"perhaps {expected}"
    elif elsewhere:
        expected = f"it to stand at {' or '.join(elsewhere[:3])}"
    else:
        expected = f"one of {', '.join(names[:14])}{', …' if len(names) > 14 else ''}"
    return Fault((*path, name), "is not a fact that the machine file knows", expected, key=True)
