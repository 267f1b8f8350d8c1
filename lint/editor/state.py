"""The open texts of an editor, and their checks, which run beside what answers the editor.

A check takes as long as its files are large. So a thread of its own makes each, from a copy of the
texts, and gives back a whole result. Requests use the last result and never wait.
"""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any, Final

from lsprotocol import types

from ..base.errors import InputError, Place
from ..catalogue.catalogue import ENDING
from ..source.files import Source
from ..source.reader import SUFFIXES, Reader
from ..source.yaml_parts import RememberedText, remembered
from . import rule_files
from .diagnostics import Diagnostic, of_error
from .machines import Analysis, KeptTexts, Workspace, analyse, never
from .open_text import ChangeMisfit, OpenText, is_whole
from .positions import Positions
from .rule_pages import RulePages
from .side_files import SideFileOptions, SideFiles, read_side_files

DELAY: Final = 0.15
"""Seconds without typing after which the server checks a text."""


NOTHING_LOST: Final[Mapping[Path, str]] = {}


@dataclass(frozen=True)
class CheckedTexts:
    """The result of a check of open texts; ``texts`` are those that were checked."""

    texts: Mapping[Path, str] = field(default_factory=dict)
    side_files: SideFiles = field(default_factory=SideFiles)
    machines: Mapping[Path, Analysis] = field(default_factory=dict)
    rule_files: Mapping[Path, rule_files.RuleText] = field(default_factory=dict)
    diagnostics: Mapping[Path, tuple[Diagnostic, ...]] = field(default_factory=dict)
    sources: Mapping[Path, RememberedText] = field(default_factory=dict)

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
    is_stale: Callable[[], bool] = never,
    lost: Mapping[Path, str] = NOTHING_LOST,
) -> CheckedTexts:
    """Check open texts; never raises for input.

    What ``last`` found stays where nothing that it rests on has changed. Of a file in ``lost``
    nobody knows the text, so no machine with it is checked. Raises Stale once ``is_stale`` says so.
    """
    included = (file for analysis in last.machines.values() for file in analysis.files)
    kept = KeptTexts(frozenset((*texts, *included)), last.sources)
    reader = Reader.of(texts).keeping(kept.keep)
    side_files = read_side_files(options, reader, last.side_files)
    machine_files = [
        path
        for path in texts
        if path.name.lower().endswith(SUFFIXES)
        and path not in side_files.apart
        and not side_files.is_plate(path, reader)
    ]
    roots = {root: None for path in machine_files for root in workspace.roots(path, reader)}
    machines = {
        root: analyse(root, reader, side_files, last.machines.get(root), is_stale) for root in roots
    }
    for path, why in lost.items():
        for root in (path, *workspace.roots(path, reader)):
            machines[root] = _of_lost(root, path, why)
    rules = {
        path: rule_files.read_rule_file(path, texts, last.rule_files.get(path))
        for path in texts
        if path.name.endswith(ENDING)
    }
    found = _by_file(machines, side_files, rules)
    return CheckedTexts(texts, side_files, machines, rules, found, kept.now)


