"""Places: every value's stretch of text is the text it was read from."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from axisproof.base.errors import Place
from axisproof.source.files import Form, Plain, Source
from axisproof.source.parsing import locate, parse
from axisproof.source.places import KeyPath, path_parts, path_text
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples


def source(text: str, form: Form = "yaml") -> Source:
    return Source(Path("m"), "m", text, form)


def cut(read: Source, place: Place | None) -> str:
    """The text at ``place``, found by counting lines and columns anew."""
    assert place is not None
    lines = read.text.replace("\r\n", "\n\n").replace("\r", "\n").split("\n")
    if "\r\n" in read.text:  # keep offsets: a CR LF is one break of two characters
        lines = read.text.split("\r\n")
    width = 2 if "\r\n" in read.text else 1

    def offset(line: int, column: int) -> int:
        return sum(len(each) + width for each in lines[: line - 1]) + column - 1

    return read.text[offset(place.line, place.column) : offset(place.end_line, place.end_column)]


YAML = """\
# a machine
axes:
  "in feed": &in   # the first
    travel: &t 12.5 mm
    list: [1, 'two', {k: "v\\n"}]
  😀é: *in
  out:
    - !!str 010
    - note: |
        two
        lines

      # a remark
      last: >+
        kept

    - plain over
      two lines
