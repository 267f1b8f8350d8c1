"""Texts that would do harm if they reached a terminal or a page as they are."""

from __future__ import annotations

from axisproof.cli.main import run

from tests.captured import Captured

RULE = """language 2

rule site-hostile
  level   error
  title   {text}
  each    axis
  require axis.motor.serial is "nothing"
  say     {text} "{{axis.motor.serial}}"
  why     {text}
  remedy  {text}
  basis   {text}
  passes  "p" axis.motor.serial = "nothing"
  fails   {text} axis.motor.serial = {text}
"""


def rule_text(text: str) -> str:
    """A rule whose every text is ``text``; braces in a message would be a value."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("{", "{{").replace("}", "}}")
    return RULE.format(text=f'"{escaped}"')


def shown(capsys: Captured, *arguments: object) -> str:
    """What a command prints to either stream; it must not be an unforeseen failure."""
    status = run([str(each) for each in arguments])
    captured = capsys.readouterr()
    assert status in (0, 1, 2)
    assert "Unforeseen" not in captured.err, captured.err
    return captured.out + captured.err