def _of_lost(root: Path, path: Path, why: str) -> Analysis:
    """What is told of a machine of which a file is not known as the editor holds it."""
    error = InputError(
        f"the editor sent a change that does not fit the text: {why}. Nothing is checked here",
        expected="the whole text. Save the file, or close it and open it again",
        place=Place(path.as_posix(), 1, 1, 1, 2),
    )
    return Analysis((root, path), (of_error(error, path),))


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
    """The open texts, and the result of the last check.

    ``lost`` says why the text of a file is not known any more as the editor holds it.
    """

    options: SideFileOptions = field(default_factory=SideFileOptions)
    workspace: Workspace = field(default_factory=Workspace)
    positions: Positions = field(default_factory=Positions)
    documents: dict[Path, OpenText] = field(default_factory=dict)
    lost: dict[Path, str] = field(default_factory=dict)
    uris: dict[Path, str] = field(default_factory=dict)
    checked: CheckedTexts = field(default_factory=CheckedTexts)
    published: dict[Path, tuple[Diagnostic, ...]] = field(default_factory=dict)
    sources: dict[Path, RememberedText] = field(default_factory=dict)
    rule_pages: RulePages = field(default_factory=RulePages)
    shows_documents: bool = False

    def open(self, path: Path, text: str, version: int | None = None) -> None:
        """Take the whole text of a file."""
        self.documents[path] = OpenText(text, version)
        self.lost.pop(path, None)

    def change(
        self,
        path: Path,
        changes: Sequence[types.TextDocumentContentChangeEvent],
        version: int | None = None,
    ) -> str:
        """Carry out changes of a text; returns why they do not fit, or nothing."""
        first = max((n for n, each in enumerate(changes) if is_whole(each)), default=None)
        document = self.documents.get(path)
        if first is not None:
            document = OpenText("")
        elif path in self.lost:
            return ""
        elif document is None:
            return self.lose(path, "no text of this file is open")
        try:
            document.change(changes[first or 0 :], self.positions)
        except ChangeMisfit as misfit:
            return self.lose(path, str(misfit))
        document.version = version
        self.documents[path] = document
        self.lost.pop(path, None)
        return ""

    def lose(self, path: Path, why: str) -> str:
        """Note that the text of a file is not known any more; returns why."""
        self.documents.pop(path, None)
        self.lost[path] = why
        return why

    def close(self, path: Path) -> None:
        """Forget the text of a file, which then counts as it is on the disk."""
        for each in (self.documents, self.sources, self.lost):
            each.pop(path, None)

    def text(self, path: Path) -> str:
        """The text of a file as the editor holds it; empty if none is open."""
        document = self.documents.get(path)
        return document.text if document else ""

    def check(self, is_stale: Callable[[], bool] = never) -> Callable[[], CheckedTexts]:
        """The check of the texts as they are now, to run in any thread."""
        texts = {path: document.text for path, document in self.documents.items()}
        workspace, last, lost = self.workspace, self.checked, dict(self.lost)
        return lambda: check_texts(texts, self.options, workspace, last, is_stale, lost)

    def to_publish(self) -> dict[Path, tuple[Diagnostic, ...]]:
        """The diagnostics of every file that has or had any."""
        found = self.checked.diagnostics
        files = {*found, *self.published, *self.documents}
        self.published = dict(found)
        return {path: found.get(path, ()) for path in files}

    def pages_to_write(self) -> Callable[[], None] | None:
        """What writes the pages of rules that findings lead to; None if no page is lacking."""
        rules = self.checked.side_files.rules
        if rules is None:
            return None
        every = [each for found in self.checked.diagnostics.values() for each in found]
        concerns = (each.finding.concern for each in every if each.finding)
        lacking = self.rule_pages.lacking(rules.every, concerns)
        return partial(self.rule_pages.write, rules.every, lacking) if lacking else None

    def is_current(self, path: Path) -> bool:
        """Whether the last check was of the text of a file as it is now."""
        document = self.documents.get(path)
        return document is not None and self.checked.texts.get(path) == document.text

    def uri(self, path: Path) -> str:
        """The URI of a file, as the editor spells it if it named the file."""
        return self.uris.get(path) or path.as_uri()

    def source(self, path: Path) -> Source | None:
        """The source of an open machine file; None for any other file."""
        if path not in self.documents or path.name.endswith(ENDING):
            return None
        form: Any = "json" if path.name.lower().endswith(".json") else "yaml"
        source = Source(path, path.as_posix(), self.text(path), form)
        found = self.sources[path] = remembered(source, self.sources.get(path))
        return found


Run = Callable[[Callable[[], None]], None]
"""Runs a function somewhere, at once or later."""


def in_thread(work: Callable[[], None]) -> None:
    """Run a function in a thread that does not keep the program from its end."""
    threading.Thread(target=work, daemon=True).start()


class CheckRunner:
    """Checks the texts of a state, one check at a time, and tells the result in the loop.

    A change ends the check that runs, as soon as this looks up. A result of texts that changed
    meanwhile is kept for requests, but not told: the next check follows. ``tell`` gets None, or the
    mistake that ended a check.
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
        number = self.changes
        check = self.state.check(lambda: number != self.changes)

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
