"""Exports in a zip file: read like files in a folder, bounded, and refused with one clear error."""

from __future__ import annotations

import shutil
import struct
import subprocess
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import InputError
from axisproof.cli import main as cli
from axisproof.importing import archive as archives
from axisproof.importing.device_reader import is_device_file, read_device
from axisproof.importing.list_form import ListForm
from axisproof.importing.rows import export_rows
from axisproof.importing.single_export import ImportOptions
from axisproof.source.limits import MAX_BYTES

from tests.importing.device_samples import Value, device_text, esi_text

CELL = Path("fixtures/imports/cell")
FORM = ListForm("csv", columns={"parameter": "A", "value": "B"})


def packed(folder: Path, files: dict[str, bytes], method: int = zipfile.ZIP_DEFLATED) -> Path:
    path = folder / "backup.zip"
    with zipfile.ZipFile(path, "w", method) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return path


def test_a_project_may_name_files_in_a_zip(tmp_path: Path) -> None:
    plain, zipped = tmp_path / "plain", tmp_path / "zipped"
    for folder in (plain, zipped):
        shutil.copytree(CELL, folder)
    moved = ("lift.dcf", "index_table.dcf", "controller.csv", "encoders.csv")
    packed(zipped, {f"of/{name}": (zipped / name).read_bytes() for name in moved})
    project = (zipped / "project.yaml").read_text()
    for name in moved:
        (zipped / name).unlink()
        project = project.replace(f" {name}", f" backup.zip/of/{name}")
    (zipped / "project.yaml").write_text(project)
    one, two = (
        api.import_([folder / "project.yaml"], ImportOptions()).tree for folder in (plain, zipped)
    )

    def told(text: object, folder: Path) -> str:
        return str(text).replace(str(folder), "").replace("backup.zip/of/", "")

    assert told(one.plain, plain) == told(two.plain, zipped)
    assert (zipped / "backup.zip/of/lift.dcf").as_posix() in {each.name for each in two.sources}


@pytest.mark.parametrize("codec", ["utf-8", "utf-16", "cp1252"])
def test_a_list_in_a_zip_keeps_its_places(codec: str, tmp_path: Path) -> None:
    path = packed(tmp_path, {"lists/a.csv": 'A,B\r\n"Größe\n",7\r\n'.encode(codec)})
    form = ListForm("csv", codec, columns=FORM.columns)
    (row,) = export_rows(path / "lists/a.csv", form)
    assert (row.parameter, row.text) == ("Größe", "7")
    assert str(row.place) == f"{(path / 'lists/a.csv').as_posix()}:3:3"


def test_device_files_in_a_zip(tmp_path: Path) -> None:
    objects = {0x6080: Value(3000)}
    files = {"a.dcf": device_text(objects), "b.xml": esi_text({}), "c.xml": "<List/>"}
    path = packed(tmp_path, {name: text.encode() for name, text in files.items()})
    assert read_device(path / "a.dcf").values[0x6080, 0].value == 3000
    assert is_device_file(path / "b.xml")
    assert not is_device_file(path / "c.xml")


# What is refused ---------------------------------------------------------------------------------


def rows_of(path: Path) -> None:
    list(export_rows(path, FORM))


def test_a_file_that_an_archive_does_not_hold(tmp_path: Path) -> None:
    path = packed(tmp_path, {"a.csv": b"A,B\n"})
    with pytest.raises(InputError, match="holds no file b") as caught:
        rows_of(path / "b.csv")
    assert "one of a.csv" in caught.value.expected


def test_an_archive_that_unpacks_without_end(tmp_path: Path) -> None:
    bomb = packed(tmp_path, {"a.csv": bytes(MAX_BYTES + 1)})
    assert bomb.stat().st_size < MAX_BYTES // 100
    with pytest.raises(InputError, match="larger than 64 MiB"):
        rows_of(bomb / "a.csv")


def test_a_size_that_an_archive_only_claims_is_not_believed(tmp_path: Path) -> None:
    path = packed(tmp_path, {"a.csv": b"A,B\nx,7\n" + b"y,1\n" * 2000}, zipfile.ZIP_STORED)
    data = bytearray(path.read_bytes())
    real = struct.pack("<I", 8 + 4 * 2000)
    data = bytearray(bytes(data).replace(real, struct.pack("<I", 8)))
    path.write_bytes(data)
    with pytest.raises(InputError, match="cannot be read as a zip file"):
        rows_of(path / "a.csv")


