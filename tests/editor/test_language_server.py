"""The language server in a real session: a client over standard input and output."""

from __future__ import annotations

import asyncio
import shutil
from collections.abc import AsyncIterator
from pathlib import Path

import pytest
import pytest_lsp
from lsprotocol import types
from pytest_lsp import ClientServerConfig, LanguageClient

from tests.editor.editor_helpers import FIXTURES, SERVE, Document, begin, codes, has

pytestmark = pytest.mark.asyncio(loop_scope="module")


@pytest_lsp.fixture(scope="module", config=ClientServerConfig(SERVE))
async def client(
    lsp_client: LanguageClient, tmp_path_factory: pytest.TempPathFactory
) -> AsyncIterator[None]:
    """One session for all tests of this module: each opens files of its own."""
    await begin(lsp_client, tmp_path_factory.mktemp("workspace"))
    yield
    await lsp_client.shutdown_session()


def others(told: types.Diagnostic) -> list[types.Range]:
    return [each.location.range for each in told.related_information or ()]


def clean(found: list[types.Diagnostic]) -> bool:
    return not codes(found)


def copied(name: str, to: Path) -> Path:
    return Path(shutil.copy(FIXTURES / "faults" / name, to))


async def test_a_session_from_opening_to_a_quick_fix(
    client: LanguageClient, tmp_path: Path
) -> None:
    document = Document(client, copied("ratio-as-exact-as-on-record.yaml", tmp_path))
    (told,) = [
        each
        for each in await document.until(has("ratio-as-exact-as-on-record"))
        if each.code == "ratio-as-exact-as-on-record"
    ]
    assert document.under(told.range) == "3.333"
    assert told.severity == types.DiagnosticSeverity.Warning

    hovered = await document.hover(told.range.start)
    assert "10/3" in hovered
    assert "This changes no setting" in hovered

    params = types.CodeActionParams(
        document.identifier,
        told.range,
        types.CodeActionContext([told], [types.CodeActionKind.QuickFix]),
    )
    actions = await client.text_document_code_action_async(params)
    assert actions is not None
    (action,) = actions
    assert isinstance(action, types.CodeAction)
    assert action.edit is not None
    assert action.edit.changes is not None
    (edit,) = action.edit.changes[document.uri]
    assert document.under(edit.range) == "3.333"
    assert edit.new_text == "10/3"

    document.replace("motor_turns_per_load_turn: 3.333", "motor_turns_per_load_turn: 10/3")
    await document.until(clean)


async def test_findings_follow_the_text_before_it_is_saved(
    client: LanguageClient, tmp_path: Path
) -> None:
    path = copied("turn-counts-match.yaml", tmp_path)
    saved = path.read_text("utf-8")
    document = Document(client, path)
    (told,) = [
        each
        for each in await document.until(has("turn-counts-match"))
        if each.code == "turn-counts-match"
    ]
    number = document.under(told.range)
    other = told.related_information
    assert other
    other_number = document.under(other[0].location.range)
    assert {number, other_number} <= set(saved.split())
    document.type(
        saved.replace(
            f"distinguishable_revolutions: {number}", f"distinguishable_revolutions: {other_number}"
        )
    )
    await document.until(clean)
    assert path.read_text("utf-8") == saved
    document.type(saved)
    await document.until(has("turn-counts-match"))


async def test_one_side_of_a_disagreement_leads_to_the_other(
    client: LanguageClient, tmp_path: Path
) -> None:
    document = Document(client, copied("turn-counts-match.yaml", tmp_path))
    found = await document.until(has("turn-counts-match"))
    (told,) = [each for each in found if each.code == "turn-counts-match"]
    assert told.related_information
    other = told.related_information[0].location.range
    for here, there in ((told.range, other), (other, told.range)):
        params = types.DefinitionParams(document.identifier, here.start)
        locations = await client.text_document_definition_async(params)
        assert isinstance(locations, list)
        assert there in [each.range for each in locations if isinstance(each, types.Location)]


