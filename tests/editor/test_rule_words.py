"""Words that the editor offers within the brackets of a rule."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.editor.rule_files import read_rule_file, rule_choices

from tests.language.evaluating import rule_text

PLACES = "axis.encoder.turn_counter.battery.places"


@pytest.mark.parametrize(
    "before",
    [
        f"any of {PLACES} in [",
        f"none of {PLACES} in [cable, dr",
        f"all of {PLACES} in [cable,",
        f"{PLACES} includes ",
    ],
)
def test_the_words_of_a_list_are_offered(before: str, tmp_path: Path) -> None:
    path = tmp_path / "site.rules"
    text = rule_text(f"{before}§")
    offset = text.index("§")
    text = text.replace("§", "")
    path.write_text(text, "utf-8")
    found, typed = rule_choices(read_rule_file(path, {path: text}), text, offset)
    assert {"cable", "drive", "encoder"} <= {each.text for each in found}
    assert typed == (2 if before.endswith("dr") else 0)
