"""A line that is deleted never turns a run green.

``check`` fails while a check about turn counter, gearing, homing or interlock lacks one line to end
in an error; ``changes`` fails for any check that was decided.
"""

from __future__ import annotations

import copy
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

import pytest
from axisproof.base.errors import AxisproofError
from axisproof.catalogue.catalogue import shipped
from axisproof.catalogue.describing import concern_of, facts_read
from axisproof.changes.changes import _ChangeCollector
from axisproof.changes.ended import ended_checks
from axisproof.engine.cases import cases
from axisproof.engine.concerns import CONCERNS
from axisproof.engine.engine import Options, Results, check_machine
from axisproof.findings.finding import UndecidedConcern
from axisproof.machine.machine import Machine
from axisproof.machine.reader import load_machine, read_plain

from tests.bench.faults.measure import DAY
from tests.properties.failed_cases import (
    at,
    entry_of,
    facts_to_leave_out,
    failed_cases,
    looked_at,
    steps,
)
from tests.properties.leaving_out import Plain, facts_of, without

SOUND = sorted(
    path
    for path in (Path(__file__).parents[2] / "fixtures/sound").iterdir()
    if path.name != "mechanics.yaml"  # a part of hall.yaml
)
FILES = {file for due in CONCERNS.values() for file in due.files}
RULES = {rule.name: rule for rule in shipped().trees.rules if concern_of(rule.file) in FILES}
MUST_BE_SHOWN = {
    rule.name for rule in shipped().trees.rules if rule.name in RULES or rule.level != "note"
}
"""The rules of which no check may end with a deleted line in ``changes``."""
ERRORS = sorted(name for name, rule in RULES.items() if rule.level == "error")


# --- a failed check --------------------------------------------------------------------------


def silent_without(name: str, most: int, tries: int) -> Iterator[str]:
    """The facts without which a failed check of a rule is undecided and fails nothing."""
    catalogue = shipped()
    rule, entry = catalogue.rules[name], entry_of(name)
    near_failure = catalogue.missing_facts.near_failures.of(rule)
    for plain in failed_cases(name, most, tries, "deleted lines"):
        for path in facts_to_leave_out(plain, looked_at(catalogue, rule)):
            if isinstance(at(plain, path), dict | list) or "partial" in path:
                continue  # more than a line, or a list that says that it is not all
            for thin in _undecided_cases(name, without(plain, [path])):
                if not near_failure([thin[argument] for argument in entry.arguments]):
                    yield f"{name} without {'.'.join(steps(path))}: {plain}"


def _undecided_cases(name: str, plain: Plain) -> list[dict[str, Any]]:
    """The cases of a rule on a machine if some of them are undecided and none fails."""
    entry = entry_of(name)
    try:
        machine = read_plain(copy.deepcopy(plain))
    except AxisproofError:
        return []
    machine.facts.setdefault("check_date", 0)
    found = [case.env for case in cases(entry, machine, {}) if not case.missing and not case.absent]
    verdicts = [entry.function(*(env[name] for name in entry.arguments)) for env in found]
    if 0 in verdicts:
        return []
    return [env for env, verdict in zip(found, verdicts, strict=True) if verdict is None]


def test_a_failed_check_that_lost_a_line_still_fails() -> None:
    assert [words for name in ERRORS for words in silent_without(name, 1, 0)] == []


@pytest.mark.exhaustive
def test_many_failed_checks_that_lost_a_line_still_fail() -> None:
    assert [words for name in ERRORS for words in silent_without(name, 8, 60)] == []


# --- sound machines --------------------------------------------------------------------------


@cache
def _read_by_rules() -> frozenset[str]:
    catalogue = shipped()
    return frozenset(
        fact for name in MUST_BE_SHOWN for fact in facts_read(catalogue, catalogue.rules[name])
    )


def _is_read(path: tuple[str | int, ...]) -> bool:
    fact = ".".join(str(part) for part in path if isinstance(part, str))
    return any(
        fact == read or fact.startswith(read + ".") or read.startswith(fact + ".")
        for read in _read_by_rules()
    )


def _machine(plain: Plain) -> Machine:
    machine = read_plain(copy.deepcopy(plain), headless=False)
    machine.facts["check_date"] = DAY
    return machine


def _results(plain: Plain) -> Results:
    return _results_of(_machine(plain))


def _results_of(machine: Machine) -> Results:
    return check_machine(machine, "sound", shipped(), Options(decided=True))


def _decided(results: Results) -> Counter[tuple[str, str]]:
    return Counter(
        {key: count for key, count in results.decided.items() if key[0] in MUST_BE_SHOWN}
    )


