"""How long after a key an editor has the new findings: ``python -m tests.bench.editing``.

A client over pipes opens a machine file in a server of its own and changes one digit at a time, on
axes chosen at random. It waits for the findings of each text before the next key. The server begins
a check after a pause without keys, so that typing costs nothing. What is told is the time beyond
this pause until the findings have come, from pipe to pipe.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from queue import Queue
from random import Random
from statistics import median, quantiles
from threading import Thread
from time import perf_counter, sleep
from typing import Any

from axisproof.editor.state import DELAY

from tests.bench.speed.machines import clean, faulty, thinned, write_yaml
from tests.bench.speed.timing import ROOT, BenchError, environment
from tests.trust.raw_editor import SERVE, framed, opened, opening, told

LONGEST = 60.0
"""Seconds after which a server that told nothing is taken to have failed."""

GOAL = 0.15
"""Seconds beyond the pause in which the findings are to come."""


@dataclass
class Measured:
    """Seconds beyond the pause, of keys after which the file can be read and of all others.

    ``answers`` are the seconds until a hover is answered, and ``processor`` are those that the
    server spends on the average key, which other work on the computer changes little.
    """

    usable: list[float] = field(default_factory=list)
    unusable: list[float] = field(default_factory=list)
    answers: list[float] = field(default_factory=list)
    findings: list[int] = field(default_factory=list)
    processor: float | None = None


class Client:
    """An editor with one open text."""

    def __init__(self, process: subprocess.Popen[bytes], file: Path, whole: bool) -> None:
        assert process.stdin is not None
        assert process.stdout is not None
        self.input = process.stdin
        self.uri = file.as_uri()
        self.text = file.read_text("utf-8")
        self.version = 1
        self.whole = whole
        self.came: Queue[tuple[float, dict[str, Any]]] = Queue()
        Thread(target=self._read, args=(told(process.stdout),), daemon=True).start()
        self.send({**opening(file.parent)})
        self.send({"method": "initialized", "params": {}})
        self.send(opened(self.uri, self.text))

    def _read(self, messages: Iterator[dict[str, Any]]) -> None:
        for message in messages:
            self.came.put((perf_counter(), message))

    def send(self, message: dict[str, Any]) -> None:
        """Send a message at once."""
        self.input.write(framed(message))
        self.input.flush()

    def key(self, at: int, char: str) -> float:
        """Put a character in the place of the one at an offset; returns when it was sent."""
        line = self.text.count("\n", 0, at)
        column = at - self.text.rfind("\n", 0, at) - 1
        self.text = self.text[:at] + char + self.text[at + 1 :]
        self.version += 1
        here, there = ({"line": line, "character": column + n} for n in (0, 1))
        change: dict[str, Any] = {"text": char, "range": {"start": here, "end": there}}
        if self.whole:
            change = {"text": self.text}
        document = {"uri": self.uri, "version": self.version}
        params = {"textDocument": document, "contentChanges": [change]}
        sent = perf_counter()
        self.send({"method": "textDocument/didChange", "params": params})
        return sent

    def findings(self) -> tuple[float, list[dict[str, Any]]]:
        """When the findings of the present text came, and what they are."""
        while True:
            at, message = self.came.get(timeout=LONGEST)
            params = message.get("params", {})
            if message.get("method") == "textDocument/publishDiagnostics":
                version = params.get("version")
                if params["uri"] == self.uri and version in (None, self.version):
                    return at, params["diagnostics"]

    def answer(self, ident: str) -> float:
        """When the answer to a request came."""
        while True:
            at, message = self.came.get(timeout=LONGEST)
            if message.get("id") == ident:
                return at


def measured(file: Path, keys: int, whole: bool, seed: int = 1) -> Measured:
    """The times of so many keys. Raises BenchError for a server that tells other findings."""
    pipe = subprocess.PIPE
    with subprocess.Popen(SERVE, cwd=ROOT, stdin=pipe, stdout=pipe, env=environment()) as process:
        try:
            client = Client(process, file, whole)
            client.findings()
            before = _processor(process.pid)
            found = _typed(client, keys, Random(seed))
            spent, checks = _processor(process.pid), client.version - 1
            if before is not None and spent is not None:
                found.processor = (spent - before) / checks
            if sorted(map(_shown, _told_now(client))) != sorted(
                map(_shown, _fresh(file, client.text))
            ):
                raise BenchError("the server does not tell the findings of the text")
        finally:
            process.kill()
    return found


def _processor(pid: int) -> float | None:
    """Processor seconds that a process has spent; None where the system does not say it so."""
    try:
        stat = Path(f"/proc/{pid}/stat").read_text("ascii").rpartition(")")[2].split()
    except OSError:
        return None
    return (int(stat[11]) + int(stat[12])) / os.sysconf("SC_CLK_TCK")


def _told_now(client: Client) -> list[dict[str, Any]]:
    """The findings after a key that changes nothing."""
    client.key(0, client.text[0])
    return client.findings()[1]


def _typed(client: Client, keys: int, random: Random) -> Measured:
    found = Measured()
    for number in range(keys):
        digits = _digits_of_axes(client.text)
        at = random.choice(digits)
        before = client.text[at]
        sent = client.key(at, random.choice("0123456789"))
        came, told_ = client.findings()
        beyond = came - sent - DELAY
        unusable = any("code" not in each and each["severity"] == 1 for each in told_)
        (found.unusable if unusable else found.usable).append(beyond)
        found.findings.append(len(told_))
        if number % 5 == 0:
            found.answers.append(_answered(client, at, number))
        if unusable:  # as somebody does who sees it at once
            client.key(at, before)
            client.findings()
    return found


def _digits_of_axes(text: str) -> list[int]:
    """The offsets of digits in values of axes."""
    begin = text.index("\naxes:")
    end = text.index("\nnetwork:") if "\nnetwork:" in text else len(text)
    return [
        at
        for at in range(begin, end)
        if text[at].isdigit() and ": " in text[text.rfind("\n", 0, at) + 1 : at]
    ]


def _answered(client: Client, at: int, number: int) -> float:
    """Seconds until a hover is answered while a check runs."""
    client.key(at, client.text[at])
    sleep(DELAY + 0.01)
    here = {"line": client.text.count("\n", 0, at), "character": 6}
    document = {"uri": client.uri}
    ident = f"hover {number}"
    sent = perf_counter()
    params = {"textDocument": document, "position": here}
    client.send({"id": ident, "method": "textDocument/hover", "params": params})
    return client.answer(ident) - sent


def _shown(told_: dict[str, Any]) -> str:
    return f"{told_['range']} {told_.get('code')} {told_['message']}"


def _fresh(file: Path, text: str) -> list[dict[str, Any]]:
    """What a new server tells of a text."""
    copy = file.with_name(f"fresh-{file.name}")
    copy.write_text(text, "utf-8")
    pipe = subprocess.PIPE
    with subprocess.Popen(SERVE, cwd=ROOT, stdin=pipe, stdout=pipe, env=environment()) as process:
        try:
            return Client(process, copy, True).findings()[1]
        finally:
            process.kill()
            copy.unlink()


def files(folder: Path, axes: int) -> Iterator[tuple[str, Path]]:
    """The machines whose files are edited, each with what it is."""
    sound = clean(axes)
    half = thinned(sound, 0.5)
    for name, plain in (("half is stated", half), ("sound", sound), ("faulty", faulty(sound))):
        inside = folder / name.replace(" ", "-")
        inside.mkdir()
        yield name, write_yaml(plain, inside / "machine.yaml")


def words(seconds: list[float]) -> str:
    """Median, 95th percentile and worst of times, in ms."""
    if not seconds:
        return "none"
    many = sorted(seconds)
    high = quantiles(many, n=20, method="inclusive")[-1] if len(many) > 1 else many[0]
    return f"median {median(many) * 1e3:.0f}, 95 % {high * 1e3:.0f}, worst {many[-1] * 1e3:.0f} ms"


def main(arguments: list[str] | None = None) -> int:
    """Measure and print; return 1 if the median of a file is beyond the goal."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.editing", description=__doc__)
    parser.add_argument("--keys", type=int, default=200, help="keys for each file")
    parser.add_argument("--axes", type=int, default=90, help="axes of each file")
    parser.add_argument("--whole", action="store_true", help="send whole texts, not changes")
    options = parser.parse_args(arguments)
    print(f"Pause without keys before a check: {DELAY * 1e3:.0f} ms. Times are beyond it.")
    load = os.getloadavg()[0]
    print(f"Load of the computer at the start: {load:.1f} on {os.cpu_count()} processors.")
    missed = False
    with tempfile.TemporaryDirectory() as folder:
        for name, file in files(Path(folder), options.axes):
            lines = file.read_text("utf-8").count("\n")
            found = measured(file, options.keys, options.whole)
            told_ = f"{min(found.findings)} to {max(found.findings)} told"
            print(f"\n{name}: {options.axes} axes, {lines} lines, {options.keys} keys, {told_}")
            print(f"  new findings            {words(found.usable)}")
            print(f"  file that is unreadable {words(found.unusable)} ({len(found.unusable)} keys)")
            print(f"  hover during a check    {words(found.answers)}")
            if found.processor is not None:
                print(f"  processor time of the server: {found.processor * 1e3:.0f} ms a key")
            sys.stdout.flush()
            missed |= bool(found.usable) and median(found.usable) > GOAL
    print(f"\nGoal: new findings within {GOAL * 1e3:.0f} ms beyond the pause.")
    return int(missed)


if __name__ == "__main__":
    sys.exit(main())