async def test_a_quick_fix_is_not_offered_for_what_needs_someone_at_the_machine(
    client: LanguageClient, tmp_path: Path
) -> None:
    document = Document(client, copied("turn-counts-match.yaml", tmp_path))
    found = await document.until(has("turn-counts-match"))
    (told,) = [each for each in found if each.code == "turn-counts-match"]
    params = types.CodeActionParams(
        document.identifier,
        told.range,
        types.CodeActionContext(found, [types.CodeActionKind.QuickFix]),
    )
    assert not await client.text_document_code_action_async(params)


async def test_text_that_cannot_be_read_is_told_in_its_place_and_then_forgotten(
    client: LanguageClient, tmp_path: Path
) -> None:
    path = copied("turn-counts-match.yaml", tmp_path)
    document = Document(client, path)
    await document.until(has("turn-counts-match"))
    good = document.text
    document.replace("motion: linear", "motion: 𝄞linaer")
    (told,) = await document.until(lambda found: len(found) == 1 and "linear" in found[0].message)
    assert document.under(told.range) == "𝄞linaer"
    assert told.severity == types.DiagnosticSeverity.Error
    document.type(good)
    await document.until(has("turn-counts-match"))


async def test_columns_count_utf_16_units(client: LanguageClient, tmp_path: Path) -> None:
    path = copied("ratio-as-exact-as-on-record.yaml", tmp_path)
    pair = 'commutation: {motor_serial: "𝄞𝄞", encoder_serial: E-70021, on: 2026-02-04}'
    text = path.read_text("utf-8").replace("commutation: none", pair)
    document = Document(client, path, text)
    found = await document.until(has("commutation-taught-with-fitted-pair"))
    (told,) = [each for each in found if each.code == "commutation-taught-with-fitted-pair"]
    assert '"𝄞𝄞"' in [document.under(told.range), *map(document.under, others(told))]
    hovered = await document.hover(document.at("encoder_ser", "ial: E-70021, on"))
    assert "Serial number of the encoder at that time" in hovered


async def test_hovering_an_axis_shows_its_derived_numbers_and_a_fact_those_that_rest_on_it(
    client: LanguageClient, tmp_path: Path
) -> None:
    document = Document(client, copied("turn-counts-match.yaml", tmp_path))
    await document.until(has("turn-counts-match"))
    name = document.text.split("axes:\n")[1].split(":")[0].strip()
    axis = await document.hover(document.at(f"\n  {name[:3]}", f"{name[3:]}:"))
    assert "counts\\_per\\_unit" in axis
    fact = await document.hover(document.at("counts_per_re", "volution: 131072\n      index"))
    assert "Counts per revolution, with all edges per line that count" in fact
    assert "counts\\_per\\_unit" in fact


async def test_keys_and_words_are_completed_from_the_schema(
    client: LanguageClient, tmp_path: Path
) -> None:
    path = tmp_path / "new.yaml"
    text = "format: 1\nmachine: New\naxes:\n  lift:\n    motion: l\n    encoder:\n      ki\n"
    path.write_text(text, "utf-8")
    document = Document(client, path)
    words = await document.complete(document.at("motion: l", "\n"))
    assert set(words) == {"linear", "rotary"}
    keys = await document.complete(document.at("      ki", "\n"))
    documentation = keys["kind"].documentation
    assert isinstance(documentation, str)
    assert documentation.startswith("Incremental, absolute within a turn, or absolute over many")
    edit = keys["kind"].text_edit
    assert isinstance(edit, types.TextEdit)
    assert (document.under(edit.range), edit.new_text) == ("ki", "kind: ")
    assert "motion" not in keys
    document.type(text.replace("      ki\n", "      kind: incremental\n      \n"))
    keys = await document.complete(document.at("incremental\n      ", "\n"))
    assert "kind" not in keys
    assert "serial" in keys


