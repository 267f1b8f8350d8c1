"""The language server: sends an editor what the other modules of this folder find."""

from __future__ import annotations

import asyncio
from pathlib import Path

from lsprotocol import types
from pygls.lsp.server import LanguageServer

from ..base.version import tool_version
from .actions import register_actions
from .machines import Workspace
from .messages import AnsweringProtocol, path_of_uri, serve
from .positions import Positions
from .published import published
from .requests import register_hover_and_completion, register_places
from .side_files import SideFileOptions
from .state import DELAY, CheckRunner, Run, ServerState, in_thread


def serve_editor(options: SideFileOptions) -> int:
    """Serve an editor over standard input and output until it ends; return the exit status."""
    return serve(server(options))


def server(options: SideFileOptions | None = None, run: Run = in_thread) -> LanguageServer:
    """A server, ready to start; ``run`` says where it runs checks."""
    language_server = LanguageServer(
        "axisproof",
        tool_version(),
        text_document_sync_kind=types.TextDocumentSyncKind.Incremental,
        protocol_cls=AnsweringProtocol,
    )
    state = ServerState(options or SideFileOptions())
    _register_texts(language_server, state, run)
    register_hover_and_completion(language_server, state)
    register_places(language_server, state)
    register_actions(language_server, state)
    return language_server


class _Teller:
    """Tells an editor what checks find, and what went wrong."""

    def __init__(self, language_server: LanguageServer, state: ServerState, run: Run) -> None:
        self.server = language_server
        self.state = state
        self.run = run

    def log(self, kind: types.MessageType, text: str) -> None:
        """Write into the log of the editor."""
        self.server.window_log_message(types.LogMessageParams(kind, text))

    def lost(self, path: Path, why: str) -> None:
        """Say that a text is not that of the editor."""
        text = f"{path.name}: a change does not fit the text: {why}. Expected: the whole text"
        self.log(types.MessageType.Warning, text)

    def publish(self, mistake: Exception | None) -> None:
        """Tell the result of a check, or the mistake that ended it."""
        if mistake is not None:  # a bug in a check must not end the session
            text = f"{type(mistake).__name__}: {mistake}. This is a mistake in axisproof."
            self.log(types.MessageType.Error, text)
            return
        self.publish_all()
        self.write_pages()

    def publish_all(self) -> None:
        """Tell the diagnostics of every file that has or had any."""
        state = self.state
        for path, diagnostics in state.to_publish().items():
            document = state.documents.get(path)
            self.server.text_document_publish_diagnostics(
                types.PublishDiagnosticsParams(
                    state.uri(path),
                    [published(state, each) for each in diagnostics],
                    document.version if document else None,
                )
            )

    def write_pages(self) -> None:
        """Write the pages that findings lead to, beside all else, and then tell of them."""
        writing = self.state.pages_to_write()
        if writing is None:
            return
        loop = asyncio.get_running_loop()

        def work() -> None:
            writing()
            try:
                loop.call_soon_threadsafe(self._tell_of_pages)
            except RuntimeError:
                return  # the loop has ended, and nobody waits any more

        self.run(work)

    def _tell_of_pages(self) -> None:
        if all(map(self.state.is_current, self.state.documents)):
            self.publish_all()  # else the next check does


def _register_texts(language_server: LanguageServer, state: ServerState, run: Run) -> None:
    """Register what keeps the texts of the state up to date and publishes diagnostics."""
    teller = _Teller(language_server, state, run)
    runner = CheckRunner(state, teller.publish, run)

    @language_server.feature(types.INITIALIZE)
    def initialize(params: types.InitializeParams) -> None:
        state.positions = Positions(language_server.workspace.position_encoding or "utf-16")
        text, window = params.capabilities.text_document, params.capabilities.window
        told = text.publish_diagnostics if text else None
        state.rule_pages.wanted = bool(told and told.code_description_support)
        state.shows_documents = bool(
            window and window.show_document and window.show_document.support
        )

    @language_server.feature(types.INITIALIZED)
    def initialized(params: types.InitializedParams) -> None:
        folders = [path_of_uri(each.uri) for each in language_server.workspace.folders.values()]
        if not folders and language_server.workspace.root_path:
            folders = [Path(language_server.workspace.root_path).resolve()]
        state.workspace = Workspace(tuple(folders))

    @language_server.feature(types.TEXT_DOCUMENT_DID_OPEN)
    def opened(params: types.DidOpenTextDocumentParams) -> None:
        path = path_of_uri(params.text_document.uri)
        state.open(path, params.text_document.text, params.text_document.version)
        state.uris[path] = params.text_document.uri
        runner.after(0)

    @language_server.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    def changed(params: types.DidChangeTextDocumentParams) -> None:
        path = path_of_uri(params.text_document.uri)
        why = state.change(path, params.content_changes, params.text_document.version)
        if why:
            teller.lost(path, why)
        runner.after(DELAY)

    @language_server.feature(types.TEXT_DOCUMENT_DID_SAVE, types.SaveOptions(include_text=True))
    def saved(params: types.DidSaveTextDocumentParams) -> None:
        path = path_of_uri(params.text_document.uri)
        if params.text is not None and (path in state.documents or path in state.lost):
            if path in state.documents and state.text(path) != params.text:
                teller.lost(path, "the saved text is another one")
            version = state.documents[path].version if path in state.documents else None
            state.open(path, params.text, version)
        runner.after(0)

    @language_server.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    def closed(params: types.DidCloseTextDocumentParams) -> None:
        state.close(path_of_uri(params.text_document.uri))
        runner.after(0)
