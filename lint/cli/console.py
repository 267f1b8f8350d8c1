"""The output of commands: text, files, progress and errors."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from ..base.errors import AxisproofError, InputError, UsageError

TYPE_CHECKING = False
if TYPE_CHECKING:
    from pathlib import Path
    from typing import Any, Final, TextIO

    from ..report.rendering import RenderOptions

WIDEST: Final = 100
"""Most columns of prose on a wide terminal, and those of text that is piped, without --width."""

LONG_RUN: Final = 10
"""Number of machines from which on a check shows its progress."""


def options_for(
    width: int | None,
    *,
    to_file: bool = False,
    error: bool = False,
    **look: Any,
) -> RenderOptions:
    """Return how to render for standard output, standard error or a file.

    ``look`` are further fields of RenderOptions.
    """
    from ..report.rendering import RenderOptions

    stream = sys.stderr if error else sys.stdout
    terminal = not to_file and stream.isatty()
    if width is None:
        width = WIDEST
        if terminal:
            import shutil

            width = max(50, min(shutil.get_terminal_size().columns, WIDEST))
    colour = terminal and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    return RenderOptions(width, colour, **look)


def print_text(text: str, options: RenderOptions, *, error: bool = False) -> bool:
    """Print to standard output or error; return False if nobody reads it, which is no failure.

    No failure of standard error raises, as the exit status still says what happened.
    """
    from ..report.ci_commands import without_commands
    from ..report.layout import encodable

    stream = sys.stderr if error else sys.stdout
    text = encodable(without_commands(text), stream.encoding)
    with _ignoring_closed_reader(stream, OSError if error else BrokenPipeError):
        if options.colour:
            import click  # it supports the colours of each terminal

            click.echo(text, nl=False, file=stream, color=True)
        else:
            stream.write(text)
        stream.flush()
        return True
    return False


def print_line(line: str) -> None:
    """Print one line to standard output."""
    print_text(f"{line}\n", options_for(None))


def write_utf8(text: str | Iterable[str]) -> None:
    """Write to standard output in UTF-8, whatever the terminal's encoding: for programs."""
    with _ignoring_closed_reader(sys.stdout):
        sys.stdout.flush()
        for piece in [text] if isinstance(text, str) else text:
            sys.stdout.buffer.write(piece.encode())
        sys.stdout.buffer.flush()


def output_text(
    text: str | Iterable[str],
    options: RenderOptions,
    *,
    form: str,
    output: Path | None,
    force: bool,
    inputs: Iterable[Path | str | None],
) -> None:
    """Print a report in its form, or write it to ``output``: see ``write_new``.

    The report can come in pieces. If one cannot be made, nothing is printed or written.
    """
    from ..base.set_aside import TextAside
    from ..report.ci_commands import without_commands

    if form == "text" and output is None:
        print_text(without_commands("".join(text), form), options)
        return
    whole = TextAside([text] if isinstance(text, str) else text)
    lines = (without_commands(each, form) for each in whole)
    if output is not None:
        write_new(output, lines, force, inputs)
    else:
        write_utf8(lines)


def write_new(
    path: Path, text: str | Iterable[str], force: bool, inputs: Iterable[Path | str | None]
) -> None:
    """Write a text to a file that is none of ``inputs``, nor in a folder among them."""
    from pathlib import Path

    from ..base.safe_write import refuse_to_replace, write_file

    def sources() -> Iterator[Path]:
        for each in inputs:
            if each is not None:
                source = Path(each)
                yield from source.rglob("*") if source.is_dir() else [source]

    refuse_to_replace(path, force, sources())
    write_file(path, text, force=force)


@contextmanager
def _ignoring_closed_reader(
    stream: TextIO, ignored: type[OSError] = BrokenPipeError
) -> Iterator[None]:
    """Ignore that the reader of ``stream`` has closed it."""
    try:
        yield
    except ignored:
        # Buffered text raises the error again when the interpreter ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


@contextmanager
def progress_bar() -> Iterator[dict[str, Any]]:
    """Give the argument that makes api.check move a progress bar; none without a terminal."""
    if not sys.stderr.isatty():
        yield {}
        return
    bars: list[Any] = []

    def progress(done: int, total: int) -> None:
        if not bars and total >= LONG_RUN:
            from rich.console import Console
            from rich.progress import BarColumn, Progress, TextColumn

            bar = BarColumn(style="dim", complete_style="bold", finished_style="bold")
            columns = "Checking", bar, TextColumn("{task.completed} of {task.total} machines")
            bars.append(Progress(*columns, console=Console(stderr=True), transient=True))
            bars[0].add_task("", total=total)
            bars[0].start()
        if bars and done:
            bars[0].update(bars[0].task_ids[0], completed=done)

    try:
        yield {"progress": progress}
    finally:
        if bars:
            bars[0].stop()


def print_note(text: str) -> None:
    """Print information that does not change the outcome, to standard error."""
    from ..report.blocks import hanging
    from ..report.layout import prose

    options = options_for(None, error=True)
    print_text("\n".join(hanging("Note: ", prose(text), options.width)) + "\n", options, error=True)


def explain_failure(error: Exception) -> int:
    """Print the message of an error; return the exit status."""
    if isinstance(error, SystemError) and "without exception set" in str(error):
        error = MemoryError()  # so Python itself ends a call that finds no room
    if isinstance(error, MemoryError):
        error.__traceback__ = None  # what the calls hold that ended goes free
    if os.environ.get("AXISPROOF_DEBUG") == "1":
        import traceback

        traceback.print_exception(error)
    from ..report.error_text import render_error

    options = options_for(None, error=True)
    print_text(render_error(_as_message(error), options), options, error=True)
    return 2


def _as_message(error: Exception) -> AxisproofError:
    """Return any failure as an error with a message for the user."""
    if isinstance(error, AxisproofError):
        return error
    if isinstance(error, OSError) and error.filename is not None:
        what = error.strerror or type(error).__name__
        return InputError(f"{os.fsdecode(error.filename)}: {what}")
    if isinstance(error, OSError):
        what = (error.strerror or str(error)).lower()
        return UsageError(
            f"standard output cannot be written: {what}", expected="a place that takes it"
        )
    return AxisproofError(
        f"{type(error).__name__}: {error}. This is a mistake in axisproof. Please report it with "
        "the file that caused it. AXISPROOF_DEBUG=1 in the environment shows where it happened."
    )


def require_usable(argument: str) -> None:
    """Raise UsageError for a text that no system can pass to a program or open as a file."""
    try:
        unusable = b"\0" in os.fsencode(argument)
    except UnicodeEncodeError:
        unusable = True
    if unusable:
        raise UsageError(
            f"the argument {argument} holds a character that no name of a file can hold",
            expected="an argument without it",
        )
