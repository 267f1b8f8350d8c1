"""Parameter lists: every form and decoding, exact; what is passed over is reported."""

from __future__ import annotations

import csv
import io
import tracemalloc
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from axisproof.base.errors import InputError
from axisproof.importing.axis_names import AxisNames
from axisproof.importing.csv_cells import cell_spans
from axisproof.importing.table_facts import MAX_REMARKED
from axisproof.importing.values import NotANumber, exact_text, read_number
from axisproof.numbers.rational import Fraction, read_fraction
from axisproof.numbers.written import parse_number
from hypothesis import given
from hypothesis import strategies as st

from tests.importing.list_exports import AXES, NODE, ROWS, UNITS, by_row, facts, import_list
from tests.numbers.random_fractions import random_fractions

# Decoding ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("entry", "row", "expected"),
    [
        ("A: {to: drive.max_speed, unit: rpm}", "A,4500", {"drive.max_speed": "4500 rpm"}),
        (
            "A: {to: drive.max_speed, unit: rpm, scale: 1/10}",
            "A,45005",
            {"drive.max_speed": "4500.5 rpm"},
        ),
        (
            "A: {to: drive.max_speed, unit: rpm, scale: 1/3}",
            "A,100",
            {"drive.max_speed": "100/3 rpm"},
        ),
        (
            "A: {to: drive.max_speed, unit: rpm, scale: 0.5, offset: -1}",
            "A,0x10",
            {"drive.max_speed": "7 rpm"},
        ),
        (
            "A: {to: encoder.distinguishable_revolutions, offset: 1}",
            "A,65535",
            {"encoder.distinguishable_revolutions": 65536},
        ),
        (
            "A: {to: drive.polarity, names: {0: normal, 1: reversed}}",
            "A,1",
            {"drive.polarity": "reversed"},
        ),
        (
            "A: {to: drive.polarity, names: {0: normal, 1: reversed}}",
            "A,0x01",
            {"drive.polarity": "reversed"},
        ),
        ("A: {to: drive.polarity, names: {ok: normal}}", "A,ok", {"drive.polarity": "normal"}),
        (
            "A: {to: mechanics.moved_by_gravity, names: {0: false, 1: true}}",
            "A,1",
            {"mechanics.moved_by_gravity": True},
        ),
        ("A: {to: motor.brake, names: {0: none, 1: left_out}}", "A,0", {"motor.brake": "none"}),
        ("A: {to: motor.brake, names: {0: none, 1: left_out}}", "A,1", {}),
        (
            "A: {to: controller.stop.jerk, unit: mm/s^3, none: ['-']}",
            "A,-",
            {"controller.stop.jerk": "none"},
        ),
        ("A: {to: controller.homing.method}", "A,17", {"controller.homing.method": 17}),
        (
            "A: {to: controller.homing.method}",
            "A,current_position",
            {"controller.homing.method": "current_position"},
        ),
        (
            "A: {to: controller.homing.method, names: {a: 5, b: hard_stop_negative}}",
            "A,b",
            {"controller.homing.method": "hard_stop_negative"},
        ),
        ("A: {to: drive.serial}", "A,=1+2", {"drive.serial": "=1+2"}),
        ("A: {to: drive.serial}", 'A,"a ""b"", c"', {"drive.serial": 'a "b", c'}),
        ("A: {to: drive.serial}", "A,", {}),
        (
            "A: {to: controller.homing.taught.on, date: dd.mm.yyyy}",
            "A,3.2.2026",
            {"controller.homing.taught.on": "2026-02-03"},
        ),
        (
            "A: {to: controller.homing.taught.on, date: mm/dd/yyyy}",
            "A,02/03/2026",
            {"controller.homing.taught.on": "2026-02-03"},
        ),
        (
            "A: {to: controller.homing.taught.on}",
            "A,2026-02-03",
            {"controller.homing.taught.on": "2026-02-03"},
        ),
        (
            "A: {to: drive.supported_homing_methods, list: '+'}",
            "A,1+2+37",
            {"drive.supported_homing_methods": [1, 2, 37]},
        ),
        (
            "A: {to: drive.supported_homing_methods, list: ' ', partial: true}",
            "A,1 37",
            {"drive.supported_homing_methods": {"partial": [1, 37]}},
        ),
        (
            "A: {to: controller.software_limits.min, unit: mm, width: 16, signed: true}",
            "A,0xFFD8",
            {"controller.software_limits.min": "-40 mm"},
        ),
        (
            "A: {to: controller.software_limits.min, unit: mm, width: 16, signed: true}",
            "A,-40",
            {"controller.software_limits.min": "-40 mm"},
        ),
        ("A: {to: mechanics.efficiency}", "A,0.85", {"mechanics.efficiency": "0.85"}),
        ("A: {to: mechanics.efficiency, unit: '%'}", "A,85", {"mechanics.efficiency": "85 %"}),
        (
            "A: {to: controller.homing.reference_position, unit: mm, reference_reads: offset}",
            "A,40",
            {"controller.homing.reference_position": "40 mm"},
        ),
        (
            "A: {to: controller.homing.reference_position, unit: mm, "
            "reference_reads: minus_offset}",
            "A,40",
            {"controller.homing.reference_position": "-40 mm"},
        ),
        (
            "A: {to: machine.network.cycle_time, unit: us}",
            "A,500",
            {"network.cycle_time": "500 us"},
        ),
    ],
)
def test_a_cell_becomes_the_fact_the_mapping_says(
    entry: str, row: str, expected: dict[str, Any], tmp_path: Path
) -> None:
    assert by_row(tmp_path, entry, row) == expected


