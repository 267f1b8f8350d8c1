"""Generated files: what they hold, when they are used, and that only a build writes them."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from axisproof.catalogue import build
from axisproof.catalogue.catalogue import digest
from axisproof.machine.schema import machine_plan, schema_fingerprint

from tests.language.evaluating import rule_text
from tests.language.random_rules import BEFORE

ROOT = Path(__file__).parents[2]
RULES_FILES = ("compiled.json", "compiled.py", "compiled_examples.json")
FILES = [*(f"rules/{name}" for name in RULES_FILES), "schemas/compiled.py"]
RULE = rule_text("axis.drive.node = 1", before=BEFORE)


# What they hold ---------------------------------------------------------------------------------


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    """The generated files of one rule in place of the shipped ones."""
    monkeypatch.setattr(build, "shipped_texts", lambda: {"a.rules": RULE})
    return build.render()


def run(text: str) -> dict[str, Any]:
    namespace: dict[str, Any] = {}
    exec(compile(text, "compiled.py", "exec"), namespace)
    return namespace


def test_the_generated_module_runs_on_its_own(made: dict[str, str]) -> None:
    namespace = run(made["rules/compiled.py"])
    (entry,) = namespace["ENTRIES"]
    name, level, subject, join, arguments, function = entry
    assert (name, level, subject, join) == ("the-rule", "error", "axis", None)
    assert arguments == ("axis", "machine")
    assert namespace[function]({"drive.node": 1}, {}) == 1
    assert namespace[function]({"drive.node": 2}, {}) == 0
    assert namespace[function]({}, {}) is None
    assert namespace["DIGEST"] == digest(build.shipped_texts())


def test_the_schema_module_holds_the_plan_of_the_published_schema(made: dict[str, str]) -> None:
    namespace = run(made["schemas/compiled.py"])
    assert namespace["MACHINE"] == machine_plan()
    assert namespace["SEAL"] == schema_fingerprint()


def test_every_file_has_a_seal_of_its_own(made: dict[str, str]) -> None:
    assert sorted(made) == FILES
    for name in ("rules/compiled.json", "rules/compiled_examples.json"):
        assert json.loads(made[name])["digest"] == digest({"a.rules": RULE})


def test_the_build_gives_the_same_bytes_each_time(made: dict[str, str]) -> None:
    assert build.render() == made


CLEAN = """
import importlib.util, sys
spec = importlib.util.spec_from_file_location("axisproof.rules.compiled", {module!r})
module = importlib.util.module_from_spec(spec)
spec.loader.exec_module(module)
sys.modules["axisproof.rules.compiled"] = module
from axisproof import api
report = api.check([{path!r}])
assert report.findings == () and report.undecided == (), report.findings + report.undecided
assert report.tallies and sum(t.holds for t in report.tallies) > 50
heavy = {{"lark", "jsonschema", "rich", "axisproof.language.parser", "axisproof.language.checker",
         "axisproof.language.tracer"}}
