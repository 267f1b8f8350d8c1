"""Putting the values that rules compute into machine files: only the bytes of a value change.

Only fixes that need nobody at the machine are ever applied. Each change is tried before it is
shown: the new text must read as the old one does but for the value, and the rules are asked again
until none of them has a safe value to offer.
"""

from __future__ import annotations

import difflib
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from ..base.errors import Place, UsageError
from ..findings.finding import Finding, Fix, Report

if TYPE_CHECKING:
    from collections.abc import Callable

    from ..source.files import Form, Source
    from ..source.places import KeyPath
    from ..source.reader import Reader

MAX_ROUNDS: Final = 10
"""How often the rules are asked again; each round can only follow from the one before it."""

_PLAIN: Final = re.compile(r"[A-Za-z0-9+-][A-Za-z0-9 ./^·°µ%_-]*")
"""Text that YAML reads as one plain scalar wherever it stands."""

_BARE_IN_JSON: Final = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]+)?|true|false")

_NO_SCALAR: Final = ("&", "*", "!", "|", ">", "{", "[")
"""What a value begins with that is more than a scalar: its name, type or style would be lost."""

_PROPERTIES: Final = re.compile(r"(?:^|[\s,\[{])[&!]\S*\s+$")
"""A name or type before a value in YAML: other places may refer to it."""


@dataclass(frozen=True, slots=True)
class Edit:
    """A value to be replaced: ``place`` holds ``old`` and is to hold ``new``, quotes and all."""

    fact: str
    place: Place
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class FileChange:
    """A file before and after all edits; its byte order mark (if ``bom``) is in neither text."""

    path: Path
    name: str
    before: str
    after: str
    bom: bool
    edits: tuple[Edit, ...]

    def diff(self) -> str:
        """The change as a unified diff, with three lines around each value."""
        lines = difflib.unified_diff(
            _lines(self.before), _lines(self.after), self.name, f"{self.name} (corrected)"
        )
        return "".join(line if line.endswith("\n") else f"{line}\n" for line in lines)


@dataclass(frozen=True, slots=True)
class Repair:
    """What may be written, and the report of a check as if it were.

    ``settled`` are the findings of the first check whose value is written. ``at_machine`` counts
    the findings left that offer a value which must not be applied from a desk.
    """

    changes: tuple[FileChange, ...]
    settled: tuple[Finding, ...]
    report: Report

    @property
    def at_machine(self) -> int:
        """Findings left that offer a value which needs the work their remedy describes."""
        return sum(1 for each in self.report.findings if each.fix and not each.fix.safe)


def edit_for(fix: Fix, form: Form | None = None) -> Edit | None:
    """The edit that puts a fix's value in place, quoted as the old one and the file need it.

    ``form`` is that of the file; by default its name tells. None if the value stands nowhere, on
    several lines, or is more than a scalar.
    """
    place = fix.place
    if place is None or place.end_line != place.line:
        return None
    old = fix.line_text[place.column - 1 : place.end_column - 1]
    before = fix.line_text[: place.column - 1]
    if not old or old.startswith(_NO_SCALAR) or _PROPERTIES.search(before):
        return None
    is_json = place.file.lower().endswith(".json") if form is None else form == "json"
    return Edit(fix.fact, place, old, _written(fix.value, old, is_json))


def _written(value: str, old: str, is_json: bool) -> str:
    if old.startswith("'") and not is_json:
        return "'" + value.replace("'", "''") + "'"
    bare = _BARE_IN_JSON if is_json else _PLAIN
    if old.startswith('"') or not bare.fullmatch(value):
        return json.dumps(value, ensure_ascii=False)
    return value


def repair(check: Callable[[Mapping[Path, str]], Report], reader: Reader) -> Repair:
    """Apply safe fixes, in memory, until no rule offers one.

    ``check`` checks the machines with some files read as given; ``reader`` reads them as they are.
    Raises UsageError if two rules want a value differently, if an edit would change more than its
    value, or if the rules do not come to rest.
    """
    from ..source.reader import read_source

    originals: dict[Path, Source] = {}
    texts: dict[Path, str] = {}
    done: dict[Path, list[Edit]] = {}
    settled: list[Finding] = []
    for _ in range(MAX_ROUNDS):
        report = check(texts)
        wanted = list(_safe_edits(report.findings, reader))
        if not wanted:
            changes = [_change(originals[path], texts[path], done[path]) for path in originals]
            return Repair(tuple(changes), tuple(settled), report)
        for path, edits in _by_file(edit for _, edit in wanted).items():
            source = originals.setdefault(path, read_source(path, reader))
            texts[path] = apply_edits(source, texts.get(path, source.text), edits)
            done.setdefault(path, []).extend(edits)
        settled += [finding for finding, _ in wanted]
    fact = wanted[0][1].fact
    raise UsageError(
        f"after {MAX_ROUNDS} rounds of fixes the rules still want {fact} otherwise",
        expected="rules whose fixes agree. Nothing was written",
    )


