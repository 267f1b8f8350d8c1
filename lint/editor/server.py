"""The language server: sends an editor what the other modules of this folder find.

As machine files are small, the editor sends whole texts and not edits. Positions are in UTF-16 code
units, which every editor supports.
"""

from __future__ import annotations

import asyncio
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from lsprotocol import types
from pygls import uris
from pygls.lsp.server import LanguageServer

from ..base.errors import Place
from ..base.version import tool_version
from ..catalogue.catalogue import ENDING
from ..source.columns import code_points, utf16_column
from ..source.files import Source
from ..source.parsing import locate
from ..source.reader import SUFFIXES, Reader
from . import facts, rule_files
from .context import context_at
from .diagnostics import Diagnostic, of_error
from .machines import Analysis, Workspace, analyse
from .side_files import SideFileOptions, SideFiles, read_side_files

DELAY: Final = 0.15
"""Seconds without typing after which the server checks a text."""

_SEVERITIES: Final = {
    "error": types.DiagnosticSeverity.Error,
    "warning": types.DiagnosticSeverity.Warning,
    "note": types.DiagnosticSeverity.Information,
    "hint": types.DiagnosticSeverity.Hint,
}
_KINDS: Final = {
    "field": types.CompletionItemKind.Field,
    "word": types.CompletionItemKind.EnumMember,
    "value": types.CompletionItemKind.Value,
    "function": types.CompletionItemKind.Function,
    "setting": types.CompletionItemKind.Constant,
    "keyword": types.CompletionItemKind.Keyword,
}


@dataclass
class ServerState:
    """The open texts and the last diagnostics of files."""

    options: SideFileOptions = field(default_factory=SideFileOptions)
    side_files: SideFiles = field(default_factory=SideFiles)
    workspace: Workspace = field(default_factory=Workspace)
    texts: dict[Path, str] = field(default_factory=dict)
    uris: dict[Path, str] = field(default_factory=dict)
    machines: dict[Path, Analysis] = field(default_factory=dict)
    rule_files: dict[Path, rule_files.RuleText] = field(default_factory=dict)
    published: set[Path] = field(default_factory=set)
    waiting: asyncio.TimerHandle | None = None

    def diagnostics(self) -> dict[Path, list[Diagnostic]]:
        """Diagnostics by file, each once, also where two machines share a file."""
        found: dict[Path, dict[Diagnostic, None]] = {}
        for analysis in self.machines.values():
            for diagnostic in analysis.diagnostics:
                found.setdefault(_real(diagnostic.place), {}).setdefault(diagnostic)
        for error in self.side_files.errors:
            if error.place:  # an error without a place is at the top of each machine
                diagnostic = of_error(error, Path(error.place.file))
                found.setdefault(_real(diagnostic.place), {}).setdefault(diagnostic)
        for text in self.rule_files.values():
            if text.fault:
                found.setdefault(_real(text.fault.place), {}).setdefault(text.fault)
        return {path: list(diagnostics) for path, diagnostics in found.items()}

    def check(self) -> dict[Path, list[Diagnostic]]:
        """Check open files; return diagnostics of every file that has or had any."""
        side_files = self.options.files()
        machine_files = [
            path
            for path in self.texts
            if path.name.lower().endswith(SUFFIXES) and path not in side_files
        ]
        roots = {
            root: None for path in machine_files for root in self.workspace.roots(path, self.texts)
        }
        self.side_files = read_side_files(self.options, Reader.of(self.texts))
        self.machines = {root: analyse(root, self.texts, self.side_files) for root in roots}
        self.rule_files = {
            path: rule_files.read_rule_file(path, self.texts, self.rule_files.get(path))
            for path in self.texts
            if path.name.endswith(ENDING)
        }
        found = self.diagnostics()
        diagnostics = {path: found.get(path, []) for path in {*found, *self.published, *self.texts}}
        self.published = set(found)
        return diagnostics

    def analysis_of(self, path: Path) -> Analysis | None:
        """The machine that a file belongs to."""
        for analysis in self.machines.values():
            if any(file.resolve() == path for file in analysis.files):
                return analysis
        return None

    def uri(self, path: Path) -> str:
        """The URI of a file, as the editor spells it if it named the file."""
        return self.uris.get(path) or uris.from_fs_path(str(path)) or path.as_uri()

    def source(self, path: Path) -> Source | None:
        """The source of an open machine file; None for any other file."""
        if path not in self.texts or path.name.endswith(ENDING):
            return None
        form = "json" if path.name.lower().endswith(".json") else "yaml"
        return Source(path, path.as_posix(), self.texts[path], form)  # type: ignore[arg-type]


def _real(place: Place) -> Path:
    return Path(place.file).resolve()


def serve_editor(options: SideFileOptions) -> None:
    """Serve an editor over standard input and output until it ends."""
    server(options).start_io()


