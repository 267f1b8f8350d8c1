"""Texts are held to the patterns of the schema, whichever letters they have."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from axisproof.machine.names import TextForm
from hypothesis import given
from hypothesis import strategies as st

SCHEMAS = Path(__file__).parents[2] / "schemas"


def patterns(node: Any) -> Iterator[str]:
    """The patterns of texts and keys in a schema."""
    for key, value in node.items() if isinstance(node, dict) else enumerate(node):
        if key == "pattern" and isinstance(value, str):
            yield value
        elif key == "patternProperties":
            yield from value
        if isinstance(value, dict | list):
            yield from patterns(value)


SHIPPED = sorted(set(patterns(json.loads((SCHEMAS / "machine.schema.json").read_text("utf-8")))))
BEYOND = "ÄÖéþĀͰ·̀ΩжاअกᛁἀⰀ、字가\ufb00﷐\u2028\u200d𝔸"


@given(
    st.sampled_from(SHIPPED), st.text(st.characters(max_codepoint=127) | st.sampled_from(BEYOND))
)
def test_a_form_fits_what_its_pattern_is_found_in(pattern: str, text: str) -> None:
    assert TextForm(pattern).fits(text) == (re.search(pattern, text) is not None)


@pytest.mark.parametrize("pattern", SHIPPED)
def test_each_sign_first_and_later_is_taken_as_the_pattern_says(pattern: str) -> None:
    form, whole = TextForm(pattern), re.compile(pattern)
    for sign in [*map(chr, range(128)), *BEYOND]:
        for text in (sign, f"a{sign}", f"1 {sign}m"):
            assert form.fits(text) == (whole.search(text) is not None)