async def test_json_is_completed_with_the_quotes_it_needs(
    client: LanguageClient, tmp_path: Path
) -> None:
    path = tmp_path / "new.json"
    path.write_text('{"format": 1, "axes": {"a": {"motion": "x", "drive": {"no" }}}}', "utf-8")
    document = Document(client, path)
    words = await document.complete(document.at('"motion": "', 'x"'))
    edit = words["linear"].text_edit
    assert isinstance(edit, types.TextEdit)
    assert edit.new_text == "linear"
    keys = await document.complete(document.at('"drive": {"no', '"'))
    assert "node" in keys


async def test_an_included_file_is_checked_as_part_of_its_machine(
    client: LanguageClient, tmp_path: Path
) -> None:
    for file in ("hall.yaml", "mechanics.yaml"):
        shutil.copy(FIXTURES / "sound" / file, tmp_path)
    document = Document(client, tmp_path / "mechanics.yaml")
    await document.until(clean)
    document.type(document.text.replace("lead: 10 mm", "lead: 5 mm"))
    hall = (tmp_path / "hall.yaml").as_uri()
    for _ in range(2000):
        found = {*codes(list(client.diagnostics.get(hall, ())))}
        found |= codes(list(client.diagnostics.get(document.uri, ())))
        if "lead-is-starts-times-pitch" in found:
            break
        await asyncio.sleep(0.05)
    assert "lead-is-starts-times-pitch" in found


async def test_a_text_that_was_never_saved_is_checked_under_its_own_name(
    client: LanguageClient, tmp_path: Path
) -> None:
    document = Document(client, copied("turn-counts-match.yaml", tmp_path))
    text = document.text
    document.type("")
    uri = "untitled:Untitled-1.yaml"
    client.text_document_did_open(
        types.DidOpenTextDocumentParams(types.TextDocumentItem(uri, "yaml", 1, text))
    )
    document.uri = uri
    await document.until(has("turn-counts-match"))


async def test_closing_a_text_takes_its_findings_away(
    client: LanguageClient, tmp_path: Path
) -> None:
    document = Document(client, copied("turn-counts-match.yaml", tmp_path))
    await document.until(has("turn-counts-match"))
    client.text_document_did_close(types.DidCloseTextDocumentParams(document.identifier))
    await document.until(lambda found: not found)


RULES = """language 2

rule site-node
  level   note
  title   "nodes are low"
  each    axis
  when    axis.motion is linear
  require axis.drive.node <= 100 and axis.counts_per_unit > 0count/mm
  say     "node {axis.drive.node}"
  why     "why"
  remedy  "remedy"
  basis   "site"
  passes "low"
    axis.drive.node = 3
  fails "high"
    axis.drive.node = 200
"""


async def test_a_rule_file_is_checked_completed_and_explained(
    client: LanguageClient, tmp_path: Path
) -> None:
    path = tmp_path / "site.rules"
    path.write_text("language 2\n", "utf-8")
    document = Document(client, path, RULES.replace("> 0count/mm", "> axis.motor.seriel"))
    (told,) = await document.until(lambda found: len(found) == 1)
    assert document.under(told.range) == "axis.motor.seriel"
    assert "axis.motor.serial" in told.message
    document.type(RULES.replace("0count/mm", "1mm"))
    (told,) = await document.until(
        lambda found: len(found) == 1 and "seriel" not in found[0].message
    )
    document.type(RULES)
    await document.until(lambda found: not found)

    hovered = await document.hover(document.at("require axis.drive.no", "de <="))
    assert "Address on the network" in hovered
    derived = await document.hover(document.at("axis.counts_per", "_unit >"))
    assert "counts" in derived.lower()
    assert "in user units" in derived

    document.type(RULES.replace("axis.drive.node <= 100", "axis.drive.no <= 100"))
    fields = await document.complete(document.at("require axis.drive.no", " <="))
    assert fields["axis.drive.node"].documentation.startswith("Address on the network.")
    assert "axis.counts_per_unit" in fields
    words = await document.complete(document.at("axis.motion is ", "linear"))
    assert set(words) == {"linear", "rotary"}
