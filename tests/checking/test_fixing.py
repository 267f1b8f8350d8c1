"""Writing computed values: only their own bytes change, only safe ones, a whole file or nothing."""

from __future__ import annotations

import datetime
import io
import json
import os
import re
import shutil
import stat
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from axisproof import api
from axisproof.base.errors import Place, UsageError
from axisproof.catalogue.catalogue import shipped
from axisproof.checking.fixing import edit_for
from axisproof.cli import main as cli
from axisproof.findings.finding import Fix
from axisproof.source.parsing import parse
from axisproof.source.reader import read_source
from hypothesis import given
from hypothesis import strategies as st

from tests.captured import Captured
from tests.examples import examples

FIXTURES = Path(__file__).parents[2] / "fixtures"
SHORT = FIXTURES / "faults" / "ratio-as-exact-as-on-record.yaml"

RULE = """
rule {name}
  level note
  title "t"
  each axis
  when {when}
  require {fact} = {value}
  say "s"
  why "w"
  remedy "r"
  set {fact} to {value} safe
  basis "b"
  passes "one"
    {path} = {good}
    axis.motion = {motion}
  fails "two"
    {path} = {bad}
    axis.motion = {motion}
"""


def site_rule(name: str, fact: str, value: str, good: str, bad: str, motion: str = "linear") -> str:
    when = f"axis.motion is {motion}"
    return RULE.format(
        name=name, fact=fact, path=fact, value=value, good=good, bad=bad, motion=motion, when=when
    )


def node_rule(number: int, name: str = "site-node") -> str:
    return site_rule(name, "axis.drive.node", str(number), str(number), str(number + 1))


def velocity_rule(mm_per_s: int) -> str:
    speed = f"{mm_per_s}mm/s"
    return site_rule(
        "site-velocity",
        "axis.controller.max_velocity",
        speed,
        f'"{mm_per_s} mm/s"',
        f'"{mm_per_s + 1} mm/s"',
    )


def ratio_rule(top: int) -> str:
    """A value that stands in quotes or not, bare in YAML and never bare in JSON."""
    return site_rule(
        "site-plate", "axis.mechanics.stated_ratio", f"{top} / 7", f'"{top}/7"', f'"{top + 7}/7"'
    )


def rules_file(folder: Path, *rules: str) -> Path:
    path = folder / "site.rules"
    path.write_text("language 2\n" + "".join(rules), "utf-8")
    return path


FILES = [
    *sorted((FIXTURES / "faults").glob("*.yaml")),
    FIXTURES / "sound" / "table.json",
    FIXTURES / "demo" / "after_the_weekend.yaml",
]


@examples(0.25)
@given(
    file=st.sampled_from(FILES),
    line_end=st.sampled_from(["\n", "\r\n"]),
    bom=st.booleans(),
    node=st.integers(1, 9000),
    speed=st.integers(1, 10**9),
    top=st.integers(1, 999).filter(lambda n: n % 7),
)
def test_only_the_bytes_of_values_change_and_a_second_run_changes_nothing(
    file: Path, line_end: str, bom: bool, node: int, speed: int, top: int
) -> None:
    with TemporaryDirectory() as name:
        folder = Path(name)
        rules = rules_file(folder, node_rule(node), velocity_rule(speed), ratio_rule(top))
        copy = folder / file.name
        text = file.read_text("utf-8").replace("\n", line_end)
        before = (b"\xef\xbb\xbf" if bom else b"") + text.encode()
        copy.write_bytes(before)
        copy.chmod(0o640)
        found = api.fixes([copy], api.CheckOptions(rules=[rules]))
        assert copy.read_bytes() == before
        api.write_fixes(found.changes)
        after = copy.read_bytes()
        assert stat.S_IMODE(copy.stat().st_mode) == 0o640

        edits = [edit for change in found.changes for edit in change.edits]
        lines = re.split("(?<=\n)", text)
        for edit in sorted(edits, key=lambda edit: edit.place, reverse=True):
            line = lines[edit.place.line - 1]
            start, end = edit.place.column - 1, edit.place.end_column - 1
            assert line[start:end] == edit.old
            lines[edit.place.line - 1] = line[:start] + edit.new + line[end:]
        expected = (b"\xef\xbb\xbf" if bom else b"") + "".join(lines).encode()
        assert after == expected

        again = api.fixes([copy], api.CheckOptions(rules=[rules]))
        assert again.changes == ()
        names = {finding.rule for finding in again.report.findings}
        assert not names & {"site-node", "site-velocity", "site-plate"}


