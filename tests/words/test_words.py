"""The texts of rules, as their failing examples render them, and other texts of the package."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

import pytest
import yaml
from axisproof.catalogue.catalogue import Catalogue, RunnableRule, catalogue
from axisproof.engine.cases import Case
from axisproof.language.printing import formula
from axisproof.language.syntax import Example, Rule
from axisproof.language.telling import MessageWriter
from axisproof.language.tracer import Tracer
from axisproof.rulebook.example_machines import build_example

from .measuring import (
    DESCRIBES,
    ROOT,
    TELLS,
    Offence,
    banned,
    misplaced_cautions,
    offences,
    plain,
    sentences,
    words,
)

SHORT_FIRST = 15
"""Most words in the first sentence of a headline, which a table shows alone."""


def found_in(rule: Rule, texts: Mapping[str, str]) -> Iterator[Offence]:
    """What is wrong with the texts of a finding."""
    for part, text in texts.items():
        where = f"{rule.file} {rule.name} {part}"
        yield from offences(where, text, TELLS if part in ("remedy", "caution") else DESCRIBES)
        if part == "remedy":
            yield from misplaced_cautions(where, text)
        for name, _ in rule.lets:
            if "_" in name and re.search(rf"(?<!\w){name}(?!\w)", text):
                yield Offence(where, f"the name of a variable, {name}", text)
        if "not known" in text or "…" in text:
            yield Offence(where, "a value that is not known, or cut", text)
    headline = texts["headline"]
    if not headline:
        yield Offence(f"{rule.file} {rule.name}", "no headline", rule.title)
        return
    first = next(sentences(headline))
    if words(first) > SHORT_FIRST:
        yield Offence(f"{rule.file} {rule.name} headline", f"more than {SHORT_FIRST} words", first)


@cache
def entries(found: Catalogue) -> dict[str, RunnableRule]:
    """The rules that can run, by their names."""
    return {entry.name: entry for entry in found.entries}


def rendered(found: Catalogue, rule: Rule, example: Example) -> Iterator[dict[str, str]]:
    """The texts of each finding that an example gives."""
    entry = entries(found)[rule.name]
    built = build_example(found, rule, entry, example)
    for case in built.cases:
        if not case.missing and not case.absent:
            yield from _texts(found, rule, case, built.written)


def _texts(found: Catalogue, rule: Rule, case: Case, written: Any) -> Iterator[dict[str, str]]:
    tracer = Tracer(found.definitions, found.defaults, formula)
    if tracer.when(rule, case.env).value is not True:
        return
    env = tracer.with_lets(rule, case.env)
    if tracer.value(rule.require, env).value is not False:
        return
    teller = MessageWriter(tracer, env, written, rule)
    yield {
        "title": rule.title,
        "headline": teller.message(rule.headline),
        "say": teller.message(rule.say),
        "why": teller.message(rule.why),
        "remedy": teller.message(rule.remedy, entered=True),
        **{
            name: teller.message(text)
            for name, text in zip(rule.cautions, rule.caution_texts, strict=True)
        },
    }


def offences_of_rules(name: str) -> dict[Offence, None]:
    """What is wrong with the texts of a rule file."""
    found = catalogue(())
    result: dict[Offence, None] = {}
    for rule in found.trees.rules:
        if rule.file == f"{name}.rules":
            for example in found.examples[rule.name]:
                if example.kind == "fails":
                    for texts in rendered(found, rule, example):
                        result |= dict.fromkeys(found_in(rule, texts))
    return result


FILES = sorted(path.stem for path in (ROOT / "rules").glob("*.rules") if path.stem != "chain")


@pytest.mark.parametrize("name", FILES)
def test_rules_are_written_for_people(name: str) -> None:
    """Name the offenders of a file: ``pytest tests/words -k FILE``."""
    wrong = offences_of_rules(name)
    told = "\n".join(f"{each.where}: {each.what}\n    {each.text}" for each in wrong)
    assert not wrong, f"\n{told}"


@pytest.mark.parametrize(
    ("text", "counts"),
    [
        ("Set it to 4.096 count/mm. Home it.", [4, 2]),
        ('Read "the whole label" now!', [3]),
        ("The switches: 12 mm, 13 mm, 14 mm.", [3]),
        ("Factors: 60 (per minute), 1000 (m/s for mm/s), or drive.gear.", [2]),
        ("The gear is 4.1 (it must be 4.096 or more). Set it.", [6, 4, 2]),
        ("A short bracket (of three words) counts.", [7]),
        ("One thing\nanother thing", [2, 2]),
        ("from 10000 mm/s^2 to 0.9 N·m - 5 %", [5]),
    ],
)
def test_words_are_counted_as_people_read_them(text: str, counts: list[int]) -> None:
    assert [words(sentence) for sentence in sentences(text)] == counts


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("The brake is broken.", '"broken" in place of: failed'),
        ("One; two.", "a semicolon"),
        ("It is set to true.", "a word of programs, true"),
        ("word " * 21, "21 words, at most 20"),
    ],
)
def test_offences_are_named(text: str, what: str) -> None:
    assert [each.what for each in offences("here", text, TELLS)] == [what]


def test_a_quotation_may_hold_any_word() -> None:
    assert not list(offences("here", 'The drive shows "broken; undecided".', TELLS))
    assert plain('"a b c" and 3 mm') == "Q and N"


def test_a_caution_stands_before_its_step() -> None:
    assert not list(misplaced_cautions("here", "Support the load. Fit a brake."))
    assert list(misplaced_cautions("here", "Fit a brake. Support the load."))


def test_each_word_has_one_entry() -> None:
    entries = yaml.safe_load((ROOT / "rules/words.yaml").read_text("utf-8"))
    assert all(set(entry) == {"use", "not", "why"} for entry in entries)
    listed = [word for entry in entries for word in entry["not"]]
    assert len(listed) == len(set(listed)) == len(banned())
