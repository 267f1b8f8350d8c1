"""Records of single files put together into one report: which are machines, and under what label.

The same for files checked here one after the other, by several processes, from a cache, or
elsewhere (see fleet.py, cache.py and sharding.py).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Sequence
from pathlib import Path

from ..base.errors import AxisproofError, InputError
from ..base.garbage_collection import held_back
from ..base.lazy import replace
from ..findings.finding import DecidingFact, LevelChange, Report, SiteRules, Undecided
from ..findings.unusable import Unusable
from ..importing.entry import Candidate, kind_of, load_candidate, taken_in
from ..machine.machine import Machine
from ..machine.reader import read_machine
from ..source.reader import DISK, FilesRead, Reader
from .record import Record, RecordResult


class RecordCollector:
    """The records of ``candidates`` as they come: those that may take in others before the rest.

    So it is known of the rest which are parts of another machine, and need not be checked.
    ``also_taken`` are parts of machines that are not among the candidates. ``partial`` collects
    errors instead of raising the first.
    """

    def __init__(
        self,
        candidates: Sequence[Candidate],
        also_taken: Iterable[Path] = (),
        reader: Reader = DISK,
        partial: bool = False,
    ) -> None:
        self.candidates = candidates
        self.reader = reader
        self.also_taken = set(also_taken)
        self.partial = partial
        self.records: dict[Path, Record] = {}
        self.errors: dict[Path, AxisproofError] = {}
        self._parts_ahead: set[Path] | None = None

    def first(self) -> list[Candidate]:
        """The files that may take in others."""
        return [each for each in self.candidates if each.may_include]

    def rest(self) -> list[Candidate]:
        """The other files, without those that are known by now to be parts."""
        return [each for each in self._machines() if not each.may_include]

    def add(self, candidate: Candidate, made: RecordResult) -> None:
        """Take a record. Raises its error, unless the file is but a part of another machine.

        Should one that may include it not load, its error is raised: nothing is known without it.
        """
        if made.error is not None and self.partial:
            self.errors[candidate.path] = made.error
        elif made.error is not None and (not made.record.sources or not self._is_part(candidate)):
            raise made.error
        self.records[candidate.path] = made.record

    def machines(self) -> list[Record]:
        """The records of files that are machines of their own, in the order of the candidates."""
        machines = (each.path for each in self._machines() if each.path not in self.errors)
        return [self.records[path] for path in machines]

    def unusable(self) -> tuple[Unusable, ...]:
        """The files that cannot be used, in the order of the candidates.

        If one of them cannot even be loaded, a part of it may be among them as well.
        """
        broken = (each.path for each in self._machines() if each.path in self.errors)
        return tuple(Unusable.of(path.as_posix(), self.errors[path]) for path in broken)

    def _machines(self) -> list[Candidate]:
        taken = self.also_taken | taken_by(record.sources for record in self.records.values())
        return [
            each
            for each in self.candidates
            if each.given or not taken or each.path.resolve() not in taken
        ]

    def _is_part(self, candidate: Candidate) -> bool:
        if candidate.given or not candidate.may_include:
            return False
        if self._parts_ahead is None:
            loaded, error = taken_elsewhere(self.first(), self.reader)
            if error is not None:
                raise error
            self._parts_ahead = loaded | self.also_taken
        return candidate.path.resolve() in self._parts_ahead


def taken_by(sources: Iterable[Sequence[str]]) -> set[Path]:
    """Where the files lead that machines take in, by the names of what each was read from."""
    return taken_in(Path(name) for names in sources for name in names[1:])


def taken_elsewhere(
    candidates: Iterable[Candidate], reader: Reader
) -> tuple[set[Path], AxisproofError | None]:
    """Where the files lead that these would take in, and the first error met in loading them."""
    taken: set[Path] = set()
    first: AxisproofError | None = None
    for candidate in candidates:
        if not candidate.may_include:
            continue
        try:
            tree = load_candidate(candidate, reader)
        except AxisproofError as error:
            first = first or error
            continue
        taken |= taken_in(source.path for source in tree.sources[1:])
    return taken, first


@held_back()
def report_of(
    records: Sequence[Record],
    rules: int,
    level_changes: tuple[LevelChange, ...] = (),
    site_rules: SiteRules | None = None,
    skipped: tuple[str, ...] = (),
    unusable: tuple[Unusable, ...] = (),
) -> Report:
    """The report on machines, each under a label: its name, with the file if others share it."""
    names = Counter(record.machine for record in records)
    shown = [_under_label(each) if names[each.machine] > 1 else each for each in records]
    findings = tuple(finding for record in shown for finding in record.findings)
    undecided = tuple(told for record in shown for told in record.undecided)
    return Report(
        files=tuple(dict.fromkeys(name for record in shown for name in record.sources)),
        machines=tuple(record.machine for record in shown),
        axes=sum(record.axes for record in shown),
        rules=rules,
        findings=findings,
        undecided=undecided,
        undecided_concerns=tuple(each for record in shown for each in record.undecided_concerns),
        tallies=tuple(tally for record in shown for tally in record.tallies),
        deciding_facts=wanted(undecided),
        outcomes=tuple(outcome for record in shown for outcome in record.outcomes),
        settings=tuple(each for record in shown for each in record.overrides),
        left_out=tuple(each for record in shown for each in record.left_out),
        levels=dict(sorted(Counter(finding.level for finding in findings).items())),
        sketches=tuple(sketch for record in shown for sketch in record.sketches),
        level_changes=level_changes,
        site_rules=site_rules or SiteRules(),
        skipped=skipped,
        unusable=unusable,
    )


def machines_again(
    records: Sequence[Record], named: Container[str], reader: Reader
) -> list[tuple[Machine, str]]:
    """The machines of these names, read again, each with the label it is shown under.

    Raises InputError if a file is no longer what it was when it was checked.
    """
    names = Counter(record.machine for record in records)
    machines = []
    for record in records:
        if record.machine not in named:
            continue
        machine = _read_again(record, reader)
        if machine is None:
            raise InputError(
                f"{record.file} has changed since it was checked", expected="a check of it as it is"
            )
        label = _label(record) if names[record.machine] > 1 else record.machine
        machines.append((machine, label))
    return machines


def _read_again(record: Record, reader: Reader) -> Machine | None:
    """The machine of a record; None if its files are not as they were, or none at all.

    A record can name any file. So a message does not quote what another file holds.
    """
    account = FilesRead()
    noting = reader.with_account(account)
    path = Path(record.file)
    try:
        candidate = Candidate(path, kind_of(path, noting), given=True, may_include=True)
        machine = read_machine(load_candidate(candidate, noting))
    except AxisproofError:
        return None
    return machine if account.content == record.content else None


def _label(record: Record) -> str:
    return f"{record.machine} ({record.sources[0]})"


def _under_label(record: Record) -> Record:
    label = _label(record)
    return replace(
        record,
        machine=label,
        findings=tuple(replace(each, machine=label) for each in record.findings),
        undecided=tuple(replace(each, machine=label) for each in record.undecided),
        undecided_concerns=tuple(
            replace(each, machine=label) for each in record.undecided_concerns
        ),
        outcomes=tuple(replace(each, machine=label) for each in record.outcomes),
        tallies=tuple(replace(each, machine=label) for each in record.tallies),
        overrides=tuple((label, *each[1:]) for each in record.overrides),
        left_out=tuple(replace(each, machine=label) for each in record.left_out),
        sketches=tuple(replace(each, machine=label) for each in record.sketches),
    )


def wanted(undecided: Iterable[Undecided]) -> tuple[DecidingFact, ...]:
    """The facts that would decide most, over all axes: most checks first, then by name.

    A fact that decides a check by itself counts before one that needs others beside it.
    """
    names: dict[str, str] = {}
    found: dict[str, _Count] = {}
    for (subject, missing), checks in Counter((t.subject, t.missing) for t in undecided).items():
        paths = {names.get(path) or names.setdefault(path, _anywhere(path)) for path in missing}
        for path in paths:
            count = found.get(path)
            if count is None:
                count = found[path] = _Count()
            count.checks += checks
            if len(missing) == 1:
                count.alone += checks
            count.subjects[subject] = None
    all_ = (DecidingFact(path, c.checks, c.alone, tuple(c.subjects)) for path, c in found.items())
    return tuple(sorted(all_, key=lambda each: (-each.alone, -each.checks, each.fact)))


class _Count:
    """How many checks want a fact, how many of them nothing else; on which subjects."""

    __slots__ = ("alone", "checks", "subjects")

    def __init__(self) -> None:
        self.checks = self.alone = 0
        self.subjects: dict[str, None] = {}


def _anywhere(path: str) -> str:
    """A path as it stands on any axis: ``axes.infeed.encoder.kind`` → ``axis.encoder.kind``."""
    end = path.find(".", len("axes.")) if path.startswith("axes.") else -1
    return path if end < 0 else "axis" + path[end:]
