"""What cannot be read is refused in one sentence that names the place and the offending value."""

from __future__ import annotations

import contextlib
from pathlib import Path

import pytest
from axisproof.base.errors import AxisproofError, InputError, UsageError
from axisproof.source.files import Source, check_text
from axisproof.source.merge import load_tree
from axisproof.source.parsing import parse
from axisproof.source.reader import find_sources, read_source

from tests.source.unreadable_texts import DEEP

# One value here is ten of the line before plus one: 11, 111, … 111111 values in line 5 (e). The
# aliases up to there stand for 123440 values; the fourth *e makes 567884 > 500000.
BOMB = "a: &a [x, x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{chr(98 + n)}: &{chr(98 + n)} [{', '.join(['*' + chr(97 + n)] * 10)}]\n" for n in range(7)
)
DEEP_ALIASES = f"a: &a {'[' * 40}x{']' * 40}\nb: {'[' * 30}*a{']' * 30}\n"

# text, line, column, fragment of what is wrong, fragment of what was expected
YAML = {
    "a key without value": ("a:\n  b:\nc: 1\n", 2, 3, "'b' has no value", "known to be absent"),
    "null": ("a: null\n", 1, 4, "null says neither", "left out"),
    "a tilde": ("a: 1\nb: ~\n", 2, 4, "~ says neither", "none"),
    "an empty list entry": ("a:\n  - 1\n  -\n", 3, 4, "entry a[1] is empty", "none"),
    "no space after a colon": ("x: {a:1, b: 2}\n", 1, 5, "'a:1' has no value", "space after the"),
    "a leading zero": ("a: 010\n", 1, 4, "010 has a leading zero", "10 or 0o10"),
    "a leading zero, not octal": ("a: -089\n", 1, 4, "-089 has a leading", "89, or quotes"),
    "infinity": ("a: [1, -.inf]\n", 1, 8, "-.inf is not a finite", "finite number"),
    "not a number": ("a: .NaN\n", 1, 4, ".NaN is not a finite", "finite number"),
    "41 digits": (f"a: {'9' * 41}\n", 1, 4, "has 41 digits", "at most 40"),
    "41 hexadecimal digits": (f"a: 0x{'F' * 41}\n", 1, 4, "has 41 digits", "at most 40"),
    "a huge exponent": ("a: 1e1000000000\n", 1, 4, "exponent 1000000000", "within ±30"),
    "a tiny exponent": ("a: 1.5E-31\n", 1, 4, "exponent -31", "within ±30"),
    "a key twice": ("a:\n  b: 1\n  c: 2\n  b: 3\n", 4, 3, "'b' stands twice", "every key once"),
    "a key twice, first place": ("m: 1\n'm': 2\n", 2, 1, "first on line 1, column 1", "once"),
    "a key twice in a list": ("- 1\n- {b: 1, b: 2}\n", 2, 10, "first on line 2, column 4", "once"),
    "an empty key": ("'': 1\n", 1, 1, "the key is empty", "a word"),
    "a hidden sign in a key": ('"a\\0": 1\n', 1, 1, "control character U+0000", "a word"),
    "an unknown tag on a key": ("!x a: 1\n", 1, 1, "!x is not understood on a key", "a word"),
    "a merge key": ("a: &a {b: 1}\nc:\n  <<: *a\n", 3, 3, "merge key <<", "written out"),
    "a list as key": ("? [a]\n: 1\n", 1, 3, "where a key belongs", "a word"),
    "an alias as key": ("a: &x b\n*x : 1\n", 2, 1, "*x stands where a key", "a word"),
    "an anchor on a key": ("&k a: 1\n", 1, 1, "&k stands on a key", "on values"),
    "an unknown tag": ("a: !point 1\n", 1, 4, "!point is not understood", "no tag"),
    "a binary tag": ("a: !!binary aGk=\n", 1, 4, "!!binary is not understood", "no tag"),
    "a tag that breaks off": ("a: !<x", 1, 6, "not readable as YAML", "YAML 1.2"),
    "a tag of a later name": (
        "a: !!timestamp 2026-01-02\n",
        *(1, 4, "!!timestamp is not understood", "no tag"),
    ),
    "a set": ("a: !!set {b}\n", 1, 4, "!!set is not understood", "!!map"),
    "a tag that lies": ("a: !!int 5 mm\n", 1, 10, "'5 mm' is not what its tag !!int", "agree"),
    "a null tag": ("a: !!null x\n", 1, 11, "says neither", "none"),
    "an unknown alias": ("a: 1\nb: *c\n", 2, 4, "*c names no anchor", "&c before"),
    "an alias inside its anchor": ("a: &a\n  b: *a\n", 2, 6, "*a stands inside its own", "after"),
    "an anchor set twice": ("a: &x 1\nb: &x 2\n", 2, 4, "&x is set a second time", "one use"),
    "exploding aliases": (BOMB, 6, 20, "*e stand for more than 500000 values", "fewer aliases"),
    "65 levels": (DEEP, 1, 65, "deeper than 64 levels", "flatter"),
    "65 levels by alias": (DEEP_ALIASES, 2, 34, "*a nests the file deeper than 64", "flatter"),
    "two documents": ("a: 1\n---\nb: 2\n", 2, 1, "second document begins", "one document"),
    "an empty document": ("---\n", 1, 1, "the document is empty", "machine description"),
    "comments only": ("# nothing\n", 1, 1, "holds no values", "machine description"),
    "another YAML version": ("%YAML 1.1\n---\na: 1\n", 1, 1, "it is YAML 1.1", "YAML 1.2"),
    "an unknown YAML version": (
        "%YAML 2.0\n---\na: 1\n",
        1,
        1,
        "a YAML version that is not known",
        "1.2",
    ),
    "a tab": ("a:\n\tb: 1\n", 2, 1, "a tab in the indentation", "spaces"),
    "a tab after a value": ("a: 1\n\tb: 1\n", 2, 1, "a tab in the indentation", "spaces"),
    "two colons": ("a: b: c\n", 1, 5, "this colon makes no key", "quotes around"),
    "wrong indentation": ("a: 1\n b: 2\n", 2, 3, "this colon makes no key", "indentation"),
    "a list on a key's line": ("a: - b\n", 1, 4, "list cannot begin here", "its own line"),
    "a word among keys": ("a:\n  b: 1\n  c\n", 3, 3, "no key and no value", "space after"),
    "text after quotes": ("a: 'b' c\n", 1, 8, "does not continue the mapping", "one 'key:"),
    "a key in a list": ("- a\nb: 1\n", 2, 1, "does not continue the list", "'- '"),
    "an open bracket": ("a: [1, 2\nb: 3\n", 1, 4, "opened with [ is not closed", "']'"),
    "an open brace": ("a: {b: 1\n", 1, 4, "opened with { is not closed", "'}'"),
    "an open quote": ("a: 'b\n\nc: 1\n", 1, 4, "never closed", "closing quote"),
    "an unknown escape": ('a: "b\\q"\n', 1, 6, "unknown escape", "YAML escape"),
    "half a surrogate pair": ('a: "\\ud800"\n', 1, 7, "no character", "Unicode"),
    "a terminal escape": ('a: "b\\e[31m"\n', 1, 4, "control character U+001B", "printable"),
    "a sign that begins nothing": ("a: @b\n", 1, 4, "cannot begin with @", "quotes"),
    "an alias without name": ("a: * b\n", 1, 4, "without a name", "quotes"),
    "text after the document": ("{a: 1} b\n", 1, 8, "after the end of the document", "nothing"),
    "a next line mark": ("a: 1\x85b: 2\n", 1, 5, "line break U+0085", "ordinary"),
    "a line separator": ("a: 'é\u2028b'\n", 1, 6, "line break U+2028", "an escape"),
    "a paragraph separator": ("a: 1 # \u2029\n", 1, 8, "line break U+2029", "ordinary"),
    "a control character": ("a: 1\nb: \x1b[0m\n", 2, 4, "control character U+001B", "printable"),
    "a byte order mark inside": ("a: \ufeff1\n", 1, 4, "U+FEFF", "at the start"),
    "a text too long": (f"a: {'x' * 65537}\n", 1, 4, "65537 characters", "at most 65536"),
    "after wide characters": ("'😀é': [😀, 010]\n", 1, 11, "010 has", "0o10"),
    "after CR and CR LF": ("a: 1\rb: 2\r\nc: ~\r\n", 3, 4, "~ says neither", "none"),
}

