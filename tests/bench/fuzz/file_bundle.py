"""Several files in one input: ``=== NAME`` on a line of its own begins each."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

_HEAD = re.compile(rb"^=== ([A-Za-z0-9_.]{1,40})\n", re.MULTILINE)


def pack(files: Mapping[str, bytes]) -> bytes:
    """The files as one input."""
    parts = []
    for name, data in files.items():
        ending = b"" if data.endswith(b"\n") or not data else b"\n"
        parts.append(b"=== " + name.encode() + b"\n" + data + ending)
    return b"".join(parts)


def unpack(data: bytes, names: Sequence[str]) -> dict[str, bytes]:
    """The files of an input by name; text before the first head is the first of ``names``.

    Files with other names are ignored; of two with one name the later counts.
    """
    heads = list(_HEAD.finditer(data))
    files: dict[str, bytes] = {}
    first = data[: heads[0].start()] if heads else data
    if first:
        files[names[0]] = first
    for number, head in enumerate(heads):
        end = heads[number + 1].start() if number + 1 < len(heads) else len(data)
        name = head[1].decode()
        if name in names:
            files[name] = data[head.end() : end]
    return files
