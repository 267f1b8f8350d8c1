"""Which rules apply: the shipped ones as generated code, site rules compiled on the spot.

A run that finds nothing needs only the generated functions. The checked trees (for messages,
workings and `explain`) are read when first asked for: from the stored data if it was made from
the present rule text, else by parsing the text.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping, Sequence
from functools import cached_property, lru_cache
from pathlib import Path

from ..base.errors import Place, RuleError, UsageError
from ..base.generated import belongs
from ..base.lazy import dataclass, field
from ..base.package_data import fingerprint, names, read_text
from ..language import LANGUAGE_VERSION
from ..language.plain_ranges import key_functions
from ..machine.schema import schema_fingerprint
from ..source.reader import DISK, Reader

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final

    from ..language.missing_facts import MissingFacts
    from ..language.plain_ranges import PlainRange
    from ..language.rule_file import RuleFile
    from ..language.syntax import Definition, Example, Expr, Rule, RuleSet, Setting

ENDING: Final = ".rules"


@dataclass(frozen=True, slots=True)
class RunnableRule:
    """A rule as the engine runs it.

    ``range`` is what it ranges over beside its subject (see ranges.py); ``arguments`` are the
    subjects the function takes, in order; ``functions`` give the definitions it is matched on.
    """

    name: str
    level: str
    subject: str
    range: PlainRange | None
    arguments: tuple[str, ...]
    function: Callable[..., int | None]
    functions: Mapping[str, Callable[[Any], Any]] = field(default_factory=dict)


@dataclass(frozen=True, eq=False)
class Catalogue:
    """The rules of a run. ``texts`` are the rule files by the name they are shown under."""

    entries: tuple[RunnableRule, ...]
    texts: dict[str, str]
    load_trees: Callable[[], RuleSet] = field(repr=False)
    load_examples: Callable[[], Mapping[str, tuple[Example, ...]]] = field(repr=False)
    own_steps: Mapping[str, int] = field(default_factory=dict)
    """What one evaluation of each rule and definition of the site costs, by what it is called."""
    functions: Mapping[str, Any] = field(default_factory=dict, repr=False)
    """The generated functions, those of definitions among them, by their Python names."""

    @cached_property
    def trees(self) -> RuleSet:
        """All rules, definitions and settings as checked trees, without the examples."""
        return self.load_trees()

    @cached_property
    def examples(self) -> Mapping[str, tuple[Example, ...]]:
        """The examples of each rule, by its name."""
        return self.load_examples()

    @cached_property
    def rules(self) -> dict[str, Rule]:
        """Rules by name."""
        return {rule.name: rule for rule in self.trees.rules}

    @cached_property
    def definitions(self) -> dict[tuple[str, str], Definition]:
        """Definitions by record and name."""
        return {(d.record, d.name): d for d in self.trees.definitions}

    @cached_property
    def settings(self) -> dict[str, Setting]:
        """Settings by name."""
        return {setting.name: setting for setting in self.trees.settings}

    @cached_property
    def defaults(self) -> dict[str, Expr]:
        """Default values of all settings."""
        return {name: setting.default for name, setting in self.settings.items()}

    @cached_property
    def own_files(self) -> frozenset[str]:
        """The names of a site's own rule files."""
        return frozenset(self.texts.keys() - shipped_texts().keys())

    @cached_property
    def missing_facts(self) -> MissingFacts:
        """What gives the facts that undecided cases of these rules lack."""
        from ..language.missing_facts import MissingFacts

        return MissingFacts(self.definitions, self.defaults)


@lru_cache(maxsize=1)
def shipped_texts() -> dict[str, str]:
    """The shipped rule files by name, in name order."""
    found = (name for name in names("axisproof.rules") if name.endswith(ENDING))
    return {name: read_text("axisproof.rules", name) for name in found}


def digest(texts: dict[str, str]) -> str:
    """A fingerprint of rule texts and of the schema, which says what facts rules may name.

    Generated code and stored trees are filed under it.
    """
    parts = [f"language {LANGUAGE_VERSION}, schema {schema_fingerprint()}\n"]
    for name, text in texts.items():
        parts += (f"{name} {len(text)}\n", text)
    return fingerprint(parts)


