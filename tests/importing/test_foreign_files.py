"""Files of a folder that are none of axisproof's: skipped, counted, and never by mistake."""

from __future__ import annotations

import datetime
import json
import shutil
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import InputError, UsageError
from axisproof.cli import main as cli
from axisproof.importing import foreign
from axisproof.importing.entry import search
from axisproof.report.formats import FORMS, renderer
from axisproof.report.rendering import RenderOptions

DAY = datetime.date(2026, 6, 1)
MACHINE = "format: 1\nmachine: m\naxes: {a: {motion: linear}}\n"

FOREIGN = {
    "compose.yaml": "services:\n  web: {image: x, ports: ['80:80']}\nvolumes:\n  data:\n",
    "package.json": '{"name": "x", "version": "1.0.0", "main": "index.js", "private": null}',
    "settings.json": '{"editor.tabSize": 2, "settings": {}, "port": 8080}',
    "lock.yaml": "lockfileVersion: '9.0'\nsettings: {autoInstallPeers: true}\nimporters: {}\n",
    "list.json": '[{"id": 1}, null]',
    "manifests.yaml": "kind: A\n---\nkind: B\nspec: !ref x\n---\n",
    "merged.yaml": "x: &x {a: 1}\ny: {<<: *x}\n",
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    inside = tmp_path / "machines"
    inside.mkdir()
    (inside / "m.yaml").write_text(MACHINE, "utf-8")
    return inside


@pytest.mark.parametrize("name", FOREIGN)
def test_a_foreign_file_of_a_folder_is_skipped_and_named(folder: Path, name: str) -> None:
    path = folder / name
    path.write_text(FOREIGN[name], "utf-8")
    report = api.check([folder], api.CheckOptions(on=DAY))
    assert report.machines == ("m",)
    assert report.skipped == (path.as_posix(),)


@pytest.mark.parametrize("name", FOREIGN)
def test_a_file_given_by_name_is_never_skipped(folder: Path, name: str) -> None:
    path = folder / name
    path.write_text(FOREIGN[name], "utf-8")
    for paths in ([path], [folder, path], [path, folder]):
        with pytest.raises(InputError):
            api.check(paths, api.CheckOptions(on=DAY))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a: [", "no value stands here"),
        ("{'a': 1", "is not closed"),
        ("", "empty"),
        ("# nothing\n", "no values"),
        ("only a text\n", "text"),
        ("a: \x07\n", "control character"),
        ("version https://git-lfs.github.com/spec/v1\noid sha256:0\nsize 1\n", "is a pointer of"),
        ("fromat: 1\nother: 1\n", "fromat is not a fact"),
        ("machin: m\nother: 1\n", "lacks 'format'"),
        ("axs: {}\nother: 1\n", "lacks 'format'"),
        ("axis: {}\nother: 1\n", "lacks 'format'"),
        ("Format: 1\nother: 1\n", "Format is not a fact"),
        ("description: d\n", "lacks 'format'"),
        ("include: [nowhere.yaml]\n", "nowhere.yaml"),
        ("machine: m\nother: 1\n", "lacks 'format'"),
        ("other: 1\n---\nformat: 1\nmachine: m\n", "second document"),
        ("<<: {format: 1}\nother: 1\n", "merge key"),
        ('"f\\u006frmat": 2\nother: 1\n', "format"),
        ("project: 1\n", "lacks 'machine'"),
    ],
)
def test_a_file_that_may_be_one_of_axisproof_is_an_error(
    folder: Path, text: str, said: str
) -> None:
    (folder / "z.yaml").write_text(text, "utf-8")
    with pytest.raises(InputError) as caught:
        api.check([folder], api.CheckOptions(on=DAY))
    told = [caught.value, *caught.value.others]
    assert any(said in each.what for each in told)


@pytest.mark.parametrize("text", ['{"a": 1', "{}", '"a"', '{"a": 1, "axs": {}}', '{"a": 1} {}'])
def test_so_it_is_with_json(folder: Path, text: str) -> None:
    (folder / "z.json").write_text(text, "utf-8")
    with pytest.raises(InputError) as caught:
        api.check([folder], api.CheckOptions(on=DAY))
    assert "z.json" in str(caught.value)


def test_a_pointer_is_told_of_a_file_that_is_named_too(tmp_path: Path) -> None:
    path = tmp_path / "m.yaml"
    path.write_text("version https://git-lfs.github.com/spec/v1\noid sha256:0\nsize 1\n", "utf-8")
    with pytest.raises(InputError, match="pointer of git's large file storage") as caught:
        api.check([path])
    assert caught.value.place is not None


def test_where_all_files_are_skipped_nothing_passes(folder: Path) -> None:
    (folder / "m.yaml").unlink()
    for name in ("package.json", "list.json"):
        (folder / name).write_text(FOREIGN[name], "utf-8")
    with pytest.raises(UsageError, match="no machine file to check: 2 files are not files of"):
        api.check([folder])
    assert cli.run(["check", str(folder)]) == 2


def test_settings_beside_machines_are_known_as_such(folder: Path) -> None:
    path = folder / "site.yaml"
    path.write_text("settings: {}\nlevels: {}\n", "utf-8")
    assert search([folder]).skipped == ()
    assert len(search([folder]).candidates) == 1
    with pytest.raises(InputError, match="is a settings file"):
        api.check([path])


