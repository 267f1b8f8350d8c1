"""The bounds of DEVELOPERS.md: what is at a bound is taken, what is just over it refused."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.base.errors import AxisproofError, InputError, RuleError, UsageError
from axisproof.catalogue.catalogue import MAX_RULE_FILES, catalogue, parse_texts, read_rule_files
from axisproof.editor.context import context_at
from axisproof.importing.device_reader import read_device
from axisproof.language import budget, check_numbers
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
from axisproof.source import json as json_source
from axisproof.source import reader as source_files
from axisproof.source import yaml as yaml_source
from axisproof.source.files import Source
from axisproof.source.limits import (
    MAX_AXES,
    MAX_EXPONENT,
    MAX_INCLUDED_FILES,
    MAX_NUMBER_DIGITS,
    MAX_TEXT,
)
from axisproof.source.limits import MAX_DEPTH as MAX_NESTING
from axisproof.source.merge import load_tree
from axisproof.source.parsing import parse
from axisproof.source.reader import read_source

from tests.bench.fuzz.targets import bounded

Patch = pytest.MonkeyPatch


def yaml(text: str) -> Any:
    return parse(Source(Path("m.yaml"), "m.yaml", text, "yaml"))


def as_json(text: str) -> Any:
    return parse(Source(Path("m.json"), "m.json", text, "json"))


def refused(use: Callable[[], Any], words: str, error: type[AxisproofError] = InputError) -> None:
    with pytest.raises(error) as caught:
        use()
    assert words in caught.value.what, caught.value.what
    assert caught.value.expected


# Files --------------------------------------------------------------------------------------------


def test_a_file_may_be_so_large_and_no_larger(tmp_path: Path, monkeypatch: Patch) -> None:
    assert source_files.MAX_BYTES == 64 * 2**20
    monkeypatch.setattr(source_files, "MAX_BYTES", 2**20)
    path = tmp_path / "m.yaml"
    path.write_text("a: 1 # " + "x" * (2**20 - 8) + "\n")
    assert path.stat().st_size == 2**20
    assert read_source(path).text
    path.write_text(path.read_text() + "\n")
    refused(lambda: read_source(path), "is larger than 1 MiB")


@pytest.mark.parametrize("read", [yaml, as_json])
def test_values_may_be_nested_so_deep_and_no_deeper(read: Callable[[str], Any]) -> None:
    assert read("[" * MAX_NESTING + "1" + "]" * MAX_NESTING)
    deeper = MAX_NESTING + 1
    refused(lambda: read("[" * deeper + "1" + "]" * deeper), f"deeper than {MAX_NESTING} levels")


@pytest.mark.parametrize("read", [yaml, as_json])
def test_a_file_may_hold_so_many_values_and_no_more(
    read: Callable[[str], Any], monkeypatch: Patch
) -> None:
    assert yaml_source.MAX_NODES == json_source.MAX_NODES == 5_000_000
    for module in (yaml_source, json_source):
        monkeypatch.setattr(module, "MAX_NODES", 1000)
    assert len(read(json.dumps([1] * 999))) == 999
    refused(lambda: read(json.dumps([1] * 1000)), "more than 1000 values")


def test_aliases_count_as_if_they_were_written_out(monkeypatch: Patch) -> None:
    monkeypatch.setattr(yaml_source, "MAX_NODES", 1000)
    # 1 + 1 + (1 + 9) values before the aliases, and 10 more for each.
    ten = "a: &a [1, 2, 3, 4, 5, 6, 7, 8, 9]\nb: ["
    assert yaml(ten + ", ".join(["*a"] * 98) + "]\n")
    refused(lambda: yaml(ten + ", ".join(["*a"] * 99) + "]\n"), "beyond 1000 values")


def test_a_few_lines_of_aliases_of_aliases_do_not_fill_the_memory() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 9)]
    refused(lambda: yaml("\n".join(lines)), "stand for more than 500000 values")


def test_the_records_in_all_lists_of_a_machine_are_bounded(monkeypatch: Patch) -> None:
    from axisproof.machine import fact_readers
    from axisproof.machine.reader import read_plain

    stages = [{"motor_turns_per_load_turn": 1}] * 10
    axes = {f"a{n}": {"motion": "linear", "mechanics": {"stages": stages}} for n in range(3)}
    monkeypatch.setattr(fact_readers, "MAX_ENTRIES", 30)
    assert len(read_plain({"axes": axes}).axes) == 3
    monkeypatch.setattr(fact_readers, "MAX_ENTRIES", 29)
    refused(lambda: read_plain({"axes": axes}), "to 30 entries")


def test_aliases_nest_as_if_they_were_written_out() -> None:
    half = MAX_NESTING // 2
    text = f"a: &a {'[' * (half - 1)}1{']' * (half - 1)}\nb: {'[' * half}*a{']' * half}\n"
    assert yaml(text)
    deeper = text.replace("b: [", "b: [[").replace("]\n", "]]\n", 2).replace("]]\nb", "]\nb")
    refused(lambda: yaml(deeper), f"deeper than {MAX_NESTING} levels")


@pytest.mark.parametrize("read", [yaml, as_json])
def test_a_text_may_be_so_long_and_no_longer(read: Callable[[str], Any]) -> None:
    assert read(json.dumps(["x" * MAX_TEXT]))
    refused(lambda: read(json.dumps(["x" * (MAX_TEXT + 1)])), f"has {MAX_TEXT + 1} characters")


@pytest.mark.parametrize("read", [yaml, as_json])
def test_a_number_may_have_so_many_digits_and_no_more(read: Callable[[str], Any]) -> None:
    digits = "1" * MAX_NUMBER_DIGITS
    assert read(f"[{digits}, 1e{MAX_EXPONENT}, 1e-{MAX_EXPONENT}]")
    refused(lambda: read(f"[{digits}1]"), f"has {MAX_NUMBER_DIGITS + 1} digits")
    refused(lambda: read(f"[1e{MAX_EXPONENT + 1}]"), f"exponent {MAX_EXPONENT + 1}")
    refused(lambda: read(f"[1e-{MAX_EXPONENT + 1}]"), f"exponent -{MAX_EXPONENT + 1}")
    refused(lambda: read("[1e999999999999]"), "exponent 999999999999")


def test_a_machine_may_include_so_many_files_and_no_more(tmp_path: Path) -> None:
    names = [f"part{number}.yaml" for number in range(MAX_INCLUDED_FILES + 1)]
    for name in names:
        (tmp_path / name).write_text("description: same\n")
    top = tmp_path / "m.yaml"
    top.write_text(f"include: [{', '.join(names[:-1])}]\n")
    assert len(load_tree(top).sources) == MAX_INCLUDED_FILES + 1
    top.write_text(f"include: [{', '.join(names)}]\n")
    refused(lambda: load_tree(top), f"more than {MAX_INCLUDED_FILES} files are included")


def test_a_list_may_have_so_many_entries_and_no_more(tmp_path: Path) -> None:
    path = tmp_path / "m.json"

    def write(count: int) -> None:
        stages = [{"motor_turns_per_load_turn": 1}] * count
        axis = {"motion": "linear", "mechanics": {"stages": stages}}
        path.write_text(json.dumps({"format": 1, "machine": "M", "axes": {"x": axis}}))

    from axisproof.machine.reader import read_machine

    def read() -> Any:
        return read_machine(load_tree(path))

    most = _most_stages()
    write(most)
    assert read().axes
    write(most + 1)
    refused(read, f"has {most + 1} entries")


def test_a_machine_may_have_so_many_axes_and_no_more(tmp_path: Path) -> None:
    from axisproof.machine.reader import read_machine

    path = tmp_path / "m.json"

    def read(count: int) -> Any:
        axes = {f"a{number}": {"motion": "linear"} for number in range(count)}
        path.write_text(json.dumps({"format": 1, "machine": "M", "axes": axes}))
        return read_machine(load_tree(path))

    assert len(read(MAX_AXES).axes) == MAX_AXES
    refused(lambda: read(MAX_AXES + 1), f"names {MAX_AXES + 1} axes")
    schema = json.loads(files("axisproof.schemas").joinpath("machine.schema.json").read_text())
    assert schema["properties"]["axes"]["maxProperties"] == MAX_AXES


def _most_stages() -> int:
    from axisproof.machine.schema import ListType, axis_type, lookup

    found = lookup(axis_type(), "mechanics.stages").type
    assert isinstance(found, ListType)
    return found.max_items


def test_a_device_file_that_announces_endless_subindexes_is_read_at_once(tmp_path: Path) -> None:
    path = tmp_path / "d.dcf"
    head = "[6091]\nParameterName=G\nObjectType=8\nDataType=7\nAccessType=rw\nDefaultValue=1\n"
    path.write_text(head + "CompactSubObj=99999999999999\n")
    assert len(read_device(path).values) == 254  # subindexes 1 to 254 (CiA 301)
    path.write_text(head + "CompactSubObj=2\n[6091Name]\nNrOfEntries=99999999999999\n")
    assert len(read_device(path).values) == 2  # the number of names is not believed


# Rules --------------------------------------------------------------------------------------------

RULE = """language 2
{before}
rule site-x
  level   error
  title   "x"
  each    {each}
  require {require}
  say     "s"
  why     "w"
  remedy  "r"
  basis   "computed"
{examples}
"""
EXAMPLES = '  passes "p" axis.motion = linear\n  fails "f" axis.motion = rotary\n'


def check(require: str = "axis.motion is linear", **parts: str) -> Any:
    parts = {"before": "", "each": "axis", "examples": EXAMPLES, **parts}
    return parse_texts({"x.rules": RULE.format(require=require, **parts)})


def refused_rule(words: str, require: str = "axis.motion is linear", **parts: str) -> RuleError:
    with pytest.raises(RuleError) as caught:
        check(require, **parts)
    error = caught.value
    assert words in error.what, error.what
    assert error.place is not None
    assert error.place.line > 0
    return error


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


# Loops at run time --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "require",
    [
        "every a in machine.axes has every b in machine.axes has true",
        "every a in machine.axes has every b in machine.axes where b.motion is linear has true",
        "every a in machine.axes has every b in machine.axes where b.name is machine.name has true",
        "every a in machine.axes has every b in machine.axes where b.name is b.motor.serial "
        "has true",
    ],
    ids=["no filter", "a word", "a fact of the machine", "a fact of its own"],
)
def test_every_item_with_every_other_is_refused_when_the_rule_is_read(require: str) -> None:
    refused_rule("meets every one of machine.axes", require, each="machine")


def machine_of(folder: Path, axes: int) -> Path:
    lines = [
        f"  a{n}: {{motion: linear, gantry: none, drive: {{node: {n % 100 + 1}}}}}"
        for n in range(axes)
    ]
    path = folder / "m.yaml"
    path.write_text("format: 1\nmachine: M\naxes:\n" + "\n".join(lines) + "\n")
    return path


QUADRATIC = {
    "a loop within a loop": (
        "machine",
        "every a in machine.axes has every b in machine.axes where b.motion is a.motion "
        "has (b.drive.node >= 0 or b.name is a.name)",
    ),
    "a loop for each axis": (
        "axis",
        "every b in machine.axes where b.motion is axis.motion "
        "has (b.drive.node >= 0 or b.name is axis.name)",
    ),
    "a count for each axis": (
        "axis",
        "(count of b in machine.axes where (b.motion is axis.motion and b.name is not axis.name))"
        " >= 0",
    ),
    "a list searched in a loop": (
        "machine",
        "every a in machine.axes has every b in machine.axes where b.motion is a.motion "
        "has not b.homes_after includes a.name",
    ),
    "pairs": (
        "axis with other where axis.motion is other.motion unordered",
        "axis.drive.node >= 0",
    ),
}


@pytest.mark.parametrize(("each", "require"), QUADRATIC.values(), ids=QUADRATIC.keys())
def test_loops_beyond_the_bound_end_in_one_error_that_names_rule_and_bound(
    each: str, require: str, tmp_path: Path, monkeypatch: Patch
) -> None:
    from axisproof.engine import engine, verdicts

    rules = tmp_path / "site.rules"
    rules.write_text(RULE.format(before="", each=each, require=require, examples=EXAMPLES))
    path = machine_of(tmp_path, 60)
    assert api.check([path], api.CheckOptions(rules=[rules])).axes == 60
    # 60 axes make 1,770 pairs: at 250 steps each, and 3,600 items of 3 steps or more in loops.
    for module in (budget, engine, verdicts):
        monkeypatch.setattr(module, "MAX_STEPS", 10_000)
    with pytest.raises(RuleError) as caught:
        api.check([path], api.CheckOptions(rules=[rules]))
    error = caught.value
    assert "rule site-x takes more than 10,000 steps on M, which has 60 axes" in error.what
    assert error.place is not None
    assert (Path(error.place.file).name, error.place.line) == ("site.rules", 3)
    assert error.expected


def test_what_rules_of_a_site_take_without_loops_is_bounded_together(
    tmp_path: Path, monkeypatch: Patch
) -> None:
    from axisproof.engine import engine, too_much

    rules = tmp_path / "site.rules"
    require = "axis.drive.node + 1 > 0 and axis.drive.node + 2 > 0"
    rules.write_text(RULE.format(before="", each="axis", require=require, examples=EXAMPLES))
    [steps] = catalogue([rules]).own_steps.values()
    for module in (engine, too_much):
        monkeypatch.setattr(module, "MAX_OWN_STEPS", 60 * steps)
    options = api.CheckOptions(rules=[rules])
    assert api.check([machine_of(tmp_path, 60)], options).axes == 60
    with pytest.raises(RuleError) as caught:
        api.check([machine_of(tmp_path, 61)], options)
    error = caught.value
    assert f"take {steps} steps for each of the 61 axes of M. Rule site-x takes" in error.what
    assert error.place is not None
    assert (Path(error.place.file).name, error.place.line) == ("site.rules", 3)
    assert f"at most {60 * steps} steps" in error.expected


def test_a_machine_of_which_little_is_stated_takes_steps_in_proportion_to_its_axes(
    tmp_path: Path, monkeypatch: Patch
) -> None:
    from axisproof.engine import engine, verdicts

    path = tmp_path / "m.yaml"
    lines = "".join(f"  a{number}: {{motion: linear}}\n" for number in range(400))
    path.write_text(f"format: 1\nmachine: M\naxes:\n{lines}")
    for module in (budget, engine, verdicts):
        monkeypatch.setattr(module, "MAX_STEPS", 400 * budget.MAX_STEPS // MAX_AXES)
    assert len(api.check([path]).undecided) > 400


def test_the_bound_is_for_each_rule_anew_and_the_shipped_rules_stay_far_below_it(
    tmp_path: Path, monkeypatch: Patch
) -> None:
    from axisproof.engine import engine, verdicts

    for module in (budget, engine, verdicts):
        monkeypatch.setattr(module, "MAX_STEPS", 200_000)
    assert api.check([machine_of(tmp_path, 150)]).axes == 150


DEFINED = """define axis.alike
  kind    number
  meaning "axes that move like this one"
  as      count of b in machine.axes where b.motion is axis.motion