@lru_cache(maxsize=1)
def shipped() -> Catalogue:
    """The shipped rules.

    Raises RuleError if the rule text was edited and no longer checks.
    """
    texts = shipped_texts()
    try:
        __import__("axisproof.rules.compiled")
    except (ImportError, LookupError):  # no build, or one of code that had other helpers
        return from_texts(texts)
    compiled = sys.modules["axisproof.rules.compiled"]
    if not belongs(compiled.DIGEST, digest(texts)):
        return from_texts(texts)
    entries = tuple(
        RunnableRule(
            name,
            level,
            subject,
            ranged,
            arguments,
            getattr(compiled, function),
            key_functions(ranged, vars(compiled)),
        )
        for name, level, subject, ranged, arguments, function in compiled.ENTRIES
    )
    return Catalogue(entries, texts, _stored_trees, _stored_examples, functions=vars(compiled))


def _stored_trees() -> RuleSet:
    from ..language.syntax import without_examples

    trees: RuleSet | None = _stored("compiled.json")
    return without_examples(parse_texts(shipped_texts())) if trees is None else trees


def _stored_examples() -> Mapping[str, tuple[Example, ...]]:
    examples: Mapping[str, tuple[Example, ...]] | None = _stored("compiled_examples.json")
    return parse_texts(shipped_texts()).examples if examples is None else examples


def _stored(name: str) -> Any:
    """What a generated file of the rules holds; None without one made from these rules."""
    import json

    from ..language.store import from_plain

    try:
        stored = json.loads(read_text("axisproof.rules", name))
    except FileNotFoundError:
        return None
    current = belongs(stored["digest"], digest(shipped_texts()))
    return from_plain(stored["stored"]) if current else None


def parse_texts(texts: dict[str, str], base: RuleSet | None = None) -> RuleSet:
    """Parse and check rule texts together, on top of ``base``."""
    from ..language.checker import check_rules
    from ..language.parser import parse_rules
    from ..language.rule_file import RuleFile

    return check_rules([parse_rules(RuleFile(n, t)) for n, t in texts.items()], base)


def from_texts(texts: dict[str, str], base: Catalogue | None = None) -> Catalogue:
    """Parse, check and compile rule texts, on top of the rules of ``base``.

    Raises RuleError for the first fault in them.
    """
    from ..language.compiler import generate, load
    from ..language.syntax import NO_RULES, together, without_examples

    known = base.trees if base else NO_RULES
    own = parse_texts(texts, known)
    merged = without_examples(together(known, own))
    namespace = load(generate(own, merged.settings, known.definitions))
    if base:
        _add_definitions(namespace, known, own, base.functions)
    known_definitions = {(d.record, d.name): d for d in merged.definitions}
    entries = tuple(entry_of(rule, namespace, known_definitions) for rule in own.rules)
    if base is None:
        return Catalogue(
            entries, dict(texts), lambda: merged, lambda: own.examples, functions=namespace
        )
    return Catalogue(
        (*base.entries, *entries),
        {**base.texts, **texts},
        lambda: merged,
        lambda: {**base.examples, **own.examples},
        own.steps,
        namespace,
    )


def _add_definitions(
    namespace: dict[str, Any], known: RuleSet, own: RuleSet, functions: Mapping[str, Any]
) -> None:
    """Add the functions of ``known`` definitions to those generated from a site's rules.

    They do not depend on the site: its settings and definitions have names of their own.
    """
    from ..language.compiler import definition_function_name

    names = {definition_function_name(d.record, d.name) for d in known.definitions}
    clash = names & {definition_function_name(d.record, d.name) for d in own.definitions}
    assert not clash, clash
    namespace.update((name, functions[name]) for name in names)


