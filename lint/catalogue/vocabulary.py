"""What a rule can name: facts, definitions, settings, functions; and names found by a word."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Sequence

from ..base.errors import UsageError
from ..findings.rule_info import NameInfo
from ..language.library import FUNCTIONS, Function, Shape
from ..language.record_types import RecordTypes
from ..language.syntax import RuleSet, Type
from ..machine.schema import Field
from ..numbers.dimensions import dim_words
from ..numbers.units import default_unit


def vocabulary(rules: RuleSet) -> tuple[NameInfo, ...]:
    """All that a rule can name, in the order of the schema; settings and functions last."""
    return (*_facts(rules), *_settings(rules), *map(function_info, FUNCTIONS.values()))


def names_for(words: Sequence[str], rules: RuleSet) -> tuple[NameInfo, ...]:
    """The names that go with words. Raises UsageError, with words that are close, for none."""
    names = vocabulary(rules)
    found = matching(names, words)
    if not found:
        close = nearest(names, words)
        hint = f"perhaps {' or '.join(close)}" if close else "one word of a name or its meaning"
        raise UsageError(f"no name of the rule language goes with {' '.join(words)}", expected=hint)
    return found


def matching(names: Sequence[NameInfo], words: Sequence[str]) -> tuple[NameInfo, ...]:
    """The names that each of the words belongs to, by name, kind or meaning.

    A name comes before one that only its meaning speaks for.
    """
    wanted = [word.casefold() for word in words]
    found = [each for each in names if all(word in _all_words(each) for word in wanted)]
    return tuple(sorted(found, key=lambda each: not all(w in each.name.casefold() for w in wanted)))


def nearest(names: Sequence[NameInfo], words: Sequence[str]) -> tuple[str, ...]:
    """Words of names and meanings that words which nothing bears may have been meant as."""
    known = {part for each in names for part in re.findall(r"[a-z]{3,}", _all_words(each))}
    found = (difflib.get_close_matches(word.casefold(), known, 2, 0.7) for word in words)
    return tuple(dict.fromkeys(each for close in found for each in close))


def _all_words(each: NameInfo) -> str:
    texts = (each.name, each.what, each.kind, each.of, each.meaning)
    whole = " ".join(texts)
    return f"{whole} {whole.replace('_', ' ')}".casefold()


def _facts(rules: RuleSet) -> Iterator[NameInfo]:
    known = RecordTypes()
    definitions: dict[str, list[NameInfo]] = {}
    for each in rules.definitions:
        info = NameInfo(
            f"{each.owner}.{each.name}",
            "definition",
            type_words(each.type, each.unit),
            each.meaning,
            f"{each.owner} in {each.list_path}" if each.list_path else "",
        )
        definitions.setdefault(each.record, []).append(info)
    for record, fields in known.records.items():
        of = ""
        variable = record
        if "." in record:
            variable = item_name(record)
            of = f"{variable} in {record}"
        for path in known.names(record):
            type_ = known.type_of(record, path, variable)
            assert type_ is not None
            yield fact_info(f"{variable}.{path}", type_, fields.get(path), of)
        yield from definitions.get(record, ())


def fact_info(name: str, type_: Type, field: Field | None, of: str = "") -> NameInfo:
    """A fact in words; ``of`` says which list it is of, if it is of the items of one."""
    meaning = field.description if field else ""
    meaning = meaning or _MEANINGS.get(name.partition(".")[2], "")
    return NameInfo(name, "fact", type_words(type_), meaning, of)


_MEANINGS = {
    "name": "What the machine or the axis is called.",
    "axes": "All axes of the machine.",
    "check_date": "The day of the check.",
    "homes_after": "The names of all axes that must be homed before this one, however indirectly.",
    "homes_after_stranger": "Whether it is homed after something that is no axis of the machine.",
    "followers_elsewhere": "Whom it names in a gantry that do not name it, or are no axis.",
}


def item_name(record: str) -> str:
    """A name for an item of a list, such as `stage` for `axis.mechanics.stages`."""
    last = record.rpartition(".")[2]
    for plural, single in (("ies", "y"), ("sses", "ss"), ("s", "")):
        if last.endswith(plural):
            return last.removesuffix(plural) + single
    return "item"


def _settings(rules: RuleSet) -> Iterator[NameInfo]:
    for each in rules.settings:
        kind = f"{type_words(each.default.type)}, {each.default_text} unless a site changes it"
        yield NameInfo(each.name, "setting", kind, each.meaning)


def function_info(function: Function) -> NameInfo:
    """A function in words."""
    arguments = ", ".join(name for name, _ in function.parameters)
    takes = ", ".join(f"{name}: {shape_words(shape)}" for name, shape in function.parameters)
    meaning = f"{function.formula} ({takes}). Source: {function.source}."
    name = f"{function.name}({arguments})"
    return NameInfo(name, "function", shape_words(function.result), meaning)


def shape_words(shape: Shape) -> str:
    """What a function takes or gives, in words."""
    if shape.kind != "number" or not shape.free:
        return type_words(Type(shape.kind, shape.dim))
    return f"any quantity, {dim_words(shape.dim)}" if shape.dim else "any quantity"


def type_words(type_: Type, unit: str = "") -> str:
    """The kind of a value and its unit."""
    if type_.kind == "list" and type_.item is not None:
        item = type_.item
        return "a list of records" if item.kind == "record" else f"a list, each {type_words(item)}"
    if type_.kind != "number":
        words = {
            "flag": "true or false",
            "name": f"one of {', '.join(type_.names)}",
            "method": "a homing method",
            "part": "a part that may be none",
        }
        return words.get(type_.kind, f"a {type_.kind}")
    if not type_.dim:
        return "a ratio (no unit)"
    if any(base.startswith("position") for base, _ in type_.dim):
        return f"{dim_words(type_.dim)}, in user units of the axis (mm or deg)"
    return f"{dim_words(type_.dim)}, in {unit or default_unit(type_.dim)}"
