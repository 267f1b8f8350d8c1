"""Reports on many machines: the same bytes with all rows set aside, in memory that is bounded."""

from __future__ import annotations

import datetime
import gc
import json
import pickle
import tempfile
import tracemalloc
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.base import set_aside
from axisproof.base.errors import AxisproofError
from axisproof.base.lazy import replace
from axisproof.checking.assembling import RecordCollector, report_of
from axisproof.checking.record import Record, RecordResult
from axisproof.cli.check import render_and_output
from axisproof.findings.finding import LEVELS, Finding, Report, Tally, Undecided
from axisproof.findings.rows import Rows, joined
from axisproof.importing.entry import Candidate
from axisproof.report.formats import FORMS, rendered
from axisproof.report.json_pieces import json_pieces
from axisproof.report.rendering import RenderOptions, ordered_findings
from hypothesis import given
from hypothesis import strategies as st

from tests.batch.batch_helpers import RULES, SITE, archive
from tests.examples import examples
from tests.report.report_samples import FULL

DAY = datetime.date(2026, 6, 1)
Captured = pytest.CaptureFixture[str]


@pytest.fixture
def all_set_aside(monkeypatch: pytest.MonkeyPatch) -> None:
    """Not even the first rows and characters stay in memory."""
    monkeypatch.setattr(set_aside, "IN_MEMORY", 0)
    monkeypatch.setattr(set_aside, "TEXT_IN_MEMORY", 0)


def checked(plant: Path, **options: Any) -> tuple[Report, str]:
    """The report, and the text of the record."""
    asked: dict[str, Any] = {
        "rules": [plant / "site.rules"],
        "settings": plant / "site.yaml",
        "on": DAY,
        "waivers": plant / "waivers.json",
        "accepted": plant / "accepted.json",
    }
    texts: list[str] = []
    whole = api.CheckOptions(**asked | options)
    report = api.check([plant / "machines"], whole, recorded=lambda text: texts.extend(text))
    return report, "".join(texts)