def test_bit_fields_of_one_word_become_several_facts(tmp_path: Path) -> None:
    entry = (
        "A: {bits: [{bits: '0', to: drive.polarity, names: {0: normal, 1: reversed}}, "
        "{bits: 4-5, to: encoder.kind, names: {0: incremental, 1: absolute_singleturn, "
        "2: absolute_multiturn, 3: left_out}}, {bits: 8-15, to: drive.node}, "
        "{bits: '1', ignored: spare}]}"
    )
    found = by_row(tmp_path, entry, f"A,{0b0000_0101_0010_0011}")
    assert found == {
        "drive.polarity": "reversed",
        "encoder.kind": "absolute_multiturn",
        "drive.node": 5,
    }


def test_a_bit_nobody_mapped_is_reported(tmp_path: Path) -> None:
    mapping = f"{ROWS}  A: {{bits: [{{bits: '0', ignored: x}}]}}\n"
    export = import_list(tmp_path, mapping, "Name,Value\nA,0x85\n")
    assert [str(r).split(": ", 1)[1] for r in export.remarks] == [
        "A has bit 2, 7 set, which is not mapped",
        "left out: bit 0 of A (x)",
    ]


def test_packed_words_become_one_number_with_its_sign(tmp_path: Path) -> None:
    entry = "P: {to: drive.node}\n"
    packed = (
        "packed:\n  - {words: [H, L], word_bits: 16, signed: true, unit: um, "
        "to: controller.software_limits.min}\n"
    )
    mapping = f"{ROWS}  {entry}{packed}"
    export = import_list(tmp_path, mapping, "Name,Value\nL,0x63C0\nH,0xFFFF\nP,3\n")
    statement = export.statements["axes", "x", "controller", "software_limits", "min"]
    assert statement.value == "-40000 um"
    assert (statement.place.line, statement.place.column) == (3, 3)
    assert statement.note == "H and L"


def test_the_unit_column_is_taken_and_checked(tmp_path: Path) -> None:
    entries = "A: {to: controller.max_velocity, unit: as_written}\nB: {to: drive.node}"
    found = by_row(tmp_path, entries, "A,300,mm/s\nB,4,", UNITS)
    assert found == {"controller.max_velocity": "300 mm/s", "drive.node": 4}


def test_a_decimal_comma_and_tabs_are_read(tmp_path: Path) -> None:
    mapping = (
        "mapping: 1\nform: csv\ndelimiter: tab\ndecimal: comma\nencoding: latin-1\n"
        "columns: {parameter: Grösse, value: Wert}\n"
        "parameters:\n  Weg: {to: drive.feed_constant.feed, unit: mm}\n"
    )
    export = import_list(tmp_path, mapping, "Grösse\tWert\nWeg\t12,5\n".encode("latin-1"))
    assert facts(export) == {"drive.feed_constant.feed": "12.5 mm"}


