"""The mapping cookbook: its lists and mappings are files, and its commands give what it shows."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from axisproof.authoring.guide import guide_page
from axisproof.cli import main as cli

ROOT = Path(__file__).parents[2]
HEAD, *SECTIONS = re.split(r"(?m)^## ", guide_page("cookbook").text)
SAME = re.findall(r"```text\n(.*?)```", HEAD, re.DOTALL)


def text_of(path: Path) -> str:
    """A list in the encoding that it has."""
    data = path.read_bytes()
    if data[:2] == b"\xff\xfe":
        return data.decode("utf-16")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252")


def without_comments(text: str) -> list[str]:
    return [line.partition(" # ")[0].strip() for line in text.splitlines()]


@pytest.mark.parametrize("section", SECTIONS, ids=lambda text: text.partition("\n")[0])
def test_a_recipe_gives_what_it_shows(
    section: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(ROOT)
    (command,) = re.findall(r"(?m)^    axisproof (.+)$", section)
    blocks = dict(re.findall(r"```(\w+)\n(.*?)```", section, re.DOTALL))
    words = shlex.split(command)
    assert cli.run(words) == 0
    written = without_comments(capsys.readouterr().out)
    results = [blocks.pop("text")] if "text" in blocks else SAME
    assert results
    assert set(without_comments("\n".join(results))) <= set(written)
    if "yml" in blocks:
        assert blocks.pop("yml") == Path(words[words.index("--mapping") + 1]).read_text("utf-8")
    for shown in blocks.values():
        lines = [line.strip() for line in text_of(Path(words[1])).splitlines()]
        assert {line.strip() for line in shown.splitlines()} <= set(lines)


def test_the_cookbook_has_each_form_of_list_and_device_file() -> None:
    text = guide_page("cookbook").text
    assert set(re.findall(r"(?m)^form: (\w+)$", text)) == {"csv", "json", "xml", "ini"}
    for word in ("utf-16", "cp1252", "decimal: comma", ".zip/", ".dcf", ".xdc", "--variant"):
        assert word in text
