"""A session with the language server without an editor, message by message.

Each line of the file ``session`` is a JSON-RPC message ($URI stands for the file of the session),
``cut N`` (only the first N characters of the text, as during typing) or ``at LINE COLUMN`` (all
that an editor requests at a place).
"""

from __future__ import annotations

import asyncio
import json
import logging
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from axisproof.editor import server as editor

MAX_STEPS: Final = 12
"""Lines of a session that are carried out."""

_ASKED: Final = ("hover", "completion", "definition", "codeAction")


class ServerBug(Exception):
    """The server reported a bug in axisproof's code."""


class ServerOutput:
    """Receives the server's output and checks that it holds nothing unsafe."""

    def __init__(self) -> None:
        self.said: list[dict[str, Any]] = []

    def write(self, data: bytes) -> None:
        self.said.append(json.loads(data))


def session(folder: Path, names: Sequence[str]) -> bool:
    """Run a session; raises ServerBug for an answer that only a bug of axisproof explains."""
    files = [folder / name for name in names if name != "session"]
    steps = []
    if "session" in names:
        steps = (folder / "session").read_bytes().decode("utf-8", "replace").splitlines()
    if not files:
        return False
    delay = editor.DELAY
    editor.DELAY = 0.0
    logging.disable()  # of what is no message, the protocol tells its log at length
    try:
        asyncio.run(_carry_out(files, steps[:MAX_STEPS]))
    finally:
        logging.disable(logging.NOTSET)
        editor.DELAY = delay
    return True


async def _carry_out(files: Sequence[Path], steps: Sequence[str]) -> None:
    made = editor.server()
    protocol = made.protocol
    writer = ServerOutput()
    protocol.set_writer(writer, include_headers=False)
    mistakes: list[str] = []
    made.report_server_error = lambda error, source: mistakes.append(
        str(getattr(error, "data", error))
    )

    async def tell(message: dict[str, Any]) -> None:
        try:
            read = protocol.structure_message({"jsonrpc": "2.0", **message})
        except Exception:
            return  # not a message of the protocol: refused before any of our code sees it
        if hasattr(read, "jsonrpc"):
            protocol.handle_message(read)
        for _ in range(4):
            await asyncio.sleep(0)

    opening = {
        "processId": None,
        "rootUri": files[0].parent.as_uri(),
        "capabilities": {"general": {"positionEncodings": ["utf-16"]}},
        "workspaceFolders": [{"uri": files[0].parent.as_uri(), "name": "w"}],
    }
    await tell({"id": 1, "method": "initialize", "params": opening})
    await tell({"method": "initialized", "params": {}})
    for file in files:
        text = file.read_bytes().decode("utf-8", "replace")
        item = {"uri": file.as_uri(), "languageId": "yaml", "version": 1, "text": text}
        await tell({"method": "textDocument/didOpen", "params": {"textDocument": item}})
        for number, step in enumerate(steps):
            for message in _messages(step, file.as_uri(), text, number):
                await tell(message)
    for said in (*writer.said, *mistakes):
        shown = json.dumps(said)
        if "/lint/" in shown or "mistake in axisproof" in shown:
            raise ServerBug(shown)
    await tell({"id": 2, "method": "shutdown"})


def _messages(step: str, uri: str, text: str, number: int) -> Iterator[dict[str, Any]]:
    words = step.split()
    if step.startswith("{"):
        try:
            message = json.loads(step.replace("$URI", uri))
        except (ValueError, RecursionError):
            return
        if isinstance(message, dict) and message.get("method") not in ("exit", "shutdown"):
            yield message
    elif words[:1] == ["cut"] and len(words) == 2 and words[1].isascii() and words[1].isdigit():
        cut = text[: int(words[1][:7]) % (len(text) + 1)]
        document = {"uri": uri, "version": number + 2}
        changes = [{"text": cut}]
        params: dict[str, Any] = {"textDocument": document, "contentChanges": changes}
        yield {"method": "textDocument/didChange", "params": params}
        line, column = cut.count("\n"), len(cut) - cut.rfind("\n") - 1
        yield from _requests_at(uri, line, column)
    elif words[:1] == ["at"] and len(words) == 3:
        try:
            yield from _requests_at(uri, int(words[1][:12]), int(words[2][:12]))
        except ValueError:
            return


def _requests_at(uri: str, line: int, column: int) -> Iterator[dict[str, Any]]:
    for number, method in enumerate(_ASKED):
        here = {"line": line, "character": column}
        params: dict[str, Any] = {"textDocument": {"uri": uri}, "position": here}
        if method == "codeAction":
            params = {
                "textDocument": {"uri": uri},
                "range": {"start": {"line": 0, "character": 0}, "end": here},
                "context": {"diagnostics": []},
            }
        yield {"id": 10 + number, "method": f"textDocument/{method}", "params": params}
