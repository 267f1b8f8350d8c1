"""Words that the editor offers within the brackets of a rule."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.editor.facts import CompletionChoice
from axisproof.editor.rule_files import RuleText, read_rule_file, rule_choices

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


def choices(folder: Path, text: str, last: RuleText | None = None) -> dict[str, CompletionChoice]:
    """What is offered at the mark in a text."""
    path = folder / "site.rules"
    offset = text.index("§")
    text = text.replace("§", "")
    path.write_text(text, "utf-8")
    found, _ = rule_choices(read_rule_file(path, {path: text}, last), text, offset)
    return {each.text: each for each in found}


BEFORE = """language 2
setting most_nodes default 5 meaning "m" basis "b"
define axis.twice kind ratio as axis.drive.node * 2 meaning "double"
"""


def test_names_are_offered_in_a_file_that_has_had_an_error_since_it_was_opened(
    tmp_path: Path,
) -> None:
    text = BEFORE + rule_text("axis.drive.node <= §").partition("\n")[2]
    assert read_rule_file(tmp_path / "site.rules", {}).fault is not None  # there is no such file
    assert {"most_nodes", "axis", "square_root"} <= set(choices(tmp_path, text))
    text = BEFORE + rule_text("axis.§").partition("\n")[2]
    assert {"axis.twice", "axis.hangs"} <= set(choices(tmp_path, text))
    fault = read_rule_file(tmp_path / "site.rules", {}).fault
    assert fault is not None


def test_a_broken_definition_does_not_hide_the_others(tmp_path: Path) -> None:
    broken = BEFORE.replace("default 5", "default") + 'define axis.half kind as "x"\n'
    found = choices(tmp_path, broken + rule_text("axis.§").partition("\n")[2])
    assert "axis.twice" in found
    assert "axis.half" not in found


def test_a_fact_is_offered_to_who_types_a_word_of_its_meaning(tmp_path: Path) -> None:
    found = choices(tmp_path, rule_text("gravity§"))
    assert found["axis.hangs"].sought.startswith("gravity")
    assert found["axis.hangs"].detail == "true or false"
    assert "axis.hangs" not in choices(tmp_path, rule_text("gr§"))


def test_a_value_that_is_named_in_the_rule_is_offered(tmp_path: Path) -> None:
    text = rule_text("axis.drive.node <= §", lets="let needed = axis.drive.node * 2")
    assert choices(tmp_path, text)["needed"].kind == "value"
