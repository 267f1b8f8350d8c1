"""Settings and levels: site file, machine and axis, each with a reason; the nearest one wins."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.base.errors import InputError
from axisproof.base.package_data import read_text
from axisproof.catalogue.catalogue import Catalogue, from_texts, shipped
from axisproof.catalogue.settings import NO_SITE, apply_settings, read_site, with_levels
from axisproof.engine.engine import Options, check_machine
from axisproof.machine.machine import Machine
from axisproof.machine.reader import read_machine, read_plain
from axisproof.machine.records import notes_of
from axisproof.numbers.rational import Fraction
from axisproof.source.merge import load_tree
from jsonschema import Draft202012Validator

RULES = """language 2

setting room
  default 10%
  meaning "how much is left over"
  basis   "common practice, no source"

setting pause
  default 5ms
  meaning "how long to wait"
  basis   "common practice, no source"

setting turn
  default 90deg
  meaning "how far to turn"
  basis   "common practice, no source"

setting strict
  default true
  meaning "whether it matters"
  basis   "common practice, no source"

rule gear-leaves-room
  level   error
  title   "t"
  each    axis
  when    strict
  require axis.drive.gear.min_ratio >= room
  say     "{room} of {pause}"
  why     "w"
  remedy  "r"
  basis   "b"
  passes "p" axis.drive.gear.min_ratio = 1
  fails  "f" axis.drive.gear.min_ratio = 0.05

rule filter-is-short
  level   warning
  title   "t"
  each    axis
  require axis.drive.input_filter <= pause
  say     "s"
  why     "w"
  remedy  "r"
  basis   "b"
  passes "p" axis.drive.input_filter = 5ms
  fails  "f" axis.drive.input_filter = 6ms