def test_a_ratio_typed_short_is_restated_and_its_comment_stays(tmp_path: Path) -> None:
    copy = Path(shutil.copy(SHORT, tmp_path))
    found = api.fixes([copy])
    assert [finding.rule for finding in found.settled] == ["ratio-as-exact-as-on-record"]
    assert found.report.findings == ()
    api.write_fixes(found.changes)
    old, new = SHORT.read_text("utf-8"), copy.read_text("utf-8")
    assert new == old.replace("load_turn: 3.333,", "load_turn: 10/3,")
    assert "# the fault" in new


def test_no_shipped_rule_writes_what_is_set_in_a_device() -> None:
    # A value of drive, encoder or controller that is written from a desk says what they are not
    # set to, so that the finding falls silent. Mechanics are described, and set nowhere.
    safe = {}
    for rule in shipped().trees.rules:
        if rule.fix and rule.fix.safe:
            over = rule.fix.over
            safe[rule.name] = over.kids[0].data[1] if over else rule.fix.target.data[1]
    assert safe
    assert all(path.startswith("mechanics.") for path in safe.values()), safe


def test_a_value_that_needs_someone_at_the_machine_is_never_written() -> None:
    offered = 0
    for file in FILES:
        found = api.fixes([file])
        offered += found.at_machine
        for finding in found.settled:
            assert finding.fix
            assert finding.fix.safe
    assert offered >= 5


@pytest.mark.parametrize(
    ("file", "old", "value", "new"),
    [
        ("a.yaml", "3.333", "10/3", "10/3"),
        ("a.yaml", '"3.333"', "10/3", '"10/3"'),
        ("a.yaml", "'3.333'", "10/3", "'10/3'"),
        ("a.yaml", "'a'", "it's", "'it''s'"),
        ("a.yaml", '"5 mm"', "6 mm", '"6 mm"'),
        ("a.yaml", "1", "x: #y", '"x: #y"'),
        ("a.json", "3.333", "10/3", '"10/3"'),
        ("a.json", "65536", "65534", "65534"),
        ("a.json", '"5 mm"', "6 mm", '"6 mm"'),
        ("A.JSON", "5", "6 mm", '"6 mm"'),
        ("a.yaml", "&ratio 3.333", "10/3", None),
        ("a.yaml", "*ratio", "10/3", None),
        ("a.yaml", "!!str 3.333", "10/3", None),
        ("a.yaml", "{a: 1}", "10/3", None),
    ],
)
def test_a_value_keeps_the_quotes_it_has_and_gets_those_it_needs(
    file: str, old: str, value: str, new: str | None
) -> None:
    place = Place(file, 1, 4, 1, 4 + len(old))
    edit = edit_for(Fix("axes.a.b", value, True, place, f"a: {old} # c"))
    assert (edit.new if edit else None) == new
    assert edit is None or edit.old == old


def test_a_value_over_several_lines_is_left_alone() -> None:
    assert edit_for(Fix("axes.a.b", "1", True, Place("a.yaml", 1, 4, 2, 3), "a: 1")) is None


MACHINE = """format: 1
machine: M
axes:
  a:
    motion: linear
    drive: {node: 1}
"""


def written(folder: Path, text: str = MACHINE, name: str = "m.yaml") -> Path:
    path = folder / name
    path.write_text(text, "utf-8")
    return path


def test_rules_that_want_one_value_differently_are_told_and_nothing_is_written(
    tmp_path: Path,
) -> None:
    file = written(tmp_path)
    rules = rules_file(tmp_path, node_rule(5), node_rule(6, "other-node"))
    with pytest.raises(UsageError, match="one rule wants 5 here, another 6"):
        api.fixes([file], api.CheckOptions(rules=[rules]))
    assert file.read_text("utf-8") == MACHINE


def test_rules_that_never_come_to_rest_are_told(tmp_path: Path) -> None:
    # Each lets the other's fact follow its own, one apart.
    chase = """
rule first-follows level note title "t" each axis
  require axis.drive.node = axis.mechanics.stated_ratio + 1
  say "s" why "w" remedy "r" basis "b"
  set axis.drive.node to axis.mechanics.stated_ratio + 1 safe
  passes "p" axis.drive.node = 3 axis.mechanics.stated_ratio = 2
  fails "f" axis.drive.node = 4 axis.mechanics.stated_ratio = 2
rule second-follows level note title "t" each axis
  require axis.mechanics.stated_ratio = axis.drive.node + 1
  say "s" why "w" remedy "r" basis "b"
  set axis.mechanics.stated_ratio to axis.drive.node + 1 safe
  passes "p" axis.drive.node = 1 axis.mechanics.stated_ratio = 2
  fails "f" axis.drive.node = 4 axis.mechanics.stated_ratio = 2
"""
    text = MACHINE + "    mechanics: {stated_ratio: 1}\n"
    file = written(tmp_path, text)
    with pytest.raises(UsageError, match="after 10 rounds"):
        api.fixes([file], api.CheckOptions(rules=[rules_file(tmp_path, chase)]))
    assert file.read_text("utf-8") == text


