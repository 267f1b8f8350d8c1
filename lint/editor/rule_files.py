"""From a rule file to its first fault, completions and descriptions of words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from importlib.resources import files
from pathlib import Path
from typing import Final

from ..base.errors import AxisproofError
from ..catalogue.catalogue import ENDING, parse_texts, read_rule_text, shipped
from ..catalogue.vocabulary import type_words
from ..language.grammar import keywords
from ..language.library import FUNCTIONS, Function
from ..language.printing import formula
from ..language.record_types import RecordTypes
from ..language.syntax import (
    NO_RULES,
    SUBJECTS,
    Definition,
    RuleSet,
    Setting,
    Type,
    line_start,
    together,
)
from ..machine.schema import Field
from .diagnostics import Diagnostic, of_error
from .facts import CompletionChoice

MAX_FOLDER_FILES: Final = 200
"""Most rule files of one folder that are read together."""

MAX_FAULTS: Final = 5
"""Most faults of a folder's rules around which the others are read."""

_LEAST_SOUGHT: Final = 3
"""Letters of a word from which on it is sought in the meanings of facts."""

_STATEMENT: Final = re.compile(r"(?m)^(?:rule|define|setting)\b")
_WORD: Final = re.compile(r"[A-Za-z_][\w.-]*")
_TYPED_WORD: Final = re.compile(r"[A-Za-z_][\w.]*$")
_WORDS_OF: Final = re.compile(r"([\w.]+)\s+is\s+(?:not\s+)?(?:one\s+of\s+\[[^\]]*)?\w*$")
_INCLUDED: Final = re.compile(r"([\w.]+)\s+includes\s+\w*$")
_IN_SET: Final = re.compile(r"\b(?:any|all|none)\s+of\s+([\w.]+)\s+in\s+\[[^\]]*$")
_LOOP: Final = re.compile(r"\b([a-z_]\w*)\s+in\s+([a-z_][\w.]*)")
_LET: Final = re.compile(r"\blet\s+([a-z_]\w*)")
_EACH: Final = re.compile(r"\beach\s+(\w+)(?:\s+with\s+(\w+)\s+where)?")


@dataclass(frozen=True)
class RuleText:
    """A rule file as the editor holds it, with the rules around it.

    ``fault`` is the first fault of the rules in its folder. While there is a fault, ``rules`` are
    the shipped rules and those of the folder that can be read without it.
    """

    path: Path
    fault: Diagnostic | None
    rules: RuleSet


def read_rule_file(path: Path, texts: Mapping[Path, str], last: RuleText | None = None) -> RuleText:
    """Check a rule file with the other rule files of its folder; never raises for input.

    ``last`` is what was found before; its rules serve where nothing can be read.
    """
    own = path.parent.resolve() == Path(str(files("axisproof.rules"))).resolve()
    base, read_texts = NO_RULES, dict[str, str]()
    try:
        base = NO_RULES if own else shipped().trees
        folder_files = sorted(path.parent.glob(f"*{ENDING}"))
        if path not in folder_files or len(folder_files) > MAX_FOLDER_FILES:
            folder_files = [path]
        known = {file.resolve(): text for file, text in texts.items()}
        read_texts = {
            file.as_posix(): known.get(file.resolve()) or read_rule_text(file)
            for file in folder_files
        }
        found = parse_texts(read_texts, base)
    except AxisproofError as error:
        readable = _readable(read_texts, base, error)
        before = last.rules if last else base
        rules = before if readable is None else together(base, readable)
        return RuleText(path, of_error(error, path), rules)
    return RuleText(path, None, together(base, found))


def _readable(
    texts: Mapping[str, str], base: RuleSet, fault: AxisproofError | None
) -> RuleSet | None:
    """The rules of texts without each statement that has a fault; None if that does not help."""
    left = dict(texts)
    for _ in range(MAX_FAULTS):
        place = fault.place if fault else None
        if place is None or place.file not in left:
            return None
        shorter = _without_statement(left[place.file], place.line)
        if shorter is None:
            return None
        left[place.file] = shorter
        try:
            return parse_texts(left, base)
        except AxisproofError as error:
            fault = error
    return None


def _without_statement(text: str, line: int) -> str | None:
    """The text with blank lines in place of the statement at a line; None if there is none."""
    lines = text.split("\n")
    starts = [number for number, each in enumerate(lines) if _STATEMENT.match(each)]
    start = max((number for number in starts if number < line), default=None)
    if start is None:
        return None
    end = next((number for number in starts if number > start), len(lines))
    return "\n".join([*lines[:start], *[""] * (end - start), *lines[end:]])


def rule_choices(
    rules: RuleText, text: str, offset: int
) -> tuple[tuple[CompletionChoice, ...], int]:
    """The completions at an offset, and how many characters before it they replace."""
    before = text[:offset]
    words = _WORDS_OF.search(before) or _INCLUDED.search(before) or _IN_SET.search(before)
    scope = _NamesInScope(rules.rules, text, offset)
    if words:
        typed = re.search(r"\w*$", before)
        type_ = scope.type_of(words[1])
        if type_ is not None and type_.kind == "list" and type_.item:
            type_ = type_.item
        names = type_.names if type_ else ()
        if names:
            found = tuple(CompletionChoice(name, "word") for name in names)
            return found, len(typed[0]) if typed else 0
    match = _TYPED_WORD.search(before)
    word = match[0] if match else ""
    root, dot, _ = word.partition(".")
    record = scope.variables.get(root)
    if dot:
        return (scope.facts(root, record) if record else ()), len(word)
    return (*scope.names(), *scope.meant_by(word), *_functions(), *_keywords()), len(word)


