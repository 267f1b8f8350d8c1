"""Each error of a file says where it is as ``path:line:column``; standard input; names."""

from __future__ import annotations

import io
import json
import re
import sys
from pathlib import Path

import jsonschema
import pytest
from axisproof import api
from axisproof.base.errors import InputError
from axisproof.cli import main as cli
from axisproof.machine.names import AXIS_NAME, MACHINE_NAME
from axisproof.source.files import Source
from axisproof.source.parsing import parse

from tests.captured import Captured

ROOT = Path(__file__).parents[2]
MACHINE = "format: 1\nmachine: m\naxes: {a: {motion: linear}}\n"
LFS = "version https://git-lfs.github.com/spec/v1\noid sha256:0\nsize 1\n"

Bytes = pytest.CaptureFixture[bytes]

PLATE = "format: 1\npart: motor\nmotor: {model: BM80, serial: M-1}\n"

BAD: dict[str, tuple[str, bytes | str, str, str]] = {
    # name of the case: file, content, command, place
    "yaml": ("m.yaml", "format: 1\nmachine: [\n", "check m.yaml", "m.yaml:2:10"),
    "json": ("m.json", '{"format": 1,}', "check m.json", "m.json:1:13"),
    "fact": ("m.yaml", MACHINE + "x: 1\n", "check m.yaml", "m.yaml:4:1"),
    "utf-16": ("m.yaml", MACHINE.encode("utf-16"), "check m.yaml", "m.yaml:1:1"),
    "latin-1": ("m.yaml", b"format: 1\nmachine: \xe9\n", "check m.yaml", "m.yaml:2:10"),
    "control": ("m.yaml", "format: 1\nmachine: \x07\n", "check m.yaml", "m.yaml:2:10"),
    "empty": ("m.yaml", "", "check m.yaml", "m.yaml:1:1"),
    "pointer": ("m.yaml", LFS, "check .", "m.yaml:1:1"),
    "slip": ("m.yaml", "fromat: 1\nmachine: m\n", "check .", "m.yaml:1:1"),
    "slip alone": ("m.json", '{"fromat": 1, "other": 2}', "check .", "m.json:1:1"),
    "include": ("m.yaml", MACHINE + "include: [no.yaml]\n", "check m.yaml", "m.yaml:4:11"),
    "project": ("p.yaml", "project: 1\nmachine: m\nsources: 3\n", "check p.yaml", "p.yaml:3:10"),
    "site": ("axisproof.yaml", "axisproof: 1\ncache: x\n", "check .", "axisproof.yaml:2:1"),
    "settings": ("s.yaml", "settings: {x: 1}\n", "check ok/ --settings s.yaml", "s.yaml:1:15"),
    "waivers": ("w.yaml", "waivers: 2\n", "check ok/ --waivers w.yaml", "w.yaml:1:1"),
    "accepted": ("a.yaml", "accepted: 1\nx: 2\n", "check ok/ --accepted a.yaml", "a.yaml:1:1"),
    "rules": (
        "r.rules",
        "language 2\nrule x\n  level bad\n",
        "check ok/ --rules r.rules",
        "r.rules:2:6",
    ),
    "bytes of rules": ("r.rules", b"# \xe9\n", "check ok/ --rules r.rules", "r.rules:1:3"),
    "mapping": (
        "m.yaml",
        "mapping: 1\nform: pdf\n",
        "import --machine m --axis a --motion linear --mapping m.yaml ok/list.csv",
        "m.yaml:2:7",
    ),
    "device": ("d.dcf", "[FileInfo]\nx\n", "import --machine m --axis a d.dcf", "d.dcf:2:1"),
    "plate": ("plates/p.yaml", PLATE, "check ok/m.yaml --shelf plates", "plates/p.yaml:3:22"),
    "shelf": (
        *("axisproof.yaml", "axisproof: 1\nshelf: ok/m.yaml\n", "check ."),
        "axisproof.yaml:2:8",
    ),
    "part": (
        "part.yaml",
        "format: 1\npart: motor\nmotor: 3\n",
        "spare ok/m.yaml --axis a --part motor part.yaml",
        "part.yaml:3:8",
    ),
    "no record": ("r.json", "{}", "merge r.json", "r.json:1:1"),
    "cut record": ("r.json", '{"axisproof_record":5,\n"dig', "merge r.json", "r.json:2:1"),
    "bytes of a record": ("r.json", b'{\n"a":"\xff"}', "merge r.json", "r.json:2:6"),
    "record of others": ("r.json", '{"axisproof_record":4}', "merge r.json", "r.json:1:1"),
    "damaged record": ("r.json", '{"axisproof_record":5}', "merge r.json", "r.json:1:1"),
}


