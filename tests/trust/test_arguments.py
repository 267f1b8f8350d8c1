"""Arguments and paths that hold what no system can pass or open are refused in one message."""

from __future__ import annotations

import pytest
from axisproof import api
from axisproof.base.errors import UsageError
from axisproof.cli.main import run


@pytest.mark.parametrize("text", ["\0", "a\0b.yaml", "\ud800"])
@pytest.mark.parametrize(
    "command",
    [["check"], ["show"], ["check", "m", "--rules"], ["merge"], ["check", "m", "--output"]],
    ids=" ".join,
)
def test_an_argument_that_no_system_can_open_is_one_message(
    command: list[str], text: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run([*command, text]) == 2
    told = capsys.readouterr().err
    assert "holds a character that no name of a file can hold" in " ".join(told.split())
    assert "\0" not in told


@pytest.mark.parametrize("text", ["\0", "a\0b.yaml", "\ud800"])
def test_a_path_that_no_system_can_open_is_one_error(text: str) -> None:
    with pytest.raises(UsageError, match="there is no file or folder"):
        api.check([text])