def server(options: SideFileOptions | None = None) -> LanguageServer:
    """A server, ready to start."""
    language_server = LanguageServer(
        "axisproof", tool_version(), text_document_sync_kind=types.TextDocumentSyncKind.Full
    )
    state = ServerState(options or SideFileOptions())
    _register_texts(language_server, state)
    _register_hover_and_completion(language_server, state)
    _register_definition_and_fixes(language_server, state)
    return language_server


def _register_texts(language_server: LanguageServer, state: ServerState) -> None:
    """Register what keeps the texts of the state up to date and publishes diagnostics."""

    def publish() -> None:
        try:
            found = state.check()
        except Exception as error:  # a bug here must not end the session
            text = f"{type(error).__name__}: {error}. This is a mistake in axisproof."
            language_server.window_log_message(
                types.LogMessageParams(types.MessageType.Error, text)
            )
            return
        for path, diagnostics in found.items():
            published = [_lsp_diagnostic(state, each) for each in diagnostics]
            language_server.text_document_publish_diagnostics(
                types.PublishDiagnosticsParams(uri=state.uri(path), diagnostics=published)
            )

    def publish_after(delay: float) -> None:
        if state.waiting is not None:
            state.waiting.cancel()
        state.waiting = asyncio.get_running_loop().call_later(delay, publish)

    @language_server.feature(types.INITIALIZED)
    def initialized(params: types.InitializedParams) -> None:
        folders = [_path_of_uri(folder) for folder in language_server.workspace.folders]
        if not folders and language_server.workspace.root_path:
            folders = [Path(language_server.workspace.root_path).resolve()]
        state.workspace = Workspace(tuple(folders))

    @language_server.feature(types.TEXT_DOCUMENT_DID_OPEN)
    def opened(params: types.DidOpenTextDocumentParams) -> None:
        path = _path_of_uri(params.text_document.uri)
        state.texts[path] = params.text_document.text
        state.uris[path] = params.text_document.uri
        publish_after(0)

    @language_server.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    def changed(params: types.DidChangeTextDocumentParams) -> None:
        state.texts[_path_of_uri(params.text_document.uri)] = params.content_changes[-1].text
        publish_after(DELAY)

    @language_server.feature(types.TEXT_DOCUMENT_DID_SAVE)
    def saved(params: types.DidSaveTextDocumentParams) -> None:
        publish_after(0)

    @language_server.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    def closed(params: types.DidCloseTextDocumentParams) -> None:
        state.texts.pop(_path_of_uri(params.text_document.uri), None)
        publish_after(0)


def _register_hover_and_completion(language_server: LanguageServer, state: ServerState) -> None:
    """Register what describes and completes a place in a text."""

    @language_server.feature(types.TEXT_DOCUMENT_HOVER)
    def hover(params: types.HoverParams) -> types.Hover | None:
        path = _path_of_uri(params.text_document.uri)
        text = state.texts.get(path, "")
        if path in state.rule_files:
            offset = _offset(text, params.position)
            words = rule_files.rule_hover(state.rule_files[path], text, offset)
        else:
            words = _fact_hover(state, path, params.position)
        if not words:
            return None
        return types.Hover(types.MarkupContent(types.MarkupKind.Markdown, words))

    @language_server.feature(
        types.TEXT_DOCUMENT_COMPLETION,
        types.CompletionOptions(trigger_characters=[".", " ", '"']),
    )
    def completion(params: types.CompletionParams) -> list[types.CompletionItem]:
        path = _path_of_uri(params.text_document.uri)
        text = state.texts.get(path, "")
        offset = _offset(text, params.position)
        if path in state.rule_files:
            found, back = rule_files.rule_choices(state.rule_files[path], text, offset)
            start = offset - back
            return [
                _completion_item(each, _lsp_range(text, start, offset), each.text) for each in found
            ]
        return _fact_completion(state, path, text, offset)


def _register_definition_and_fixes(language_server: LanguageServer, state: ServerState) -> None:
    """Register what leads to the other places of a finding and offers its fix."""

    @language_server.feature(types.TEXT_DOCUMENT_DEFINITION)
    def definition(params: types.DefinitionParams) -> list[types.Location]:
        path = _path_of_uri(params.text_document.uri)
        found: dict[Place, types.Location] = {}
        for diagnostic in _diagnostics_at(state, path, params.position):
            for place, line in diagnostic.marks():
                if not _covers(place, line, path, params.position):
                    found.setdefault(place, _lsp_location(state, place, line))
        return list(found.values())

    @language_server.feature(
        types.TEXT_DOCUMENT_CODE_ACTION,
        types.CodeActionOptions(code_action_kinds=[types.CodeActionKind.QuickFix]),
    )
    def actions(params: types.CodeActionParams) -> list[types.CodeAction]:
        path = _path_of_uri(params.text_document.uri)
        found = []
        for diagnostic in state.diagnostics().get(path, []):
            edit = diagnostic.edit
            shown = _place_range(diagnostic.place, diagnostic.line_text)
            if edit is None or _real(edit.place) != path or not _overlap(shown, params.range):
                continue
            change = types.TextEdit(
                _place_range(edit.place, _line_text(state, edit.place)), edit.new
            )
            found.append(
                types.CodeAction(
                    f"Set {edit.fact} to {edit.new}",
                    kind=types.CodeActionKind.QuickFix,
                    diagnostics=[_lsp_diagnostic(state, diagnostic)],
                    is_preferred=not diagnostic.waived,
                    edit=types.WorkspaceEdit(changes={params.text_document.uri: [change]}),
                )
            )
        return found