@pytest.mark.parametrize("case", BAD)
def test_each_error_says_where_it_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured, case: str
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("ok").mkdir()
    Path("ok/m.yaml").write_text(MACHINE, "utf-8")
    Path("ok/list.csv").write_text("a,1\n", "utf-8")
    file, content, command, place = BAD[case]
    Path(file).parent.mkdir(exist_ok=True)
    Path(file).write_bytes(content if isinstance(content, bytes) else content.encode())
    assert cli.run(command.split()) == 2
    told = capsys.readouterr()
    text = told.out + told.err
    assert re.search(rf"(^|\s){re.escape(place)}\b", text), text
    assert "Unforeseen" not in text
    assert f"{file}, line" not in text


# Standard input -----------------------------------------------------------------------------------


def feed(monkeypatch: pytest.MonkeyPatch, data: bytes) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data)))


def test_standard_input_is_checked_like_a_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    monkeypatch.chdir(tmp_path)
    bad = ROOT / "fixtures" / "faults" / "brake-holds-load.yaml"
    Path("b.yaml").write_bytes(bad.read_bytes())
    outcomes = []
    for path in ("b.yaml", "-"):
        feed(monkeypatch, bad.read_bytes())
        status = cli.run(["check", path, "--format", "lines", "--on", "2026-03-02"])
        outcomes.append((status, capsys.readouterr().out.replace("b.yaml:", "-:")))
    assert outcomes[0] == outcomes[1]
    assert outcomes[0][0] == 1


@pytest.mark.parametrize(
    ("data", "place"),
    [
        (b"format: 1\nmachine: \xe9\n", "-:2:10"),
        (b"", "-:1:1"),
        (b'\n{"format": 1,}', "-:2:13"),
        (MACHINE.encode() + b"x: 1\n", "-:4:1"),
    ],
)
def test_errors_in_standard_input_have_places(
    monkeypatch: pytest.MonkeyPatch, capsys: Captured, data: bytes, place: str
) -> None:
    feed(monkeypatch, data)
    assert cli.run(["check", "-"]) == 2
    assert re.search(rf"in {re.escape(place)}\b", capsys.readouterr().err)


COMMANDS = {
    "show": "show {}",
    "spare": "spare {} --axis AXIS --part motor --format json fixtures/spares/motor_too_weak.yaml",
    "recalibrate": "recalibrate {} --axis AXIS --true 10mm --indicated 9mm --after nothing",
    "init": "init - --from {}",
}


@pytest.mark.parametrize("name", COMMANDS)
def test_commands_that_read_one_machine_file_take_standard_input(
    monkeypatch: pytest.MonkeyPatch, capsys: Captured, name: str
) -> None:
    monkeypatch.chdir(ROOT)
    whole = next((ROOT / "fixtures" / "sound").glob("feeder.yaml"))
    axis = re.findall(r"(?m)^  (\w+):\n    motion: linear", whole.read_text("utf-8"))[0]
    outcomes = []
    for path in (str(whole), "-"):
        feed(monkeypatch, whole.read_bytes())
        status = cli.run(COMMANDS[name].format(path).replace("AXIS", axis).split())
        told = capsys.readouterr().out.replace(str(whole), "-")
        outcomes.append((status, sorted(re.sub(r"[─#]", "", told).split())))
    assert outcomes[0] == outcomes[1]
    assert outcomes[0][0] in (0, 1)
    assert len(outcomes[0][1]) > 20


@pytest.mark.parametrize("ending", [".yaml", ".json"])
def test_fix_takes_standard_input_and_prints_the_corrected_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsysbinary: Bytes, ending: str
) -> None:
    monkeypatch.chdir(tmp_path)
    faulty = (ROOT / "fixtures" / "faults" / "ratio-as-exact-as-on-record.yaml").read_bytes()
    if ending == ".json":
        plain = parse(Source(Path("m"), "m", faulty.decode(), "yaml"))
        faulty = json.dumps(plain, indent=1, default=float, ensure_ascii=False).encode()
    file = Path(f"m{ending}")
    file.write_bytes(faulty)
    assert cli.run(["fix", str(file), "--yes"]) == 0
    capsysbinary.readouterr()
    feed(monkeypatch, faulty)
    assert cli.run(["fix", "-"]) == 1
    told = capsysbinary.readouterr()
    assert told.out == b""
    assert b"+++ - (corrected)" in told.err
    assert b"--yes prints the corrected file" in told.err
    feed(monkeypatch, faulty)
    assert cli.run(["fix", "-", "--yes"]) == 0
    assert capsysbinary.readouterr().out == file.read_bytes() != faulty
    feed(monkeypatch, file.read_bytes())
    assert cli.run(["fix", "-", "--yes"]) == 0
    told = capsysbinary.readouterr()
    assert (told.out, told.err) == (file.read_bytes(), b"There is no value to write.\n")
    feed(monkeypatch, faulty)
    assert cli.run(["fix", "-", str(file)]) == 2
    assert b"corrected by itself" in capsysbinary.readouterr().err
    assert cli.run(["check", "-", "--fix", "--yes"]) == 2
    assert b"no file that --fix could write" in capsysbinary.readouterr().err


