"""From an empty folder to the first finding: a parameter list, a shelf of three plates, questions.

Somebody types the plates of motor, encoder and gearbox into the shelf, imports the list of the
drive, lets `axisproof init` fill the form from it, and answers what `axisproof ask` asks: the types
of the parts. All else stays open. Three invented machines have one fault each. All that is typed
counts, on the plates too.
"""

from __future__ import annotations

import datetime
import subprocess
import sys
from contextlib import chdir
from dataclasses import dataclass
from pathlib import Path

import pytest
from axisproof.authoring.conversation import Conversation
from axisproof.authoring.questions import read_answer
from axisproof.cli import main as cli
from axisproof.engine.asking import Asking
from axisproof.findings.finding import Finding
from axisproof.source.places import path_text

MOST_TYPED = 15
DAY = datetime.date(2026, 6, 1)

MAPPING = """\
mapping: 1
form: csv
encoding: utf-8
decimal: comma
delimiter: semicolon
layout: row_per_parameter
columns: {parameter: Parameter, value: Value, unit: Unit}
parameters:
  CountsTurn: {to: drive.counts_per_revolution}
  TurnsKept: {to: drive.distinguishable_revolutions}
  RatioMotor: {to: drive.gear_ratio.motor_turns}
  RatioShaft: {to: drive.gear_ratio.shaft_turns}
  FeedLength: {to: drive.feed_constant.feed, unit: as_written}
  FeedShaft: {to: drive.feed_constant.shaft_turns}
  EncoderMode: {to: drive.encoder_use, names: {"0": incremental, "1": absolute}}
  TopPace: {to: drive.max_speed, unit: rpm}
  TorqueTop: {to: drive.torque_limit, unit: as_written}
"""

LIST = """\
Parameter;Value;Unit
CountsTurn;{counts};
TurnsKept;{turns};
RatioMotor;{motor};
RatioShaft;1;
FeedLength;{feed}
FeedShaft;1;
EncoderMode;1;
TopPace;4500;rpm
TorqueTop;7,2;N·m
"""


@dataclass(frozen=True)
class Machine:
    """The numbers of the list, the plates, and the rule that must find the fault."""

    axis: str
    list: dict[str, str]
    plates: dict[str, dict[str, str]]
    rule: str


ENCODER = {
    "model": "EA-17",
    "kind": "absolute_multiturn",
    "counts_per_revolution": "131072",
    "distinguishable_revolutions": "4096",
}
MOTOR = {
    "model": "BM80",
    "rated_speed": "3000 rpm",
    "rated_torque": "2.4 N·m",
    "peak_torque": "7.2 N·m",
    "brake": "none",
}
GEARBOX = {"model": "WG-5", "kind": "gearbox", "motor_turns_per_load_turn": "5"}
PLATES = {"encoder": ENCODER, "motor": MOTOR, "gearbox": GEARBOX}
SOUND = {"counts": "131072", "turns": "4096", "motor": "5", "feed": "10;mm"}

MACHINES = {
    "the drive counts as the old encoder did": Machine(
        "lift:screw", {**SOUND, "counts": "65536"}, PLATES, "encoder-counts-match"
    ),
    "the drive keeps the turns of another encoder": Machine(
        "table:table", {**SOUND, "turns": "65536", "feed": "360;deg"}, PLATES, "turn-counts-match"
    ),
    "the torque limit is that of a larger motor": Machine(
        "belt:belt",
        {**SOUND, "feed": "160;mm"},
        {**PLATES, "motor": {**MOTOR, "peak_torque": "4.8 N·m"}},
        "torque-limit-within-motor-peak",
    ),
}


def shelf(folder: Path, machine: Machine) -> tuple[Path, int]:
    """The shelf with the three plates, and how many facts were typed for it."""
    plates = folder / "plates"
    plates.mkdir()
    for kind, facts in machine.plates.items():
        lines = [f"  {fact}: {value}\n" for fact, value in facts.items()]
        text = f"format: 1\npart: {kind}\n{kind}:\n{''.join(lines)}"
        (plates / f"{kind}.yaml").write_text(text, "utf-8")
    return plates, sum(map(len, machine.plates.values()))


def form(folder: Path, machine: Machine) -> Path:
    """The form that `init` fills from the list, as a new user makes it."""
    folder.mkdir(exist_ok=True)
    name, kind = machine.axis.split(":")
    (folder / "list.csv").write_text(LIST.format(**machine.list))
    (folder / "list.mapping.yaml").write_text(MAPPING)
    motion = "rotary" if kind == "table" else "linear"
    options = ["--mapping", "list.mapping.yaml", "--axis", name, "--motion", motion]
    with chdir(folder):
        for command in (
            ["import", "list.csv", *options, "--machine", "Hall", "-o", "known.yaml"],
            ["init", "hall.yaml", "--from", "known.yaml", "--axis", machine.axis],
        ):
            assert cli.run(command) == 0
    return folder / "hall.yaml"


def until_first_finding(
    path: Path, plates: Path, machine: Machine
) -> tuple[list[str], list[Finding]]:
    """The facts that are typed until a finding is shown, and the finding.

    Somebody knows the types of the parts, and that there is one gearbox.
    """
    known = {f"{kind}.model": facts["model"] for kind, facts in machine.plates.items()}
    known |= {"mechanics.stages[0].model": known.pop("gearbox.model"), "mechanics.stages": "1"}
    talk, typed = Conversation(path, on=DAY, shelf=plates), list[str]()
    assert talk.findings == ()
    while (asked := talk.next_question()) is not None:
        fact = path_text(asked.path[2:]) if asked.path[0] == "axes" else path_text(asked.path)
        if fact not in known:
            talk.not_known(asked)
            continue
        typed.append(fact)
        if found := talk.take([read_answer(asked, known[fact])]):
            return typed, found
    return typed, []


