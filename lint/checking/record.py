"""What checking one file brought, by itself: not yet beside others, so no name is taken twice.

A check of many files makes one record of each, in whatever process, and assembling.py puts them
together. Nothing in a record depends on any other file than those it names as its sources.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator

from ..base.errors import AxisproofError
from ..base.garbage_collection import held_back, sweep
from ..base.lazy import dataclass, field, replace
from ..catalogue.settings import Overrides, apply_settings
from ..engine.engine import Options, check_machine
from ..findings.finding import (
    AxisSketch,
    Finding,
    LeftOut,
    Outcome,
    Tally,
    Undecided,
    UndecidedConcern,
)
from ..importing.entry import Candidate, load_candidate
from ..machine.reader import read_machine
from ..machine.records import set_check_date
from ..source.reader import DISK, FilesRead, Reader
from .reading import Rules, left_out_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Protocol

    class RecordKeeper(Protocol):
        """What keeps records for later checks, such as a cache."""

        def keep(self, candidate: Candidate, record: Record, account: FilesRead) -> None:
            """Keep the record of a file with the account of what was read for it."""


@dataclass(frozen=True, slots=True)
class CheckRequest:
    """What is asked of every file: rules, the day, what to tell, and how files are read.

    Others read from the disk or what travels to them: a request whose reader has texts stays in
    this process.
    """

    rules: Rules
    on: datetime.date
    options: Options = field(default_factory=Options)
    sketches: bool = False
    reader: Reader = DISK


@dataclass(frozen=True, slots=True)
class Record:
    """One file and the machine it describes, which is shown under its bare name.

    ``sources`` are the names of all files that were read for it, itself first; none if it could
    not be loaded. ``content`` is the fingerprint of all that was read. A file that is no machine
    by itself is not ``judged``.
    """

    file: str
    sources: tuple[str, ...] = ()
    content: str = ""
    judged: bool = False
    machine: str = ""
    axes: int = 0
    findings: tuple[Finding, ...] = ()
    undecided: tuple[Undecided, ...] = ()
    undecided_concerns: tuple[UndecidedConcern, ...] = ()
    outcomes: tuple[Outcome, ...] = ()
    tallies: tuple[Tally, ...] = ()
    overrides: Overrides = ()
    left_out: tuple[LeftOut, ...] = ()
    sketches: tuple[AxisSketch, ...] = ()


@dataclass(frozen=True, slots=True)
class RecordResult:
    """A record, and what stood against making it whole."""

    record: Record
    error: AxisproofError | None = None


def make_records(
    candidates: Iterable[Candidate], request: CheckRequest, keeper: RecordKeeper | None = None
) -> Iterator[RecordResult]:
    """Read and check files one by one, of which only their records stay in memory.

    What they bring goes to the keeper; to look there is for the caller.
    """
    for number, candidate in enumerate(candidates):
        if number:
            sweep()
        with held_back():
            result = make_record(candidate, request, keeper)
        yield result
        del result


def make_record(
    candidate: Candidate, request: CheckRequest, keeper: RecordKeeper | None = None
) -> RecordResult:
    """Read and check one file. What it raises is a mistake in axisproof, not in the file."""
    account = FilesRead()
    result = record_of(candidate, request, account)
    if keeper is not None and result.error is None:
        keeper.keep(candidate, result.record, account)
    return result


def record_of(candidate: Candidate, request: CheckRequest, account: FilesRead) -> RecordResult:
    """Do what ``make_record`` does, and account for the files that are read."""
    record = Record(candidate.path.as_posix())
    try:
        tree = load_candidate(candidate, request.reader.with_account(account))
        sources = tuple(source.name for source in tree.sources)
        record = replace(record, sources=sources, content=account.content)
        machine = read_machine(tree)
        set_check_date(machine.facts, request.on)
        rules = request.rules
        overrides = apply_settings(machine, machine.name, rules.every, rules.site)
    except AxisproofError as error:
        return RecordResult(record, error)
    results = check_machine(machine, machine.name, rules.catalogue, request.options)
    sketches: tuple[AxisSketch, ...] = ()
    if request.sketches:
        from ..engine.sketch import sketches_of

        sketches = sketches_of(machine, machine.name, rules.every)
    result = RecordResult(
        replace(
            record,
            content=account.content,
            judged=True,
            machine=machine.name,
            axes=results.axes,
            findings=tuple(results.findings),
            undecided=tuple(results.undecided),
            undecided_concerns=tuple(results.undecided_concerns),
            outcomes=tuple(results.outcomes),
            tallies=tuple(results.tallies),
            overrides=overrides,
            left_out=left_out_of(tree, machine.name),
            sketches=sketches,
        )
    )
    machine.let_go()
    return result
