"""What the command line, an editor and Python users call."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path

from .base.errors import InputError, UsageError
from .base.lazy import replace
from .catalogue.catalogue import catalogue as rules_in_force
from .checking.options import CheckOptions as CheckOptions
from .checking.options import PathLike
from .engine.engine import Options
from .findings.change_report import ChangeReport
from .findings.finding import Report
from .source.reader import DISK, Reader

TYPE_CHECKING = False
if TYPE_CHECKING:
    from concurrent.futures import Executor

    from .authoring.matching import Match
    from .checking.fixing import FileChange, Repair
    from .checking.reading import Rules
    from .checking.record import CheckRequest
    from .checking.record_store import StoredRecords
    from .engine.derived import DerivedAxis
    from .findings.rule_info import (
        Concern,
        FactInfo,
        NameInfo,
        RuleInfo,
        RuleTestReport,
        SettingInfo,
    )
    from .findings.site_file_use import InForce
    from .importing.assembly import Imported, ProgressFor
    from .importing.entry import Candidate, Found
    from .importing.single_export import ImportOptions
    from .importing.site_file import SiteFile

Progress = Callable[[int, int], None]
"""Told how many of how many machines are done."""


DEFAULTS = CheckOptions()


def check(
    paths: Sequence[PathLike],
    options: CheckOptions = DEFAULTS,
    *,
    executor: Executor | None = None,
    progress: Progress | None = None,
    noted: Callable[[str], None] | None = None,
    recorded: Callable[[Iterable[str]], None] | None = None,
) -> Report:
    """Check machine files, and folders of them, against the shipped rules and those of a site.

    The workers of an ``executor`` share the work instead of ``jobs`` processes. They need the same
    axisproof and no files. If one fails, that is an error. What ``texts`` hold is checked here.

    ``progress`` is told how many of how many machines are done; ``noted`` is told once if the
    cache cannot be written (all is checked even so); ``recorded`` is given the text of a record in
    pieces, of which ``merge`` makes the report on all shards.

    A file of a folder that is none of axisproof's is skipped, and named in the report.

    Raises InputError for a machine, settings or other file that cannot be used, RuleError for a
    rule file, UsageError for paths that lead nowhere. Either every machine is checked, or an error
    is raised; the only exception is ``partial`` in the options.
    """
    from .batch.collecting import collect
    from .checking.assembling import RecordCollector, report_of
    from .checking.covering import with_waivers
    from .checking.site_use import use_in, with_site

    options = with_site(options)
    request = _request(options)
    found = _found(paths, request.reader, options.site)
    candidates = found.candidates
    own, parts = _share(options.shard, candidates, request.reader)
    if found.first_error is not None and not options.partial:
        raise found.first_error
    collector = RecordCollector(own, parts, request.reader, options.partial)
    collect(collector, request, options, executor, progress, noted)
    records, unusable = collector.machines(), collector.unusable()
    if len(candidates) == 1 and collector.errors:
        raise collector.errors[0]
    in_force = request.rules
    changed = in_force.level_changes("axis", "machine")
    own_rules = in_force.site_rules("axis", "machine")
    skipped, ignored = (
        tuple(path.as_posix() for path in paths) for paths in (found.skipped, found.ignored)
    )
    number = in_force.count("axis", "machine")
    report = report_of(records, number, changed, own_rules, skipped, unusable)
    report = with_waivers(
        report, options.waivers, options.accepted, in_force, records, request.on, request.reader
    )
    report = replace(report, ignored=ignored, site_file=use_in(options, report, found))
    names = _concern_names(in_force) if options.every_outcome else {}
    report = replace(report, concerns=names, share=options.shard, day=request.on.isoformat())
    if recorded:
        recorded(_record_pieces(report, records, candidates, request))
    if progress:
        progress(len(own), len(own))
    return report


def _concern_names(rules: Rules) -> dict[str, str]:
    from .catalogue.describing import concern_names

    return concern_names(rules.catalogue)


def _record_pieces(
    report: Report, records: StoredRecords, candidates: Sequence[Candidate], request: CheckRequest
) -> Iterable[str]:
    from .batch.shards import ONLY_SHARD, LeftOutFiles, parse_shard, record_pieces

    share = parse_shard(report.share) if report.share else ONLY_SHARD
    left_out = LeftOutFiles(report.skipped, report.ignored, report.site_file)
    return record_pieces(
        records, candidates, left_out, report.unusable, share, request, report.concerns
    )


def narrowed(
    report: Report,
    select: Sequence[str] = (),
    axes: Sequence[str] = (),
    rules: Sequence[PathLike] = (),
    *,
    outcomes: bool = False,
) -> Report:
    """The part of a report about some rules or concerns, and about some axes.

    What it leaves out is counted in it. ``select`` needs a report of a check with every outcome;
    ``outcomes`` keeps them. Raises UsageError for a name that nothing has.
    """
    from .catalogue.describing import concern_names
    from .checking.selecting import narrowed as narrow

    concerns = concern_names(rules_in_force([Path(path) for path in rules]))
    return narrow(report, select, axes, concerns, outcomes=outcomes)


def _request(options: CheckOptions) -> CheckRequest:
    """The rules in force and what is asked of each machine; raises as ``check`` does."""
    from .checking.reading import Rules
    from .checking.record import CheckRequest

    reader = _with_shelf(Reader.of(_by_path(options.texts)), options.shelf)
    in_force = Rules.of(options.rules, options.settings, reader)
    day = options.on or datetime.date.today()
    judged = Options(options.workings, options.every_outcome)
    return CheckRequest(in_force, day, judged, options.sketches, reader)


def _with_shelf(reader: Reader, shelf: PathLike | None) -> Reader:
    if shelf is None:
        return reader
    from .importing.shelf import with_shelf

    return with_shelf(reader, Path(shelf))


def site_file(paths: Sequence[PathLike] = (".",)) -> SiteFile | None:
    """The site file that counts for files and folders (importing.site_file.find_site_file)."""
    from .importing.site_file import find_site_file

    return find_site_file([Path(path) for path in paths])


def in_force(site: SiteFile | None) -> tuple[InForce, ...]:
    """Each key of a site file with what counts, or the defaults without one.

    Raises InputError and RuleError for a file that it names and that cannot be used.
    """
    from .checking.site_rows import in_force as rows

    return rows(site)


def _found(paths: Sequence[PathLike], reader: Reader, site: SiteFile | None) -> Found:
    from .importing.entry import nothing_found, search

    found = search([Path(path) for path in paths], reader, site.excludes() if site else None)
    if not found.candidates:
        raise nothing_found(found)
    return found


def _share(
    shard: str, candidates: Sequence[Candidate], reader: Reader
) -> tuple[Sequence[Candidate], Iterable[Path]]:
    """The files of a shard, and those that machines of other shards take in."""
    if not shard:
        return candidates, ()
    from .batch.shards import parse_shard, taken_by_others

    own = parse_shard(shard).share(candidates)
    return own, taken_by_others(candidates, own, reader)


def merge(
    records: Sequence[PathLike],
    *,
    rules: Sequence[PathLike] = (),
    waivers: PathLike | None = None,
    accepted: PathLike | None = None,
    workings: bool = False,
    every_outcome: bool = False,
    sketches: bool = False,
    site: SiteFile | None = None,
    shelf: PathLike | None = None,
) -> tuple[Report, bool]:
    """Join what checks of all shards recorded, as the report that one check of all would have made.

    ``waivers`` and ``accepted`` are as for ``check``; for waivers the machine files they name are
    read again, and ``rules`` and ``shelf`` must be those of the checks. ``site`` stands in for what
    is not given of these four. ``workings``, ``every_outcome`` and
    ``sketches`` say what the report needs. Returned beside it is whether it has workings.

    Raises InputError for a file that holds no record, UsageError for records that do not belong
    together, are not all, or lack what is needed.
    """
    from .base.version import tool_version
    from .batch.merging import require_parts, same_rules
    from .batch.run_conditions import code_digest
    from .batch.shards import read_records
    from .checking.assembling import report_of
    from .checking.covering import with_waivers
    from .checking.record_store import StoredRecords
    from .checking.site_use import use_of_joined, with_site

    code = {"version": tool_version(), "code": code_digest()}
    joined = read_records([Path(path) for path in records], code)
    require_parts(joined, workings=workings, every_outcome=every_outcome, pictures=sketches)
    records_ = StoredRecords.of(joined.records)
    report = report_of(
        records_,
        joined.rules,
        joined.level_changes,
        joined.site_rules,
        joined.left_out.skipped,
        joined.unusable,
    )
    asked = CheckOptions(rules=rules, waivers=waivers, accepted=accepted, shelf=shelf, site=site)
    filled = with_site(asked)
    in_force = None if filled.waivers is None else same_rules(joined, filled.rules)
    reader = _with_shelf(DISK, filled.shelf)
    given = filled.waivers, filled.accepted
    report = with_waivers(report, *given, in_force, records_, joined.day, reader)
    use = use_of_joined(filled, report, joined.left_out.site_file)
    report = replace(report, ignored=joined.left_out.ignored, site_file=use)
    report = replace(report, concerns=joined.concerns, day=joined.day.isoformat())
    return report, joined.conditions["workings"]


def accepted_text(report: Report, on: datetime.date) -> str:
    """The findings of a report as the text of an accepted set, recorded on a day."""
    from .checking.accepted import accepted_text as text

    return text(report, on)


def _by_path(texts: Mapping[Path, str] | Mapping[str, str] | None) -> dict[Path, str]:
    return {} if texts is None else {Path(path): text for path, text in texts.items()}


def fixes(paths: Sequence[PathLike], options: CheckOptions = DEFAULTS) -> Repair:
    """What the rules would write into machine files, of that which needs nobody at the machine.

    Nothing is written: see ``write_fixes``. What waivers and the accepted set cover is left as it
    is. Raises as ``check`` does, and UsageError for rules whose fixes contradict each other.
    """
    from .checking.fixing import repair

    texts = _by_path(options.texts)

    def checked(changed: Mapping[Path, str]) -> Report:
        return check(paths, replace(options, texts={**texts, **changed}))

    return repair(checked, Reader.of(texts))


def write_fixes(changes: Iterable[FileChange]) -> None:
    """Write the changes that ``fixes`` found, each file all of it or nothing.

    Raises UsageError for a file that is no longer what it was when checked, or cannot be written;
    nothing is written then, or what was is named.
    """
    from .checking.fixing import write

    write(changes)


def changes(
    old: PathLike,
    new: PathLike,
    *,
    rules: Sequence[PathLike] = (),
    settings: PathLike | None = None,
    on: datetime.date | None = None,
    workings: bool = False,
    shelf: PathLike | None = None,
    site_files: bool = False,
    texts: Mapping[Path, str] | None = None,
) -> ChangeReport:
    """Compare two versions of a machine, or of a folder of machines.

    Each is a file, a folder, or ``REVISION:PATH`` of the git repository one is in. Tells which
    facts changed, what the rules about changes say, and which findings are new, gone or still
    there. ``shelf`` is a folder of plates for both. With ``site_files``, the site file of each
    version counts, with its own shelf. ``texts`` hold the text of ``-``, if one version is standard
    input. Raises as ``check`` does, and UsageError for a revision that git cannot show.
    """
    from .changes.changes import changes as compare

    asked = CheckOptions(
        rules=rules, settings=settings, on=on, workings=workings, shelf=shelf, texts=texts
    )
    return compare(str(old), str(new), asked, site_files=site_files)


def list_rules(rules: Sequence[PathLike] = ()) -> tuple[RuleInfo, ...]:
    """All rules in force, built-in checks first."""
    from .catalogue.describing import built_in_info, rule_info

    catalogue = rules_in_force([Path(path) for path in rules])
    own = [rule_info(catalogue, rule) for rule in catalogue.trees.rules]
    return (*built_in_info(), *own)


def explain(name: str, rules: Sequence[PathLike] = ()) -> RuleInfo | tuple[FactInfo, ...]:
    """One rule in words, or the facts that a name or a word of the vocabulary stands for.

    Raises UsageError, with a suggestion, for a name that nothing has.
    """
    from .rulebook.vocabulary import explained

    return explained(name, rules_in_force([Path(path) for path in rules]))


def concerns(rules: Sequence[PathLike] = ()) -> tuple[Concern, ...]:
    """All rules in force by concern, each with what it rests on and a finding of an example.

    Raises RuleError for a rule file, or an example in it, that cannot be used.
    """
    from .rulebook.concerns import concerns as by_concern

    return by_concern(rules_in_force([Path(path) for path in rules]))


def list_settings(rules: Sequence[PathLike] = ()) -> tuple[SettingInfo, ...]:
    """All settings in force with their defaults."""
    from .catalogue.describing import setting_info

    catalogue = rules_in_force([Path(path) for path in rules])
    return tuple(setting_info(setting) for setting in catalogue.trees.settings)


def list_names(words: Sequence[str] = (), rules: Sequence[PathLike] = ()) -> tuple[NameInfo, ...]:
    """What a rule can name: facts, definitions, settings and functions.

    Each of the words stands in the name, the kind or the meaning. Raises UsageError, with words
    that are close, if nothing is found.
    """
    from .catalogue.vocabulary import names_for

    return names_for(words, rules_in_force([Path(path) for path in rules]).trees)


def test_rules(paths: Sequence[PathLike] = ()) -> RuleTestReport:
    """Run the examples of the shipped rules, or of the rules in ``paths`` on top of them."""
    from .rulebook.rule_tests import run_rule_tests

    return run_rule_tests([Path(path) for path in paths])


def import_(
    paths: Sequence[PathLike],
    options: ImportOptions | None = None,
    progress: ProgressFor = lambda path: None,
) -> Imported:
    """Read exports (or the project file that names them) as one machine, and check its form.

    Raises InputError, with file, line and column, for whatever cannot be used, and UsageError for
    options that do not fit the files.
    """
    from .importing.single_export import ImportOptions, import_files
    from .machine.reader import read_machine

    imported = import_files([Path(path) for path in paths], options or ImportOptions(), progress)
    read_machine(imported.tree)
    return imported


def match(
    path: PathLike,
    machine: PathLike | None = None,
    axis: str | None = None,
    column: str = "",
) -> Match:
    """Propose which rows of a parameter list state which facts.

    With a ``machine`` file and one of its axes, values are compared too. ``column`` chooses among
    several columns of values. Raises InputError for a list that cannot be read, UsageError for a
    column that it does not have.
    """
    from .authoring.known_values import known_values
    from .authoring.list_shape import shape_of
    from .authoring.matching import match_rows

    known = known_values(Path(machine), axis) if machine is not None and axis is not None else None
    return match_rows(shape_of(Path(path), column=column), known)


def show(
    path: PathLike,
    axes: Sequence[str] = (),
    *,
    rules: Sequence[PathLike] = (),
    shelf: PathLike | None = None,
    texts: Mapping[Path, str] | None = None,
) -> tuple[DerivedAxis, ...]:
    """The derived numbers of the axes of a machine or project file, or of those in ``axes``.

    Raises InputError for a file that cannot be used, UsageError for an axis it does not have.
    """
    from .engine.derived import derive
    from .importing.entry import load_trees
    from .machine.reader import read_machine

    reader = _with_shelf(Reader.of(_by_path(texts)), shelf)
    machines = [read_machine(tree) for tree in load_trees([Path(path)], reader)]
    if len(machines) != 1:
        raise UsageError(f"{path} holds {len(machines)} machines", expected="the file of one")
    return derive(machines[0], axes, [Path(each) for each in rules])


def starter(
    machine: str,
    axes: Mapping[str, str],
    known: PathLike | None = None,
    *,
    long: bool = False,
    texts: Mapping[Path, str] | None = None,
) -> str:
    """A commented starter machine file; the facts of the file ``known`` are filled in.

    ``axes`` are kinds of axis by name, such as ``{"lift": "screw"}``. The file asks for the facts
    that rollover, gearing, homing and interlock are judged by, or with ``long`` for all. An empty
    ``machine`` takes the name that ``known`` states. Raises InputError for a file that cannot be
    used, UsageError for names and kinds that are none.
    """
    from .authoring.starter import starter_yaml
    from .importing.entry import load_trees
    from .machine.reader import read_machine

    tree = None
    if known is not None:
        trees = load_trees([Path(known)], Reader.of(_by_path(texts)))
        if len(trees) != 1:
            raise UsageError(f"{known} holds {len(trees)} machines", expected="the file of one")
        tree = trees[0]
        try:
            stated = read_machine(tree).name
        except InputError as error:
            lacks_alone = all(each.lacking for each in (error, *error.others))
            if not (machine and lacks_alone):  # what is missing, the form asks for
                raise
        else:
            machine = machine or stated
    return starter_yaml(machine, axes, tree, long=long)
