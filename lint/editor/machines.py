"""Machines as an editor sees them: which machine a file belongs to, and what is said about it."""

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
from ..machine.reader import Machine
from ..source.files import find_sources, parse, read_source, unsaved, unsaved_bytes
from .diagnostics import Diagnostic, of_error, of_finding
from .side_files import SideFiles

MAX_FILES: Final = 2000
"""Files of a workspace that are searched for includes; a larger one is not searched."""

MAX_FACTS: Final = 5
"""Facts named in the remark about undecided checks."""


@dataclass(frozen=True)
class Analysis:
    """The machine of one file and what there is to say, by file."""

    files: tuple[Path, ...]
    remarks: tuple[Diagnostic, ...]
    machines: tuple[Machine, ...] = ()
    catalogue: Catalogue | None = None


def analyse(
    root: Path,
    texts: Mapping[Path, str],
    beside: SideFiles,
    on: datetime.date | None = None,
) -> Analysis:
    """Check one machine file (and what it includes) with unsaved text; never raises for input."""
    remarks = [of_error(error, root) for error in beside.errors]
    in_force = beside.rules
    if in_force is None:
        return Analysis((root,), tuple(remarks))
    try:
        with unsaved(texts):
            ready = read_machines([root], in_force, on)
    except AxisproofError as error:
        told = of_error(error, root)
        return Analysis((root, Path(told.place.file)), (*remarks, told))
    for machine, label in ready.machines:
        results = check_machine(machine, label, in_force.catalogue, Options())
        findings = beside.cover(results.findings, [(machine, label)], on)
        remarks.extend(filter(None, map(of_finding, findings)))
        for subject in dict.fromkeys(each.subject for each in results.undecided):
            lacking = [each for each in results.undecided if each.subject == subject]
            path = f"axes.{subject}" if subject else "machine"
            place = machine.nearest(path) or machine.nearest("axes")
            if place is None:
                continue
            facts = [each.fact for each in wanted(lacking)]
            text = f"{len(lacking)} check{'s' if len(lacking) > 1 else ''} undecided"
            if facts:
                more = len(facts) - MAX_FACTS
                text += f" for want of {', '.join(facts[:MAX_FACTS])}"
                text += f" and {more} more facts" if more > 0 else ""
            remarks.append(Diagnostic(place, machine.line_text(place), "hint", text))
    machines = tuple(machine for machine, _ in ready.machines)
    files = tuple(Path(name) for name in ready.files)
    return Analysis((root, *files), tuple(remarks), machines, in_force.every)


@dataclass
class Workspace:
    """Which files take in which, remembered for as long as they are not saved again."""

    folders: tuple[Path, ...] = ()
    known: dict[Path, tuple[Any, frozenset[Path]]] = field(default_factory=dict)

    def roots(self, path: Path, texts: Mapping[Path, str]) -> tuple[Path, ...]:
        """The machine and project files that take ``path`` in, or itself if none does."""
        with unsaved(texts):
            if kind_of(path) == "mapping":
                alone: tuple[Path, ...] = ()
            else:
                alone = (path,)
            takers = self._takers(self._candidates(path))
            found: list[Path] = []
            todo, seen = [path.resolve()], {path.resolve()}
            while todo:
                here = todo.pop()
                above = takers.get(here, [])
                if not above and here != path.resolve():
                    found.append(here)
                for each in above:
                    if each not in seen:
                        seen.add(each)
                        todo.append(each)
        return tuple(sorted(found)) or alone

    def _candidates(self, path: Path) -> list[Path]:
        folders = [folder for folder in self.folders if path.is_relative_to(folder)]
        try:
            files = find_sources(folders[:1] or [path.parent])
        except AxisproofError:
            return []
        return files if len(files) <= MAX_FILES else []

    def _takers(self, files: Iterable[Path]) -> dict[Path, list[Path]]:
        takers: dict[Path, list[Path]] = {}
        for file in files:
            real = file.resolve()
            for taken in self._takes(real):
                takers.setdefault(taken, []).append(real)
        return takers

    def _takes(self, file: Path) -> frozenset[Path]:
        text = unsaved_bytes(file)
        try:
            status = file.stat()
            stamp: Any = text if text is not None else (status.st_mtime_ns, status.st_size)
        except OSError:
            stamp = text
        known = self.known.get(file)
        if known is None or known[0] != stamp:
            known = self.known[file] = (stamp, _taken_in(file))
        return known[1]


def _taken_in(file: Path) -> frozenset[Path]:
    """The files that a machine or project file names; none for a file that cannot be read."""
    try:
        plain = parse(read_source(file))
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
