"""The command line: reads options, calls the API, prints. No logic of its own.

Exit status: 0 nothing at or above the failing level, 1 findings there, 2 unusable input or usage
(an unforeseen failure counts as that too), 130 interrupted.
"""

from __future__ import annotations

import datetime
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Literal, cast

import click

from .errors import AxisproofError, InputError, UsageError

if TYPE_CHECKING:
    from .finding import Level, Report
    from .report import RenderOptions

PIPED_WIDTH: Final = 80
WIDEST: Final = 100
"""Prose is not spread wider than this over a wide terminal unless --width asks for it."""

_SETTINGS: Final = {"help_option_names": ["-h", "--help"], "max_content_width": 90}
_FILE: Final = click.Path(path_type=Path)

_rules_option = click.option(
    "--rules",
    "rules",
    type=_FILE,
    multiple=True,
    metavar="DIR",
    help="Folder (or file) with rules of your site, beside the shipped ones; may be repeated.",
)
_width_option = click.option(
    "--width",
    type=click.IntRange(50, 400),
    metavar="N",
    help="Columns of text; otherwise those of the terminal up to 100, or 80 when piped.",
)


@click.group(context_settings=_SETTINGS, no_args_is_help=True)
@click.version_option(package_name="axisproof", message="axisproof %(version)s")
def cli() -> None:
    """Check that drive, encoder, controller and mechanics of servo axes tell the same story."""


@cli.command()
@click.argument("paths", nargs=-1, required=True, type=_FILE, metavar="PATH...")
@_rules_option
@click.option(
    "--settings",
    type=_FILE,
    metavar="FILE",
    help="File with settings of your site, each with its reason.",
)
@click.option(
    "--on",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="YYYY-MM-DD",
    help="Check as of this day (battery ages and the like); otherwise today.",
)
@click.option("--workings", is_flag=True, help="Derive every figure of a finding, step by step.")
@click.option(
    "--every-outcome", is_flag=True, help="List also what held and what did not apply, and why."
)
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="Form of the report; `axisproof schema findings` describes the json.",
)
@click.option("--output", type=_FILE, metavar="FILE", help="Write the report to a new file.")
@click.option("--force", is_flag=True, help="Let --output replace a file that exists.")
@click.option(
    "--fail-at",
    type=click.Choice(["error", "warning", "note", "never"]),
    default="warning",
    show_default=True,
    help="Exit with 1 if there is a finding of this level or a graver one.",
)
@click.option("--undecided-fails", is_flag=True, help="Exit with 1 also if a check is undecided.")
@_width_option
def check(
    paths: tuple[Path, ...],
    rules: tuple[Path, ...],
    settings: Path | None,
    on: datetime.datetime | None,
    workings: bool,
    every_outcome: bool,
    form: Literal["text", "json"],
    output: Path | None,
    force: bool,
    fail_at: str,
    undecided_fails: bool,
    width: int | None,
) -> int:
    """Check machine files, or all of them in a folder, and print findings.

    Exits with 0 if there is no finding at or above the failing level, 1 if there is one, 2 if the
    input or a rule cannot be used.
    """
    from . import api

    _refuse_existing(output, force)
    report = api.check(
        paths,
        rules=rules,
        settings=settings,
        on=on.date() if on else None,
        workings=workings,
        every_outcome=every_outcome,
    )
    options = _options(width, workings=workings, to_file=output is not None)
    if form == "json":
        from .report.json import render
    else:
        from .report.text import render
    text = render(report, options)
    if output is None:
        _show(text, options)
    else:
        _write(text, output, force, report)
    failed = fail_at != "never" and report.at_or_above(cast("Level", fail_at)) > 0
    return int(failed or (undecided_fails and bool(report.undecided)))


@cli.command()
@click.argument("rule", metavar="RULE")
@_rules_option
@click.option("--source", is_flag=True, help="Print also the rule as it is written.")
@_width_option
def explain(rule: str, rules: tuple[Path, ...], source: bool, width: int | None) -> None:
    """Print what a rule requires and why, its basis, settings and examples."""
    from . import api
    from .report.rule_text import render_rule

    options = _options(width)
    _show(render_rule(api.explain(rule, rules), options, source=source), options)


@cli.group("rules")
def rules_group() -> None:
    """List rules and their settings, or run their examples."""


@rules_group.command("list")
@_rules_option
@click.option("--settings", is_flag=True, help="List the settings a site may change instead.")
@_width_option
def list_rules(rules: tuple[Path, ...], settings: bool, width: int | None) -> None:
    """List the shipped rules and those of your site."""
    from . import api
    from .report.rule_text import render_rules, render_settings

    options = _options(width)
    if settings:
        _show(render_settings(api.list_settings(rules), options), options)
    else:
        _show(render_rules(api.list_rules(rules), options), options)


