"""Parameter lists that are not as mapped: refused in their cell."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.base.errors import InputError
from axisproof.importing.axis_names import AxisNames

from tests.importing.list_exports import AXES, NODE, ROWS, UNITS, import_list

SPEED = "  A: {to: drive.max_speed, unit: rpm}\n"
BIT = "  A: {bits: [{bits: '0', to: drive.polarity, names: {0: normal, 1: reversed}}]}\n"
HL = "packed: [{words: [H, L], word_bits: 16, to: drive.gear_ratio.motor_turns}]\n"

CASES: list[tuple[str, str, str, int, int, str]] = [
    # name, mapping, list, line, column, words
    ("a shifted column", ROWS + NODE, "Name,Value\nA,7\nB,,7\n", 3, 4, "3 cells"),
    ("a short row", ROWS + NODE, "Name,Value\nA\n", 2, 2, "1 cells"),
    (
        "two rows for one parameter",
        ROWS + NODE,
        "Name,Value\nA,7\nB,1\nA,7\n",
        4,
        3,
        "stated twice, first on line 2",
    ),
    (
        "two rows for one axis",
        AXES + NODE,
        "Axis,A\nx,7\nx,8\n",
        3,
        3,
        "stated twice, first on line 2",
    ),
    ("no such column", ROWS + NODE, "Nam,Value\nA,7\n", 1, 1, "Perhaps 'Nam'"),
    ("a column named twice", ROWS + NODE, "Name,Value,Value\nA,7,8\n", 1, 12, "stands twice"),
    ("an empty list", ROWS + NODE, "\n\n", 1, 1, "no header row"),
    ("no parameter in a row", ROWS + NODE, "Name,Value\n,7\n", 2, 1, "names no parameter"),
    ("no axis in a row", AXES + NODE, "Axis,A\n,7\n", 2, 1, "names no axis"),
    ("an unknown axis", AXES + NODE, "Axis,A\nlifd,7\n", 2, 1, "perhaps 'lift'"),
    (
        "an unknown node",
        AXES.replace("subject: axis", "subject: node") + NODE,
        "Axis,A\n9,7\n",
        2,
        1,
        "one of 5 (lift)",
    ),
    ("a text where a number is due", ROWS + NODE, "Name,Value\nA,seven\n", 2, 3, "is no number"),
    ("a formula", ROWS + NODE, "Name,Value\nA,=3+4\n", 2, 3, "'=3+4', which is no number"),
    ("a decimal comma", ROWS + SPEED, 'Name,Value\nA,"7,5"\n', 2, 3, "decimal point"),
    ("a digit group", ROWS + SPEED, "Name,Value\nA,1'000\n", 2, 3, "is no number"),
    ("half a digit group", ROWS + SPEED, 'Name,Value\nA,"1 00"\n', 2, 3, "is no number"),
    ("endless digits", ROWS + SPEED, f"Name,Value\nA,{'9' * 60}\n", 2, 3, "60 digits"),
    ("a huge exponent", ROWS + SPEED, "Name,Value\nA,1e999999\n", 2, 3, "exponent"),
    (
        "half a turn",
        ROWS + "  A: {to: drive.gear_ratio.motor_turns, scale: 1/2}\n",
        "Name,Value\nA,7\n",
        2,
        3,
        "3.5",
    ),
    ("a value the fact cannot hold", ROWS + NODE, "Name,Value\nA,0\n", 2, 3, "drive.node is 0"),
    ("a negative speed", ROWS + SPEED, "Name,Value\nA,-5\n", 2, 3, "negative"),
    (
        "an unknown enumeration number",
        ROWS + "  A: {to: drive.polarity, names: {0: normal}}\n",
        "Name,Value\nA,3\n",
        2,
        3,
        "does not name",
    ),
    ("bits of a text", ROWS + BIT, "Name,Value\nA,on\n", 2, 3, "whose bits are read"),
    ("bits of a fraction", ROWS + BIT, "Name,Value\nA,1.5\n", 2, 3, "bits cannot be read"),
    ("bits of a negative number", ROWS + BIT, "Name,Value\nA,-1\n", 2, 3, "bits cannot be read"),
    (
        "no unit",
        UNITS + "  A: {to: drive.max_speed, unit: as_written}\n",
        "Name,Value,Unit\nA,7,\n",
        2,
        5,
        "without a unit",
    ),
    (
        "an unknown unit",
        UNITS + "  A: {to: drive.max_speed, unit: as_written}\n",
        "Name,Value,Unit\nA,7,rmp\n",
        2,
        5,
        "perhaps 'rpm'",
    ),
    (
        "a unit of another kind",
        UNITS + "  A: {to: drive.max_speed, unit: as_written}\n",
        "Name,Value,Unit\nA,7,mm\n",
        2,
        5,
        "'mm'",
    ),
    ("another unit than mapped", UNITS + SPEED, "Name,Value,Unit\nA,7,deg/s\n", 2, 5, "rpm, as"),
    (
        "a day no calendar has",
        ROWS + "  A: {to: controller.homing.taught.on, date: dd.mm.yyyy}\n",
        "Name,Value\nA,31.02.2026\n",
        2,
        3,
        "no calendar",
    ),
    (
        "a day in another order",
        ROWS + "  A: {to: controller.homing.taught.on, date: dd.mm.yyyy}\n",
        "Name,Value\nA,2026-02-03\n",
        2,
        3,
        "dd.mm.yyyy",
    ),
    ("half of packed words", ROWS + NODE + HL, "Name,Value\nH,1\n", 2, 3, "without L"),
    (
        "a packed word too large",
        ROWS + NODE + HL,
        "Name,Value\nH,1\nL,65536\n",
        3,
        3,
        "16 bits cannot hold",
    ),
    (
        "a required parameter that lacks",
        AXES + "  A: {to: drive.node, required: true}\n",
        "Axis,B\nlift,1\n",
        2,
        1,
        "lift has no A",
    ),
    (
        "a number wider than stated",
        ROWS + "  A: {to: drive.node, width: 8}\n",
        "Name,Value\nA,256\n",
        2,
        3,
        "8 bits cannot hold",
    ),
    ("an open quote", ROWS + NODE, 'Name,Value\nA,"7\nB,8\n', 2, 1, "quotes are closed"),
    ("text after a quote", ROWS + NODE, 'Name,Value\nA,"7"x\n', 2, 1, "quotes are closed"),
    (
        "a control character",
        ROWS + "  A: {to: drive.serial}\n",
        "Name,Value\nA,\x1b[2J\n",
        2,
        3,
        "U+001B",
    ),
    ("a name no axis can have", AXES + NODE, "Axis,A\n1 lift,7\n", 2, 1, "lift"),
    ("a wrong encoding", ROWS + NODE, "Name,Value\nA,7\nB,caf\udce9\n", 3, 6, "not utf-8"),
    ("a list that names no axis", ROWS + NODE, "Name,Value\nA,7\n", 2, 3, "which axis it is about"),
]


@pytest.mark.parametrize(
    ("mapping", "text", "line", "column", "what"), [c[1:] for c in CASES], ids=[c[0] for c in CASES]
)
def test_a_bad_list_is_refused_in_its_cell(
    mapping: str, text: str, line: int, column: int, what: str, tmp_path: Path
) -> None:
    names = AxisNames(closed="lift" in what)
    if names.closed:
        names.names["lift"] = None
    names.add_node(5, "lift")
    axis = None if "which axis" in what else "x"
    with pytest.raises(InputError) as caught:
        import_list(
            tmp_path, mapping, text.encode(errors="surrogateescape"), names=names, axis=axis
        )
    error = caught.value
    assert what in str(error)
    assert error.place is not None
    assert error.place.file == (tmp_path / "list.csv").as_posix()
    assert (error.place.line, error.place.column) == (line, column)
    assert error.source_line is not None


@pytest.mark.parametrize(
    ("form", "text", "line", "what"),
    [
        ("json", '{"a": [1]}', 1, "is a list"),
        ("json", "[1]", 1, "no parameters"),
        ("json", '{"a": 1', 1, "is not closed"),
        ("yaml", "just words\n", 1, "no parameters"),
        ("yaml", "a: 1\na: 2\n", 2, "stands twice"),
        ("ini", "a\n", 1, "neither a section nor an entry"),
    ],
)
def test_a_bad_list_of_another_form_is_refused(
    form: str, text: str, line: int, what: str, tmp_path: Path
) -> None:
    mapping = f"mapping: 1\nform: {form}\nparameters:\n  A: {{to: drive.node}}\n"
    with pytest.raises(InputError, match=what) as caught:
        import_list(tmp_path, mapping, text, ending=form)
    assert caught.value.place is not None
    assert caught.value.place.line == line