def entry_of(
    rule: Rule,
    namespace: dict[str, Any],
    definitions: Mapping[tuple[str, str], Definition],
) -> RunnableRule:
    """The entry of a rule whose function is in ``namespace``."""
    from ..language.compiler import rule_function_name
    from ..language.ranges import plain_range
    from ..language.syntax import subjects_of

    ranged = plain_range(rule.range, definitions)
    return RunnableRule(
        rule.name,
        rule.level,
        rule.subject,
        ranged,
        subjects_of(rule),
        namespace[rule_function_name(rule.name)],
        key_functions(ranged, namespace),
    )


def catalogue(rules: Sequence[Path] = (), reader: Reader = DISK) -> Catalogue:
    """The shipped rules and those in ``rules`` (files or folders of ``*.rules``)."""
    if not rules:
        return shipped()
    known = shipped()
    # A site's file may bear the name of a shipped one; both texts are needed, to tell about rules.
    return with_texts(
        {
            f"./{name}" if name in known.texts else name: text
            for name, text in read_rule_files(rules, reader).items()
        }
    )


def with_texts(texts: dict[str, str]) -> Catalogue:
    """The shipped rules and those in the texts of a site's rule files."""
    return from_texts(texts, shipped()) if texts else shipped()


def own_texts(catalogue: Catalogue) -> dict[str, str]:
    """The texts of a site's rule files in a catalogue, as ``with_texts`` takes them."""
    known = shipped().texts
    return {name: text for name, text in catalogue.texts.items() if name not in known}


MAX_RULE_FILES: Final = 1000

MAX_RULES_TEXT: Final = 1 << 20
"""Most characters of a site's rule files together; to read so many takes up to a minute.

The shipped ones have less, examples included.
"""


def read_rule_files(paths: Sequence[Path], reader: Reader = DISK) -> dict[str, str]:
    """Rule texts by path as shown to the user.

    Raises UsageError for a path without rules and RuleError for a file that cannot be read.
    """
    found: dict[str, str] = {}
    for path in paths:
        shown = reader.name(path)
        if reader.is_folder(path):
            below = reader.files_below(path, lambda name: name.endswith(ENDING), hidden=True)
            files = [file for file in below if reader.kind(file) == "file"]
            if not files:
                raise UsageError(f"{shown} holds no rules", expected=f"files that end in {ENDING}")
        elif reader.kind(path) == "file":
            files = [path]
        else:
            reader.real(path)  # says what is wrong with a link
            is_there = reader.kind(path) is not None
            what = f"{shown} is no file" if is_there else f"{shown} does not exist"
            raise UsageError(what, expected="a rule file or folder")
        if len(files) + len(found) > MAX_RULE_FILES:
            raise UsageError(f"more than {MAX_RULE_FILES} rule files", expected="fewer")
        for file in files:
            found[reader.name(file)] = read_rule_text(file, reader)
            if sum(map(len, found.values())) > MAX_RULES_TEXT:
                what = f"the rule files hold more than {MAX_RULES_TEXT} characters together"
                raise UsageError(what, expected="fewer or smaller ones")
    return found


def read_rule_text(path: Path, reader: Reader = DISK) -> str:
    """The text of a rule file. Raises RuleError if it is unreadable, too large or not UTF-8."""
    from ..language.parser import MAX_RULE_BYTES

    name = reader.name(path)
    try:
        with reader.open(path) as stream:
            data = stream.read(MAX_RULE_BYTES + 1)
    except OSError as fault:
        raise RuleError(
            f"{name} cannot be read: {fault.strerror}", expected="a readable file"
        ) from None
    if len(data) > MAX_RULE_BYTES:
        raise RuleError(
            f"{name} is larger than {MAX_RULE_BYTES} bytes", expected="a smaller rule file"
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data.count(b"\n", 0, fault.start) + 1
        column = len(data[: fault.start].decode("utf-8-sig").rpartition("\n")[2]) + 1
        raise RuleError(
            f"the byte 0x{data[fault.start]:02X} is not UTF-8",
            expected="text in UTF-8",
            place=Place(name, line, column, line, column + 1),
        ) from None


def rule_file(catalogue: Catalogue, name: str) -> RuleFile:
    """The rule file a rule stands in."""
    from ..language.rule_file import RuleFile

    return RuleFile(name, catalogue.texts[name])