def swept(path: Path, axes: set[str] | None = None) -> list[str]:
    """The lines of a sound machine that are deleted without ``check`` or ``changes`` failing."""
    tree = load_machine(path).tree
    assert tree is not None
    plain: Plain = tree.plain
    old = _machine(plain)
    whole = _results_of(old)
    assert not whole.findings
    assert not whole.undecided_concerns
    silent = []
    for way in facts_of(plain):
        if way[0] != "axes" or len(way) < 3 or (axes and way[1] not in axes):
            continue
        if not _is_read(way[2:]):
            continue
        new = _machine(without(plain, [way]))
        thin = _results_of(new)
        both = {one["name"]: (one, two) for one, two in zip(old.axes, new.axes, strict=True)}
        lost = _decided(whole) - _decided(thin)
        open_now = {(each.rule, each.subject) for each in thin.undecided}
        collector = _ChangeCollector()
        collector.compare_findings(whole, thin, {}, set())
        told = {(each.rule, each.subject) for each in collector.lost_checks}
        kept = {name: name for name in ("", *plain["axes"])}
        fact = ".".join(str(part) for part in way[2:] if isinstance(part, str))
        changed = {way[1]: (way[1], {fact: "removed"})}
        ended = list(ended_checks(whole, thin, kept, changed, both, shipped()))
        told |= {(each.rule, each.subject) for each in ended if each.failure}
        if not (set(lost) & open_now) <= told or not set(lost) <= told | open_now:
            silent.append(f"{'.'.join(map(str, way))}: {lost}")
    return silent


def test_no_line_of_a_sound_table_is_deleted_in_silence() -> None:
    (table,) = [path for path in SOUND if path.suffix == ".json"]
    assert swept(table) == []


@pytest.mark.exhaustive
@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.name)
def test_no_line_of_any_sound_machine_is_deleted_in_silence(path: Path) -> None:
    assert swept(path) == []


def _undecided_without(
    path: Path, axis: str, fact: tuple[str | int, ...], concern: str
) -> UndecidedConcern:
    """The one concern of this name that an axis leaves undecided if it lost a fact."""
    tree = load_machine(path).tree
    assert tree is not None
    found = _results(without(tree.plain, [("axes", axis, *fact)])).undecided_concerns
    (named,) = [each for each in found if each.concern == concern]
    assert named.subject == axis
    return named


def test_the_speed_that_an_interlock_of_a_linear_axis_permits_is_no_line_to_delete() -> None:
    """Of a rotary axis only a warning caps this speed, so no error is lost with the line."""
    (hall,) = [path for path in SOUND if path.name == "hall.yaml"]
    named = _undecided_without(hall, "infeed_pusher", ("interlocks", 0, "max_speed"), "interlock")
    assert named.partly
    assert named.missing == ("axes.infeed_pusher.interlocks[0].max_speed",)


@pytest.mark.parametrize(
    ("fact", "concern"),
    [
        (("drive", "distinguishable_revolutions"), "turn counter"),
        (("encoder", "distinguishable_revolutions"), "turn counter"),
        (("encoder", "capability", "distinguishable_revolutions"), "turn counter"),
        (("drive", "counts_per_revolution"), "gearing"),
        (("encoder", "counts_per_revolution"), "gearing"),
        (("drive", "gear_ratio"), "gearing"),
        (("drive", "feed_constant"), "gearing"),
        (("drive", "gear"), "gearing"),
        (("drive", "supported_homing_methods"), "homing"),
        (("controller", "homing", "taught", "encoder_serial"), "homing"),
        (("interlocks", 0, "released_by"), "interlock"),
        (("interlocks", 0, "inhibits"), "interlock"),
    ],
)
def test_one_half_of_a_comparison_alone_is_a_failure(
    fact: tuple[str | int, ...], concern: str
) -> None:
    (table,) = [path for path in SOUND if path.suffix == ".json"]
    named = _undecided_without(table, "table", fact, concern)
    assert named.partly == (fact != ("encoder", "distinguishable_revolutions"))
    stated = ".".join(
        f"[{part}]" if isinstance(part, int) else part for part in ("axes", "table", *fact)
    ).replace(".[", "[")
    assert any(missing.startswith(stated) for missing in named.missing)


def random_thin(seed: int, plain: Plain) -> Plain:
    """A machine of which most is not stated yet."""
    rng = Random(seed)
    facts = facts_of(plain)
    return without(plain, [path for path in facts if rng.random() < 0.5])


def test_a_machine_of_which_little_is_stated_names_no_last_fact_that_is_stated() -> None:
    (table,) = [path for path in SOUND if path.suffix == ".json"]
    tree = load_machine(table).tree
    assert tree is not None
    for seed in range(20):
        plain = random_thin(seed, tree.plain)
        machine = read_plain(copy.deepcopy(plain), headless=False)
        machine.facts["check_date"] = DAY
        results = check_machine(machine, "thin", shipped(), Options())
        for each in results.undecided_concerns:
            assert each.missing
            assert not [fact for fact in each.missing if machine.written(fact.partition(" ")[0])]
