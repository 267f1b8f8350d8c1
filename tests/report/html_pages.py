"""A page of HTML taken apart, for tests."""

from __future__ import annotations

import re
from collections import Counter
from html.parser import HTMLParser

VOID = {"meta", "link", "br", "input", "path", "line", "rect", "circle"}


class Page(HTMLParser):
    """Tags, attributes and text of a page; fails on a tag that is not closed in turn."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: Counter[str] = Counter()
        self.attributes: list[tuple[str, str, str]] = []
        self.words: list[str] = []
        self.ids: list[str] = []
        self.open: list[str] = []
        self.feed(text)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags[tag] += 1
        self.attributes += [(tag, name, value or "") for name, value in attrs]
        self.ids += [value or "" for name, value in attrs if name == "id"]
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags[tag] += 1
        self.attributes += [(tag, name, value or "") for name, value in attrs]

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if not self.open or self.open[-1] != "style":
            self.words.append(data)

    @property
    def text(self) -> str:
        return re.sub(r"\s+", " ", "".join(self.words))