JSON = {
    "null": ('{"a": [1, null]}', 1, 11, "null says neither", '"none"'),
    "not a number": ('{"a":\n NaN}', 2, 2, "NaN is not a finite", "finite number"),
    "minus infinity": ('{"a": -Infinity}', 1, 7, "-Infinity is not", "finite number"),
    "41 digits": (f'{{"a": {"9" * 41}}}', 1, 7, "has 41 digits", "at most 40"),
    "a huge exponent": ('{"a": 1e999999999999}', 1, 7, "exponent 999999999999", "±30"),
    "a leading zero": ('{"a": -010}', 1, 7, "-010 has a leading zero", "10, or quotes"),
    "a key twice": ('{"a": 1,\n "b": 2, "a": 3}', 2, 10, "'a' stands twice", "every key once"),
    "a key twice, first place": ('[{"a": 1, "\\u0061": 3}]', 1, 11, "line 1, column 3", "once"),
    "an empty key": ('{"": 1}', 1, 2, "the key is empty", "a word"),
    "65 levels": (DEEP, 1, 65, "deeper than 64 levels", "flatter"),
    "far too many levels": ("[" * 100_000, 1, 65, "deeper than 64 levels", "flatter"),
    "a comma too many": ('{"a": 1,\n}', 1, 8, "comma before the closing }", "no comma"),
    "a comma too many in a list": ("[1 , ]", 1, 4, "comma before the closing ]", "no comma"),
    "a missing comma": ('{"a": 1 "b": 2}', 1, 9, "cannot stand here", "',' or '}'"),
    "a missing colon": ('{"a" 1}', 1, 6, "1 cannot stand here", "':' after the key"),
    "a bare key": ("{a: 1}", 1, 2, "a cannot stand here", "double quotes"),
    "a bare word": ('{"a": yes}', 1, 7, "yes cannot stand here", "a value"),
    "single quotes": ("{'a': 1}", 1, 2, "'a' cannot stand here", "double quotes"),
    "a comment": ('{"a": 1} // x', 1, 10, "after the end", "nothing after"),
    "an open object": ('{"a": {"b": 1}', 1, 1, "opened with { is not closed", "'}'"),
    "an open list": ('{"a": [1,', 1, 7, "opened with [ is not closed", "']'"),
    "an open quote": ('{"a": "b\n}', 1, 7, "never closed", "closing quote"),
    "an unknown escape": ('{"a": "b\\q"}', 1, 9, "unknown escape \\q", "uXXXX"),
    "a tab in quotes": ('{"a": "b\tc"}', 1, 9, "a tab in quoted", "\\t"),
    "half a surrogate pair": ('{"a": "\\ud800"}', 1, 7, "U+D800", "printable"),
    "a hidden control character": ('{"a": "\\u001b[0m"}', 1, 7, "U+001B", "printable"),
    "blanks only": ("\n \n", 1, 1, "holds no values", "machine description"),
    "a text too long": (f'["{"x" * 65537}"]', 1, 2, "65537 characters", "at most 65536"),
    "a key too long": (f'{{"{"x" * 65537}": 1}}', 1, 2, "65537 characters", "at most 65536"),
    "a line separator": ('{"a": "\u2028"}', 1, 8, "line break U+2028", "an escape"),
}

