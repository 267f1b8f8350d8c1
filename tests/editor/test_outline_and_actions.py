"""The outline of a text, the places of a fact, and what is offered at a finding."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from axisproof.base.errors import InputError
from axisproof.catalogue.catalogue import shipped
from axisproof.checking.waivers import read_waivers
from axisproof.editor.rule_pages import RulePages
from axisproof.editor.side_files import SideFileOptions

from tests.editor.editor_helpers import FIXTURES
from tests.trust.raw_editor import asked, in_process, opened

TEXT = """format: 1
machine: "Cell 𝄞"
axes:
  lift:
    motion: linear
    drive: {node: 1}
    controller:
      homing: {after: [table]}
  table: {motion: rotary, drive: {node: 2}}
collision_pairs:
- {first: lift, second: table}
"""
RULE = "software-limits-leave-room-to-stop"


def answers(folder: Path, sent: list[Any], **options: Any) -> dict[Any, Any]:
    said = in_process(folder, sent, **options)
    return {each["id"]: each["result"] for each in said if "id" in each}


def spans(text: str, places: list[dict[str, Any]]) -> list[str]:
    """The stretches of text of ranges on one line, in UTF-16 units."""
    found = []
    for each in places:
        start, end = each["range"]["start"], each["range"]["end"]
        units = text.split("\n")[start["line"]].encode("utf-16-le")
        stretch = units[2 * start["character"] : 2 * end["character"]].decode("utf-16-le")
        found.append(f"{start['line'] + 1}: {stretch}")
    return found


def names(symbols: list[dict[str, Any]]) -> list[Any]:
    return [
        [each["name"], *names(each["children"])] if each["children"] else each["name"]
        for each in symbols
    ]


def test_the_outline_has_machine_axes_and_parts(tmp_path: Path) -> None:
    uri = (tmp_path / "m.yaml").as_uri()
    wanted = {"id": 1, "method": "textDocument/documentSymbol"}
    sent = [opened(uri, TEXT), {**wanted, "params": {"textDocument": {"uri": uri}}}]
    (machine,) = answers(tmp_path, sent)[1]
    axes = [["lift", "drive", "controller"], ["table", "drive"]]
    assert names([machine]) == [["Cell 𝄞", *axes, "collision_pairs"]]
    for each in machine["children"]:  # an editor refuses an outline that is not so
        assert each["range"]["start"] == each["selectionRange"]["start"]
        assert each["selectionRange"]["end"]["line"] <= each["range"]["end"]["line"]
    (lift, *_) = machine["children"]
    assert spans(TEXT, [{"range": lift["selectionRange"]}]) == ["4: lift"]


def test_references_lead_to_an_axis_and_to_the_same_fact_of_all_axes(tmp_path: Path) -> None:
    uri, rules = (tmp_path / "m.yaml").as_uri(), (tmp_path / "own.rules").as_uri()
    rule = "language 2\n\nrule r\n  each axis\n  require axis.drive.node <= 100\n"
    sent = [opened(uri, TEXT), opened(rules, rule)]
    context = {"includeDeclaration": True}
    for number, (line, column) in enumerate([(5, 13), (7, 24), (3, 3), (4, 14)]):
        message = asked(number, "references", uri, line, column)
        message["params"]["context"] = context
        sent.append(message)
    found = answers(tmp_path, [*sent, asked(9, "hover", uri)], patient_from=2)
    here = {n: [each for each in found[n] if each["uri"] == uri] for n in range(4)}
    assert spans(TEXT, here[0]) == ["6: node", "9: node"]
    assert spans(rule, [e for e in found[0] if e["uri"] == rules]) == ["5: axis.drive.node"]
    assert spans(TEXT, here[1]) == ["9: table", "8: table", "11: table"]
    assert spans(TEXT, here[2]) == ["4: lift", "11: lift"]
    assert spans(TEXT, here[3]) == ["5: motion", "9: motion"]


def offered(folder: Path, options: SideFileOptions, text: str) -> list[dict[str, Any]]:
    uri = (folder / "lift.yaml").as_uri()
    every = {"start": {"line": 0, "character": 0}, "end": {"line": 9999, "character": 0}}
    params = {"textDocument": {"uri": uri}, "range": every, "context": {"diagnostics": []}}
    wanted = {"id": 1, "method": "textDocument/codeAction", "params": params}
    found: list[dict[str, Any]] = answers(
        folder, [opened(uri, text), wanted], options=options, patient_from=1
    )[1]
    return found


YAML = """waivers: 1
entries:
- rule: brake-holds-load  # until the new brake comes
  machine: Another hall
  axis: lift
  reason: "r"
  approved_by: lead
  expires: "2999-12-31"
  values: {motor.brake: none}
