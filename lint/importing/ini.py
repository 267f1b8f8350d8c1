"""INI text with places: the sections and entries that Python's configparser reads, and where.

What configparser would take silently in a sense the writer cannot have meant (an indented entry
becomes part of the value above it) is refused.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Final

from ..source.files import Source
from ..source.limits import shortened

_HEADER: Final = re.compile(r"\[(?P<name>.+)\]")
_DELIMITER: Final = re.compile(r"[=:]\s*")


@dataclass(frozen=True, slots=True)
class IniEntry:
    """``key = value``; spans are offsets into the text."""

    key: str
    value: str
    key_span: tuple[int, int]
    value_span: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Section:
    """A section with its entries in file order; ``span`` is that of the header."""

    name: str
    span: tuple[int, int]
    entries: dict[str, IniEntry] = field(default_factory=dict)


def scan_ini(
    source: Source, *, inline_comments: bool, without_sections: bool = False
) -> dict[str, Section]:
    """Sections by name, in file order.

    Full-line comments begin with # or ;. ``inline_comments``: a ; after a space begins one too.
    ``without_sections``: entries before the first header belong to a section without a name.
    Raises InputError for text that is neither header nor entry nor comment, for an entry before
    the first header or further indented than the one above, and for doubled names.
    """
    sections: dict[str, Section] = {}
    here: Section | None = None
    indent, within_entry = 0, False
    starts = source.line_starts
    for number, start in enumerate(starts):
        end = starts[number + 1] if number + 1 < len(starts) else len(source.text)
        line = source.text[start:end].rstrip("\r\n")
        if inline_comments:
            line = line[: _comment_start(line)]
        text = line.strip()
        if not text or text[0] in "#;":
            continue
        depth = len(line) - len(line.lstrip())
        at = start + depth
        if here is not None and within_entry and depth > indent:
            raise source.error(
                f"the line {shortened(text, 40)!r} is indented, which makes it part of the entry "
                "above it",
                at,
                at + len(text),
                "entries that begin where the one above begins",
            )
        indent = depth
        header = _HEADER.match(text)
        if header:
            name = header["name"]
            span = (at, at + header.end())
            if name in sections:
                raise source.error(f"the section [{shortened(name)}] stands twice", *span, "one")
            here = sections[name] = Section(name, span)
            within_entry = False
            continue
        entry = _entry(source, text, at)
        if here is None and without_sections:
            here = sections[""] = Section("", (at, at))
        if here is None:
            raise source.error(
                f"{shortened(entry.key)} stands before any section", *entry.key_span, "a [section]"
            )
        if entry.key in here.entries:
            raise source.error(
                f"{shortened(entry.key)} stands twice in [{shortened(here.name)}]",
                *entry.key_span,
                "one entry",
            )
        here.entries[entry.key] = entry
        within_entry = True
    return sections


def _entry(source: Source, text: str, at: int) -> IniEntry:
    """The entry that the stripped line ``text`` states, which begins at the offset ``at``."""
    delimiter = _DELIMITER.search(text)
    key = text[: delimiter.start()].rstrip() if delimiter else ""
    if delimiter is None or not key:
        raise source.error(
            f"{shortened(text, 40)!r} is neither a section nor an entry",
            at,
            at + len(text),
            "[section] or key=value. Perhaps the file is cut off here",
        )
    value_span = (at + delimiter.end(), at + len(text))
    return IniEntry(key, text[delimiter.end() :], (at, at + len(key)), value_span)


def _comment_start(line: str) -> int:
    at = line.find(";")
    while at >= 0:
        if at == 0 or line[at - 1].isspace():
            return at
        at = line.find(";", at + 1)
    return len(line)
