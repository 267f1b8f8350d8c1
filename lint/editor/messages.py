"""The messages of an editor: read within bounds, and every request answered, unusable ones too.

A message is a header that gives the length of its body, and a body of JSON. Both follow the base
protocol of the Language Server Protocol 3.17, which is JSON-RPC 2.0.
"""

from __future__ import annotations

import asyncio
import json
import logging
import os
import re
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Final, Protocol

from lsprotocol import types
from pygls import uris
from pygls.exceptions import JsonRpcMethodNotFound
from pygls.lsp.server import LanguageServer
from pygls.protocol import LanguageServerProtocol
from pygls.protocol.language_server import lsp_method

from ..base.errors import InputError
from ..source.limits import MAX_BYTES, shortened

MAX_MESSAGE: Final = 2 * MAX_BYTES
"""Longest body in bytes: the largest text, with room for what JSON writes in another way."""

MAX_HEADER: Final = 8192
"""Longest header in bytes."""

PIECE: Final = 1 << 16
"""Most bytes that are read at a time, so that memory follows what came and not what was said."""

LONGEST_ADDRESS: Final = 32_768
"""Most characters of the address of a file."""

_END: Final = b"\r\n\r\n"
_EXPECTED: Final = f"Content-Length with a number of bytes up to {MAX_MESSAGE}"

_ADDRESSES: Final = frozenset(("uri", "rootUri", "rootPath", "oldUri", "newUri"))
"""Names of the fields of messages that hold the address of a file or folder."""


class _Output(Protocol):
    """What the answers are written to."""

    def write(self, data: bytes, /) -> object: ...

    def flush(self) -> None: ...


# Reading ------------------------------------------------------------------------------------------


def messages(read: Callable[[int], bytes]) -> Iterator[bytes]:
    """The bodies of messages; ``read`` gives at most so many bytes, and none at the end.

    Raises InputError for a header or length that cannot be used: nobody knows where the next
    message begins.
    """
    buffer = bytearray()
    while True:
        while (end := buffer.find(_END)) < 0:
            if len(buffer) > MAX_HEADER:
                raise InputError(
                    f"the header of a message is longer than {MAX_HEADER} bytes",
                    expected=_EXPECTED,
                )
            if not _more(read, buffer):
                if buffer:
                    raise InputError("the input ends within a header", expected=_EXPECTED)
                return
        length = _length(bytes(buffer[: min(end, MAX_HEADER + 1)]))
        del buffer[: end + len(_END)]
        while len(buffer) < length:
            if not _more(read, buffer):
                raise InputError(
                    f"the input ends {length - len(buffer)} bytes before the end of a message",
                    expected=f"{length} bytes, as its header says",
                )
        body = bytes(buffer[:length])
        del buffer[:length]
        yield body


def _more(read: Callable[[int], bytes], buffer: bytearray) -> bool:
    data = read(PIECE)
    buffer += data
    return bool(data)


def _length(header: bytes) -> int:
    if len(header) > MAX_HEADER:
        raise InputError(
            f"the header of a message is longer than {MAX_HEADER} bytes", expected=_EXPECTED
        )
    fields = [line.partition(b":") for line in header.split(b"\r\n")]
    found = [value.strip() for name, _, value in fields if name.lower() == b"content-length"]
    if len(found) != 1:
        what = f"the header of a message gives {len(found) or 'no'} lengths"
        raise InputError(what, expected=_EXPECTED)
    text = found[0].decode("utf-8", "replace")
    if not re.fullmatch("[0-9]{1,12}", text) or int(text) > MAX_MESSAGE:
        raise InputError(f"a message has the length {shortened(text)!r}", expected=_EXPECTED)
    return int(text)


# Answering ----------------------------------------------------------------------------------------


class UnusableMessage(Exception):
    """A message that cannot be used: the code of JSON-RPC for it, and why in words."""

    def __init__(self, code: int, words: str) -> None:
        super().__init__(words)
        self.code = code
        self.words = words


