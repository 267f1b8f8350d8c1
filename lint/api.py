"""What the command line, an editor and Python users call."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path

from .base.errors import UsageError
from .base.lazy import dataclass, replace
from .catalogue.catalogue import catalogue as rules_in_force
from .engine.engine import Options
from .findings.finding import ChangeReport, Report
from .source.reader import DISK, Reader

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Literal

    from .batch.cache import Cache
    from .batch.shards import MergedRecords
    from .checking.fixing import FileChange, Repair
    from .checking.reading import Rules
    from .checking.record import CheckRequest, Record
    from .engine.derived import DerivedAxis
    from .findings.rule_info import Concern, RuleInfo, RuleTestReport, SettingInfo
    from .importing.assembly import Imported, ProgressFor
    from .importing.entry import Candidate
    from .importing.single_export import ImportOptions

PathLike = Path | str

Progress = Callable[[int, int], None]
"""Told how many of how many machines are done."""


@dataclass(frozen=True, slots=True)
class CheckOptions:
    """What is checked by which rules, what the report holds, and how the work is done.

    ``rules`` are files of a site's own rules, ``settings`` is its settings file; ``on`` is the day
    that counts as today. Findings that the file ``waivers`` or the accepted set ``accepted`` covers
    stay in the report and are marked as waived. ``texts`` holds, by path, what machine files are to
    be read as, such as unsaved text in an editor.

    ``workings`` derives every figure of a finding, ``every_outcome`` lists also what held or did
    not apply, ``sketches`` gives what a picture of each axis needs.

    ``jobs`` processes share the work (None: as many as cores, if it pays); a script that asks for
    more than one keeps its own doings below ``if __name__ == "__main__":``, as each starts it anew.
    What is found is kept in the folder ``cache``, and taken from there for files that have not
    changed. ``shard`` ("2/5") takes every fifth file from the second on.
    """

    rules: Sequence[PathLike] = ()
    settings: PathLike | None = None
    on: datetime.date | None = None
    waivers: PathLike | None = None
    accepted: PathLike | None = None
    texts: Mapping[Path, str] | Mapping[str, str] | None = None
    workings: bool = False
    every_outcome: bool = False
    sketches: bool = False
    jobs: int | None = 1
    cache: PathLike | None = None
    shard: str = ""


DEFAULTS = CheckOptions()


def check(
    paths: Sequence[PathLike],
    options: CheckOptions = DEFAULTS,
    *,
    progress: Progress | None = None,
    noted: Callable[[str], None] | None = None,
    recorded: Callable[[str], None] | None = None,
) -> Report:
    """Check machine files, and folders of them, against the shipped rules and those of a site.

    ``progress`` is told how many of how many machines are done; ``noted`` is told once if the
    cache cannot be written (all is checked even so); ``recorded`` is given the text of a record,
    of which ``merge`` makes the report on all shards.

    Raises InputError for a machine, settings or other file that cannot be used, RuleError for a
    rule file, UsageError for paths that lead nowhere. Either every machine is checked, or an error
    is raised.
    """
    from .checking.assembling import report_of

    request = _request(options)
    candidates = _candidates(paths, request.reader)
    own, parts = _share(options.shard, candidates, request.reader)
    records = _collected(request, own, parts, options, progress, noted)
    in_force = request.rules
    changed = in_force.level_changes("axis", "machine")
    own_rules = in_force.site_rules("axis", "machine")
    report = report_of(records, in_force.count("axis", "machine"), changed, own_rules)
    report = _with_waivers(
        report, options.waivers, options.accepted, in_force, records, request.on, request.reader
    )
    names: dict[str, str] = {}
    if options.every_outcome:
        from .catalogue.describing import concern_names

        names = concern_names(in_force.catalogue)
    if recorded:
        from .batch.shards import ONLY_SHARD, parse_shard, record_text

        share = parse_shard(options.shard) if options.shard else ONLY_SHARD
        found = {Path(record.file): record for record in records}
        recorded(record_text(found, candidates, share, request, names))
    if progress:
        progress(len(own), len(own))
    return replace(report, concerns=names, share=options.shard)


def _request(options: CheckOptions) -> CheckRequest:
    """The rules in force and what is asked of each machine; raises as ``check`` does."""
    from .checking.reading import Rules
    from .checking.record import CheckRequest

    reader = Reader.of(_by_path(options.texts))
    in_force = Rules.of(options.rules, options.settings, reader)
    day = options.on or datetime.date.today()
    judged = Options(options.workings, options.every_outcome)
    return CheckRequest(in_force, day, judged, options.sketches, reader)


def _candidates(paths: Sequence[PathLike], reader: Reader) -> Sequence[Candidate]:
    from .importing.entry import find_candidates

    candidates = find_candidates([Path(path) for path in paths], reader)
    if not candidates:
        raise UsageError("there is no machine file to check", expected="at least one")
    return candidates


def _collected(
    request: CheckRequest,
    own: Sequence[Candidate],
    parts: Iterable[Path],
    options: CheckOptions,
    progress: Progress | None,
    noted: Callable[[str], None] | None,
) -> Sequence[Record]:
    """A record for each machine of ``own``, made by as many processes as are asked for."""
    from .batch import workers as fleet
    from .checking.assembling import RecordCollector

    collector = RecordCollector(own, parts, request.reader)
    folder = None if options.texts or options.cache is None else Path(options.cache)
    kept = None if folder is None else _opened(folder, request, noted)
    with fleet.workers(request, len(own), 1 if options.texts else options.jobs, kept) as make:
        for stage in (collector.first, collector.rest):
            asked = stage()
            for candidate, result in zip(asked, make(asked), strict=True):
                if progress:
                    progress(len(collector.records), len(own))
                collector.add(candidate, result)
    if kept is not None:
        _closed(kept, noted)
    return collector.machines()


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
) -> tuple[Report, bool]:
    """Join what checks of all shards recorded, as the report that one check of all would have made.

    ``waivers`` and ``accepted`` are as for ``check``; for waivers the machine files they name are
    read again, and ``rules`` must be those of the checks. ``workings``, ``every_outcome`` and
    ``sketches`` say what the report needs. Returned beside it is whether it has workings.

    Raises InputError for a file that holds no record, UsageError for records that do not belong
    together, are not all, or lack what is needed.
    """
    from .base.version import tool_version
    from .batch.run_conditions import code_digest
    from .batch.shards import read_records
    from .checking.assembling import report_of

    code = {"version": tool_version(), "code": code_digest()}
    joined = read_records([Path(path) for path in records], code)
    wanted = {
        "--workings": workings and not joined.conditions["workings"],
        "--every-outcome": every_outcome and not joined.conditions["every_outcome"],
        "--pictures": sketches and not joined.conditions["pictures"],
    }
    if any(wanted.values()):
        options = " ".join(option for option, lacks in wanted.items() if lacks)
        raise UsageError(
            "the records lack what this form shows", expected=f"records of checks with {options}"
        )
    report = report_of(joined.records, joined.rules, joined.level_changes, joined.site_rules)
    in_force = None if waivers is None else _same_rules(joined, rules)
    report = _with_waivers(report, waivers, accepted, in_force, joined.records, joined.day, DISK)
    return replace(report, concerns=joined.concerns), joined.conditions["workings"]


def _same_rules(joined: MergedRecords, rules: Sequence[PathLike]) -> Rules:
    """The rules by which records were made. Raises UsageError if ``rules`` are others."""
    from .catalogue.catalogue import digest
    from .checking.reading import Rules

    in_force = Rules.of(rules, None)
    if digest(in_force.every.texts) != joined.conditions["rules"]:
        raise UsageError(
            "the records were made with other rules", expected="the --rules of the checks"
        )
    return in_force


def _opened(
    folder: Path, request: CheckRequest, noted: Callable[[str], None] | None
) -> Cache | None:
    """The cache in a folder; None if the folder cannot be used."""
    from .batch.cache import Cache, prepare
    from .batch.run_conditions import run_digest

    try:
        prepare(folder)
    except OSError as fault:
        if noted:
            noted(_without_cache(folder, fault.strerror or type(fault).__name__))
        return None
    return Cache(folder, run_digest(request))


def _closed(cache: Cache, noted: Callable[[str], None] | None) -> None:
    """Keep the cache within bounds, and tell what troubled it."""
    from .batch.cache import prune

    if cache.kept_count:
        prune(cache.folder)
    if cache.write_error and noted:
        noted(_without_cache(cache.folder, cache.write_error))


def _without_cache(folder: Path, why: str) -> str:
    return (
        f"nothing is kept in {folder.as_posix()} ({why[:1].lower()}{why[1:]}); "
        "the report is whole without it"
    )


def accepted_text(report: Report, on: datetime.date) -> str:
    """The findings of a report as the text of an accepted set, recorded on a day."""
    from .checking.accepted import accepted_text as text

    return text(report, on)


def _with_waivers(
    report: Report,
    waivers: PathLike | None,
    accepted: PathLike | None,
    rules: Rules | None,
    records: Sequence[Record],
    day: datetime.date,
    reader: Reader,
) -> Report:
    """The report with findings marked that a waiver or the accepted set covers."""
    findings, gone = report.findings, report.accepted_gone
    if waivers is not None:
        from .checking.assembling import machines_again
        from .checking.waivers import apply_waivers, read_waivers

        assert rules is not None
        given = read_waivers(Path(waivers), rules.every, reader)
        machines = machines_again(records, {waiver.machine for waiver in given.entries}, reader)
        findings = apply_waivers(findings, given, machines, day)
    if accepted is not None:
        from .checking.accepted import apply_accepted, read_accepted

        findings, gone = apply_accepted(findings, read_accepted(Path(accepted), reader))
    levels = Counter(finding.level for finding in findings)
    return replace(
        report, findings=findings, accepted_gone=gone, levels=dict(sorted(levels.items()))
    )


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
) -> ChangeReport:
    """Compare two versions of a machine, or of a folder of machines.

    Each is a file, a folder, or ``REVISION:PATH`` of the git repository one is in. Tells which
    facts changed, what the rules about changes say, and which findings are new, gone or still
    there. Raises as ``check`` does, and UsageError for a revision that git cannot show.
    """
    from .changes.changes import changes as compare
    from .checking.reading import Rules

    return compare(str(old), str(new), Rules.of(rules, settings), on, workings)


def list_rules(rules: Sequence[PathLike] = ()) -> tuple[RuleInfo, ...]:
    """All rules in force, built-in checks first."""
    from .catalogue.describing import built_in_info, rule_info

    catalogue = rules_in_force([Path(path) for path in rules])
    own = [rule_info(catalogue, rule) for rule in catalogue.trees.rules]
    return (*built_in_info(), *own)


def explain(name: str, rules: Sequence[PathLike] = ()) -> RuleInfo:
    """One rule in words. Raises UsageError, with a suggestion, for an unknown name."""
    import difflib

    known = {info.name: info for info in list_rules(rules)}
    if name not in known:
        close = difflib.get_close_matches(name, known, 1, 0.5)
        hint = f"did you mean {close[0]}?" if close else "a name that `rules list` shows"
        raise UsageError(f"there is no rule {name}", expected=hint)
    return known[name]


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


def show(
    path: PathLike, axes: Sequence[str] = (), *, rules: Sequence[PathLike] = ()
) -> tuple[DerivedAxis, ...]:
    """The derived numbers of the axes of a machine or project file, or of those in ``axes``.

    Raises InputError for a file that cannot be used, UsageError for an axis it does not have.
    """
    from .engine.derived import derive
    from .importing.entry import load_trees
    from .machine.reader import read_machine

    machines = [read_machine(tree) for tree in load_trees([Path(path)])]
    if len(machines) != 1:
        raise UsageError(f"{path} holds {len(machines)} machines", expected="the file of one")
    return derive(machines[0], axes, [Path(each) for each in rules])


def starter(
    machine: str, axes: Mapping[str, Literal["linear", "rotary"]], known: PathLike | None = None
) -> str:
    """A commented starter machine file; the facts of the file ``known`` are filled in.

    An empty ``machine`` takes the name that ``known`` states. Raises InputError for a file that
    cannot be used, UsageError for names that are none.
    """
    from .authoring.starter import starter_yaml
    from .importing.entry import load_trees
    from .machine.reader import read_machine

    tree = None
    if known is not None:
        trees = load_trees([Path(known)])
        if len(trees) != 1:
            raise UsageError(f"{known} holds {len(trees)} machines", expected="the file of one")
        tree = trees[0]
        machine = machine or read_machine(tree).name
    return starter_yaml(machine, axes, tree)
