"""Rules and settings as words for `explain` and `rules list`."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import PurePath
from typing import cast

from ..findings.builtin import BUILT_IN, STATEMENTS
from ..findings.finding import Level
from ..findings.rule_info import (
    DefinitionInfo,
    ExampleInfo,
    ExampleKind,
    RuleInfo,
    SettingInfo,
    SubjectKind,
)
from ..language.printing import formula
from ..language.syntax import (
    SUBJECTS,
    Definition,
    Example,
    Expr,
    Hole,
    Label,
    Rule,
    Setting,
    Template,
)
from .catalogue import Catalogue


def concern_of(file: str) -> str:
    """The concern of the rules in a file: its name in words, without the ending."""
    return PurePath(file).stem.replace("_", " ")


def concern_names(catalogue: Catalogue) -> dict[str, str]:
    """The concern of each rule, built-in checks among them."""
    names = {check.name: STATEMENTS for check in BUILT_IN}
    names.update((rule.name, concern_of(rule.file)) for rule in catalogue.rules.values())
    return names


def rule_info(catalogue: Catalogue, rule: Rule) -> RuleInfo:
    """A rule in words, with the settings it uses directly or through definitions."""
    lines = catalogue.texts[rule.file].splitlines()
    used = settings_used(catalogue, rule)
    return RuleInfo(
        rule.name,
        rule.title,
        cast(Level, rule.level),
        cast(SubjectKind, "pair" if rule.range and rule.subject == "axis" else rule.subject),
        rule.basis,
        "\n".join(lines[rule.at.line - 1 : rule.end_line]),
        template_text(rule.why, rule.labels),
        template_text(rule.remedy, rule.labels),
        formula(rule.when) if rule.when else "",
        requirement_text(rule),
        tuple(setting_info(catalogue.settings[name]) for name in used),
        tuple(example_info(lines, example) for example in catalogue.examples[rule.name]),
        rule.file,
        rule.at.line,
        tuple(template_text(text, rule.labels) for text in rule.caution_texts),
        concern_of(rule.file),
    )


def requirement_text(rule: Rule) -> str:
    """What a rule requires, and at which stage before it warns."""
    if rule.due is None:
        return formula(rule.require)
    _, early, _ = rule.require.kids
    return f"{formula(rule.due)}. It warns unless {formula(early)}"


def example_info(lines: list[str], example: Example) -> ExampleInfo:
    """An example as it stands in the lines of its file."""
    text = "\n".join(lines[example.at.line - 1 : example.at.end_line])
    return ExampleInfo(cast(ExampleKind, example.kind), example.title, text)


def template_text(template: Template, labels: Iterable[Label] = ()) -> str:
    """A message whose values are not known: the label of each, or three dots."""
    words = {label.name: f"({label.words})" for label in labels}

    def said(part: str | Hole) -> str:
        if isinstance(part, str):
            return part
        return words.get(part.expr.data[0], "…") if part.expr.op == "local" else "…"

    return "".join(map(said, template))


def expressions(rule: Rule) -> Iterable[Expr]:
    """Every expression of a rule."""
    if rule.when:
        yield rule.when
    for _, expr in rule.lets:
        yield expr
    yield rule.require
    if rule.range:
        from ..language.ranges import key_expressions

        yield from key_expressions(rule.range)
    for template in rule.messages:
        for part in template:
            if isinstance(part, Hole):
                yield part.expr
    if rule.fix:
        yield rule.fix.value
        if rule.fix.over:
            yield rule.fix.over


def _nodes(
    catalogue: Catalogue, start: Iterable[Expr], closed: Iterable[tuple[str, str]] = ()
) -> Iterable[Expr]:
    """Every node of expressions and of the definitions they use but ``closed``, each once."""
    seen = set(closed)
    pending = list(start)
    while pending:
        for node in pending.pop().walk():
            yield node
            if node.op == "derived":
                key = (node.data[2], node.data[1])
                if key not in seen:
                    seen.add(key)
                    pending.append(catalogue.definitions[key].expr)


def settings_used(catalogue: Catalogue, rule: Rule) -> list[str]:
    """Names of the settings that a rule's outcome or message depends on."""
    nodes = _nodes(catalogue, expressions(rule))
    return list(dict.fromkeys(node.data[0] for node in nodes if node.op == "setting"))


def definitions_used(
    catalogue: Catalogue, rule: Rule, *, pinned: bool = True
) -> list[tuple[str, str]]:
    """Keys (record, name) of the definitions a rule depends on, and those its examples pin."""
    examples = catalogue.examples[rule.name] if pinned else ()
    targets = (target for example in examples for _, target, _, _ in example.expected)
    nodes = _nodes(catalogue, (*expressions(rule), *targets))
    keys = ((node.data[2], node.data[1]) for node in nodes if node.op == "derived")
    return list(dict.fromkeys(keys))


def definition_info(definition: Definition) -> DefinitionInfo:
    """A definition in words."""
    return DefinitionInfo(
        f"{definition.record}.{definition.name}",
        formula(definition.expr),
        definition.meaning,
        definition.unit,
        definition.basis,
    )


def facts_named(catalogue: Catalogue, rule: Rule) -> list[tuple[str, str]]:
    """Variable and path of each fact that a rule names, itself or through definitions."""
    nodes = _nodes(catalogue, expressions(rule))
    found = (node.data[:2] for node in nodes if node.op == "fact")
    return list(dict.fromkeys((str(root), str(path)) for root, path in found))


def facts_read(
    catalogue: Catalogue, rule: Rule, closed: Iterable[tuple[str, str]] = ()
) -> frozenset[str]:
    """The facts of axes that a rule's outcome depends on, as paths within the axis.

    What it reads of the items of a list is the list. Definitions named in ``closed``, by record
    and name, are not looked into.
    """
    deciding = [expr for expr in (rule.when, rule.require) if expr is not None]
    deciding += [value for _, value in rule.lets]
    axes = {name for name, record in SUBJECTS[rule.subject].items() if record == "axis"} | {"axis"}
    return frozenset(
        node.data[1]
        for node in _nodes(catalogue, deciding, closed)
        if node.op == "fact" and node.data[0] in axes
    )


def setting_info(setting: Setting) -> SettingInfo:
    """A setting in words."""
    return SettingInfo(setting.name, setting.default_text, setting.meaning, setting.basis)


def built_in_info() -> list[RuleInfo]:
    """The checks the engine makes itself, in the form of rules."""
    return [
        RuleInfo(
            check.name,
            check.title,
            check.level,
            "axis",
            check.basis,
            "",
            check.why,
            check.remedy,
            check.condition,
            check.requirement,
            (),
            (),
            "built in",
            0,
            concern=STATEMENTS,
        )
        for check in BUILT_IN
    ]
