"""An archive split over several checks and joined again: the report of one check, to the byte."""

from __future__ import annotations

import copy
import datetime
import json
import shlex
import shutil
from collections.abc import Callable, Iterable
from glob import glob
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.base.errors import AxisproofError, InputError, UsageError
from axisproof.batch import shards as sharding
from axisproof.batch.shards import Shard, parse_shard
from axisproof.cli import main as cli
from axisproof.report.formats import FORMS
from hypothesis import given
from hypothesis import strategies as st

from tests.batch.batch_helpers import RULES, SITE, archive
from tests.captured import Captured
from tests.examples import examples

DAY = datetime.date(2026, 6, 1)
ALL = ["--workings", "--every-outcome", "--pictures"]


@pytest.fixture(scope="module")
def plant(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An archive, and what checks of its three shards recorded."""
    folder = tmp_path_factory.mktemp("plant")
    (folder / "site.rules").write_text(RULES, "utf-8")
    (folder / "site.yaml").write_text(SITE, "utf-8")
    machines = archive(folder / "machines", 9)
    (machines / "a_part.yaml").write_text("description: of several files\n", "utf-8")
    path = machines / "m006.yaml"
    path.write_text("include: [a_part.yaml]\n" + path.read_text("utf-8"), "utf-8")
    for number in (1, 2, 3):
        one = ["--shard", f"{number}/3", "--record", str(part(folder, number))]
        assert cli.run(check(folder, *one, *ALL)) == 1
    return folder


def part(plant: Path, number: int) -> Path:
    return plant / f"shard-{number}.json"


def check(plant: Path, *more: str) -> list[str]:
    site = ["--rules", str(plant / "site.rules"), "--settings", str(plant / "site.yaml")]
    return ["check", str(plant / "machines"), "--on", "2026-06-01", *site, *more]


def merge(plant: Path, *more: str, numbers: tuple[int, ...] = (1, 2, 3)) -> list[str]:
    return ["merge", *(str(part(plant, number)) for number in numbers), *more]


@given(st.lists(st.integers(), max_size=60), st.integers(1, 70))
def test_every_file_is_in_one_shard_and_the_shards_are_alike_in_size(
    files: list[int], of: int
) -> None:
    shares = [Shard(number, of).share(files) for number in range(1, of + 1)]
    assert sorted(each for share in shares for each in share) == sorted(files)
    numbered = list(enumerate(files))
    places = [place for n in range(1, of + 1) for place, _ in Shard(n, of).share(numbered)]
    assert sorted(places) == list(range(len(files)))
    sizes = {len(share) for share in shares}
    assert max(sizes) - min(sizes) <= 1
    assert shares == [Shard(number, of).share(files) for number in range(1, of + 1)]


@given(st.integers(-3, 12), st.integers(-3, 12))
def test_a_shard_is_a_number_of_a_number(number: int, of: int) -> None:
    if 1 <= number <= of:
        assert parse_shard(f"{number}/{of}") == Shard(number, of)
        return
    with pytest.raises(UsageError, match=r"is no share of the files\. Expected: K/N"):
        parse_shard(f"{number}/{of}")


@pytest.mark.parametrize(
    "text", ["", "1", "1/", "/1", "1/2/3", "one/two", "1/999999", "²/3", " 1/2"]
)
def test_what_is_no_shard_is_refused(text: str) -> None:
    with pytest.raises(UsageError, match="is no share of the files"):
        parse_shard(text)


@pytest.mark.exhaustive
@pytest.mark.parametrize("form", FORMS)
def test_the_joined_report_is_that_of_one_check(plant: Path, capsys: Captured, form: str) -> None:
    status = cli.run(check(plant, "--format", form, *ALL))
    one = capsys.readouterr().out
    assert cli.run(merge(plant, "--format", form)) == status == 1
    assert capsys.readouterr().out == one
    assert cli.run(merge(plant, "--format", form, numbers=(3, 1, 2))) == status
    assert capsys.readouterr().out == one  # whatever the order


@pytest.mark.exhaustive
@pytest.mark.parametrize("of", [1, 2, 5, 40])
def test_any_number_of_shards_makes_the_same_report(tmp_path: Path, of: int) -> None:
    machines = archive(tmp_path / "machines", 4)
    parts = []
    for number in range(1, of + 1):
        kept: list[Iterable[str]] = []
        api.check(
            [machines], api.CheckOptions(on=DAY, shard=f"{number}/{of}"), recorded=kept.append
        )
        parts.append(tmp_path / f"{number}.json")
        parts[-1].write_text("".join(kept[0]), "utf-8")
    assert api.merge(parts)[0] == api.check([machines], api.CheckOptions(on=DAY))


def test_no_machine_is_in_two_shards_and_none_is_left_out(plant: Path) -> None:
    whole = api.check([plant / "machines"], api.CheckOptions(on=DAY))
    shares = [
        api.check([plant / "machines"], api.CheckOptions(on=DAY, shard=f"{n}/3")) for n in (1, 2, 3)
    ]
    bare = [name.split(" (")[0] for name in whole.machines]
    found = [name.split(" (")[0] for share in shares for name in share.machines]
    assert sorted(found) == sorted(bare)
    assert sum(share.axes for share in shares) == whole.axes
    assert sum(len(share.findings) for share in shares) == len(whole.findings)
    # a part that a machine of another shard includes is no machine here either
    others = [share for share in shares if not any("m006" in file for file in share.files)]
    assert len(others) == 2
    assert not any("a_part" in file for share in others for file in share.files)


def test_a_shard_without_files_passes(tmp_path: Path, capsys: Captured) -> None:
    machines = archive(tmp_path / "machines", 1)
    arguments = ["check", str(machines), "--shard", "30/30", "--undecided-fails"]
    assert cli.run([*arguments, "--record", str(tmp_path / "r.json")]) == 0
    assert "Checked 0 axes of 0 machines" in capsys.readouterr().out
    assert (tmp_path / "r.json").exists()


@pytest.mark.exhaustive
def test_waivers_and_the_accepted_set_are_judged_when_all_is_joined(
    plant: Path, tmp_path: Path, capsys: Captured
) -> None:
    whole = api.check([plant / "machines"], api.CheckOptions(on=DAY, rules=[plant / "site.rules"]))
    accepted = tmp_path / "accepted.json"
    accepted.write_text(api.accepted_text(whole, DAY), "utf-8")
    finding = next(f for f in whole.findings if f.subject and "(" not in f.machine)
    waivers = tmp_path / "waivers.yaml"
    waivers.write_text(
        f"""waivers: 1
entries:
  - {{rule: {finding.rule}, machine: {finding.machine}, axis: {finding.subject}, reason: known,
     approved_by: head of maintenance, expires: 2030-01-01, values: {{motion: linear}}}}
  - {{rule: {finding.rule}, machine: nowhere, axis: {finding.subject}, reason: known,
     approved_by: head of maintenance, expires: 2030-01-01, values: {{motion: linear}}}}
""",
        "utf-8",
    )
    beside = ["--waivers", str(waivers), "--accepted", str(accepted), "--format", "json"]
    status = cli.run(check(plant, *beside, *ALL))
    one = capsys.readouterr().out
    assert '"approved_by"' in one
    rules = ["--rules", str(plant / "site.rules")]
    assert cli.run(merge(plant, *beside, *rules)) == status
    assert capsys.readouterr().out == one
    assert cli.run(merge(plant, *beside)) == 2
    assert "made with other rules" in capsys.readouterr().err
    assert cli.run(check(plant, "--shard", "1/2", "--accepted", str(accepted))) == 2
    assert "axisproof merge" in " ".join(capsys.readouterr().err.split())


def test_a_machine_that_changed_since_is_not_waived(tmp_path: Path, capsys: Captured) -> None:
    machines = archive(tmp_path / "machines", 2)
    kept: list[Iterable[str]] = []
    report = api.check([machines], api.CheckOptions(on=DAY), recorded=kept.append)
    (tmp_path / "all.json").write_text("".join(kept[0]), "utf-8")
    finding = next(f for f in report.findings if "m001" in f.marks[0].place.file)
    waivers = tmp_path / "waivers.yaml"
    waivers.write_text(
        f"""waivers: 1
entries:
  - {{rule: {finding.rule}, machine: {finding.machine}, axis: {finding.subject}, reason: known,
     approved_by: head of maintenance, expires: 2030-01-01, values: {{motion: linear}}}}
""",
        "utf-8",
    )
    assert len(api.merge([tmp_path / "all.json"], waivers=waivers)[0].findings) > 0
    path = machines / "m001.yaml"
    path.write_text(path.read_text("utf-8") + "# x\n", "utf-8")
    with pytest.raises(InputError, match="has changed since it was checked"):
        api.merge([tmp_path / "all.json"], waivers=waivers)


# What does not belong together --------------------------------------------------------------------


def altered(path: Path, into: Path, alter: Callable[[dict[str, Any]], Any]) -> Path:
    plain = json.loads(path.read_text("utf-8"))
    alter(plain)
    plain.pop("digest")
    into.write_text(sharding.sealed(plain, plain.pop(sharding.KEY)), "utf-8")
    return into


def conditions(**changes: Any) -> Callable[[dict[str, Any]], Any]:
    return lambda plain: plain["conditions"].update(changes)


MIXTURES: dict[str, tuple[Callable[[dict[str, Any]], Any], str]] = {
    "version": (conditions(version="9.9"), "written by another axisproof (version 9.9)"),
    "code": (conditions(code="x"), "written by another axisproof"),
    "rules": (conditions(rules="x"), "with other rules than"),
    "settings": (conditions(settings="x"), "with other settings of the site than"),
    "day": (conditions(day="2026-06-02"), "with another day than"),
    "workings": (conditions(workings=False), "with another choice of --workings"),
    "every outcome": (conditions(every_outcome=False), "with another choice of --every-outcome"),
    "pictures": (conditions(pictures=False), "with another choice of --pictures"),
    "archive": (lambda plain: plain.update(archive="x"), "of other files than"),
}


@pytest.mark.parametrize("what", MIXTURES)
def test_records_that_do_not_belong_together_are_refused(
    plant: Path, tmp_path: Path, what: str
) -> None:
    alter, words = MIXTURES[what]
    other = altered(part(plant, 2), tmp_path / "other.json", alter)
    with pytest.raises(UsageError) as raised:
        api.merge([part(plant, 1), other, part(plant, 3)])
    assert words in str(raised.value)
    assert "other.json" in str(raised.value)


def test_a_file_that_changed_between_two_shards_is_noticed(tmp_path: Path) -> None:
    machines = archive(tmp_path / "machines", 3)
    parts = []
    for number in (1, 2):
        kept: list[Iterable[str]] = []
        api.check([machines], api.CheckOptions(on=DAY, shard=f"{number}/2"), recorded=kept.append)
        parts.append(tmp_path / f"{number}.json")
        parts[-1].write_text("".join(kept[0]), "utf-8")
        path = machines / "m000.yaml"
        path.write_text(path.read_text("utf-8") + "# x\n", "utf-8")
    with pytest.raises(UsageError, match=r"of other files than .*, or of another state of them"):
        api.merge(parts)


def test_missing_and_doubled_shards_are_named(plant: Path, tmp_path: Path) -> None:
    with pytest.raises(
        UsageError, match=r"of 3 shards these are missing: 2\. Expected: the records"
    ):
        api.merge([part(plant, 1), part(plant, 3)])
    again = tmp_path / "again.json"
    shutil.copy(part(plant, 1), again)
    with pytest.raises(UsageError, match=r"are both of shard 1/3. Expected: each shard once"):
        api.merge([part(plant, 1), part(plant, 2), part(plant, 3), again])
    kept: list[Iterable[str]] = []
    api.check(
        [plant / "machines"],
        api.CheckOptions(
            on=DAY,
            rules=[plant / "site.rules"],
            settings=plant / "site.yaml",
            workings=True,
            every_outcome=True,
            sketches=True,
            shard="1/4",
        ),
        recorded=kept.append,
    )
    again.write_text("".join(kept[0]), "utf-8")
    with pytest.raises(UsageError, match=r"is of 3 shards and .* of 4"):
        api.merge([part(plant, 1), again])


DAMAGE: dict[str, Callable[[dict[str, Any]], Any]] = {
    "no shard": lambda plain: plain.pop("shard"),
    "a shard beyond": lambda plain: plain.update(shard=[4, 3]),
    "a shard of flags": lambda plain: plain.update(shard=[True, 3]),
    "no files": lambda plain: plain.pop("files"),
    "files of another shard": lambda plain: plain["files"][0].update(number=1),
    "a file twice": lambda plain: plain["files"].append(copy.deepcopy(plain["files"][0])),
    "no record": lambda plain: plain["files"][0].update(record={}),
    "not judged": lambda plain: plain["files"][0]["record"].update(judged=False),
    "no machine": lambda plain: plain["files"][0]["record"].update(sources=[]),
    "another form": lambda plain: plain.update(axisproof_record=sharding.FORM + 1),
    "no day": lambda plain: plain["conditions"].update(day="soon"),
    "a number for rules": lambda plain: plain["conditions"].update(rules=1),
    "concerns that are none": lambda plain: plain.update(concerns={"a": 1}),
    "conditions that are none": lambda plain: plain.update(conditions=[]),
}


@pytest.mark.parametrize("what", DAMAGE)
def test_a_damaged_record_is_refused_in_words(plant: Path, tmp_path: Path, what: str) -> None:
    bad = altered(part(plant, 1), tmp_path / "bad.json", DAMAGE[what])
    with pytest.raises(AxisproofError, match=r"bad\.json (is damaged|was written by another)"):
        api.merge([bad, part(plant, 2), part(plant, 3)])


@examples(0.5)
@given(st.binary(max_size=80) | st.sampled_from([b"[]", b"{}", b"[" * 9999, b"1" * 9999, b"null"]))
def test_what_is_no_record_is_refused_in_words(tmp_path_factory: Any, data: bytes) -> None:
    path = tmp_path_factory.getbasetemp() / "none.json"
    path.write_bytes(data)
    with pytest.raises(InputError, match=r"none\.json is no record. Expected: a file that"):
        sharding.read_records([path], {})


def test_paths_that_hold_no_record_are_named(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"nowhere\.json cannot be read: no such file"):
        sharding.read_records([tmp_path / "nowhere.json"], {})
    with pytest.raises(InputError, match="is not a file"):
        sharding.read_records([tmp_path], {})


def test_a_form_that_shows_more_than_was_recorded_is_refused(
    tmp_path: Path, capsys: Captured
) -> None:
    machines = archive(tmp_path / "machines", 1)
    record = tmp_path / "r.json"
    cli.run(["check", str(machines), "--record", str(record)])
    assert cli.run(["merge", str(record), "--format", "html"]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert "records of checks with --workings --every-outcome --pictures" in told
    assert cli.run(["merge", str(record), "--format", "junit"]) == 2
    assert "checks with --every-outcome" in " ".join(capsys.readouterr().err.split())


# The command --------------------------------------------------------------------------------------


@pytest.mark.exhaustive
def test_neither_record_nor_report_replaces_what_is_read(plant: Path, capsys: Captured) -> None:
    machine = plant / "machines" / "m001.yaml"
    before = machine.read_bytes()
    for option in ("--record", "--output"):
        assert cli.run(check(plant, option, str(machine), "--force")) == 2
        assert machine.read_bytes() == before
    taken = part(plant, 1).read_bytes()
    assert cli.run(merge(plant, "--output", str(part(plant, 1)), "--force")) == 2
    assert part(plant, 1).read_bytes() == taken
    assert cli.run(check(plant, "--record", str(part(plant, 1)))) == 2  # it exists
    assert cli.run(check(plant, "--record", "x.json", "--output", "x.json")) == 2
    told = capsys.readouterr().err
    assert "cannot take report and record" in told
    assert not Path("x.json").exists()


def test_options_that_do_not_go_together_are_refused(plant: Path, capsys: Captured) -> None:
    assert cli.run(check(plant, "--watch", "--shard", "1/2")) == 2
    assert cli.run(check(plant, "--watch", "--record", "x.json")) == 2
    assert cli.run(check(plant, "--shard", "3/2")) == 2
    assert "3/2 is no share of the files" in capsys.readouterr().err


def test_a_joined_report_can_be_written_to_a_file(plant: Path, capsys: Captured) -> None:
    output = plant / "joined.json"
    assert (
        cli.run(merge(plant, "--format", "json", "--output", str(output), "--fail-at", "never"))
        == 0
    )
    assert json.loads(output.read_text("utf-8"))["format"] == 2
    assert capsys.readouterr().out == ""


def test_the_examples_of_the_help_can_be_run_as_they_stand(
    tmp_path: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    archive(tmp_path / "archive", 2)
    monkeypatch.chdir(tmp_path)
    cli.run(["accept", "archive", "--output", "accepted.yaml"])
    capsys.readouterr()
    cli.run(["merge", "--help"])
    lines = [line.strip() for line in capsys.readouterr().out.splitlines()]
    examples = [line for line in lines if line.startswith("axisproof ")]
    assert len(examples) == 4
    for example in examples:
        words = shlex.split(example)[1:]
        expanded = [name for word in words for name in (sorted(glob(word)) or [word])]
        assert cli.run(expanded) in (0, 1), example
    assert json.loads((tmp_path / "report.sarif").read_text("utf-8"))["version"] == "2.1.0"


def test_a_share_is_not_taken_for_the_whole(tmp_path: Path, capsys: Captured) -> None:
    archive(tmp_path / "machines", 4)
    run = ["check", str(tmp_path / "machines"), "--on", "2026-06-01", "--fail-at", "never"]
    cli.run([*run, "--shard", "1/2"])
    assert "This is share 1/2 of the files" in " ".join(capsys.readouterr().out.split())
    cli.run(run)
    assert "of the files" not in " ".join(capsys.readouterr().out.split())
