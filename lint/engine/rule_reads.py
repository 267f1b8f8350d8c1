"""Which facts each rule may read."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from ..catalogue.catalogue import Catalogue
from ..language.reach import Reach, Reaches, reach


@lru_cache(maxsize=2)
def rule_reads(catalogue: Catalogue) -> Mapping[str, Reach]:
    """The facts that every rule may read, by its name: of each fact the root and the path."""
    known: Reaches = {}
    found = {}
    for rule in catalogue.rules.values():
        parts = [rule.require, *(value for _, value in rule.lets)]
        parts += [] if rule.when is None else [rule.when]
        facts = (reach(each, catalogue.definitions, known) for each in parts)
        found[rule.name] = tuple(dict.fromkeys(fact for each in facts for fact in each))
    return found
