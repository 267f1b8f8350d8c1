"""What a hostile archive, record or repository must not do: targets that watch the surroundings.

Each runs commands as a user would, in a folder of its own, with a file beside that folder. Nothing
may read that file, write beside the folder, run a program, or print a command of a CI system.
"""

from __future__ import annotations

import hashlib
import io
import json
import os
import re
import subprocess
import zlib
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, redirect_stderr, redirect_stdout, suppress
from pathlib import Path
from typing import Any, Final

from axisproof.base.version import tool_version
from axisproof.batch import shards
from axisproof.batch.run_conditions import code_digest
from axisproof.cli.main import run
from axisproof.report.unusable_files import UNUSABLE_TITLE

SECRET: Final = "keep-this-word-inside"
"""Stands in the file beside the folder; no output may hold it."""

MAX_LINES: Final = 40
"""Lines of a script that are carried out."""

MAX_TEXT: Final = 20_000
"""Most characters that one line of a script writes."""

FORMS: Final = ("text", "json", "sarif", "junit", "markdown", "html")

COMMAND: Final = re.compile(r"^(?:[\s\ufeff\u200b]|\x1b\[[0-9;]*m)*::|##[\w.-]*\[")
"""A line that a CI system takes for a command; see tests/trust/test_ci_commands.py."""

NOT_WHOLE: Final = UNUSABLE_TITLE
"""What a text report says where a file cannot be used."""

WHOLE_NOTE: Final = "The report is not whole."
"""What standard error says of such a report in another form or in a file."""

_BREAKS: Final = re.compile("[\r\n\x0b\x0c\x1c-\x1e\x85\u2028\u2029]")


class Escaped(Exception):
    """An input reached what lies outside it."""


def said(*arguments: str) -> tuple[int, str]:
    """The status of a command and all that it prints. Raises Escaped for a mistake or a command."""
    out, error = (io.TextIOWrapper(io.BytesIO(), "utf-8", write_through=True) for _ in range(2))
    with redirect_stdout(out), redirect_stderr(error):
        status = run(list(arguments))
    first, second = (each.buffer.getvalue().decode() for each in (out, error))
    if "Unforeseen" in second or status not in (0, 1, 2):
        raise Escaped(f"{' '.join(arguments)}: {status} {second[:2000]}")
    if status == 2 and not second and NOT_WHOLE not in first:
        raise Escaped(f"{' '.join(arguments)}: an error without a message")
    if status == 2 and first and NOT_WHOLE not in first and WHOLE_NOTE not in second:
        raise Escaped(f"{' '.join(arguments)}: an error with a report {first[:200]!r}")
    _require_harmless(first + "\n" + second)
    return status, first


def _require_harmless(text: str) -> None:
    if SECRET in text:
        raise Escaped("the file beside the folder is shown")
    for line in _BREAKS.split(text):
        if COMMAND.search(line):
            raise Escaped(f"a command: {line[:200]!r}")


@contextmanager
def _inside(top: Path) -> Iterator[Path]:
    """A folder to work in, with a file beside it that must stay as it is."""
    folder = top / "archive"
    folder.mkdir()
    (top / "outside").mkdir()
    (top / "outside/kept.yaml").write_text(f"{SECRET}: [\n")
    before = _content(top, folder)
    here = os.getcwd()
    os.chdir(folder)
    try:
        yield folder
    finally:
        os.chdir(here)
    if _content(top, folder) != before:
        raise Escaped("something was written beside the folder")


def _content(top: Path, folder: Path) -> dict[str, str]:
    found = {}
    for path in sorted(top.rglob("*")):
        inner = path.is_relative_to(folder) or not path.is_relative_to(top / "outside")
        if not inner and path.is_file():
            found[path.name] = path.read_text()
        elif not inner:
            found[path.name] = "folder"
    return found


def _lines(folder: Path, name: str) -> list[str]:
    text = (folder / name).read_bytes().decode("utf-8", "surrogateescape")
    return text.split("\n")[:MAX_LINES]


# Records ------------------------------------------------------------------------------------------


def records(folder: Path, names: Sequence[str], thorough: bool) -> bool:
    """Join a record, mostly one that has the digest of what it holds."""
    data = (folder / "record.json").read_bytes() if "record.json" in names else b""
    with suppress(ValueError, RecursionError):
        plain = json.loads(data)
        if isinstance(plain, dict) and zlib.crc32(data) % 8:
            (folder / "record.json").write_text(_resealed(plain), "utf-8", "surrogatepass")
    more = []
    for name in ("waivers", "accepted"):
        if f"{name}.yaml" in names:
            more += [f"--{name}", str(folder / f"{name}.yaml")]
    statuses = [
        said("merge", str(folder / "record.json"), "--format", form, *more)[0]
        for form in (FORMS if thorough else ("text", "sarif"))
    ]
    return 2 not in statuses


