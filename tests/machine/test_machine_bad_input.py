"""Machine files that cannot be used: one clear error, at the right place, never a traceback.

``▶`` stands right before the place that the error must point at."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

import pytest

from tests.machine.machine_texts import ONE_AXIS, axis, refused

MARK = "▶"


def whole(body: str) -> str:
    return dedent(body).strip("\n") + "\n"


CASES: dict[str, tuple[str, str, str]] = {
    # name: (text, fragment of what was wrong, fragment of what was expected)
    "no format": (
        f"{MARK}machine: hall\n{ONE_AXIS}",
        "the file lacks 'format'",
        "format: 1",
    ),
    "no machine name": (
        f"{MARK}format: 1\n{ONE_AXIS}",
        "the file lacks 'machine'",
        "machine: up to 100 letters",
    ),
    "no axes": (f"{MARK}format: 1\nmachine: hall\n", "lacks 'axes'", "axes: a record"),
    "newer format, told before its unknown keys": (
        f"colour: red\nformat: {MARK}2\nmachine: hall\n{ONE_AXIS}",
        "format is 2, which this axisproof is too old to read",
        "1",
    ),
    "format as text": (
        f'format: {MARK}"1"\nmachine: hall\n{ONE_AXIS}',
        "format is the text '1'",
        "1",
    ),
    "a list in place of a machine": (f"{MARK}- 1\n- 2\n", "the file is a list", "a record with"),
    "a text in place of a machine": (f"{MARK}hello\n", "the file is the text 'hello'", "a record"),
    "unknown key at the top": (
        f"format: 1\nmachine: hall\n{MARK}axis: {{}}\n{ONE_AXIS}",
        "axis is not a fact",
        "perhaps 'axes'",
    ),
    "machine name with odd characters": (
        f"format: 1\nmachine: {MARK}hall/3\n{ONE_AXIS}",
        "machine is 'hall/3'",
        "begin with a letter or digit",
    ),
    "machine name as number": (
        f"format: 1\nmachine: {MARK}12\n{ONE_AXIS}",
        "machine is the number 12",
        "begin with a letter or digit",
    ),
    "axes as a list": (
        f"format: 1\nmachine: hall\naxes:\n  {MARK}- motion: linear\n",
        "axes is a list",
        "a record of axes by name",
    ),
    "no axis in axes": (
        f"format: 1\nmachine: hall\naxes: {MARK}{{}}\n",
        "axes names no axis",
        "at least one axis",
    ),
    "axis name with a space": (
        f"format: 1\nmachine: hall\naxes:\n  {MARK}in feed:\n    motion: linear\n",
        "is not a name for an axis",
        "begin with a letter",
    ),
    "axis that is a text": (
        f"format: 1\nmachine: hall\naxes:\n  a: {MARK}linear\n",
        "axes.a is the text 'linear'",
        "a record with facts such as motion",
    ),
    "axis without motion": (
        f"format: 1\nmachine: hall\naxes:\n  {MARK}a:\n    motor: {{}}\n",
        "axes.a lacks 'motion'",
        "motion: one of linear, rotary",
    ),
    "unknown motion": (
        f"format: 1\nmachine: hall\naxes:\n  a:\n    motion: {MARK}rotry\n",
        "axes.a.motion is 'rotry'",
        "perhaps 'rotary', or one of linear, rotary",
    ),
    "unknown part of an axis": (
        axis(f"{MARK}drives: {{node: 3}}"),
        "axes.infeed.drives is not a fact",
        "perhaps 'drive'",
    ),
    "misspelled fact": (
        axis(f"drive:\n  {MARK}nod: 3"),
        "axes.infeed.drive.nod is not a fact",
        "perhaps 'node'",
    ),
    "fact with capitals and a hyphen": (
        axis(f"controller:\n  {MARK}Max-Velocity: 500 mm/s"),
        "axes.infeed.controller.Max-Velocity is not a fact",
        "perhaps 'max_velocity'",
    ),
    "fact in the wrong part": (
        axis(f"{MARK}taught: none"),
        "axes.infeed.taught is not a fact",
        "it to stand at controller.homing.taught",
    ),
    "fact that is like no other": (
        axis(f"motor:\n  {MARK}zzzz: 3"),
        "axes.infeed.motor.zzzz is not a fact",
        "one of serial, model, rated_speed",
    ),
    "node of zero": (
        axis(f"drive:\n  node: {MARK}0"),
        "axes.infeed.drive.node is 0",
        "a whole number from 1 to 65535, without unit or quotes, such as 3",
    ),
    "node in quotes": (
        axis(f'drive:\n  node: {MARK}"3"'),
        "axes.infeed.drive.node is the text '3'",
        "without unit or quotes",
    ),
    "half a turn counter state": (
        axis(f"encoder:\n  distinguishable_revolutions: {MARK}4096.5"),
        "is the number 4096.5",
        "a whole number of 1 or more",
    ),
    "turns with a unit": (
        axis(f"encoder:\n  distinguishable_revolutions: {MARK}4096 rev"),
        "is the text '4096 rev'",
        "without unit or quotes, such as 65536",
    ),
    "flag as yes": (
        axis(f"encoder:\n  index_pulse: {MARK}yes"),
        "axes.infeed.encoder.index_pulse is the text 'yes'",
        "true or false",
    ),
    "flag as number": (
        axis(f"encoder:\n  index_pulse: {MARK}1"),
        "is the number 1",
        "true or false",
    ),
    "unknown encoder kind": (
        axis(f"encoder:\n  kind: {MARK}absolute multiturn"),
        "is 'absolute multiturn'",
        "perhaps 'absolute_multiturn'",
    ),
    "name that is a flag": (
        axis(f"encoder:\n  kind: {MARK}true"),
        "axes.infeed.encoder.kind is true",
        "one of incremental",
    ),
    "serial number read as a number": (
        axis(f"motor:\n  serial: {MARK}20417"),
        "axes.infeed.motor.serial is the number 20417",
        "in quotes if it looks like a number",
    ),
    "firmware version read as a number": (
        axis(f"drive:\n  firmware: {MARK}2.10"),
        "axes.infeed.drive.firmware is the number 2.10",
        "in quotes if it looks like a number",
    ),
    "empty serial": (axis(f'motor:\n  serial: {MARK}""'), "motor.serial is empty", "text"),
    "long serial": (
        axis(f"motor:\n  serial: {MARK}{'x' * 201}"),
        "motor.serial has 201 characters",
        "text of at most 200 characters",
    ),
    "quantity without a unit": (
        axis(f"motor:\n  max_speed: {MARK}3000"),
        "motor.max_speed is 3000, a number without a unit",
        'a rotational speed above zero with its unit, such as "5000 rpm"',
    ),
    "quantity without a unit in quotes": (
        axis(f'motor:\n  max_speed: {MARK}"3000"'),
        "motor.max_speed is '3000', a number without a unit",
        '"5000 rpm"',
    ),
    "unknown unit": (
        axis(f"motor:\n  max_speed: {MARK}3000 rmp"),
        "motor.max_speed is '3000 rmp': 'rmp' is not a known unit",
        "perhaps 'rpm', and here a rotational speed above zero with its unit",
    ),
    "unit of the wrong kind": (
        axis(f"controller:\n  max_velocity: {MARK}12 kg"),
        "controller.max_velocity is '12 kg', a mass",
        'a speed above zero with its unit, such as "500 mm/s"',
    ),
    "length where a speed is due": (
        axis(f"controller:\n  max_velocity: {MARK}500 mm"),
        "is '500 mm', a length",
        "a speed above zero",
    ),
    "rate where a rotational speed is due": (
        axis(f"motor:\n  max_speed: {MARK}50 Hz"),
        "is '50 Hz', a rate",
        "a rotational speed",
    ),
    "negative time": (
        axis(f"drive:\n  input_filter: {MARK}-1 ms"),
        "drive.input_filter is '-1 ms', which is negative",
        "a time of zero or more",
    ),
    "lead of zero": (
        axis(f"mechanics:\n  final:\n    lead: {MARK}0.0 mm"),
        "mechanics.final.lead is '0.0 mm', which is zero",
        "a length or an angle above zero",
    ),
    "negative ratio as number": (
        axis(f"mechanics:\n  efficiency: {MARK}-0.9"),
        "mechanics.efficiency is '-0.9', which is negative",
        "a ratio above zero",
    ),
    "ratio that divides by zero": (
        axis(f'mechanics:\n  stated_ratio: {MARK}"7/0"'),
        "mechanics.stated_ratio is '7/0', which divides by zero",
        "a denominator above 0",
    ),
    "two spaces before the unit": (
        axis(f"controller:\n  cycle: {MARK}12.5  mm"),
        "controller.cycle is '12.5  mm'",
        "a length or an angle above zero",
    ),
    "unit that is like no unit of its kind": (
        axis(f"controller:\n  cycle: {MARK}12 parsecs"),
        "controller.cycle is '12 parsecs': 'parsecs' is not a known unit",
        "a length or an angle above zero",
    ),
    "decimal comma": (
        axis(f"controller:\n  cycle: {MARK}12,5 mm"),
        "controller.cycle is '12,5 mm', written with a comma",
        "a point, and here a length",
    ),
    "absurd power of ten in a quantity": (
        axis(f"controller:\n  cycle: {MARK}1e99 mm"),
        "'1e99' has the power of ten 99",
        "-30 to 30",
    ),
    "words in place of a quantity": (
        axis(f"controller:\n  cycle: {MARK}about ten"),
        "controller.cycle is the text 'about ten'",
        '"360 deg"',
    ),
    "list in place of a quantity": (
        axis(f"controller:\n  cycle: {MARK}[1 mm]"),
        "controller.cycle is a list",
        '"360 deg"',
    ),
    "record in place of a quantity": (
        axis(f"controller:\n  cycle: {MARK}{{value: 1 mm}}"),
        "controller.cycle is a record",
        '"360 deg"',
    ),
    "none where nothing can be none": (
        axis(f"drive:\n  counts_per_revolution: {MARK}none"),
        "drive.counts_per_revolution is none",
        "Leave the fact out if it is not known",
    ),
    "value in place of a part that may be none": (
        axis(f"motor:\n  brake: {MARK}24 V"),
        "motor.brake is the text '24 V'",
        "a record with facts such as holding_torque, holding_force, release_time, or none",
    ),
    "none in place of a part that cannot be": (
        axis(f"drive: {MARK}none"),
        "axes.infeed.drive is the text 'none'",
        "a record with facts such as",
    ),
    "misspelled none": (
        axis(f"mechanics:\n  counterbalance: {MARK}None"),
        "mechanics.counterbalance is the text 'None'",
        ", or none",
    ),
    "day that no calendar has": (
        axis(f"motor:\n  commutation:\n    on: {MARK}2026-02-30"),
        "motor.commutation.on is 2026-02-30, which no calendar has",
        "year-month-day",
    ),
    "day the other way round": (
        axis(f"motor:\n  commutation:\n    on: {MARK}14.03.2026"),
        "is the text '14.03.2026'",
        '"2026-03-14"',
    ),
    "homing method beyond the standard": (
        axis(f"controller:\n  homing:\n    method: {MARK}38"),
        "controller.homing.method is 38",
        "from -128 to 37",
    ),
    "unknown homing method": (
        axis(f"controller:\n  homing:\n    method: {MARK}hard_stop_negativ"),
        "is 'hard_stop_negativ'",
        "perhaps 'hard_stop_negative'",
    ),
    "homing method in a list": (
        axis(f"drive:\n  supported_homing_methods: [1, {MARK}99]"),
        "drive.supported_homing_methods[1] is 99",
        "from -128 to 37",
    ),
    "value in place of a list": (
        axis(f"interlocks: {MARK}none"),
        "axes.infeed.interlocks is the text 'none'",
        "a list, or {partial: [...]} if it may be incomplete",
    ),
    "unknown name in a partial list": (
        axis(f"interlocks:\n  partial:\n    - triggers: [position_lost, {MARK}position_lots]"),
        "interlocks.partial[0].triggers[1] is 'position_lots'",
        "perhaps 'position_lost'",
    ),
    "partial beside something": (
        axis(f"interlocks:\n  partial: []\n  {MARK}complete: true"),
        "interlocks.complete is not known here",
        "a list, or {partial: [...]}",
    ),
    "interlock without triggers": (
        axis(f"interlocks:\n  - triggers: []\n  - {MARK}name: stop all"),
        "axes.infeed.interlocks[1] lacks 'triggers'",
        "triggers: a list",
    ),
    "unknown fact in a stage": (
        axis(f"mechanics:\n  stages:\n    - {MARK}teeth: 20"),
        "mechanics.stages[0].teeth is not a fact",
        "'motor_side_teeth'",
    ),
    "claims without a list": (
        axis(f"drive:\n  node:\n    claims: {MARK}3"),
        "drive.node.claims is 3",
        "a list of 1 to 20 claims",
    ),
    "no claim at all": (
        axis(f"drive:\n  node:\n    claims: {MARK}[]"),
        "drive.node.claims has 0 entries",
        "a list of 1 to 20 claims",
    ),
    "claim without source": (
        axis(f"drive:\n  node:\n    claims:\n      - {MARK}value: 3"),
        "drive.node.claims[0] lacks 'source'",
        "a record of value and source",
    ),
    "claim that is a text": (
        axis(f"drive:\n  node:\n    claims:\n      - {MARK}three"),
        "drive.node.claims[0] is the text 'three'",
        "a record of value and source",
    ),
    "settings as a list": (
        axis(f"settings: {MARK}[margin]"),
        "axes.infeed.settings is a list",
        "a record of settings by name",
    ),
    "empty record in place of a list": (
        axis(f"interlocks: {MARK}{{}}"),
        "axes.infeed.interlocks is an empty record",
        "a list, or {partial: [...]}",
    ),
    "list of absurd length": (
        axis(f"drive:\n  supported_homing_methods: {MARK}[{'1, ' * 10000}1]"),
        "drive.supported_homing_methods has 10001 entries",
        "at most 10000",
    ),
    "claim with too much": (
        axis(f"drive:\n  node:\n    claims: [{{value: 3, source: a, {MARK}when: b}}]"),
        "drive.node.claims[0].when is not part of a claim",
        "value and source",
    ),
    "claim with an unusable value": (
        axis(f"drive:\n  node:\n    claims:\n      - {{value: {MARK}three, source: a}}"),
        "drive.node.claims[0].value is the text 'three'",
        "a whole number from 1 to 65535",
    ),
    "claim with a number for a source": (
        axis(f"drive:\n  node:\n    claims:\n      - {{value: 3, source: {MARK}7}}"),
        "drive.node.claims[0].source is 7",
        "the name of the source as text",
    ),
    "something beside claims": (
        axis(f"drive:\n  node:\n    claims: [{{value: 3, source: a}}]\n    {MARK}value: 3"),
        "drive.node.value stands beside claims",
        "nothing beside claims",
    ),
    "misspelled claims": (
        axis(f"drive:\n  node:\n    {MARK}claim: [{{value: 3, source: a}}]"),
        "drive.node.claim is not known here",
        "'claims'",
    ),
    "setting without a reason": (
        axis(f"settings:\n  {MARK}range_margin: {{value: 5 %}}"),
        "axes.infeed.settings.range_margin lacks 'reason'",
        "reason: text",
    ),
    "setting without a record": (
        axis(f"settings:\n  range_margin: {MARK}5 %"),
        "axes.infeed.settings.range_margin is the text '5 %'",
        "a record with facts such as value, reason",
    ),
    "setting with a capital": (
        axis(f"settings:\n  {MARK}Margin: {{value: 5, reason: so}}"),
        "settings.Margin is not a name for a setting",
        "small letters",
    ),
    "setting that is a list": (
        axis(f"settings:\n  margin: {{value: {MARK}[5], reason: so}}"),
        "settings.margin.value is a list",
        "a text, a number, true or false",
    ),
    "null for an unknown fact": (
        axis(f"drive:\n  node: {MARK}null"),
        "null says neither present nor absent",
        "none",
    ),
    "the same fact twice": (
        axis(f"drive:\n  node: 3\n  {MARK}node: 4"),
        "node",
        "",
    ),
    "the first of two faults is told": (
        axis(f"motor:\n  serial: {MARK}1\ndrive:\n  node: 0"),
        "motor.serial is the number 1",
        "text",
    ),
    "faults inside a list item are told in order": (
        axis(f"interlocks:\n  - {MARK}name: 5\n    triggers: [position_lost]").replace(
            f"{MARK}name: 5", f"name: {MARK}5"
        ),
        "interlocks[0].name is the number 5",
        "text",
    ),
}

JSON_CASES: dict[str, tuple[str, str, str]] = {
    "unknown key in JSON": (
        '{"format": 1, "machine": "hall",\n "axes": {"a": {"motion": "linear",'
        f' {MARK}"drve": {{}}}}}}}}',
        "axes.a.drve is not a fact",
        "perhaps 'drive'",
    ),
    "wrong unit in JSON": (
        '{"format": 1, "machine": "hall",\n "axes": {"a": {"motion": "linear",\n'
        f'   "motor": {{"inertia": {MARK}"1 kg m"}}}}}}}}',
        "'kg m' is not a known unit",
        "such as",
    ),
    "missing key in JSON": (
        f'{MARK}{{"machine": "hall", "axes": {{}}}}',
        "the file lacks 'format'",
        "format: 1",
    ),
}


def locate(text: str) -> tuple[str, int, int]:
    """The text without its mark, and the line and column of the mark."""
    before, mark, after = text.partition(MARK)
    assert mark
    assert MARK not in after
    line = before.count("\n") + 1
    return before + after, line, len(before) - (before.rfind("\n") + 1) + 1


@pytest.mark.parametrize("name", [*CASES, *JSON_CASES])
def test_an_unusable_file_gets_one_error_at_the_right_place(name: str, tmp_path: Path) -> None:
    marked, what, expected = CASES.get(name) or JSON_CASES[name]
    text, line, column = locate(marked)
    file = tmp_path / ("machine.json" if name in JSON_CASES else "machine.yaml")
    file.write_text(text, encoding="utf-8")
    error = refused(file)
    assert what in error.what
    assert expected in error.expected
    assert error.place is not None
    assert (error.place.file, error.place.line, error.place.column) == (
        file.as_posix(),
        line,
        column,
    )
    assert error.source_line == text.split("\n")[line - 1]
    assert "\n" not in str(error)


def test_there_are_enough_cases() -> None:
    assert len(CASES) + len(JSON_CASES) >= 70
