"""What an editor offers at a finding: its fix, its explanation, and a waiver to be completed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from lsprotocol import types
from pygls.lsp.server import LanguageServer

from ..catalogue.describing import built_in_info
from ..checking.new_waiver import insertion, waiver_entry
from ..findings.finding import Finding
from ..findings.rule_info import RuleInfo
from .diagnostics import Diagnostic
from .messages import path_of_uri
from .published import line_text, overlap, published
from .state import ServerState, real_path

EXPLAIN: Final = "axisproof.explain"
"""The command that shows what a rule requires; its argument is the name of the rule."""


def register_actions(language_server: LanguageServer, state: ServerState) -> None:
    """Register what is offered at findings."""

    @language_server.feature(
        types.TEXT_DOCUMENT_CODE_ACTION,
        types.CodeActionOptions(
            code_action_kinds=[types.CodeActionKind.QuickFix, types.CodeActionKind.Empty]
        ),
    )
    def actions(params: types.CodeActionParams) -> list[types.CodeAction]:
        path = path_of_uri(params.text_document.uri)
        if not state.is_current(path):
            return []  # the fix of another text would change the wrong place of this one
        wanted = params.context.only
        found: list[types.CodeAction] = []
        for diagnostic in state.checked.diagnostics.get(path, ()):
            shown = state.positions.of_place(diagnostic.place, diagnostic.line_text)
            if overlap(shown, params.range):
                found += _at(state, diagnostic, path)
        return [each for each in found if wanted is None or _is_wanted(each.kind, wanted)]

    @language_server.command(EXPLAIN)
    def explain(rule: str) -> None:
        page = state.rule_pages.address(rule)
        if page and state.shows_documents:
            language_server.window_show_document(types.ShowDocumentParams(page, external=True))
            return
        language_server.window_show_message(
            types.ShowMessageParams(types.MessageType.Info, explanation(state, rule))
        )


def _is_wanted(
    kind: types.CodeActionKind | str | None, wanted: Sequence[types.CodeActionKind | str]
) -> bool:
    name = str(getattr(kind, "value", kind) or "")
    asked = [str(getattr(each, "value", each)) for each in wanted]
    return any(not each or name == each or name.startswith(f"{each}.") for each in asked)


def _at(state: ServerState, diagnostic: Diagnostic, path: Path) -> Iterator[types.CodeAction]:
    """What is offered at a diagnostic of a file."""
    shown = [published(state, diagnostic)]
    edit = diagnostic.edit
    if edit is not None and real_path(edit.place) == path:
        span = state.positions.of_place(edit.place, line_text(state, edit.place))
        yield types.CodeAction(
            f"Set {edit.fact} to {edit.new}",
            kind=types.CodeActionKind.QuickFix,
            diagnostics=shown,
            is_preferred=not diagnostic.waived,
            edit=types.WorkspaceEdit(changes={state.uri(path): [types.TextEdit(span, edit.new)]}),
        )
    if diagnostic.finding is None:
        return
    title = f"Explain {diagnostic.rule}"
    yield types.CodeAction(
        title,
        kind=types.CodeActionKind.Empty,
        diagnostics=shown,
        command=types.Command(title, EXPLAIN, arguments=[diagnostic.rule]),
    )
    waiver = _waiver(state, diagnostic.finding)
    if waiver is not None:
        yield types.CodeAction(
            f"Write a waiver of {diagnostic.rule}. Then fill in reason, role and last day",
            kind=types.CodeActionKind.Empty,
            diagnostics=shown,
            edit=waiver,
        )


def _waiver(state: ServerState, finding: Finding) -> types.WorkspaceEdit | None:
    """The change of the waiver file; None without a waiver file that can be used."""
    waivers = state.checked.side_files.waivers
    if waivers is None:
        return None
    source = waivers.source
    file = source.path.resolve()
    if file in state.documents and not state.is_current(file):
        return None
    machines = (each for found in state.checked.machines.values() for each in found.machines)
    machine = next((each for each in machines if each.name == finding.machine), None)
    entry = None if machine is None else waiver_entry(finding, machine)
    found = None if entry is None else insertion(source, entry)
    if found is None:
        return None
    span = state.positions.span(source.text, found.offset, found.offset)
    return types.WorkspaceEdit(changes={state.uri(file): [types.TextEdit(span, found.text)]})


def explanation(state: ServerState, name: str) -> str:
    """What a rule requires and why, as `axisproof explain` says it."""
    from ..report.rendering import RenderOptions
    from ..report.rule_text import render_rule
    from ..rulebook.concerns import with_finding

    rules = state.checked.side_files.rules
    info: RuleInfo | None = next((each for each in built_in_info() if each.name == name), None)
    if info is None and rules is not None and name in rules.every.rules:
        info = with_finding(rules.every, rules.every.rules[name])
    return f"{name} is no rule" if info is None else render_rule(info, RenderOptions())
