"""A rule that settings switch off or lower is told with its reason, in every form."""

from __future__ import annotations

import json
import shutil
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.api import CheckOptions
from axisproof.cli.main import run
from axisproof.report.formats import FORMS, renderer
from axisproof.report.rendering import RenderOptions

from tests.captured import Captured

ROOT = Path(__file__).parents[2]
HALL = ROOT / "fixtures" / "sound" / "hall.yaml"
OFF, LOWERED, SPARE, CHANGE = (
    "brake-voltage-fits",
    "brake-holds-load",
    "spare-brake-holds-like-fitted",
    "brake-is-as-strong-as-before",
)
REASONS = {
    OFF: "two voltages in the hall",
    LOWERED: "weighed by hand in May",
    SPARE: "spares are tested on the bench",
    CHANGE: "brakes change with the season",
}
LEVELS = {OFF: "off", LOWERED: "note", SPARE: "off", CHANGE: "warning"}


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("site") / "site.yaml"
    lines = [
        f'  {rule}: {{level: "{level}", reason: {REASONS[rule]}}}\n'
        for rule, level in LEVELS.items()
    ]
    settings = "settings: {battery_change_notice: {value: 100 d, reason: we are slow}}\n"
    path.write_text(settings + "levels:\n" + "".join(lines), "utf-8")
    return path


def flat(text: str) -> str:
    """The text of any form on one line, without the escapes that a form adds."""
    return " ".join(text.replace("\\", "").replace("<br>", " ").split())


@pytest.mark.parametrize("form", list(FORMS))
def test_every_form_of_check_says_which_rules_are_off_or_lowered_and_why(
    form: str, site: Path, capsys: Captured
) -> None:
    assert run(["check", str(HALL), "--settings", str(site), "--format", form]) == 0
    text = flat(capsys.readouterr().out)
    for rule in (OFF, LOWERED):
        assert rule in text
        assert REASONS[rule] in text
    assert SPARE not in text, "a check runs no rule about spares"
    assert run(["check", str(HALL), "--format", form]) == 0
    assert REASONS[OFF] not in flat(capsys.readouterr().out)


@pytest.mark.parametrize("form", ["text", "markdown", "html"])
def test_the_summary_says_it(form: str, site: Path) -> None:
    report = api.check([HALL], CheckOptions(settings=site))
    text = flat(renderer(form)(report, RenderOptions()))
    assert f"1 rule is switched off by the settings and shows nothing: {OFF}." in text
    assert f"1 rule is lowered by the settings: {LOWERED}." in text
    if form != "text":
        assert "1 rule switched off, 1 rule lowered" in text, "the headline says it"


def test_a_test_dashboard_counts_a_rule_that_is_off_as_skipped(site: Path) -> None:
    report = api.check([HALL], CheckOptions(settings=site, every_outcome=True))
    root = ET.fromstring(renderer("junit")(report, RenderOptions()))
    case = root.find(f".//testcase[@name='{OFF}'][@classname='settings']")
    assert case is not None
    skipped = case.find("skipped")
    assert skipped is not None
    assert REASONS[OFF] in skipped.get("message", "")
    assert root.get("skipped") == "1"
    lowered = root.find(f".//testcase[@name='{LOWERED}'][@classname='settings']/system-out")
    assert lowered is not None
    assert REASONS[LOWERED] in (lowered.text or "")


def test_sarif_overrides_the_configuration_of_the_rule(site: Path) -> None:
    report = api.check([HALL], CheckOptions(settings=site))
    ran = json.loads(renderer("sarif")(report, RenderOptions()))["runs"][0]
    rules = ran["tool"]["driver"]["rules"]
    found: dict[str, Any] = {}
    for each in ran["invocations"][0]["ruleConfigurationOverrides"]:
        assert rules[each["descriptor"]["index"]]["id"] == each["descriptor"]["id"]
        found[each["descriptor"]["id"]] = each["configuration"]
    assert found == {OFF: {"enabled": False}, LOWERED: {"level": "note"}}
    levels = {rule["id"]: rule.get("defaultConfiguration") for rule in rules}
    assert levels[OFF] == levels[LOWERED] == {"level": "error"}


@pytest.mark.parametrize("form", ["text", "json"])
def test_changes_says_it(form: str, site: Path, capsys: Captured, tmp_path: Path) -> None:
    shutil.copytree(HALL.parent, tmp_path, dirs_exist_ok=True)
    new = str(tmp_path / HALL.name)
    assert run(["changes", str(HALL), new, "--settings", str(site), "--format", form]) == 0
    text = flat(capsys.readouterr().out)
    for rule in (OFF, LOWERED, CHANGE):
        assert REASONS[rule] in text
    assert "100 d" in text, "so are settings that differ from their default"
    assert SPARE not in text


@pytest.mark.parametrize("form", ["text", "json", "html"])
def test_spare_says_it(form: str, site: Path, capsys: Captured) -> None:
    spare = ROOT / "fixtures" / "spares" / "motor_like_fitted.yaml"
    command = ["spare", str(HALL), "--axis", "infeed_pusher", "--part", "motor", str(spare)]
    options = ["--on", "2026-03-01", "--settings", str(site), "--format", form]
    assert run([*command, *options]) == 0
    text = flat(capsys.readouterr().out)
    for rule in (OFF, LOWERED, SPARE):
        assert REASONS[rule] in text
    assert "100 d" in text
    assert CHANGE not in text
    if form != "json":
        assert "2 rules are switched off by the settings and show nothing" in text


def test_shares_of_a_check_join_to_a_report_that_says_it(
    site: Path, tmp_path: Path, capsys: Captured
) -> None:
    record = str(tmp_path / "record.json")
    assert run(["check", str(HALL), "--settings", str(site), "--record", record]) == 0
    whole = capsys.readouterr().out
    assert run(["merge", record]) == 0
    assert capsys.readouterr().out == whole
    assert REASONS[OFF] in whole


def test_a_level_that_is_the_usual_one_is_not_told(tmp_path: Path) -> None:
    path = tmp_path / "site.yaml"
    path.write_text(f"levels: {{{OFF}: {{level: error, reason: so it stays}}}}\n", "utf-8")
    assert api.check([HALL], CheckOptions(settings=path)).level_changes == ()


def test_a_raised_level_is_told_and_is_not_called_lowered(tmp_path: Path) -> None:
    path = tmp_path / "site.yaml"
    rule = "battery-change-due"
    path.write_text(f"levels: {{{rule}: {{level: error, reason: stock is far}}}}\n", "utf-8")
    text = flat(renderer("text")(api.check([HALL], CheckOptions(settings=path)), RenderOptions()))
    assert f"{rule}: raised to error, warning by default" in text
    assert f"1 rule is raised by the settings: {rule}." in text
    assert "lowered" not in text