def _resealed(plain: Mapping[str, Any]) -> str:
    content = {key: value for key, value in plain.items() if key not in ("digest", shards.KEY)}
    made_by = content.get("conditions")
    if isinstance(made_by, dict):
        made_by.update(version=tool_version(), code=code_digest())
    try:
        return str(shards.sealed(content))
    except ValueError:  # a number that JSON does not have
        return json.dumps(plain)


# Trees of folders ---------------------------------------------------------------------------------


def trees(top: Path, names: Sequence[str], thorough: bool) -> bool:
    """Check a folder that a script made, and write into it all that a check can write.

    A line of the script is ``file PATH TEXT``, ``copy PATH NUMBER`` (a sound machine in one file),
    ``link PATH TARGET``, ``folder PATH`` or ``pipe PATH``.
    """
    from .targets import FIXTURES

    texts = (path.read_text("utf-8") for path in sorted((FIXTURES / "sound").glob("*.yaml")))
    sound = [text for text in texts if "encoder:" in text and "include:" not in text]
    with _inside(top) as folder:
        for line in _lines(top, "script"):
            with suppress(OSError, ValueError):
                _carry_out(folder, line, sound)
        statuses = [
            said("check", ".", "--cache", "kept", "--output", "report", "--force")[0],
            said("check", ".", "--cache", "kept", "--record", "record", "--force")[0],
            said("check", "m.yaml", "--format", "html" if thorough else "json")[0],
        ]
        if thorough:
            said("accept", ".", "--force", "-o", "accepted.yaml")
            said("check", ".", "--settings", "site.yaml", "--waivers", "waivers.yaml")
            said("fix", "m.yaml", "--yes")
            said("import", "project.yaml", "-o", "imported.yaml", "--force")
            said("show", "m.yaml")
        _require_nothing_taken(folder)
    return 2 not in statuses


def _carry_out(folder: Path, line: str, sound: Sequence[str]) -> None:
    word, _, rest = line.partition(" ")
    name, _, text = rest.partition(" ")
    path = Path(os.path.normpath(folder / name))
    if not name or not path.is_relative_to(folder) or path == folder:
        return
    if not Path(os.path.realpath(path.parent)).is_relative_to(folder.resolve()):
        return  # an earlier link leads out, and this script does not follow it
    path.parent.mkdir(parents=True, exist_ok=True)
    if os.path.lexists(path):
        return
    if word == "file":
        path.write_text(text[:MAX_TEXT].replace("\\n", "\n"), "utf-8", "surrogateescape")
    elif word == "copy":
        path.write_text(sound[zlib.crc32(text.encode("utf-8", "replace")) % len(sound)], "utf-8")
    elif word == "link" and text:
        path.symlink_to(text)
    elif word == "folder":
        path.mkdir()
    elif word == "pipe":
        os.mkfifo(path)


def _require_nothing_taken(folder: Path) -> None:
    """Raise Escaped if what lies beside was copied into the folder."""
    for path in folder.rglob("*"):
        if path.is_file() and not path.is_symlink() and SECRET.encode() in path.read_bytes():
            raise Escaped(f"{path.name} holds what lies beside the folder")


# Repositories -------------------------------------------------------------------------------------


def repositories(top: Path, names: Sequence[str], thorough: bool) -> bool:
    """Compare a revision of a repository that a script made, object by object.

    A line is ``blob N TEXT``, ``tree N ENTRY...`` (each MODE=NAME=N, where N is the number of an
    object), ``commit N TREE``, ``raw N KIND TEXT``, ``ref NAME N``, ``config TEXT``, ``put PATH
    TEXT`` (a file in .git), ``link PATH TARGET`` (in .git) or ``ask TEXT`` (what is compared).
    $PROGRAM stands for a program that leaves a trace.
    """
    with _inside(top) as folder:
        program = top / "program"
        program.write_text(f"#!/bin/sh\necho ran >> {top}/trace\n")
        program.chmod(0o755)
        subprocess.run(
            ["git", "init", "-q", "-b", "main", "."], cwd=folder, check=True, capture_output=True
        )
        (folder / "m.yaml").write_text("format: 1\nmachine: M\naxes: {x: {motion: linear}}\n")
        made = _ScriptedRepository(folder / ".git", str(program))
        for line in _lines(top, "script"):
            with suppress(OSError, ValueError):
                made.carry_out(line)
        statuses = [said("changes", asked, "m.yaml")[0] for asked in made.asked[:3]]
        if (top / "trace").exists():
            raise Escaped("a program ran")
    return bool(statuses) and 2 not in statuses


