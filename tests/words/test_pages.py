"""README, guide and the page on the rule language are written for people."""

from __future__ import annotations

import re

import pytest
from axisproof.authoring.guide import guide_pages

from .measuring import DESCRIBES, ROOT, Offence, offences

TEXTS = {
    "README": (ROOT / "README.md").read_text("utf-8"),
    **{page.name: page.text for page in guide_pages()},
}
_FENCE = re.compile(r"(?ms)^```.*?^```$")
_LINK = re.compile(r"!?\[([^\]]*)\]\([^)]*\)")


def paragraphs(text: str) -> list[str]:
    """The prose of a page: headings, paragraphs, list items and cells, without code."""
    found = []
    for block in re.split(r"\n\s*\n", _FENCE.sub("", re.sub(r"<!--.*?-->", "", text))):
        lines = block.splitlines()
        if not lines or all(line.startswith("    ") for line in lines):
            continue
        if lines[0].startswith("|"):
            found += [cell.strip() for line in lines for cell in line.split("|")]
            continue
        found += [line.lstrip("# ") for line in lines if line.startswith("#")]
        flat = " ".join(line.strip() for line in lines if not line.startswith("#"))
        found += re.split(r"(?:^| )- (?=\S)", flat)
    return [_LINK.sub(r"\1", re.sub(r"\*+", "", each)) for each in found if each.strip("-: ")]


def found_in(name: str) -> list[Offence]:
    return [each for part in paragraphs(TEXTS[name]) for each in offences(name, part, DESCRIBES)]


@pytest.mark.parametrize("name", TEXTS)
def test_pages_are_written_for_people(name: str) -> None:
    offenders = found_in(name)
    told = "\n".join(f"{each.what}: {each.text}" for each in offenders)
    assert offenders == [], told


def test_prose_is_told_from_code() -> None:
    text = "# A b\n\nOne; two.\n\n    code; x\n\n```text\na; b\n```\n\n- item; x\n- y\n\n| c; d |\n"
    told = [part.strip() for part in paragraphs(text)]
    assert told == ["A b", "One; two.", "item; x", "y", "c; d"]


def test_there_are_pages() -> None:
    assert len(TEXTS) >= 13
    assert all(len(paragraphs(text)) >= 2 for text in TEXTS.values())
