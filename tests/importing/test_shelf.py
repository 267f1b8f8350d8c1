"""The shelf: plates that axes name by type, and what a machine states beside them."""

from __future__ import annotations

import datetime
import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import InputError, UsageError
from axisproof.cli import main as cli
from axisproof.editor.machines import Workspace
from axisproof.editor.side_files import SideFileOptions
from axisproof.editor.state import CheckedTexts, check_texts
from axisproof.findings.builtin import NO_PLATE
from axisproof.importing.entry import load_trees
from axisproof.importing.shelf import OF_DRIVES, read_shelf, with_shelf
from axisproof.machine.reader import read_machine
from axisproof.machine.schema import RecordType, axis_type
from axisproof.report.formats import FORMS
from axisproof.source.reader import DISK, Reader

from tests.captured import Captured

EXAMPLE = Path(__file__).parents[2] / "fixtures" / "shelf"
DAY = datetime.date(2026, 6, 1)
MOTOR = """\
format: 1
part: motor
motor:
  model: BM100
  rated_speed: 3000 rpm
  brake: none
encoder: {model: EA, counts_per_revolution: 65536}
"""
ENCODER = """\
format: 1
part: encoder
encoder: {model: EA, kind: absolute_multiturn}
"""
GEARBOX = "format: 1\npart: gearbox\ngearbox: {model: WG, motor_turns_per_load_turn: 7}\n"
MACHINE = "format: 1\nmachine: Hall\naxes: {lift: {motion: linear, AXIS}}\n"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    Path("plates").mkdir()
    Path("plates/motor.yaml").write_text(MOTOR, "utf-8")
    Path("plates/encoder.yaml").write_text(ENCODER, "utf-8")
    Path("plates/gearbox.yaml").write_text(GEARBOX, "utf-8")
    machine("motor: {model: BM100}")
    return tmp_path


def machine(axis: str) -> Path:
    path = Path("m.yaml")
    path.write_text(MACHINE.replace("AXIS", axis), "utf-8")
    return path


def place(file: str, text: str, before: str = "") -> str:
    """Where a text stands in a file, after another one."""
    whole = Path(file).read_text("utf-8")
    at = whole.index(text, whole.index(before))
    line = whole.count("\n", 0, at) + 1
    return f"{file}:{line}:{at - (whole.rfind(chr(10), 0, at) + 1) + 1}"


def read(path: Path = Path("m.yaml"), reader: Reader = DISK):  # type: ignore[no-untyped-def]
    (tree,) = load_trees([path], with_shelf(reader, Path("plates")))
    return read_machine(tree)


def options(**given: object) -> api.CheckOptions:
    return api.CheckOptions(on=DAY, shelf="plates", **given)


# What a plate states ------------------------------------------------------------------------------


def test_the_example_has_the_findings_that_its_files_promise() -> None:
    report = api.check([EXAMPLE], api.CheckOptions(on=DAY, site=api.site_file([EXAMPLE])))
    found = {(each.machine, each.rule) for each in report.findings}
    assert found == {("Crate hall", "sources-agree"), ("Crate hall", "encoder-counts-match")}
    assert {each.machine for each in report.undecided} == {"Crate hall"}
    (counts,) = [each for each in report.findings if each.rule == "encoder-counts-match"]
    files = [Path(mark.place.file).name for mark in counts.marks]
    assert files == ["crates.yaml", "encoder_ea20.yaml"]
    (disputed,) = [each for each in report.findings if each.rule == "sources-agree"]
    files = [Path(mark.place.file).name for mark in disputed.marks]
    assert files == ["crates.yaml", "motor_bm100.yaml"]


