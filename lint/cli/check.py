"""The command ``check`` after its options are read: check, print or write the report, watch."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from contextlib import nullcontext
from itertools import chain

from ..base.errors import UsageError
from ..base.lazy import dataclass, replace
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
    from concurrent.futures import Executor
    from contextlib import AbstractContextManager
    from pathlib import Path
    from typing import Any

    from .. import api
    from ..findings.finding import Level, Report
    from ..importing.site_file import SiteFile


@dataclass(frozen=True, slots=True)
class CheckCommand:
    """The options of the command; their defaults are those of the command line."""

    rules: tuple[Path, ...] = ()
    settings: Path | None = None
    shelf: Path | None = None
    on: datetime.date | None = None
    detail: bool = False
    workings: bool = False
    quiet: bool = False
    statistics: bool = False
    select: tuple[str, ...] = ()
    axis: tuple[str, ...] = ()
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
    cluster: str | None = None
    cache: Path | None = None
    no_cache: bool = False
    shard: str = ""
    record: Path | None = None
    width: int | None = None
    verbose: bool = False
    no_site_file: bool = False
    given: frozenset[str] = frozenset()
    """Of ``form`` and ``fail_at``, those that the command line states."""


def with_site_file(paths: Sequence[Path], options: CheckCommand) -> tuple[CheckCommand, Any]:
    """The options with form and failing level of the site file, and that file without both.

    The file is None where there is none, or if it is not to count. Raises as ``find_site_file``.
    """
    if options.no_site_file:
        return options, None
    from ..importing.site_file import find_site_file

    site = find_site_file(paths)
    if site is None:
        return options, None
    if "fail_at" in options.given:
        site = site.without(("fail_at",))
    form = site.forms.get("check") if not {"form"} & options.given else None
    level: Any = site.fail_at or options.fail_at
    return replace(options, form=form or options.form, fail_at=level), site


def check_and_show(paths: Sequence[Path], options: CheckCommand) -> int:
    """Check machines and print the report, or write it to the output; return the exit status.

    Raises as ``api.check`` does, UsageError for options that exclude each other, and what
    ``write_file`` raises.
    """
    _refuse_conflicts(options)
    texts = _standard_input(paths, options)
    if options.watch:
        return _watch(paths, options)
    options, site = with_site_file(paths, options)
    _refuse_conflicts(options)
    records: list[Iterable[str]] = []
    report = _check(paths, options, records, site, texts)
    view = _narrowed(report, options, site)
    named = (options.settings, options.waivers, options.accepted, options.shelf)
    side_files = [*named, *_files_of(site)]
    if options.record is not None:
        inputs = chain(report.files, options.rules, side_files)
        write_new(options.record, records[0], options.force, inputs)
    return render_and_output(
        report,
        view,
        form=options.form,
        output=options.output,
        force=options.force,
        fail_at=options.fail_at,
        undecided_fails=options.undecided_fails,
        width=options.width,
        look=_look(options),
        inputs=chain(report.files, options.rules, side_files, [options.record]),
    )


def _look(options: CheckCommand) -> dict[str, Any]:
    """How the report looks, by fields of RenderOptions."""
    names = ("detail", "workings", "quiet", "statistics", "verbose")
    return {name: getattr(options, name) for name in names}


def _refuse_conflicts(options: CheckCommand) -> None:
    """Raise UsageError for options that exclude each other."""
    if options.cluster is not None and options.jobs is not None:
        raise UsageError("--jobs and --cluster exclude each other", expected="one of them")
    if options.form != "text" and (options.quiet or options.statistics):
        raise UsageError("--quiet and --statistics belong to --format text", expected="text")
    if options.shard and (options.select or options.axis):
        raise UsageError(
            "--select and --axis narrow a whole report, not a shard",
            expected="the shard without them",
        )
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


def _standard_input(paths: Sequence[Path], options: CheckCommand) -> dict[Path, str] | None:
    """The text of standard input by its path ``-``, if that is to be checked; else None.

    Raises InputError for one that is too large or no UTF-8, UsageError for options that read twice.
    """
    if all(str(path) != "-" for path in paths):
        return None
    if options.watch or options.shard or options.record is not None:
        raise UsageError(
            "standard input can be read only once", expected="a file, or no --watch and no --shard"
        )
    from ..source.standard_input import standard_input

    return standard_input(paths)


def _files_of(site: SiteFile | None) -> tuple[Path, ...]:
    return () if site is None else site.files


def _check(
    paths: Sequence[Path],
    options: CheckCommand,
    records: list[Iterable[str]],
    site: SiteFile | None,
    texts: dict[Path, str] | None = None,
) -> Report:
    """Check machines; ``records`` gets the text of the record if there is a file for it."""
    from .. import api

    with _workers(options.cluster) as executor, progress_bar() as progress:
        return api.check(
            paths,
            _asked(options, site, texts),
            executor=executor,
            noted=print_note,
            recorded=None if options.record is None else records.append,
            **progress,
        )


def _workers(address: str | None) -> AbstractContextManager[Executor | None]:
    """The workers of the scheduler at an address; None without one."""
    if address is None:
        return nullcontext()
    from ..batch.cluster import cluster

    return cluster(address)


def _narrowed(report: Report, options: CheckCommand, site: SiteFile | None) -> Report:
    """The part of a report that the command asks for; all of it without --select and --axis."""
    if not options.select and not options.axis:
        return report
    from .. import api
    from ..report.formats import FORMS

    kept = options.every_outcome or FORMS[options.form].every_outcome
    rules = options.rules or (site.rules if site else ())
    return api.narrowed(report, options.select, options.axis, rules, outcomes=kept)


def _asked(
    options: CheckCommand, site: SiteFile | None, texts: dict[Path, str] | None
) -> api.CheckOptions:
    """What the command asks for, and what the form of its report needs."""
    from .. import api
    from ..report.formats import FORMS

    needs = FORMS[options.form]
    cache = options.cache or os.environ.get("AXISPROOF_CACHE") or None
    return api.CheckOptions(
        rules=options.rules,
        settings=options.settings,
        shelf=options.shelf,
        on=options.on,
        waivers=options.waivers,
        accepted=options.accepted,
        workings=options.workings or needs.workings,
        every_outcome=options.every_outcome or needs.every_outcome or bool(options.select),
        sketches=options.pictures or needs.sketches,
        jobs=options.jobs,
        cache=None if options.no_cache else cache,
        shard=options.shard,
        partial=True,
        site=site,
        texts=texts,
    )


def render_and_output(
    report: Report,
    view: Report,
    *,
    form: str,
    output: Path | None,
    force: bool,
    fail_at: Level | None,
    undecided_fails: bool,
    width: int | None,
    look: Mapping[str, Any],
    inputs: Iterable[Path | str | None],
) -> int:
    """Print what ``view`` shows of a report, or write it to ``output``; return the exit status.

    The status is that of the whole report. ``look`` are fields of RenderOptions. ``inputs`` are
    files and folders that ``output`` must not replace. A report that is not whole ends in 2.
    """
    from ..report.formats import rendered

    options = options_for(width, to_file=output is not None, fail_at=fail_at, **look)
    text = rendered(form, view, options)
    output_text(text, options, form=form, output=output, force=force, inputs=inputs)
    if report.unusable:
        if output is not None or form != "text":
            print_note(_not_whole([each.file for each in report.unusable]))
        return 2
    failed = fail_at is not None and (
        report.at_or_above(fail_at) > 0 or bool(report.undecided_concerns)
    )
    return int(failed or (undecided_fails and bool(report.undecided)))


def _not_whole(files: Sequence[str]) -> str:
    """Return what standard error says of a report from which files are missing."""
    from ..report.layout import visible

    first = ", ".join(visible(file) for file in files[:5])
    more = f" and {len(files) - 5} more" if len(files) > 5 else ""
    verb = "was" if len(files) == 1 else "were"
    return f"The report is not whole. {first}{more} could not be used and {verb} not checked."


def _watch(paths: Sequence[Path], options: CheckCommand) -> int:
    """Print a report now and after every change, below the text that is already on the screen."""
    from pathlib import Path

    from ..report.formats import with_rows_in_memory
    from ..report.layout import visible
    from ..report.text import render
    from .watching import watch

    named = (options.settings, options.waivers, options.accepted, options.shelf)
    side_files = filter(None, named)
    watched = [*paths, *options.rules, *side_files, *_files_of(with_site_file(paths, options)[1])]
    for path in watched:  # a file that goes later may return, but a wrong name never exists
        if not os.path.exists(path):
            raise UsageError(f"there is no file or folder {path}")
    render_options = options_for(options.width, **_look(options))

    def check_once() -> list[Path]:
        files: list[Path] = []
        has_reader = True
        try:
            site = with_site_file(paths, options)[1]
            report = _check(paths, options, [], site)
            view = _narrowed(report, options, site)
            text = render(with_rows_in_memory(view), render_options)
            has_reader = print_text(text, render_options)
            files = [*map(Path, report.files), *_files_of(site)]
        except Exception as error:  # a file that is half saved does not end the watch
            explain_failure(error)
        text = f"\nWatching for changes since {_now()}. Ctrl-C ends.\n"
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
