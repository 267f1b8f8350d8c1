"""What the readers make of sound text, held against the YAML 1.2 core schema and RFC 8259.

Core schema: YAML 1.2.2, section 10.3.2, https://yaml.org/spec/1.2.2/#1032-tag-resolution
"""

from __future__ import annotations

import json
import string
import sys
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
import yaml
from axisproof.base.errors import AxisproofError
from axisproof.source.files import Form, Plain, Source
from axisproof.source.json import _check
from axisproof.source.merge import same
from axisproof.source.parsing import locate, parse
from axisproof.source.reader import find_sources, read_source
from hypothesis import example, given
from hypothesis import strategies as st

from tests.examples import examples


def source(text: str, form: Form = "yaml") -> Source:
    return Source(Path("m"), "m", text, form)


def refusal(call: Callable[[], object]) -> AxisproofError | None:
    """The error of ours that ``call`` raises, if any; others pass through and fail the test."""
    try:
        call()
    except AxisproofError as error:
        return error
    return None


def identical(one: Plain, two: Plain) -> bool:
    """Equal in types and digits too."""
    if isinstance(one, dict) and isinstance(two, dict):
        return list(one) == list(two) and all(identical(one[key], two[key]) for key in one)
    if isinstance(one, list) and isinstance(two, list):
        return len(one) == len(two) and all(map(identical, one, two))
    return type(one) is type(two) and str(one) == str(two)


CORE = {
    "true": True,
    "True": True,
    "TRUE": True,
    "false": False,
    "False": False,
    "FALSE": False,
    "0": 0,
    "-0": 0,
    "+12": 12,
    "-19": -19,
    "0o14": 12,
    "0xfF": 255,
    "0.": Decimal("0"),
    "-0.0": Decimal("-0.0"),
    ".5": Decimal("0.5"),
    "+12e03": Decimal("12e3"),
    "-2E+05": Decimal("-2e5"),
    "1.10": Decimal("1.10"),
    "9" * 40: int("9" * 40),
    "1e30": Decimal("1e30"),
    # text, though older readers would make something else of it
    "1:50": "1:50",
    "on": "on",
    "Off": "Off",
    "yes": "yes",
    "NO": "NO",
    "y": "y",
    "tRue": "tRue",
    "2024-05-06": "2024-05-06",
    "1_000": "1_000",
    "0b11": "0b11",
    "-0x1F": "-0x1F",
    "0o9": "0o9",
    "12.5 mm": "12.5 mm",
    "10/3": "10/3",
    "inf": "inf",
    "nan": "nan",
    "none": "none",
    "nULL": "nULL",
    ".": ".",
    "+": "+",
    "1e": "1e",
    "=": "=",
    "٣": "٣",  # a digit, but not one of YAML's
    "'010'": "010",
    '"true"': "true",
    "'null'": "null",
    "!!str 010": "010",
    "!!str": "",
    "!!int '7'": 7,
    "!!float 7": Decimal(7),
    "!!bool true": True,
}


@pytest.mark.parametrize("text", CORE)
def test_plain_scalars_follow_the_core_schema(text: str) -> None:
    assert identical(parse(source(f"a: {text}\n")), {"a": CORE[text]})
    assert identical(parse(source(f"- {text}\n")), [CORE[text]])


def test_keys_are_text_as_written() -> None:
    assert parse(source("1: a\ntrue: b\n010: c\n'x y': d\n!!str z: e\n")) == {
        "1": "a",
        "true": "b",
        "010": "c",
        "x y": "d",
        "z": "e",
    }


def test_aliases_stand_for_what_their_anchor_holds() -> None:
    text = "a: &a {x: 1}\nb: &b [*a, *a]\nc: *b\nd: &d 1.50\ne: *d\n"
    value = parse(source(text))
    assert value == {
        "a": {"x": 1},
        "b": [{"x": 1}, {"x": 1}],
        "c": [{"x": 1}, {"x": 1}],
        "d": Decimal("1.5"),
        "e": Decimal("1.5"),
    }


def test_sixty_four_levels_are_read() -> None:
    for form in ("yaml", "json"):
        value: Any = parse(source("[" * 64 + "]" * 64, "yaml" if form == "yaml" else "json"))
        for _ in range(63):
            (value,) = value
        assert value == []


def test_json_numbers_keep_their_digits() -> None:
    text = '{"a": 1.10, "b": -0, "c": 1E2, "d": [true, false, "\\u00e9\\n\\ud83d\\ude00"], "e": {}}'
    expected = {
        "a": Decimal("1.10"),
        "b": 0,
        "c": Decimal("1E2"),
        "d": [True, False, "é\n😀"],
        "e": {},
    }
    assert identical(parse(source(text, "json")), expected)


