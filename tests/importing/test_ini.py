"""INI text: the same sections and entries as Python's configparser, with their places."""

from __future__ import annotations

from configparser import RawConfigParser
from pathlib import Path

import pytest
from axisproof.base.errors import InputError
from axisproof.importing.ini import scan_ini
from axisproof.source.files import Source
from hypothesis import given
from hypothesis import strategies as st


def scan(text: str, *, inline_comments: bool = True) -> dict[str, dict[str, str]]:
    """Sections and entries; also checks that every span holds what it says."""
    source = Source(Path("x.ini"), "x.ini", text, "yaml")
    sections = scan_ini(source, inline_comments=inline_comments)
    for section in sections.values():
        for entry in section.entries.values():
            assert text[slice(*entry.key_span)] == entry.key
            assert text[slice(*entry.value_span)] == entry.value
    return {
        name: {key: entry.value for key, entry in section.entries.items()}
        for name, section in sections.items()
    }


lines = st.one_of(
    st.sampled_from(["", "  ", "; remark", "# remark [x]", "[a]", "[b] ; c", "[1000sub1]"]),
    st.builds(
        lambda key, mark, value, tail: f"{key}{mark}{value}{tail}",
        st.sampled_from(["DefaultValue", "x", "long key", "é"]),
        st.sampled_from(["=", " = ", ":", " : "]),
        st.sampled_from(["", "0x10", "a;b", "a=b", "two words", "$NODEID+1"]),
        st.sampled_from(["", " ", " ; said", "\t;said"]),
    ),
)


@given(st.lists(lines, max_size=12), st.booleans(), st.sampled_from(["\n", "\r\n"]))
def test_sections_and_entries_are_those_configparser_reads(
    parts: list[str], inline: bool, end: str
) -> None:
    text = end.join(["[first]", *parts]) + end
    parser = RawConfigParser(inline_comment_prefixes=(";",) if inline else None)
    parser.optionxform = str  # type: ignore[assignment,method-assign]
    try:
        parser.read_string(text.replace("\r\n", "\n"))
        expected = {name: dict(parser.items(name)) for name in parser.sections()}
    except Exception:
        with pytest.raises(InputError):
            scan(text, inline_comments=inline)
        return
    assert scan(text, inline_comments=inline) == expected


@pytest.mark.parametrize(
    ("text", "line", "column", "what"),
    [
        ("[a]\nx=1\n  y=2\n", 3, 3, "indented"),
        ("[a]\nx=1\n  [b]\n", 3, 3, "indented"),
        ("x=1\n", 1, 1, "before any section"),
        ("[a]\nx=1\nx=2\n", 3, 1, "twice"),
        ("[a]\n[b]\n[a]\n", 3, 1, "twice"),
        ("[a]\nDefaultVal", 2, 1, "neither a section nor an entry"),
        ("[a\nx=1\n", 1, 1, "neither a section nor an entry"),
        ("[a]\n=1\n", 2, 1, "neither a section nor an entry"),
    ],
)
def test_what_cannot_be_meant_is_refused_with_its_place(
    text: str, line: int, column: int, what: str
) -> None:
    with pytest.raises(InputError) as caught:
        scan(text)
    assert caught.value.place is not None
    assert (caught.value.place.line, caught.value.place.column) == (line, column)
    assert what in caught.value.what
