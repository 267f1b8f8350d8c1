"""From a word of the vocabulary to the facts that it names, and the rules that look at them."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator

from ..base.errors import UsageError
from ..catalogue.catalogue import Catalogue
from ..catalogue.describing import built_in_info, facts_read
from ..findings.rule_info import FactInfo, RuleInfo
from ..machine.field_paths import field_words
from ..machine.old_names import OLD_NAMES
from ..machine.schema import Field, Leaf, ListType, RecordType, axis_type, facts
from .concerns import with_finding


def explained(name: str, catalogue: Catalogue) -> RuleInfo | tuple[FactInfo, ...]:
    """One rule in words, or the facts that a name or a word of the vocabulary stands for.

    Raises UsageError, with a suggestion, for a name that nothing has.
    """
    if name in catalogue.rules:
        return with_finding(catalogue, catalogue.rules[name])
    built_in = {info.name: info for info in built_in_info()}
    if name in built_in:
        return built_in[name]
    facts = facts_called(name, catalogue)
    if not facts:
        last = name.rpartition(".")[2]
        if last in OLD_NAMES:
            what = f"{name} has another name now"
            raise UsageError(what, expected=f"`axisproof explain {OLD_NAMES[last]}`")
        close = difflib.get_close_matches(name, (*catalogue.rules, *built_in), 1, 0.5)
        hint = f"did you mean {close[0]}?" if close else "a name that `rules list` shows"
        raise UsageError(f"there is no rule, fact or word {name}", expected=hint)
    return facts


def facts_called(name: str, catalogue: Catalogue) -> tuple[FactInfo, ...]:
    """The facts of an axis whose path is, or ends with, a name; else those that take it as a word.

    Blanks and hyphens stand for underscores, and a path may begin at the machine.
    """
    asked = re.sub(r"[ -]+", "_", name.strip().lower())
    asked = re.sub(r"^(axes\.[^.]+|axis)\.", "", asked)
    known = dict(_all_facts(axis_type(), ""))
    named = [path for path in known if asked and f".{path}".endswith(f".{asked}")]
    word = ""
    if not named:
        word = asked
        named = [path for path, field in known.items() if word in _words(field)]
    readers = _readers(catalogue) if named else {}
    return tuple(
        FactInfo(
            path,
            field_words(known[path]),
            known[path].description,
            tuple(rule for rule, read in readers.items() if _reads(read, path)),
            word,
        )
        for path in named
    )


def _all_facts(record: RecordType, start: str) -> Iterator[tuple[str, Field]]:
    """The facts of a record and of the items of its lists."""
    for path, field in facts(record).items():
        yield start + path, field
        if isinstance(field.type, ListType) and isinstance(field.type.item, RecordType):
            yield from _all_facts(field.type.item, f"{start}{path}.")


def _words(field: Field) -> tuple[str, ...]:
    leaf = field.type.item if isinstance(field.type, ListType) else field.type
    return tuple(leaf.names) if isinstance(leaf, Leaf) else ()


def _readers(catalogue: Catalogue) -> dict[str, frozenset[str]]:
    return {name: facts_read(catalogue, rule) for name, rule in catalogue.rules.items()}


def _reads(read: frozenset[str], path: str) -> bool:
    """Whether a rule reads a fact, or the list that the fact is of an item of."""
    return any(path == each or path.startswith(f"{each}.") for each in read)