@rules_group.command("test")
@click.argument("paths", nargs=-1, type=_FILE, metavar="[PATH...]")
@_width_option
def test_rules(paths: tuple[Path, ...], width: int | None) -> int:
    """Run the examples of the rules at PATH; without PATH, those of the shipped rules.

    Exits with 1 if an example disagrees with its rule, or if the examples of a rule do not tell it
    from a slightly altered one.
    """
    from . import api
    from .report.rule_text import render_rule_test

    options = _options(width)
    report = api.test_rules(paths)
    _show(render_rule_test(report, options), options)
    return int(bool(report.faults))


@cli.command()
@click.argument("name", type=click.Choice(["machine", "findings"]), default="machine")
def schema(name: str) -> None:
    """Print a published JSON Schema: of machine files (default) or of json reports."""
    from importlib.resources import files

    text = files("axisproof.schemas").joinpath(f"{name}.schema.json").read_text("utf-8")
    _show(text, _options(None))


# Output


def _options(
    width: int | None, *, workings: bool = False, to_file: bool = False, error: bool = False
) -> RenderOptions:
    """Return how to render for standard output, standard error or a file."""
    from .report import RenderOptions

    stream = sys.stderr if error else sys.stdout
    terminal = not to_file and stream.isatty()
    if width is None:
        width = PIPED_WIDTH
        if terminal:
            import shutil

            width = max(50, min(shutil.get_terminal_size().columns, WIDEST))
    colour = terminal and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    return RenderOptions(width=width, colour=colour, workings=workings)


def _show(text: str, options: RenderOptions, *, error: bool = False) -> None:
    """Print to standard output or error; a reader that has gone away is no failure."""
    from .report.layout import encodable

    stream = sys.stderr if error else sys.stdout
    try:
        click.echo(encodable(text, stream.encoding), nl=False, file=stream, color=options.colour)
        stream.flush()
    except BrokenPipeError:
        # What is still buffered would raise again when the interpreter ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _refuse_existing(output: Path | None, force: bool) -> None:
    if output is not None and not force and os.path.lexists(output):
        raise UsageError(
            f"{output} exists and would be overwritten",
            expected="a new file for --output, or --force",
        )


def _write(text: str, output: Path, force: bool, report: Report) -> None:
    if output.exists() and any(
        Path(file).exists() and output.samefile(file) for file in report.files
    ):
        raise UsageError(
            f"{output} is one of the files that were checked and is not overwritten",
            expected="another file for --output",
        )
    try:
        with output.open("w" if force else "x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
    except FileExistsError:
        _refuse_existing(output, force)
        raise


# Failure


def run(arguments: Sequence[str] | None = None) -> int:
    """Run a command (``sys.argv`` by default) and return its exit status; never raises."""
    try:
        # click's own handling is off: all messages look alike, and status 1 means findings only.
        status: Any = cli.main(arguments, prog_name="axisproof", standalone_mode=False)
        return status if isinstance(status, int) else 0
    except (KeyboardInterrupt, click.Abort):
        return 130
    except click.exceptions.NoArgsIsHelpError as error:
        click.echo(error.format_message(), err=True)
        return 2
    except Exception as error:
        return _explain_failure(error)


def _explain_failure(error: Exception) -> int:
    if os.environ.get("AXISPROOF_DEBUG") == "1" and not isinstance(error, click.ClickException):
        import traceback

        traceback.print_exception(error)
    from .report.error_text import render_error

    options = _options(None, error=True)
    _show(render_error(_as_message(error), options), options, error=True)
    return 2


def _as_message(error: Exception) -> AxisproofError:
    """Return any failure as an error with words for the user."""
    if isinstance(error, AxisproofError):
        return error
    if isinstance(error, click.ClickException):
        context = getattr(error, "ctx", None)
        command = context.command_path if context else "axisproof"
        return UsageError(error.format_message(), expected=f"what `{command} --help` lists")
    if isinstance(error, OSError) and error.filename is not None:
        what = error.strerror or type(error).__name__
        return InputError(f"{os.fsdecode(error.filename)}: {what}")
    if isinstance(error, OSError):
        return UsageError(f"the output cannot be written: {error.strerror or error}")
    return AxisproofError(
        f"{type(error).__name__}: {error}. This is a mistake in axisproof; please report it with "
        "the file that led to it. AXISPROOF_DEBUG=1 in the environment shows where it happened."
    )


def main() -> None:
    """Entry point of the ``axisproof`` command."""
    sys.exit(run())