class AnsweringProtocol(LanguageServerProtocol):
    """The protocol, with an answer to every request, whatever it holds and whenever it comes."""

    _is_initialized = False

    @property
    def _hears(self) -> bool:
        """Whether notices count: between the beginning and the end of a session."""
        return self._is_initialized and not self._shutdown

    @lsp_method(types.TEXT_DOCUMENT_DID_CHANGE)
    def lsp_text_document__did_change(
        self, params: types.DidChangeTextDocumentParams
    ) -> Iterator[Any]:
        """Leave changes to the server, which keeps the texts by itself."""
        handler = self.fm.features.get(types.TEXT_DOCUMENT_DID_CHANGE)
        if handler is not None:
            yield handler, (params,), None

    def take(self, body: bytes) -> None:
        """Carry out one message, or answer why it cannot be used; never raises for input."""
        ident: Any = None
        asks = True
        try:
            plain = _plain(body)
            ident = plain.get("id")
            if isinstance(ident, bool) or not isinstance(ident, int | str | None):
                ident = None
            asks = "id" in plain or "method" not in plain
            if "method" not in plain and ("result" in plain or "error" in plain):
                return  # the server asks nothing, so it waits for no answer
            message = self._message(plain)
        except UnusableMessage as fault:
            self._refuse(ident, fault, asks)
            return
        self.handle_message(message)
        if plain["method"] == types.INITIALIZE:
            self._is_initialized = self._workspace is not None

    def _refuse(self, ident: Any, fault: UnusableMessage, asks: bool) -> None:
        if asks:
            error = {"code": fault.code, "message": fault.words}
            self._send_data({"jsonrpc": self.VERSION, "id": ident, "error": error})
        elif self._hears and fault.code != types.ErrorCodes.MethodNotFound:
            self._server.window_log_message(
                types.LogMessageParams(types.MessageType.Warning, fault.words)
            )

    def _message(self, plain: dict[str, Any]) -> Any:
        """The typed message. Raises UnusableMessage."""
        invalid = types.ErrorCodes.InvalidRequest
        method = plain.get("method")
        if plain.get("jsonrpc") != self.VERSION:
            raise UnusableMessage(invalid, 'the message is not of "jsonrpc": "2.0"')
        if not isinstance(method, str):
            raise UnusableMessage(invalid, "the message has no method")
        is_request = "id" in plain
        if is_request and (isinstance(plain["id"], bool) or not isinstance(plain["id"], int | str)):
            raise UnusableMessage(invalid, "the id of a request must be a whole number or a text")
        named = shortened(method)
        if self._shutdown and (method != types.EXIT or is_request):
            raise UnusableMessage(invalid, f"{named}: the server is shut down")
        if not self._is_initialized and method not in (types.INITIALIZE, types.EXIT):
            code = types.ErrorCodes.ServerNotInitialized
            raise UnusableMessage(code, f"{named}: the server is not initialized")
        if self._is_initialized and method == types.INITIALIZE:
            raise UnusableMessage(invalid, f"{named}: the server is already initialized")
        self._require_known(method, named, is_request)
        _require_usable_addresses(plain, named)
        try:
            return self.structure_message(plain)
        except Exception:  # whatever the converter of types meets
            code = types.ErrorCodes.InvalidParams
            words = f"{named}: the params do not have the form of this method"
            raise UnusableMessage(code, words) from None

    def _require_known(self, method: str, named: str, is_request: bool) -> None:
        """Raise UnusableMessage for a method that is unknown, or asked for as what it is not."""
        if method != types.CANCEL_REQUEST:
            try:
                self._get_handler(method)
            except JsonRpcMethodNotFound:
                code = types.ErrorCodes.MethodNotFound
                raise UnusableMessage(code, f"{named}: there is no such method") from None
        kind = self.get_message_type(method)
        takes_id = kind is None or "id" in {field.name for field in kind.__attrs_attrs__}
        if takes_id != is_request:
            words = "has an id" if is_request else "has no id"
            code = types.ErrorCodes.InvalidRequest
            raise UnusableMessage(code, f"{named}: the message {words}")

    def _send_response(
        self, msg_id: Any, result: Any = None, error: types.ResponseError | None = None
    ) -> None:
        """Send an answer; a mistake in the server is told in one sentence, without a trace."""
        if error is not None and error.code == types.ErrorCodes.InternalError:
            shown = error.data if os.environ.get("AXISPROOF_DEBUG") == "1" else None
            words = f"{error.message}. This is a mistake in axisproof."
            error = types.ResponseError(error.code, words, shown)
        super()._send_response(msg_id, result, error)


