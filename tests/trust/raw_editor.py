"""An editor of raw pipes: it can send what no library would, and sees the order of the answers."""

from __future__ import annotations

import asyncio
import json
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import IO, Any

from axisproof.editor import server as editor_server
from axisproof.editor.side_files import SideFileOptions

SERVE = [sys.executable, "-m", "axisproof", "serve"]


def framed(body: bytes | dict[str, Any]) -> bytes:
    """A message with its header."""
    data = body if isinstance(body, bytes) else json.dumps({"jsonrpc": "2.0", **body}).encode()
    return b"Content-Length: %d\r\n\r\n" % len(data) + data


def opening(folder: Path) -> dict[str, Any]:
    """The first request of a session."""
    params: dict[str, Any] = {
        "processId": None,
        "rootUri": folder.as_uri(),
        "capabilities": {},
        "workspaceFolders": [{"uri": folder.as_uri(), "name": "w"}],
    }
    return {"id": "first", "method": "initialize", "params": params}


def opened(uri: str, text: str) -> dict[str, Any]:
    """The message that a text is open."""
    item = {"uri": uri, "languageId": "yaml", "version": 1, "text": text}
    return {"method": "textDocument/didOpen", "params": {"textDocument": item}}


def changed(uri: str, text: str) -> dict[str, Any]:
    """The message that a text is another now."""
    document = {"uri": uri, "version": 2}
    params: dict[str, Any] = {"textDocument": document, "contentChanges": [{"text": text}]}
    return {"method": "textDocument/didChange", "params": params}


def asked(ident: Any, what: str, uri: str, line: int = 0, column: int = 0) -> dict[str, Any]:
    """A request about a place of a text."""
    here = {"line": line, "character": column}
    params: dict[str, Any] = {"textDocument": {"uri": uri}, "position": here}
    return {"id": ident, "method": f"textDocument/{what}", "params": params}


PAUSE = 0.02
"""Seconds without a change after which a server checks that runs in the process of a test."""

INITIALIZED = {"method": "initialized", "params": {}}


def in_process(
    folder: Path,
    sent: Sequence[dict[str, Any] | str],
    run: Any = lambda work: work(),
    patient_from: int | None = None,
    options: SideFileOptions | None = None,
) -> list[dict[str, Any]]:
    """What a server says to messages, one after the other; the word ``go`` lets a check end.

    A client that is ``patient_from`` a message on waits for findings before it sends that one.
    """
    said: list[dict[str, Any]] = []

    class Output:
        def write(self, data: bytes) -> None:
            said.append(json.loads(data))

    async def carry_out() -> None:
        protocol: Any = editor_server.server(options, run).protocol
        protocol.set_writer(Output(), include_headers=False)
        for number, message in enumerate((opening(folder), INITIALIZED, *sent), -2):
            if number == patient_from:
                await asyncio.sleep(1.5 * PAUSE)
            if message == "go":
                run.go()
            else:
                assert isinstance(message, dict)
                protocol.take(json.dumps({"jsonrpc": "2.0", **message}).encode())
            await asyncio.sleep(0.001)
        await asyncio.sleep(2 * PAUSE if sent else 0)

    pause, editor_server.DELAY = editor_server.DELAY, PAUSE
    try:
        asyncio.run(carry_out())
    finally:
        editor_server.DELAY = pause
    return said[1:]


def told(stream: IO[bytes]) -> Iterator[dict[str, Any]]:
    """The messages of a server, in order, until it ends."""
    while True:
        length = 0
        while (line := stream.readline()).strip():
            name, _, value = line.partition(b":")
            if name.lower() == b"content-length":
                length = int(value)
        if not length:
            return
        yield json.loads(stream.read(length))


@contextmanager
def running(folder: Path) -> Iterator[subprocess.Popen[bytes]]:
    """A server in a process of its own."""
    pipe = subprocess.PIPE
    process = subprocess.Popen(SERVE, cwd=folder, stdin=pipe, stdout=pipe, stderr=pipe)
    try:
        yield process
    finally:
        process.kill()
        process.communicate()


def session(folder: Path, sent: bytes) -> tuple[int, list[dict[str, Any]], str]:
    """The exit status of a server that gets these bytes, what it told, and its other words."""
    with running(folder) as process:
        out, error = process.communicate(sent, timeout=60)
        import io

        return process.returncode, list(told(io.BytesIO(out))), error.decode()
