"""Mapping files are checked before any list is read: a mistake is refused where it stands."""

from __future__ import annotations

import json
import re
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest
from axisproof.authoring.guide import guide_pages
from axisproof.base.errors import InputError
from axisproof.importing.axis_names import AxisNames
from axisproof.importing.mapping import read_mapping
from axisproof.importing.table_facts import table_export
from axisproof.source.parsing import parse
from axisproof.source.reader import read_source

SOUND = """\
mapping: 1
form: csv
delimiter: semicolon
decimal: comma
subject: axis
columns: {subject: Axis, parameter: Name, value: Value, unit: Unit}
parameters:
  Pace: {to: drive.max_speed, unit: rpm}
"""


def write(folder: Path, text: str) -> Path:
    path = folder / "list.mapping.yaml"
    path.write_text(text)
    return path


def test_a_sound_mapping_is_read(tmp_path: Path) -> None:
    mapping = read_mapping(write(tmp_path, SOUND))
    assert mapping.comma
    assert mapping.form.wanted == {"Pace"}
    assert mapping.parameters["Pace"][0].unit == "rpm"


CASES: list[tuple[str, str, int, int, str]] = [
    ("a key nobody knows", "  Pace: {too: drive.max_speed}", 8, 10, "perhaps 'to'"),
    ("no fact", "  Pace: {unit: rpm}", 8, 3, "lacks 'to'"),
    ("a fact nobody knows", "  Pace: {to: drive.max_sped, unit: rpm}", 8, 14, "perhaps drive.max_"),
    ("a fact elsewhere", "  Pace: {to: drive.lead, unit: mm}", 8, 14, "mechanics.final.lead"),
    ("a record", "  Pace: {to: drive.gear_ratio}", 8, 14, "drive.gear_ratio.motor_turns"),
    ("a list of records", "  Pace: {to: mechanics.stages}", 8, 14, "a list of records"),
    ("no unit", "  Pace: {to: drive.max_speed}", 8, 14, "has no unit"),
    ("a unit of another kind", "  P: {to: drive.max_speed, unit: mm/s}", 8, 34, "another quantity"),
    ("a unit nobody knows", "  P: {to: drive.max_speed, unit: rmp}", 8, 34, "perhaps 'rpm'"),
    ("a unit for turns", "  P: {to: drive.gear_ratio.motor_turns, unit: rev}", 8, 47, "no unit"),
    ("a scale of 0", "  P: {to: drive.max_speed, unit: rpm, scale: 0}", 8, 46, "the scale is 0"),
    (
        "a scale in words",
        "  P: {to: drive.max_speed, unit: rpm, scale: half}",
        8,
        46,
        "exact number",
    ),
    (
        "a scale of a word",
        "  P: {to: drive.polarity, names: {1: normal}, scale: 2}",
        8,
        47,
        "no scale",
    ),
    ("words without names", "  P: {to: drive.polarity}", 8, 11, "names: for each"),
    (
        "a word nobody knows",
        "  P: {to: drive.polarity, names: {0: normel}}",
        8,
        38,
        "perhaps 'normal'",
    ),
    ("none for what is", "  P: {to: drive.polarity, names: {0: none}}", 8, 38, "is none"),
    (
        "a word for a number",
        "  P: {to: motor.brake.release_time, unit: ms, none: ['-']}",
        8,
        47,
        "cannot be none",
    ),
    (
        "no convention",
        "  P: {to: controller.homing.reference_position, unit: mm}",
        8,
        11,
        "sign convention",
    ),
    (
        "a convention for another fact",
        "  P: {to: drive.max_speed, unit: rpm, reference_reads: offset}",
        8,
        39,
        "no sign convention",
    ),
    ("a fact fed twice", "  P: {to: drive.node}\n  Q: {to: drive.node}", 9, 11, "fed twice"),
    (
        "a bit with half its words",
        "  P: {bits: [{bits: '7', to: drive.polarity, names: {0: normal}}]}",
        8,
        46,
        "can be 1, which has no word",
    ),
    (
        "a bit used twice",
        "  P: {bits: [{bits: 0-3, ignored: x}, {bits: '3', ignored: y}]}",
        8,
        46,
        "used already",
    ),
    (
        "bits that are to be a day",
        "  P: {bits: [{bits: 0-3, to: encoder.turn_counter.battery.fitted_on}]}",
        8,
        30,
        "names for the bits",
    ),
    ("bits backwards", "  P: {bits: [{bits: 7-3, ignored: x}]}", 8, 21, "lowest first"),
    ("bits beyond 64", "  P: {bits: [{bits: '64', ignored: x}]}", 8, 21, "0 to 63"),
    ("bits for nothing", "  P: {bits: [{bits: '6'}]}", 8, 14, "`to` or `ignored`"),
    ("a list without separator", "  P: {to: drive.supported_homing_methods}", 8, 11, "is a list"),
    ("a separator without list", "  P: {to: drive.node, list: ','}", 8, 23, "is no list"),
    ("a day that is none", "  P: {to: drive.node, date: dd.mm.yyyy}", 8, 23, "is no day"),
    ("sign without width", "  P: {to: drive.node, signed: true}", 8, 31, "needs the width"),
    (
        "mapped and ignored",
        "  P: {to: drive.node}\nignored:\n  P: free text",
        10,
        3,
        "mapped and ignored",
    ),
    (
        "words used twice",
        "  A: {to: drive.node}\npacked:\n"
        "  - {words: [A, B], word_bits: 16, to: drive.max_speed, unit: rpm}",
        10,
        14,
        "used already",
    ),
    (
        "too many bits",
        "packed: [{words: [A, B, C], word_bits: 32, to: drive.max_speed, unit: rpm}]",
        8,
        18,
        "96 bits",
    ),
    (
        "a packed word",
        "packed: [{words: [A, B], word_bits: 8, to: drive.serial}]",
        8,
        44,
        "is no number",
    ),
    ("a name of the machine", "  P: {to: machine.machine}", 8, 11, "no fact"),
]