def test_a_value_that_others_refer_to_is_not_changed_for_them(tmp_path: Path) -> None:
    text = MACHINE.replace("{node: 1}", "{node: &n 1, position_register: {bits: *n}}")
    file = written(tmp_path, text)
    assert (
        api.fixes([file], api.CheckOptions(rules=[rules_file(tmp_path, node_rule(5))])).changes
        == ()
    )


def test_a_fact_that_two_files_state_is_left_to_people(tmp_path: Path) -> None:
    written(tmp_path, "format: 1\nmachine: M\naxes: {a: {drive: {node: 1}}}\n", "part.yaml")
    file = written(tmp_path, MACHINE.replace("axes:", "include: [part.yaml]\naxes:"))
    found = api.fixes([file], api.CheckOptions(rules=[rules_file(tmp_path, node_rule(5))]))
    assert found.changes == ()
    assert "site-node" in {finding.rule for finding in found.report.findings}


def test_what_a_source_claims_is_not_rewritten(tmp_path: Path) -> None:
    claim = "{node: {claims: [{value: 1, source: plate}]}}"
    file = written(tmp_path, MACHINE.replace("{node: 1}", claim))
    found = api.fixes([file], api.CheckOptions(rules=[rules_file(tmp_path, node_rule(5))]))
    assert found.changes == ()
    assert "site-node" in {finding.rule for finding in found.report.findings}


def test_a_file_that_changed_since_is_not_written(tmp_path: Path) -> None:
    file = written(tmp_path)
    found = api.fixes([file], api.CheckOptions(rules=[rules_file(tmp_path, node_rule(5))]))
    file.write_text(MACHINE + "# later\n", "utf-8")
    with pytest.raises(UsageError, match="has changed since it was checked"):
        api.write_fixes(found.changes)
    assert file.read_text("utf-8") == MACHINE + "# later\n"


