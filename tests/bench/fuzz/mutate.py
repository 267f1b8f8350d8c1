"""Changes to an input that keep most of it readable: lines, tokens and values, by its form.

Few random changes of bytes pass the parser. So inputs change as people and programs change them: a
line is missing, doubled or moved; another word replaces a word; a value has another kind, unit or
size. The fuzzer's own changes of bytes make the rest.
"""

from __future__ import annotations

import json
import random
import re
from collections.abc import Callable
from functools import lru_cache
from importlib.resources import files
from typing import Final

from .file_bundle import pack, unpack
from .targets import TARGETS

_TOKEN: Final = re.compile(
    rb"[A-Za-z_][A-Za-z0-9_-]*|[0-9]+(?:[.,][0-9]+)?|\s+|[^\x00-\x7f]+|.", re.DOTALL
)
_VALUE: Final = re.compile(rb"(?m)([:=][ \t]*)([^\s{\[|>][^\n#,}\]]*)")

NUMBERS: Final = tuple(
    b"0 -0 1 -1 2 3 7 10 31 40 63 64 127 128 255 256 1000 4095 8388608 65535 65536 1048576 "
    b"2147483647 2147483648 -2147483648 4294967295 4294967296 18446744073709551615 0.1 0.001 "
    b"1e3 1e30 1e31 1e-30 1e999999 -1e30 3.141592653589793 0.333333333 1/3 10/3 720/7 0/1 1/0 "
    b"0x10 0xFFFFFFFF "
    b"0x80000000 0o17 007 .5 5. +5 1_000 .inf .nan 1234567890123456789012345678901234567890 "
    b"12345678901234567890123456789012345678901 1.0000000000000000000000000000000000000001".split()
)
ODD: Final = (
    *(b"none", b"null", b"~", b"", b"true", b"false", b"yes", b"off", b"{}", b"[]", b"[[]]", b"''"),
    *(b'""', b"*a", b"&a 1", b"!!str 1", b"!x 1", b"<<", b"{partial: []}", b"{claims: []}"),
    *(b"{claims: [{value: 1, source: a}, {value: 2, source: b}]}", b"|", b">-", b"? x", b"- 1"),
    *(b"2026-02-30", b"2026-01-01", b"0001-01-01", b"9999-12-31", b"\xef\xbb\xbf", b"\xe2\x80\xae"),
    *(
        b'"\\u202e\\u2066"',
        b'"\\e[31m"',
        b"\x1b[31m",
        b"\x00",
        b"\xff",
        b"\xc2\x85",
        b"\xe2\x80\xa8",
    ),
    *(b"$NODEID", b"$NODEID+0x600", b"../part.yaml", b"/etc/passwd", b"part.yaml", b"machine.yaml"),
    *(b"`|<b>*_[x](y)", b"=1+1", b'";', b"<!DOCTYPE x>", b"]]>", b"&amp;", b"%x", b"{x", b"}"),
)


@lru_cache(maxsize=1)
def words() -> tuple[bytes, ...]:
    """Words of files: fields and words of the schemas, units, names of the rules."""
    from axisproof.language.grammar import keywords
    from axisproof.language.library import FUNCTIONS
    from axisproof.numbers.units import UNITS

    found: dict[str, None] = dict.fromkeys((*FUNCTIONS, *sorted(keywords())))

    def gather(node: object) -> None:
        if isinstance(node, dict):
            properties = node.get("properties")
            found.update(dict.fromkeys(properties if isinstance(properties, dict) else ()))
            for word in node.get("enum", ()) if isinstance(node.get("enum"), list) else ():
                found[str(word)] = None
            for inner in node.values():
                gather(inner)
        elif isinstance(node, list):
            for inner in node:
                gather(inner)

    for name in ("machine", "mapping", "project", "waivers", "accepted", "part"):
        gather(json.loads(files("axisproof.schemas").joinpath(f"{name}.schema.json").read_text()))
    units = [f" {unit}" for unit in UNITS]
    entries = "ParameterName ObjectType DataType DefaultValue ParameterValue LowLimit HighLimit "
    entries += "SubNumber CompactSubObj NrOfEntries NodeID 607C 6091 6091sub1 60A8 6080Value"
    return tuple(word.encode() for word in (*found, *units, *entries.split()))


def mutator(
    name: str, seeds: list[bytes], good: list[bytes], own: Callable[[bytes, int], bytes]
) -> Callable[[bytes, int, int], bytes]:
    """The mutator of a target, for atheris; ``own`` is libFuzzer's own way.

    ``good`` are readable inputs, and the caller adds more. Half the changes begin with one of them,
    because axisproof refuses most inputs that libFuzzer keeps.
    """
    names = TARGETS[name].names
    values = _values_by_key(seeds)

    def mutate(data: bytes, most: int, seed: int) -> bytes:
        dice = random.Random(seed)
        if not data or dice.random() < 0.5:
            data = dice.choice(good)
        for _ in range(dice.choice((1, 1, 1, 1, 2, 2, 3, 5))):
            parcel = unpack(data, names)
            if not parcel:
                break
            file = dice.choice(list(parcel))
            parcel[file] = changed(parcel[file], dice, seeds, values, names, file, own)
            data = pack(parcel)
        return data[:most]

    return mutate