"""
JSON = json.dumps({"waivers": 1, "entries": []})


@pytest.mark.parametrize(("name", "before"), [("w.yaml", YAML), ("w.json", JSON)])
def test_a_waiver_is_written_for_a_person_to_complete(
    tmp_path: Path, name: str, before: str
) -> None:
    file = tmp_path / name
    file.write_text(before, "utf-8")
    source = FIXTURES / "changes" / "lift" / "speed-raised-past-room.yaml"
    text = source.read_text("utf-8")
    actions = offered(tmp_path, SideFileOptions(waivers=file), text)
    assert [each["title"].split(".")[0] for each in actions] == [
        f"Explain {RULE}",
        f"Write a waiver of {RULE}",
    ]
    ((uri, (edit,)),) = actions[1]["edit"]["changes"].items()
    assert uri == file.as_uri()
    lines = before.split("\n")
    at = edit["range"]["start"]
    assert at == edit["range"]["end"]
    here = sum(len(line) + 1 for line in lines[: at["line"]]) + at["character"]
    after = before[:here] + edit["newText"] + before[here:]
    file.write_text(after, "utf-8")
    with pytest.raises(InputError, match="reason"):  # it covers nothing yet
        read_waivers(file, shipped())
    for key, value in {"reason": "r", "approved_by": "lead", "expires": "2999-12-31"}.items():
        after = after.replace(f'"{key}": ""', f'"{key}": "{value}"')
        after = after.replace(f'{key}: ""', f'{key}: "{value}"')
    file.write_text(after, "utf-8")
    *others, waiver = read_waivers(file, shipped()).entries
    assert len(others) == before.count("rule: ")
    assert (waiver.rule, waiver.machine, waiver.axis) == (RULE, "Bottling hall", "lift")
    assert "controller.max_velocity" in [fact for _, fact, _ in waiver.values]
    covered = offered(tmp_path, SideFileOptions(waivers=file), text)
    assert [each["title"] for each in covered] == [f"Explain {RULE}"]


def test_without_a_waiver_file_no_waiver_is_offered(tmp_path: Path) -> None:
    source = FIXTURES / "changes" / "lift" / "speed-raised-past-room.yaml"
    actions = offered(tmp_path, SideFileOptions(), source.read_text("utf-8"))
    assert [each["title"] for each in actions] == [f"Explain {RULE}"]
    (command,) = [each["command"] for each in actions]
    params = {"command": command["command"], "arguments": command["arguments"]}
    asks = {"id": 7, "method": "workspace/executeCommand", "params": params}
    said = in_process(
        tmp_path, [opened((tmp_path / "m.yaml").as_uri(), TEXT), asks], patient_from=1
    )
    (shown,) = [each["params"] for each in said if each.get("method") == "window/showMessage"]
    assert "Requires" in shown["message"]
    assert RULE in shown["message"]


def test_a_finding_leads_to_the_page_of_its_rule() -> None:
    pages = RulePages(wanted=True)
    catalogue = shipped()
    assert pages.lacking(catalogue, ["brake", "", "brake"]) == ("brake",)
    assert pages.lacking(catalogue, ["brake"]) == ()
    pages.write(catalogue, ("brake",))
    try:
        address = pages.address("brake-holds-load")
        file, _, part = address.removeprefix("file://").partition("#")
        page = Path(file).read_text("utf-8")
        assert f'id="{part}">brake-holds-load<' in page
        assert pages.address("turn-counts-match") == ""
        assert RulePages().lacking(catalogue, ["brake"]) == ()
    finally:
        assert pages.folder is not None
        shutil.rmtree(pages.folder)
