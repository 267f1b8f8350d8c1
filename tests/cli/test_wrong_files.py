"""Files that somebody gives by mistake: the message names the place, what it is, and what to do."""

from __future__ import annotations

import os
import shlex
from pathlib import Path

import pytest
from axisproof.cli import main as cli

HEAD = b"format: 1\nmachine: m\naxes:\n  a:\n    motion: linear\n"
LIST = b"No.;Parameter;Value\nF1;Rated speed;3000\n"
POINTER = b"version https://git-lfs.github.com/spec/v1\noid sha256:0\nsize 1\n"
FILES = {
    "list.csv": LIST,
    "drive.xdd": b"<ISO15745ProfileContainer/>\n",
    "page.xml": b"<html/>\n",
    "lists.zip": b"PK\x03\x04" + bytes(26),
    "pointer.csv": POINTER,
    "open_quote.csv": LIST + b'F2;"Rated torque;4\n',
    "one_column.txt": b"nothing\n",
    "two.yaml": HEAD + b"---\n" + HEAD,
    "comma.yaml": HEAD + "    motor: {rated_torque: 1,5 N·m}\n".encode(),
    "spaces.yaml": HEAD.replace(b"    motion", "\u00a0\u00a0motion".encode()),
    "machine.yaml": HEAD,
    "word.yaml": b"hello\n",
    "list.yaml": HEAD.replace(b"linear", b"round"),
    "quoted.yaml": HEAD.replace(b" 1", b" '1'"),
    "project.yaml": b"project: 1\nmachine: m\nsources: [list.csv]\n",
    "settings.yaml": b"settings: {}\nother: 1\n",
    "empty_waivers.yaml": b"$schema: x\n",
}
CASES = [
    ("check list.csv", "list.csv:1:1: the file is a parameter list, and no machine", "match"),
    ("ask list.csv", "list.csv:1:1: the file is a parameter list, and no machine", "import"),
    ("check drive.xdd", "drive.xdd:1:1: the file is a device file, and no", "axisproof import"),
    ("show page.xml", "page.xml:1:1: the file is XML, and no machine file", "a machine file"),
    ("check lists.zip", "lists.zip:1:1: the file is a zip file, and no", "lists.zip/list.csv"),
    ("match lists.zip", "lists.zip:1:1: the file is a zip file", "lists.zip/list.csv"),
    ("import lists.zip --machine m", "lists.zip:1:1: the file is a zip file", "lists.zip/list.csv"),
    ("check pointer.csv", "pointer.csv:1:1: the file is a pointer of git's", "fetched"),
    ("match pointer.csv", "pointer.csv:1:1: the file is a pointer of git's", "fetched"),
    ("match open_quote.csv", "open_quote.csv:3:1: the row cannot be read", "quotes are closed"),
    ("match one_column.txt", "one_column.txt:1:1: the list has no columns", "rows of cells"),
    ("match drive.xdd", "drive.xdd is a device file, which needs no mapping", "axisproof import"),
    ("check two.yaml", "two.yaml:6:1: a second document begins here", "one document"),
    ("check comma.yaml", "comma.yaml:6:29: a comma ends the value", "a point in a number"),
    ("check spaces.yaml", "spaces.yaml:5:1: a space of another kind (U+00A0)", "ordinary spaces"),
    ("check project.yaml", "project.yaml:3:11: sources[0] is 'list.csv'", "keys facts, device"),
    ("check machine.yaml --waivers machine.yaml", "machine.yaml:1:1: the file is a ", "waiver"),
    ("check machine.yaml --settings machine.yaml", "machine.yaml:1:1: the file is a ", "settings"),
    ("check machine.yaml --settings settings.yaml", "settings.yaml:2:1: other is not", "levels"),
    ("check machine.yaml --waivers empty_waivers.yaml", "empty_waivers.yaml:1:1", "waivers: 1"),
    ("import word.yaml", "word.yaml:1:1: the file is the text 'hello'", "a record with facts"),
    ("import quoted.yaml", "quoted.yaml:1:9: format is the text '1'", "1"),
    ("match list.csv --machine word.yaml --axis a", "word.yaml:1:1: the file is the", "record"),
    ("init - --machine m --from list.yaml", "list.yaml:5:13: axes.a.motion is 'round'", "linear"),
    ("match -", "a list has a name and an ending, which standard input lacks", "by its name"),
    ("import - --machine m", "an export has a name and an ending, which", "an export or a project"),
    ("import folder --machine m", "folder is a folder", "an export or a project file"),
    ("ask loop.yaml", "loop.yaml leads in a circle of links", "a file"),
    ("check machine.yaml --rules loop.yaml", "loop.yaml leads in a circle of links", "a file"),
]  # fmt: skip


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the files, a folder, and two links that lead to each other."""
    path = tmp_path_factory.mktemp("wrong")
    for name, data in FILES.items():
        (path / name).write_bytes(data)
    (path / "folder").mkdir()
    (path / "loop.yaml").symlink_to("pool.yaml")
    (path / "pool.yaml").symlink_to("loop.yaml")
    return path


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
@pytest.mark.parametrize(("command", "what", "expected"), CASES, ids=[case[0] for case in CASES])
def test_the_message_says_what_the_file_is(
    folder: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    command: str,
    what: str,
    expected: str,
) -> None:
    monkeypatch.chdir(folder)
    assert cli.run(shlex.split(command)) == 2
    told = " ".join(capsys.readouterr().err.split())
    place, _, words = what.rpartition(": ") if ": " in what else ("", "", what)
    assert words in told
    assert f"in {place} " in told if place else True
    assert told.count("Unusable input") <= 1
    assert expected in told.partition("expected:")[2]
