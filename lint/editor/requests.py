"""What the server answers about a place in a text, and about a text as a whole."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Final

from lsprotocol import types
from pygls.lsp.server import LanguageServer

from ..base.errors import Place
from ..source.parsing import locate
from . import facts, outline, rule_files
from .context import context_at
from .messages import path_of_uri
from .published import completion_item, covers, diagnostics_at, location
from .state import ServerState

_SYMBOLS: Final = {
    "machine": types.SymbolKind.Module,
    "axis": types.SymbolKind.Class,
    "part": types.SymbolKind.Field,
}


def register_hover_and_completion(language_server: LanguageServer, state: ServerState) -> None:
    """Register what describes and completes a place in a text."""

    @language_server.feature(types.TEXT_DOCUMENT_HOVER)
    def hover(params: types.HoverParams) -> types.Hover | None:
        path = path_of_uri(params.text_document.uri)
        text = state.text(path)
        if path in state.checked.rule_files:
            offset = state.positions.offset(text, params.position)
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
        text = state.text(path)
        offset = state.positions.offset(text, params.position)
        if path in state.checked.rule_files:
            found, back = rule_files.rule_choices(state.checked.rule_files[path], text, offset)
            start = offset - back
            return [
                completion_item(each, state.positions.span(text, start, offset), each.text)
                for each in found
            ]
        return _fact_completion(state, path, text, offset)


def register_places(language_server: LanguageServer, state: ServerState) -> None:
    """Register what leads from one place to others, and the outline of a text."""

    @language_server.feature(types.TEXT_DOCUMENT_DEFINITION)
    def definition(params: types.DefinitionParams) -> list[types.Location]:
        path = path_of_uri(params.text_document.uri)
        found: dict[Place, types.Location] = {}
        for diagnostic in diagnostics_at(state, path, params.position):
            for place, line in diagnostic.marks():
                if not covers(state, place, line, path, params.position):
                    found.setdefault(place, location(state, place, line))
        return list(found.values())

    @language_server.feature(types.TEXT_DOCUMENT_REFERENCES)
    def references(params: types.ReferenceParams) -> list[types.Location]:
        return _references(state, path_of_uri(params.text_document.uri), params.position)

    @language_server.feature(types.TEXT_DOCUMENT_DOCUMENT_SYMBOL)
    def symbols(params: types.DocumentSymbolParams) -> list[types.DocumentSymbol]:
        source = state.source(path_of_uri(params.text_document.uri))
        return [] if source is None else _symbols(state, source.text, outline.outline(source))


def _symbols(
    state: ServerState, text: str, entries: Iterable[outline.OutlineEntry]
) -> list[types.DocumentSymbol]:
    return [
        types.DocumentSymbol(
            each.name,
            _SYMBOLS[each.kind],
            state.positions.span(text, each.start, each.end),
            state.positions.span(text, each.name_start, each.name_end),
            each.detail or None,
            children=_symbols(state, text, each.inside),
        )
        for each in entries
    ]


def _references(state: ServerState, path: Path, position: types.Position) -> list[types.Location]:
    """Where the fact at a place stands on all axes and in open rules; or the axis that it names."""
    here = state.source(path)
    if here is None:
        return []
    found = facts.path_at(locate(here), state.positions.offset(here.text, position))
    if found is None:
        return []
    fact, is_key = found
    name = outline.names_axis(fact, here, is_key=is_key)
    analysis = state.checked.analysis_of(path)
    files = dict.fromkeys(
        (path, *(each.resolve() for each in (analysis.files if analysis else ())))
    )
    places: list[types.Location] = []
    for file in files:
        source = state.source(file)
        if source is None:
            continue
        spans = outline.of_axis(name, source) if name else outline.of_fact(fact, source)
        places += _locations(state, file, source.text, spans)
    for file in () if name else state.checked.rule_files:
        text = state.text(file)
        places += _locations(state, file, text, outline.in_rules(fact, text))
    return places


def _locations(
    state: ServerState, file: Path, text: str, spans: Iterable[tuple[int, int]]
) -> list[types.Location]:
    uri = state.uri(file)
    return [types.Location(uri, state.positions.span(text, *span)) for span in spans]


def _fact_hover(state: ServerState, path: Path, position: types.Position) -> str:
    source = state.source(path)
    if source is None:
        return ""
    found = facts.path_at(locate(source), state.positions.offset(source.text, position))
    if found is None:
        return ""
    analysis = state.checked.analysis_of(path)
    machine = analysis.machines[0] if analysis and len(analysis.machines) == 1 else None
    catalogue = analysis.catalogue if analysis else None
    return facts.fact_hover(*found, machine, catalogue, diagnostics_at(state, path, position))


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
    span = state.positions.span(text, offset - len(context.word), offset)
    found = facts.fact_choices(context, present)
    items = []
    for each in found:
        written = each.text
        if source.form == "json" and not context.quoted:
            bare = each.text in ("true", "false") or each.text.lstrip("-").isdigit()
            written = each.text if bare and each.kind != "field" else f'"{each.text}"'
        if each.kind == "field" and not context.quoted:
            written += ": "
        items.append(completion_item(each, span, written))
    return items
