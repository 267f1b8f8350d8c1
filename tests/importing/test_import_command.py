"""axisproof import: the neutral file, its provenance, and that nothing is lost by writing it."""

from __future__ import annotations

import os
import subprocess
import sys
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from axisproof.authoring.yaml_writing import yaml_lines
from axisproof.base import safe_write
from axisproof.base.errors import UsageError
from axisproof.cli import importing as cli_import
from axisproof.cli import main as cli
from axisproof.machine.reader import load_machine, read_machine
from axisproof.source.files import Source
from axisproof.source.merge import load_tree, same
from axisproof.source.parsing import parse
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples
from tests.importing.device_samples import INTEGER32, Value, device_text, write_device

CELL = Path("fixtures/imports/cell")

DRIVE = device_text(
    {
        0x6080: Value(4500, default=3000),
        0x607F: Value(300),
        0x607C: Value(40, kind=INTEGER32),
        0x6099: {1: Value(0, 0), 2: Value(0, 0)},
    },
    node=None,
)
OPTIONS = [
    "--machine", "Cell", "--axis", "lift", "--motion", "linear", "--position-unit", "0.001 mm",
    "--velocity-unit", "mm/s", "--reference-reads", "minus_offset", "--leave-out", "0x6099",
]  # fmt: skip


def run(*arguments: object) -> int:
    return cli.run([str(argument) for argument in arguments])


def test_the_neutral_file_is_the_same_machine_with_the_origin_of_each_fact(tmp_path: Path) -> None:
    out = tmp_path / "machine.yaml"
    assert run("import", CELL / "project.yaml", "-o", out) == 0
    text = out.read_text()
    assert "max_speed: 4000 rpm # fixtures/imports/cell/lift.dcf, line 220: ParameterValue" in text
    assert "encoder_use: absolute # fixtures/imports/cell/encoders.csv, line 2: Trait bit 5" in text
    from axisproof.importing.project import load_project

    direct = load_project(CELL / "project.yaml").tree
    assert same(load_tree(out).plain, direct.plain)
    ours, theirs = load_machine(out), read_machine(direct)
    for one, two in zip(ours.axes, theirs.axes, strict=True):
        assert one["name"] == two["name"]
        assert one == two
    assert ours.disputes == theirs.disputes


