"""The help of the command line, which is often the first text that somebody reads."""

from __future__ import annotations

from collections.abc import Iterator

import click
import pytest
from axisproof.cli.main import cli

from .measuring import DESCRIBES, offences


def commands(command: click.Command, name: str) -> Iterator[tuple[str, click.Command]]:
    """A command and all below it, by their full names."""
    yield name, command
    if isinstance(command, click.Group):
        for word, below in command.commands.items():
            yield from commands(below, f"{name} {word}")


def texts(command: click.Command) -> Iterator[str]:
    """The paragraphs of a command's help, and the help of its options."""
    for paragraph in (command.help or "").split("\n\n"):
        yield " ".join(paragraph.split())
    for parameter in command.params:
        if isinstance(parameter, click.Option) and parameter.help:
            yield parameter.help


ALL = dict(commands(cli, "axisproof"))


@pytest.mark.parametrize("name", ALL)
def test_help_is_written_for_people(name: str) -> None:
    found = list(filter(None, texts(ALL[name])))
    wrong = [each for text in found for each in offences(name, text, DESCRIBES)]
    assert found
    told = "\n".join(f"{each.what}\n    {each.text}" for each in wrong)
    assert not wrong, f"\n{told}"