print(sorted(heavy & set(sys.modules)))
"""


def test_a_clean_check_loads_neither_parser_nor_schema_library_nor_tracer(tmp_path: Path) -> None:
    # Made here, so that the test says the same in a checkout without a build.
    module_file = tmp_path / "compiled.py"
    module_file.write_text(build.render()["rules/compiled.py"], "utf-8")
    code = CLEAN.format(module=str(module_file), path=str(ROOT / "fixtures" / "sound"))
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert done.stdout == "[]\n"


# When they are used -----------------------------------------------------------------------------


START = """
import sys
# The finder of an editable install would look for what is not here in the checkout of the tests.
sys.meta_path[:] = [each for each in sys.meta_path if "editable" not in each.__module__]
import generated_files
generated_files.import_axisproof()
"""


class Tree:
    """A source tree with one rule, as somebody has it who works on axisproof."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        skipped = shutil.ignore_patterns("__pycache__", "compiled*")
        for name in (".build", "lint", "schemas"):
            shutil.copytree(ROOT / name, folder / name, ignore=skipped)
        (folder / "rules").mkdir()
        shutil.copy(ROOT / "rules" / "__init__.py", folder / "rules")
        (folder / "rules" / "a.rules").write_text(RULE, "utf-8")

    def build(self) -> None:
        self.python("generated_files.write_into_checkout()")

    def edit(self, name: str, old: str, new: str) -> None:
        path = self.folder / name
        text = path.read_text("utf-8")
        assert old in text
        path.write_text(text.replace(old, new), "utf-8")

    def python(self, code: str) -> str:
        done = subprocess.run(
            [sys.executable, "-c", START + code],
            cwd=self.folder / ".build",
            env={k: v for k, v in os.environ.items() if k != "PYTHONPYCACHEPREFIX"},
            capture_output=True,
            text=True,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout.strip()

    def used(self) -> dict[str, bool]:
        """Which generated files this tree uses, and the level of its one rule."""
        told: dict[str, bool] = json.loads(self.python(USED))
        return told

    def files(self) -> list[str]:
        return sorted(
            path.relative_to(self.folder).as_posix()
            for path in self.folder.rglob("*")
            if path.is_file() and path.suffix != ".pyc"
        )


USED = """
import json
from axisproof.catalogue import catalogue
from axisproof.machine import schema
planned, real = [], schema.machine_plan
schema.machine_plan = lambda: planned.append(1) or real()
schema.machine_type()
found = catalogue.shipped()
stored = [catalogue._stored(name) for name in ("compiled.json", "compiled_examples.json")]
print(json.dumps({
    "code": found.entries[0].function.__module__ == "axisproof.rules.compiled",
    "trees": stored[0] is not None,
    "examples": stored[1] is not None,
    "schema": not planned,
    "level": found.entries[0].level,
    "same": found.trees.rules[0].level == found.entries[0].level,
}))
"""
CURRENT = {"code": True, "trees": True, "examples": True, "schema": True}
NONE = dict.fromkeys(CURRENT, False)
TOLD = {"level": "error", "same": True}


@pytest.fixture
def tree(tmp_path: Path) -> Tree:
    return Tree(tmp_path)


def test_a_build_is_used_until_a_rule_is_edited_and_then_at_once_no_more(tree: Tree) -> None:
    tree.build()
    assert tree.used() == {**CURRENT, **TOLD}
    tree.edit("rules/a.rules", "error", "note")
    assert tree.used() == {**NONE, "schema": True, "level": "note", "same": True}
    tree.build()
    assert tree.used() == {**CURRENT, "level": "note", "same": True}


def test_a_build_for_another_schema_is_not_used(tree: Tree) -> None:
    tree.build()
    tree.edit("schemas/machine.schema.json", "Name of the machine.", "Name of a machine.")
    assert tree.used() == {**NONE, **TOLD}


def test_a_build_in_a_checkout_is_not_used_with_other_code_than_made_it(tree: Tree) -> None:
    tree.build()
    first = "from __future__ import annotations"
    tree.edit("lint/report/text.py", first, f"{first}  # has no part in the build")
    assert tree.used() == {**CURRENT, **TOLD}
    tree.edit("lint/language/compiler.py", first, f"{first}  # has")
    assert tree.used() == {**NONE, **TOLD}


def test_a_build_that_asks_for_a_helper_that_is_gone_is_not_used(tree: Tree) -> None:
    tree.build()
    tree.edit("rules/compiled.py", "\nENTRIES", "\nHELPERS['one that is gone']\nENTRIES")
    assert tree.used() == {**CURRENT, "code": False, **TOLD}


def test_code_that_is_gone_or_a_grammar_that_is_edited_ends_the_use_too(tree: Tree) -> None:
    tree.build()
    made_by = tree.python("import axisproof.rules.compiled as made; print(made.DIGEST)")
    assert "axisproof.language/grammar.lark" in made_by
    assert "axisproof.language/compiler.py" in made_by
    assert "axisproof.machine/schema.py" in made_by
    assert "axisproof.report" not in made_by
    code = "from axisproof.base.generated import belongs; import sys; print(belongs(*sys.argv[1:]))"
    said = [
        subprocess.run(
            [sys.executable, "-c", code, seal, "1-x"], capture_output=True, text=True, check=True
        ).stdout.strip()
        for seal in ("1-x", "2-x", "1-x by 0-00000000: axisproof.language/gone.py", "1-x by 1-1")
    ]
    assert said == ["True", "False", "False", "False"]


def test_a_checkout_without_a_build_compiles_in_memory_and_writes_nothing(tree: Tree) -> None:
    before = tree.files()
    assert tree.used() == {**NONE, **TOLD}
    assert tree.files() == before
    tree.build()
    assert tree.files() == sorted([*before, *FILES])
    (tree.folder / "rules" / "compiled.json").unlink()
    assert tree.used() == {**CURRENT, "trees": False, **TOLD}


def test_the_build_of_a_checkout_brings_bytecode_so_that_the_first_check_is_quick(
    tree: Tree,
) -> None:
    tree.build()
    for folder in ("rules", "schemas"):
        assert list((tree.folder / folder).glob("__pycache__/compiled.*.pyc"))