def test_without_output_the_file_goes_to_standard_output(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run("import", CELL / "project.yaml") == 0
    shown = capsys.readouterr()
    assert "machine: Packing cell" in shown.out
    assert "Left out (4):" in shown.err


def test_single_exports_are_imported_with_options(tmp_path: Path) -> None:
    drive = write_device(tmp_path, DRIVE)
    out = tmp_path / "machine.yaml"
    assert run("import", drive, "-o", out, "--node", 9, *OPTIONS) == 0
    lift = load_machine(out).axes[0]
    assert lift["drive.max_speed"] == 75
    assert lift["drive.node"] == 9
    assert lift["controller.max_velocity"] == 300
    assert lift["controller.homing.reference_position"] == Decimal("-0.04")
    assert "controller.homing.search_speed" not in lift


def test_a_list_is_imported_with_its_mapping(tmp_path: Path) -> None:
    out = tmp_path / "machine.yaml"
    facts = tmp_path / "facts.yaml"
    facts.write_text(
        "format: 1\nmachine: Cell\naxes: {LIFT: {motion: linear}, TABLE: {motion: rotary}}\n"
    )
    mapping = CELL / "controller.mapping.yaml"
    assert run("import", facts, CELL / "controller.csv", "--mapping", mapping, "-o", out) == 0
    assert [axis["name"] for axis in load_machine(out).axes] == ["LIFT", "TABLE"]


# Overwriting and atomic writing ------------------------------------------------------------------


def test_nothing_is_overwritten_without_force(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "machine.yaml"
    out.write_text("mine\n")
    for command in (
        ["import", CELL / "project.yaml", "-o"],
        ["init", "--machine", "M", "--axis", "a:linear"],
    ):
        assert run(*command, out) == 2
        assert out.read_text() == "mine\n"
        assert "exists and would be overwritten" in " ".join(capsys.readouterr().err.split())
    assert run("import", CELL / "project.yaml", "-o", out, "--force") == 0
    assert "Packing cell" in out.read_text()
    assert os.listdir(tmp_path) == ["machine.yaml"]


def test_a_source_is_never_overwritten_even_with_force(tmp_path: Path) -> None:
    drive = write_device(tmp_path, DRIVE)
    link = tmp_path / "link.yaml"
    link.symlink_to(drive)
    for out in (drive, link):
        assert run("import", drive, "-o", out, "--force", *OPTIONS) == 2
        assert drive.read_text() == DRIVE


def test_a_failed_write_leaves_what_was_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "machine.yaml"
    out.write_text("mine\n")

    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(safe_write.os, "fsync", full)
    with pytest.raises(UsageError, match=r"machine\.yaml cannot be written: no space left"):
        safe_write.write_file(out, "new\n", force=True)
    assert out.read_text() == "mine\n"
    assert os.listdir(tmp_path) == ["machine.yaml"]


def test_a_file_that_comes_to_be_meanwhile_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "machine.yaml"
    sync = os.fsync

    def meanwhile(handle: int) -> None:
        sync(handle)
        out.write_text("theirs\n")

    monkeypatch.setattr(safe_write.os, "fsync", meanwhile)
    with pytest.raises(UsageError, match="exists"):
        safe_write.write_file(out, "new\n")
    assert out.read_text() == "theirs\n"
    assert os.listdir(tmp_path) == ["machine.yaml"]


def test_a_written_file_has_the_usual_rights(tmp_path: Path) -> None:
    mask = os.umask(0o022)
    try:
        safe_write.write_file(tmp_path / "a", "x")
    finally:
        os.umask(mask)
    assert (tmp_path / "a").stat().st_mode & 0o777 == 0o644
    (tmp_path / "a").chmod(0o600)
    safe_write.write_file(tmp_path / "a", "y", force=True)
    assert (tmp_path / "a").stat().st_mode & 0o777 == 0o600


# Usage -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (
            ["import", "nowhere.dcf", "--machine", "M", "--axis", "a"],
            "there is no file nowhere.dcf",
        ),
        (["import", CELL / "lift.dcf", "--axis", "a"], "the machine has no name"),
        (
            ["import", CELL / "lift.dcf", "--machine", "M", "--motion", "linear"],
            "--motion is about one axis",
        ),
        (["import", CELL / "lift.dcf", "--machine", "M"], "no axis has the node 5"),
        (["import", CELL / "lift.dcf", "--machine", "M", "--axis", "1a"], "not a name for an axis"),
        (["import", CELL / "controller.csv", "--machine", "M"], "needs a mapping file"),
        (["import", CELL / "project.yaml", "--axis", "a"], "says everything itself"),
        (["import", CELL / "project.yaml", CELL / "lift.dcf"], "says everything itself"),
        (["import", CELL / "lift.dcf", "--leave-out", "6099"], "no object index"),
        (
            [
                "import",
                CELL / "lift.dcf",
                "--machine",
                "M",
                "--axis",
                "a",
                "--position-unit",
                "5 kg",
            ],
            "position unit",
        ),
        (
            [
                "import",
                CELL / "lift.dcf",
                "--machine",
                "M",
                "--axis",
                "a",
                "--reference-reads",
                "offset",
            ],
            "lacks 'motion'",
        ),
        (["import", CELL / "lift.dcf", "--machine", "!", "--axis", "a"], "machine's name is !"),
        (["import"], "Missing argument"),
    ],
)
def test_what_cannot_be_done_leaves_with_status_2_and_says_why(
    arguments: list[object], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(*arguments) == 2
    shown = capsys.readouterr()
    assert words in " ".join(shown.err.split())
    assert shown.out == ""


# Progress ----------------------------------------------------------------------------------------


def big_list(folder: Path, rows: int = 10_000) -> tuple[Path, Path]:
    mapping = folder / "m.mapping.yaml"
    mapping.write_text(
        "mapping: 1\nform: csv\nsubject: axis\n"
        "columns: {subject: Axis, parameter: Name, value: Value}\n"
        "parameters:\n  A: {to: drive.node}\n"
    )
    text = "".join(f"axis{n % 50},{'A' if n < 50 else f'P{n}'},{n + 1}\n" for n in range(rows))
    path = folder / "big.csv"
    path.write_text("Axis,Name,Value\n" + text)
    return path, mapping


def test_ten_thousand_rows_are_read_without_a_bar_when_nobody_watches(tmp_path: Path) -> None:
    path, mapping = big_list(tmp_path)
    facts = tmp_path / "facts.yaml"
    axes = ", ".join(f"axis{n}: {{motion: linear}}" for n in range(50))
    facts.write_text(f"format: 1\nmachine: M\naxes: {{{axes}}}\n")
    done = subprocess.run(
        [
            *(sys.executable, "-m", "axisproof", "import", str(facts), str(path)),
            *("--mapping", str(mapping), "-o", str(tmp_path / "out.yaml")),
        ],
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0
    assert "big.csv" not in done.stdout
    assert "Left out (1001)" in done.stderr
    assert "%" not in done.stderr
    assert len(load_machine(tmp_path / "out.yaml").axes) == 50


def test_a_terminal_sees_a_bar_that_reaches_the_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, _ = big_list(tmp_path, 200)
    told: list[int] = []

    class Bar:
        def __init__(self, **options: Any) -> None:
            assert options["length"] == path.stat().st_size
            assert options["file"] is sys.stderr

        def __enter__(self) -> Bar:
            return self

        def __exit__(self, *error: object) -> None:
            told.append(-1)

        def update(self, steps: int) -> None:
            told.append(steps)

    monkeypatch.setattr(cli_import.click, "progressbar", Bar)
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    from axisproof.importing.single_export import ImportOptions, import_files

    with cli_import.ExitStack() as stack:
        import_files(
            [path],
            ImportOptions(machine="M", mapping=tmp_path / "m.mapping.yaml"),
            cli_import._ProgressBars(stack),
        )
    assert told.pop() == -1
    assert sum(told) == path.stat().st_size


# YAML --------------------------------------------------------------------------------------------

texts = st.text(st.characters(exclude_categories=("Cs", "Cn")), max_size=20).filter(
    lambda text: (
        not any((ord(c) < 32 and c not in "\t\n\r") or 0x7F <= ord(c) < 0xA0 for c in text)
        and not any(ord(c) in (0xFFFE, 0xFFFF, 0xFEFF) for c in text)
    )
)
words = st.sampled_from(
    [
        "none",
        "true",
        "10 mm",
        "-40 mm",
        "2/3 mm",
        "7",
        "1e3",
        "on",
        "no",
        "2026-02-03",
        "a: b",
        "x #y",
        "- a",
        "~",
        "9 kg·m²",
    ]
)
scalars = st.one_of(
    texts, words, st.booleans(), st.integers(-(10**12), 10**12),
    st.decimals(allow_nan=False, allow_infinity=False, min_value=-1000, max_value=1000, places=3),
)  # fmt: skip
keys = st.text("abcxyz_0 .:#-", min_size=1, max_size=8)
trees = st.recursive(
    scalars,
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(keys, inner, max_size=3)),
    max_leaves=12,
)


@examples(1.5)
@given(st.dictionaries(keys, trees, min_size=1, max_size=4))
def test_written_yaml_reads_back_as_the_same_values(plain: dict[str, Any]) -> None:
    text = "\n".join(yaml_lines(plain, lambda path: "said # there")) + "\n"
    assert same(parse(Source(Path("x.yaml"), "x.yaml", text, "yaml")), plain)
