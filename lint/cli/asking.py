"""The command that asks for the facts of a machine file, one after the other."""

from __future__ import annotations

import datetime
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from ..base.errors import InputError, UsageError
from .console import options_for, print_line, print_text
from .options import (
    FILE,
    day_option,
    rules_option,
    settings_option,
    shelf_option,
    site_option,
    width_option,
)

if TYPE_CHECKING:
    from ..authoring.conversation import Conversation
    from ..authoring.questions import Question, Reply
    from ..findings.finding import Finding
    from ..report.rendering import RenderOptions

_EXAMPLES: Final = """\b
Examples:
  axisproof init hall.yaml --machine Hall --axis lift:screw
  axisproof ask hall.yaml
  axisproof ask hall.yaml < answers.txt

\b
What you can type:
  a value       with its unit, such as 500 mm/s
  `none`        the thing is not there. The command says it as a sentence and asks
  Enter alone   the fact stays open for now
  don't know    the fact stays open. A comment in FILE keeps that, and later runs ask for it last
  stop          or Ctrl-D: the end for now. A later run goes on from the file

\b
Exit status:
  0    the conversation ended, or you stopped it
  2    the input, a rule or the command line cannot be used, or the last answer could not be written
  130  interrupted
"""
_NOT_KNOWN: Final = frozenset({"don't know", "dont know", "do not know", "not known", "?"})
_END: Final = frozenset({"stop", "quit", "exit"})
_AGREES: Final = frozenset({"yes", "y"})

Ask = Callable[[str, Sequence[str]], str]
"""Asks for a line, with words to complete. Raises EOFError at the end of the input."""


class _Stop(Exception):
    """Somebody ended the conversation."""


@dataclass(frozen=True, slots=True)
class _Open:
    """A question that stays open; ``for_later_runs``: somebody said that it is not known."""

    for_later_runs: bool


def register(group: click.Group) -> None:
    """Add the command to the command line."""
    group.add_command(ask)


@click.command("ask", epilog=_EXAMPLES)
@click.argument("file", type=FILE, metavar="FILE")
@rules_option
@settings_option
@shelf_option
@day_option("Check for this day. Default: today.")
@width_option
@site_option
def ask(
    file: Path,
    rules: tuple[Path, ...],
    settings: Path | None,
    shelf: Path | None,
    on: datetime.datetime | None,
    width: int | None,
    no_site_file: bool,
) -> int:
    """Ask for missing facts and show each finding at once.

    The next question leads to most verdicts for few answers. Errors count most. Each answer is
    written into FILE before the next question. Comments and order stay. No value is ever assumed.
    If nobody sits at a terminal, answers are read from standard input, one on each line. If there
    is a shelf of plates, the type of a part comes before its facts.
    """
    from ..authoring.conversation import Conversation
    from .site import site_for

    if str(file) == "-":
        what = "the command writes each answer into the file, and reads answers from standard input"
        raise UsageError(what, expected="a machine file by its name")
    if site := site_for((file,), no_site_file):
        rules, settings = rules or site.rules, settings or site.settings
        shelf = shelf or site.shelf
    talk = Conversation(file, rules, settings, on.date() if on else None, shelf)
    options = options_for(width)
    _open(talk, file, options)
    asking = _terminal() if sys.stdin.isatty() and sys.stdout.isatty() else _lines()
    shown = False
    try:
        while (asked := talk.next_question()) is not None:
            found = _one_question(talk, asked, asking, options)
            if found:
                _show(found, options, caution=not shown)
                shown = True
    except (EOFError, _Stop):
        print_line("")
    _close(talk, file, options)
    return 2 if talk.unwritten else 0


def _open(talk: Conversation, file: Path, options: RenderOptions) -> None:
    from ..report.words import counted

    text = "Enter leaves a fact open. `none` says that a thing is not there. `stop` ends.\n"
    if talk.findings:
        number = counted(len(talk.findings), "finding")
        text += f"The file has {number} already. `axisproof check {file}` shows them.\n"
    print_text(text, options)


def _close(talk: Conversation, file: Path, options: RenderOptions) -> None:
    from ..report.words import counted

    text = f"{counted(talk.answered, 'fact')} written, {talk.open} left open. "
    text += f"{counted(len(talk.findings), 'finding')} so far.\n"
    text += f"`axisproof check {file}` shows the whole report, and what could not be checked.\n"
    print_text(text, options)