tail: *t
"""


def test_yaml_values_and_keys_are_where_they_are_written() -> None:
    read = source(YAML)
    here = locate(read)
    for path, value, key in [
        (("axes", "in feed", "travel"), "12.5 mm", "travel"),
        (("axes", "in feed", "list"), "[1, 'two', {k: \"v\\n\"}]", "list"),
        (("axes", "in feed", "list", 1), "'two'", None),
        (("axes", "in feed", "list", 2), '{k: "v\\n"}', None),
        (("axes", "in feed", "list", 2, "k"), '"v\\n"', "k"),
        (("axes", "😀é"), "*in", "😀é"),
        (("axes", "😀é", "travel"), "12.5 mm", "travel"),
        (("axes", "out", 0), "010", None),
        (("axes", "out", 1, "note"), "|\n        two\n        lines", "note"),
        (("axes", "out", 1, "last"), ">+\n        kept", "last"),
        (("axes", "out", 2), "plain over\n      two lines", None),
        (("tail",), "*t", "tail"),
    ]:
        assert cut(read, here.value(path)) == value
        assert (here.key(path) and cut(read, here.key(path))) == key
    whole = here.value(())
    assert whole == Place("m", 2, 1, 19, 9)
    assert here.value(("axes", "in feed")) == Place("m", 3, 14, 5, 33)
    assert here.key(("axes", "in feed")) == Place("m", 3, 3, 3, 12)
    assert here.value(("axes", "out")) == Place("m", 8, 5, 18, 16)


def test_scalars_say_how_they_are_written() -> None:
    here = locate(source(YAML))
    quoting = {
        ("axes", "in feed", "travel"): "plain",
        ("axes", "in feed", "list", 1): "single",
        ("axes", "in feed", "list", 2, "k"): "double",
        ("axes", "😀é"): "alias",
        ("axes", "out", 1, "note"): "literal",
        ("axes", "out", 1, "last"): "folded",
    }
    for path, expected in quoting.items():
        scalar = here.scalar(path)
        assert scalar is not None
        assert scalar.quoting == expected
        assert YAML[scalar.start_offset : scalar.end_offset] == scalar.raw
    assert here.scalar(("axes",)) is None


@pytest.mark.parametrize("form", ["yaml", "json"])
def test_an_absent_path_has_no_place(form: Form) -> None:
    here = locate(source('{"a": [1, {"b": 2}]}', form))
    for path in [("b",), (0,), ("a", 2), ("a", -1), ("a", "b"), ("a", 0, "b"), ("a", 1, 0)]:
        assert here.value(path) is None
        assert here.key(path) is None
        assert here.scalar(path) is None
    assert here.key(("a", 0)) is None
    assert here.value(("a", 1, "b")) == Place("m", 1, 17, 1, 18)


@pytest.mark.parametrize("form", ["yaml", "json"])
def test_places_hold_for_every_kind_of_line_break(form: Form) -> None:
    for end in ("\n", "\r\n", "\r"):
        text = "{" + end + '"a": 1,' + end + ' "b": "x"' + end + "}"
        here = locate(source(text, form))
        assert here.value(("b",)) == Place("m", 3, 7, 3, 10)
        assert here.line_text(3) == ' "b": "x"'
        assert here.line_text(9) == ""


def test_a_file_broken_further_down_still_has_places_above() -> None:
    assert locate(source("a: 1\nb: [\n")).value(("a",)) == Place("m", 1, 4, 1, 5)
    assert locate(source('{"a": 1, "b"', "json")).value(("a",)) == Place("m", 1, 7, 1, 8)
    assert locate(source("a: 1\na: 2\n")).value(("a",)) == Place("m", 1, 4, 1, 5)
    assert locate(source("")).value(()) is None


def test_a_file_is_scanned_once() -> None:
    read = source("a: 1\n")
    assert locate(read) is locate(read)


PARTS = st.text(max_size=6) | st.sampled_from(["axes", "in feed", "a.b", 'q"', "\\", "[0]", ""])


@given(st.lists(PARTS | st.integers(0, 10**6)).map(tuple))
def test_a_path_survives_being_text(path: KeyPath) -> None:
    assert path_parts(path_text(path)) == path


def test_paths_read_as_people_write_them() -> None:
    assert path_text(("axes", "infeed", "interlocks", 0)) == "axes.infeed.interlocks[0]"
    assert path_text(("axes", "in feed", 2, 'a"')) == 'axes."in feed"[2]."a\\""'
    assert path_parts("[1][2].a") == (1, 2, "a")
    for text in (".a", "a..b", "a.", "a[x]", "a b", 'a"b"', '"a', "a[1]b"):
        with pytest.raises(ValueError, match="not a path"):
            path_parts(text)


@st.composite
def written(draw: st.DrawFn) -> tuple[Source, dict[KeyPath, str], Plain]:
    """A file written by hand, in either form, with what stands at every path."""
    json_form = draw(st.booleans())
    out: list[str] = []
    raws: dict[KeyPath, str] = {}
    spaces = st.sampled_from(["", " ", "  ", "\n", " \n "])
    scalars = [("12", 12), ("-1.50", Decimal("-1.50")), ("true", True), ('"é\\n😀"', "é\n😀")]
    if not json_form:
        scalars += [("x y", "x y"), ("'it''s'", "it's"), ("1:50", "1:50"), ("😀", "😀")]

    def value(path: KeyPath, depth: int) -> Plain:
        kind = draw(st.sampled_from(["scalar", "list", "mapping"] if depth < 3 else ["scalar"]))
        start = len("".join(out))
        result: Plain
        if kind == "scalar":
            raw, result = draw(st.sampled_from(scalars))
            out.append(raw)
        elif kind == "list":
            out.append("[")
            items: list[Plain] = []
            for index in range(draw(st.integers(0, 3))):
                out.append(("," if index else "") + draw(spaces))
                items.append(value((*path, index), depth + 1))
                out.append(draw(spaces))
            out.append("]")
            result = items
        else:
            out.append("{")
            mapping: dict[str, Plain] = {}
            for index, key in enumerate(draw(st.lists(st.sampled_from("aéb😀"), unique=True))):
                out.append(("," if index else "") + draw(spaces) + f'"{key}": ' + draw(spaces))
                mapping[key] = value((*path, key), depth + 1)
                out.append(draw(spaces))
            out.append("}")
            result = mapping
        raws[path] = "".join(out)[start:]
        return result

    plain = value((), 0)
    return source("".join(out), "json" if json_form else "yaml"), raws, plain


@examples(1.5)
@given(written())
def test_the_place_of_every_value_cuts_out_its_text(
    case: tuple[Source, dict[KeyPath, str], Plain],
) -> None:
    read, raws, plain = case
    assert parse(read) == plain
    here = locate(read)
    for path, raw in raws.items():
        assert cut(read, here.value(path)) == raw
        scalar = here.scalar(path)
        assert scalar is None or scalar.raw == raw
        if path and isinstance(path[-1], str):
            assert cut(read, here.key(path)) == f'"{path[-1]}"'