"""


def test_what_follows_from_the_facts_is_bounded_too(tmp_path: Path, monkeypatch: Patch) -> None:
    from axisproof.catalogue.catalogue import catalogue
    from axisproof.editor.facts import fact_hover
    from axisproof.machine.reader import read_machine

    rules = tmp_path / "site.rules"
    rules.write_text(f"language 2\n{DEFINED}")
    path = machine_of(tmp_path, 60)
    machine, known = read_machine(load_tree(path)), catalogue([rules])

    def told() -> str:
        return fact_hover(("axes", "a1"), True, read_machine(load_tree(path)), known, ())

    assert len(api.show(path, rules=[rules])) == 60
    assert "alike" in told().replace("\\", "")
    assert machine.axes
    monkeypatch.setattr(budget, "MAX_STEPS", 100)
    refused(lambda: api.show(path, rules=[rules]), "take more than 100 steps", RuleError)
    assert "alike" not in told()


def test_the_examples_of_a_rule_are_bounded_too(tmp_path: Path, monkeypatch: Patch) -> None:
    rules = tmp_path / "site.rules"
    axes = " ".join(f"a{number}.motion = linear" for number in range(40))
    each, require = QUADRATIC["a count for each axis"]
    examples = EXAMPLES.replace("axis.motion = linear", axes)
    rules.write_text(RULE.format(before="", each=each, require=require, examples=examples))
    monkeypatch.setattr(budget, "MAX_STEPS", 1000)
    (fault,) = api.test_rules([rules]).faults
    assert "take more than 1,000 steps" in fault.what


def test_outside_a_check_nothing_is_counted() -> None:
    assert list(budget.metered(range(10**6), 10**6))[-1] == 10**6 - 1
    with budget.limited(), pytest.raises(budget.TooManySteps):
        budget.charged(range(10**6), 100)
    assert budget.charged(range(10**6), 10**6)


def test_steps_are_charged_as_far_as_a_loop_goes() -> None:
    with budget.limited():
        for _ in range(1000):  # each looks at the first items only
            for item in budget.metered(range(10**6), 100):
                assert item == 0
                break


# Long lines ---------------------------------------------------------------------------------------


LONG = {"spaces": f"1{' ' * 200_000}x", "words": "a " * 100_000, "a word": "a" * 200_000}


@pytest.mark.parametrize("line", LONG.values(), ids=LONG.keys())
def test_a_long_line_of_a_device_file_takes_no_longer_than_many_short_ones(
    line: str, tmp_path: Path
) -> None:
    path = tmp_path / "d.dcf"
    path.write_text(f"[1000]\n{line}\n")
    with bounded(10):
        refused(lambda: read_device(path), "is neither a section nor an entry")


@pytest.mark.parametrize("line", LONG.values(), ids=LONG.keys())
def test_the_cursor_in_a_long_line_is_found_no_later_than_among_many(line: str) -> None:
    text = f"axes:\n  x:\n    {line}\n    dri"
    with bounded(10):
        context = context_at(text, len(text), "yaml")
    assert context.path == ("axes", "x")
    assert context.word == "dri"
