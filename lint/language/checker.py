"""Names, types and dimensions of rules: raw trees in, checked rules out.

What the checker lets through can be evaluated without surprise: every path is a fact of the
machine schema or a definition, every sum adds like to like, every comparison is decidable in
principle. What it refuses is a RuleError with the place in the rule file.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from .check_definitions import DefinitionChecker, measure_definitions
from .check_examples import check_examples
from .check_follows import check_follows
from .check_names import Names
from .check_rule import RuleChecker
from .check_settings import check_setting
from .check_sizes import SizeChecker
from .check_texts import named_texts
from .expressions import expression_checker
from .rule_file import RawFile, RawItem, RuleFile
from .syntax import NO_RULES, Example, Rule, RuleSet


def check_rules(files: Sequence[RawFile], base: RuleSet | None = None) -> RuleSet:
    """Check rule files together, on top of the definitions and settings of ``base``.

    Raises RuleError for the first fault. The result holds only what ``files`` state.
    """
    base = base or NO_RULES
    names = Names(base)
    settings = [check_setting(names, file, item) for file, item in _items(files, "setting")]
    expressions = expression_checker(names)
    definer = DefinitionChecker(expressions)
    definitions = definer.bodies(
        [definer.header(file, item) for file, item in _items(files, "define")]
    )
    sizes = SizeChecker({(d.record, d.name): d for d in (*base.definitions, *definitions)})
    by_name = {raw.file.name: raw.file for raw in reversed(files)}
    measure_definitions(definitions, sizes, by_name.__getitem__)
    texts, known_texts = named_texts(
        base.texts, (*_items(files, "caution"), *_items(files, "remedy"))
    )
    checker = RuleChecker(
        expressions, sizes, known_texts, frozenset(rule.name for rule in base.rules)
    )
    rules: list[Rule] = []
    examples: dict[str, tuple[Example, ...]] = {}
    for file, item in _items(files, "rule"):
        rule, scope = checker.rule(file, item)
        examples[rule.name] = check_examples(expressions, file, item, scope)
        rules.append(rule)
    checker.references()
    check_follows(checker.follows, (*base.rules, *rules), (*base.definitions, *definitions))
    return RuleSet(
        tuple(rules), tuple(definitions), tuple(settings), examples, tuple(texts), sizes.steps
    )


def _items(files: Sequence[RawFile], word: str) -> Iterator[tuple[RuleFile, RawItem]]:
    return ((raw.file, item) for raw in files for item in raw.items if item.word == word)