def _plain(body: bytes) -> dict[str, Any]:
    try:
        plain = json.loads(body.decode("utf-8"))
    except (ValueError, RecursionError):
        raise UnusableMessage(types.ErrorCodes.ParseError, "the message is not JSON") from None
    if not isinstance(plain, dict):
        raise UnusableMessage(types.ErrorCodes.InvalidRequest, "the message is no JSON object")
    return plain


def _require_usable_addresses(plain: dict[str, Any], named: str) -> None:
    """Raise UnusableMessage if an address in a message names no place of a file system."""
    todo: list[Any] = [plain]
    while todo:
        here = todo.pop()
        if isinstance(here, dict):
            for name, value in here.items():
                if name in _ADDRESSES and isinstance(value, str) and not _is_usable(value):
                    code = types.ErrorCodes.InvalidParams
                    words = f"{named}: {shortened(value)!a} is no address of a file"
                    raise UnusableMessage(code, words)
                todo.append(value)
        elif isinstance(here, list):
            todo += here


def _is_usable(address: str) -> bool:
    try:
        return len(address) <= LONGEST_ADDRESS and bool(path_of_uri(address).as_uri())
    except (ValueError, OSError, RuntimeError):  # a NUL, half a pair, a circle of links
        return False


def path_of_uri(uri: str) -> Path:
    """The file that an address names, through links."""
    return Path(uris.to_fs_path(uri) or uri).resolve()


# Serving ------------------------------------------------------------------------------------------


class _Writer:
    """Writes answers to a stream that outlives the server."""

    def __init__(self, stream: _Output) -> None:
        self.stream = stream

    def write(self, data: bytes) -> None:
        self.stream.write(data)
        self.stream.flush()

    def close(self) -> None:
        self.stream.flush()


def serve(server: LanguageServer) -> int:
    """Serve over standard input and output until the editor ends it; return the exit status.

    Raises InputError for input that is no stream of messages.
    """
    logging.getLogger("pygls").setLevel(
        logging.CRITICAL + 1
    )  # the editor is told, the terminal not
    server.protocol.set_writer(_Writer(sys.stdout.buffer))
    try:
        asyncio.run(_take_all(server.protocol, sys.stdin.fileno()))
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # what is left goes nowhere
        return 1
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 1
    return 0


async def _take_all(protocol: Any, handle: int) -> None:
    """Take every message of a stream, one after the other.

    The thread that waits for input must not keep the program from its end. So it is a daemon, and
    it holds no lock of a stream.
    """
    loop = asyncio.get_running_loop()
    ended: asyncio.Future[None] = loop.create_future()

    def take(body: bytes, taken: Callable[[], None]) -> None:
        try:
            protocol.take(body)
        except BrokenPipeError as fault:
            end(fault)
        finally:
            taken()

    def end(fault: Exception | None) -> None:
        if not ended.done():
            if fault is None:
                ended.set_result(None)
            else:
                ended.set_exception(fault)

    def failed(_: object, context: dict[str, Any]) -> None:
        """What a check tells goes to an editor that may have gone meanwhile."""
        fault = context.get("exception")
        if isinstance(fault, BrokenPipeError):
            end(fault)
        else:
            loop.default_exception_handler(context)

    loop.set_exception_handler(failed)

    def read_all() -> None:
        fault: Exception | None = None
        try:
            for body in messages(lambda most: os.read(handle, most)):
                taken = threading.Event()
                loop.call_soon_threadsafe(take, body, taken.set)
                taken.wait()
        except (InputError, OSError) as error:
            fault = error
        except RuntimeError:  # the loop has ended
            return
        loop.call_soon_threadsafe(end, fault)

    threading.Thread(target=read_all, daemon=True).start()
    await ended
