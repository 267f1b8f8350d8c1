"""What checking one file brought, by itself: not yet beside others, so no name is taken twice.

A check of many files makes one record of each, in whatever process, and assembling.py puts them
together. Nothing in a record depends on any other file than those it names as its sources.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator

from .collecting import held_back, sweep
from .engine import Options, check_machine
from .errors import AxisproofError
from .finding import AxisSketch, Finding, Outcome, Tally, Undecided
from .importing.entry import Candidate, load_candidate
from .light import dataclass, field, replace
from .machine import read_machine
from .reading import Rules, seconds_of
from .settings import Overrides, apply_settings
from .source.files import Reading, digest_of, keep_reading

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .cache import Cache


@dataclass(frozen=True, slots=True)
class Orders:
    """What is asked of every file: rules, the day, and what to tell."""

    rules: Rules
    on: datetime.date
    options: Options = field(default_factory=Options)
    sketches: bool = False


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
    outcomes: tuple[Outcome, ...] = ()
    tallies: tuple[Tally, ...] = ()
    overrides: Overrides = ()
    sketches: tuple[AxisSketch, ...] = ()


@dataclass(frozen=True, slots=True)
class Made:
    """A record, and what stood against making it whole."""

    record: Record
    error: AxisproofError | None = None


def make_records(
    candidates: Iterable[Candidate], orders: Orders, cache: Cache | None = None
) -> Iterator[Made]:
    """Read and check files one by one, of which only their records stay in memory.

    What they bring is kept in the cache; to look there is for the caller.
    """
    for number, candidate in enumerate(candidates):
        if number:
            sweep()
        with held_back():
            made = make_record(candidate, orders, cache)
        yield made
        del made


def make_record(candidate: Candidate, orders: Orders, cache: Cache | None = None) -> Made:
    """Read and check one file. What it raises is a mistake in axisproof, not in the file."""
    with keep_reading() as reading:
        made = record_of(candidate, orders, reading)
    if cache is not None and made.error is None:
        cache.keep(candidate, made.record, reading)
    return made


def record_of(candidate: Candidate, orders: Orders, reading: Reading) -> Made:
    """Do what ``make_record`` does, with the account of files read that is being kept."""
    record = Record(candidate.path.as_posix())
    try:
        tree = load_candidate(candidate)
        sources = tuple(source.name for source in tree.sources)
        record = replace(record, sources=sources, content=content_of(reading))
        machine = read_machine(tree)
        machine.facts["check_date"] = seconds_of(orders.on)
        rules = orders.rules
        overrides = apply_settings(machine, machine.name, rules.every, rules.site)
    except AxisproofError as error:
        return Made(record, error)
    results = check_machine(machine, machine.name, rules.catalogue, orders.options)
    sketches: tuple[AxisSketch, ...] = ()
    if orders.sketches:
        from .sketch import sketches_of

        sketches = sketches_of(machine, machine.name, rules.every)
    return Made(
        replace(
            record,
            content=content_of(reading),
            judged=True,
            machine=machine.name,
            axes=results.axes,
            findings=tuple(results.findings),
            undecided=tuple(results.undecided),
            outcomes=tuple(results.outcomes),
            tallies=tuple(results.tallies),
            overrides=overrides,
            sketches=sketches,
        )
    )


def content_of(reading: Reading) -> str:
    """One fingerprint of all files that were read."""
    lines = "\n".join(f"{digest} {name}" for name, digest in sorted(reading.digests.items()))
    return digest_of(lines.encode("utf-8", "surrogatepass"))