"""


@pytest.fixture(scope="module")
def rules() -> Catalogue:
    return from_texts({"a.rules": RULES})


def machine_of(machine: dict[str, Any] | None = None, **axes: dict[str, Any]) -> Machine:
    plain: dict[str, Any] = {
        "axes": {
            name: {"motion": "linear", "drive": {"gear": {"min_ratio": "0.15"}}}
            | ({"settings": settings} if settings else {})
            for name, settings in axes.items()
        }
    }
    if machine:
        plain["settings"] = machine
    return read_plain(plain)


def override(value: Any, reason: str = "because") -> dict[str, Any]:
    return {"value": value, "reason": reason}


def site_file(folder: Path, text: str) -> Path:
    path = folder / "site.yaml"
    path.write_text(text, "utf-8")
    return path


def rooms(machine: Machine) -> list[Any]:
    return [notes_of(axis).settings.get("room") for axis in machine.axes]


# Who wins ---------------------------------------------------------------------------------------


def test_without_any_override_the_default_holds(rules: Catalogue) -> None:
    machine = machine_of(a={})
    assert apply_settings(machine, "hall", rules, NO_SITE) == ()
    assert rooms(machine) == [None]
    assert not [
        f for f in check_machine(machine, "hall", rules, Options()).findings if f.rule[0] == "g"
    ]


def test_an_axis_wins_over_its_machine_and_a_machine_over_the_site(
    rules: Catalogue, tmp_path: Path
) -> None:
    path = site_file(tmp_path, "settings: {room: {value: 20 %, reason: ours}}\n")
    site = read_site(path, rules)
    machine = machine_of(a={}, b={})
    apply_settings(machine, "hall", rules, site)
    assert rooms(machine) == [Fraction(1, 5)] * 2
    machine = machine_of({"room": override("30 %")}, a={}, b={"room": override("40 %")})
    apply_settings(machine, "hall", rules, site)
    assert rooms(machine) == [Fraction(3, 10), Fraction(2, 5)]
    assert notes_of(machine.facts).settings["room"] == Fraction(3, 10)


def test_an_override_of_one_axis_leaves_the_others_alone(rules: Catalogue) -> None:
    machine = machine_of(a={"room": override("0.5")}, b={})
    told = apply_settings(machine, "hall", rules, NO_SITE)
    assert rooms(machine) == [Fraction(1, 2), None]
    assert told == (("hall", "a", "room", "0.5", "because"),)
    findings = check_machine(machine, "hall", rules, Options()).findings
    assert [(f.rule, f.subject) for f in findings] == [("gear-leaves-room", "a")]
    assert findings[0].message == "0.5 of 5 ms"


def test_every_override_is_told_with_its_reason(rules: Catalogue, tmp_path: Path) -> None:
    path = site_file(tmp_path, "settings: {pause: {value: 7 ms, reason: slow inputs}}\n")
    machine = machine_of({"room": override("30 %", "tight")}, a={"strict": override(False, "idle")})
    assert apply_settings(machine, "hall", rules, read_site(path, rules)) == (
        ("hall", "", "pause", "7 ms", "slow inputs (site)"),
        ("hall", "", "room", "30 %", "tight"),
        ("hall", "a", "strict", "false", "idle"),
    )


def test_a_flag_may_be_overridden(rules: Catalogue) -> None:
    machine = machine_of(a={"strict": override(False), "room": override(1)})
    apply_settings(machine, "hall", rules, NO_SITE)
    outcomes = check_machine(machine, "hall", rules, Options(every_outcome=True)).outcomes
    assert outcomes[0].verdict == "not applicable"


def test_the_value_is_exact_in_base_units(rules: Catalogue) -> None:
    machine = machine_of(a={"pause": override("1/3 ms"), "turn": override("1 rev")})
    apply_settings(machine, "hall", rules, NO_SITE)
    assert notes_of(machine.axes[0]).settings["pause"] == Fraction(1, 3000)
    assert notes_of(machine.axes[0]).settings["turn"] == 1


# Levels -----------------------------------------------------------------------------------------


def test_a_site_sets_levels_and_turns_rules_off(rules: Catalogue, tmp_path: Path) -> None:
    path = site_file(
        tmp_path,
        "levels:\n"
        "  gear-leaves-room: {level: note, reason: seen often}\n"
        "  filter-is-short: {level: off, reason: no filters here}\n",
    )
    changed = with_levels(rules, read_site(path, rules))
    assert [(e.name, e.level) for e in changed.entries] == [("gear-leaves-room", "note")]
    machine = machine_of(a={"room": override(1)})
    apply_settings(machine, "hall", rules, NO_SITE)
    (finding,) = check_machine(machine, "hall", changed, Options()).findings
    assert finding.level == "note"
    assert changed.rules["filter-is-short"].level == "warning"


def test_without_levels_the_catalogue_is_the_same(rules: Catalogue) -> None:
    assert with_levels(rules, NO_SITE) is rules


# Faults -----------------------------------------------------------------------------------------

# § stands where the fault must be placed.
BAD_SITE: list[tuple[str, str, str, str]] = [
    ("a list", "§- room\n", "not a mapping", "settings:"),
    ("unknown key", "§setings: {}\n", "setings is not known", "settings or levels"),
    ("settings that are a list", "§settings: [room]\n", "settings is not a mapping", "reason"),
    ("levels that are a word", "levels: §off\n", "levels is not a mapping", "reason"),
    ("unknown setting", "settings: {§rom: {value: 1, reason: r}}\n", "rom is not a setting",
     "perhaps room"),
    ("setting unlike any", "settings: {§xyz: {value: 1, reason: r}}\n", "xyz is not a setting",
     "a name that"),
    ("no reason", "settings: {§room: {value: 1}}\n", "value and reason alone", "value and reason"),
    ("something else", "settings: {§room: {value: 1, reason: r, by: me}}\n", "alone", ""),
    ("no record", "settings: {room: §20 %}\n", "value and reason alone", ""),
    ("empty reason", "settings: {room: {value: 1, reason: §''}}\n", "reason is empty", "in words"),
    ("reason that is a number", "settings: {room: {value: 1, reason: §5}}\n", "reason is empty",
     "in words"),
    ("value that is a list", "settings: {room: {§value: [1], reason: r}}\n", "not a single value",
     "one value"),
    ("wrong unit", "settings: {room: {value: §12 mm, reason: r}}\n", "12 mm is a length",
     "like its default, 10%"),
    ("no unit", "settings: {pause: {value: §5, reason: r}}\n", "5 is a plain number", "5ms"),
    ("angle for a time", "settings: {pause: {value: §5 deg, reason: r}}\n", "5 deg is an angle",
     "5ms"),
    ("unknown unit", "settings: {pause: {value: §5 msec, reason: r}}\n", "msec", ""),
    ("flag for a number", "settings: {room: {value: §true, reason: r}}\n", "true is not a number",
     "10%"),
    ("number for a flag", "settings: {strict: {value: §1, reason: r}}\n", "1 is not true or false",
     "like its default"),
    ("word for a number", "settings: {room: {value: §much, reason: r}}\n", "much", ""),
    ("too many digits", f"settings: {{room: {{value: §'{'1' * 41}', reason: r}}}}\n", "41 digits",
     "at most 40"),
    ("unknown rule", "levels: {§gear-leaves-rom: {level: off, reason: r}}\n", "is not a rule",
     "perhaps gear-leaves-room"),
    ("built-in check", "levels: {§sources-agree: {level: off, reason: r}}\n", "built in", "a rule"),
    ("unknown level", "levels: {filter-is-short: {level: §bad, reason: r}}\n", "bad is not a level",
     "error, warning, note or off"),
    ("level that is a number", "levels: {filter-is-short: {level: §5, reason: r}}\n",
     "5 is not a level", ""),
    ("level without reason", "levels: {§filter-is-short: {level: off}}\n", "level and reason", ""),
]  # fmt: skip


def place_of(marked: str) -> tuple[int, int]:
    before = marked.split("§")[0]
    return before.count("\n") + 1, len(before) - before.rfind("\n")


@pytest.mark.parametrize(
    ("marked", "what", "expected"),
    [case[1:] for case in BAD_SITE],
    ids=[case[0] for case in BAD_SITE],
)
def test_a_faulty_site_file_is_refused_where_the_fault_is(
    rules: Catalogue, tmp_path: Path, marked: str, what: str, expected: str
) -> None:
    path = site_file(tmp_path, marked.replace("§", ""))
    with pytest.raises(InputError) as caught:
        read_site(path, rules)
    error = caught.value
    assert what in error.what
    assert expected in error.expected
    assert error.place is not None
    assert (error.place.line, error.place.column) == place_of(marked)
    assert error.source_line == marked.replace("§", "").split("\n")[error.place.line - 1]


BAD_MACHINE: list[tuple[str, str, str, str]] = [
    ("unknown setting of a machine", "settings:\n  §rom: {value: 1, reason: r}\n",
     "rom is not a setting", "perhaps room"),
    ("wrong unit of a machine", "settings:\n  room: {value: §1 mm, reason: r}\n",
     "1 mm is a length", "10%"),
    ("unknown setting of an axis", "§AXIS  §rom: {value: 1, reason: r}\n", "rom is not", "room"),
    ("wrong kind on an axis", "§AXIS  strict: {value: §5, reason: r}\n", "5 is not true or", ""),
]  # fmt: skip


@pytest.mark.parametrize(
    ("marked", "what", "expected"),
    [case[1:] for case in BAD_MACHINE],
    ids=[case[0] for case in BAD_MACHINE],
)
def test_a_faulty_override_in_a_machine_file_is_refused_where_it_is(
    rules: Catalogue, tmp_path: Path, marked: str, what: str, expected: str
) -> None:
    head = "format: 1\nmachine: hall\n"
    axes = "axes:\n  a:\n    motion: linear\n"
    if marked.startswith("§AXIS"):
        body = head + axes + "    settings:\n    " + marked.removeprefix("§AXIS")
    else:
        body = head + marked + axes
    path = tmp_path / "hall.yaml"
    path.write_text(body.replace("§", ""), "utf-8")
    machine = read_machine(load_tree(path))
    with pytest.raises(InputError) as caught:
        apply_settings(machine, "hall", rules, NO_SITE)
    error = caught.value
    assert what in error.what
    assert expected in error.expected
    assert error.place is not None
    assert (error.place.line, error.place.column) == place_of(body)


def test_a_fault_in_a_machine_that_comes_from_no_file_has_no_place(rules: Catalogue) -> None:
    with pytest.raises(InputError, match="rom is not a setting") as caught:
        apply_settings(machine_of({"rom": override(1)}, a={}), "hall", rules, NO_SITE)
    assert caught.value.place is None


# Through the front door -------------------------------------------------------------------------

HALL = """format: 1
machine: hall
settings:
  room: {value: 20 %, reason: "agreed with the maker"}