@pytest.fixture(scope="module")
def covered(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A plant with findings that are waived and accepted, and a waiver that covers nothing."""
    plant = tmp_path_factory.mktemp("plant")
    (plant / "site.rules").write_text(RULES, "utf-8")
    (plant / "site.yaml").write_text(SITE, "utf-8")
    archive(plant / "machines", 3)
    report, _ = checked(plant, waivers=None, accepted=None)
    own = [each for each in report.findings if each.subject and "(" not in each.machine]
    first, second, *_ = own
    entry = {
        "rule": first.rule,
        "machine": first.machine,
        "axis": first.subject,
        "reason": "A guard is fitted.",
        "approved_by": "maintenance lead",
        "expires": "2026-12-31",
        "values": {"gantry.partner": "unstated"},
    }
    entries = [{**entry, "machine": "Nowhere"}, entry, entry]
    (plant / "waivers.json").write_text(json.dumps({"waivers": 1, "entries": entries}), "utf-8")
    only = replace(report, findings=(second,))
    (plant / "accepted.json").write_text(api.accepted_text(only, DAY), "utf-8")
    return plant


def require_the_same(
    plant: Path, monkeypatch: pytest.MonkeyPatch, forms: Iterable[str], **options: Any
) -> None:
    """Fail unless reports and records are the same, held in memory and set aside."""
    here, record = checked(plant, **options)
    monkeypatch.setattr(set_aside, "IN_MEMORY", 0)
    monkeypatch.setattr(set_aside, "TEXT_IN_MEMORY", 0)
    aside, record_aside = checked(plant, **options)
    assert isinstance(aside.findings, Rows)
    assert isinstance(here.findings, tuple)
    assert {each.waived.accepted for each in aside.findings if each.waived} == {True, False}
    assert any("(" in name for name in aside.machines)
    assert record_aside == record
    assert pickle.loads(pickle.dumps(aside)) == here
    look = RenderOptions(workings=True)
    for form in forms:
        assert "".join(rendered(form, aside, look)) == "".join(rendered(form, here, look)), form


def test_the_report_is_the_same_with_all_set_aside(
    covered: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    require_the_same(covered, monkeypatch, ("json", "sarif", "text"))


@pytest.mark.exhaustive
def test_every_form_is_the_same_with_all_set_aside(
    covered: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    every = {"workings": True, "every_outcome": True, "sketches": True}
    require_the_same(covered, monkeypatch, FORMS, **every)


@pytest.mark.exhaustive
@pytest.mark.usefixtures("all_set_aside")
def test_a_cache_gives_the_same_report_with_all_set_aside(covered: Path, tmp_path: Path) -> None:
    first = checked(covered, cache=tmp_path / "cache")
    assert checked(covered, cache=tmp_path / "cache") == first


@pytest.mark.parametrize("to_file", [True, False])
@pytest.mark.parametrize("form", ["json", "sarif"])
@pytest.mark.usefixtures("all_set_aside")
def test_an_error_in_the_middle_leaves_nothing_behind(
    form: str, to_file: bool, tmp_path: Path, capsys: Captured
) -> None:
    looks: list[int] = []
    failing = 0

    def findings() -> Iterator[Finding]:
        """Fail at one of the looks, after the last finding."""
        looks.append(1)
        yield from FULL.findings
        if len(looks) == failing:
            raise AxisproofError("no more")

    report = replace(FULL, findings=Rows(findings, len(FULL.findings)))

    def show(file: Path) -> None:
        render_and_output(
            *(report, report),
            form=form,
            output=file if to_file else None,
            force=False,
            fail_at=None,
            undecided_fails=False,
            width=None,
            look={},
            inputs=(),
        )

    show(tmp_path / "whole")
    text = (tmp_path / "whole").read_text() if to_file else capsys.readouterr().out
    assert text.count('"why"') == len(FULL.findings)
    failing = len(looks)  # the last look is the one that makes the text
    looks.clear()
    with pytest.raises(AxisproofError):
        show(tmp_path / "broken")
    assert capsys.readouterr().out == ""
    assert [each.name for each in tmp_path.iterdir()] == ["whole"] * to_file


@pytest.mark.usefixtures("all_set_aside")
def test_a_full_temporary_folder_is_told_in_one_message(monkeypatch: pytest.MonkeyPatch) -> None:
    def full(**_: Any) -> Any:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(tempfile, "TemporaryFile", full)
    with pytest.raises(AxisproofError, match="temporary files cannot be used: no space left"):
        set_aside.ValueFile()
    with pytest.raises(AxisproofError, match="temporary files"):
        set_aside.TextAside(["text"])


# Order ------------------------------------------------------------------------------------------

names = st.sampled_from("abc")


@examples(0.5)
@given(
    st.lists(names, max_size=4),
    st.lists(st.tuples(names, names), max_size=5),
    st.lists(st.tuples(names, names, st.sampled_from(LEVELS), names), max_size=9),
)
def test_findings_are_in_the_order_of_a_plain_sort(
    machines: list[str], tallies: list[tuple[str, str]], found: list[tuple[str, str, Any, str]]
) -> None:
    findings = tuple(
        Finding(rule, level, machine, subject, "t", str(number), "w", "r", "b")
        for number, (machine, subject, level, rule) in enumerate(found)
    )
    report = Report((), tuple(machines), 1, 1, findings, tallies=tuple(Tally(*t) for t in tallies))
    places = {name: number for number, name in enumerate(machines)}
    first = list(dict.fromkeys(tallies))

    def rank(finding: Finding) -> tuple[object, ...]:
        key = finding.machine, finding.subject
        place = places.get(finding.machine, len(places))
        at = first.index(key) if key in first else len(first)
        level = LEVELS.index(finding.level)
        return place, key[0], at, key[1], level, finding.rule, finding.message

    assert list(ordered_findings(report)) == sorted(findings, key=rank)
    long = replace(report, findings=Rows(lambda: findings), tallies=Rows(lambda: report.tallies))
    assert list(ordered_findings(long)) == sorted(findings, key=rank)


# Rows -------------------------------------------------------------------------------------------


def test_rows_are_a_sequence_like_a_tuple() -> None:
    plain = tuple(range(5))
    rows = Rows(lambda: plain)
    assert (len(rows), rows[1], rows[-1], list(reversed(rows))) == (5, 1, 4, [4, 3, 2, 1, 0])
    for part in (slice(2), slice(2, None), slice(None, None, 2), slice(None, None, -1)):
        assert rows[part] == plain[part]
    with pytest.raises(IndexError):
        _ = rows[5]
    assert rows == plain
    assert rows != plain[:4]
    assert rows != 5
    assert not Rows(tuple)
    assert joined(rows, [5]) == (*plain, 5)


@examples(0.3)
@given(
    st.recursive(
        st.none() | st.text(max_size=4) | st.integers(),
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner),
        max_leaves=12,
    )
)
def test_pieces_of_json_are_those_of_the_whole(plain: Any) -> None:
    def with_rows(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: with_rows(each) for key, each in value.items()}
        return Rows(lambda: value) if isinstance(value, list) else value

    whole = {"a": plain, "b": [plain, {"c": plain}]}
    expected = json.dumps(whole, indent=2) + "\n"
    assert "".join(json_pieces({"a": with_rows(plain), "b": [plain, {"c": with_rows(plain)}]})) == (
        expected
    )


# Memory -----------------------------------------------------------------------------------------


def records(number: int, undecided: int) -> Iterator[tuple[Candidate, Record]]:
    for each in range(number):
        name = f"Station {each:05d}"
        path = Path("archive") / f"line_{each // 100:03d}" / f"station_{each:05d}.yaml"
        tallies = tuple(Tally(name, axis, 100, 0, 0, 40) for axis in ("", "feed", "turn", "lift"))
        open_checks = tuple(
            Undecided(f"rule-{n}", "error", name, "feed", f"title {n}", (f"axes.feed.f{n}",), "")
            for n in range(undecided)
        )
        file = path.as_posix()
        made = Record(file, (file,), f"{each:040d}", True, name, 3, (), open_checks)
        yield Candidate(str(path), None, False, False), replace(made, tallies=tallies)


@pytest.mark.usefixtures("all_set_aside")
def test_a_machine_without_findings_costs_less_than_a_kilobyte() -> None:
    def kept(number: int) -> int:
        tracemalloc.start()
        try:
            candidates = [candidate for candidate, _ in records(number, 0)]
            collector = RecordCollector(candidates)
            for at, (_, record) in enumerate(records(number, undecided=5)):
                collector.add(at, RecordResult(record))
            report = report_of(collector.machines(), 100)
            assert len(report.undecided) == sum(1 for _ in report.undecided) == 5 * number
            gc.collect()
            return tracemalloc.get_traced_memory()[0]
        finally:
            tracemalloc.stop()

    kept(10)
    assert (kept(90) - kept(30)) / 60 < 1_000
