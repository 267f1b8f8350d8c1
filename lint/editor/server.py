"""The language server: sends an editor what the other modules of this folder find.

As machine files are small, the editor sends whole texts and not edits. Positions are in UTF-16 code
units, which every editor supports.
"""

from __future__ import annotations

from pathlib import Path
from typing import Final

from lsprotocol import types
from pygls.lsp.server import LanguageServer

from ..base.errors import Place
from ..base.version import tool_version
from ..source.columns import code_points, utf16_column
from ..source.files import Source
from ..source.parsing import locate
from . import facts, rule_files
from .context import context_at
from .diagnostics import Diagnostic
from .machines import Workspace
from .messages import AnsweringProtocol, path_of_uri, serve
from .side_files import SideFileOptions
from .state import DELAY, CheckRunner, Run, ServerState, in_thread, real_path

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


def serve_editor(options: SideFileOptions) -> int:
    """Serve an editor over standard input and output until it ends; return the exit status."""
    return serve(server(options))


def server(options: SideFileOptions | None = None, run: Run = in_thread) -> LanguageServer:
    """A server, ready to start; ``run`` says where it runs checks."""
    language_server = LanguageServer(
        "axisproof",
        tool_version(),
        text_document_sync_kind=types.TextDocumentSyncKind.Full,
        protocol_cls=AnsweringProtocol,
    )
    state = ServerState(options or SideFileOptions())
    _register_texts(language_server, state, run)
    _register_hover_and_completion(language_server, state)
    _register_definition_and_fixes(language_server, state)
    return language_server


def _register_texts(language_server: LanguageServer, state: ServerState, run: Run) -> None:
    """Register what keeps the texts of the state up to date and publishes diagnostics."""

    def log(kind: types.MessageType, text: str) -> None:
        language_server.window_log_message(types.LogMessageParams(kind, text))

    def publish(mistake: Exception | None) -> None:
        if mistake is not None:  # a bug in a check must not end the session
            text = f"{type(mistake).__name__}: {mistake}. This is a mistake in axisproof."
            log(types.MessageType.Error, text)
            return
        for path, diagnostics in state.to_publish().items():
            published = [_lsp_diagnostic(state, each) for each in diagnostics]
            language_server.text_document_publish_diagnostics(
                types.PublishDiagnosticsParams(state.uri(path), published)
            )

    runner = CheckRunner(state, publish, run)

    @language_server.feature(types.INITIALIZED)
    def initialized(params: types.InitializedParams) -> None:
        folders = [path_of_uri(each.uri) for each in language_server.workspace.folders.values()]
        if not folders and language_server.workspace.root_path:
            folders = [Path(language_server.workspace.root_path).resolve()]
        state.workspace = Workspace(tuple(folders))

    @language_server.feature(types.TEXT_DOCUMENT_DID_OPEN)
    def opened(params: types.DidOpenTextDocumentParams) -> None:
        path = path_of_uri(params.text_document.uri)
        state.texts[path] = params.text_document.text
        state.uris[path] = params.text_document.uri
        runner.after(0)

    @language_server.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    def changed(params: types.DidChangeTextDocumentParams) -> None:
        for change in params.content_changes:
            if isinstance(change, types.TextDocumentContentChangePartial):
                text = "a change of a part of a text came. Expected: whole texts"
                log(types.MessageType.Warning, text)
                return
            state.texts[path_of_uri(params.text_document.uri)] = change.text
        runner.after(DELAY)

    @language_server.feature(types.TEXT_DOCUMENT_DID_SAVE)
    def saved(params: types.DidSaveTextDocumentParams) -> None:
        runner.after(0)

    @language_server.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    def closed(params: types.DidCloseTextDocumentParams) -> None:
        path = path_of_uri(params.text_document.uri)
        state.texts.pop(path, None)
        state.sources.pop(path, None)
        runner.after(0)


def _register_hover_and_completion(language_server: LanguageServer, state: ServerState) -> None:
    """Register what describes and completes a place in a text."""

    @language_server.feature(types.TEXT_DOCUMENT_HOVER)
    def hover(params: types.HoverParams) -> types.Hover | None:
        path = path_of_uri(params.text_document.uri)
        text = state.texts.get(path, "")
        if path in state.checked.rule_files:
            offset = _offset(text, params.position)
            words = rule_files.rule_hover(state.checked.rule_files[path], text, offset)
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
        path = path_of_uri(params.text_document.uri)
        text = state.texts.get(path, "")
        offset = _offset(text, params.position)
        if path in state.checked.rule_files:
            found, back = rule_files.rule_choices(state.checked.rule_files[path], text, offset)
            start = offset - back
            return [
                _completion_item(each, _lsp_range(text, start, offset), each.text) for each in found
            ]
        return _fact_completion(state, path, text, offset)


def _register_definition_and_fixes(language_server: LanguageServer, state: ServerState) -> None:
    """Register what leads to the other places of a finding and offers its fix."""

    @language_server.feature(types.TEXT_DOCUMENT_DEFINITION)
    def definition(params: types.DefinitionParams) -> list[types.Location]:
        path = path_of_uri(params.text_document.uri)
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
        path = path_of_uri(params.text_document.uri)
        found: list[types.CodeAction] = []
        if not state.is_current(path):
            return found  # the fix of another text would change the wrong place of this one
        for diagnostic in state.checked.diagnostics.get(path, ()):
            edit = diagnostic.edit
            shown = _place_range(diagnostic.place, diagnostic.line_text)
            if edit is None or real_path(edit.place) != path or not _overlap(shown, params.range):
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
    analysis = state.checked.analysis_of(path)
    machine = analysis.machines[0] if analysis and len(analysis.machines) == 1 else None
    catalogue = analysis.catalogue if analysis else None
    return facts.fact_hover(*found, machine, catalogue, _diagnostics_at(state, path, position))


def _diagnostics_at(state: ServerState, path: Path, position: types.Position) -> list[Diagnostic]:
    """Diagnostics that cover a position with any of their places; none while the text is newer."""
    if not state.is_current(path):
        return []
    return [
        diagnostic
        for diagnostics in state.checked.diagnostics.values()
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
    return _overlap(span, types.Range(position, position)) and real_path(place) == path


def _overlap(one: types.Range, two: types.Range) -> bool:
    return one.start <= two.end and two.start <= one.end


def _line_text(state: ServerState, place: Place) -> str:
    source = state.source(real_path(place))
    return source.line_text(place.line) if source else ""


def _lsp_location(state: ServerState, place: Place, line_text: str) -> types.Location:
    return types.Location(state.uri(real_path(place)), _place_range(place, line_text))


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
        filter_text=choice.sought or choice.text,
        text_edit=types.TextEdit(span, written),
    )