axes:
  a: {motion: linear, drive: {gear: {min_ratio: 0.15}}}
  b: {motion: linear, drive: {gear: {min_ratio: 0.15}}}
"""


def test_check_tells_which_settings_are_not_at_their_default(tmp_path: Path) -> None:
    site_rules = tmp_path / "a.rules"
    site_rules.write_text(RULES, "utf-8")
    hall = tmp_path / "hall.yaml"
    hall.write_text(HALL, "utf-8")
    site = site_file(tmp_path, "levels: {gear-leaves-room: {level: note, reason: r}}\n")
    report = api.check([hall], api.CheckOptions(rules=[site_rules], settings=site))
    assert report.settings == (("hall", "", "room", "20 %", "agreed with the maker"),)
    own = [f for f in report.findings if f.rule == "gear-leaves-room"]
    assert [(f.subject, f.level) for f in own] == [("a", "note"), ("b", "note")]


def test_every_shipped_setting_may_be_set_to_its_own_default() -> None:
    found = shipped()
    for setting in found.trees.settings:
        data = setting.default.data[0]
        raw = data if setting.default.op == "flag" else setting.default_text
        machine = read_plain(
            {"axes": {"a": {"motion": "linear", "settings": {setting.name: override(raw)}}}}
        )
        apply_settings(machine, "hall", found, NO_SITE)
        assert notes_of(machine.axes[0]).settings[setting.name] == data


@pytest.mark.parametrize(
    ("entry", "column", "what"),
    [
        ("{value: -5 %, reason: r}", 39, "-5 % is below zero"),
        ('{value: 5 %, reason: "  "}', 52, "the reason is empty"),
    ],
)
def test_a_machine_s_setting_is_no_way_round_a_rule(tmp_path, entry, column, what) -> None:
    from axisproof.api import check
    from axisproof.base.errors import InputError

    path = tmp_path / "m.yaml"
    path.write_text(
        f"format: 1\nmachine: m\nsettings: {{turn_range_margin: {entry}}}\n"
        "axes: {a: {motion: linear}}\n",
        "utf-8",
    )
    with pytest.raises(InputError) as caught:
        check([path])
    assert caught.value.what == what
    assert caught.value.place is not None
    assert (caught.value.place.line, caught.value.place.column) == (3, column)


SITES = (
    "settings: {room: {value: 5 %, reason: r}}",
    "levels: {filter-is-short: {level: off, reason: r}}",
    "{}",
    "settings: {strict: {value: false, reason: r}}\nlevels: {}",
)
NO_SITES = (
    "setings: {}",
    "settings: {room: 5 %}",
    "settings: {room: {value: 5 %}}",
    "settings: {room: {value: 5 %, reason: ' '}}",
    "settings: {room: {value: [5 %], reason: r}}",
    "levels: {filter-is-short: {level: high, reason: r}}",
    "levels: []",
)


@pytest.mark.parametrize("text", [*SITES, *NO_SITES])
def test_the_published_schema_of_settings_takes_what_is_read(
    text: str, rules: Catalogue, tmp_path: Path
) -> None:
    file = tmp_path / "site.yaml"
    file.write_text(text, "utf-8")
    schema = json.loads(read_text("axisproof.schemas", "settings.schema.json"))
    validator = Draft202012Validator(schema)
    assert validator.is_valid(load_tree(file).plain) is (text in SITES)
    if text in SITES:
        read_site(file, rules)
    else:
        with pytest.raises(InputError):
            read_site(file, rules)


def test_who_forgets_the_rules_of_the_site_is_told_so(tmp_path: Path, rules: Catalogue) -> None:
    file = tmp_path / "site.yaml"
    file.write_text("settings: {most_nodes: {value: 5, reason: r}}", "utf-8")
    with pytest.raises(InputError) as caught:
        read_site(file, shipped())
    assert caught.value.expected.endswith("A setting of your own rules needs --rules")
    with pytest.raises(InputError) as caught:
        read_site(file, rules)
    assert "--rules" not in caught.value.expected
