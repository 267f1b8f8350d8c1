"""Whether a mapping or project file has the shape its published schema asks for, in words."""

from __future__ import annotations

import json
from functools import lru_cache
from importlib.resources import files
from itertools import islice
from typing import Any, Final

from ..base.errors import MOST_ERRORS, InputError
from ..machine.schema import near
from ..machine.value_reader import show
from ..source.files import Plain, Source
from ..source.parsing import locate
from ..source.places import KeyPath, path_text
from .foreign import KINDS

MAX_FAULTS: Final = 200
"""Most misfits of a file that are looked at to find its first."""


@lru_cache(maxsize=4)
def _validator(name: str) -> Any:
    from jsonschema import Draft202012Validator

    text = files("axisproof.schemas").joinpath(f"{name}.schema.json").read_text("utf-8")
    return Draft202012Validator(json.loads(text))


def check_shape(source: Source, plain: Plain, name: str) -> dict[str, Any]:
    """The values of a file that fits ``schemas/NAME.schema.json``.

    Raises InputError at the first place in the file that does not fit, with the next ones beside
    it; of very many such places, at the first of those that were looked at.
    """
    faults = list(islice(_validator(name).iter_errors(plain), MAX_FAULTS))
    if faults:
        refuse_other_kind(source, plain, "axisproof" if name == "site" else name)
        innermost = [_innermost(fault) for fault in faults]
        errors = [_told(source, fault) for fault in innermost]
        first, *others = sorted({str(each): each for each in errors}.values(), key=_order)
        first.others = tuple(others[: MOST_ERRORS - 1])
        raise first
    assert isinstance(plain, dict)
    return plain


def refuse_other_kind(source: Source, plain: Plain, key: str) -> None:
    """Raise InputError for a file of another kind than the one that is known by ``key``."""
    if not isinstance(plain, dict) or key in plain:
        return
    for other, words in KINDS.items():
        if other in plain and words != KINDS[key]:
            raise error_at(source, (other,), f"the file is {words}", KINDS[key], key=True)


def error_at(
    source: Source, path: KeyPath, what: str, expected: str, *, key: bool = False
) -> InputError:
    """An error about a path of a file, to be raised by the caller; ``key``: about its key."""
    here = locate(source)
    place = here.key(path) if key else here.value(path)
    for cut in range(len(path), -1, -1):
        place = place or here.value(path[:cut])
    return source.error_at(what, place or source.place(0, 0), expected)


def _order(error: InputError) -> tuple[int, int]:
    return (error.place.line, error.place.column) if error.place else (0, 0)


def _innermost(fault: Any) -> Any:
    """Of alternatives, the fault of the one that fits best: the one whose keys are there."""
    while fault.validator == "anyOf" and isinstance(fault.instance, dict):
        branches: dict[int, list[Any]] = {}
        for inner in fault.context:
            branches.setdefault(inner.schema_path[0], []).append(inner)
        best = min(branches.values(), key=_misfit)
        fault = min(best, key=lambda each: (-len(each.absolute_path), each.validator == "required"))
    return fault


def _misfit(faults: list[Any]) -> tuple[int, int]:
    """How badly a branch misses: lacking its own key counts most, then every other fault."""
    lacking = sum(each.validator == "required" and len(each.path) == 0 for each in faults)
    strangers = sum(
        len(set(each.instance) - set(each.schema["properties"]))
        for each in faults
        if each.validator == "additionalProperties" and len(each.path) == 0
    )
    return lacking * 3 + strangers, len(faults)


def _told(source: Source, fault: Any) -> InputError:
    path: KeyPath = tuple(fault.absolute_path)
    schema, value = fault.schema, fault.instance
    named = path_text(path) or "the file"
    if "propertyNames" in fault.absolute_schema_path:
        expected = "a name of up to 64 letters, digits, - and _ that begins with a letter"
        what = f"{named} has the key {show(value)}"
        return error_at(source, (*path, value), what, expected, key=True)
    match fault.validator:
        case "additionalProperties":
            known = list(schema["properties"])
            stranger = next(key for key in value if key not in known)
            close = near(stranger, known)
            expected = f"perhaps {close[0]!r}" if close else f"one of {', '.join(known)}"
            what = f"{path_text((*path, stranger))} is not known here"
            return error_at(source, (*path, stranger), what, expected, key=True)
        case "required":
            lacking = next(key for key in fault.validator_value if key not in value)
            due = schema["properties"][lacking]
            described = due.get("description", "")
            if "const" in due:
                described = f"{lacking}: {due['const']}"
            return error_at(source, path, f"{named} lacks {lacking!r}", described, key=True)
        case "maxItems" | "maxProperties":
            return error_at(source, path, f"{named} has {len(value)} entries", _due(fault))
    return error_at(source, path, f"{named} is {show(value)}", _due(fault))


def _due(fault: Any) -> str:
    value = fault.validator_value
    match fault.validator:
        case "const":
            return str(value)
        case "enum":
            return f"one of {', '.join(map(str, value))}"
        case "type":
            words = {"object": "a record", "array": "a list", "string": "text"}
            words |= {"integer": "a whole number", "boolean": "true or false", "number": "a number"}
            kinds = [value] if isinstance(value, str) else value
            return " or ".join(words[kind] for kind in kinds)
        case "minLength" | "minItems" | "minProperties":
            return "something"
        case "maxLength" | "maxItems" | "maxProperties":
            return f"at most {value}"
        case "minimum":
            return f"{value} or more"
        case "maximum":
            return f"{value} or less"
        case "anyOf":
            if all(
                each.validator == "type" and each.validator_value == "object"
                for each in fault.context
            ):
                keys = [each.schema["required"][0] for each in fault.context]
                return f"a record with one of the keys {', '.join(keys)}"
            return "an exact number such as 5, 0.01 or 1/100"
    return str(fault.schema.get("description", "") or "another form")