def test_rows_above_the_header_are_passed_over_and_columns_may_be_numbered(tmp_path: Path) -> None:
    head = ROWS.replace("form: csv\n", "form: csv\nheader_row: 3\n") + "  A: {to: drive.node}\n"
    for above in ("A list\nprinted today\n", "A list, two cells\n\n", 'A,"list"\n\n\n'):
        found = import_list(tmp_path, head, f"{above}Name,Value\nA,7\n")
        assert facts(found) == {"drive.node": 7}
    bare = ROWS.replace("form: csv\n", "form: csv\nheader_row: 0\n")
    bare = bare.replace("parameter: Name, value: Value", "parameter: '2', value: '3'")
    found = import_list(tmp_path, f"{bare}  A: {{to: drive.node}}\n", "x,A,7\n")
    assert facts(found) == {"drive.node": 7}


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_encodings_and_byte_order_marks_leave_places_right(encoding: str, tmp_path: Path) -> None:
    head = ROWS.replace("form: csv\n", f"form: csv\nencoding: {encoding.removesuffix('-sig')}\n")
    export = import_list(
        tmp_path, f"{head}  Ä: {{to: drive.node}}\n", "Name,Value\r\nÄ,7\r\n".encode(encoding)
    )
    statement = export.statements["axes", "x", "drive", "node"]
    assert (statement.value, statement.place.line, statement.place.column) == (7, 2, 3)
    assert export.line_text(2) == "Ä,7"


def test_text_without_the_mark_that_its_encoding_begins_with_is_refused(tmp_path: Path) -> None:
    head = ROWS.replace("form: csv\n", "form: csv\nencoding: utf-16\n")
    with pytest.raises(InputError, match=r"list\.csv is not utf-16") as caught:
        import_list(tmp_path, head + NODE, b"Name,Value\r\nA,7\r\n")
    assert "another encoding in the mapping" in caught.value.expected


def test_ini_json_and_yaml_lists_state_the_same(tmp_path: Path) -> None:
    for form, text in (
        ("ini", "; said before\n[lift]\nNode = 5\nTurns.Top: 9\n[table]\nNode=6\n"),
        ("json", '{"lift": {"Node": 5, "Turns": {"Top": 9}}, "table": {"Node": "6"}}'),
        ("yaml", "lift: {Node: 5, Turns: {Top: 9}}\ntable: {Node: 6}\n"),
    ):
        mapping = (
            f"mapping: 1\nform: {form}\nsubject: axis\nparameters:\n  Node: {{to: drive.node}}\n"
            "  Turns.Top: {to: encoder.distinguishable_revolutions, offset: 1}\n"
        )
        export = import_list(tmp_path, mapping, text, axis=None, ending=form)
        assert export.plain() == {
            "axes": {
                "lift": {"drive": {"node": 5}, "encoder": {"distinguishable_revolutions": 10}},
                "table": {"drive": {"node": 6}},
            }
        }
        for statement in export.statements.values():
            line = export.line_text(statement.place.line)
            cell = line[statement.place.column - 1 : statement.place.end_column - 1]
            assert cell.strip('"') in ("5", "6", "9")


def test_a_list_about_one_axis_names_parameters_with_their_section(tmp_path: Path) -> None:
    mapping = "mapping: 1\nform: ini\nparameters:\n  Bus.Node: {to: drive.node}\n"
    export = import_list(tmp_path, mapping, "[Bus]\nNode=5\n", ending="ini")
    assert facts(export) == {"drive.node": 5}


def test_unmapped_and_missing_parameters_are_reported(tmp_path: Path) -> None:
    mapping = (
        f"{ROWS}  A: {{to: drive.node}}\n  B: {{to: drive.serial}}\nignored: {{C: free text}}\n"
    )
    export = import_list(tmp_path, mapping, "Name,Value\nA,7\nC,x\nD,y\nD,z\n")
    assert [str(remark).rsplit("list.csv")[-1] for remark in export.remarks] == [
        ":4:3: D is not mapped",
        ":3:3: left out: C (free text)",
        ":1:1: B is mapped and does not occur",
    ]


def test_an_empty_cell_and_a_column_without_purpose_are_reported(tmp_path: Path) -> None:
    mapping = (
        f"{ROWS}  A: {{to: drive.node}}\n  B: {{to: drive.serial}}\n"
        "packed:\n  - {words: [H, L], word_bits: 16, unit: um, "
        "to: controller.software_limits.min}\n"
    )
    text = "Name,Value,Comment,\nA,7,seen,\nB,,read again,x\nH,,,\nL,,,\n"
    export = import_list(tmp_path, mapping, text)
    assert facts(export) == {"drive.node": 7}
    assert [str(remark).rsplit("list.csv")[-1] for remark in export.remarks] == [
        ":1:12: the column Comment is not read",
        ":1:20: the column number 4 is not read",
        ":3:3: B is mapped and empty",
        ":4:3: H and L is mapped and empty",
    ]