def left_open_before(path: Path, plates: Path, fact: str) -> int:
    """How many questions somebody leaves open until the fact of an axis is asked."""
    talk, count = Conversation(path, on=DAY, shelf=plates), 0
    while (asked := talk.next_question()) is not None:
        if path_text(asked.path[2:]) == fact:
            return count
        talk.not_known(asked)
        count += 1
    raise AssertionError(f"{fact} is not asked")


@pytest.mark.parametrize("what", MACHINES)
def test_the_first_finding_is_right_and_takes_few_facts(tmp_path: Path, what: str) -> None:
    machine = MACHINES[what]
    plates, on_plates = shelf(tmp_path, machine)
    typed, found = until_first_finding(form(tmp_path, machine), plates, machine)
    assert [each.rule for each in found] == [machine.rule], typed
    assert on_plates + len(typed) <= MOST_TYPED, typed
    assert all(fact.endswith(".model") for fact in typed)
    places = {Path(mark.place.file).parent.name for each in found for mark in each.marks}
    assert places == {tmp_path.name, "plates"}


def test_the_type_of_a_part_is_asked_first(tmp_path: Path) -> None:
    machine = MACHINES["the drive counts as the old encoder did"]
    plates, _ = shelf(tmp_path, machine)
    talk = Conversation(form(tmp_path, machine), on=DAY, shelf=plates)
    asked = []
    while (question := talk.next_question()) is not None and len(asked) < 3:
        asked.append(path_text(question.path[2:]))
        talk.not_known(question)
    assert sorted(asked[:2]) == ["encoder.model", "motor.model"]
    assert not asked[2].endswith(".model")  # no stage stands in the file


@pytest.mark.exhaustive
def test_the_dialogue_at_the_command_line_comes_to_the_same_finding(tmp_path: Path) -> None:
    """As a new user types it: three plates, the list, the form, and the answers."""
    machine = MACHINES["the drive counts as the old encoder did"]
    plates, _ = shelf(tmp_path, machine)
    path = form(tmp_path, machine)
    typed, _ = until_first_finding(path, plates, machine)
    assert typed == ["encoder.model"]
    open_first = left_open_before(form(tmp_path / "counted", machine), plates, typed[0])
    form(tmp_path / "again", machine)
    command = [sys.executable, "-m", "axisproof", "ask", "hall.yaml", "--shelf", str(plates)]
    done = subprocess.run(
        [*command, "--on", DAY.isoformat()],
        cwd=tmp_path / "again",
        input="\n" * open_first + "EA-17\nstop\n",
        capture_output=True,
        text=True,
        timeout=120,
    )
    assert "encoder-counts-match" in done.stdout, done.stdout + done.stderr
    assert "131072 count/rev" in done.stdout


@pytest.mark.exhaustive
def test_what_nobody_knows_hides_no_other_way_to_a_check(tmp_path: Path) -> None:
    """After each "don't know" the open checks are those of a conversation that begins then."""
    path = tmp_path / "bare.yaml"
    path.write_text("format: 1\nmachine: Hall\naxes: {table: {motion: rotary}}\n", "utf-8")
    talk = Conversation(path, on=DAY)
    for _ in range(4):
        asked = talk.next_question()
        assert asked is not None
        talk.not_known(asked)
        anew, asking = Conversation(path, on=DAY), Asking(talk.rules.catalogue)
        asking.smallest.not_known |= talk.asking.smallest.not_known
        assert talk.asking.open_checks(talk.machine) == asking.open_checks(anew.machine)


def test_a_partial_list_that_is_wanted_whole_is_asked_for_by_its_name(tmp_path: Path) -> None:
    """``controller.homing.after (the whole list)`` is what the rules call it; no path is so."""
    path = tmp_path / "cell.yaml"
    path.write_text(
        "format: 1\nmachine: Cell\naxes:\n"
        "  a: {motion: linear, controller: {homing: {method: 1, after: {partial: [b]}}}}\n"
        "  b: {motion: linear, controller: {homing: {method: 1, after: []}}}\n",
        "utf-8",
    )
    talk = Conversation(path, on=DAY)
    checks = talk.asking.open_checks(talk.machine)
    wanted = {fact for check in checks for fact in check.facts}
    assert "axes.a.controller.homing.after" in wanted
    assert not any(" " in fact for fact in wanted)


@pytest.mark.parametrize(
    ("stated", "asked"),
    [
        ("", "mechanics.clamp"),
        (", mechanics: {clamp: {acts_on: carriage}}", "mechanics.clamp.inhibits"),
    ],
)
def test_a_part_is_asked_for_before_a_list_in_it(tmp_path: Path, stated: str, asked: str) -> None:
    """The answer "none" to the list would state a clamp that inhibits nothing."""
    path = tmp_path / "cell.yaml"
    path.write_text(f"format: 1\nmachine: Cell\naxes: {{gate: {{motion: linear{stated}}}}}\n")
    talk = Conversation(path, on=DAY)
    fact = talk._part_before_its_list("axes.gate.mechanics.clamp.inhibits", {"gate": "linear"})
    assert fact == f"axes.gate.{asked}"