def test_a_plate_counts_as_if_the_file_of_the_machine_stated_it(folder: Path) -> None:
    facts = read().axes[0]
    assert facts["motor.brake"] is not None
    assert facts["encoder.kind"] == "absolute_multiturn"  # the motor's plate names the encoder's
    assert facts["encoder.counts_per_revolution"] == 65536
    assert str(read().places("axes.lift.encoder.kind")[0]) == place(
        "plates/encoder.yaml", "absolute_multiturn"
    )
    assert str(read().places("axes.lift.motor.brake")[0]) == place("plates/motor.yaml", "none")
    places = [str(each) for each in read().places("axes.lift.motor.model")]
    assert places == [place("m.yaml", "BM100"), place("plates/motor.yaml", "BM100")]
    assert not read().replaceable("axes.lift.encoder.kind")  # a fix would change every machine


def test_without_a_shelf_a_type_is_a_type() -> None:
    report = api.check([EXAMPLE / "machines" / "outfeed.yaml"], api.CheckOptions(on=DAY))
    assert report.findings == ()
    assert {"motor.rated_speed", "encoder.kind"} <= {
        fact.removeprefix("axes.outfeed.") for each in report.undecided for fact in each.missing
    }


def test_an_encoder_on_the_load_is_not_the_one_in_the_motor(folder: Path) -> None:
    machine("motor: {model: BM100}, encoder: {mounted_on: load, counts_per_revolution: 9}")
    facts = read().axes[0]
    assert facts["encoder.counts_per_revolution"] == 9
    assert facts.get("encoder.kind") is None


@pytest.mark.parametrize("stages", ["[{}, {model: WG}]", "{partial: [{}, {model: WG}]}"])
def test_a_stage_names_its_gearbox(folder: Path, stages: str) -> None:
    machine(f"mechanics: {{stages: {stages}}}")
    assert read().axes[0]["mechanics.stages"][1]["motor_turns_per_load_turn"] == 7
    path = "axes.lift.mechanics.stages[1].motor_turns_per_load_turn"
    assert str(read().places(path)[0]) == place("plates/gearbox.yaml", "7")


def test_two_axes_share_a_plate(folder: Path) -> None:
    axis = "motor: {model: BM100}"
    axes = f"{{a: {{motion: linear, {axis}}}, b: {{motion: rotary, {axis}}}}}"
    Path("m.yaml").write_text(f"format: 1\nmachine: Hall\naxes: {axes}\n", "utf-8")
    both = read()
    assert [axis["encoder.counts_per_revolution"] for axis in both.axes] == [65536, 65536]
    assert both.tree is not None
    assert [each.name for each in both.tree.sources].count("plates/motor.yaml") == 1
    for axis in ("a", "b"):
        found = both.places(f"axes.{axis}.motor.rated_speed")[0]
        assert str(found) == place("plates/motor.yaml", "3000 rpm")


# What contradicts, and what is missing ------------------------------------------------------------


def test_a_contradiction_names_both_places_and_decides_nothing(folder: Path) -> None:
    machine("motor: {model: BM100, rated_speed: 2000 rpm}")
    report = api.check(["m.yaml"], options())
    (finding,) = [each for each in report.findings if each.rule == "sources-agree"]
    expected = [place("m.yaml", "2000 rpm"), place("plates/motor.yaml", "3000 rpm")]
    assert [str(mark.place) for mark in finding.marks] == expected
    assert "m.yaml says 2000 rpm" in finding.message
    assert "plates/motor.yaml says 3000 rpm" in finding.message
    assert read().axes[0].get("motor.rated_speed") is None


def test_a_contradiction_in_shape_is_an_error_with_both_places(folder: Path) -> None:
    machine("motor: {model: BM100, brake: {holding_torque: 3 N·m}}")
    with pytest.raises(InputError) as caught:
        read()
    assert str(caught.value.place) == place("plates/motor.yaml", "none")
    assert place("m.yaml", "{", "brake") in caught.value.what


def test_claims_of_the_machine_stay_beside_the_plate(folder: Path) -> None:
    stated = "{claims: [{value: 2000 rpm, source: list}, {value: 2100 rpm, source: drawing}]}"
    machine(f"motor: {{model: BM100, rated_speed: {stated}}}")
    (dispute,) = read().disputes
    assert [source for _, source in dispute.claims] == ["list", "drawing", "plates/motor.yaml"]