def cut(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-30])


def spoilt(path: Path) -> None:
    data = bytearray(path.read_bytes())
    at = data.index(b"a.csv") + 8
    data[at : at + 4] = b"\xff\xff\xff\xff"
    path.write_bytes(data)


def locked(path: Path) -> None:
    data = bytearray(path.read_bytes())
    for mark, flag in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        data[data.index(mark) + flag] |= 1
    path.write_bytes(data)


def unknown_method(path: Path) -> None:
    data = bytearray(path.read_bytes())
    for mark, method in ((b"PK\x03\x04", 8), (b"PK\x01\x02", 10)):
        data[data.index(mark) + method] = 77
    path.write_bytes(data)


def emptied(path: Path) -> None:
    path.write_bytes(b"")


@pytest.mark.parametrize("spoil", [cut, spoilt, locked, unknown_method, emptied])
def test_a_broken_archive_is_one_clear_error(spoil: Callable[[Path], None], tmp_path: Path) -> None:
    path = packed(tmp_path, {"a.csv": b"A,B\n" + b"x,7\n" * 400})
    spoil(path)
    with pytest.raises(InputError) as caught:
        rows_of(path / "a.csv")
    assert "backup.zip" in caught.value.what
    assert caught.value.expected


def test_an_empty_file_in_an_archive(tmp_path: Path) -> None:
    path = packed(tmp_path, {"a.csv": b""})
    with pytest.raises(InputError, match="is empty"):
        rows_of(path / "a.csv")


def test_an_archive_of_too_many_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(archives, "MAX_MEMBERS", 2)
    path = packed(tmp_path, {f"{number}.csv": b"A,B\n" for number in range(3)})
    with pytest.raises(InputError, match="holds more than 2 files"):
        rows_of(path / "0.csv")


def test_a_folder_whose_name_ends_in_zip_is_a_folder(tmp_path: Path) -> None:
    (tmp_path / "old.zip").mkdir()
    (tmp_path / "old.zip/a.csv").write_text("A,B\nx,7\n")
    (row,) = export_rows(tmp_path / "old.zip/a.csv", FORM)
    assert row.text == "7"


@pytest.mark.parametrize("entry", ["backup.zip/none.csv", "../backup.zip/a.csv", "/backup.zip/a"])
def test_a_project_that_names_what_is_not_there_is_told_where(entry: str, tmp_path: Path) -> None:
    folder = tmp_path / "machine"
    folder.mkdir()
    for place in (folder, tmp_path):
        packed(place, {"a.csv": b"A,B\n"})
    (folder / "m.yaml").write_text(
        "mapping: 1\nform: csv\ncolumns: {parameter: A, value: B}\n"
        "parameters: {A: {to: drive.node}}\n"
    )
    project = folder / "project.yaml"
    project.write_text(
        f"project: 1\nmachine: M\nsources:\n  - {{table: {entry}, mapping: m.yaml}}\n"
    )
    with pytest.raises(InputError) as caught:
        api.import_([project], ImportOptions())
    assert str(caught.value.place).endswith("project.yaml:4:13")


def test_a_revision_brings_the_archive_that_a_project_names(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(CELL, tmp_path / "cell")
    folder = tmp_path / "cell"
    packed(folder, {"lift.dcf": (folder / "lift.dcf").read_bytes()})
    (folder / "lift.dcf").unlink()
    project = (folder / "project.yaml").read_text()
    (folder / "project.yaml").write_text(project.replace(" lift.dcf", " backup.zip/lift.dcf"))
    git = ["git", "-c", "user.name=us", "-c", "user.email=us@example.invalid"]
    for command in (["init", "-q"], ["add", "."], ["commit", "-q", "-m", "a"]):
        subprocess.run([*git, *command], cwd=folder, check=True)
    monkeypatch.chdir(folder)
    assert cli.run(["changes", "HEAD:project.yaml", "project.yaml"]) == 0
    assert "Still there: 2 errors" in capsys.readouterr().out
