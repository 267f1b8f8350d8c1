"""XML files as trees with places: nothing that a file can define or fetch is followed.

defusedxml refuses what XML permits and no export needs: a document type (with it entities, which
grow without bound, and files elsewhere). Depth, number and length of values are bounded here.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, Final
from xml.etree.ElementTree import ParseError

from ..source.files import Source, unprintable
from ..source.limits import MAX_DEPTH, MAX_TEXT
from ..source.reader import DISK, Reader
from .branches import MAX_BRANCHES, Branch, too_many
from .export import decoded

if TYPE_CHECKING:
    from pathlib import Path

ENCODINGS: Final = {
    "utf-8": "utf-8",
    "us-ascii": "utf-8",
    "ascii": "utf-8",
    "utf-16": "utf-16",
    "iso-8859-1": "latin-1",
    "latin-1": "latin-1",
    "windows-1252": "cp1252",
    "cp1252": "cp1252",
}
"""Encodings that an XML file may declare, and how Python names them."""

_DECLARED: Final = re.compile(
    rb"""\A(?:\xef\xbb\xbf)?<\?xml[^>]{0,200}?encoding\s*=\s*["']([A-Za-z0-9._-]{1,40})["']"""
)
_ATTRIBUTE: Final = re.compile(r"""\s+([^\s=<>"'/]+)\s*=\s*(?:"([^"]*)"|'([^']*)')""")
_NAME: Final = re.compile(r"<[^\s/>]+")


def xml_text(path: Path, data: bytes, stated: str = "", reader: Reader = DISK) -> Source:
    """The text of an XML file in the ``stated`` encoding, else in the one it declares.

    Raises InputError, with a place, for an encoding that is not known or does not fit.
    """
    declared = _DECLARED.match(data)
    encoding = stated
    if not encoding and data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        encoding = "utf-16"
    elif not encoding and declared:
        word = declared[1].decode("ascii")
        encoding = ENCODINGS.get(word.lower(), "")
        if not encoding:
            source = Source(path, reader.name(path), data[:300].decode("latin-1"), "yaml")
            raise source.error(
                f"the file declares the encoding {word}",
                *declared.span(1),
                f"one of {', '.join(ENCODINGS)}",
            )
    codec = "utf-8-sig" if encoding in ("", "utf-8") else encoding
    return decoded(path, data, (codec,), reader=reader)


def xml_tree(source: Source) -> Branch:
    """An XML file as a tree of its elements and, named with @, their attributes.

    Raises InputError, with line and column, for what is not well-formed, has a document type, is
    nested too deep, or holds too many or too long values.
    """
    from defusedxml.common import DefusedXmlException

    growing = _Growing(source)
    try:
        growing.parser.feed(source.text)
        growing.parser.close()
    except ParseError as fault:
        at = growing.offset()
        words = re.sub(r": line \d+, column \d+$", "", str(fault))
        raise source.error(
            f"the file is not well-formed XML: {words}",
            at,
            at + 1,
            "XML 1.0. Perhaps the file is cut off",
        ) from None
    except DefusedXmlException:
        at = max(source.text.rfind("<!DOCTYPE", 0, growing.offset() + 9), 0)
        raise source.error(
            "the file has a document type (<!DOCTYPE), which may define entities or fetch files",
            at,
            at + 9,
            "XML without one",
        ) from None
    assert growing.root is not None
    return growing.root


