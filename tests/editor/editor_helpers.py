"""What tests of the language server share: a session, and files as an editor holds them."""

from __future__ import annotations

import asyncio
import sys
from collections.abc import Callable
from pathlib import Path

import pytest_lsp
from lsprotocol import types
from pytest_lsp import LanguageClient

FIXTURES = Path(__file__).parent.parent.parent / "fixtures"
SERVE = [sys.executable, "-m", "axisproof", "serve"]


async def begin(client: LanguageClient, folder: Path) -> None:
    """Open a session over a folder."""
    await client.initialize_session(
        types.InitializeParams(
            capabilities=pytest_lsp.client_capabilities("visual-studio-code"),
            workspace_folders=[types.WorkspaceFolder(folder.as_uri(), "machines")],
        )
    )


class Document:
    """A file as an editor holds it."""

    def __init__(self, client: LanguageClient, path: Path, text: str | None = None) -> None:
        self.client = client
        self.path = path
        self.uri = path.as_uri()
        self.version = 1
        self.text = path.read_text("utf-8") if text is None else text
        item = types.TextDocumentItem(self.uri, "yaml", 1, self.text)
        client.text_document_did_open(types.DidOpenTextDocumentParams(item))

    @property
    def identifier(self) -> types.TextDocumentIdentifier:
        return types.TextDocumentIdentifier(self.uri)

    def type(self, text: str) -> None:
        self.text = text
        self.version += 1
        self.client.text_document_did_change(
            types.DidChangeTextDocumentParams(
                types.VersionedTextDocumentIdentifier(self.version, self.uri),
                [types.TextDocumentContentChangeWholeDocument(text)],
            )
        )

    def replace(self, old: str, new: str) -> None:
        assert self.text.count(old) == 1, old
        self.type(self.text.replace(old, new))

    def at(self, before: str, after: str = "") -> types.Position:
        """The position between two stretches of text, in UTF-16 units."""
        assert self.text.count(before + after) == 1, before + after
        head = self.text[: self.text.index(before + after) + len(before)]
        line = head.count("\n")
        return types.Position(line, len(head.rpartition("\n")[2].encode("utf-16-le")) // 2)

    def under(self, span: types.Range) -> str:
        """The text of a range on one line."""
        assert span.start.line == span.end.line
        units = self.text.split("\n")[span.start.line].encode("utf-16-le")
        return units[2 * span.start.character : 2 * span.end.character].decode("utf-16-le")

    async def until(self, good: Callable[[list[types.Diagnostic]], bool]) -> list[types.Diagnostic]:
        """The diagnostics of the file, once they are as wanted."""
        for _ in range(2000):
            found = self.client.diagnostics.get(self.uri)
            if found is not None and good(list(found)):
                return list(found)
            await asyncio.sleep(0.05)
        raise AssertionError(f"last told: {self.client.diagnostics.get(self.uri)}")

    async def hover(self, position: types.Position) -> str:
        params = types.HoverParams(self.identifier, position)
        found = await self.client.text_document_hover_async(params)
        if found is None:
            return ""
        assert isinstance(found.contents, types.MarkupContent)
        return found.contents.value

    async def complete(self, position: types.Position) -> dict[str, types.CompletionItem]:
        params = types.CompletionParams(self.identifier, position)
        found = await self.client.text_document_completion_async(params)
        assert isinstance(found, list)
        return {item.label: item for item in found}


def codes(found: list[types.Diagnostic]) -> set[str | int | None]:
    return {each.code for each in found if each.code}


def has(rule: str) -> Callable[[list[types.Diagnostic]], bool]:
    return lambda found: rule in codes(found)
