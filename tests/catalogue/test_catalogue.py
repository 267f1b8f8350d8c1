"""Which rules apply: generated code while it matches the text, site rules on top."""

from __future__ import annotations

import sys
from pathlib import Path
from types import ModuleType

import pytest
from axisproof.base.errors import RuleError, UsageError
from axisproof.catalogue import catalogue as module
from axisproof.catalogue.catalogue import (
    catalogue,
    digest,
    from_texts,
    read_rule_files,
    shipped,
    shipped_texts,
)
from axisproof.engine.engine import Options, check_machine
from axisproof.machine.reader import read_plain

RULE = """language 2
rule {name}
  level warning
  title "t"
  each axis
  require {require}
  say "s"
  why "w"
  remedy "r"
  basis "b"
  passes "p" axis.drive.node = 1
  fails "f" axis.drive.node = 2
"""


def site(folder: Path, name: str = "site-rule", require: str = "axis.drive.node = 1") -> Path:
    folder.mkdir(exist_ok=True)
    path = folder / f"{name}.rules"
    path.write_text(RULE.format(name=name, require=require), "utf-8")
    return path


# Generated code ---------------------------------------------------------------------------------


def ship_one_rule(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ship a text of one rule: how text is compiled does not depend on how many rules it holds."""
    texts = {"a.rules": RULE.format(name="other-rule", require="axis.drive.node = 1")}
    monkeypatch.setattr(module, "shipped_texts", lambda: texts)


def fake_compiled(monkeypatch: pytest.MonkeyPatch, seal: str) -> ModuleType:
    fake = ModuleType("axisproof.rules.compiled")
    fake.DIGEST = seal  # type: ignore[attr-defined]
    fake.r_made_up = lambda axis, machine: 1  # type: ignore[attr-defined]
    fake.ENTRIES = (  # type: ignore[attr-defined]
        ("made-up", "note", "axis", None, ("axis", "machine"), "r_made_up"),
    )
    monkeypatch.setitem(sys.modules, "axisproof.rules.compiled", fake)
    return fake


def test_generated_code_is_used_while_its_digest_is_that_of_the_text(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    fake_compiled(monkeypatch, digest(shipped_texts()))
    found = shipped.__wrapped__()
    assert [entry.name for entry in found.entries] == ["made-up"]


def test_rule_text_is_compiled_where_the_generated_code_is_of_another_text(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    ship_one_rule(monkeypatch)
    fake_compiled(monkeypatch, "0" * 64)
    found = shipped.__wrapped__()
    assert [entry.name for entry in found.entries] == ["other-rule"]


def test_rule_text_is_compiled_where_there_is_no_generated_code(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    ship_one_rule(monkeypatch)
    monkeypatch.setitem(sys.modules, "axisproof.rules.compiled", None)
    found = shipped.__wrapped__()
    assert [entry.name for entry in found.entries] == ["other-rule"]


def test_generated_entries_are_those_of_the_text_in_their_order() -> None:
    from_text = from_texts(shipped_texts())

    def headers(found: module.Catalogue) -> list[object]:
        return [(e.name, e.level, e.subject, e.range, e.arguments) for e in found.entries]

    assert headers(shipped()) == headers(from_text)


def test_stored_trees_of_another_text_are_not_used(monkeypatch: pytest.MonkeyPatch) -> None:
    ship_one_rule(monkeypatch)
    trees = module._stored_trees()
    assert [rule.name for rule in trees.rules] == ["other-rule"]


def test_the_digest_changes_with_any_character_name_or_order() -> None:
    seals = {
        digest({"a": "x", "b": "y"}),
        digest({"a": "x", "b": "z"}),
        digest({"a": "x", "c": "y"}),
        digest({"b": "y", "a": "x"}),
        digest({"a": "xb 1\ny"}),
        digest({"a": "x"}),
    }
    assert len(seals) == 6


# Site rules -------------------------------------------------------------------------------------


def test_site_rules_stand_beside_the_shipped_ones(tmp_path: Path) -> None:
    found = catalogue([site(tmp_path)])
    assert [e.name for e in found.entries] == [*(e.name for e in shipped().entries), "site-rule"]
    assert found.rules["site-rule"].level == "warning"


def test_two_folders_of_site_rules_apply_together(tmp_path: Path) -> None:
    site(tmp_path / "one", "first-rule")
    site(tmp_path / "two", "second-rule", "axis.drive.node > 0")
    found = catalogue([tmp_path / "one", tmp_path / "two"])
    assert {"first-rule", "second-rule"} <= set(found.rules)
    machine = read_plain({"axes": {"a": {"motion": "linear", "drive": {"node": 2}}}})
    machine.facts["check_date"] = 0
    own = {"first-rule", "second-rule"}
    broken = check_machine(machine, "m", found, Options()).findings
    assert [f.rule for f in broken if f.rule in own] == ["first-rule"]


def test_site_rules_may_build_on_definitions_of_another_file(tmp_path: Path) -> None:
    definition = tmp_path / "b.rules"
    definition.write_text(
        'language 2\ndefine axis.doubled kind ratio as axis.drive.node * 2 meaning "m"\n', "utf-8"
    )
    site(tmp_path, "a", "axis.doubled = 2")
    found = catalogue([tmp_path])
    machine = read_plain({"axes": {"x": {"motion": "linear", "drive": {"node": 1}}}})
    entry = found.entries[-1]
    assert entry.function(machine.axes[0], machine.facts) == 1


def test_site_rules_may_use_definitions_and_settings_that_are_shipped(tmp_path: Path) -> None:
    trees = shipped().trees
    ratio = next((d for d in trees.definitions if d.record == "axis" and not d.type.dim), None)
    if ratio is None or ratio.type.kind != "number":
        pytest.skip("no plain number is defined yet")
    found = catalogue([site(tmp_path, require=f"axis.{ratio.name} = axis.{ratio.name}")])
    assert found.entries[-1].name == "site-rule"


@pytest.mark.skipif(not shipped().entries, reason="no rules are shipped yet")
def test_a_site_rule_with_the_name_of_a_shipped_one_is_refused_in_its_own_file(
    tmp_path: Path,
) -> None:
    path = site(tmp_path, shipped().entries[0].name)
    with pytest.raises(RuleError, match="a rule that ships with axisproof is called") as caught:
        catalogue([path])
    assert caught.value.place is not None
    assert (caught.value.place.file, caught.value.place.line) == (str(path), 2)


def test_two_site_rules_of_one_name_are_refused(tmp_path: Path) -> None:
    site(tmp_path / "one")
    site(tmp_path / "two")
    with pytest.raises(RuleError, match="defined twice"):
        catalogue([tmp_path / "one", tmp_path / "two"])


def test_a_site_definition_with_the_name_of_a_shipped_one_is_refused(tmp_path: Path) -> None:
    known = next((d for d in shipped().trees.definitions if d.record == "axis"), None)
    if known is None:
        pytest.skip("nothing is defined yet")
    path = tmp_path / "a.rules"
    path.write_text(f'language 2\ndefine axis.{known.name} kind ratio as 1 meaning "m"\n', "utf-8")
    with pytest.raises(RuleError, match="a definition that ships with axisproof is called"):
        catalogue([path])


def test_a_site_file_named_as_a_shipped_one_does_not_take_its_text(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    name = next(iter(shipped_texts()), "")
    if not name:
        pytest.skip("no rules are shipped yet")
    site(tmp_path).rename(tmp_path / name)
    monkeypatch.chdir(tmp_path)
    found = catalogue([Path(name)])
    assert found.texts[name] == shipped_texts()[name]
    assert found.texts[found.rules["site-rule"].file] == (tmp_path / name).read_text("utf-8")


def test_a_folder_without_rules_and_a_path_that_leads_nowhere_are_refused(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match="holds no rules"):
        read_rule_files([tmp_path])
    with pytest.raises(UsageError, match="does not exist"):
        read_rule_files([tmp_path / "x"])


def test_a_rule_file_that_is_not_utf_8_or_too_large_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.rules"
    path.write_bytes(b"language 2\n# \xff\n")
    with pytest.raises(RuleError, match=":2:3: the byte 0xFF is not UTF-8"):
        read_rule_files([path])
    path.write_bytes(b"#" * ((1 << 20) + 1))
    with pytest.raises(RuleError, match="larger than"):
        read_rule_files([path])


def test_more_rule_files_than_anyone_keeps_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "MAX_RULE_FILES", 1)
    site(tmp_path, "one")
    site(tmp_path, "two")
    with pytest.raises(UsageError, match="more than 1 rule files"):
        read_rule_files([tmp_path])


def test_a_rule_file_may_begin_with_a_byte_order_mark_and_end_its_lines_with_return(
    tmp_path: Path,
) -> None:
    path = site(tmp_path)
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    assert "site-rule" in catalogue([path]).rules
