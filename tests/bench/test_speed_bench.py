"""The speed bench in small: its machines are what it takes them for, verdicts are equal.

Nothing here asserts on time.
"""

from __future__ import annotations

import dataclasses
import datetime
import importlib.util
from pathlib import Path

import pytest
from axisproof.api import CheckOptions, check
from axisproof.catalogue.catalogue import shipped
from axisproof.engine.engine import Options, check_machine
from axisproof.findings.finding import Report
from axisproof.machine.reader import read_plain

from tests.bench.speed import by_hand, machines, peers
from tests.bench.speed.by_cel import RULES
from tests.bench.speed.evaluators import EVALUATORS, Evaluator, RuleSubset, agree
from tests.bench.speed.run import MEASURES, main, measured
from tests.bench.speed.scale import BenchScale, SpeedBench
from tests.bench.speed.table import HEAD, MeasuredRow, markdown, text
from tests.bench.speed.timing import BenchError, in_turn
from tests.bench.speed.translation import CEL, PYTHON, translatable, translated
from tests.bench.speed.versions import RowMedian, compared, is_worse, medians
from tests.bench.speed.whole_checks import clean_check, slope

TINY = BenchScale(axes=6, repeats=1, starts=1, sizes=(2, 4), slopes=1, files=6, judged=6)

BY_EXTRA = {"validation": "jsonschema_rs", "rules": "celpy", "peers": "cel"}
"""Measures that need a package of the extra `bench`."""

INSTALLED = [
    name
    for name in MEASURES
    if name not in BY_EXTRA or importlib.util.find_spec(BY_EXTRA[name]) is not None
]


@pytest.fixture
def bench(tmp_path: Path) -> SpeedBench:
    return SpeedBench(TINY, tmp_path)


def checked(path: Path) -> Report:
    return check([path], CheckOptions(on=datetime.date.fromisoformat(machines.DAY)))


@pytest.mark.parametrize("axes", [1, 7, 40])
def test_clean_machines_have_no_finding_and_nothing_undecided(axes: int, tmp_path: Path) -> None:
    plain = machines.clean(axes)
    for path in (
        machines.write_yaml(plain, tmp_path / "m.yaml"),
        machines.write_json(plain, tmp_path / "m.json"),
    ):
        report = checked(path)
        assert (report.findings, report.undecided) == ((), ())
        assert axes <= report.axes <= axes + 1  # a gantry is not cut in two
        assert sum(tally.holds for tally in report.tallies) > 50 * axes


def test_the_same_machine_as_yaml_and_json_is_the_same(bench: SpeedBench) -> None:
    assert checked(bench.yaml("clean")).tallies == checked(bench.json("clean")).tallies


def test_no_two_axes_are_alike() -> None:
    axes = [str(axis) for axis in machines.clean(40)["axes"].values() if axis["gantry"] == "none"]
    assert len(set(axes)) == len(axes)


def test_a_machine_with_facts_left_out_is_undecided_and_not_faulty(bench: SpeedBench) -> None:
    whole, less = bench.of("clean"), bench.of("thinned")
    assert machines.count_facts(less) < 0.9 * machines.count_facts(whole)
    report = checked(bench.yaml("thinned"))
    assert report.findings == ()
    assert len(report.undecided) > report.axes


def test_a_faulty_machine_has_one_finding_on_each_axis(tmp_path: Path) -> None:
    bench = SpeedBench(dataclasses.replace(TINY, axes=100), tmp_path)  # axes of every kind
    report = checked(bench.json("faulty"))
    assert sorted(finding.subject for finding in report.findings) == sorted(
        bench.of("clean")["axes"]
    )


def test_facts_are_numbers_words_and_flags_wherever_they_stand() -> None:
    assert machines.count_facts({"a": 1, "b": {"c": "none"}, "d": [{"e": True}, 2, "x"]}) == 5


def test_a_folder_holds_different_clean_machines(bench: SpeedBench) -> None:
    report = checked(bench.many())
    assert len(set(report.machines)) == TINY.files
    assert (report.findings, report.undecided) == ((), ())


