"""Writes rules/compiled.* from the shipped rule text, and schemas/compiled.py from the schema.

``python -m axisproof.catalogue.build`` after any change under rules/, to the compiler or to the
schema of machines;
``--check`` (in CI) only says whether they are current.
"""

from __future__ import annotations

import json
import sys
from importlib import resources
from pathlib import Path

from ..base.package_data import fingerprint, read_text
from ..base.safe_write import write_file
from ..language.compiler import generate, load, rule_function_name
from ..language.helpers import HELPERS
from ..language.store import to_plain
from ..language.syntax import without_examples
from ..machine.schema import machine_plan
from .catalogue import digest, entry_of, parse_texts, shipped_texts

_HEADER = '''"""Generated from rule text by `python -m axisproof.catalogue.build`. Do not edit."""

# ruff: noqa
# mypy: ignore-errors

from axisproof.base.absence import NONE
from axisproof.language.helpers import HELPERS
from axisproof.numbers.quantity import Pi
from axisproof.numbers.rational import Fraction

'''
_SCHEMA_HEADER = '''"""Generated from the schema by `axisproof.catalogue.build`. Do not edit."""

# fmt: off
# ruff: noqa

'''


def render() -> dict[str, str]:
    """The contents of the generated files by folder and name."""
    texts = shipped_texts()
    trees = parse_texts(texts)
    source = generate(trees, trees.settings)
    namespace = load(source, {})
    seal = digest(texts)
    names = [n for n in HELPERS if n not in ("NONE", "Pi", "Fraction") and f"{n}(" in source]
    imports = "".join(f"{name} = HELPERS[{name!r}]\n" for name in names)
    entries = []
    for rule in trees.rules:
        e = entry_of(rule, namespace)
        function = rule_function_name(rule.name)
        entries.append(f"    {(e.name, e.level, e.subject, e.join, e.arguments, function)!r},\n")
    module = (
        f"{_HEADER}DIGEST = {seal!r}\nENTRIES = (\n{''.join(entries)})\n\n{imports}\n\n{source}"
    )
    return {
        "rules/compiled.py": module,
        "rules/compiled.json": _stored(seal, without_examples(trees)),
        "rules/compiled_examples.json": _stored(seal, trees.examples),
        "schemas/compiled.py": _schema_module(),
    }


def _stored(seal: str, value: object) -> str:
    data = {"digest": seal, "stored": to_plain(value)}
    return json.dumps(data, ensure_ascii=False, separators=(",", ":")) + "\n"


def _schema_module() -> str:
    """The plan of the machine's type as a module of one constant."""
    from pprint import pformat

    seal = fingerprint([read_text("axisproof.schemas", "machine.schema.json")])
    plan = pformat(machine_plan(), indent=1, width=140)
    return f"{_SCHEMA_HEADER}SEAL = {seal!r}\nMACHINE = {plan}\n"


def main(argv: list[str]) -> int:
    """Write the files, or with ``--check`` compare them; 1 if they differ."""
    stale = []
    for name, text in render().items():
        folder, file = name.split("/")
        path = Path(str(resources.files(f"axisproof.{folder}"))) / file
        if path.exists() and path.read_text("utf-8") == text:
            continue
        stale.append(name)
        if "--check" not in argv:
            write_file(path, text, force=True)
    if stale and "--check" in argv:
        print(f"{' and '.join(stale)} not made from the present rules and schema")
        return 1
    print("generated files are current" if not stale else f"wrote {', '.join(stale)}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
