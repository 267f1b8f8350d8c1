"""Rules of a site are data of a repository: they are bounded, and a report says that they ran."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import InputError, RuleError
from axisproof.cli.main import run
from axisproof.engine import engine
from axisproof.language import budget

Patch = pytest.MonkeyPatch

RULE = """rule {name}
  level   error
  title   "x"
  each    {each}
  require {require}
  say     "s"
  why     "w"
  remedy  "r"
  basis   "computed"
  passes  "p" axis.motion = linear
  fails   "f" axis.motion = rotary
"""
QUADRATIC = (
    "every b in machine.axes where b.motion is axis.motion has (b.drive.node >= 0"
    " or b.name is axis.name)"
)


def rules(folder: Path, count: int, require: str = "axis.motion is linear") -> Path:
    path = folder / "site.rules"
    each = [RULE.format(name=f"site-{n}", each="axis", require=require) for n in range(count)]
    path.write_text("language 2\n" + "\n".join(each))
    return path


def machine(folder: Path, axes: int) -> Path:
    path = folder / "m.yaml"
    lines = "".join(f"  a{n}: {{motion: linear, drive: {{node: 5}}}}\n" for n in range(axes))
    path.write_text(f"format: 1\nmachine: M\naxes:\n{lines}")
    return path


@pytest.mark.parametrize("form", ["text", "markdown", "html", "json", "sarif", "junit"])
def test_every_form_says_how_many_rules_of_a_site_ran_and_from_where(
    form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, site = machine(tmp_path, 2), rules(tmp_path, 3)
    run(["check", str(path), "--rules", str(site), "--format", form, "--width", "400"])
    said = capsys.readouterr().out
    if form == "json":
        assert json.loads(said)["site_rules"] == {"count": 3, "files": [str(site)]}
    elif form == "sarif":
        (one,) = json.loads(said)["runs"]
        assert one["properties"]["siteRules"] == {"count": 3, "files": [str(site)]}
    else:
        assert "3 are the site" in said
        assert "site.rules" in said
    run(["check", str(path), "--format", form, "--width", "400"])
    assert "are the site" not in capsys.readouterr().out


def test_shares_and_their_records_say_it_too(tmp_path: Path) -> None:
    path, site = machine(tmp_path, 2), rules(tmp_path, 3)
    whole = api.check([path], api.CheckOptions(rules=[site]))
    record = tmp_path / "r.json"
    run(["check", str(path), "--rules", str(site), "--record", str(record)])
    joined, _ = api.merge([record])
    assert joined.site_rules == whole.site_rules
    assert (joined.site_rules.count, joined.site_rules.files) == (3, (str(site),))


def test_rules_of_a_site_share_one_bound(tmp_path: Path, monkeypatch: Patch) -> None:
    monkeypatch.setattr(budget, "MAX_RUN_STEPS", 300_000)
    monkeypatch.setattr(engine, "MAX_RUN_STEPS", 300_000)
    path = machine(tmp_path, 60)
    few = api.CheckOptions(rules=[rules(tmp_path, 2, QUADRATIC)])
    assert api.check([path], few).axes == 60
    many = api.CheckOptions(rules=[rules(tmp_path, 20, QUADRATIC)])
    with pytest.raises(RuleError) as caught:
        api.check([path], many)
    said = "all rules together take more than 300,000 steps on M, which has 60 axes. Rule site-"
    assert caught.value.what.startswith(said)
    assert caught.value.place is not None
    assert Path(caught.value.place.file).name == "site.rules"


def test_a_machine_that_takes_too_many_steps_is_blamed_itself(
    tmp_path: Path, monkeypatch: Patch
) -> None:
    monkeypatch.setattr(budget, "MAX_RUN_STEPS", 100)
    monkeypatch.setattr(engine, "MAX_RUN_STEPS", 100)
    with pytest.raises(InputError) as caught:
        api.check([machine(tmp_path, 60)])
    error = caught.value
    assert error.what == "the checks of M take more than 100 steps: it has 60 axes"
    assert error.place is not None
    assert (Path(error.place.file).name, error.place.line) == ("m.yaml", 3)
    assert error.source_line == "axes:"
    assert error.expected


def test_what_a_report_tells_of_a_machine_is_bounded(tmp_path: Path, monkeypatch: Patch) -> None:
    told = len(api.check([machine(tmp_path, 10)]).undecided)
    monkeypatch.setattr(engine, "MAX_TOLD", 5 * told)
    assert api.check([machine(tmp_path, 10)]).axes == 10
    with pytest.raises(InputError, match="things would have to be told of M: it has 60 axes"):
        api.check([machine(tmp_path, 60)])