def test_a_disputed_type_has_no_plate(folder: Path) -> None:
    stated = "{claims: [{value: BM100, source: list}, {value: BM101, source: drawing}]}"
    machine(f"motor: {{model: {stated}}}")
    assert read().axes[0].get("motor.rated_speed") is None
    assert [dispute.path for dispute in read().disputes] == ["axes.lift.motor.model"]


@pytest.mark.parametrize("form", list(FORMS))
def test_a_type_without_a_plate_is_said_in_every_form(
    folder: Path, capsys: Captured, form: str
) -> None:
    machine("motor: {model: BM101}, mechanics: {stages: [{model: ZZ}]}")
    assert cli.run(["check", "m.yaml", "--shelf", "plates", "--format", form]) == 1
    text = re.sub(r"\\(?=[.\-])", "", capsys.readouterr().out)
    assert "The shelf has no plate of the motor BM101. It has one of BM100." in text
    assert "The shelf has no plate of the gearbox ZZ." in text


def test_a_type_without_a_plate_acquits_nothing(folder: Path) -> None:
    with_type, without = machine("motor: {model: BM101}"), []
    outcomes = []
    for _ in range(2):
        report = api.check([with_type], options(every_outcome=True))
        outcomes.append({(o.rule, o.subject) for o in report.outcomes if o.verdict == "holds"})
        without.append([each.rule for each in report.findings])
        machine("motor: {}")
    assert outcomes[0] == outcomes[1]
    assert without == [[NO_PLATE.name], []]


# What a shelf refuses -----------------------------------------------------------------------------

