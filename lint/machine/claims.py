"""A fact that several files state: its claims are read, and one that they agree on is the fact."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final, NoReturn

from ..numbers.written import in_quotes
from ..source.places import KeyPath
from .machine import Dispute, Misfit
from .reading import Fault, Reading, named
from .records import Facts, notes_of
from .schema import Leaf, near
from .value_reader import Refusal, Value, as_written

MAX_CLAIMS: Final = 20


def read_claims(
    value: dict[str, Any],
    out: Facts,
    reading: Reading,
    parts: tuple[str, ...],
    kind: Leaf,
    convert: Callable[[Any], Value],
) -> None:
    """Read ``{claims: [{value, source}, ...]}``: one fact if they agree, else a dispute."""
    path = reading.parts + parts
    stated = _stated(value, path, kind, convert)
    key = ".".join(parts)
    fitting: list[tuple[Value, str, str]] = []
    for index, claim in enumerate(stated):
        try:
            found = convert(claim["value"])
        except Refusal as refusal:
            at = (*path, "claims", index, "value")
            raise Fault(at, refusal.what, refusal.expected) from None
        written = as_written(claim["value"])
        if found[2] is None or found[2] == reading.motion:
            fitting.append((found, written, claim["source"]))
        elif reading.motion is not None:
            at_text = f"{reading.text}{key}.claims[{index}].value"
            reading.misfits.append(Misfit(at_text, written, reading.motion))
    if not fitting:
        return
    first = fitting[0][0][0]
    if any(found[0] != first for found, _, _ in fitting):
        claims = tuple((written, source) for _, written, source in fitting)
        reading.disputes.append(Dispute(reading.text + key, claims))
    elif len(fitting) == len(stated):
        out[key] = first
        decimals = [found[1] for found, _, _ in fitting]
        if all(decimals):
            notes_of(out).add_decimals(key, max(decimals))


def _stated(
    value: dict[str, Any], path: KeyPath, kind: Leaf, convert: Callable[[Any], Value]
) -> list[dict[str, Any]]:
    """The list of claims, each checked to be a value with a source."""
    if "claims" not in value:
        if not kind.claims or not near(next(iter(value), ""), ("claims",)):
            _refuse_record(value, path, convert)
        raise Fault((*path, next(iter(value))), "is not known here", "'claims'", key=True)
    if not kind.claims:
        _refuse_claims(value["claims"], path)
    for name in value:
        if name != "claims":
            raise Fault((*path, name), "stands beside claims", "nothing beside claims", key=True)
    claims = value["claims"]
    at = (*path, "claims")
    if type(claims) is not list or not 1 <= len(claims) <= MAX_CLAIMS:
        count = f"has {len(claims)} entries" if type(claims) is list else f"is {named(claims)}"
        raise Fault(at, count, f"a list of 1 to {MAX_CLAIMS} claims")
    for index, claim in enumerate(claims):
        _check_claim(claim, (*at, index))
    return claims


def _check_claim(claim: Any, at: KeyPath) -> None:
    expected = "a record of value and source"
    if type(claim) is not dict:
        raise Fault(at, f"is {named(claim)}", expected)
    for name in ("value", "source"):
        if name not in claim:
            raise Fault(at, f"lacks {name!r}", expected, key=True, lacking=True)
    for name in claim:
        if name not in ("value", "source"):
            raise Fault((*at, name), "is not part of a claim", expected, key=True)
    source = claim["source"]
    if type(source) is not str or not source:
        raise Fault((*at, "source"), f"is {named(source)}", "the name of the source as text")


def _refuse_record(value: Any, path: KeyPath, convert: Callable[[Any], Value]) -> NoReturn:
    try:
        convert(value)
    except Refusal as refusal:
        raise Fault(path, refusal.what, refusal.expected) from None
    raise AssertionError(f"a leaf took the record {value!r}")


def _refuse_claims(claims: Any, path: KeyPath) -> NoReturn:
    texts = [
        in_quotes(as_written(claim["value"]))
        for claim in (claims if type(claims) is list else [])
        if type(claim) is dict and "value" in claim
    ]
    what = f"is claimed to be {' and '.join(texts[:3])}" if texts else "has claims"
    raise Fault(path, what, "one value, the same in every file")