def changed(
    text: bytes,
    dice: random.Random,
    seeds: list[bytes],
    values: dict[bytes, list[bytes]],
    names: tuple[str, ...],
    file: str,
    own: Callable[[bytes, int], bytes],
) -> bytes:
    """A file with one change."""
    roll = dice.random()
    if roll < 0.07:
        return own(text, len(text) + 64)
    if roll < 0.45:
        return _value_of_its_kind(text, values, dice)
    if roll < 0.6:
        return _value_changed(text, dice)
    if roll < 0.72:
        return _token_changed(text, dice)
    if roll < 0.92:
        return _line_changed(text, dice)
    other = unpack(dice.choice(seeds), names).get(file, text)
    return _spliced(text, other, dice)


_ENTRY: Final = re.compile(rb"""(?m)([\w.-]+)["']?([:=][ \t]*)([^\s{\[|>][^\n#,}\]]*)""")
_DIGITS: Final = re.compile(rb"-?[0-9]+")


def _values_by_key(seeds: list[bytes]) -> dict[bytes, list[bytes]]:
    """The values of each key in the seeds."""
    found: dict[bytes, dict[bytes, None]] = {}
    for seed in seeds:
        for key, _, value in _ENTRY.findall(seed):
            found.setdefault(key, {})[value] = None
    return {key: list(values) for key, values in found.items()}


def _value_of_its_kind(text: bytes, values: dict[bytes, list[bytes]], dice: random.Random) -> bytes:
    """Replace a value by another one of the same key, or by a larger or smaller number."""
    found = list(_ENTRY.finditer(text))
    if not found:
        return _token_changed(text, dice)
    at = dice.choice(found)
    old = at[3]
    number = _DIGITS.search(old)
    if number and dice.random() < 0.5:
        value = int(number[0][:40])
        value = dice.choice(
            (value + 1, value - 1, value * 2, value // 2, value * 10, -value, 0, value * 1000)
        )
        new = old[: number.start()] + b"%d" % value + old[number.end() :]
    else:
        new = dice.choice(values.get(at[1], [old]))
    return text[: at.start(3)] + new + text[at.end(3) :]


def _value_changed(text: bytes, dice: random.Random) -> bytes:
    """Replace a value by a number, an odd value or a word."""
    found = list(_VALUE.finditer(text))
    if not found:
        return _token_changed(text, dice)
    at = dice.choice(found)
    old = at[2]
    roll = dice.random()
    if roll < 0.35:
        _, _, rest = old.partition(b" ")
        new = dice.choice(NUMBERS) + (b" " + rest if rest else b"")
    elif roll < 0.55:
        new = old.partition(b" ")[0] + dice.choice(words()[-120:])
    elif roll < 0.75:
        new = dice.choice(ODD)
    elif roll < 0.9:
        new = dice.choice(words())
    else:
        new = dice.choice(found)[2]
    return text[: at.start(2)] + new + text[at.end(2) :]


def _token_changed(text: bytes, dice: random.Random) -> bytes:
    tokens = _TOKEN.findall(text)
    if not tokens:
        return dice.choice(words())
    at = dice.randrange(len(tokens))
    roll = dice.random()
    if roll < 0.2:
        del tokens[at]
    elif roll < 0.35:
        tokens.insert(at, tokens[at])
    elif roll < 0.5:
        other = dice.randrange(len(tokens))
        tokens[at], tokens[other] = tokens[other], tokens[at]
    elif roll < 0.75:
        tokens[at] = dice.choice(words()) if tokens[at].isalpha() else dice.choice(NUMBERS)
    elif roll < 0.9:
        tokens[at] = dice.choice(tokens)
    else:
        tokens.insert(at, dice.choice(ODD))
    return b"".join(tokens)


def _line_changed(text: bytes, dice: random.Random) -> bytes:
    lines = text.split(b"\n")
    first = dice.randrange(len(lines))
    last = min(len(lines), first + dice.choice((1, 1, 1, 2, 4, 9)))
    block = lines[first:last]
    roll = dice.random()
    if roll < 0.35:
        del lines[first:last]
    elif roll < 0.55:
        lines[first:first] = block * dice.choice((1, 1, 1, 3, 20))
    elif roll < 0.75:
        del lines[first:last]
        at = dice.randrange(len(lines) + 1)
        lines[at:at] = block
    elif roll < 0.9:
        shift = dice.choice((b" ", b"  ", b"    ", b"- ", b"\t"))
        lines[first:last] = [shift + line for line in block]
    else:
        lines[first:last] = [line[min(2, len(line) - len(line.lstrip())) :] for line in block]
    return b"\n".join(lines)


def _spliced(text: bytes, other: bytes, dice: random.Random) -> bytes:
    """Insert lines of another input, or replace lines by them."""
    lines, theirs = text.split(b"\n"), other.split(b"\n")
    first = dice.randrange(len(theirs))
    block = theirs[first : first + dice.choice((1, 2, 5, 12, 40))]
    indent = len(block[0]) - len(block[0].lstrip())
    same = [n for n, line in enumerate(lines) if len(line) - len(line.lstrip()) == indent]
    at = dice.choice(same or [0])
    lines[at : at + dice.choice((0, 1, len(block)))] = block
    return b"\n".join(lines)
