"""Wrong input, wrong usage and failures: one message, and a status that says so."""

from __future__ import annotations

import pytest
from axisproof.base.errors import InputError, Place
from axisproof.cli import main as cli

from tests.captured import Captured
from tests.cli.fake_api import FakeApi


def test_an_input_error_is_one_message_with_place_and_marker(
    api: FakeApi, capsys: Captured
) -> None:
    api.failure = InputError(
        'lead is "12 mn", and mn is no unit',
        expected="a length such as 12 mm",
        place=Place("hall.yaml", 4, 13, 4, 18),
        source_line="      lead: 12 mn",
    )
    assert cli.run(["check", "hall.yaml"]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.splitlines() == [
        'Unusable input: lead is "12 mn", and mn is no unit',
        "  in hall.yaml:4:13",
        "      │ lead: 12 mn",
        "              ├───┤",
        "  expected: a length such as 12 mm",
    ]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ("check", "Missing argument"),
        ("chekc a.yaml", "chekc"),
        ("check a.yaml --no-such-thing", "--no-such-thing"),
        ("check a.yaml --on 2026-02-30", "2026-02-30"),
        ("check a.yaml --on tomorrow", "tomorrow"),
        ("check a.yaml --width 3", "3"),
        ("check a.yaml --width wide", "wide"),
        ("check a.yaml --quiet --format json", "--quiet and --statistics belong to"),
        ("check a.yaml --shard 1/2 --axis x", "--select and --axis narrow a whole report"),
        ("check a.yaml --format pdf", "pdf"),
        ("check a.yaml --fail-at worst", "worst"),
        ("check a.yaml --output no/such/folder/report.txt", "no/such/folder"),
        ("explain b-rule", "perhaps a-rule"),
        ("schema fixture", "fixture"),
    ],
)
def test_wrong_usage_is_one_message_and_status_2(
    api: FakeApi, capsys: Captured, arguments: str, words: str
) -> None:
    assert cli.run(arguments.split()) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert words in captured.err
    assert "Traceback" not in captured.err
    assert captured.err.count("\n") <= 4


@pytest.mark.parametrize("arguments", [[], ["rules"]])
def test_a_command_left_out_shows_the_help_and_is_no_success(
    arguments: list[str], capsys: Captured
) -> None:
    assert cli.run(arguments) == 2
    assert "Usage: axisproof" in capsys.readouterr().err


def test_an_unreadable_file_is_named(api: FakeApi, capsys: Captured) -> None:
    api.failure = PermissionError(13, "Permission denied", "hall.yaml")
    assert cli.run(["check", "hall.yaml"]) == 2
    assert capsys.readouterr().err == "Unusable input: hall.yaml: Permission denied\n"


@pytest.mark.parametrize("failure", [ZeroDivisionError("x"), RecursionError("deep"), MemoryError()])
def test_an_unforeseen_failure_asks_to_be_reported_and_is_no_success(
    api: FakeApi, capsys: Captured, failure: Exception
) -> None:
    api.failure = failure
    assert cli.run(["check", "hall.yaml"]) == 2
    error = capsys.readouterr().err
    assert type(failure).__name__ in error
    assert "Please report it" in " ".join(error.split())
    assert "Traceback" not in error


def test_debugging_shows_where_an_unforeseen_failure_happened(
    api: FakeApi, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    api.failure = ZeroDivisionError("x")
    monkeypatch.setenv("AXISPROOF_DEBUG", "1")
    assert cli.run(["check", "hall.yaml"]) == 2
    assert "Traceback" in capsys.readouterr().err


def test_an_interrupt_ends_quietly_with_130(api: FakeApi, capsys: Captured) -> None:
    api.failure = KeyboardInterrupt()
    assert cli.run(["check", "hall.yaml"]) == 130
    captured = capsys.readouterr()
    assert (captured.out, captured.err.strip()) == ("", "")


def test_links_that_lead_in_a_circle_are_one_message(tmp_path, capsys) -> None:
    from axisproof.cli.main import run

    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    assert run(["check", str(tmp_path / "a")]) == 2
    assert "circle of links" in " ".join(capsys.readouterr().err.split())


def test_an_empty_path_is_not_taken_for_the_present_folder(capsys) -> None:
    from axisproof.cli.main import run

    assert run(["check", ""]) == 2
    assert "an empty path" in capsys.readouterr().err
