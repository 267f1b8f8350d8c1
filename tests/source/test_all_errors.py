"""All errors of a text are told in one run, and none that only follows from another."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.base.errors import MOST_ERRORS, InputError
from axisproof.importing.entry import load_trees
from axisproof.source.files import Form, Source
from axisproof.source.parsing import parse

DEEP = "[" * 65 + "]" * 65

SEVERAL = {
    "values": ("a: 010\nb: 1\nc: ~\nd: .nan\n", [1, 3, 4]),
    "a bracket and what follows": ("a: [1, 2\nb: 010\n", [1, 2]),
    "a bracket over lines": ("a: {b: 010,\n  c: 1\n}\nd: ~\n", [1, 4]),
    "a key twice and a tab": ("a:\n  b: 1\n  b: 2\nc:\n\td: 1\ne: ~\n", [3, 5, 6]),
    "colons": ("a: b: c\nd: e: f\ng: 1\n", [1, 2]),
    "the only fact of a record": ("a:\n  b: ~\nc: 1\nd: 010\n", [2, 4]),
    "an anchor that is gone": ("a: &x 010\nb: *x\nc: ~\n", [1, 3]),
    "an open quote": ("a: 'b\n\nc: ~\n", [1, 3]),
    "signs": ("a: @b\nc: `d\ne: 1\n", [1, 2]),
}

SEVERAL_OF_JSON = {
    "values": ('{"a": null,\n "b": 010,\n "c": yes,\n "d": 5}', ["1:7", "2:7", "3:7"]),
    "a unit behind a number": (
        '{"a": 5 mm,\n "b": [1, 2 mm, 3],\n "c": 7 kg\n}',
        ["1:9", "2:13", "3:9"],
    ),
    "missing commas": ('{"a": 1\n "b": 2\n "c": [1 2\n 3]}', ["2:2", "3:2", "3:10", "4:2"]),
    "commas too many": ('{"a": [1,],\n "b": [1,,2],,\n "c": 1,\n}', ["1:9", "2:10", "2:14", "3:8"]),
    "a decimal comma": ('{"a": 2,5,\n "b": null}', ["1:9", "2:7"]),
    "keys": ('{\'a\': 1,\n b: 1,\n "b": 2, "": 3}', ["1:2", "2:2", "3:2", "3:10"]),
    "a key twice": ('{"a": 1,\n "a": null,\n b: 1,\n "c": ~}', ["2:2", "2:7", "3:2", "4:7"]),
    "colons": ('{"a" 1,\n "b" = 2, "c": , "d":}', ["1:6", "2:6", "2:16", "2:22"]),
    "open quotes": ('{"a": "b,\n "c": null,\n "d": "e\n}', ["1:7", "2:7", "3:7"]),
    "an open quote and no comma": ('{"a": "b\n "c": 1,\n "d": null}', ["1:7", "3:7"]),
    "an open quote of a key": ('{"a: 1,\n "c": null}', ["1:2", "2:7"]),
    "quotes in quotes": ('{"a": "the "big" one",\n "b": null}', ["1:13", "2:7"]),
    "quotes twice in quotes": ('{"a": "the ""big"" one",\n "b": null}', ["1:13", "2:7"]),
    "comments": ('{ // one\n "a": 1, # two\n "b": 2 /* and */ }', ["1:3", "2:10", "3:9"]),
    "escapes": ('{"a": "b\\q",\n "c": "x\ty", "d": "\\ud800"}', ["1:9", "2:9", "2:19"]),
    "words of another language": ("{'a': True,\n 'b': (1, 2)}", ["1:2", "1:7", "2:2", "2:7"]),
    "a call": ('{"a": foo(1, [2]),\n "b": null}', ["1:7"]),
    "an open bracket": ('{"a": {"b": null}', ["1:13"]),
    "a bracket of the other kind": ('{"a": [1, 2},\n "b": null}', ["1:12"]),
    "a bracket too many": ('{"a": null}\n}', ["1:7"]),
    "levels": (f'{{"a": null, "b": {DEEP}, "c": null}}', ["1:7", "1:81"]),
}


@pytest.mark.parametrize("case", SEVERAL_OF_JSON)
def test_all_errors_of_a_json_text_are_told_at_once(case: str) -> None:
    """Each error is one of the text itself, and none is only a consequence of another."""
    text, places = SEVERAL_OF_JSON[case]
    with pytest.raises(InputError) as caught:
        parse(Source(Path("m"), "m", text, "json"))
    told = (caught.value, *caught.value.others)
    assert [f"{each.place.line}:{each.place.column}" for each in told if each.place] == places


RECORDS = """{
  "machine": "Hall",
  "axes": {
    "lift": {"motor": {"speed": "3000 rpm", "pairs": 4},
      "list": [1, 2.5, "a", true],
      "records": [
        {"kind": "belt", "teeth": 20},
        {"kind": "worm", "ratio": -1.5e3}
      ]
    }
  }
}
"""


def test_one_slip_in_a_json_text_is_told_as_one_error() -> None:
    """A sign left out, put in or typed for another: but for a comma, that is one error."""
    told = more = 0
    for at in range(len(RECORDS)):
        texts = [RECORDS[:at] + RECORDS[at + 1 :]]
        for sign in '",:{}[]x\n/#':
            texts += [RECORDS[:at] + sign + RECORDS[at:], RECORDS[:at] + sign + RECORDS[at + 1 :]]
        for text in texts:
            try:
                parse(Source(Path("m"), "m", text, "json"))
            except InputError as error:
                told += 1
                more += bool(error.others)
    assert told > 3000
    assert more < told / 200  # a comma amid a word makes two words, each of them wrong


@pytest.mark.parametrize("case", SEVERAL)
def test_all_errors_of_a_text_are_told_at_once(case: str) -> None:
    text, lines = SEVERAL[case]
    with pytest.raises(InputError) as caught:
        parse(Source(Path("m"), "m", text, "yaml"))
    told = (caught.value, *caught.value.others)
    assert [each.place.line for each in told if each.place] == lines
    for each in told:
        assert each.place is not None
        assert each.source_line == text.split("\n")[each.place.line - 1]


@pytest.mark.parametrize("form", ["yaml", "json"])
def test_no_more_errors_of_a_text_are_told_than_anybody_reads(form: Form) -> None:
    yaml = "".join(f"a{number}: ~\n" for number in range(50))
    json = "{" + ",".join(f'"a{number}": null\n' for number in range(50)) + "}"
    with pytest.raises(InputError) as caught:
        parse(Source(Path("m"), "m", yaml if form == "yaml" else json, form))
    assert len(caught.value.others) == MOST_ERRORS - 1


def test_errors_of_json_and_of_facts_are_told_together(tmp_path: Path) -> None:
    file = tmp_path / "m.json"
    file.write_text(
        '{"format": 1, "machine": null,\n "axes": {"a": {"motion": "linear",\n'
        '  "motor": {"rated_speed": 010,\n'
        '    "peak_torque": "5 kg",\n    "inertia": 3 kg},\n  "encodr": {"kind": "absolute"},\n'
        '  "drive": {"node": 1x}\n  "mechanics": {"stages": [{"kind": "bolt"}, {"kind": 3 x}],\n'
        '   "load_mass": "5 s"}\n}}}',
        "utf-8",
    )
    with pytest.raises(InputError) as caught:
        load_trees([file])
    told = (caught.value, *caught.value.others)
    places = [f"{each.place.line}:{each.place.column}" for each in told if each.place]
    assert places == [
        *("1:26", "3:28", "4:20", "5:18", "6:3", "7:21", "8:3", "8:37", "8:57", "9:17")
    ]
    assert all(each.source_line for each in told)


def test_errors_of_yaml_and_of_facts_are_told_together(tmp_path: Path) -> None:
    file = tmp_path / "m.yaml"
    file.write_text(
        "format: 1\nmachine: Hall\naxes:\n  a:\n    motion: linear\n    motor:\n"
        "      rated_speed: 010\n      peak_torque: 5 kg\n      inertia: ~\n"
        "    encodr: {kind: absolute}\n    drive:\n      node: x: 1\n",
        "utf-8",
    )
    with pytest.raises(InputError) as caught:
        load_trees([file])
    told = (caught.value, *caught.value.others)
    assert [each.place.line for each in told if each.place] == [7, 8, 9, 10, 12]


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("m.yaml", "format: ~\nmachine: ~\naxes:\n  a: ~\n"),
        ("m.json", '{"format": null,\n"machine": null,\n"axes": {\n"a": null}}'),
    ],
)
def test_a_fact_that_could_not_be_parsed_is_not_told_to_be_missing(
    tmp_path: Path, name: str, text: str
) -> None:
    file = tmp_path / name
    file.write_text(text, "utf-8")
    with pytest.raises(InputError) as caught:
        load_trees([file])
    told = (caught.value, *caught.value.others)
    assert [each.place.line for each in told if each.place] == [1, 2, 4]