def test_sizes_beyond_one_machine_become_several(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(machines, "LARGEST", 4)
    report = checked(SpeedBench(TINY, tmp_path).sized(11))
    assert len(report.machines) == 3
    assert 5 <= report.axes <= 8
    assert (report.findings, report.undecided) == ((), ())


def test_repeated_axes_are_a_clean_machine_for_all_rules(bench: SpeedBench) -> None:
    machine = machines.repeated(bench.json("clean"), 3)
    results = check_machine(machine, "repeated", shipped(), Options())
    assert results.axes == 3 * len(bench.of("clean")["axes"])
    assert (results.findings, results.undecided) == ([], [])


def test_rules_across_axes_are_found_by_what_they_read() -> None:
    found = machines.across_axes(shipped())
    assert {"unique-node-addresses", "gantry-has-one-leader", "drive-found-on-network"} <= found
    assert "hard-stops-in-order" not in found


def test_a_file_that_is_not_clean_is_not_measured(bench: SpeedBench) -> None:
    with pytest.raises(BenchError, match=r"faulty\.yaml is not clean"):
        clean_check(bench.yaml("faulty"))


def test_work_is_done_in_turn() -> None:
    order: list[str] = []

    def one(name: str) -> float:
        order.append(name)
        return float(len(order))

    found = in_turn(3, {"a": lambda: one("a"), "b": lambda: one("b")})
    assert order == ["a", "b"] * 3
    assert found == {"a": [1, 3, 5], "b": [2, 4, 6]}


def test_the_slope_is_the_power_of_the_growth() -> None:
    sizes = (100, 1_000, 10_000)
    assert slope(sizes, [3 * size for size in sizes]) == pytest.approx(1)
    assert slope(sizes, [size**2 for size in sizes]) == pytest.approx(2)


# --- evaluators -----------------------------------------------------------------------------------

PACKAGE = {"cel-python": "celpy", "common-expression-language": "cel"}
SUBSET = RuleSubset.of_shipped()


def test_at_least_fifteen_shipped_rules_are_translated() -> None:
    rules = translatable(shipped())
    assert len(rules) == len(SUBSET.functions) >= 15
    assert {rule.subject for rule in rules} == {"axis"}


def test_rules_are_translated_word_for_word() -> None:
    rule = shipped().rules["software-limits-in-order"]
    assert translated(rule, shipped(), PYTHON).require == (
        "(controller_software_limits_min < controller_software_limits_max)"
    )
    assert translated(rule, shipped(), CEL).when == (
        '((controller_type == "linear") && !((controller_software_limits == null)))'
    )


@pytest.mark.parametrize("evaluator", EVALUATORS, ids=lambda evaluator: evaluator.name)
def test_evaluators_say_what_axisproof_says(evaluator: Evaluator, bench: SpeedBench) -> None:
    pytest.importorskip(PACKAGE.get(evaluator.name, evaluator.name.partition(",")[0]))
    clean, faulty, thinned = (read_plain(each, headless=False) for each in bench.judged())
    for machine in (clean, faulty, thinned) if evaluator.unknown else (clean, faulty):
        agree(SUBSET, evaluator, machine)
    said = {verdict for axis in SUBSET.own(clean) for verdict in axis}
    assert said == {1, 2}
    assert sum(axis.count(0) for axis in SUBSET.own(faulty)) > len(faulty.axes)
    assert None in {verdict for axis in SUBSET.own(thinned) for verdict in axis}


def test_another_verdict_is_noticed(bench: SpeedBench) -> None:
    evaluator = next(each for each in EVALUATORS if each.name == "simpleeval, floats")
    wrong = dataclasses.replace(
        evaluator, make=lambda rules: lambda facts: [verdict for verdict in (1,) for _ in rules]
    )
    with pytest.raises(BenchError, match="simpleeval, floats says 1 of"):
        agree(SUBSET, wrong, read_plain(bench.judged()[0], headless=False))


# --- the table ------------------------------------------------------------------------------------


def test_a_row_has_the_median_the_quartiles_and_its_goal() -> None:
    row = MeasuredRow("m", "a / b", (1, 2, 3, 4, 100), most=2.5)
    assert row.cells() == ("a / b", "3.00", "2.00–4.00", "≤ 2.5", "missed", "")
    assert MeasuredRow("m", "a / b", (31.25,), least=30).cells()[1:5] == (
        "31.2",
        "31.2–31.2",
        "≥ 30",
        "met",
    )
    assert MeasuredRow("m", "a / b", (0.25, 0.5), note="so").cells()[3:] == ("", "stated", "so")


@pytest.mark.parametrize(
    ("goal", "missed"), [({"most": 2}, False), ({"most": 1.9}, True), ({"least": 2.1}, True)]
)
def test_a_goal_is_missed_by_the_median(goal: dict[str, float], missed: bool) -> None:
    assert MeasuredRow("m", "a / b", (1, 2, 9), **goal).missed is missed  # type: ignore[arg-type]


def test_both_tables_show_every_row() -> None:
    rows = [MeasuredRow("m", "one", (1,), most=2, note="how one"), MeasuredRow("n", "two", (3,))]
    lines = markdown(rows)
    assert lines[0] == "| ratio | median | quartiles | goal |  | how |"
    assert all(line.count("|") == len(HEAD) + 1 for line in lines)
    assert lines[2] == "| one | 1.00 | 1.00–1.00 | ≤ 2 | met | how one |"
    assert [line.split()[0] for line in text(rows)] == ["ratio", "one", "how", "two"]


@pytest.fixture(scope="module")
def rows() -> list[MeasuredRow]:
    return list(measured(TINY, INSTALLED))


@pytest.mark.exhaustive
def test_every_measure_gives_rows_with_what_was_measured(rows: list[MeasuredRow]) -> None:
    assert [*dict.fromkeys(row.measure for row in rows)] == INSTALLED
    assert len({row.what for row in rows}) == len(rows)
    for row in rows:
        assert len(row.values) >= 1
        if row.measure not in (
            "growth",
            "joins",
            "clash",
        ):  # a slope over tiny sizes may be anything
            assert min(row.values) > 0
        low, high = row.quartiles
        assert low <= row.median <= high
        assert row.note


def test_the_command_prints_the_rows_it_is_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    status = main(["--only", "memory", "--markdown"], TINY)
    lines = capsys.readouterr().out.splitlines()
    assert lines[2].startswith("| bytes for each fact")
    assert status == int("| missed |" in lines[2])
    assert "up to 4 axes" in lines[-1]


def test_the_command_names_a_package_that_is_missing(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def lacking(bench: SpeedBench) -> None:
        raise ModuleNotFoundError("No module named 'nowhere'", name="nowhere")

    monkeypatch.setitem(MEASURES, "memory", lacking)
    assert main(["--only", "memory"], TINY) == 2
    assert "there is no nowhere: pip install '.[bench]'" in capsys.readouterr().err


def test_rows_of_two_versions_are_compared_in_the_direction_of_their_goal() -> None:
    rows = [
        MeasuredRow("m", "a / b", (2,), most=3),
        MeasuredRow("m", "c / d", (40,), least=30),
        MeasuredRow("m", "e", (1,)),
    ]
    table = "\n".join(markdown(rows))
    found = medians(table)
    assert {what: each.goal for what, each in found.items()} == {
        "a / b": "≤ 3",
        "c / d": "≥ 30",
        "e": "",
    }
    later = {**found, "c / d": RowMedian(36, "≥ 30"), "new": RowMedian(1, "")}
    told = {what: (old, new) for what, _, old, new in compared([found], [later])}
    assert told == {"a / b": (2, 2), "c / d": (40, 36), "e": (1, 1)}
    assert is_worse("≥ 30", 40, 36)
    assert not is_worse("≥ 30", 36, 40)
    assert is_worse("≤ 3", 2, 2.2)
    assert not is_worse("≤ 3", 2, 2.05)
    assert not is_worse("", 1, 9)


# --- peers ----------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def planted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A complete machine with axes of every kind, with each of the twenty rules broken."""
    for package in ("jsonschema_rs", "cel"):
        pytest.importorskip(package)
    folder = tmp_path_factory.mktemp("peers")
    return machines.write_json(peers.planted(machines.clean(100)), folder / "planted.json")


@pytest.mark.parametrize("name", peers.PEERS)
def test_a_peer_finds_what_axisproof_finds(name: str, planted: Path) -> None:
    assert set(peers.PLANTED) == set(RULES)
    assert {rule for _, rule in peers.agree(name, planted)} == set(RULES)


def test_a_peer_that_finds_something_else_is_noticed(
    planted: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(by_hand, "judge", lambda machine: [])
    with pytest.raises(BenchError, match="by_hand and axisproof differ on planted"):
        peers.agree("by_hand", planted)


@pytest.mark.exhaustive
@pytest.mark.parametrize(("name", "told"), [("by_hand", {5}), ("by_cel", {0})])
def test_what_a_peer_cannot_tell_is_shown_by_cases(
    name: str, told: set[int], planted: Path
) -> None:
    missed = peers.cannot_tell(name, machines.clean(40), planted.parent)
    assert missed == [case.name for n, case in enumerate(peers.CASES) if n not in told]


def test_lines_are_counted_without_texts_and_examples() -> None:
    bare, whole = peers.rule_lines(shipped())
    assert 3 * len(RULES) < bare < whole
    assert peers.code_lines(peers.most_memory) == 6
