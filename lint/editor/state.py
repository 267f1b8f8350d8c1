"""The open texts of an editor, and their checks, which run beside what answers the editor.

A check takes as long as its files are large. So a thread of its own makes each, from a copy of the
texts, and gives back a whole result. Requests use the last result and never wait.
"""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from ..base.errors import Place
from ..catalogue.catalogue import ENDING
from ..source.files import Source
from ..source.reader import SUFFIXES, Reader
from . import rule_files
from .diagnostics import Diagnostic, of_error
from .machines import Analysis, Workspace, analyse
from .side_files import SideFileOptions, SideFiles, read_side_files

DELAY: Final = 0.15
"""Seconds without typing after which the server checks a text."""


@dataclass(frozen=True)
class CheckedTexts:
    """The result of a check of open texts; ``texts`` are those that were checked."""

    texts: Mapping[Path, str] = field(default_factory=dict)
    side_files: SideFiles = field(default_factory=SideFiles)
    machines: Mapping[Path, Analysis] = field(default_factory=dict)
    rule_files: Mapping[Path, rule_files.RuleText] = field(default_factory=dict)
    diagnostics: Mapping[Path, tuple[Diagnostic, ...]] = field(default_factory=dict)

    def analysis_of(self, path: Path) -> Analysis | None:
        """The machine that a file belongs to."""
        for analysis in self.machines.values():
            if any(file.resolve() == path for file in analysis.files):
                return analysis
        return None


def check_texts(
    texts: Mapping[Path, str],
    options: SideFileOptions,
    workspace: Workspace,
    last: CheckedTexts,
) -> CheckedTexts:
    """Check open texts; never raises for input."""
    reader = Reader.of(texts)
    side_files = read_side_files(options, reader)
    machine_files = [
        path
        for path in texts
        if path.name.lower().endswith(SUFFIXES)
        and path not in side_files.apart
        and not side_files.is_plate(path, reader)
    ]
    roots = {root: None for path in machine_files for root in workspace.roots(path, texts)}
    machines = {root: analyse(root, texts, side_files) for root in roots}
    rules = {
        path: rule_files.read_rule_file(path, texts, last.rule_files.get(path))
        for path in texts
        if path.name.endswith(ENDING)
    }
    found = _by_file(machines, side_files, rules)
    return CheckedTexts(texts, side_files, machines, rules, found)


def _by_file(
    machines: Mapping[Path, Analysis],
    side_files: SideFiles,
    rules: Mapping[Path, rule_files.RuleText],
) -> dict[Path, tuple[Diagnostic, ...]]:
    """Diagnostics by file, each once, also where two machines share a file."""
    found: dict[Path, dict[Diagnostic, None]] = {}
    for analysis in machines.values():
        for diagnostic in analysis.diagnostics:
            found.setdefault(real_path(diagnostic.place), {}).setdefault(diagnostic)
    for error in side_files.errors:
        if error.place:  # an error without a place is at the top of each machine
            diagnostic = of_error(error, Path(error.place.file))
            found.setdefault(real_path(diagnostic.place), {}).setdefault(diagnostic)
    for text in rules.values():
        if text.fault:
            found.setdefault(real_path(text.fault.place), {}).setdefault(text.fault)
    return {path: tuple(diagnostics) for path, diagnostics in found.items()}


def real_path(place: Place) -> Path:
    """The file of a place, through links."""
    return Path(place.file).resolve()


@dataclass
class ServerState:
    """The open texts, and the result of the last check."""

    options: SideFileOptions = field(default_factory=SideFileOptions)
    workspace: Workspace = field(default_factory=Workspace)
    texts: dict[Path, str] = field(default_factory=dict)
    uris: dict[Path, str] = field(default_factory=dict)
    checked: CheckedTexts = field(default_factory=CheckedTexts)
    published: set[Path] = field(default_factory=set)
    sources: dict[Path, Source] = field(default_factory=dict)

    def check(self) -> Callable[[], CheckedTexts]:
        """The check of the texts as they are now, to run in any thread."""
        texts, workspace, last = dict(self.texts), self.workspace, self.checked
        return lambda: check_texts(texts, self.options, workspace, last)

    def to_publish(self) -> dict[Path, tuple[Diagnostic, ...]]:
        """The diagnostics of every file that has or had any."""
        found = self.checked.diagnostics
        files = {*found, *self.published, *self.texts}
        self.published = set(found)
        return {path: found.get(path, ()) for path in files}

    def is_current(self, path: Path) -> bool:
        """Whether the last check was of the text of a file as it is now."""
        return self.checked.texts.get(path) == self.texts.get(path)

    def uri(self, path: Path) -> str:
        """The URI of a file, as the editor spells it if it named the file."""
        return self.uris.get(path) or path.as_uri()

    def source(self, path: Path) -> Source | None:
        """The source of an open machine file; None for any other file."""
        if path not in self.texts or path.name.endswith(ENDING):
            return None
        known, text = self.sources.get(path), self.texts[path]
        if known is None or known.text is not text:
            form: Any = "json" if path.name.lower().endswith(".json") else "yaml"
            known = self.sources[path] = Source(path, path.as_posix(), text, form)
        return known


Run = Callable[[Callable[[], None]], None]
"""Runs a function somewhere, at once or later."""


def in_thread(work: Callable[[], None]) -> None:
    """Run a function in a thread that does not keep the program from its end."""
    threading.Thread(target=work, daemon=True).start()


class CheckRunner:
    """Checks the texts of a state, one check at a time, and tells the result in the loop.

    A result of texts that changed meanwhile is kept for requests, but not told: the next check
    follows. ``tell`` gets None, or the mistake that ended a check.
    """

    def __init__(
        self, state: ServerState, tell: Callable[[Exception | None], None], run: Run = in_thread
    ) -> None:
        self.state = state
        self.tell = tell
        self.run = run
        self.changes = 0
        self.is_running = False
        self.waiting: asyncio.TimerHandle | None = None

    def after(self, delay: float) -> None:
        """Check after so many seconds without another change."""
        self.changes += 1
        if self.waiting is not None:
            self.waiting.cancel()
        self.waiting = asyncio.get_running_loop().call_later(delay, self._start)

    def _start(self) -> None:
        self.waiting = None
        if self.is_running:
            return  # the end of the present check starts the next
        self.is_running = True
        loop = asyncio.get_running_loop()
        number, check = self.changes, self.state.check()

        def work() -> None:
            result: CheckedTexts | Exception
            try:
                result = check()
            except Exception as mistake:
                result = mistake
            try:
                loop.call_soon_threadsafe(self._end, number, result)
            except RuntimeError:
                return  # the loop has ended, and nobody waits any more

        self.run(work)

    def _end(self, number: int, result: CheckedTexts | Exception) -> None:
        self.is_running = False
        if isinstance(result, CheckedTexts):
            self.state.checked = result
        if number == self.changes:
            self.tell(None if isinstance(result, CheckedTexts) else result)
        elif self.waiting is None:
            self._start()