@pytest.mark.parametrize(
    ("entry", "line", "column", "what"), [c[1:] for c in CASES], ids=[c[0] for c in CASES]
)
def test_a_mistake_in_an_entry_is_refused_where_it_stands(
    entry: str, line: int, column: int, what: str, tmp_path: Path
) -> None:
    top = SOUND[: SOUND.index("  Pace")]
    if entry.startswith("packed"):
        top = top.removesuffix("parameters:\n") + "parameters: {}\n"
    assert_refused(top + entry + "\n", line, column, what, tmp_path)


HEADS: list[tuple[str, str, str, int, int, str]] = [
    ("two commas", "delimiter: semicolon", "delimiter: comma", 4, 10, "both the decimal sign"),
    ("no form", "form: csv\n", "", 1, 1, "lacks 'form'"),
    ("a form nobody knows", "form: csv", "form: ods", 2, 7, "one of csv, ini, json, yaml"),
    ("another version", "mapping: 1", "mapping: 2", 1, 10, "Expected: 1"),
    ("csv settings for ini", "form: csv", "form: ini", 3, 1, "delimiter is for csv"),
    ("no subject column", "subject: Axis, ", "", 6, 1, "lacks 'subject'"),
    ("no value column", "value: Value, ", "", 6, 1, "lacks 'value'"),
    ("one column for two", "value: Value", "value: Name", 6, 50, "same column"),
    ("a subject nobody asked for", "subject: axis\n", "", 5, 11, "has no use"),
    ("a misspelt key", "decimal: comma", "decimals: comma", 4, 1, "perhaps 'decimal'"),
    ("an unknown encoding", "decimal: comma", "encoding: ebcdic", 4, 11, "one of utf-8"),
    (
        "no parameter",
        "  Pace: {to: drive.max_speed, unit: rpm}\n",
        "  {}\n",
        1,
        1,
        "maps no parameter",
    ),
]


@pytest.mark.parametrize(
    ("old", "new", "line", "column", "what"), [c[1:] for c in HEADS], ids=[c[0] for c in HEADS]
)
def test_a_mistake_about_the_form_is_refused_where_it_stands(
    old: str, new: str, line: int, column: int, what: str, tmp_path: Path
) -> None:
    assert old in SOUND
    assert_refused(SOUND.replace(old, new), line, column, what, tmp_path)


def assert_refused(text: str, line: int, column: int, what: str, folder: Path) -> None:
    path = write(folder, text)
    with pytest.raises(InputError) as caught:
        read_mapping(path)
    error = caught.value
    assert what in str(error)
    assert error.place is not None
    assert (error.place.line, error.place.column) == (line, column)
    assert error.source_line == text.splitlines()[line - 1]


@pytest.mark.parametrize("name", ["mapping", "project"])
def test_the_published_schemas_are_schemas_and_describe_every_key(name: str) -> None:
    schema = json.loads(files("axisproof.schemas").joinpath(f"{name}.schema.json").read_text())
    jsonschema.Draft202012Validator.check_schema(schema)

    def walk(node: object) -> None:
        if isinstance(node, dict):
            for key, inner in node.get("properties", {}).items():
                assert inner.get("description") or "$ref" in inner or key == "bits", key
            for inner in node.values():
                walk(inner)
        elif isinstance(node, list):
            for inner in node:
                walk(inner)

    walk(schema)


@pytest.mark.parametrize("path", sorted(Path("fixtures/imports").rglob("*.mapping.yaml")), ids=str)
def test_shipped_mappings_are_sound(path: Path) -> None:
    assert read_mapping(path).form.wanted
    assert isinstance(parse(read_source(path)), dict)


def guide_mappings() -> list[str]:
    """The mappings that the page on exports shows."""
    page = next(page.text for page in guide_pages() if page.name == "exports")
    return re.findall(r"```yml\n(.*?)```", page, re.DOTALL)


@pytest.mark.parametrize("number", range(5))
def test_the_mappings_of_the_guide_are_sound(number: int, tmp_path: Path) -> None:
    mappings = guide_mappings()
    assert len(mappings) == 5
    (tmp_path / "m.yaml").write_text(mappings[number])
    assert read_mapping(tmp_path / "m.yaml").form.wanted


EXAMPLES = (
    (
        1,
        '{"axes": [{"name": "hub", "parameters": [{"id": "Ring", "value": 360, "unit": "deg"}]}]}',
    ),
    (2, '{"hub": {"Ring": {"is": 360, "unit": "deg"}}}'),
    (3, '<All><Axis name="hub"><Item id="Turns" unit="">4096</Item></Axis></All>'),
    (4, "Axis,Kind,z1,z2\nhub,B,20,60\n"),
)


@pytest.mark.parametrize(("number", "text"), EXAMPLES)
def test_the_lists_of_the_guide_are_read_by_their_mappings(
    number: int, text: str, tmp_path: Path
) -> None:
    mapping = guide_mappings()[number]
    for line in re.findall(r"# ([{<].*)", mapping):
        shown = line.replace(" ", "").rstrip("}]")
        assert shown.split("Ring")[0] in text.replace(" ", ""), "the page shows this list"
    (tmp_path / "m.yaml").write_text(mapping)
    (tmp_path / "list.txt").write_text(text)
    export = table_export(tmp_path / "list.txt", read_mapping(tmp_path / "m.yaml"), AxisNames())
    assert export.plain()["axes"]["hub"]  # type: ignore[call-overload, index]
