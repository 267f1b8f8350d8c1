"""The language server: tells an editor what the other modules of this folder find out.

Whole texts are exchanged, not edits, since machine files are small. Positions are counted in UTF-16
code units, as every editor can.
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
from ..source.files import SUFFIXES, Source, unsaved
from ..source.places import locate
from . import facts, rule_files
from .context import context_at
from .diagnostics import Diagnostic, of_error
from .machines import Analysis, Workspace, analyse
from .side_files import SideFileOptions, SideFiles, read_beside

DELAY: Final = 0.15
"""Seconds without typing after which a text is checked."""

_WEIGHTS: Final = {
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
class State:
    """What the server knows: the texts that are open, and what was last said about files."""

    given: SideFileOptions = field(default_factory=SideFileOptions)
    beside: SideFiles = field(default_factory=SideFiles)
    workspace: Workspace = field(default_factory=Workspace)
    texts: dict[Path, str] = field(default_factory=dict)
    uris: dict[Path, str] = field(default_factory=dict)
    machines: dict[Path, Analysis] = field(default_factory=dict)
    rule_files: dict[Path, rule_files.RuleText] = field(default_factory=dict)
    published: set[Path] = field(default_factory=set)
    waiting: asyncio.TimerHandle | None = None

    def remarks(self) -> dict[Path, list[Diagnostic]]:
        """Remarks by file, each once, also where two machines share a file."""
        found: dict[Path, dict[Diagnostic, None]] = {}
        for analysis in self.machines.values():
            for remark in analysis.remarks:
                found.setdefault(_real(remark.place), {}).setdefault(remark)
        for error in self.beside.errors:
            if error.place:  # one without is told at the top of each machine
                told = of_error(error, Path(error.place.file))
                found.setdefault(_real(told.place), {}).setdefault(told)
        for text in self.rule_files.values():
            if text.fault:
                found.setdefault(_real(text.fault.place), {}).setdefault(text.fault)
        return {path: list(remarks) for path, remarks in found.items()}

    def check(self) -> dict[Path, list[Diagnostic]]:
        """Check what is open; the remarks of every file that has some or had some before."""
        given = self.given.files()
        machine_files = [
            path
            for path in self.texts
            if path.name.lower().endswith(SUFFIXES) and path not in given
        ]
        roots = {
            root: None for path in machine_files for root in self.workspace.roots(path, self.texts)
        }
        with unsaved(self.texts):
            self.beside = read_beside(self.given)
        self.machines = {root: analyse(root, self.texts, self.beside) for root in roots}
        self.rule_files = {
            path: rule_files.read(path, self.texts, self.rule_files.get(path))
            for path in self.texts
            if path.name.endswith(ENDING)
        }
        found = self.remarks()
        told = {path: found.get(path, []) for path in {*found, *self.published, *self.texts}}
        self.published = set(found)
        return told

    def analysis_of(self, path: Path) -> Analysis | None:
        """The machine that a file belongs to."""
        for analysis in self.machines.values():
            if any(file.resolve() == path for file in analysis.files):
                return analysis
        return None

    def uri(self, path: Path) -> str:
        """A file as the editor names it, if it has, for it need not spell a name as we would."""
        return self.uris.get(path) or uris.from_fs_path(str(path)) or path.as_uri()

    def source(self, path: Path) -> Source | None:
        """An open file as the reader takes it; None if it is not open or no machine file."""
        if path not in self.texts or path.name.endswith(ENDING):
            return None
        form = "json" if path.name.lower().endswith(".json") else "yaml"
        return Source(path, path.as_posix(), self.texts[path], form)  # type: ignore[arg-type]


def _real(place: Place) -> Path:
    return Path(place.file).resolve()


def run(given: SideFileOptions) -> None:
    """Serve an editor over standard input and output until it goes."""
    server(given).start_io()


def server(given: SideFileOptions | None = None) -> LanguageServer:
    """A server, ready to be started."""
    made = LanguageServer(
        "axisproof", tool_version(), text_document_sync_kind=types.TextDocumentSyncKind.Full
    )
    state = State(given or SideFileOptions())
    _register_texts(made, state)
    _register_looks(made, state)
    return made


def _register_texts(made: LanguageServer, state: State) -> None:
    """What keeps the state in step with the editor, and tells remarks."""

    def publish() -> None:
        try:
            told = state.check()
        except Exception as error:  # a mistake here must not end the session
            text = f"{type(error).__name__}: {error}. This is a mistake in axisproof."
            made.window_log_message(types.LogMessageParams(types.MessageType.Error, text))
            return
        for path, remarks in told.items():
            diagnostics = [_diagnostic(state, remark) for remark in remarks]
            made.text_document_publish_diagnostics(
                types.PublishDiagnosticsParams(uri=state.uri(path), diagnostics=diagnostics)
            )

    def soon(delay: float) -> None:
        if state.waiting is not None:
            state.waiting.cancel()
        state.waiting = asyncio.get_running_loop().call_later(delay, publish)

    @made.feature(types.INITIALIZED)
    def initialized(params: types.InitializedParams) -> None:
        folders = [_path(folder) for folder in made.workspace.folders]
        if not folders and made.workspace.root_path:
            folders = [Path(made.workspace.root_path).resolve()]
        state.workspace = Workspace(tuple(folders))

    @made.feature(types.TEXT_DOCUMENT_DID_OPEN)
    def opened(params: types.DidOpenTextDocumentParams) -> None:
        path = _path(params.text_document.uri)
        state.texts[path] = params.text_document.text
        state.uris[path] = params.text_document.uri
        soon(0)

    @made.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    def changed(params: types.DidChangeTextDocumentParams) -> None:
        state.texts[_path(params.text_document.uri)] = params.content_changes[-1].text
        soon(DELAY)

    @made.feature(types.TEXT_DOCUMENT_DID_SAVE)
    def saved(params: types.DidSaveTextDocumentParams) -> None:
        soon(0)

    @made.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    def closed(params: types.DidCloseTextDocumentParams) -> None:
        state.texts.pop(_path(params.text_document.uri), None)
        soon(0)


def _register_looks(made: LanguageServer, state: State) -> None:
    """What the editor asks for at a place in a text."""

    @made.feature(types.TEXT_DOCUMENT_HOVER)
    def hover(params: types.HoverParams) -> types.Hover | None:
        path = _path(params.text_document.uri)
        text = state.texts.get(path, "")
        if path in state.rule_files:
            offset = _offset(text, params.position)
            words = rule_files.hover(state.rule_files[path], text, offset)
        else:
            words = _hover(state, path, params.position)
        if not words:
            return None
        return types.Hover(types.MarkupContent(types.MarkupKind.Markdown, words))

    @made.feature(
        types.TEXT_DOCUMENT_COMPLETION,
        types.CompletionOptions(trigger_characters=[".", " ", '"']),
    )
    def completion(params: types.CompletionParams) -> list[types.CompletionItem]:
        path = _path(params.text_document.uri)
        text = state.texts.get(path, "")
        offset = _offset(text, params.position)
        if path in state.rule_files:
            found, back = rule_files.choices(state.rule_files[path], text, offset)
            start = offset - back
            return [_item(each, _range(text, start, offset), each.text) for each in found]
        return _completion(state, path, text, offset)

    @made.feature(types.TEXT_DOCUMENT_DEFINITION)
    def definition(params: types.DefinitionParams) -> list[types.Location]:
        path = _path(params.text_document.uri)
        found: dict[Place, types.Location] = {}
        here = _here(state, path, params.position)
        for remark in here:
            for place, line in remark.marks():
                if not _covers(place, line, path, params.position):
                    found.setdefault(place, _location(state, place, line))
        return list(found.values())

    @made.feature(
        types.TEXT_DOCUMENT_CODE_ACTION,
        types.CodeActionOptions(code_action_kinds=[types.CodeActionKind.QuickFix]),
    )
    def actions(params: types.CodeActionParams) -> list[types.CodeAction]:
        path = _path(params.text_document.uri)
        found = []
        for remark in state.remarks().get(path, []):
            edit = remark.edit
            shown = _place_range(remark.place, remark.line_text)
            if edit is None or _real(edit.place) != path or not _meet(shown, params.range):
                continue
            change = types.TextEdit(_place_range(edit.place, _line(state, edit.place)), edit.new)
            found.append(
                types.CodeAction(
                    f"Set {edit.fact} to {edit.new}",
                    kind=types.CodeActionKind.QuickFix,
                    diagnostics=[_diagnostic(state, remark)],
                    is_preferred=not remark.waived,
                    edit=types.WorkspaceEdit(changes={params.text_document.uri: [change]}),
                )
            )
        return found


def _hover(state: State, path: Path, position: types.Position) -> str:
    source = state.source(path)
    if source is None:
        return ""
    found = facts.path_at(locate(source), _offset(source.text, position))
    if found is None:
        return ""
    analysis = state.analysis_of(path)
    machine = analysis.machines[0] if analysis and len(analysis.machines) == 1 else None
    catalogue = analysis.catalogue if analysis else None
    return facts.hover(*found, machine, catalogue, _here(state, path, position))


def _here(state: State, path: Path, position: types.Position) -> list[Diagnostic]:
    """Remarks that speak of a position, on whichever side of a disagreement it is."""
    return [
        remark
        for remarks in state.remarks().values()
        for remark in remarks
        if any(_covers(place, line, path, position) for place, line in remark.marks())
    ]


def _completion(state: State, path: Path, text: str, offset: int) -> list[types.CompletionItem]:
    source = state.source(path)
    if source is None:
        return []
    context = context_at(text, offset, source.form)
    present: list[str] = []
    node = locate(source).node(context.path)
    if context.is_key and node is not None and node.is_mapping:
        present = [str(part) for part, _ in node.parts()]
    span = _range(text, offset - len(context.word), offset)
    found = facts.choices(context, present)
    items = []
    for each in found:
        written = each.text
        if source.form == "json" and not context.quoted:
            bare = each.text in ("true", "false") or each.text.lstrip("-").isdigit()
            written = each.text if bare and each.kind != "field" else f'"{each.text}"'
        if each.kind == "field" and not context.quoted:
            written += ": "
        items.append(_item(each, span, written))
    return items


# Positions --------------------------------------------------------------------------------------


def _path(uri: str) -> Path:
    return Path(uris.to_fs_path(uri) or uri).resolve()


def _source(text: str) -> Source:
    return Source(Path("text"), "text", text, "yaml")


def _offset(text: str, position: types.Position) -> int:
    source = _source(text)
    starts = source.line_starts
    if position.line >= len(starts):
        return len(text)
    line = source.line_text(position.line + 1)
    return starts[position.line] + code_points(line, position.character)


def _range(text: str, start: int, end: int) -> types.Range:
    source = _source(text)
    (line, column), (end_line, end_column) = source.position(start), source.position(end)
    return types.Range(
        types.Position(line - 1, utf16_column(source.line_text(line), column) - 1),
        types.Position(end_line - 1, utf16_column(source.line_text(end_line), end_column) - 1),
    )


def _place_range(place: Place, line_text: str) -> types.Range:
    """A place as a range; one that ends on a later line ends with the line it begins on."""
    start = types.Position(place.line - 1, utf16_column(line_text, place.column) - 1)
    if place.end_line == place.line:
        end = utf16_column(line_text, place.end_column) - 1
    else:
        end = utf16_column(line_text, len(line_text) + 1) - 1
    return types.Range(start, types.Position(place.line - 1, max(end, start.character)))


def _covers(place: Place, line_text: str, path: Path, position: types.Position) -> bool:
    span = _place_range(place, line_text)
    return _meet(span, types.Range(position, position)) and _real(place) == path


def _meet(one: types.Range, two: types.Range) -> bool:
    return one.start <= two.end and two.start <= one.end


def _line(state: State, place: Place) -> str:
    source = state.source(_real(place))
    return source.line_text(place.line) if source else ""


def _location(state: State, place: Place, line_text: str) -> types.Location:
    return types.Location(state.uri(_real(place)), _place_range(place, line_text))


def _diagnostic(state: State, remark: Diagnostic) -> types.Diagnostic:
    related = [
        types.DiagnosticRelatedInformation(_location(state, mark.place, mark.line_text), mark.label)
        for mark in remark.others
    ]
    return types.Diagnostic(
        _place_range(remark.place, remark.line_text),
        f"{remark.waived}\n{remark.text}" if remark.waived else remark.text,
        severity=_WEIGHTS["note" if remark.waived else remark.weight],
        code=remark.rule or None,
        source="axisproof",
        related_information=related or None,
    )


def _item(choice: facts.Choice, span: types.Range, written: str) -> types.CompletionItem:
    return types.CompletionItem(
        choice.text,
        kind=_KINDS[choice.kind],
        detail=choice.detail or None,
        documentation=choice.meaning or None,
        filter_text=choice.text,
        text_edit=types.TextEdit(span, written),
    )
