"""The command ``check`` after its options are read: check, print or write the report, watch."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence

from ..base.errors import UsageError
from ..base.lazy import dataclass
from .console import (
    explain_failure,
    options_for,
    output_text,
    print_note,
    print_text,
    progress_bar,
    write_new,
)

TYPE_CHECKING = False
if TYPE_CHECKING:
    import datetime
    from pathlib import Path

    from .. import api
    from ..findings.finding import Level, Report


@dataclass(frozen=True, slots=True)
class CheckCommand:
    """The options of the command; their defaults are those of the command line."""

    rules: tuple[Path, ...] = ()
    settings: Path | None = None
    on: datetime.date | None = None
    workings: bool = False
    every_outcome: bool = False
    pictures: bool = False
    form: str = "text"
    output: Path | None = None
    force: bool = False
    fail_at: Level | None = "warning"
    waivers: Path | None = None
    accepted: Path | None = None
    undecided_fails: bool = False
    watch: bool = False
    jobs: int | None = None
    cache: Path | None = None
    no_cache: bool = False
    shard: str = ""
    record: Path | None = None
    width: int | None = None


def check_and_show(paths: Sequence[Path], options: CheckCommand) -> int:
    """Check machines and print the report, or write it to the output; return the exit status.

    Raises as ``api.check`` does, UsageError for options that exclude each other, and what
    ``write_file`` raises.
    """
    _refuse_conflicts(options)
    if options.watch:
        return _watch(paths, options)
    record_texts: list[str] = []
    report = _check(paths, options, record_texts)
    side_files = [options.settings, options.waivers, options.accepted]
    if options.record is not None:
        inputs = [*report.files, *options.rules, *side_files]
        write_new(options.record, record_texts[0], options.force, inputs)
    return render_and_output(
        report,
        form=options.form,
        output=options.output,
        force=options.force,
        fail_at=options.fail_at,
        undecided_fails=options.undecided_fails,
        workings=options.workings,
        width=options.width,
        inputs=[*report.files, *options.rules, *side_files, options.record],
    )


def _refuse_conflicts(options: CheckCommand) -> None:
    """Raise UsageError for options that exclude each other."""
    if options.shard and (options.waivers or options.accepted):
        raise UsageError(
            "--waivers and --accepted cannot be judged by one shard",
            expected="them with `axisproof merge`, and --fail-at never here",
        )
    if not options.watch:
        return
    if options.form != "text" or options.output is not None:
        raise UsageError("--watch goes with neither --format nor --output", expected="text")
    if options.shard or options.record is not None:
        raise UsageError("--watch goes with neither --shard nor --record", expected="text")


def _check(paths: Sequence[Path], options: CheckCommand, record_texts: list[str]) -> Report:
    """Check machines; ``record_texts`` gets the text of the record if there is a file for it."""
    from .. import api

    with progress_bar() as progress:
        return api.check(
            paths,
            _asked(options),
            noted=print_note,
            recorded=None if options.record is None else record_texts.append,
            **progress,
        )


def _asked(options: CheckCommand) -> api.CheckOptions:
    """What the command asks for, and what the form of its report needs."""
    from .. import api
    from ..report.formats import FORMS

    needs = FORMS[options.form]
    cache = options.cache or os.environ.get("AXISPROOF_CACHE") or None
    return api.CheckOptions(
        rules=options.rules,
        settings=options.settings,
        on=options.on,
        waivers=options.waivers,
        accepted=options.accepted,
        workings=options.workings or needs.workings,
        every_outcome=options.every_outcome or needs.every_outcome,
        sketches=options.pictures or needs.sketches,
        jobs=options.jobs,
        cache=None if options.no_cache else cache,
        shard=options.shard,
    )


def render_and_output(
    report: Report,
    *,
    form: str,
    output: Path | None,
    force: bool,
    fail_at: Level | None,
    undecided_fails: bool,
    workings: bool,
    width: int | None,
    inputs: Iterable[Path | str | None],
) -> int:
    """Print a report, or write it to ``output``; return the exit status.

    ``inputs`` are files and folders that ``output`` must not replace.
    """
    from ..report.formats import renderer

    options = options_for(width, workings=workings, to_file=output is not None, fail_at=fail_at)
    text = renderer(form)(report, options)
    output_text(text, options, form=form, output=output, force=force, inputs=inputs)
    failed = fail_at is not None and (
        report.at_or_above(fail_at) > 0 or bool(report.undecided_concerns)
    )
    return int(failed or (undecided_fails and bool(report.undecided)))


def _watch(paths: Sequence[Path], options: CheckCommand) -> int:
    """Print a report now and after every change, below the text that is already on the screen."""
    from pathlib import Path

    from ..report.layout import visible
    from ..report.text import render
    from .watching import watch

    side_files = filter(None, (options.settings, options.waivers, options.accepted))
    watched = [*paths, *options.rules, *side_files]
    for path in watched:  # a file that goes later may return, but a wrong name never exists
        if not os.path.exists(path):
            raise UsageError(f"there is no file or folder {path}")
    render_options = options_for(options.width, workings=options.workings)

    def check_once() -> list[Path]:
        files: list[Path] = []
        has_reader = True
        try:
            report = _check(paths, options, [])
            has_reader = print_text(render(report, render_options), render_options)
            files = [Path(file) for file in report.files]
        except Exception as error:  # a file that is half saved does not end the watch
            explain_failure(error)
        text = f"\nWatching for changes since {_now()}; Ctrl-C ends.\n"
        if not (has_reader and print_text(text, render_options)):
            raise BrokenPipeError
        return files

    def print_changed(files: Sequence[Path]) -> None:
        names = ", ".join(visible(path.name) for path in files[:5])
        line = "═" * render_options.width
        if not print_text(f"\n{line}\n{_now()}  changed: {names}\n\n", render_options):
            raise BrokenPipeError

    try:
        watch(watched, check_once, print_changed)
    except BrokenPipeError:  # nobody reads the output any more
        return 0


def _now() -> str:
    from datetime import datetime

    return datetime.now().strftime("%H:%M:%S")
