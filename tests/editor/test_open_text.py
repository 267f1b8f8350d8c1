"""Changes of parts of a text lead to the text that the editor holds, or are told."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from axisproof.editor.open_text import ChangeMisfit, OpenText
from axisproof.editor.positions import Positions
from axisproof.editor.state import ServerState
from axisproof.source.files import Source
from hypothesis import given
from hypothesis import strategies as st
from lsprotocol import types

CODECS = {"utf-8": ("utf-8", 1), "utf-16": ("utf-16-le", 2), "utf-32": ("utf-32-le", 4)}
TEXTS = st.lists(st.sampled_from(("a", "\n", "\r", "\r\n", "é", "𝄞", "x: 1\n")), max_size=12).map(
    "".join
)


def position(text: str, at: int, encoding: str) -> types.Position:
    """The position of an offset, by the codecs of Python."""
    lines = re.split("\r\n?|\n", text[:at])
    codec, size = CODECS[encoding]
    return types.Position(len(lines) - 1, len(lines[-1].encode(codec)) // size)


@given(
    TEXTS,
    st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1), TEXTS), min_size=1, max_size=6),
    st.sampled_from(sorted(CODECS)),
)
def test_changed_parts_give_the_text_that_the_editor_has(
    text: str, edits: list[tuple[float, float, str]], encoding: str
) -> None:
    positions, held = Positions(encoding), OpenText(text)
    for one, other, new in edits:
        spots = [at for at in range(len(text) + 1) if text[at - 1 : at + 1] != "\r\n"]
        start, end = sorted(spots[round(share * (len(spots) - 1))] for share in (one, other))
        span = types.Range(position(text, start, encoding), position(text, end, encoding))
        assert positions.offset(text, span.start) == start
        assert positions.span(text, start, end) == span
        held.change([types.TextDocumentContentChangePartial(span, new)], positions)
        text = text[:start] + new + text[end:]
        assert held.text == text
        starts = Source(Path("t"), "t", text, "yaml").line_starts
        after = types.Position(len(starts), 0)  # many editors name the end so
        end_of_text = types.TextDocumentContentChangePartial(types.Range(after, after), "")
        held.change([end_of_text], positions)
        assert held.text == text


@pytest.mark.parametrize(
    ("span", "words"),
    [
        ((2, 1, 2, 1), "line 3, character 1 lies behind line 2"),
        ((0, 0, 7, 0), "line 8, character 0 lies behind line 2"),
        ((1, 0, 0, 0), "line 2, character 0 lies behind line 1, character 0"),
        ((0, 2, 0, 3), "line 1, character 2 lies within a character"),
    ],
)
def test_a_range_that_does_not_lie_in_the_text_is_told(
    span: tuple[int, int, int, int], words: str
) -> None:
    path, other = Path("m.yaml"), Path("other.yaml")
    state = ServerState()
    state.open(path, "a𝄞b\nc")
    start, end = types.Position(*span[:2]), types.Position(*span[2:])
    change = types.TextDocumentContentChangePartial(types.Range(start, end), "x")
    assert words in state.change(path, [change])
    assert path in state.lost
    assert state.change(path, [change]) == ""
    assert state.text(path) == ""
    state.change(path, [change, types.TextDocumentContentChangeWholeDocument("new")])
    assert (state.text(path), state.lost) == ("new", {})
    assert "no text of this file is open" in state.change(other, [change])
    state.open(other, "")
    assert not state.lost


def test_a_character_beyond_its_line_is_the_end_of_the_line() -> None:
    held = OpenText("ab\r\nc")
    far = types.Position(0, 99)
    held.change([types.TextDocumentContentChangePartial(types.Range(far, far), "!")], Positions())
    assert held.text == "ab!\r\nc"


def test_an_offset_within_a_character_is_the_one_before() -> None:
    assert Positions("utf-16").code_points("a𝄞b", 2) == 1
    with pytest.raises(ChangeMisfit):
        OpenText("𝄞").change(
            [
                types.TextDocumentContentChangePartial(
                    types.Range(types.Position(0, 1), types.Position(0, 2)), ""
                )
            ],
            Positions("utf-16"),
        )