def _safe_edits(findings: Iterable[Finding], reader: Reader) -> Iterator[tuple[Finding, Edit]]:
    """The edits of findings that count.

    What is waived or accepted is left as it is. A waiver would lapse with the value it was granted
    for, or cover nothing, and so be a finding itself.
    """
    for finding in findings:
        if finding.fix is None or not finding.fix.safe or finding.waived is not None:
            continue
        edit = edit_for(finding.fix, _form_of(finding.fix, reader))
        if edit is not None and edit.new != edit.old:
            yield finding, edit


def _form_of(fix: Fix, reader: Reader) -> Form | None:
    """The form of standard input, which has no name that tells it; None for any other file."""
    from ..source.reader import STDIN, read_source

    is_stdin = fix.place is not None and Path(fix.place.file) == STDIN
    return read_source(STDIN, reader).form if is_stdin else None


def _by_file(edits: Iterable[Edit]) -> dict[Path, list[Edit]]:
    """Edits by file, in the order they stand there, each place once."""
    files: dict[Path, dict[Place, Edit]] = {}
    for edit in edits:
        known = files.setdefault(Path(edit.place.file), {}).setdefault(edit.place, edit)
        if known.new != edit.new:
            raise UsageError(
                f"{edit.place}: one rule wants {known.new} here, another {edit.new}",
                expected="rules whose fixes agree. Nothing was written",
            )
    return {path: [found[place] for place in sorted(found)] for path, found in files.items()}


def apply_edits(source: Source, text: str, edits: Iterable[Edit]) -> str:
    """``text`` of the file ``source`` with its values replaced.

    Raises UsageError unless the new text reads as before but for these values.
    """
    from dataclasses import replace

    from ..source.parsing import locate, parse

    before = replace(source, text=text)
    spans = []
    for edit in edits:
        start = before.line_starts[edit.place.line - 1] + edit.place.column - 1
        spans.append((start, start + len(edit.old), edit))
    for start, end, edit in reversed(spans):
        if text[start:end] != edit.old:
            raise UsageError(f"{edit.place}: {edit.old} stands here no more", expected="a new run")
        text = text[:start] + edit.new + text[end:]
    after = replace(source, text=text)
    changed = set(_differing(parse(before), parse(after), ()))
    starts = {locate(before).node(path).start for path in changed}  # type: ignore[union-attr]
    if len(changed) != len(spans) or starts != {start for start, _, _ in spans}:
        place, fact = spans[0][2].place, spans[0][2].fact
        raise UsageError(
            f"{place}: {fact} cannot be written without changing more than this value",
            expected="a value of its own. Nothing was written",
        )
    return text


def _differing(one: Any, two: Any, path: KeyPath) -> Iterator[KeyPath]:
    """The paths at which two plain trees differ."""
    if isinstance(one, dict) and isinstance(two, dict) and one.keys() == two.keys():
        for key in one:
            yield from _differing(one[key], two[key], (*path, key))
    elif isinstance(one, list) and isinstance(two, list) and len(one) == len(two):
        for index, pair in enumerate(zip(one, two, strict=True)):
            yield from _differing(*pair, (*path, index))
    elif type(one) is not type(two) or one != two:
        yield path


def _change(source: Source, after: str, edits: list[Edit]) -> FileChange:
    return FileChange(source.path, source.name, source.text, after, source.bom, tuple(edits))


def _lines(text: str) -> list[str]:
    """Lines as a diff shows them, whatever ends them in the file."""
    return [f"{line}\n" for line in re.split(r"\r\n?|\n", text.removesuffix("\n"))]


def write(changes: Iterable[FileChange]) -> None:
    """Write changed files, each all of it or nothing, with its permissions.

    A link is followed to a file in its own folder or below, and to no other. Raises UsageError for
    a file that is no longer what it was when it was checked and for one that cannot be written;
    nothing is written then, or what was is named.
    """
    from ..base.safe_write import write_files
    from ..source.reader import read_source

    changes = tuple(changes)

    def unchanged() -> None:
        for change in changes:
            now = read_source(change.path)
            if (now.text, now.bom) != (change.before, change.bom):
                raise UsageError(
                    f"{change.name} has changed since it was checked",
                    expected="a new run. Nothing was written",
                )

    texts = {_inside(each.path): ("\ufeff" if each.bom else "") + each.after for each in changes}
    write_files(texts, force=True, last_look=unchanged)


def _inside(path: Path) -> Path:
    """Where a link leads, if it stays in its folder; else the path, which is refused as a link."""
    if not path.is_symlink():
        return path
    real = path.resolve()
    return real if real.is_relative_to(path.parent.resolve()) else path
