"""The guide as pages beside those of the rules: HTML that loads nothing and runs no script."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import partial
from importlib.resources import files
from typing import Final

from ..base.version import tool_version
from .template import template_of

_COMMENT: Final = re.compile(r"<!--.*?-->", re.DOTALL)
_TOPIC: Final = re.compile(r"(<code>(?:axisproof guide )?)([a-z][a-z-]*)(</code>)")
PREFIX: Final = "guide-"


def render_guide(pages: Mapping[str, tuple[str, str]], index: str) -> dict[str, str]:
    """The pages by file name, of titles and Markdown by topic; ``index`` is the file above them.

    A topic that a page names in code is a link to its page.
    """
    from markdown_it import MarkdownIt
    from markupsafe import Markup

    style = Markup(files(__package__).joinpath("page.css").read_text("utf-8").strip())
    template = template_of("guide.html.jinja")
    reader = MarkdownIt("commonmark", {"html": False}).enable("table")
    made = {}
    for topic, (title, text) in pages.items():
        body = text.partition("\n")[2] if text.startswith("# ") else text
        html = reader.render(_COMMENT.sub("", body))
        others = {each: name for each, (name, _) in pages.items() if each != topic}
        html = _TOPIC.sub(partial(_linked, others), html)
        html = html.replace("<pre>", '<pre tabindex="0">')
        listed = [(each, file_of(each), name) for each, name in others.items()]
        made[file_of(topic)] = template.render(
            style=style,
            title=title,
            body=Markup(html),  # the reader escapes all HTML of the text
            listed=listed,
            index=index,
            version=tool_version(),
        )
    return made


def file_of(topic: str) -> str:
    """The file of a page."""
    return f"{PREFIX}{topic}.html"


def _linked(topics: Mapping[str, str], found: re.Match[str]) -> str:
    before, name, after = found.groups()
    if name not in topics:
        return found[0]
    return f'<a href="{file_of(name)}">{before}{name}{after}</a>'
