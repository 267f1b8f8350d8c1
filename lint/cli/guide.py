"""The command that prints the guide."""

from __future__ import annotations

from typing import Any, Final

import click

from .console import options_for, print_text, write_utf8
from .options import width_option

_EXAMPLES: Final = """
\b
Examples:
  axisproof guide
  axisproof guide reports
  axisproof guide language
"""


def _topics(context: click.Context, parameter: click.Parameter, typed: str) -> list[Any]:
    """Complete the name of a page."""
    from click.shell_completion import CompletionItem

    from ..authoring.guide import guide_pages

    return [
        CompletionItem(page.name, help=page.title)
        for page in guide_pages()
        if page.name.startswith(typed)
    ]


@click.command("guide", epilog=_EXAMPLES)
@click.argument("topic", required=False, metavar="[TOPIC]", shell_complete=_topics)
@width_option
def guide(topic: str | None, width: int | None) -> None:
    """List the pages of the guide, or print one.

    TOPIC is the name of a page. A page is Markdown, to read as it stands.
    """
    from ..authoring.guide import guide_page, guide_pages

    if topic is not None:
        write_utf8(guide_page(topic).text)
        return
    lines = [f"  {page.name:14}{page.title}" for page in guide_pages()]
    text = "\n".join(("Pages of the guide", "", *lines, "", "`axisproof guide TOPIC` prints one."))
    print_text(text + "\n", options_for(width))


def register(group: click.Group) -> None:
    """Add the command to a group."""
    group.add_command(guide)