def rule_hover(rules: RuleText, text: str, offset: int) -> str:
    """The description of the word at an offset, as Markdown; empty if there is none."""
    word = word_at(text, offset)
    if not word:
        return ""
    scope = _NamesInScope(rules.rules, text, offset)
    rule = next((each for each in rules.rules.rules if each.name == word), None)
    if rule is not None:
        return f"**{rule.name}** ({rule.level})\n\n{rule.title}"
    function = FUNCTIONS.get(word)
    if function is not None:
        return f"`{_signature(function)}`\n\n{function.formula}\n\nSource: {function.source}"
    setting = next((each for each in rules.rules.settings if each.name == word), None)
    if setting is not None:
        return _setting_hover(setting)
    return scope.path_hover(word.rstrip("."))


def word_at(text: str, offset: int) -> str:
    """The path or name at an offset; empty if there is none."""
    start = line_start(text, offset)
    end = text.find("\n", offset)
    line = text[start : end if end >= 0 else len(text)]
    for match in _WORD.finditer(line):
        if match.start() <= offset - start <= match.end():
            return match[0]
    return ""


class _NamesInScope:
    """The names at a place, and the records of its variables."""

    def __init__(self, rules: RuleSet, text: str, offset: int) -> None:
        self.rules = rules
        self.known = RecordTypes()
        start, end = 0, len(text)
        for match in _STATEMENT.finditer(text):
            if match.start() <= offset:
                start = match.start()
            else:
                end = match.start()
                break
        block = text[start:end]
        self.variables = {"axis": "axis", "machine": "machine"}
        each = _EACH.search(block)
        if each:
            self.variables |= SUBJECTS.get(each[1], {})
            if each[2]:
                self.variables[each[2]] = "axis"
        self.lets = list(dict.fromkeys(_LET.findall(block)))
        for name, path in _LOOP.findall(block):
            listed = self.type_of(path)
            if listed is not None and listed.item is not None and listed.item.record:
                self.variables[name] = listed.item.record

    def definition(self, record: str, name: str) -> Definition | None:
        """The definition of that name for a record."""
        found = (d for d in self.rules.definitions if (d.record, d.name) == (record, name))
        return next(found, None)

    def type_of(self, path: str) -> Type | None:
        """The type of a path that begins with a variable; None for an unknown path."""
        root, _, rest = path.partition(".")
        record = self.variables.get(root)
        if record is None or not rest:
            return None
        defined = self.definition(record, rest)
        if defined is not None:
            return defined.type
        return self.known.type_of(record, rest, root) if record in self.known.records else None

    def names(self) -> tuple[CompletionChoice, ...]:
        """Variables, values that are named here, and settings."""
        variables = [
            CompletionChoice(name, "keyword", f"a record: {record}")
            for name, record in self.variables.items()
        ]
        variables += [CompletionChoice(name, "value", "let") for name in self.lets]
        settings = [
            CompletionChoice(each.name, "setting", each.default_text, each.meaning)
            for each in self.rules.settings
        ]
        return (*variables, *settings)

    def facts(self, root: str, record: str) -> tuple[CompletionChoice, ...]:
        """Facts and definitions of a record, after a variable."""
        found = []
        for path in self.known.names(record) if record in self.known.records else ():
            type_ = self.known.type_of(record, path, root)
            assert type_ is not None
            field = self.field(record, path)
            meaning = field.description if field else ""
            found.append(CompletionChoice(f"{root}.{path}", "field", type_words(type_), meaning))
        for each in self.rules.definitions:
            if each.record == record:
                words = type_words(each.type, each.unit)
                found.append(CompletionChoice(f"{root}.{each.name}", "value", words, each.meaning))
        return tuple(found)

    def meant_by(self, word: str) -> list[CompletionChoice]:
        """Facts and definitions of the subjects whose meaning holds a word, such as gravity."""
        if len(word) < _LEAST_SOUGHT:
            return []
        return [
            replace(each, sought=f"{word} {each.text}")
            for root, record in self.variables.items()
            for each in self.facts(root, record)
            if word.casefold() in each.meaning.casefold()
        ]

    def field(self, record: str, path: str) -> Field | None:
        """The schema's field of a fact."""
        return self.known.records[record].get(path) if record in self.known.records else None

    def path_hover(self, word: str) -> str:
        """The description of a fact or definition."""
        root, _, path = word.partition(".")
        record = self.variables.get(root)
        type_ = self.type_of(word)
        if record is None or type_ is None:
            return ""
        defined = self.definition(record, path)
        if defined is not None:
            words = type_words(type_, defined.unit)
            return (
                f"**{word}**: {words}\n\n{defined.meaning}\n\n`{formula(defined.expr)}`\n\n"
                f"Basis: {defined.basis}"
            )
        field = self.field(record, path)
        meaning = field.description if field else ""
        return f"**{word}**: {type_words(type_)}\n\n{meaning}"


def _signature(function: Function) -> str:
    return f"{function.name}({', '.join(name for name, _ in function.parameters)})"


def _functions() -> list[CompletionChoice]:
    return [
        CompletionChoice(each.name, "function", _signature(each), each.formula)
        for each in FUNCTIONS.values()
    ]


def _keywords() -> list[CompletionChoice]:
    return [CompletionChoice(word, "keyword") for word in sorted(keywords())]


def _setting_hover(setting: Setting) -> str:
    return (
        f"**{setting.name}**: a setting, {setting.default_text} unless a site changes it\n\n"
        f"{setting.meaning}\n\nBasis: {setting.basis}"
    )