REFUSED = {
    "a serial number": (MOTOR.replace("brake: none", "serial: M-1"), "x.yaml:6:3", "one piece"),
    "a setting of a drive": (
        "format: 1\npart: drive\ndrive: {model: D, gear: none}\n",
        *("x.yaml:3:19", "set in the drive"),
    ),
    "a reading": (
        "format: 1\npart: encoder\nencoder: {model: X, angle_at_reference: 3 deg}\n",
        *("x.yaml:3:21", "one piece"),
    ),
    "a duty": (GEARBOX.replace("WG", "WH") + "backlash: 1 mm\n", "x.yaml:4:1", "one axis"),
    "no type": ("format: 1\npart: motor\nmotor: {brake: none}\n", "x.yaml:3:1", "its type"),
    "two of a type": (GEARBOX, "x.yaml:3:18", "plates/gearbox.yaml:3:18"),
    "a fact that is none": (MOTOR.replace("BM100", "BX") + "x: 1\n", "x.yaml:8:1", "not known"),
    "a slip": (MOTOR.replace("rated_speed", "rated_sped"), "x.yaml:5:3", "not a fact"),
    "a bad value": (MOTOR.replace("3000 rpm", "3000 kg"), "x.yaml:5:16", "3000 kg"),
    "no part file": ("format: 1\nmachine: m\naxes: {}\n", "x.yaml:1:1", "what part"),
    "broken": ("format: 1\npart: [\n", "x.yaml:2:7", "no value"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_a_file_that_is_no_plate_gets_one_message(
    folder: Path, capsys: Captured, case: str
) -> None:
    text, place, what = REFUSED[case]
    Path("plates/x.yaml").write_text(text, "utf-8")
    assert cli.run(["check", "m.yaml", "--shelf", "plates"]) == 2
    told = capsys.readouterr().err
    assert f"in plates/{place}" in told
    assert what in told
    assert told.count("Unusable input") == 1


def test_a_folder_that_is_none_and_an_empty_one(folder: Path) -> None:
    with pytest.raises(UsageError, match="there is no folder nowhere"):
        read_shelf(Path("nowhere"), DISK)
    Path("batteries").mkdir()
    battery = "format: 1\npart: battery\nbattery: {life: 3 years}\n"
    Path("batteries/b.yaml").write_text(battery, "utf-8")
    with pytest.raises(UsageError, match="holds no plate"):
        read_shelf(Path("batteries"), DISK)


def test_the_facts_of_a_drive_s_plate_are_facts_of_drives() -> None:
    drive = axis_type().fields["drive"].type
    assert isinstance(drive, RecordType)
    assert drive.fields.keys() >= OF_DRIVES


# Wherever machines are read -----------------------------------------------------------------------


def test_unsaved_text_of_a_plate_counts(folder: Path) -> None:
    reader = Reader.of({Path("plates/motor.yaml"): MOTOR.replace("3000", "3100")})
    assert read(reader=reader).plain_at("axes.lift.motor.rated_speed") == "3100 rpm"


def test_an_editor_has_the_shelf_of_the_site_file(folder: Path) -> None:
    machine("motor: {model: BM100}, drive: {counts_per_revolution: 131072}")
    Path("axisproof.yaml").write_text("axisproof: 1\nshelf: plates\n", "utf-8")

    def told(plate: str) -> dict[str, set[str]]:
        texts = {
            Path("m.yaml").resolve(): Path("m.yaml").read_text("utf-8"),
            Path("plates/motor.yaml").resolve(): plate,
        }
        options = SideFileOptions(site_folder=folder)
        checked = check_texts(texts, options, Workspace(), CheckedTexts())
        return {
            path.name: {f"{each.rule} {each.text}" for each in found}
            for path, found in checked.diagnostics.items()
        }

    assert "encoder-counts-match" in str(told(MOTOR)["m.yaml"])
    assert "motor.yaml" not in told(MOTOR)
    assert "encoder-counts-match" not in str(told(MOTOR.replace("65536", "131072")))
    assert "part is 'moter'" in str(told(MOTOR.replace("part: motor", "part: moter"))["motor.yaml"])


def test_a_changed_plate_is_checked_again(folder: Path) -> None:
    machine("motor: {model: BM100}, drive: {counts_per_revolution: 131072}")

    def found() -> set[str]:
        return {each.rule for each in api.check(["m.yaml"], options(cache="kept")).findings}

    assert "encoder-counts-match" in found()
    assert "encoder-counts-match" in found()
    Path("plates/motor.yaml").write_text(MOTOR.replace("65536", "131072"), "utf-8")
    assert "encoder-counts-match" not in found()
    report = api.check(["m.yaml"], api.CheckOptions(on=DAY, cache="kept"))
    assert "motor.rated_speed" in str(report.undecided)


def test_other_processes_have_the_shelf(folder: Path) -> None:
    for number in range(3):
        shutil.copy(machine("motor: {model: BM101}"), f"m{number}.yaml")
    report = api.check([Path()], options(jobs=2))
    assert [each.rule for each in report.findings].count(NO_PLATE.name) == 4
    assert [Path(each).name for each in report.files] == [
        *("m.yaml", "m0.yaml", "m1.yaml", "m2.yaml")
    ]


def test_shards_of_one_shelf_go_together_and_no_others(folder: Path, capsys: Captured) -> None:
    shutil.copy("m.yaml", "n.yaml")
    waivers = "waivers: 1\nentries: []\n"
    Path("w.yaml").write_text(waivers, "utf-8")
    for shard in ("1/2", "2/2"):
        record = f"{shard[0]}.record"
        words = ["check", "m.yaml", "n.yaml", "--shelf", "plates", "--shard", shard]
        cli.run([*words, "--record", record, "--fail-at", "never"])
    capsys.readouterr()
    assert cli.run(["merge", "1.record", "2.record", "--fail-at", "never"]) in (0, 1)
    capsys.readouterr()
    Path("plates/motor.yaml").write_text(MOTOR.replace("3000", "3100"), "utf-8")
    words = ["check", "m.yaml", "n.yaml", "--shelf", "plates", "--shard", "2/2"]
    cli.run([*words, "--record", "2b.record", "--fail-at", "never"])
    capsys.readouterr()
    assert cli.run(["merge", "1.record", "2b.record"]) == 2
    assert "another shelf" in capsys.readouterr().err


def test_a_fix_leaves_plates_alone(folder: Path) -> None:
    before = {path: path.read_bytes() for path in Path("plates").iterdir()}
    repair = api.fixes(["m.yaml"], options())
    assert all(change.path == Path("m.yaml") for change in repair.changes)
    assert before == {path: path.read_bytes() for path in Path("plates").iterdir()}


def test_changes_sees_a_changed_plate_and_one_that_is_gone(folder: Path, capsys: Captured) -> None:
    machine("motor: {model: BM100}, drive: {counts_per_revolution: 65536}")
    Path("axisproof.yaml").write_text("axisproof: 1\nshelf: plates\n", "utf-8")
    for words in (
        ["init", "-q"],
        ["add", "."],
        ["-c", "user.name=m", "-c", "user.email=m@example.invalid", "commit", "-q", "-m", "x"],
    ):
        subprocess.run(["git", *words], check=True)
    Path("plates/motor.yaml").write_text(MOTOR.replace("65536", "131072"), "utf-8")
    assert cli.run(["changes", "HEAD:m.yaml", "m.yaml", "--format", "json"]) == 1
    report = json.loads(capsys.readouterr().out)
    told = {each["fact"]: (each["old"], each["new"]) for each in report["facts"]}
    assert told == {"encoder.counts_per_revolution": ("65536", "131072")}
    assert "encoder-counts-match" in str(report["new_findings"])
    Path("plates/motor.yaml").unlink()
    assert cli.run(["changes", "HEAD:m.yaml", "m.yaml"]) == 1
    assert "no longer has the plate of the motor BM100" in " ".join(capsys.readouterr().out.split())
    Path("axisproof.yaml").write_text("axisproof: 1\n", "utf-8")
    assert cli.run(["changes", "HEAD:.", "."]) == 1
    assert "no longer has the plate of the motor BM100" in " ".join(capsys.readouterr().out.split())


def test_changes_between_folders_with_one_shelf(folder: Path) -> None:
    for name in ("old", "new"):
        Path(name).mkdir()
        machine("motor: {model: BM100}" if name == "old" else "motor: {model: BM101}").rename(
            f"{name}/m.yaml"
        )
    report = api.changes("old", "new", shelf="plates", on=DAY)
    assert [each.rule for each in report.new_findings] == [NO_PLATE.name]
    assert "motor.rated_speed" in {each.fact for each in report.facts}


# A spare ------------------------------------------------------------------------------------------


def spare(capsys: Captured, *words: str) -> str:
    command = ["spare", "m.yaml", "--axis", "lift", "--part", "motor", "--shelf", "plates"]
    cli.run([*command, *words])
    told = capsys.readouterr()
    return told.out + told.err


def test_spare_names_a_plate_by_its_type(folder: Path, capsys: Captured) -> None:
    assert "spare motor (plates/motor.yaml)" in spare(capsys, "BM100")
    document = json.loads(spare(capsys, "BM100", "--format", "json"))
    rows = {row["fact"]: row["spare"] for row in document["rows"]}
    assert rows["axes.lift.encoder.kind"] == "absolute_multiturn"  # by the encoder's own plate


def test_a_spare_in_hand_has_what_its_plate_states(folder: Path, capsys: Captured) -> None:
    Path("s.yaml").write_text(
        "format: 1\npart: motor\nmotor: {model: BM100, serial: M-9}\n", "utf-8"
    )
    document = json.loads(spare(capsys, "s.yaml", "--format", "json"))
    rows = {row["fact"]: row["spare"] for row in document["rows"]}
    assert rows["axes.lift.motor.rated_speed"] == "3000 rpm"
    assert rows["axes.lift.motor.serial"] == "M-9"


def test_a_type_that_the_shelf_lacks_is_said_of_a_spare(folder: Path, capsys: Captured) -> None:
    assert "perhaps BM100" in spare(capsys, "BM101")
    Path("s.yaml").write_text("format: 1\npart: motor\nmotor: {model: BM101}\n", "utf-8")
    for form in ("text", "json", "html"):
        assert "the shelf has no plate of the motor BM101" in spare(
            capsys, "s.yaml", "--format", form
        )
