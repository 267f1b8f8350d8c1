"""Records of single files put together into one report: which are machines, and under what label.

The same for files checked here one after the other, by several processes, from a cache, or
elsewhere (see fleet.py, cache.py and sharding.py).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Iterator, Sequence
from itertools import chain, groupby
from operator import attrgetter
from pathlib import Path

from ..base.errors import AxisproofError, InputError
from ..base.garbage_collection import held_back
from ..base.lazy import replace
from ..findings.finding import DecidingFact, Finding, LevelChange, Report, SiteRules, Undecided
from ..findings.rows import Rows
from ..findings.unusable import Unusable
from ..importing.entry import Candidate, kind_of, load_candidate, taken_in
from ..machine.machine import Machine
from ..machine.reader import read_machine
from ..source.reader import DISK, FilesRead, Reader
from .record import Record, RecordResult
from .record_store import RecordStore, StoredRecords

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


class RecordCollector:
    """The records of ``candidates`` as they come: those that may take in others before the rest.

    So it is known of the rest which are parts of another machine, and need not be checked.
    ``also_taken`` are parts of machines that are not among the candidates. ``partial`` collects
    errors instead of raising the first. A file is known by its number among the candidates.
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
        self.partial = partial
        self.number_done = 0
        self.errors: dict[int, AxisproofError] = {}
        self._also_taken = frozenset(also_taken)
        self._taken = set(also_taken)
        self._store = RecordStore(len(candidates))
        self._parts_ahead: set[Path] | None = None

    def first(self) -> list[int]:
        """The files that may take in others."""
        return [number for number, each in enumerate(self.candidates) if each.may_include]

    def rest(self) -> list[int]:
        """The other files, without those that are known by now to be parts."""
        return [n for n in self._machines() if not self.candidates[n].may_include]

    def add(self, number: int, made: RecordResult) -> None:
        """Take a record. Raises its error, unless the file is but a part of another machine.

        Should one that may include it not load, its error is raised: nothing is known without it.
        """
        if made.error is not None and self.partial:
            self.errors[number] = made.error
        elif made.error is not None and (not made.record.sources or not self._is_part(number)):
            raise made.error
        self._taken |= taken_by([made.record.sources])
        self._store.put(number, made.record)
        self.number_done += 1

    def machines(self) -> StoredRecords:
        """The records of files that are machines of their own, in the order of the candidates."""
        numbers = self._machines()
        usable = [n for n in numbers if n not in self.errors] if self.errors else numbers
        return StoredRecords(self._store, usable)

    def unusable(self) -> tuple[Unusable, ...]:
        """The files that cannot be used, in the order of the candidates.

        If one of them cannot even be loaded, a part of it may be among them as well.
        """
        broken = [number for number in self._machines() if number in self.errors]
        return tuple(
            Unusable.of(self.candidates[number].path.as_posix(), self.errors[number])
            for number in broken
        )

    def _machines(self) -> Sequence[int]:
        if not self._taken:
            return range(len(self.candidates))
        return [
            number
            for number, each in enumerate(self.candidates)
            if each.given or each.path.resolve() not in self._taken
        ]

    def _is_part(self, number: int) -> bool:
        candidate = self.candidates[number]
        if candidate.given or not candidate.may_include:
            return False
        if self._parts_ahead is None:
            asked = [self.candidates[each] for each in self.first()]
            loaded, error = taken_elsewhere(asked, self.reader)
            if error is not None:
                raise error
            self._parts_ahead = loaded | self._also_taken
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
    records: StoredRecords,
    rules: int,
    level_changes: tuple[LevelChange, ...] = (),
    site_rules: SiteRules | None = None,
    skipped: tuple[str, ...] = (),
    unusable: tuple[Unusable, ...] = (),
) -> Report:
    """The report on machines, each under a label: its name, with the file if others share it.

    Of many machines, the rows of the report are read anew from the records for each look at them.
    """
    labels, axes = _labels(records)
    shared = {n for n, head in enumerate(records.heads()) if labels[n] != head.machine}

    def rows(part: str) -> Sequence[Any]:
        def read() -> Iterator[Any]:
            for number, row in records.rows(part):
                yield _under_label(row, labels[number]) if number in shared else row

        return Rows(read, records.count(part)) if records.set_aside else tuple(read())

    findings: Sequence[Finding] = rows("findings")
    undecided: Sequence[Undecided] = rows("undecided")
    return Report(
        files=_files(records),
        machines=_text_rows(labels) if records.set_aside else labels,
        axes=axes,
        rules=rules,
        findings=findings,
        undecided=undecided,
        undecided_concerns=rows("undecided_concerns"),
        tallies=rows("tallies"),
        deciding_facts=wanted(undecided),
        outcomes=rows("outcomes"),
        settings=rows("overrides"),
        left_out=rows("left_out"),
        levels=dict(sorted(Counter(finding.level for finding in findings).items())),
        sketches=rows("sketches"),
        level_changes=level_changes,
        site_rules=site_rules or SiteRules(),
        skipped=skipped,
        unusable=unusable,
    )


def _text_rows(texts: Sequence[str]) -> Rows[str]:
    return Rows(lambda: texts, len(texts))


def _files(records: StoredRecords) -> Sequence[str]:
    """The names of all files read, each once. No two records are of the same file."""

    def read() -> Iterator[str]:
        return chain.from_iterable(head.sources for head in records.heads())

    if records.set_aside and all(len(head.sources) == 1 for head in records.heads()):
        return Rows(read)
    names = tuple(dict.fromkeys(read()))
    return _text_rows(names) if records.set_aside else names


def _labels(records: StoredRecords) -> tuple[tuple[str, ...], int]:
    """The labels of all machines, and the number of axes."""
    names = tuple(head.machine for head in records.heads())
    several = {name for name, number in Counter(names).items() if number > 1}
    labels = []
    axes = 0
    for name, head in zip(names, records.heads(), strict=True):
        labels.append(_label(head) if name in several else name)
        axes += head.axes
    return tuple(labels), axes


def machines_again(
    records: StoredRecords, named: Container[str], reader: Reader
) -> list[tuple[Machine, str]]:
    """The machines of these names, read again, each with the label it is shown under.

    Raises InputError if a file is no longer what it was when it was checked.
    """
    names = Counter(head.machine for head in records.heads())
    machines = []
    for record in records.heads():
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
        candidate = Candidate(str(path), kind_of(path, noting), given=True, may_include=True)
        machine = read_machine(load_candidate(candidate, noting))
    except AxisproofError:
        return None
    return machine if account.content == record.content else None


def _label(record: Record) -> str:
    return f"{record.machine} ({record.sources[0]})"


def _under_label(row: Any, label: str) -> Any:
    """A row of a record under the label of its machine. A setting is a tuple and no dataclass."""
    return (label, *row[1:]) if isinstance(row, tuple) else replace(row, machine=label)


def wanted(undecided: Iterable[Undecided]) -> tuple[DecidingFact, ...]:
    """The facts that would decide most, over all axes: most checks first, then by name.

    A fact that decides a check by itself counts before one that needs others beside it.
    """
    found: dict[str, _Count] = {}
    subjects: dict[str, str] = {}
    for _, of_machine in groupby(undecided, attrgetter("machine")):
        names: dict[str, str] = {}
        pairs = Counter((check.subject, check.missing) for check in of_machine)
        for (subject_, missing), checks in pairs.items():
            subject = subjects.setdefault(subject_, subject_)
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
