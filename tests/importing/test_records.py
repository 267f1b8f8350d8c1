"""Lists whose rows stand in a tree (JSON, YAML, XML), records made from rows, and their errors."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from xml.sax.saxutils import escape, quoteattr

import pytest
from axisproof.base.errors import InputError
from axisproof.importing import branches, xml_tree
from axisproof.importing.axis_names import AxisNames
from axisproof.importing.branches import path_steps, select
from axisproof.importing.export import Export
from axisproof.importing.list_form import ListForm
from axisproof.importing.rows import export_rows, row_paths, tree_of
from axisproof.importing.single_export import ImportOptions, import_files
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples
from tests.importing.list_exports import facts, import_list

NESTED = (
    "mapping: 1\nform: {form}\nsubject: axis\nrecords: {records}\n"
    "columns: {{parameter: {id}, value: {value}, unit: {unit}, subject: {subject}}}\n"
    "parameters:\n"
    "  Pace: {{to: controller.max_velocity, unit: as_written}}\n"
    "  Turns: {{to: encoder.distinguishable_revolutions}}\n"
)
JSON_MAPPING = NESTED.format(
    form="json", records="axes/parameters", id="id", value="value", unit="unit", subject="../name"
)
XML_MAPPING = NESTED.format(
    form="xml", records="Axis/P", id='"@id"', value='"."', unit='"@unit"', subject='"../@name"'
)
JSON_LIST = """{"saved": "today",
 "axes": [
  {"name": "hub", "parameters": [
    {"id": "Pace", "value": 500, "unit": "mm/s"},
    {"id": "Turns", "value": "4096", "unit": null}]},
  {"name": "hoist", "parameters": [{"id": "Pace", "value": 12.5, "unit": "m/min", "note": "x"}]}
 ]}
"""
XML_LIST = """<?xml version="1.0" encoding="utf-8"?>
<List saved="today">
 <Axis name="hub">
  <P id="Pace" unit="mm/s">500</P>
  <P id="Turns">4096</P>
 </Axis>
 <Axis name="hoist"><P id="Pace" unit="m/min" note="x">12.5</P></Axis>