class _ScriptedRepository:
    """A repository in the making: its objects by number."""

    def __init__(self, own: Path, program: str) -> None:
        self.own = own
        self.program = program
        self.ids: dict[str, str] = {}
        self.asked: list[str] = []

    def carry_out(self, line: str) -> None:
        """Carry out one line of a script; raises OSError or ValueError for one that cannot be."""
        word, _, rest = line.replace("$PROGRAM", self.program).partition(" ")
        name, _, text = rest.partition(" ")
        data = text[:MAX_TEXT].replace("\\n", "\n").encode("utf-8", "surrogateescape")
        if word == "blob":
            self._store(name, "blob", data)
        elif word == "tree":
            self._store(name, "tree", b"".join(map(self._entry, text.split(" "))))
        elif word == "commit":
            who = "a role <role@example.invalid> 1700000000 +0000"
            head = f"tree {self.ids.get(text, text)}\nauthor {who}\ncommitter {who}\n\nas it was\n"
            self._store(name, "commit", head.encode("utf-8", "surrogateescape"))
        elif word == "raw":
            kind, _, body = text.partition(" ")
            self._store(name, kind, body.encode("utf-8", "surrogateescape"))
        elif word == "ref":
            self._put(name, f"{self.ids.get(text, text)}\n".encode("utf-8", "surrogateescape"))
        elif word == "config":
            with (self.own / "config").open("ab") as stream:
                stream.write(rest.replace("\\n", "\n").encode("utf-8", "surrogateescape") + b"\n")
        elif word == "put":
            self._put(name, data)
        elif word == "link":
            path = self._place(name)
            path.unlink(missing_ok=True)
            path.symlink_to(text)
        elif word == "ask":
            self.asked.append(rest)

    def _entry(self, text: str) -> bytes:
        mode, _, rest = text.partition("=")
        name, _, number = rest.rpartition("=")
        object_id = bytes.fromhex(self.ids.get(number, number))
        return f"{mode} {name}\0".encode("utf-8", "surrogateescape") + object_id

    def _store(self, number: str, kind: str, data: bytes) -> None:
        whole = f"{kind} {len(data)}\0".encode("utf-8", "surrogateescape") + data
        name = hashlib.sha1(whole, usedforsecurity=False).hexdigest()
        self.ids[number] = name
        self._put(f"objects/{name[:2]}/{name[2:]}", zlib.compress(whole, 1))

    def _place(self, name: str) -> Path:
        path = Path(os.path.normpath(self.own / name))
        parent = Path(os.path.realpath(path.parent))
        if not path.is_relative_to(self.own) or not parent.is_relative_to(self.own.resolve()):
            raise ValueError(name)
        path.parent.mkdir(parents=True, exist_ok=True)
        return path

    def _put(self, name: str, data: bytes) -> None:
        path = self._place(name)
        if path.is_symlink():
            path.unlink()
        path.write_bytes(data)


# Quoted text --------------------------------------------------------------------------------------


def quoted(top: Path, names: Sequence[str], thorough: bool) -> bool:
    """Put the lines of an input wherever a report or message quotes one, in every form."""
    lines = [line for line in _lines(top, "lines") if line][:6] or ["x"]
    text = (top / "machine.yaml").read_bytes() if "machine.yaml" in names else b""
    with _inside(top) as folder:
        one, two = lines[0], lines[-1]
        name = re.sub(r"[/\0]", "-", one)[:80].strip(".") or "m"
        path = f"{name}.yaml"
        plain = re.sub(rb"LINE([0-5])", lambda found: _json(lines, found[1]), text)
        with suppress(OSError, ValueError):
            Path(path).write_bytes(plain)
        rule = json.dumps(two, ensure_ascii=False)
        Path("site.rules").write_text(_RULE.format(rule), "utf-8", "replace")
        forms = FORMS if thorough else ("text", "sarif")
        statuses = [
            said("check", path, "--rules", "site.rules", "--format", form)[0] for form in forms
        ]
        said("check", path, "--workings")
        said("check", two)
        if thorough:
            said("show", path)
            said("show", path, one)
            said("explain", one)
            said("accept", path, "-o", "accepted.json")
            said("changes", path, "m.yaml")
            said("init", "--machine", one, "--axis", two)
            said("rules", "test", "site.rules")
        for form in forms:
            said("check", path, "--format", form, "--output", "out", "--force")
            with suppress(FileNotFoundError):
                _require_harmless(Path("out").read_text("utf-8", "surrogateescape"))
        del folder
    return 2 not in statuses


def _json(lines: Sequence[str], number: bytes) -> bytes:
    line = lines[int(number) % len(lines)]
    return json.dumps(line, ensure_ascii=False).encode("utf-8", "surrogateescape")


_RULE: Final = """language 2

rule site-hostile
  level error
  title {0}
  each axis
  require axis.motor.serial is "nothing"
  say {0} "{{axis.motor.serial}}"
  why {0}
  remedy {0}
  basis {0}
  passes "p" axis.motor.serial = "nothing"
  fails {0} axis.motor.serial = {0}
"""
