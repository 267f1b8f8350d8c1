"""The targets of fuzzing, and what must hold for every input.

A target uses the files of an input in a folder as the command line does. It returns True if they
are usable and raises AxisproofError if not. Any other exception is a fault of axisproof, and so is
a report that ``_check_report`` refuses.
"""

from __future__ import annotations

import datetime
import json
import os
import re
import resource
import shutil
import signal
import tempfile
import traceback
import xml.etree.ElementTree as ET
import zlib
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import FrameType
from typing import Any, Final

from axisproof import api
from axisproof.base.errors import AxisproofError
from axisproof.findings.finding import Report
from axisproof.report.error_text import render_error
from axisproof.report.formats import renderer
from axisproof.report.rendering import RenderOptions

from . import hostile
from .evidence import evidence
from .file_bundle import unpack

ROOT: Final = Path(__file__).resolve().parents[3]
FIXTURES: Final = ROOT / "fixtures"
DAY: Final = datetime.date(2026, 6, 1)

SECONDS: Final = 10.0
"""Most CPU time of an input with instrumentation; without it a small file needs milliseconds."""

MEMORY: Final = 512 * 2**20
"""Most bytes by which one input may raise the peak of memory."""

THOROUGH: Final = 8
"""One in this number of inputs runs all uses of its target, the others the quick ones."""

OPTIONS: Final = RenderOptions(width=80, colour=False, workings=True, fail_at="warning")