def test_what_is_not_mapped_is_counted_beyond_what_is_named(tmp_path: Path) -> None:
    rows = "".join(f"P{number},1\n" for number in range(MAX_REMARKED + 3))
    export = import_list(tmp_path, f"{ROWS}  A: {{to: drive.node}}\n", f"Name,Value\nA,7\n{rows}")
    texts = [remark.text for remark in export.remarks]
    assert texts[:-1] == [f"P{number} is not mapped" for number in range(MAX_REMARKED)]
    assert texts[-1] == "3 further values of parameters that are not mapped"


# Joins ------------------------------------------------------------------------------------------


def test_rows_are_joined_on_the_node_of_the_drive(tmp_path: Path) -> None:
    names = AxisNames()
    names.add_node(5, "lift")
    names.add_node(6, "table")
    mapping = AXES.replace("subject: axis", "subject: node") + "  Plate: {to: encoder.serial}\n"
    export = import_list(tmp_path, mapping, "Axis,Plate\n6,E-2\n5,E-1\n", names=names)
    assert export.plain() == {
        "axes": {"lift": {"encoder": {"serial": "E-1"}}, "table": {"encoder": {"serial": "E-2"}}}
    }


# Rows and numbers in general ---------------------------------------------------------------------

cells = st.lists(st.text('ab," ;\n\r', max_size=5), min_size=1, max_size=5)


@given(st.lists(cells, min_size=1, max_size=4), st.sampled_from([",", ";", "\t"]), st.booleans())
def test_cells_stand_where_the_csv_reader_finds_them(
    rows: list[list[str]], delimiter: str, quote_all: bool
) -> None:
    stream = io.StringIO(newline="")
    quoting = csv.QUOTE_ALL if quote_all else csv.QUOTE_MINIMAL
    csv.writer(stream, delimiter=delimiter, quoting=quoting).writerows(rows)
    raw: list[str] = []

    def kept() -> Iterator[str]:
        for line in io.StringIO(stream.getvalue(), newline=""):
            raw.append(line)
            yield line

    for found in csv.reader(kept(), delimiter=delimiter, strict=True):
        text = "".join(raw)
        raw.clear()
        spans = cell_spans(text, delimiter)
        shown = [text[start:end] for start, end in spans]
        if found:
            plain = [s[1:-1].replace('""', '"') if s.startswith('"') else s for s in shown]
            assert plain == found


@given(random_fractions(-(10**12), 10**12, max_denominator=10**6))
def test_numbers_are_written_exactly(value: Fraction) -> None:
    assert parse_number(exact_text(value))[0] == value


@given(
    st.decimals(
        allow_nan=False, allow_infinity=False, min_value=-(10**9), max_value=10**9, places=6
    )
)
def test_decimal_signs_are_told_apart(value: Any) -> None:
    text = format(value, "f")
    assert read_number(text) == read_fraction(value)
    assert read_number(text.replace(".", ","), comma=True) == read_fraction(value)
    with pytest.raises(NotANumber):
        read_number(text, comma=True)


# Memory -----------------------------------------------------------------------------------------


def peak_of(folder: Path, rows: int) -> tuple[int, int]:
    """Peak of memory in bytes while a list of ``rows`` rows is imported, and facts found."""
    mapping = AXES.replace("row_per_axis", "row_per_parameter")
    mapping = mapping.replace("{subject: Axis}", "{subject: Axis, parameter: Name, value: Value}")
    mapping += "  A: {to: drive.node}\n"
    text = "".join(
        f"axis{n % 20},{'A' if n < 20 else f'P{n % 500}'},{n + 1}\n" for n in range(rows)
    )
    tracemalloc.start()
    export = import_list(folder, mapping, "Axis,Name,Value\n" + text, axis=None)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak - 3 * len(text), len(export.statements)


def test_memory_grows_with_facts_and_not_with_rows(tmp_path: Path) -> None:
    """The text made by the test itself is held thrice (lines, text, bytes) and taken off."""
    peak_of(tmp_path, 100)
    small, found = peak_of(tmp_path, 2_000)
    large, found_again = peak_of(tmp_path, 10_000)
    assert found == found_again == 20
    assert large < small + 200_000
