"""From the texts of an editor to the machine of a file and its diagnostics."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from ..base.errors import AxisproofError, InputError
from ..catalogue.catalogue import Catalogue
from ..checking.assembling import wanted
from ..checking.reading import read_machines
from ..engine.engine import Options, check_machine
from ..importing.entry import kind_of
from ..machine.machine import Machine
from ..source.parsing import parse
from ..source.reader import Reader, find_sources, read_source
from .diagnostics import Diagnostic, of_error, of_finding
from .side_files import SideFiles

MAX_FILES: Final = 2000
"""Most files of a workspace that is searched for includes."""

MAX_FACTS: Final = 5
"""Most facts that a diagnostic about undecided checks names."""


@dataclass(frozen=True)
class Analysis:
    """The machine of one file, the files it includes and the diagnostics."""

    files: tuple[Path, ...]
    diagnostics: tuple[Diagnostic, ...]
    machines: tuple[Machine, ...] = ()
    catalogue: Catalogue | None = None


def analyse(
    root: Path,
    texts: Mapping[Path, str],
    side_files: SideFiles,
    on: datetime.date | None = None,
) -> Analysis:
    """Check one machine file and its includes with unsaved text; never raises for input."""
    diagnostics = [of_error(error, root) for error in side_files.errors]
    rules = side_files.rules
    if rules is None:
        return Analysis((root,), tuple(diagnostics))
    reader = Reader.of(texts).with_shelf(side_files.shelf)
    try:
        ready = read_machines([root], rules, on, reader)
    except AxisproofError as error:
        diagnostic = of_error(error, root)
        return Analysis((root, Path(diagnostic.place.file)), (*diagnostics, diagnostic))
    for machine, label in ready.machines:
        try:
            results = check_machine(machine, label, rules.catalogue, Options())
        except AxisproofError as error:  # it takes more than a check may take
            diagnostics.append(_of_check(error, root))
            continue
        findings = side_files.mark_covered(results.findings, [(machine, label)], on)
        diagnostics.extend(filter(None, map(of_finding, findings)))
        for subject in dict.fromkeys(each.subject for each in results.undecided):
            undecided = [each for each in results.undecided if each.subject == subject]
            path = f"axes.{subject}" if subject else "machine"
            place = machine.nearest(path) or machine.nearest("axes")
            if place is None:
                continue
            facts = [each.fact for each in wanted(undecided)]
            text = f"{len(undecided)} check{'s' if len(undecided) > 1 else ''} cannot be decided"
            if facts:
                more = len(facts) - MAX_FACTS
                text += f" without {', '.join(facts[:MAX_FACTS])}"
                text += f" and {more} more facts" if more > 0 else ""
            diagnostics.append(Diagnostic(place, machine.line_text(place), "hint", text))
    machines = tuple(machine for machine, _ in ready.machines)
    files = tuple(Path(name) for name in ready.files)
    return Analysis((root, *files), tuple(diagnostics), machines, rules.every)


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

    def roots(self, path: Path, texts: Mapping[Path, str]) -> tuple[Path, ...]:
        """The machine and project files that include ``path``, or itself if none does."""
        reader = Reader.of(texts)
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
        text = reader.given(file)
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
