"""From the texts of an editor to the machine of a file and its diagnostics."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any, Final

from ..base.errors import AxisproofError, InputError
from ..catalogue.catalogue import Catalogue
from ..checking.assembling import wanted
from ..checking.reading import read_machines
from ..engine.again import Judgement, Moved, judge_again
from ..findings.finding import Undecided
from ..importing.entry import kind_of
from ..machine.machine import Machine
from ..source.files import Source
from ..source.parsing import parse
from ..source.reader import Reader, find_sources, read_source
from ..source.yaml_parts import RememberedText, remembered
from .diagnostics import Diagnostic, of_error, of_finding
from .side_files import SideFiles

MAX_FILES: Final = 2000
"""Most files of a workspace that is searched for includes."""

MAX_FACTS: Final = 5
"""Most facts that a diagnostic about undecided checks names."""


@dataclass(frozen=True, slots=True)
class UndecidedText:
    """What is told of the undecided checks of an axis, or of the machine."""

    checks: tuple[Undecided, ...]
    text: str


@dataclass(frozen=True, slots=True)
class Judged:
    """What is kept of a machine for its next check: ``sources`` are what it was read from."""

    judgement: Judgement | None = None
    sources: tuple[Source, ...] = ()
    undecided: Mapping[str, UndecidedText] = field(default_factory=dict)


@dataclass(frozen=True)
class Analysis:
    """The machine of one file, the files it includes and the diagnostics."""

    files: tuple[Path, ...]
    diagnostics: tuple[Diagnostic, ...]
    machines: tuple[Machine, ...] = ()
    catalogue: Catalogue | None = None
    judged: tuple[Judged, ...] = ()


@dataclass
class KeptTexts:
    """What files were read to, kept from one check to the next while they are the same.

    Only ``wanted`` files are kept: others are searched once for what they include.
    """

    wanted: frozenset[Path] = frozenset()
    before: Mapping[Path, RememberedText] = field(default_factory=dict)
    now: dict[Path, RememberedText] = field(default_factory=dict)

    def keep(self, source: Source) -> Source:
        """The source with its value and places, or as it is if it is not wanted."""
        path = source.path
        if path not in self.wanted:
            return source
        kept = remembered(source, self.now.get(path) or self.before.get(path))
        self.now[path] = kept
        return kept


def never() -> bool:
    """Tells of a check that its result is wanted."""
    return False


def analyse(
    root: Path,
    reader: Reader,
    side_files: SideFiles,
    last: Analysis | None = None,
    is_stale: Callable[[], bool] = never,
    on: datetime.date | None = None,
) -> Analysis:
    """Check one machine file and its includes with unsaved text; never raises for input.

    What ``last`` found stays where nothing that it rests on has changed. Raises Stale once
    ``is_stale`` says so.
    """
    diagnostics = [of_error(error, root) for error in side_files.errors]
    rules = side_files.rules
    if rules is None:
        return Analysis((root,), tuple(diagnostics))
    try:
        ready = read_machines([root], rules, on, reader.with_shelf(side_files.shelf))
    except AxisproofError as error:
        diagnostic = of_error(error, root)
        return Analysis(
            (root, Path(diagnostic.place.file)),
            (*diagnostics, diagnostic),
            judged=last.judged if last else (),
        )
    judged: list[Judged] = []
    for number, (machine, label) in enumerate(ready.machines):
        before = last.judged[number] if last and number < len(last.judged) else Judged()
        moved = _moved_since(before.sources, machine)
        try:
            judgement = judge_again(
                machine, label, rules.catalogue, before.judgement, moved, is_stale
            )
        except AxisproofError as error:  # it takes more than a check may take
            diagnostics.append(_of_check(error, root))
            continue
        findings = side_files.mark_covered(judgement.findings, [(machine, label)], on)
        diagnostics.extend(filter(None, map(of_finding, findings)))
        undecided = _undecided_texts(judgement.undecided, before.undecided)
        diagnostics.extend(_hints(undecided, machine))
        sources = () if machine.tree is None else machine.tree.sources
        judged.append(Judged(judgement, sources, undecided))
    machines = tuple(machine for machine, _ in ready.machines)
    files = tuple(Path(name) for name in ready.files)
    return Analysis((root, *files), tuple(diagnostics), machines, rules.every, tuple(judged))


def _moved_since(before: tuple[Source, ...], machine: Machine) -> Moved:
    """By how many lines an axis was moved since a check of these sources.

    Only of a machine that one file states as a whole is it certain that the places of an axis are
    in the lines of the axis.
    """
    tree = machine.tree
    if tree is not None and len(before) == len(tree.sources) == 1 and not tree.origins:
        old, new = before[0], tree.sources[0]
        if isinstance(old, RememberedText) and isinstance(new, RememberedText):
            return partial(new.moved_since, old) if old.name == new.name else _not_known
    return _not_known


def _not_known(name: str) -> None:
    """Nothing is known of where an axis stood."""
    return


def _undecided_texts(
    undecided: Iterable[Undecided], last: Mapping[str, UndecidedText]
) -> dict[str, UndecidedText]:
    """What is told of each subject of undecided checks; of the same checks, what ``last`` has."""
    by_subject: dict[str, list[Undecided]] = {}
    for each in undecided:
        by_subject.setdefault(each.subject, []).append(each)
    texts: dict[str, UndecidedText] = {}
    for subject, found in by_subject.items():
        checks, known = tuple(found), last.get(subject)
        if known is not None and known.checks == checks:
            texts[subject] = known
            continue
        facts = [each.fact for each in wanted(checks)]
        text = f"{len(checks)} check{'s' if len(checks) > 1 else ''} cannot be decided"
        if facts:
            more = len(facts) - MAX_FACTS
            text += f" without {', '.join(facts[:MAX_FACTS])}"
            text += f" and {more} more facts" if more > 0 else ""
        texts[subject] = UndecidedText(checks, text)
    return texts


def _hints(texts: Mapping[str, UndecidedText], machine: Machine) -> Iterator[Diagnostic]:
    """One hint for each axis, and for the machine, of which checks cannot be decided."""
    for subject, each in texts.items():
        path = f"axes.{subject}" if subject else "machine"
        place = machine.nearest(path) or machine.nearest("axes")
        if place is not None:
            yield Diagnostic(place, machine.line_text(place), "hint", each.text)


def _of_check(error: AxisproofError, root: Path) -> Diagnostic:
    """The diagnostic of a check that came to no end: at the machine, or at a file at fault."""
    if error.place is not None and not Path(error.place.file).is_file():
        error = type(error)(error.what, expected=error.expected)
    return of_error(error, root)


@dataclass
class Workspace:
    """The includes of files, kept until a file is saved again."""

    folders: tuple[Path, ...] = ()
    known: dict[Path, tuple[Any, frozenset[Path]]] = field(default_factory=dict)

    def roots(self, path: Path, reader: Reader) -> tuple[Path, ...]:
        """The machine and project files that include ``path``, or itself if none does."""
        if kind_of(path, reader) in ("mapping", "site"):
            alone: tuple[Path, ...] = ()
        else:
            alone = (path,)
        including = self._files_including(self._candidates(path, reader), reader)
        found: list[Path] = []
        todo, seen = [path.resolve()], {path.resolve()}
        while todo:
            here = todo.pop()
            above = including.get(here, [])
            if not above and here != path.resolve():
                found.append(here)
            for each in above:
                if each not in seen:
                    seen.add(each)
                    todo.append(each)
        return tuple(sorted(found)) or alone

    def _candidates(self, path: Path, reader: Reader) -> list[Path]:
        folders = [folder for folder in self.folders if path.is_relative_to(folder)]
        try:
            files = find_sources(folders[:1] or [path.parent], reader)
        except AxisproofError:
            return []
        return files if len(files) <= MAX_FILES else []

    def _files_including(self, files: Iterable[Path], reader: Reader) -> dict[Path, list[Path]]:
        including: dict[Path, list[Path]] = {}
        for file in files:
            real = file.resolve()
            for included in self._includes(real, reader):
                including.setdefault(included, []).append(real)
        return including

    def _includes(self, file: Path, reader: Reader) -> frozenset[Path]:
        """What a file includes; ``file`` is where its path leads through links."""
        text = reader.texts.get(file)
        try:
            status = file.stat()
            stamp: Any = text if text is not None else (status.st_mtime_ns, status.st_size)
        except OSError:
            stamp = text
        known = self.known.get(file)
        if known is None or known[0] != stamp:
            known = self.known[file] = (stamp, _included_files(file, reader))
        return known[1]


def _included_files(file: Path, reader: Reader) -> frozenset[Path]:
    """The files that a machine or project file names; none for a file that cannot be read."""
    try:
        plain = parse(read_source(file, reader))
    except InputError:
        return frozenset()
    if not isinstance(plain, dict):
        return frozenset()
    names: list[Any] = []
    included, sources = plain.get("include"), plain.get("sources")
    names += included if isinstance(included, list) else []
    for source in sources if "project" in plain and isinstance(sources, list) else []:
        names += source.values() if isinstance(source, dict) else []
    found = set()
    for name in names:
        if isinstance(name, str) and name and "\0" not in name:
            found.add((file.parent / name).resolve())
    return frozenset(found)