def test_the_keys_are_those_that_the_schemas_require() -> None:
    def schema(kind: str) -> dict[str, object]:
        text = Path(f"schemas/{kind}.schema.json").read_text("utf-8")
        found: dict[str, object] = json.loads(text)
        return found

    assert schema("machine")["required"] == list(foreign.MACHINE_KEYS)
    for kind in ("project", "mapping", "part", "waivers", "accepted"):
        required = schema(kind)["required"]
        assert isinstance(required, list)
        assert kind in foreign.OWN_KEYS
        assert kind in required
    properties = schema("settings")["properties"]
    assert isinstance(properties, dict)
    assert set(properties) == foreign.SETTINGS_KEYS


def test_all_fixtures_are_known(tmp_path: Path) -> None:
    for name in ("faults", "sound", "imports"):
        inside = Path(shutil.copytree(Path("fixtures", name), tmp_path / name))
        assert search([inside]).candidates
        assert search([inside]).skipped == ()


@pytest.mark.parametrize("form", FORMS)
def test_every_form_counts_what_was_skipped(folder: Path, form: str) -> None:
    for name in ("package.json", "compose.yaml"):
        (folder / name).write_text(FOREIGN[name], "utf-8")
    needs = FORMS[form]
    asked = api.CheckOptions(
        on=DAY,
        workings=needs.workings,
        every_outcome=needs.every_outcome,
        sketches=needs.sketches,
    )
    text = renderer(form)(api.check([folder], asked), RenderOptions())
    named = renderer(form)(api.check([folder], asked), RenderOptions(verbose=True))
    if form == "json":
        assert len(json.loads(text)["skipped"]) == 2
    else:
        assert "The check skipped 2 files that are not files of axisproof." in text.replace(
            "\n", " "
        )
    if form not in ("annotations", "codequality"):
        assert "package.json" in named
        assert "compose.yaml" in named
    if form in ("text", "lines", "markdown", "junit"):
        assert "package.json" not in text


def test_a_quiet_check_counts_them_too(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "package.json").write_text(FOREIGN["package.json"], "utf-8")
    cli.run(["check", str(folder), "--quiet", "--verbose"])
    out = capsys.readouterr().out
    assert "The check skipped 1 file that is not a file of axisproof." in " ".join(out.split())
    assert "package.json" in out


# Two versions -------------------------------------------------------------------------------------


def two_versions(tmp_path: Path) -> tuple[Path, Path]:
    old, new = tmp_path / "old", tmp_path / "new"
    for side in (old, new):
        side.mkdir()
        (side / "m.yaml").write_text(MACHINE, "utf-8")
        (side / "n.yaml").write_text(MACHINE.replace("machine: m", "machine: n"), "utf-8")
    return old, new


def test_a_file_that_was_checked_and_is_skipped_now_fails(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    old, new = two_versions(tmp_path)
    arguments = ["changes", str(old), str(new), "--on", "2026-06-01", "--fail-at", "error"]
    assert cli.run(arguments) == 0
    (new / "n.yaml").write_text("machine_of_ours: {format: 1, machine: n}\n", "utf-8")
    capsys.readouterr()
    assert cli.run(arguments) == 1
    said = capsys.readouterr().out
    assert "1 file was checked before, and the check skips it now." in " ".join(said.split())
    assert "new/n.yaml" in said
    report = api.changes(old, new, on=DAY)
    assert report.no_longer_checked == ((new / "n.yaml").as_posix(),)
    assert cli.run([*arguments[:-1], "never"]) == 0


def test_a_file_that_was_foreign_before_does_not_fail(tmp_path: Path) -> None:
    old, new = two_versions(tmp_path)
    for side in (old, new):
        (side / "package.json").write_text(FOREIGN["package.json"], "utf-8")
    report = api.changes(old, new, on=DAY)
    assert report.skipped == ((new / "package.json").as_posix(),)
    assert report.no_longer_checked == ()


def test_a_file_compared_with_a_folder_is_known_by_its_name(tmp_path: Path) -> None:
    old, new = two_versions(tmp_path)
    (new / "n.yaml").write_text("ours: 1\n", "utf-8")
    assert api.changes(old / "n.yaml", new, on=DAY).no_longer_checked != ()


# Shards and the cache -----------------------------------------------------------------------------


def test_shards_and_the_cache_carry_what_was_skipped(folder: Path, tmp_path: Path) -> None:
    (folder / "n.yaml").write_text(MACHINE.replace("machine: m", "machine: n"), "utf-8")
    (folder / "package.json").write_text(FOREIGN["package.json"], "utf-8")
    whole = api.check([folder], api.CheckOptions(on=DAY))
    assert len(whole.skipped) == 1
    records = []
    for number in (1, 2):
        record = tmp_path / f"{number}.json"
        options = api.CheckOptions(on=DAY, shard=f"{number}/2")
        part = api.check(
            [folder], options, recorded=lambda text, to=record: to.write_text("".join(text))
        )
        assert part.skipped == whole.skipped
        records.append(record)
    assert api.merge(records)[0] == whole
    for _ in range(2):
        kept = api.check([folder], api.CheckOptions(on=DAY, cache=tmp_path / "cache"))
        assert kept == whole
    (folder / "other.json").write_text(FOREIGN["list.json"], "utf-8")
    options = api.CheckOptions(on=DAY, shard="2/2")
    api.check([folder], options, recorded=lambda text: records[1].write_text("".join(text)))
    with pytest.raises(UsageError, match="of other files"):
        api.merge(records)