class _Growing:
    """Grows a tree while the parser reads; it is the parser's target."""

    def __init__(self, source: Source) -> None:
        from defusedxml.ElementTree import DefusedXMLParser

        self.source = source
        self.root: Branch | None = None
        self.open: list[Branch] = []
        self.texts: list[list[str]] = []
        self.starts: list[int] = []
        self.ends: list[int] = []
        self.lengths: list[int] = []
        self.count = 0
        self.parser: Any = DefusedXMLParser(
            target=self, forbid_dtd=True, forbid_entities=True, forbid_external=True
        )
        self.expat = self.parser.parser
        self.expat.buffer_text = False  # so that each text has an offset of its own
        self.bytes = source.text.encode("utf-8")  # as the parser reads it, whatever is declared
        self.ascii = len(self.bytes) == len(source.text)
        self.seen = (0, 0)

    def offset(self) -> int:
        """Where the parser is, as an offset in the text."""
        at = max(int(self.expat.CurrentByteIndex), 0)
        if self.ascii:
            return at
        done, offset = self.seen
        if at < done:
            done = offset = 0
        offset += len(self.bytes[done:at].decode("utf-8", "ignore"))
        self.seen = (at, offset)
        return offset

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Take the beginning of an element."""
        source, at = self.source, self.offset()
        named = _NAME.match(source.text, at)
        end = named.end() if named else at + 1
        if len(self.open) == MAX_DEPTH:
            raise source.error(f"nested deeper than {MAX_DEPTH} levels", at, end, "flatter values")
        up = self.open[-1] if self.open else None
        if up is not None and self.starts[-1] >= 0 and self.ends[-1] < 0:
            self.ends[-1] = at
        branch = Branch(_local(tag), up, (at, end))
        if up is None:
            self.root = branch
        else:
            up.parts.append(branch)
        self.open.append(branch)
        self.texts.append([])
        self.starts.append(-1)
        self.ends.append(-1)
        self.lengths.append(0)
        self.counted(1, at)
        self.take_attributes(branch, attributes, end)

    def take_attributes(self, branch: Branch, attributes: dict[str, str], at: int) -> None:
        """Take the attributes of a start tag, whose places come from its text."""
        values = iter(attributes.items())
        while found := _ATTRIBUTE.match(self.source.text, at):
            at = found.end()
            if found[1] == "xmlns" or found[1].startswith("xmlns:"):
                continue
            given = next(values, None)
            if given is None:
                break
            part = Branch(f"@{_local(given[0])}", branch, found.span(1))
            part.span = found.span(2 if found[2] is not None else 3)
            part.text = self.checked(given[1], *part.span)
            branch.parts.append(part)
            self.counted(1, found.start(1))

    def data(self, text: str) -> None:
        """Take a piece of the text of an element."""
        at = self.offset()
        if self.starts[-1] < 0 and text.strip():
            self.starts[-1] = at + len(text) - len(text.lstrip())
        elif self.ends[-1] >= 0 and text.strip():
            what = f"the text of {self.open[-1].name} goes on behind an element"
            raise self.source.error(what, at, at + len(text), "text in one piece")
        self.lengths[-1] += len(text)
        if self.lengths[-1] > MAX_TEXT and self.starts[-1] >= 0:
            what = f"the text has more than {MAX_TEXT} characters"
            raise self.source.error(what, self.starts[-1], at, f"at most {MAX_TEXT}")
        self.texts[-1].append(text)

    def end(self, tag: str) -> None:
        """Take the end of an element."""
        at = self.offset()
        branch, start, end = self.open.pop(), self.starts.pop(), self.ends.pop()
        text = "".join(self.texts.pop()).strip()
        self.lengths.pop()
        elements = any(not part.name.startswith("@") for part in branch.parts)
        if start >= 0:
            raw = self.source.text[start : at if end < 0 else end].removesuffix("]]>").rstrip()
            branch.span = (start, start + len(raw))
            branch.text = self.checked(text, *branch.span)
        elif not elements:
            branch.text = ""

    def close(self) -> None:
        """Take the end of the file."""

    def counted(self, more: int, at: int) -> None:
        """Count what is kept. Raises InputError if it is too much."""
        self.count += more
        if self.count > MAX_BRANCHES:
            raise too_many(self.source, at)

    def checked(self, text: str, start: int, end: int) -> str:
        """A value that may be shown and is not too long."""
        bad = unprintable(text)
        if bad:
            what = f"the text holds the control character {bad}"
            raise self.source.error(what, start, end, "printable text")
        if len(text) > MAX_TEXT:
            what = f"the text has {len(text)} characters"
            raise self.source.error(what, start, end, f"at most {MAX_TEXT}")
        return text


def _local(name: str) -> str:
    """A name without its namespace."""
    return name.rpartition("}")[2]