CASES = [
    pytest.param(form, *case, id=f"{form}, {name}")
    for form, table in (("yaml", YAML), ("json", JSON))
    for name, case in table.items()
]


@pytest.mark.parametrize(("form", "text", "line", "column", "what", "expected"), CASES)
def test_unusable_text_is_refused_with_its_place(
    form: str, text: str, line: int, column: int, what: str, expected: str
) -> None:
    source = Source(Path("m"), "m", text, "json" if form == "json" else "yaml")
    with pytest.raises(InputError) as caught:
        parse(source)
    error = caught.value
    assert what in error.what
    assert expected in error.expected
    assert "\n" not in str(error)
    assert error.place is not None
    assert (error.place.file, error.place.line, error.place.column) == ("m", line, column)
    assert (error.place.end_line, error.place.end_column) > (line, column)
    assert error.source_line == source.line_text(line)


@pytest.mark.parametrize("form", ["yaml", "json"])
def test_more_values_than_the_limit_are_refused(form: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(f"axisproof.source.{form}.MAX_NODES", 4)
    read = Source(Path("m"), "m", "[1, 2, 3]", "json" if form == "json" else "yaml")
    assert parse(read) == [1, 2, 3]
    read = Source(Path("m"), "m", "[1, 2, 3, 4]", "json" if form == "json" else "yaml")
    with pytest.raises(InputError, match="more than 4 values") as caught:
        parse(read)
    assert caught.value.place is not None
    assert caught.value.place.column == 11


@pytest.mark.parametrize(
    ("named", "written_out"),
    [
        ("[&x [1, 2], *x]", "[[1, 2], [1, 2]]"),
        (
            "[&x {a: [1, 2], b: 3}, *x, *x]",
            "[{a: [1, 2], b: 3}, {a: [1, 2], b: 3}, {a: [1, 2], b: 3}]",
        ),
        ("[&x 1, *x]", "[1, 1]"),
        ("[&x [1, &y [2]], *y, *x]", "[[1, [2]], [2], [1, [2]]]"),
    ],
)
def test_an_alias_counts_for_all_it_stands_for(
    named: str, written_out: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fewest(text: str) -> int:
        for limit in range(1, 50):
            monkeypatch.setattr("axisproof.source.yaml.MAX_NODES", limit)
            with contextlib.suppress(InputError):
                parse(Source(Path("m"), "m", text, "yaml"))
                return limit
        raise AssertionError(text)

    assert fewest(named) == fewest(written_out)


@pytest.mark.parametrize(
    ("written", "expected"),
    [("089", "89, or"), ("0178", "178, or"), ("0177", "177 or 0o177, or"), ("00", "0 or 0o0, or")],
)
def test_octal_is_offered_only_for_what_can_be_octal(written: str, expected: str) -> None:
    with pytest.raises(InputError) as caught:
        parse(Source(Path("m"), "m", f"a: {written}", "yaml"))
    assert caught.value.expected.startswith(expected)


BYTES = {
    "an empty file": (b"", 1, 1, "the file is empty", ""),
    "blanks only": (b" \n\n", 1, 1, "the file is empty", " "),
    "a byte order mark only": (b"\xef\xbb\xbf", 1, 1, "the file is empty", ""),
    "Latin-1": ("a: 1\nb: 'für'\n".encode("latin-1"), 2, 6, "0xFC is not UTF-8", "b: 'f\ufffdr'"),
    "after UTF-8": (b"a: \xc3\xa9\xe9\n", 1, 5, "0xE9 is not UTF-8", "a: é\ufffd"),
    "UTF-16": ("a: 1\n".encode("utf-16"), 1, 1, "the file is UTF-16", None),
    "UTF-16 without mark": ("a: 1\n".encode("utf-16-le"), 1, 2, "looks like UTF-16", None),
    "a NUL": (b"a: 1\nb: x\x00yz\n", 2, 5, "U+0000", "b: x\x00yz"),
}


@pytest.mark.parametrize(
    ("data", "line", "column", "what", "shown"), BYTES.values(), ids=BYTES.keys()
)
@pytest.mark.parametrize("name", ["m.yaml", "m.json"])
def test_unusable_bytes_are_refused_with_their_place(
    tmp_path: Path, name: str, data: bytes, line: int, column: int, what: str, shown: str | None
) -> None:
    file = tmp_path / name
    file.write_bytes(data)
    with pytest.raises(InputError) as caught:
        read_source(file)
    error = caught.value
    assert what in error.what
    assert error.place is not None
    assert (error.place.file, error.place.line, error.place.column) == (str(file), line, column)
    assert shown is None or error.source_line == shown


def test_what_is_no_readable_file_is_refused_by_name(tmp_path: Path) -> None:
    for path, what in ((tmp_path, "is a folder"), (tmp_path / "no.yaml", "no such file")):
        with pytest.raises(InputError, match=what):
            read_source(path)
    with pytest.raises(InputError, match="not a regular file"):
        read_source(Path("/dev/null"))
    with pytest.raises(InputError, match="cannot be read"):
        read_source(Path("a\0b"))


def test_a_file_too_large_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "m.yaml"
    with file.open("wb") as stream:
        stream.truncate(64 * 1024 * 1024 + 1)
    with pytest.raises(InputError, match="larger than 64 MiB"):
        read_source(file)


def test_missing_paths_and_folders_without_files_are_usage_errors(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("a: 1")
    with pytest.raises(UsageError, match="holds no machine file"):
        find_sources([tmp_path])
    with pytest.raises(UsageError, match="there is no file or folder"):
        find_sources([tmp_path / "gone"])


# files (the first is read), file, line and column of the error, fragment of what is wrong
INCLUDES: dict[str, tuple[dict[str, str], str, int, int, str]] = {
    "no list": ({"m.yaml": "include: a.yaml\n"}, "m.yaml", 1, 10, "include is no list"),
    "a list for a path": ({"m.yaml": "include: [[x]]\n"}, "m.yaml", 1, 11, "entry […] is no path"),
    "a circle of links": ({"m.yaml": "include: [c.yaml]\n"}, "m.yaml", 1, 11, "c.yaml"),
    "no path": ({"m.yaml": "a: 1\ninclude: [5]\n"}, "m.yaml", 2, 11, "entry 5 is no path"),
    "an absolute path": ({"m.yaml": "include: [/a.yaml]\n"}, "m.yaml", 1, 11, "absolute path"),
    "a drive": ({"m.yaml": "include: ['C:/a.yaml']\n"}, "m.yaml", 1, 11, "absolute path"),
    "out of the folder": (
        {"s/m.yaml": "include:\n  - ../a.yaml\n", "a.yaml": "a: 1\n"},
        "s/m.yaml",
        2,
        5,
        "../a.yaml leaves the folder",
    ),
    "out by a link": ({"m.yaml": "include: [out/a.yaml]\n"}, "m.yaml", 1, 11, "leaves the folder"),
    "out by a link to a file": ({"m.yaml": "include: [o.yaml]\n"}, "m.yaml", 1, 11, "leaves the"),
    "no machine file": ({"m.yaml": "include: [a.txt]\n"}, "m.yaml", 1, 11, "is no machine file"),
    "a missing file": ({"m.yaml": "include: [a.yaml]\n"}, "m.yaml", 1, 11, "no such file"),
    "a folder": ({"m.yaml": "include: [d.yaml]\n"}, "m.yaml", 1, 11, "is a folder"),
    "itself": ({"m.yaml": "include: [m.yaml]\n"}, "m.yaml", 1, 11, "each other: m.yaml → m.yaml"),
    "a circle": (
        {
            "m.yaml": "include: [a.json]\n",
            "a.json": '{"include": ["b.yaml"]}',
            "b.yaml": "include: [a.json]",
        },
        "b.yaml",
        1,
        11,
        "each other: a.json → b.yaml → a.json",
    ),
    "no mapping": (
        {"m.yaml": "include: [a.yaml]\n", "a.yaml": "- 1\n"},
        "a.yaml",
        1,
        1,
        "no mapping",
    ),
    "a broken file": (
        {"m.yaml": "include: [a.yaml]\n", "a.yaml": "b: 1\na: ~\n"},
        "a.yaml",
        2,
        4,
        "~",
    ),
    "a list against a list": (
        {"m.yaml": "include: [a.yaml]\nb: [1]\n", "a.yaml": "b: [1, 2]\n"},
        "a.yaml",
        1,
        4,
        "b is one list here and another list in m.yaml:2:4",
    ),
    "a mapping against a scalar": (
        {"m.yaml": "include: [a.yaml]\nx: {b: 5}\n", "a.yaml": "x:\n  b:\n    c: 1\n"},
        "a.yaml",
        3,
        5,
        "x.b is a mapping here and a single value in m.yaml:2:8",
    ),
    "claims against a mapping": (
        {"m.yaml": "include: [a.yaml]\nb: {claims: []}\n", "a.yaml": "b: {c: 1}\n"},
        "a.yaml",
        1,
        4,
        "b is a mapping here and a set of claims in m.yaml:2:4",
    ),
}


@pytest.mark.parametrize(
    ("files", "file", "line", "column", "what"), INCLUDES.values(), ids=INCLUDES.keys()
)
def test_unusable_includes_are_refused_with_their_place(
    tmp_path: Path, files: dict[str, str], file: str, line: int, column: int, what: str
) -> None:
    outside = tmp_path / "outside"
    root = tmp_path / "root"
    outside.mkdir()
    (outside / "a.yaml").write_text("a: 1\n")
    (root / "d.yaml").mkdir(parents=True)
    (root / "out").symlink_to(outside)
    (root / "o.yaml").symlink_to(outside / "a.yaml")
    (root / "c.yaml").symlink_to(root / "c.yaml")
    for name, text in files.items():
        (root / name).parent.mkdir(exist_ok=True)
        (root / name).write_text(text)
    with pytest.raises(InputError) as caught:
        load_tree(root / next(iter(files)))
    error = caught.value
    assert what in error.what.replace(f"{root}/", "")
    assert error.place is not None
    assert (error.place.line, error.place.column) == (line, column)
    assert error.place.file == str(root / file)
    assert error.source_line is not None
    assert error.source_line == (root / file).read_text().splitlines()[line - 1]


def test_more_than_a_hundred_included_files_are_refused(tmp_path: Path) -> None:
    for number in range(101):
        (tmp_path / f"p{number}.yaml").write_text(f"a{number}: 1\n")
    top = tmp_path / "m.yaml"
    names = [f"p{number}.yaml" for number in range(101)]
    top.write_text(f"include: [{', '.join(names[:100])}]\n")
    assert len(load_tree(top).sources) == 101
    top.write_text(f"include: [{', '.join(names)}]\n")
    with pytest.raises(InputError, match="more than 100 files"):
        load_tree(top)


def test_the_table_of_refused_characters_lets_ordinary_text_through() -> None:
    check_text(Source(Path("m"), "m", "a: 'é µ ° ≥ 😀 \u00a0 \t'\r\n", "yaml"))
    with pytest.raises(AxisproofError):
        check_text(Source(Path("m"), "m", "a: '\ud800'", "yaml"))
