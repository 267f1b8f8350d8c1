"""The site file in an editor: it counts as in a check, as the editor holds it at the moment."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from axisproof.editor.machines import Workspace
from axisproof.editor.side_files import SideFileOptions
from axisproof.editor.state import CheckedTexts, check_texts

from tests.editor.editor_helpers import FIXTURES

RULE = "brake-holds-load"
SETTINGS = f"levels: {{{RULE}: {{level: 'off', reason: tried by hand}}}}\n"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    shutil.copy(FIXTURES / "faults" / f"{RULE}.yaml", "m.yaml")
    Path("settings.yaml").write_text(SETTINGS, "utf-8")
    Path("axisproof.yaml").write_text("axisproof: 1\nsettings: settings.yaml\n", "utf-8")
    return tmp_path


def told(options: SideFileOptions, **texts: str) -> dict[str, list[str]]:
    """The codes and texts of diagnostics by the name of the file."""
    open_texts = {Path(f"{name}.yaml").resolve(): text for name, text in texts.items()}
    machine = Path("m.yaml").resolve()
    open_texts.setdefault(machine, machine.read_text("utf-8"))
    checked = check_texts(open_texts, options, Workspace(), CheckedTexts())
    return {
        path.name: [f"{each.rule} {each.text}" for each in found]
        for path, found in checked.diagnostics.items()
    }


def test_rules_that_the_site_file_switches_off_find_nothing(folder: Path) -> None:
    with_file = told(SideFileOptions(site_folder=folder))
    without = told(SideFileOptions())
    assert not any(RULE in text for text in with_file.get("m.yaml", []))
    assert any(RULE in text for text in without["m.yaml"])
    option = SideFileOptions(settings=Path("other.yaml"), site_folder=folder)
    Path("other.yaml").write_text("settings: {}\n", "utf-8")
    assert any(RULE in text for text in told(option)["m.yaml"])


def test_unsaved_text_of_the_site_file_and_of_its_settings_counts(folder: Path) -> None:
    options = SideFileOptions(site_folder=folder)
    assert any(RULE in text for text in told(options, axisproof="axisproof: 1\n")["m.yaml"])
    assert any(RULE in text for text in told(options, settings="settings: {}\n")["m.yaml"])


def test_a_fault_of_the_site_file_is_shown_in_it(folder: Path) -> None:
    found = told(SideFileOptions(site_folder=folder), axisproof="axisproof: 1\ncache: x\n")
    assert any("cache is not known here" in text for text in found["axisproof.yaml"])