def _one_question(
    talk: Conversation, asked: Question, asking: Ask, options: RenderOptions
) -> list[Finding]:
    """Ask one question until the answer is taken; return the findings that it brings."""
    print_text("\n" + _question_text(talk, asked, options), options)
    while True:
        answers = _answers(talk, asked, asking, options)
        try:
            if isinstance(answers, _Open):
                talk.not_known(asked, keep=answers.for_later_runs)
                print_line("Left open. Checks that need this fact cannot be decided.")
                return []
            return talk.take(answers)
        except (InputError, UsageError) as error:
            expected = f" Expected: {error.expected}." if error.expected else ""
            print_line(f"Not taken: {error.what}.{expected}")


def _question_text(talk: Conversation, asked: Question, options: RenderOptions) -> str:
    from ..report.layout import prose
    from ..report.words import counted

    reason = talk.reason
    assert reason is not None
    lines = [f"{asked.subject}: {asked.what}."]
    if asked.where:
        lines.append(f"Where: {asked.where}")
    lines.append(f"Type {asked.takes}")
    number = f"{counted(reason.lacks, 'fact')} or more"
    lines.append(f"For the check: {reason.title}. It still lacks {number}.")
    return _wrapped(map(prose, lines), options)


def _wrapped(lines: Iterable[str], options: RenderOptions) -> str:
    from ..report.blocks import hanging

    found: list[str] = []
    for number, line in enumerate(lines):
        found += hanging("  " if number else "", line, options.width)
    return "\n".join(found) + "\n"


def _answers(
    talk: Conversation, asked: Question, asking: Ask, options: RenderOptions
) -> list[Reply] | _Open:
    """The answer to a question, and what its items must state; or that it stays open."""
    first = _answer(asked, asking)
    if isinstance(first, _Open):
        return first
    answers = [first]
    if first.value in ("none", []):
        return answers
    count = len(first.value) if isinstance(first.value, list) else 0
    for detail in talk.details(asked, count):
        print_text(
            _wrapped([f"{detail.subject}: {detail.what}.", f"Type {detail.takes}"], options),
            options,
        )
        inner = _answer(detail, asking)
        if isinstance(inner, _Open):
            print_line("Without this fact the file cannot state the others.")
            return inner
        answers.append(inner)
    return answers


def _answer(asked: Question, asking: Ask) -> Reply | _Open:
    """One line as an answer; a bad value gets one message, and the question comes again."""
    from ..authoring.questions import absence, absence_sentence, read_answer
    from ..machine.value_reader import Refusal

    while True:
        typed = asking("> ", asked.words).strip()
        word = typed.lower().replace("’", "'")
        if not word or word in _NOT_KNOWN:
            return _Open(bool(word))
        if word in _END:
            raise _Stop
        try:
            if word != "none" and not (
                word == "0" and absence_sentence(asked) and not asked.absent
            ):
                return read_answer(asked, typed)
            answer = absence(asked)
        except Refusal as refused:
            print_line(f"Not taken: the value {refused.what}. Expected: {refused.expected}.")
            continue
        sentence = absence_sentence(asked)
        agreed = asking(f"{sentence} Is that so? yes or no > ", ("yes", "no"))
        if agreed.strip().lower() in _AGREES:
            return answer
        print_line("Not written. Type the value, or Enter to leave it open.")


def _show(found: Sequence[Finding], options: RenderOptions, *, caution: bool) -> None:
    from ..report.finding_text import finding_lines
    from ..report.layout import wrap
    from ..report.rendering import CAUTION

    lines = [""]
    if caution:
        lines += [*wrap(CAUTION, options.width), ""]
    for finding in found:
        lines += [*finding_lines(finding, options), ""]
    print_text("\n".join(lines[:-1]) + "\n", options)


def _terminal() -> Ask:
    """Ask at a terminal, with completion of words."""
    try:
        from prompt_toolkit import PromptSession
        from prompt_toolkit.completion import WordCompleter
        from prompt_toolkit.shortcuts import CompleteStyle
    except ModuleNotFoundError as missing:
        if (missing.name or "").partition(".")[0] != "prompt_toolkit":
            raise
        raise UsageError(
            "a conversation needs the package prompt_toolkit, which is not installed",
            expected="axisproof installed with all that it depends on",
        ) from None
    session: PromptSession[str] = PromptSession(
        complete_style=CompleteStyle.READLINE_LIKE, reserve_space_for_menu=0
    )

    def asking(prompt: str, words: Sequence[str]) -> str:
        return session.prompt(prompt, completer=WordCompleter(list(words)))

    return asking


def _lines() -> Ask:
    """Read answers from standard input, one a line, and print each after its prompt."""

    def asking(prompt: str, words: Sequence[str]) -> str:
        line = sys.stdin.readline()
        if not line:
            raise EOFError
        print_line(f"{prompt}{line.rstrip()}")
        return line

    return asking