_UNSAFE: Final = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""Characters that must not reach a terminal: controls, and those that reorder text."""


class UnsafeOutput(Exception):
    """A report or message that is not safe to print."""


class TooSlow(BaseException):
    """An input took too much CPU time; handlers of Exception do not catch this."""


@dataclass(frozen=True, slots=True)
class InputVerdict:
    """The result of an input: ``read``, ``refused`` or ``fault`` with its words and key."""

    kind: str
    words: str = ""
    key: str = ""


@dataclass(frozen=True, slots=True)
class FuzzTarget:
    """A target: the names of the files of an input, and the function that uses them."""

    names: tuple[str, ...]
    use: Callable[[Path, Sequence[str], bool], bool]


# Using an input -----------------------------------------------------------------------------------


def use_input(target: FuzzTarget, data: bytes, seconds: float = SECONDS) -> InputVerdict:
    """Use an input in a folder of its own, within its bounds, and return the result."""
    files = unpack(data, target.names)
    if not files:
        return InputVerdict("refused")
    folder = Path(tempfile.mkdtemp(prefix="axisproof-fuzz-", dir=_scratch()))
    before = _peak()
    try:
        for name, text in files.items():
            (folder / name).write_bytes(text)
        with bounded(seconds):
            try:
                used = target.use(folder, list(files), zlib.crc32(data) % THOROUGH == 0)
            except AxisproofError as error:
                _check_text(render_error(error, OPTIONS), "an error")
                used = False
        if _peak() - before > MEMORY:
            what = f"{(_peak() - before) >> 20} MiB of memory"
            return InputVerdict("fault", what, "memory")
        return InputVerdict("read" if used else "refused")
    except (Exception, TooSlow) as fault:
        trace = traceback.extract_tb(fault.__traceback__)
        own = [step for step in trace if "/lint/" in step.filename or "/rules/" in step.filename]
        if isinstance(fault, TooSlow):
            key = "TooSlow"
        else:
            last = own[-1] if own else trace[-1]
            key = f"{type(fault).__name__} {Path(last.filename).name}:{last.lineno}"
        return InputVerdict("fault", "".join(traceback.format_exception(fault)), key)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _scratch() -> str | None:
    return "/dev/shm" if os.access("/dev/shm", os.W_OK) else None


def _peak() -> int:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


@contextmanager
def bounded(seconds: float) -> Iterator[None]:
    """Limit the CPU time of the context. Raises TooSlow beyond it."""

    def stop(number: int, frame: FrameType | None) -> None:
        raise TooSlow(f"more than {seconds} s of CPU time")

    before = signal.signal(signal.SIGVTALRM, stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)


# What reports must be -----------------------------------------------------------------------------


def _check_text(text: str, what: str) -> None:
    found = _UNSAFE.search(text)
    if found:
        raise UnsafeOutput(f"{what} holds U+{ord(found[0]):04X}: {text[: found.start()][-80:]!r}")


def _check_report(report: Report, thorough: bool) -> None:
    """Render a report in several forms; raises UnsafeOutput for unsafe text."""
    more = ("markdown", "junit", "html") if thorough else ()
    for form in ("text", "json", "sarif", *more):
        text = renderer(form)(report, OPTIONS)
        _check_text(text, form)
        if form in ("json", "sarif"):
            json.loads(text)
        elif form == "junit":
            ET.fromstring(text)
        text.encode()


# Targets ------------------------------------------------------------------------------------------


def _machine(folder: Path, names: Sequence[str], thorough: bool) -> bool:
    tops = [name for name in names if name in ("machine.yaml", "machine.json")]
    paths = [folder / name for name in tops or names]
    report = api.check(
        paths, api.CheckOptions(on=DAY, workings=True, every_outcome=thorough, sketches=thorough)
    )
    _check_report(report, thorough)
    if not thorough:
        return True
    for change in api.fixes(paths, api.CheckOptions(on=DAY)).changes:
        _check_text(change.diff(), "a correction")
    if len(paths) == 1:
        from axisproof.report.derived_table import render_derived

        _check_text(render_derived(api.show(paths[0]), OPTIONS), "derived numbers")
    return True


def _rules(folder: Path, names: Sequence[str], thorough: bool) -> bool:
    from axisproof.report.rule_text import render_rule, render_rule_test, render_rules

    paths = [folder / name for name in names]
    tested = api.test_rules(paths)
    _check_text(render_rule_test(tested, OPTIONS), "the test of rules")
    for fault in tested.faults:
        if "two evaluators differ" in fault.what:
            raise UnsafeOutput(fault.what)
    if not thorough:
        return True
    _check_report(
        api.check([FIXTURES / "sound/feeder.yaml"], api.CheckOptions(rules=paths, on=DAY)), thorough
    )
    infos = [info for info in api.list_rules(paths) if Path(info.file) in paths]
    _check_text(render_rules(infos, OPTIONS), "the list of rules")
    for info in infos:
        _check_text(render_rule(info, OPTIONS, source=True), "a rule explained")
    return True


def _imported(paths: Sequence[Path], thorough: bool, options: Any = None) -> bool:
    from axisproof.authoring.yaml_writing import machine_yaml
    from axisproof.source.files import Source
    from axisproof.source.parsing import parse

    imported = api.import_(paths, options)
    text = machine_yaml(imported.tree, imported.remarks)
    again = parse(Source(Path("again.yaml"), "again.yaml", text, "yaml"))
    if again != imported.tree.plain:
        raise UnsafeOutput("what is written does not read back as it was")
    if paths[0].name == "project.yaml":
        _check_report(api.check(paths, api.CheckOptions(on=DAY, workings=True)), thorough)
        return True
    written = paths[0].parent / "imported.yaml"
    written.write_text(text, "utf-8")
    _check_report(api.check([written], api.CheckOptions(on=DAY)), thorough)
    return True


def _device(folder: Path, names: Sequence[str], thorough: bool) -> bool:
    from axisproof.importing.single_export import ImportOptions

    paths = [folder / name for name in names]
    options = ImportOptions(machine="M", axis="x", motion="linear", reference_reads="minus_offset")
    return _imported(paths, thorough, options)


def _lists(folder: Path, names: Sequence[str], thorough: bool) -> bool:
    from axisproof.importing.single_export import ImportOptions

    given = folder / "given.yaml"
    axes = {"LIFT": ("linear", 5), "TABLE": ("rotary", 6), "x": ("linear", 1)}
    lines = [
        f"  {name}: {{motion: {motion}, drive: {{node: {node}}}}}\n"
        for name, (motion, node) in axes.items()
    ]
    given.write_text("format: 1\nmachine: M\naxes:\n" + "".join(lines), "utf-8")
    lists = [folder / name for name in names if name.startswith("list.")]
    return _imported([given, *lists], thorough, ImportOptions(mapping=folder / "mapping.yaml"))


def _project(folder: Path, names: Sequence[str], thorough: bool) -> bool:
    if "project.yaml" not in names:
        shutil.copy(FIXTURES / "imports/cell/project.yaml", folder)
    for file in (FIXTURES / "imports/cell").iterdir():
        if not (folder / file.name).exists():
            shutil.copy(file, folder)
    return _imported([folder / "project.yaml"], thorough)


def _side_files(folder: Path, names: Sequence[str], thorough: bool) -> bool:
    def given(name: str) -> Path | None:
        for ending in (".yaml", ".json"):
            if name + ending in names:
                return folder / (name + ending)
        return None

    report = api.check(
        [FIXTURES / "changes/lift/speed-raised-past-room.yaml"],
        api.CheckOptions(
            on=DAY, settings=given("settings"), waivers=given("waivers"), accepted=given("accepted")
        ),
    )
    _check_report(report, thorough)
    return True


def _spare(folder: Path, names: Sequence[str], thorough: bool) -> bool:
    from axisproof.report.spare_json import render as as_json
    from axisproof.report.spare_text import render as as_text
    from axisproof.swap import api as swap

    file = folder / (names[0] if names else "part.yaml")
    text = file.read_bytes() if file.exists() else b""
    stated = re.search(rb"part: *\"?(motor|encoder|drive|gearbox|battery)", text)
    kind: Any = stated[1].decode() if stated else "motor"
    axis = {"gearbox": "index_table", "battery": "lift"}.get(kind, "infeed_pusher")
    report = swap.spare(FIXTURES / "sound/hall.yaml", axis, kind, file, on=DAY, plan=True)
    _check_text(as_text(report, OPTIONS), "the report on a spare")
    json.loads(as_json(report, OPTIONS))
    return True


def _editor(folder: Path, names: Sequence[str], thorough: bool) -> bool:
    from .editor import session

    return session(folder, names)


TARGETS: Final[dict[str, FuzzTarget]] = {
    "machine": FuzzTarget(("machine.yaml", "machine.json", "part.yaml", "part.json"), _machine),
    "rules": FuzzTarget(("site.rules", "more.rules"), _rules),
    "device": FuzzTarget(("device.dcf", "device.eds", "device.xdc", "device.xml"), _device),
    "lists": FuzzTarget(
        ("list.csv", "mapping.yaml", "list.ini", "list.json", "list.yaml", "list.xml"),
        _lists,
    ),
    "project": FuzzTarget(
        (
            *("project.yaml", "controller.mapping.yaml", "encoders.mapping.yaml"),
            *("controller.csv", "encoders.csv", "mechanics.yaml", "lift.dcf"),
        ),
        _project,
    ),
    "side_files": FuzzTarget(
        tuple(
            f"{name}.{ending}"
            for name in ("waivers", "accepted", "settings")
            for ending in ("yaml", "json")
        ),
        _side_files,
    ),
    "spare": FuzzTarget(("part.yaml", "part.json"), _spare),
    "evidence": FuzzTarget(("dice",), evidence),
    "records": FuzzTarget(("record.json", "waivers.yaml", "accepted.yaml"), hostile.records),
    "trees": FuzzTarget(("script",), hostile.trees),
    "repositories": FuzzTarget(("script",), hostile.repositories),
    "quoted": FuzzTarget(("lines", "machine.yaml"), hostile.quoted),
    "editor": FuzzTarget(("session", "machine.yaml", "site.rules", "machine.json"), _editor),
}
