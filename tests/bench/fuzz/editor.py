"""A session with the language server without an editor, message by message.

Each line of the file ``session`` is ``cut N`` (only the first N characters of the text, as during
typing), ``at LINE COLUMN`` (all that an editor requests at a place), or else the body of a message,
whatever it holds ($URI stands for the file of the session). The server must answer each request
once, and nothing else.
"""

from __future__ import annotations

import asyncio
import json
import logging
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from axisproof.editor import server as editor

MAX_STEPS: Final = 12
"""Lines of a session that are carried out."""

_ASKED: Final = (
    *("hover", "completion", "definition", "codeAction"),
    *("references", "documentSymbol"),
)


class ServerBug(Exception):
    """The server reported a bug in axisproof's code, or did not answer as it must."""


class ServerOutput:
    """Receives the server's output."""

    def __init__(self) -> None:
        self.said: list[dict[str, Any]] = []

    def write(self, data: bytes) -> None:
        self.said.append(json.loads(data))

    def close(self) -> None:
        """There is nothing to close."""


def session(folder: Path, names: Sequence[str]) -> bool:
    """Run a session; raises ServerBug for an answer that only a bug of axisproof explains."""
    files = [folder / name for name in names if name != "session"]
    steps: list[bytes] = []
    if "session" in names:
        steps = (folder / "session").read_bytes().splitlines()
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


async def _carry_out(files: Sequence[Path], steps: Sequence[bytes]) -> None:
    made = editor.server(run=lambda check: check())
    protocol: Any = made.protocol
    writer = ServerOutput()
    protocol.set_writer(writer, include_headers=False)
    mistakes: list[str] = []
    made.report_server_error = lambda error, source: mistakes.append(
        str(getattr(error, "data", None) or error)
    )
    awaited: Counter[str] = Counter()

    async def tell(body: bytes) -> None:
        awaited.update(_answer_to(body))
        try:
            protocol.take(body)
        except SystemExit:
            return
        for _ in range(4):
            await asyncio.sleep(0)

    opening = {
        "processId": None,
        "rootUri": files[0].parent.as_uri(),
        "capabilities": {"general": {"positionEncodings": ["utf-16"]}},
        "workspaceFolders": [{"uri": files[0].parent.as_uri(), "name": "w"}],
    }
    await tell(_body({"id": 1, "method": "initialize", "params": opening}))
    await tell(_body({"method": "initialized", "params": {}}))
    for file in files:
        text = file.read_bytes().decode("utf-8", "replace")
        item = {"uri": file.as_uri(), "languageId": "yaml", "version": 1, "text": text}
        await tell(_body({"method": "textDocument/didOpen", "params": {"textDocument": item}}))
        for number, step in enumerate(steps):
            for body in _bodies(step, file.as_uri(), text, number):
                await tell(body)
    await tell(_body({"id": 2, "method": "shutdown"}))
    for said in (*writer.said, *mistakes):
        shown = json.dumps(said)
        if "/lint/" in shown or "mistake in axisproof" in shown:
            raise ServerBug(shown)
    answered = Counter(json.dumps(each.get("id")) for each in writer.said if "method" not in each)
    if answered != awaited:
        raise ServerBug(f"answers {dict(answered - awaited)}, none to {dict(awaited - answered)}")


def _body(message: dict[str, Any]) -> bytes:
    return json.dumps({"jsonrpc": "2.0", **message}).encode()


def _answer_to(body: bytes) -> list[str]:
    """The id that the one answer to a message has, as JSON; nothing for what takes no answer."""
    try:
        plain = json.loads(body.decode())
    except (ValueError, RecursionError):
        return ["null"]
    if not isinstance(plain, dict):
        return ["null"]
    if "method" in plain and "id" not in plain:
        return []
    if "method" not in plain and ("result" in plain or "error" in plain):
        return []
    ident = plain.get("id")
    usable = isinstance(ident, int | str) and not isinstance(ident, bool)
    return [json.dumps(ident if usable else None)]


def _bodies(step: bytes, uri: str, text: str, number: int) -> Iterator[bytes]:
    words = step.split()
    if words[:1] == [b"cut"] and len(words) == 2 and words[1].isdigit():
        cut = text[: int(words[1][:7]) % (len(text) + 1)]
        document = {"uri": uri, "version": number + 2}
        changes = [{"text": cut}]
        params: dict[str, Any] = {"textDocument": document, "contentChanges": changes}
        yield _body({"method": "textDocument/didChange", "params": params})
        line, column = cut.count("\n"), len(cut) - cut.rfind("\n") - 1
        yield from _requests_at(uri, line, column)
    elif words[:1] == [b"at"] and len(words) == 3:
        try:
            yield from _requests_at(uri, int(words[1][:12]), int(words[2][:12]))
        except ValueError:
            return
    elif step:
        yield step.replace(b"$URI", uri.encode())


def _requests_at(uri: str, line: int, column: int) -> Iterator[bytes]:
    for number, method in enumerate(_ASKED):
        here = {"line": line, "character": column}
        params: dict[str, Any] = {"textDocument": {"uri": uri}, "position": here}
        if method == "codeAction":
            params = {
                "textDocument": {"uri": uri},
                "range": {"start": {"line": 0, "character": 0}, "end": here},
                "context": {"diagnostics": []},
            }
        elif method == "references":
            params["context"] = {"includeDeclaration": True}
        elif method == "documentSymbol":
            del params["position"]
        yield _body({"id": 10 + number, "method": f"textDocument/{method}", "params": params})
