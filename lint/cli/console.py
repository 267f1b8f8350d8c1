"""What commands print, how it looks, and what they say when something cannot be done."""

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

    from ..findings.finding import Level
    from ..report.rendering import RenderOptions

PIPED_WIDTH: Final = 80
WIDEST: Final = 100
"""Prose is not spread wider than this over a wide terminal unless --width asks for it."""

LONG_RUN: Final = 10
"""Machines from which on a check shows its progress."""


def options_for(
    width: int | None,
    *,
    workings: bool = False,
    to_file: bool = False,
    error: bool = False,
    fail_at: Level | None = "warning",
) -> RenderOptions:
    """Return how to render for standard output, standard error or a file."""
    from ..report.rendering import RenderOptions

    stream = sys.stderr if error else sys.stdout
    terminal = not to_file and stream.isatty()
    if width is None:
        width = PIPED_WIDTH
        if terminal:
            import shutil

            width = max(50, min(shutil.get_terminal_size().columns, WIDEST))
    colour = terminal and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    return RenderOptions(width=width, colour=colour, workings=workings, fail_at=fail_at)


def show(text: str, options: RenderOptions, *, error: bool = False) -> bool:
    """Print to standard output or error; False if nobody reads it, which is no failure.

    Standard error is not complained about, however it fails: the exit status still tells.
    """
    from ..report.layout import encodable

    stream = sys.stderr if error else sys.stdout
    text = encodable(text, stream.encoding)
    with _forgiving(stream, OSError if error else BrokenPipeError):
        if options.colour:
            import click  # knows how each terminal shows colours

            click.echo(text, nl=False, file=stream, color=True)
        else:
            stream.write(text)
        stream.flush()
        return True
    return False


def say(line: str) -> None:
    """Print one line to standard output."""
    show(f"{line}\n", options_for(None))


def show_exactly(text: str) -> None:
    """Print to standard output in UTF-8, whatever the terminal's encoding: for programs."""
    with _forgiving(sys.stdout):
        sys.stdout.flush()
        sys.stdout.buffer.write(text.encode())
        sys.stdout.buffer.flush()


def hand_over(
    text: str,
    options: RenderOptions,
    *,
    form: str,
    output: Path | None,
    force: bool,
    read: Iterable[Path | str | None],
) -> None:
    """Print a report as its form wants it, or write it to ``output``: see ``write_new``."""
    if output is not None:
        write_new(output, text, force, read)
    elif form == "text":
        show(text, options)
    else:
        show_exactly(text)


def write_new(path: Path, text: str, force: bool, read: Iterable[Path | str | None]) -> None:
    """Write a text to a file that is none of those ``read`` (nor any in folders of them)."""
    from pathlib import Path

    from ..base.safe_write import refuse_to_replace, write_file

    sources: list[Path] = []
    for each in read:
        if each is not None:
            source = Path(each)
            sources += source.rglob("*") if source.is_dir() else [source]
    refuse_to_replace(path, force, sources)
    write_file(path, text, force=force)


@contextmanager
def _forgiving(stream: TextIO, forgiven: type[OSError] = BrokenPipeError) -> Iterator[None]:
    """Let a reader of ``stream`` that has gone away be no failure."""
    try:
        yield
    except forgiven:
        # What is still buffered would raise again when the interpreter ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


@contextmanager
def progress_bar() -> Iterator[dict[str, Any]]:
    """Give what lets api.check move a progress bar, on a terminal only; else nothing."""
    if not sys.stderr.isatty():
        yield {}
        return
    bars: list[Any] = []

    def progress(done: int, total: int) -> None:
        if not bars and total >= LONG_RUN:
            import click

            bars.append(click.progressbar(length=total, label="Checking", file=sys.stderr))
            bars[0].__enter__()
        if bars and done:
            bars[0].update(done - bars[0].pos)

    try:
        yield {"progress": progress}
    finally:
        if bars:
            bars[0].__exit__(*sys.exc_info())


def note(text: str) -> None:
    """Print, to standard error, something to know that changes nothing."""
    from ..report.blocks import hanging
    from ..report.layout import prose

    options = options_for(None, error=True)
    show("\n".join(hanging("Note: ", prose(text), options.width)) + "\n", options, error=True)


def explain_failure(error: Exception) -> int:
    """Print what went wrong, in words; return the exit status."""
    if os.environ.get("AXISPROOF_DEBUG") == "1":
        import traceback

        traceback.print_exception(error)
    from ..report.error_text import render_error

    options = options_for(None, error=True)
    show(render_error(_as_message(error), options), options, error=True)
    return 2


def _as_message(error: Exception) -> AxisproofError:
    """Return any failure as an error with words for the user."""
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
        f"{type(error).__name__}: {error}. This is a mistake in axisproof; please report it with "
        "the file that led to it. AXISPROOF_DEBUG=1 in the environment shows where it happened."
    )
