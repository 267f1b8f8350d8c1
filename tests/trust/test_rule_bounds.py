"""The bounds of rule files: what is at a bound is taken, what is just over it refused."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from axisproof.base.errors import RuleError, UsageError
from axisproof.catalogue.catalogue import MAX_RULE_FILES, read_rule_files
from axisproof.language import check_numbers
from axisproof.language.bounds import (
    MAX_COST,
    MAX_DEGREE,
    MAX_DEPTH,
    MAX_EXAMPLES,
    MAX_LOOPS,
    MAX_NODES,
    MAX_REQUIRES,
    MAX_TOTAL_DEPTH,
)
from axisproof.language.check_definitions import DefinitionChecker
from axisproof.language.parser import MAX_RULE_BYTES, parse_rules
from axisproof.language.rule_file import RuleFile

from tests.trust.refusing import EXAMPLES, check, refused, refused_rule

Patch = pytest.MonkeyPatch


def test_a_rule_file_may_be_so_large_and_no_larger(tmp_path: Path) -> None:
    text = "language 2\n"
    path = tmp_path / "x.rules"
    path.write_text(text + "#" * (MAX_RULE_BYTES - len(text)))
    assert read_rule_files([path])
    assert parse_rules(RuleFile("x", path.read_text())).items == ()
    path.write_text(path.read_text() + "#")
    refused(lambda: read_rule_files([path]), f"larger than {MAX_RULE_BYTES} bytes", RuleError)
    refused(lambda: parse_rules(RuleFile("x", path.read_text())), "is larger than", RuleError)


def test_rule_files_may_hold_so_much_together_and_no_more(
    tmp_path: Path, monkeypatch: Patch
) -> None:
    from axisproof.catalogue import catalogue as module

    monkeypatch.setattr(module, "MAX_RULES_TEXT", 100)
    (tmp_path / "a.rules").write_text("#" * 50)
    (tmp_path / "b.rules").write_text("#" * 50)
    assert len(read_rule_files([tmp_path])) == 2
    (tmp_path / "b.rules").write_text("#" * 51)
    refused(lambda: read_rule_files([tmp_path]), "more than 100 characters", UsageError)


def test_a_site_may_have_so_many_rule_files_and_no_more(tmp_path: Path) -> None:
    for number in range(MAX_RULE_FILES):
        (tmp_path / f"{number}.rules").touch()
    assert len(read_rule_files([tmp_path])) == MAX_RULE_FILES
    (tmp_path / "one-more.rules").touch()
    refused(lambda: read_rule_files([tmp_path]), f"more than {MAX_RULE_FILES}", UsageError)


@pytest.mark.parametrize(("before", "after"), [("(", ")"), ("not ", "")])
def test_an_expression_may_be_nested_so_deep_and_no_deeper(before: str, after: str) -> None:
    deep = MAX_DEPTH - 2
    assert check(before * deep + "axis.motion is linear" + after * deep)
    deep = MAX_DEPTH + 1
    refused_rule(
        f"nested more than {MAX_DEPTH} deep", before * deep + "axis.motion is linear" + after * deep
    )


def test_a_chain_of_definitions_may_be_so_deep_and_no_deeper() -> None:
    def chain(length: int) -> str:
        first = 'define axis.d0\n  kind ratio\n  meaning "m"\n  as 1\n'
        return first + "".join(
            f'define axis.d{n}\n  kind ratio\n  meaning "m"\n  as axis.d{n - 1}\n'
            for n in range(1, length)
        )

    assert check(before=chain(MAX_TOTAL_DEPTH - 1))
    refused_rule(f"nested more than {MAX_TOTAL_DEPTH} deep", before=chain(MAX_TOTAL_DEPTH + 1))


def test_approximate_definitions_in_any_order_are_checked_twice_at_most(
    monkeypatch: Patch,
) -> None:
    # No function is approximate whatever it is given; one that were would be told so.
    approximate = replace(check_numbers.FUNCTIONS["square_root"], approx=True)
    functions = {**check_numbers.FUNCTIONS, "square_root": approximate}
    monkeypatch.setattr(check_numbers, "FUNCTIONS", functions)
    checked = 0
    one = DefinitionChecker.body

    def counting(*given: Any) -> Any:
        nonlocal checked
        checked += 1
        return one(*given)

    monkeypatch.setattr(DefinitionChecker, "body", counting)
    count = 40
    lines = [
        f'define axis.d{n}\n  kind ratio\n  meaning "m"\n  as axis.d{n + 1} + 1\n'
        for n in range(count)
    ]
    lines.append(f'define axis.d{count}\n  kind ratio\n  meaning "m"\n  as square_root(2)\n')
    found = check(before="".join(lines))
    assert all(definition.type.approx for definition in found.definitions)
    assert checked == 2 * (count + 1)


GROWN = "(((axis.drive.node^4)^4)^4)^4 * (((axis.drive.node^4)^4)^4)^4"
"""A product of 512 facts, made in 9 operations."""


def test_a_number_may_grow_so_large_and_no_larger() -> None:
    assert MAX_DEGREE == 512
    assert check(f"{GROWN} >= 0")
    refused_rule("could grow too large", f"{GROWN} * axis.drive.node >= 0")


def test_loops_may_be_nested_so_deep_and_no_deeper() -> None:
    def loops(depth: int) -> str:
        head = "".join(f"every a{n} in axis.mechanics.stages has " for n in range(depth))
        return head + "axis.motion is linear"

    assert check(loops(MAX_LOOPS))
    refused_rule(f"more than {MAX_LOOPS} loops", loops(MAX_LOOPS + 1))


def balanced(count: int) -> str:
    """A condition of ``count`` comparisons (of 3 nodes each), nested as little as can be."""
    if count == 1:
        return "axis.motion is linear"
    return f"({balanced(count // 2)} or {balanced(count - count // 2)})"


def test_a_rule_may_have_so_many_words_and_no_more() -> None:
    most = (MAX_NODES + 1) // 4  # n comparisons of 3 nodes and n - 1 times `or`
    assert check(balanced(most))
    error = refused_rule("words, numbers and operators", balanced(most + 1))
    assert str(MAX_NODES) in error.expected


def test_a_definition_may_have_so_many_words_and_no_more() -> None:
    def defined(count: int) -> str:
        return f'define axis.d\n  kind flag\n  meaning "m"\n  as {balanced(count)}\n'

    assert check(before=defined((MAX_NODES + 1) // 4))
    error = refused_rule("words, numbers and operators", before=defined((MAX_NODES + 1) // 4 + 1))
    assert error.place is not None
    assert error.place.line == 2


def test_a_rule_may_cost_so_many_steps_and_no_more() -> None:
    # A number of 512 facts' size costs 1 + 512² / 64 = 4097 steps, its two halves 1025 each, and
    # the quarters of these 65 each: some 6270 with the rest.
    most = MAX_COST // 6280
    assert check(" or ".join([f"{GROWN} >= 0"] * most))
    error = refused_rule(
        "steps, for the size its numbers can grow to", " or ".join([f"{GROWN} >= 0"] * (most + 1))
    )
    assert str(MAX_COST) in error.expected


def test_a_rule_may_have_so_many_requirements_and_no_more() -> None:
    lines = ["axis.motion is linear"] * MAX_REQUIRES
    assert check("\n  require ".join(lines))
    refused_rule(f"more than {MAX_REQUIRES} requirements", "\n  require ".join([*lines, lines[0]]))


def test_a_rule_may_have_so_many_examples_and_no_more() -> None:
    most = EXAMPLES + '  passes "p" axis.motion = linear\n' * (MAX_EXAMPLES - 2)
    assert check(examples=most)
    refused_rule(
        f"more than {MAX_EXAMPLES} examples",
        examples=most + '  passes "p" axis.motion = linear\n',
    )
