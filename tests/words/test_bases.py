"""A basis that cites a standard or a book names it, and says that its text was not at hand."""

from __future__ import annotations

import re

from axisproof.catalogue.catalogue import shipped
from axisproof.language.library import FUNCTIONS

from .measuring import DESCRIBES, offences

CITES = re.compile(r"\b(CiA|IEC|ISO|DIN|PLCopen|[Tt]extbooks?|Schröder|Decker)\b")
UNNAMED = re.compile(r"\b[Hh]andbooks?\b")


def test_a_cited_standard_or_handbook_is_from_memory() -> None:
    trees = shipped().trees
    told = [(rule.name, rule.basis) for rule in trees.rules]
    told += [(each.name, each.basis) for each in shipped().definitions.values() if each.basis]
    told += [(each.name, each.basis) for each in trees.settings]
    told += [(each.name, each.source) for each in FUNCTIONS.values()]
    cited = [(name, basis) for name, basis in told if CITES.search(str(basis))]
    assert len(cited) > 80
    assert [name for name, basis in cited if "from memory" not in str(basis)] == []
    assert [name for name, basis in told if UNNAMED.search(str(basis))] == []


def test_bases_and_meanings_are_written_for_people() -> None:
    trees = shipped().trees
    texts = [(f"{rule.file} {rule.name}", rule.basis) for rule in trees.rules]
    for each in (*trees.definitions, *trees.settings):
        texts += [(f"{each.file} {each.name}", part) for part in (each.meaning, each.basis) if part]
    assert len(texts) > 500
    wrong = [each for where, text in texts for each in offences(where, str(text), DESCRIBES)]
    told = "\n".join(f"{each.where}: {each.what}\n    {each.text}" for each in wrong)
    assert not wrong, f"\n{told}"