@pytest.mark.parametrize("paths", [["-", "new.yaml"], ["old.yaml", "-"]])
def test_changes_takes_standard_input_as_one_version(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured, paths: list[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    old, new = ROOT / "fixtures/sound/feeder.yaml", Path("new.yaml")
    Path("old.yaml").write_bytes(old.read_bytes())
    new.write_bytes(old.read_bytes().replace(b"max_velocity: 500 mm/s", b"max_velocity: 400 mm/s"))
    feed(monkeypatch, Path("old.yaml" if paths[0] == "-" else "new.yaml").read_bytes())
    outcomes = []
    for each in (["old.yaml", "new.yaml"], paths):
        status = cli.run(["changes", *each])
        outcomes.append((status, capsys.readouterr().out))
    known = {"-": "old.yaml" if paths[0] == "-" else "new.yaml"}
    told = re.sub(r"(?<![\w.-])-(?=[:, ]|$)", known["-"], outcomes[1][1], flags=re.MULTILINE)
    assert outcomes[0][0] == outcomes[1][0]
    assert "max_velocity" in told
    feed(monkeypatch, b"")
    assert cli.run(["changes", "-", "-"]) == 2
    assert "only once" in capsys.readouterr().err


def test_what_a_site_file_loosens_is_not_compared_with_standard_input(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("axisproof.yaml").write_text("axisproof: 1\n", "utf-8")
    Path("m.yaml").write_text(MACHINE, "utf-8")
    feed(monkeypatch, MACHINE.encode())
    cli.run(["changes", "-", "m.yaml"])
    told = " ".join(capsys.readouterr().out.split())
    assert "The old version comes from standard input. So nobody compared what" in told


def test_standard_input_is_machine_or_spare_and_not_both(
    monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    feed(monkeypatch, MACHINE.encode())
    assert cli.run(["spare", "-", "--axis", "a", "--part", "motor", "-"]) == 2
    assert "only once" in capsys.readouterr().err


@pytest.mark.parametrize("extra", [["--watch"], ["--shard", "1/2"], ["--record", "r"]])
def test_standard_input_is_read_once(
    monkeypatch: pytest.MonkeyPatch, capsys: Captured, extra: list[str]
) -> None:
    feed(monkeypatch, MACHINE.encode())
    assert cli.run(["check", "-", *extra]) == 2
    assert "only once" in capsys.readouterr().err


# Names in any letters -----------------------------------------------------------------------------

NAMES = ("Förderer", "Подъём", "昇降", "αξονας", "lift-2", "खण्ड", "محور", "ő_1")
NO_NAMES = (
    "",
    "2a",
    "-a",
    "a b",
    "a.b",
    "a\u202eb",
    "a\u200db",
    "\u3000a",
    "a\u061c",
    "a\n",
    "a/b",
)


@pytest.mark.parametrize("name", NAMES)
def test_machines_and_axes_have_names_in_any_letters(tmp_path: Path, name: str) -> None:
    path = tmp_path / "m.yaml"
    path.write_text(f"format: 1\nmachine: {name}\naxes: {{{name}: {{motion: linear}}}}\n", "utf-8")
    report = api.check([path], api.CheckOptions(every_outcome=True))
    assert report.machines == (name,)
    assert {each.subject for each in report.outcomes} - {""} == {name}
    assert api.show(path, [name])
    assert name in api.starter(name, {name: "screw"})
    text = (ROOT / "schemas" / "machine.schema.json").read_text("utf-8")
    plain = {"format": 1, "machine": name, "axes": {name: {"motion": "linear"}}}
    jsonschema.Draft202012Validator(json.loads(text)).validate(plain)


@pytest.mark.parametrize("name", NO_NAMES)
def test_signs_that_do_not_belong_into_a_name_are_refused(tmp_path: Path, name: str) -> None:
    assert AXIS_NAME.fullmatch(name) is None
    path = tmp_path / "m.json"
    plain = {"format": 1, "machine": "m", "axes": {name: {"motion": "linear"}}}
    path.write_text(json.dumps(plain), "utf-8")
    with pytest.raises(InputError):
        api.check([path])


def test_the_schemas_know_the_same_names() -> None:
    for name in ("machine", "project", "waivers"):
        text = (ROOT / "schemas" / f"{name}.schema.json").read_text("utf-8")
        found = set(re.findall(r'"pattern": ("\^\[A-Za-z[^"]*")', text))
        ours = {f"^{each.pattern}(?!\\n)$" for each in (AXIS_NAME, MACHINE_NAME)}
        assert {json.loads(each) for each in found} == ours