def test_a_failed_write_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = written(tmp_path)
    found = api.fixes([file], api.CheckOptions(rules=[rules_file(tmp_path, node_rule(5))]))

    def full(*args: Any, **options: Any) -> None:
        raise OSError(28, "no space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(UsageError, match="no space"):
        api.write_fixes(found.changes)
    assert file.read_text("utf-8") == MACHINE
    assert sorted(path.name for path in tmp_path.iterdir()) == ["m.yaml", "site.rules"]


def test_a_link_is_followed_and_stays_a_link(tmp_path: Path) -> None:
    real = written(tmp_path, name="real.yaml")
    link = tmp_path / "link.yaml"
    link.symlink_to(real)
    found = api.fixes([link], api.CheckOptions(rules=[rules_file(tmp_path, node_rule(5))]))
    api.write_fixes(found.changes)
    assert link.is_symlink()
    assert real.read_text("utf-8") == MACHINE.replace("node: 1", "node: 5")


def test_texts_stand_for_files_and_leave_them_alone(tmp_path: Path) -> None:
    file = written(tmp_path)
    text = MACHINE.replace("node: 1", "node: 7")
    rules = rules_file(tmp_path, node_rule(7))
    assert "site-node" in {
        each.rule for each in api.check([file], api.CheckOptions(rules=[rules])).findings
    }
    report = api.check([file], api.CheckOptions(rules=[rules], texts={file: text}))
    assert "site-node" not in {each.rule for each in report.findings}
    assert (
        api.check([str(file)], api.CheckOptions(rules=[rules], texts={str(file): text})).findings
        == ()
    )
    assert parse(read_source(file)) == parse(read_source(written(tmp_path, MACHINE, "b.yaml")))


# The command ------------------------------------------------------------------------------------


def test_fix_shows_the_change_and_writes_nothing_unasked(
    tmp_path: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = Path(shutil.copy(SHORT, tmp_path))
    monkeypatch.setattr(sys, "stdin", io.StringIO("y\n"))  # no terminal, so nobody to ask
    assert cli.run(["fix", str(copy)]) == 1
    shown = capsys.readouterr().out
    assert "-        - {kind: gearbox, motor_turns_per_load_turn: 3.333, reversing" in shown
    assert "+        - {kind: gearbox, motor_turns_per_load_turn: 10/3, reversing" in shown
    assert "Nothing was written. --yes writes without asking." in shown
    assert copy.read_bytes() == SHORT.read_bytes()


@pytest.mark.parametrize(("answer", "status"), [("y\n", 0), ("n\n", 1), ("\n", 1)])
def test_fix_asks_at_a_terminal(
    tmp_path: Path,
    capsys: Captured,
    monkeypatch: pytest.MonkeyPatch,
    answer: str,
    status: int,
) -> None:
    copy = Path(shutil.copy(SHORT, tmp_path))
    terminal = io.StringIO(answer)
    monkeypatch.setattr(terminal, "isatty", lambda: True, raising=False)
    monkeypatch.setattr(sys, "stdin", terminal)
    assert cli.run(["fix", str(copy)]) == status
    assert "Write this value?" in capsys.readouterr().out
    assert (copy.read_bytes() != SHORT.read_bytes()) == (status == 0)


def test_fix_with_yes_writes_and_then_has_nothing_to_write(
    tmp_path: Path, capsys: Captured
) -> None:
    copy = Path(shutil.copy(SHORT, tmp_path))
    assert cli.run(["fix", str(copy), "--yes"]) == 0
    assert f"Written: {copy}." in capsys.readouterr().out
    once = copy.read_bytes()
    assert cli.run(["fix", str(copy), "--yes"]) == 0
    assert capsys.readouterr().out == "There is no value to write.\n"
    assert copy.read_bytes() == once


def waivers_for_short(folder: Path, expires: str) -> Path:
    waiver = {
        "rule": SHORT.stem,
        "machine": "Bottling hall",
        "axis": "crate_shift",
        "reason": "The plate is read out at the next stop.",
        "approved_by": "maintenance lead",
        "expires": expires,
        "values": {"mechanics.stages[0].motor_turns_per_load_turn": "3.333"},
    }
    path = folder / "waivers.json"
    path.write_text(json.dumps({"waivers": 1, "entries": [waiver]}), "utf-8")
    return path


DAY = ["--on", "2026-03-02"]


def test_what_is_waived_is_not_written_until_the_waiver_lapses(
    tmp_path: Path, capsys: Captured
) -> None:
    copy = Path(shutil.copy(SHORT, tmp_path))
    waivers = waivers_for_short(tmp_path, "2026-03-02")
    command = ["fix", str(copy), "--yes", "--waivers", str(waivers)]
    assert cli.run([*command, *DAY]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert told == (
        "There is no value to write. With that, 1 finding is left (1 waived). "
        "`axisproof check` shows them."
    )
    assert copy.read_bytes() == SHORT.read_bytes()
    assert cli.run([*command, "--on", "2026-03-03"]) == 0
    assert f"Written: {copy}." in capsys.readouterr().out
    assert copy.read_bytes() != SHORT.read_bytes()


def test_what_is_accepted_is_not_written(tmp_path: Path, capsys: Captured) -> None:
    copy = Path(shutil.copy(SHORT, tmp_path))
    accepted = tmp_path / "accepted.json"
    assert cli.run(["accept", str(copy), "--output", str(accepted), *DAY]) == 0
    capsys.readouterr()
    assert cli.run(["fix", str(copy), "--yes", "--accepted", str(accepted), *DAY]) == 0
    told = capsys.readouterr().out
    assert told.startswith("There is no value to write.\n")
    assert "(1 accepted)" in told
    assert copy.read_bytes() == SHORT.read_bytes()


def test_what_counts_is_written_beside_what_is_waived(tmp_path: Path) -> None:
    """The second round reads a text that is on no disk, and the waivers go with it."""
    copy = Path(shutil.copy(SHORT, tmp_path))
    waivers = waivers_for_short(tmp_path, "2026-03-02")
    found = api.fixes(
        [copy],
        api.CheckOptions(
            rules=[rules_file(tmp_path, node_rule(9))],
            on=datetime.date(2026, 3, 2),
            waivers=waivers,
        ),
    )
    edits = [edit.fact for change in found.changes for edit in change.edits]
    assert edits
    assert all(fact.endswith("drive.node") for fact in edits)
    assert SHORT.stem in [each.rule for each in found.report.findings if each.waived]


@pytest.mark.parametrize("option", ["--waivers", "--accepted"])
def test_a_bad_file_of_what_is_set_aside_is_one_message_and_nothing_is_written(
    option: str, tmp_path: Path, capsys: Captured
) -> None:
    copy = Path(shutil.copy(SHORT, tmp_path))
    bad = tmp_path / "bad.yaml"
    bad.write_text("waivers: 1\naccepted: 1\n", "utf-8")
    assert cli.run(["fix", str(copy), "--yes", option, str(bad)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "bad.yaml" in captured.err
    assert captured.err.startswith("Unusable input: ")
    assert copy.read_bytes() == SHORT.read_bytes()


def test_fix_says_what_it_leaves(capsys: Captured) -> None:
    assert cli.run(["fix", str(FIXTURES / "faults" / "turn-counts-match.yaml"), "--yes"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert told == (
        "There is no value to write. With that, 1 finding is left, 1 of them with a value that "
        "needs work at the machine. `axisproof check` shows them."
    )