def test_the_word_null_inside_json_text_is_text() -> None:
    assert parse(source('{"null": "null \\\\b"}', "json")) == {"null": "null \\b"}


def test_a_byte_order_mark_is_passed_over(tmp_path: Path) -> None:
    for name, text in (("m.yaml", "a: é\n"), ("m.json", '{"a": "é"}')):
        file = tmp_path / name
        file.write_text(text, encoding="utf-8-sig")
        read = read_source(file)
        assert read.bom
        assert read.text == text
        assert parse(read) == {"a": "é"}


def test_files_are_found_once_in_sorted_order_outside_dot_folders(tmp_path: Path) -> None:
    for name in ("b/x.yaml", "a.yml", "b/c/y.JSON", ".git/z.yaml", "b/.hidden.yaml", "notes.txt"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("a: 1")
    named = tmp_path / "b" / "x.yaml"
    odd = tmp_path / "notes.txt"
    found = find_sources([odd, named, tmp_path, tmp_path / "b" / ".." / "a.yml"])
    assert [path.relative_to(tmp_path).as_posix() for path in found] == [
        "notes.txt",
        "b/x.yaml",
        "a.yml",
        "b/c/y.JSON",
    ]


def test_equal_statements_are_equal_in_number_but_not_across_kinds() -> None:
    assert same(1, Decimal("1.0"))
    assert same({"a": [Decimal("0.50")]}, {"a": [Decimal("0.5")]})
    assert not same(1, True)
    assert not same(0, "0")
    assert not same([1], [1, 2])
    assert not same({"a": 1}, {"b": 1})


# --- random input ---------------------------------------------------------------------------

WORDS = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs")), min_size=1)
TEXT = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Zl", "Zp"))).filter(
    lambda text: not set(text) & {"\ufeff", "\ufffe", "\uffff"}
) | st.sampled_from(["true", "null", "~", "010", "1:50", "a: b", "- a", "#", "x\ny", "é\t"])
NUMBERS = st.integers(-(10**40) + 1, 10**40 - 1) | st.decimals(
    allow_nan=False, allow_infinity=False, min_value=-(10**9), max_value=10**9, places=6
)
TREES = st.recursive(
    st.booleans() | NUMBERS | TEXT,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(WORDS, inner, max_size=4),
    max_leaves=12,
)


