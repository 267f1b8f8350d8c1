"""Makes rules/compiled* from the shipped rule text, and schemas/compiled.py from the schema.

The build of the package writes them (.build/backend.py); nothing else does.
"""

from __future__ import annotations

import json
from typing import Any

from ..base.generated import code_in_use, seal_of
from ..language.compiler import generate, load, rule_function_name
from ..language.helpers import HELPERS
from ..language.store import to_plain
from ..language.syntax import RuleSet, without_examples
from ..machine.schema import Plan, machine_plan, schema_fingerprint
from .catalogue import digest, entry_of, parse_texts, shipped_texts

_HEADER = '''"""Generated from rule text by `axisproof.catalogue.build`. Do not edit."""

# ruff: noqa
# mypy: ignore-errors

from axisproof.base.absence import NONE
from axisproof.language.helpers import HELPERS
from axisproof.numbers.exact import Pi
from axisproof.numbers.rational import Fraction

'''
_SCHEMA_HEADER = '''"""Generated from the schema by `axisproof.catalogue.build`. Do not edit."""

# fmt: off
# ruff: noqa

'''


def render(*, for_checkout: bool = False) -> dict[str, str]:
    """The contents of the generated files by folder and name.

    Those for a checkout fit only the code that made them: somebody may edit that code there.
    """
    texts = shipped_texts()
    trees = parse_texts(texts)
    source = generate(trees, trees.settings)
    namespace = load(source)
    plan = machine_plan()
    makers = code_in_use() if for_checkout else ()
    seal = seal_of(digest(texts), makers)
    return {
        "rules/compiled.py": _rules_module(seal, trees, source, namespace),
        "rules/compiled.json": _stored(seal, without_examples(trees)),
        "rules/compiled_examples.json": _stored(seal, trees.examples),
        "schemas/compiled.py": _schema_module(seal_of(schema_fingerprint(), makers), plan),
    }


def _rules_module(seal: str, trees: RuleSet, source: str, namespace: dict[str, Any]) -> str:
    """The functions of all rules and definitions, and the list of the rules."""
    names = [n for n in HELPERS if n not in ("NONE", "Pi", "Fraction") and f"{n}(" in source]
    imports = "".join(f"{name} = HELPERS[{name!r}]\n" for name in names)
    definitions = {(d.record, d.name): d for d in trees.definitions}
    entries = []
    for rule in trees.rules:
        e = entry_of(rule, namespace, definitions)
        function = rule_function_name(rule.name)
        entries.append(f"    {(e.name, e.level, e.subject, e.range, e.arguments, function)!r},\n")
    listed = f"DIGEST = {seal!r}\nENTRIES = (\n{''.join(entries)})"
    return f"{_HEADER}{listed}\n\n{imports}\n\n{source}"


def _stored(seal: str, value: object) -> str:
    data = {"digest": seal, "stored": to_plain(value)}
    return json.dumps(data, ensure_ascii=False, separators=(",", ":")) + "\n"


def _schema_module(seal: str, plan: Plan) -> str:
    """The plan of the machine's type as a module of one constant."""
    from pprint import pformat

    written = pformat(plan, indent=1, width=140)
    return f"{_SCHEMA_HEADER}SEAL = {seal!r}\nMACHINE = {written}\n"
