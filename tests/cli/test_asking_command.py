"""`axisproof ask`: at a pseudo-terminal, and line by line from standard input."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from unittest.mock import patch

import pexpect
import pytest
from axisproof.authoring.conversation import Conversation
from axisproof.authoring.questions import absence
from axisproof.cli import main as cli
from axisproof.source.merge import load_tree
from axisproof.source.places import path_text

FILE = """\
# made by hand
format: 1
machine: Hall
axes:
  lift:
    motion: linear   # up and down
    gantry: none
    encoder: {counts_per_revolution: 131072, kind: absolute_multiturn}
    drive:
      gear: none  # not in use
"""

NOTE = "# axisproof ask: not known: axes.lift.controller.homing.after\n"
WAIT = 120
START_OF_PROMPT, CURSOR_SHOWN = "\x1b[?2004h", "\x1b[?25h"
END_OF_INPUT = "\x04"


def talk(file: Path, *options: str) -> pexpect.spawn[str]:
    environment = {**os.environ, "PROMPT_TOOLKIT_NO_CPR": "1", "TERM": "xterm", "NO_COLOR": "1"}
    return pexpect.spawn(
        sys.executable,
        ["-m", "axisproof", "ask", str(file), *options],
        env=environment,
        encoding="utf-8",
        timeout=WAIT,
        dimensions=(40, 120),
    )


def answer(child: pexpect.spawn[str], typed: str) -> None:
    """Type at the next prompt, once it is drawn: its cursor is shown last."""
    child.expect_exact(START_OF_PROMPT)
    child.expect_exact(CURSOR_SHOWN)
    child.send(typed)


def lines(file: Path, typed: str, *options: str) -> subprocess.CompletedProcess[str]:
    """The command in this process, with ``typed`` as its standard input."""
    out, errors = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(errors), patch("sys.stdin", io.StringIO(typed)):
        status = cli.run(["ask", str(file), *options])
    return subprocess.CompletedProcess([], status, out.getvalue(), errors.getvalue())


@pytest.fixture
def hall(tmp_path: Path) -> Path:
    file = tmp_path / "hall.yaml"
    file.write_text(FILE)
    return file


def test_a_conversation_at_a_terminal(hall: Path) -> None:
    child = talk(hall)
    child.expect_exact("Axes that must be homed before this one.")
    answer(child, "none\r")
    child.expect_exact("This axis waits for no other axis. Is that so?")
    child.expect_exact(CURSOR_SHOWN)
    child.send("yes\r")
    child.expect_exact("Type ")
    assert "after: []" in hall.read_text()  # written before the next question
    answer(child, END_OF_INPUT)
    child.expect_exact("1 fact written")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0
    assert hall.read_text().startswith(FILE)  # comments and order stay, a record comes at the end


def test_a_finding_is_shown_the_moment_it_is_decided(hall: Path) -> None:
    child = talk(hall)
    child.expect_exact("Axes that must be homed before this one.")
    answer(child, "elevator\r")
    child.expect_exact("Before work on a machine")
    child.expect_exact("names an axis that does not exist")
    child.expect_exact("homing-order-names-axes")
    answer(child, "stop\r")
    child.expect_exact("1 finding so far")
    child.expect(pexpect.EOF)
    child.close()


def test_a_bad_value_gets_one_message_and_the_question_again(hall: Path) -> None:
    done = lines(hall, "no axis!\nstop\n")
    assert done.stdout.count("Not taken: the value is 'no axis!'.") == 1
    assert "Expected: an axis name" in done.stdout
    assert hall.read_text() == FILE


def test_what_nobody_knows_is_left_open_and_not_asked_again(hall: Path) -> None:
    done = lines(hall, "don't know\n\n\nstop\n")
    assert done.stdout.count("Axes that must be homed before this one.") == 1
    assert done.stdout.count("Left open.") == 3
    assert "0 facts written, 3 left open." in done.stdout
    assert (
        hall.read_text() == FILE + "# axisproof ask: not known: axes.lift.controller.homing.after\n"
    )


@pytest.mark.exhaustive
def test_a_later_run_asks_last_for_what_nobody_knew(hall: Path) -> None:
    lines(hall, "don't know\nstop\n")
    again = lines(hall, "\nstop\n")
    assert "Axes that must be homed before this one." not in again.stdout
    rest = lines(hall, "\n" * 400)
    asked = [line for line in rest.stdout.splitlines() if line.endswith(".")]
    (at,) = [n for n, line in enumerate(asked) if "Axes that must be homed before" in line]
    assert at > len(asked) / 2
    assert hall.read_text().startswith(FILE)  # Enter alone is no answer to keep


@pytest.mark.exhaustive
def test_the_comment_goes_once_the_fact_is_stated(hall: Path) -> None:
    lines(hall, "don't know\nstop\n")
    talk = Conversation(hall)
    while (asked := talk.next_question()) is not None:
        if path_text(asked.path) == "axes.lift.controller.homing.after":
            talk.take([absence(asked)])
            break
        talk.not_known(asked)
    assert "after: []" in hall.read_text()
    assert "not known" not in hall.read_text()


def test_a_text_of_somebody_s_that_looks_like_the_comment_stays(hall: Path) -> None:
    own = f'    description: "one\n{NOTE}      two"\n'
    hall.write_text(FILE.replace("    encoder:", own + "    encoder:"))
    before = load_tree(hall).plain
    lines(hall, "\nstop\n")
    assert load_tree(hall).plain == before


def test_an_answer_that_the_file_cannot_take_is_asked_for_again(tmp_path: Path) -> None:
    shared = "format: 1\nmachine: Hall\naxes: {a: &a {motion: linear}, b: *a}\n"
    file = tmp_path / "shared.yaml"
    file.write_text(shared)
    done = lines(file, "none\nyes\nnone\nyes\n\nstop\n")
    assert done.stdout.count("cannot be written without changing more than this value") == 2
    assert "Left open." in done.stdout  # the conversation went on
    assert file.read_text() == shared
    assert "Traceback" not in done.stderr


def test_what_the_file_could_not_take_at_the_end_ends_in_2(tmp_path: Path) -> None:
    file = tmp_path / "shared.yaml"
    file.write_text("format: 1\nmachine: Hall\naxes: {a: &a {motion: linear}, b: *a}\n")
    assert lines(file, "none\nyes\nstop\n").returncode == 2


def test_the_type_of_a_part_comes_before_its_facts(hall: Path) -> None:
    plates = hall.parent / "plates"
    plates.mkdir()
    (plates / "e.yaml").write_text(
        "format: 1\npart: encoder\n"
        "encoder: {model: EA-20, kind: absolute_multiturn, counts_per_revolution: 65536}\n"
    )
    hall.write_text(
        "format: 1\nmachine: Hall\naxes:\n  lift:\n    motion: linear\n"
        "    drive: {counts_per_revolution: 131072}\n    controller: {homing: {after: []}}\n"
    )
    done = lines(hall, "EA-20\nstop\n", "--shelf", str(plates))
    (_, after) = done.stdout.split("Type what the plate says. The shelf has plates of: EA-20")
    assert "encoder-counts-match" in after
    assert "model: EA-20" in hall.read_text()
    again = lines(hall, "stop\n", "--shelf", str(plates))
    assert "plates of: EA-20" not in again.stdout


def test_standard_input_has_no_file_to_write_into(hall: Path) -> None:
    done = lines(Path("-"), "")
    assert done.returncode == 2
    assert "a machine file by its name" in done.stderr


def test_none_is_written_only_if_the_sentence_is_so(hall: Path) -> None:
    done = lines(hall, "none\nno\nstop\n")
    assert "Not written." in done.stdout
    assert hall.read_text() == FILE


def test_a_later_run_goes_on_from_the_file(hall: Path) -> None:
    lines(hall, "none\nyes\n")
    again = lines(hall, "stop\n")
    assert "Axes that must be homed" not in again.stdout
    assert "lift" in again.stdout


def test_the_end_of_the_input_ends_the_conversation(hall: Path) -> None:
    done = lines(hall, "")
    assert (done.returncode, done.stderr) == (0, "")
    assert "axisproof check" in done.stdout


@pytest.mark.parametrize("name", ["absent.yaml", "."])
def test_a_file_that_is_none_gets_one_message(tmp_path: Path, name: str) -> None:
    done = lines(tmp_path / name, "")
    assert done.returncode == 2
    assert "axisproof init" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_change_by_another_hand_is_kept(hall: Path) -> None:
    child = talk(hall)
    child.expect_exact("Axes that must be homed before this one.")
    child.expect_exact(START_OF_PROMPT)
    hall.write_text(FILE.replace("up and down", "down and up"))
    child.expect_exact(CURSOR_SHOWN)
    child.send("none\r")
    answer(child, "yes\r")
    child.expect_exact("Type ")
    answer(child, END_OF_INPUT)
    child.expect(pexpect.EOF)
    child.close()
    text = hall.read_text()
    assert "down and up" in text
    assert "after: []" in text


@pytest.mark.exhaustive
def test_every_question_can_be_left_open_until_none_is_left(hall: Path) -> None:
    done = lines(hall, "\n" * 400)
    assert done.returncode == 0
    assert "0 facts written" in done.stdout
    assert hall.read_text() == FILE