class Dumper(yaml.SafeDumper):
    """Writes Decimal as the plain scalar it is, and every text so that 1.2 reads it as text."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


def _decimal(dumper: yaml.SafeDumper, value: Decimal) -> yaml.Node:
    return dumper.represent_scalar("tag:yaml.org,2002:float", f"{value:f}")


def _text(dumper: yaml.SafeDumper, value: str) -> yaml.Node:
    # PyYAML leaves unquoted what its own YAML 1.1 reads as text; 1.2 reads some of it otherwise.
    style = None if value[:1].isalpha() and value.lower() not in {"true", "false"} else '"'
    return dumper.represent_scalar("tag:yaml.org,2002:str", value, style=style)


Dumper.add_representer(Decimal, _decimal)
Dumper.add_representer(str, _text)


def as_json(value: Plain, indent: int | None = None) -> str:
    """json.dumps, with Decimal digits as they are."""
    marks: list[str] = []

    def mark(number: Decimal) -> str:
        marks.append(f"{number:f}")
        return f"\ue000{len(marks) - 1}\ue000"

    text = json.dumps(value, default=mark, indent=indent, ensure_ascii=False)
    for index, digits in enumerate(marks):
        text = text.replace(f'"\ue000{index}\ue000"', digits)
    return text


@given(TREES, st.sampled_from([None, True, False]))
def test_a_tree_written_as_yaml_reads_back_the_same(tree: Plain, flow: bool | None) -> None:
    text = yaml.dump(
        tree, Dumper=Dumper, allow_unicode=True, sort_keys=False, default_flow_style=flow
    )
    assert identical(parse(source(text)), tree)


@given(TREES, st.sampled_from([None, 2]))
def test_a_tree_written_as_json_reads_back_the_same(tree: Plain, indent: int | None) -> None:
    assert identical(parse(source(as_json(tree, indent), "json")), tree)


@given(TREES)
def test_json_text_reads_the_same_as_yaml_where_yaml_can_read_it(tree: Plain) -> None:
    text = as_json(tree)
    try:
        value = parse(source(text))
    except AxisproofError:  # "\/" apart, YAML 1.2 contains JSON; libyaml limits keys to 1024 signs
        return
    assert identical(value, parse(source(text, "json")))


SIGNS = st.sampled_from(
    [*"ab01-+.:,[]{}&*!|>'\"%@`#?~ \n\t\\", "\r\n", ": ", "- ", "<<", "null", "*a", "&a ", "!!int ",
     "---\n", "...\n", "é", "😀", "\\u", "1e9", "0x", "\x85", "\ufeff", "\x00"]
)  # fmt: skip


@examples(2)
@given(st.lists(SIGNS, max_size=30).map("".join) | st.text(max_size=40), st.booleans())
@example("? \n:", False)
@example(" ", False)
@example(" \n\x85\n a: [", False)
@example("!", False)
@example("- !!null", False)
@example("%TAG !e! tag:yaml.org,2002:\n---\na: !e!int 5", False)
def test_no_text_raises_anything_but_our_own_error(text: str, as_json_form: bool) -> None:
    read = source(text, "json" if as_json_form else "yaml")
    error = refusal(lambda: parse(read))
    if error:
        assert error.what != "not readable as JSON"  # the scanner words it better
        assert error.place is not None
        assert error.source_line == read.line_text(error.place.line)
        assert "\n" not in error.what
        assert 1 <= error.place.column <= len(error.source_line) + 1
        assert error.place.line <= len(read.line_starts)


@given(data=st.binary(max_size=40) | st.text(max_size=20).map(lambda text: text.encode("utf-16")))
def test_no_bytes_raise_anything_but_our_own_error(
    tmp_path_factory: pytest.TempPathFactory, data: bytes
) -> None:
    for name in ("m.yaml", "m.json"):
        file = tmp_path_factory.getbasetemp() / name
        file.write_bytes(data)
        error = refusal(lambda file=file: parse(read_source(file)))  # type: ignore[misc]
        if error:
            assert error.place is not None
            assert error.source_line is not None


JSON_SIGNS = st.sampled_from(
    [
        '"a"',
        '"b"',
        "{",
        "}",
        "[",
        "]",
        ",",
        ":",
        "1",
        "-0.5e1",
        "true",
        "null",
        " ",
        "\n",
        '"',
        "\\u",
    ]
)
JSON_TEXTS = st.lists(JSON_SIGNS, max_size=12).map("".join) | TREES.map(as_json).flatmap(
    lambda text: st.tuples(st.just(text), st.integers(0, len(text)), JSON_SIGNS).map(
        lambda edit: edit[0][: edit[1]] + edit[2] + edit[0][edit[1] + 1 :]
    )
)


@examples(2)
@given(JSON_TEXTS)
def test_the_json_scanner_accepts_what_the_standard_reader_accepts(text: str) -> None:
    def strict(_: str) -> Any:
        raise ValueError

    def bounded(text: str) -> Any:
        digits, _, power = text.lower().partition("e")
        if sum(map(str.isdecimal, digits)) > 40 or abs(int(power or 0)) > 30:
            raise ValueError
        return Decimal(text)

    def unique(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        if len(dict(pairs)) != len(pairs) or any(not key or value is None for key, value in pairs):
            raise ValueError
        return dict(pairs)

    def has_none(value: Any) -> bool:
        return value is None or (isinstance(value, list) and any(map(has_none, value))) or (
            isinstance(value, dict) and any(map(has_none, value.values()))
        )  # fmt: skip

    try:
        sound = not has_none(
            json.loads(
                text,
                parse_constant=strict,
                object_pairs_hook=unique,
                parse_int=bounded,
                parse_float=bounded,
            )
        )
    except ValueError:
        sound = False
    try:
        _check(source(text, "json"))
        accepted = True
    except AxisproofError:
        accepted = False
    assert accepted == sound


@pytest.fixture
def _without_libyaml(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "yaml.cyaml", None)


@pytest.mark.usefixtures("_without_libyaml")
def test_without_libyaml_the_values_and_places_are_the_same() -> None:
    text = (
        "a: &x [1, 0x10, '010', \"t\\u00e9\", {k: v}]\nb: |\n  text\n\n# c\nc: {d: *x}\n"
        "😀: 1.50\ne: >-\n  folded\n  more\n"
    )
    read = source(text)
    assert parse(read) == {
        "a": [1, 16, "010", "té", {"k": "v"}],
        "b": "text\n",
        "c": {"d": [1, 16, "010", "té", {"k": "v"}]},
        "😀": Decimal("1.5"),
        "e": "folded more",
    }
    place = locate(read).value(("😀",))
    assert place is not None
    assert (place.line, place.column, place.end_column) == (7, 4, 8)
    with pytest.raises(AxisproofError, match=r"tab|token") as caught:
        parse(source("a:\n\tb: 1\n"))
    assert caught.value.place is not None
    assert caught.value.place.line == 2
    with pytest.raises(AxisproofError, match="no character"):
        parse(source('a: "\\UFFFFFFFF"\n'))


def test_digits_beyond_ascii_are_text_not_numbers() -> None:
    letters = string.ascii_letters
    assert parse(source(f"a: ١٢\nb: {letters}\n")) == {"a": "١٢", "b": letters}