def _fact_hover(state: ServerState, path: Path, position: types.Position) -> str:
    source = state.source(path)
    if source is None:
        return ""
    found = facts.path_at(locate(source), _offset(source.text, position))
    if found is None:
        return ""
    analysis = state.analysis_of(path)
    machine = analysis.machines[0] if analysis and len(analysis.machines) == 1 else None
    catalogue = analysis.catalogue if analysis else None
    return facts.fact_hover(*found, machine, catalogue, _diagnostics_at(state, path, position))


def _diagnostics_at(state: ServerState, path: Path, position: types.Position) -> list[Diagnostic]:
    """Diagnostics that cover a position with any of their places."""
    return [
        diagnostic
        for diagnostics in state.diagnostics().values()
        for diagnostic in diagnostics
        if any(_covers(place, line, path, position) for place, line in diagnostic.marks())
    ]


def _fact_completion(
    state: ServerState, path: Path, text: str, offset: int
) -> list[types.CompletionItem]:
    source = state.source(path)
    if source is None:
        return []
    context = context_at(text, offset, source.form)
    present: list[str] = []
    node = locate(source).node(context.path)
    if context.is_key and node is not None and node.is_mapping:
        present = [str(part) for part, _ in node.parts()]
    span = _lsp_range(text, offset - len(context.word), offset)
    found = facts.fact_choices(context, present)
    items = []
    for each in found:
        written = each.text
        if source.form == "json" and not context.quoted:
            bare = each.text in ("true", "false") or each.text.lstrip("-").isdigit()
            written = each.text if bare and each.kind != "field" else f'"{each.text}"'
        if each.kind == "field" and not context.quoted:
            written += ": "
        items.append(_completion_item(each, span, written))
    return items


# Positions --------------------------------------------------------------------------------------


def _path_of_uri(uri: str) -> Path:
    return Path(uris.to_fs_path(uri) or uri).resolve()


def _text_source(text: str) -> Source:
    return Source(Path("text"), "text", text, "yaml")


def _offset(text: str, position: types.Position) -> int:
    source = _text_source(text)
    starts = source.line_starts
    if position.line >= len(starts):
        return len(text)
    line = source.line_text(position.line + 1)
    return starts[position.line] + code_points(line, position.character)


def _lsp_range(text: str, start: int, end: int) -> types.Range:
    source = _text_source(text)
    (line, column), (end_line, end_column) = source.position(start), source.position(end)
    return types.Range(
        types.Position(line - 1, utf16_column(source.line_text(line), column) - 1),
        types.Position(end_line - 1, utf16_column(source.line_text(end_line), end_column) - 1),
    )


def _place_range(place: Place, line_text: str) -> types.Range:
    """A place as a range; a place over several lines ends with its first line."""
    start = types.Position(place.line - 1, utf16_column(line_text, place.column) - 1)
    if place.end_line == place.line:
        end = utf16_column(line_text, place.end_column) - 1
    else:
        end = utf16_column(line_text, len(line_text) + 1) - 1
    return types.Range(start, types.Position(place.line - 1, max(end, start.character)))


def _covers(place: Place, line_text: str, path: Path, position: types.Position) -> bool:
    span = _place_range(place, line_text)
    return _overlap(span, types.Range(position, position)) and _real(place) == path


def _overlap(one: types.Range, two: types.Range) -> bool:
    return one.start <= two.end and two.start <= one.end


def _line_text(state: ServerState, place: Place) -> str:
    source = state.source(_real(place))
    return source.line_text(place.line) if source else ""


def _lsp_location(state: ServerState, place: Place, line_text: str) -> types.Location:
    return types.Location(state.uri(_real(place)), _place_range(place, line_text))


def _lsp_diagnostic(state: ServerState, diagnostic: Diagnostic) -> types.Diagnostic:
    related = [
        types.DiagnosticRelatedInformation(
            _lsp_location(state, mark.place, mark.line_text), mark.label
        )
        for mark in diagnostic.others
    ]
    return types.Diagnostic(
        _place_range(diagnostic.place, diagnostic.line_text),
        f"{diagnostic.waived}\n{diagnostic.text}" if diagnostic.waived else diagnostic.text,
        severity=_SEVERITIES["note" if diagnostic.waived else diagnostic.severity],
        code=diagnostic.rule or None,
        source="axisproof",
        related_information=related or None,
    )


def _completion_item(
    choice: facts.CompletionChoice, span: types.Range, written: str
) -> types.CompletionItem:
    return types.CompletionItem(
        choice.text,
        kind=_KINDS[choice.kind],
        detail=choice.detail or None,
        documentation=choice.meaning or None,
        filter_text=choice.text,
        text_edit=types.TextEdit(span, written),
    )
