"""The command ``check``, once its options are read: check, show or write the report, watch."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Sequence

from ..base.errors import UsageError
from .console import explain_failure, hand_over, note, options_for, progress_bar, show, write_new

TYPE_CHECKING = False
if TYPE_CHECKING:
    import datetime
    from pathlib import Path

    from ..findings.finding import Level, Report


def check_and_show(
    paths: Sequence[Path],
    *,
    rules: Sequence[Path] = (),
    settings: Path | None = None,
    on: datetime.date | None = None,
    workings: bool = False,
    every_outcome: bool = False,
    pictures: bool = False,
    form: str = "text",
    output: Path | None = None,
    force: bool = False,
    fail_at: Level | None = "warning",
    waivers: Path | None = None,
    accepted: Path | None = None,
    undecided_fails: bool = False,
    watch: bool = False,
    jobs: int | None = None,
    cache: Path | None = None,
    no_cache: bool = False,
    shard: str = "",
    record: Path | None = None,
    width: int | None = None,
) -> int:
    """Check machines and print the report, or write it to ``output``; return the exit status.

    The defaults are those of the command line. Raises as ``api.check`` does, UsageError for options
    that do not go together, and what ``write_file`` raises.
    """
    from .. import api
    from ..report.formats import FORMS

    needs = FORMS[form]
    kept_in = None if no_cache else cache or os.environ.get("AXISPROOF_CACHE") or None
    recorded: list[str] = []

    def checked() -> Report:
        with progress_bar() as progress:
            return api.check(
                paths,
                rules=rules,
                settings=settings,
                on=on,
                workings=workings or needs.workings,
                every_outcome=every_outcome or needs.every_outcome,
                sketches=pictures or needs.sketches,
                waivers=waivers,
                accepted=accepted,
                jobs=jobs,
                cache=kept_in,
                noted=note,
                shard=shard,
                recorded=None if record is None else recorded.append,
                **progress,
            )

    if shard and (waivers or accepted):
        raise UsageError(
            "--waivers and --accepted cannot be judged by one shard",
            expected="them with `axisproof merge`, and --fail-at never here",
        )
    if watch:
        if form != "text" or output is not None:
            raise UsageError("--watch goes with neither --format nor --output", expected="text")
        if shard or record is not None:
            raise UsageError("--watch goes with neither --shard nor --record", expected="text")
        given = [*paths, *rules, *filter(None, (settings, waivers, accepted))]
        for path in given:  # one that goes later may come back, one mistyped never comes
            if not os.path.exists(path):
                raise UsageError(f"there is no file or folder {path}")
        return _watch(given, checked, width, workings)
    report = checked()
    read = [settings, waivers, accepted]
    if record is not None:
        write_new(record, recorded[0], force, [*report.files, *rules, *read])
    return deliver(
        report,
        form=form,
        output=output,
        force=force,
        fail_at=fail_at,
        undecided_fails=undecided_fails,
        workings=workings,
        width=width,
        read=[*report.files, *rules, *read, record],
    )


def deliver(
    report: Report,
    *,
    form: str,
    output: Path | None,
    force: bool,
    fail_at: Level | None,
    undecided_fails: bool,
    workings: bool,
    width: int | None,
    read: Iterable[Path | str | None],
) -> int:
    """Print a report, or write it to ``output``; return the exit status.

    ``read`` are files and folders that ``output`` must not replace.
    """
    from ..report.formats import renderer

    options = options_for(width, workings=workings, to_file=output is not None, fail_at=fail_at)
    text = renderer(form)(report, options)
    hand_over(text, options, form=form, output=output, force=force, read=read)
    failed = fail_at is not None and report.at_or_above(fail_at) > 0
    return int(failed or (undecided_fails and bool(report.undecided)))


def _watch(
    given: list[Path], checked: Callable[[], Report], width: int | None, workings: bool
) -> int:
    """Print a report now and after every change; what stood on the screen stays there."""
    from pathlib import Path

    from ..report.layout import visible
    from ..report.text import render
    from .watching import watch

    options = options_for(width, workings=workings)

    def once() -> list[Path]:
        files: list[Path] = []
        read = True
        try:
            report = checked()
            read = show(render(report, options), options)
            files = [Path(file) for file in report.files]
        except Exception as error:  # a file half saved is no reason to stop watching
            explain_failure(error)
        told = f"\nWatching for changes since {_now()}; Ctrl-C ends.\n"
        if not (read and show(told, options)):
            raise BrokenPipeError
        return files

    def changed(files: Sequence[Path]) -> None:
        names = ", ".join(visible(path.name) for path in files[:5])
        told = f"\n{'═' * options.width}\n{_now()}  changed: {names}\n\n"
        if not show(told, options):
            raise BrokenPipeError

    try:
        watch(given, once, changed)
    except BrokenPipeError:  # nobody reads it any more
        return 0


def _now() -> str:
    from datetime import datetime

    return datetime.now().strftime("%H:%M:%S")