</List>
"""
EXPECTED = {
    "hub": {
        "controller": {"max_velocity": "500 mm/s"},
        "encoder": {"distinguishable_revolutions": 4096},
    },
    "hoist": {"controller": {"max_velocity": "12.5 m/min"}},
}


@pytest.mark.parametrize(
    ("mapping", "text", "ending", "place", "unread"),
    [
        (
            JSON_MAPPING,
            JSON_LIST,
            "json",
            (6, 60),
            {"1:11: saved, outside of the rows, is not read", "6:91: the field note is not read"},
        ),
        (
            XML_MAPPING,
            XML_LIST,
            "xml",
            (7, 56),
            {
                "2:14: @saved, outside of the rows, is not read",
                "7:53: the field @note is not read",
            },
        ),
    ],
    ids=["json", "xml"],
)
def test_rows_in_a_tree_become_facts_with_their_places(
    mapping: str,
    text: str,
    ending: str,
    place: tuple[int, int],
    unread: set[str],
    tmp_path: Path,
) -> None:
    export = import_list(tmp_path, mapping, text, axis=None, ending=ending)
    assert export.plain() == {"axes": EXPECTED}
    at = export.statements["axes", "hoist", "controller", "max_velocity"].place
    assert (at.line, at.column) == place
    remarks = {str(remark).rpartition(f".{ending}:")[2] for remark in export.remarks}
    assert unread <= remarks


def test_yaml_rows_and_keys_as_names(tmp_path: Path) -> None:
    mapping = NESTED.format(
        form="yaml", records='"*/*"', id='"#"', value="is", unit="unit", subject='"../#"'
    )
    text = "hub:\n  Pace: {is: 500, unit: mm/s}\n  Turns: {is: 4096}\nhoist:\n"
    text += "  Pace: {is: 12.5, unit: m/min}\n"
    export = import_list(tmp_path, mapping, text, axis=None, ending="yaml")
    assert export.plain() == {"axes": EXPECTED}


def test_records_that_are_lists_are_counted_from_one(tmp_path: Path) -> None:
    mapping = "mapping: 1\nform: json\nrecords: rows/*\ncolumns: {parameter: '1', value: '2'}\n"
    mapping += "parameters:\n  N: {to: drive.node}\n"
    wrong = import_list
    with pytest.raises(InputError, match="names no parameter"):
        wrong(tmp_path, mapping, '{"rows": {"a": {"2": 7}}}', ending="json")
    text = '{"rows": {"a": {"1": "N", "2": 7}}}'
    assert facts(import_list(tmp_path, mapping, text, ending="json")) == {"drive.node": 7}


def test_paths_lead_where_they_say(tmp_path: Path) -> None:
    path = tmp_path / "a.xml"
    path.write_text('<R><A n="1"><B>x</B><C><B>y</B></C></A><A n="2"/></R>')
    root = tree_of(path)

    def texts(at: str) -> list[str | None]:
        return [branch.text for branch in select(root, path_steps(at))]

    assert texts("A/B") == ["x"]
    assert texts("A/@n") == ["1", "2"]
    assert texts("**/B") == ["x", "y"]
    assert texts("A/*/#") == ["B", "C"]
    assert texts("**/B/../@n") == ["1"]
    assert texts("A/D") == []
    assert row_paths(root)["A"] == (2, ("@n", "B", "C/B"))


def test_rows_can_be_read_without_a_mapping(tmp_path: Path) -> None:
    path = tmp_path / "list.json"
    path.write_text(JSON_LIST)
    columns = {"parameter": "id", "value": "value", "unit": "unit", "subject": "../name"}
    form = ListForm("json", columns=columns, subject="axis", records="axes/parameters")
    rows = [(row.subject, row.parameter, row.text, row.unit) for row in export_rows(path, form)]
    assert rows == [
        ("hub", "Pace", "500", "mm/s"),
        ("hub", "Turns", "4096", ""),
        ("hoist", "Pace", "12.5", "m/min"),
    ]


# Bad lists ---------------------------------------------------------------------------------------

BAD_LISTS = (
    ("json", '"value": 500', '"value": {"x": 5}', 4, 29, "is a record"),
    ("json", '"id": "Pace", "value": 500', '"value": 500', 4, 5, "names no parameter"),
    ("json", '"name": "hub", ', "", 2, 0, "names no axis"),
    ("json", '"axes"', '"axles"', 1, 1, "nothing stands at axes/parameters"),
    ("json", "500", "fast", 4, 29, "cannot stand here"),
    ("json", "500", '"fast"', 4, 29, "is no number"),
    ("json", '"unit": "mm/s"', '"unit": "mm/S^9"', 4, 42, "the unit of Pace"),
    ("json", '"unit": "mm/s"', '"unit": "\\"/s"', 4, 42, "which is in/s or arcsec/s"),
    ("json", '"unit": null', '"unit": "mm"', 5, 46, "the unit of Turns"),
    ("json", '"Turns"', '"Pace"', 5, 29, "stated twice, first on line 4"),
    ("xml", ">500<", ">5<i/>00<", 4, 33, "goes on behind an element"),
    ("xml", ">500<", "><b>500</b><", 4, 3, "is a record"),
    ("xml", ' id="Pace" unit="mm/s"', "", 4, 3, "names no parameter"),
    ("xml", ' name="hub"', "", 4, 3, "names no axis"),
    ("xml", ">500<", ">fast<", 4, 28, "is no number"),
    ("xml", "</List>", "", 9, 1, "not well-formed"),
    ("xml", "500", "&pace;", 4, 28, "undefined entity"),
    ("xml", "500", "&#x9b;31m", 4, 28, "control character U+009B"),
    ("xml", "utf-8", "koi8-r", 1, 31, "declares the encoding koi8-r"),
    ("xml", "500", "<g>" * 70, 4, 211, "nested deeper than 64 levels"),
    ("xml", "500", "5" * 70_000, 4, 28, "more than 65536 characters"),
    ("xml", "<List", "<!DOCTYPE List>\n<List", 2, 1, "document type"),
)  # fmt: skip


@pytest.mark.parametrize("case", BAD_LISTS, ids=[f"{case[0]}: {case[5]}" for case in BAD_LISTS])
def test_a_bad_tree_is_refused_where_it_is_bad(
    case: tuple[str, str, str, int, int, str], tmp_path: Path
) -> None:
    form, old, new, line, column, what = case
    mapping, text = (JSON_MAPPING, JSON_LIST) if form == "json" else (XML_MAPPING, XML_LIST)
    assert old in text
    with pytest.raises(InputError) as caught:
        import_list(tmp_path, mapping, text.replace(old, new, 1), axis=None, ending=form)
    error = caught.value
    assert what in error.what
    assert error.place is not None
    assert error.source_line is not None
    if column:
        assert (error.place.line, error.place.column) == (line, column), str(error)


BOMBS = {
    "entities that grow": '<!DOCTYPE a [<!ENTITY b "xxxxxxxx"><!ENTITY c "&b;&b;">]><a>&c;</a>',
    "a file elsewhere": '<!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]><a>&b;</a>',
    "a type elsewhere": '<!DOCTYPE a SYSTEM "http://nowhere.invalid/a.dtd"><a/>',
    "parameters that grow": '<!DOCTYPE a [<!ENTITY % b "c"> %b;]><a/>',
    "defaults of attributes": '<!DOCTYPE a [<!ATTLIST a b CDATA "c">]><a/>',
}


@pytest.mark.parametrize("name", BOMBS)
@pytest.mark.parametrize("codec", ["utf-8", "utf-16"])
def test_what_xml_can_define_or_fetch_is_refused(name: str, codec: str, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="document type") as caught:
        import_list(tmp_path, XML_MAPPING, BOMBS[name].encode(codec), ending="xml")
    place = caught.value.place
    assert place is not None
    assert (place.line, place.column) == (1, 1)


BAD_MAPPINGS = (
    ("xml without records", XML_MAPPING.replace("records: Axis/P\n", ""), 2, "without records"),
    ("records of csv", "mapping: 1\nform: csv\nrecords: a\n", 3, "records is for json"),
    ("a path that ends", JSON_MAPPING.replace("axes/par", "axes//par"), 4, "the path is axes//"),
    ("a name in between", JSON_MAPPING.replace("../name", "'#/name'"), 5, "the path is #/name"),
    (
        "columns without records",
        JSON_MAPPING.replace("records: axes/parameters\n", ""),
        4,
        "columns is",
    ),
)


@pytest.mark.parametrize(
    ("mapping", "line", "what"), [b[1:] for b in BAD_MAPPINGS], ids=[b[0] for b in BAD_MAPPINGS]
)
def test_a_mapping_whose_parts_do_not_fit_is_refused(
    mapping: str, line: int, what: str, tmp_path: Path
) -> None:
    if "parameters:" not in mapping:
        mapping += "parameters:\n  A: {to: drive.node}\n"
    with pytest.raises(InputError) as caught:
        import_list(tmp_path, mapping, JSON_LIST, ending="json")
    assert what in caught.value.what
    assert caught.value.place is not None
    assert caught.value.place.line == line


# Records of a list -------------------------------------------------------------------------------

STAGES = (
    "mapping: 1\nform: csv\nlayout: row_per_record\nsubject: axis\ncolumns: {subject: Axis}\n"
    "parameters:\n"
    "  Kind: {to: 'mechanics.stages[].kind', names: {B: belt, G: gearbox}}\n"
    "  Z1: {to: 'mechanics.stages[].motor_side_teeth'}\n"
    "  Z2: {to: 'mechanics.stages[].load_side_teeth'}\n"
    "fixed: {'mechanics.stages[].reversing': false}\n"
)


def stages(export: Export, axis: str) -> Any:
    plain: Any = export.plain()
    return plain["axes"][axis]["mechanics"]["stages"]


def test_rows_become_gear_stages(tmp_path: Path) -> None:
    text = "Axis,Kind,Z1,Z2\nhub,B,24,48\ntable,G,,\nhub,G,10,31\nspare,,,\n"
    export = import_list(tmp_path, STAGES, text, axis=None)
    assert stages(export, "hub") == [
        {"kind": "belt", "motor_side_teeth": 24, "load_side_teeth": 48, "reversing": False},
        {"kind": "gearbox", "motor_side_teeth": 10, "load_side_teeth": 31, "reversing": False},
    ]
    assert stages(export, "table") == [{"kind": "gearbox", "reversing": False}]
    assert "spare" not in str(export.plain())
    at = ("axes", "hub", "mechanics", "stages", 1, "load_side_teeth")
    place = export.statements[at].place
    assert (place.line, place.column) == (4, 10)
    located = export.locations.value(at)
    assert located == place


def test_a_list_of_records_may_be_incomplete(tmp_path: Path) -> None:
    mapping = STAGES.replace("load_side_teeth'}", "load_side_teeth', partial: true}")
    export = import_list(tmp_path, mapping, "Axis,Kind,Z1,Z2\nhub,B,24,48\n", axis=None)
    kind = {"kind": "belt", "motor_side_teeth": 24, "load_side_teeth": 48, "reversing": False}
    assert stages(export, "hub") == {"partial": [kind]}


def test_repeated_columns_become_gear_stages(tmp_path: Path) -> None:
    mapping = (
        "mapping: 1\nform: csv\nlayout: row_per_axis\nsubject: axis\ncolumns: {subject: Axis}\n"
        "parameters:\n"
        "  Z1: {to: 'mechanics.stages[0].motor_side_teeth'}\n"
        "  Z2: {to: 'mechanics.stages[0].load_side_teeth'}\n"
        "  Z3: {to: 'mechanics.stages[1].motor_side_teeth', required: true}\n"
        "fixed: {'mechanics.stages[0].kind': belt, 'mechanics.stages[1].kind': gearbox}\n"
    )
    text = "Axis,Z1,Z2,Z3\nhub,24,48,\ntable,20,30,10\n"
    export = import_list(tmp_path, mapping, text, axis=None)
    assert [stage["kind"] for stage in stages(export, "hub")] == ["belt"]
    assert stages(export, "table")[1] == {"kind": "gearbox", "motor_side_teeth": 10}
    with pytest.raises(InputError, match=r"stages\[1\] is stated without") as caught:
        import_list(tmp_path, mapping, "Axis,Z1,Z2,Z3\nhub,,,10\n", axis=None)
    assert caught.value.place is not None
    assert (caught.value.place.line, caught.value.place.column) == (2, 7)


def test_a_fact_that_each_record_needs_is_demanded(tmp_path: Path) -> None:
    mapping = STAGES.replace("load_side_teeth'}", "load_side_teeth', required: true}")
    with pytest.raises(InputError, match="hub has no Z2") as caught:
        import_list(tmp_path, mapping, "Axis,Kind,Z1,Z2\nhub,B,24,48\nhub,G,10,\n", axis=None)
    assert caught.value.place is not None
    assert caught.value.place.line == 3


BAD_RECORDS = (
    (
        "another list",
        STAGES.replace("stages[].load_side_teeth", "couplings[].name"),
        "another list",
    ),
    (
        "no record",
        STAGES.replace("'mechanics.stages[].load_side_teeth'", "drive.node"),
        "no fact of a record",
    ),
    ("no rows", STAGES.replace("row_per_record", "row_per_axis"), "is a fact of each row"),
    ("a whole list", STAGES.replace("stages[].load_side_teeth", "stages"), "is a list of records"),
    ("no such fact", STAGES.replace("load_side_teeth", "teeth"), "is no fact of the machine file"),
    (
        "a fixed fact of no record",
        STAGES.replace("'mechanics.stages[].reversing': false", "drive.node: 5"),
        "record",
    ),
    ("a fixed value that is none", STAGES.replace("reversing': false", "kind': 7"), "kind"),
    ("fixed and mapped", STAGES.replace("reversing': false", "kind': belt"), "fed twice"),
    (
        "packed",
        STAGES + "packed: [{words: [A, B], word_bits: 8, to: drive.node}]\n",
        "packed has no use",
    ),
)


@pytest.mark.parametrize(
    ("mapping", "what"), [b[1:] for b in BAD_RECORDS], ids=[b[0] for b in BAD_RECORDS]
)
def test_a_mapping_of_records_that_cannot_be_is_refused(
    mapping: str, what: str, tmp_path: Path
) -> None:
    with pytest.raises(InputError) as caught:
        import_list(tmp_path, mapping, "Axis\n", axis=None)
    assert what in caught.value.what
    assert caught.value.place is not None
    assert caught.value.source_line


# The same content in every form ------------------------------------------------------------------

Row = tuple[str, str, str, str]

PARAMETERS = {
    "Pace": ("controller.max_velocity", ["mm/s", "m/min", "MM/SEC", "Zoll/s"]),
    "Tempo°": ("drive.max_speed", ["rpm", "U/min", "1/min", "Umdr./min", "°/s"]),
    'Füllung, "alt"': ("controller.stop.delay", ["ms", "s", "Sek"]),
    "<Mass>": ("mechanics.load_mass", ["kg", "lbs"]),
    "Ink": ("controller.counts_per_unit", ["Ink/mm", "inc/°", "counts/mm"]),
}
NUMBERS = st.builds(
    lambda whole, part: f"{whole},{part}" if part else str(whole),
    st.integers(1, 9999),
    st.sampled_from(["", "5", "25", "125"]),
)


@st.composite
def contents(draw: st.DrawFn) -> list[Row]:
    rows = []
    for axis in draw(st.lists(st.sampled_from(["hub", "dreh", "x1"]), unique=True, min_size=1)):
        for name in draw(st.lists(st.sampled_from(list(PARAMETERS)), unique=True, min_size=1)):
            unit = draw(st.sampled_from(PARAMETERS[name][1]))
            rows.append((axis, name, draw(NUMBERS), unit))
    return rows


def head(form: str, encoding: str, **columns: str) -> str:
    parameters = {name: {"to": to, "unit": "as_written"} for name, (to, _) in PARAMETERS.items()}
    plain: dict[str, Any] = {"mapping": 1, "form": form, "decimal": "comma", "subject": "axis"}
    plain |= {"encoding": encoding, "columns": columns, "parameters": parameters}
    if form == "csv":
        plain["delimiter"] = "semicolon"
    else:
        plain["records"] = columns.pop("records")
    return json.dumps(plain)


def as_csv(rows: list[Row]) -> str:
    stream = io.StringIO()
    writer = csv.writer(stream, delimiter=";")
    writer.writerows([("Axis", "Name", "Value", "Unit"), *rows])
    return stream.getvalue()


JSON_COLUMNS = {"parameter": "id", "value": "v/is", "unit": "u"}
XML_COLUMNS = {"parameter": "@id", "value": ".", "unit": "U"}


def by_axis(rows: list[Row]) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in rows:
        found.setdefault(row[0], []).append(row)
    return found


def as_json(rows: list[Row]) -> str:
    axes = [
        {"name": axis, "groups": [[{"id": n, "v": {"is": v}, "u": u} for _, n, v, u in own]]}
        for axis, own in by_axis(rows).items()
    ]
    return json.dumps({"axes": axes}, ensure_ascii=False, indent=1)


def as_xml(rows: list[Row], encoding: str) -> str:
    lines = [f'<?xml version="1.0" encoding="{encoding}"?>', '<L xmlns="urn:ours"><All>']
    for axis, own in by_axis(rows).items():
        lines.append(f"<Axis><Name>{axis}</Name>")
        for _, name, value, unit in own:
            lines.append(f"<P id={quoteattr(name)}>\n {value} <U>{escape(unit)}</U></P>")
        lines.append("</Axis>")
    return "\n".join([*lines, "</All></L>"])


@examples(1)
@given(rows=contents(), encoding=st.sampled_from(["utf-8", "utf-16", "cp1252", "latin-1"]))
def test_one_content_in_three_forms_is_one_machine(rows: list[Row], encoding: str) -> None:
    declared = {"cp1252": "windows-1252", "latin-1": "iso-8859-1"}.get(encoding, encoding)
    forms = {
        "csv": (
            head("csv", encoding, parameter="Name", value="Value", unit="Unit", subject="Axis"),
            as_csv(rows),
        ),
        "json": (
            head("json", encoding, records="axes/groups", subject="../name", **JSON_COLUMNS),
            as_json(rows),
        ),
        "xml": (
            head("xml", encoding, records="**/P", subject="../Name", **XML_COLUMNS),
            as_xml(rows, declared),
        ),
    }  # fmt: skip
    machines = []
    with TemporaryDirectory() as folder:
        for form, (mapping, text) in forms.items():
            data = text.encode(encoding)
            export = import_list(
                Path(folder), mapping, data, axis=None, ending=form, names=AxisNames()
            )
            machines.append(export.plain())
            for statement in export.statements.values():  # each value stands where it is said to
                line = export.line_text(statement.place.line)
                stands = line[statement.place.column - 1 : statement.place.end_column - 1]
                assert stands.strip('"') in {value for _, _, value, _ in rows}
    assert machines[0]["axes"].keys() == by_axis(rows).keys()  # type: ignore[union-attr]
    assert machines[0] == machines[1] == machines[2]


def test_a_list_is_told_from_a_machine_file_beside_it(tmp_path: Path) -> None:
    """A list may have ``null``, a list of axes and an encoding that no machine file has."""
    given = tmp_path / "given.yaml"
    given.write_text("format: 1\nmachine: M\naxes:\n  hub: {motion: linear}\n")
    for codec in ("utf-8", "utf-16"):
        (tmp_path / "m.yaml").write_text(JSON_MAPPING + f"encoding: {codec}\n")
        text = JSON_LIST.replace('"hoist"', '"lift"').replace("m/min", "mm/s")
        text = text.replace('{"name": "lift"', '{"name": "hub2"').partition(",\n  {")[0] + "]}\n"
        (tmp_path / "list.json").write_text(text, codec)
        options = ImportOptions(mapping=tmp_path / "m.yaml")
        tree = import_files([given, tmp_path / "list.json"], options).tree
        axes: Any = tree.plain
        assert axes["axes"]["hub"]["encoder"] == {"distinguishable_revolutions": 4096}


@pytest.mark.parametrize(("mapping", "text"), [(JSON_MAPPING, JSON_LIST), (XML_MAPPING, XML_LIST)])
def test_a_file_of_too_many_values_is_refused(
    mapping: str, text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for module in (branches, xml_tree):
        monkeypatch.setattr(module, "MAX_BRANCHES", 5)
    ending = "json" if mapping is JSON_MAPPING else "xml"
    with pytest.raises(InputError, match="the file holds more than 5 values") as caught:
        import_list(tmp_path, mapping, text, axis=None, ending=ending)
    assert caught.value.place is not None
    assert caught.value.place.line > 2
