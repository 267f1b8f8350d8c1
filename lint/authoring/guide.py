"""The pages of the guide: which there are, and their texts."""

from __future__ import annotations

from typing import Final, NamedTuple

from ..base.errors import UsageError
from ..base.package_data import names, read_text
from .fact_places import places_page

_ENDING: Final = ".md"

ORDER: Final = (
    "first",
    "reports",
    "site",
    "machine-file",
    "facts",
    "where",
    "shelf",
    "exports",
    "cookbook",
    "match",
    "swap",
    "changes",
    "corrections",
    "rules",
    "language",
    "editor",
    "ci",
    "many",
    "python",
    "trust",
    "measured",
)
"""The pages in the order in which a reader needs them; each other one comes after them."""


class GuidePage(NamedTuple):
    """A page: its name, its title, and its text in Markdown."""

    name: str
    title: str
    text: str


def guide_pages() -> tuple[GuidePage, ...]:
    """The pages of the guide in their order; ``language`` is the page on the rule language.

    ``where`` is made from the schema, the places of facts and the drawings of the page ``facts``.
    """
    found = {
        name.removesuffix(_ENDING): read_text("axisproof.guide", name)
        for name in names("axisproof.guide")
        if name.endswith(_ENDING)
    }
    found["language"] = read_text("axisproof.rules", "reference.md")
    found["where"] = places_page(found["facts"])
    rank = {name: number for number, name in enumerate(ORDER)}
    ordered = sorted(found, key=lambda name: (rank.get(name, len(rank)), name))
    return tuple(
        GuidePage(name, found[name].partition("\n")[0].removeprefix("# "), found[name])
        for name in ordered
    )


def guide_page(name: str) -> GuidePage:
    """One page of the guide. Raises UsageError if there is none of this name."""
    pages = guide_pages()
    for page in pages:
        if page.name == name:
            return page
    known = ", ".join(page.name for page in pages)
    raise UsageError(f"the guide has no page {name}", expected=f"one of {known}")
