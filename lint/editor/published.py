"""What the other modules find, as the Language Server Protocol says it."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from lsprotocol import types

from ..base.errors import Place
from . import facts
from .diagnostics import Diagnostic
from .state import ServerState, real_path

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


def diagnostics_at(state: ServerState, path: Path, position: types.Position) -> list[Diagnostic]:
    """Diagnostics that cover a position with any of their places; none while the text is newer."""
    if not state.is_current(path):
        return []
    return [
        diagnostic
        for diagnostics in state.checked.diagnostics.values()
        for diagnostic in diagnostics
        if any(covers(state, place, line, path, position) for place, line in diagnostic.marks())
    ]


def covers(
    state: ServerState, place: Place, line_text: str, path: Path, position: types.Position
) -> bool:
    """Whether a place covers a position of a file."""
    if place.line - 1 != position.line:
        return False
    span = state.positions.of_place(place, line_text)
    return overlap(span, types.Range(position, position)) and real_path(place) == path


def overlap(one: types.Range, two: types.Range) -> bool:
    """Whether two ranges of a file have a position in common."""
    return one.start <= two.end and two.start <= one.end


def line_text(state: ServerState, place: Place) -> str:
    """The line of an open text on which a place begins; empty if the text is not open."""
    source = state.source(real_path(place))
    return source.line_text(place.line) if source else ""


def location(state: ServerState, place: Place, line: str) -> types.Location:
    """A place, with the line on which it begins, as the editor names it."""
    return types.Location(state.uri(real_path(place)), state.positions.of_place(place, line))


def published(state: ServerState, diagnostic: Diagnostic) -> types.Diagnostic:
    """A diagnostic as the editor gets it."""
    related = [
        types.DiagnosticRelatedInformation(location(state, mark.place, mark.line_text), mark.label)
        for mark in diagnostic.others
    ]
    page = state.rule_pages.address(diagnostic.rule) if diagnostic.rule else ""
    return types.Diagnostic(
        state.positions.of_place(diagnostic.place, diagnostic.line_text),
        f"{diagnostic.waived}\n{diagnostic.text}" if diagnostic.waived else diagnostic.text,
        severity=_SEVERITIES["note" if diagnostic.waived else diagnostic.severity],
        code=diagnostic.rule or None,
        code_description=types.CodeDescription(page) if page else None,
        source="axisproof",
        related_information=related or None,
    )


def completion_item(
    choice: facts.CompletionChoice, span: types.Range, written: str
) -> types.CompletionItem:
    """A choice as the editor gets it."""
    return types.CompletionItem(
        choice.text,
        kind=_KINDS[choice.kind],
        detail=choice.detail or None,
        documentation=choice.meaning or None,
        filter_text=choice.sought or choice.text,
        text_edit=types.TextEdit(span, written),
    )
