"""Waivers and the accepted set in an editor: what does not count is shown, as what it is."""

from __future__ import annotations

import asyncio
import json
import shutil
from collections.abc import AsyncIterator, Callable
from pathlib import Path
from typing import Any

import pytest
import pytest_lsp
from axisproof.cli import main as cli
from axisproof.editor.diagnostics import Diagnostic
from axisproof.editor.machines import analyse
from axisproof.editor.side_files import SideFileOptions, read_side_files
from axisproof.editor.state import ServerState
from axisproof.source.reader import DISK
from lsprotocol import types
from pytest_lsp import ClientServerConfig, LanguageClient

from tests.editor.editor_helpers import FIXTURES, SERVE, Document, begin, codes, has

RULE = "software-limits-leave-room-to-stop"
SHORT = "ratio-as-exact-as-on-record"
WAIVER: dict[str, Any] = {
    "rule": RULE,
    "machine": "Bottling hall",
    "axis": "lift",
    "reason": "The upper end is guarded until the stop is exchanged.",
    "approved_by": "maintenance lead",
    "expires": "2999-12-31",
    "values": {"controller.max_velocity": "450 mm/s"},
}
WAIVED = "Waived: until 2999-12-31, approved by maintenance lead: The upper end is guarded"


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in, with a machine that has one finding and files that cover nothing."""
    monkeypatch.chdir(tmp_path)
    shutil.copy(FIXTURES / "changes" / "lift" / "speed-raised-past-room.yaml", "lift.yaml")
    waivers()
    accepted = {"accepted": 1, "recorded_on": "2026-02-03", "findings": []}
    Path("accepted.json").write_text(json.dumps(accepted), "utf-8")
    return tmp_path


def waivers_text(*entries: dict[str, Any]) -> str:
    return json.dumps({"waivers": 1, "entries": list(entries)}, indent=1)


def waivers(*entries: dict[str, Any]) -> None:
    """Write the waivers as an editor does, whole at once: a check may read them at any moment."""
    Path("waivers.new").write_text(waivers_text(*entries), "utf-8")
    Path("waivers.new").replace("waivers.json")


# A session ----------------------------------------------------------------------------------------

ASIDE = [*SERVE, "--waivers", "waivers.json", "--accepted", "accepted.json"]


@pytest_lsp.fixture(config=ClientServerConfig(server_command=ASIDE))
async def client(lsp_client: LanguageClient, tmp_path: Path) -> AsyncIterator[None]:
    await begin(lsp_client, tmp_path)
    yield
    await lsp_client.shutdown_session()


async def told(
    document: Document, severity: types.DiagnosticSeverity, rule: str = RULE
) -> types.Diagnostic:
    """The diagnostic of a rule, once it is as grave as wanted."""

    def good(found: list[types.Diagnostic]) -> bool:
        return [each.severity for each in found if each.code == rule] == [severity]

    found = await document.until(good)
    return next(each for each in found if each.code == rule)


def save(document: Document) -> None:
    """Let the editor say that a file was saved, so that the server looks again."""
    params = types.DidSaveTextDocumentParams(document.identifier)
    document.client.text_document_did_save(params)


async def diagnostics(
    client: LanguageClient, file: str, good: Callable[[list[types.Diagnostic]], bool]
) -> list[types.Diagnostic]:
    """What is told of a file, open or not, once it is as wanted."""
    found: list[types.Diagnostic] = []
    for _ in range(2000):
        found = list(client.diagnostics.get(Path(file).resolve().as_uri(), ()))
        if good(found):
            return found
        await asyncio.sleep(0.05)
    raise AssertionError(f"last told: {found}")


@pytest.mark.asyncio
async def test_a_waiver_counts_as_soon_as_it_stands_in_the_file(
    client: LanguageClient, folder: Path
) -> None:
    document = Document(client, folder / "lift.yaml")
    plain = await told(document, types.DiagnosticSeverity.Error)
    assert "Waived" not in plain.message
    waivers(WAIVER)
    save(document)
    waived = await told(document, types.DiagnosticSeverity.Information)
    first, _, rest = waived.message.partition("\n")
    assert first.startswith(WAIVED)
    assert first.endswith("(waivers.json:4:3)")
    assert rest == plain.message
    assert waived.range == plain.range
    hovered = (await document.hover(waived.range.start)).replace("\\", "")
    assert f"**error: {RULE}**\n\n{WAIVED}" in hovered
    waivers()
    save(document)
    await told(document, types.DiagnosticSeverity.Error)


@pytest.mark.asyncio
async def test_a_waiver_counts_while_it_is_typed_and_its_file_is_no_machine(
    client: LanguageClient, folder: Path
) -> None:
    document = Document(client, folder / "lift.yaml")
    beside = Document(client, folder / "waivers.json", waivers_text(WAIVER))
    await told(document, types.DiagnosticSeverity.Information)
    await beside.until(lambda found: not found)

    beside.replace('"expires": "2999-12-31"', '"expires": "2026-01-31"')
    await told(document, types.DiagnosticSeverity.Error)
    (lapsed,) = await beside.until(has("waiver-lapsed"))
    assert lapsed.message == f"The waiver of {RULE} on lift expired on 2026-01-31."
    assert lapsed.severity == types.DiagnosticSeverity.Warning
    assert beside.under(lapsed.range) == '"2026-01-31"'

    beside.type(waivers_text({**WAIVER, "values": {"controller.max_velocity": "400 mm/s"}}))
    (lapsed,) = await beside.until(lambda found: any("granted for" in f.message for f in found))
    assert lapsed.related_information
    assert document.under(lapsed.related_information[0].location.range) == "450 mm/s"

    beside.type(waivers_text({**WAIVER, "rule": "turn-counts-match"}))
    (unused,) = await beside.until(has("waiver-unused"))
    assert "there is no such finding" in unused.message

    beside.type(waivers_text(WAIVER))
    await beside.until(lambda found: not found)
    await told(document, types.DiagnosticSeverity.Information)


@pytest.mark.asyncio
async def test_a_bad_waiver_file_is_told_once_in_its_place_and_covers_nothing(
    client: LanguageClient, folder: Path
) -> None:
    waivers(WAIVER)
    document = Document(client, folder / "lift.yaml")
    shutil.copy("lift.yaml", "other.yaml")
    Document(client, folder / "other.yaml")
    await told(document, types.DiagnosticSeverity.Information)
    waivers({**WAIVER, "rule": f"{RULE}s"})
    save(document)
    (fault,) = await diagnostics(client, "waivers.json", bool)
    assert fault.message == f"{RULE}s is not a rule. Expected: perhaps {RULE}"
    assert fault.severity == types.DiagnosticSeverity.Error
    assert fault.range.start.line == 4
    await told(document, types.DiagnosticSeverity.Error)
    assert fault.message not in [each.message for each in client.diagnostics[document.uri]]
    waivers(WAIVER)
    save(document)
    await told(document, types.DiagnosticSeverity.Information)
    await diagnostics(client, "waivers.json", lambda found: not found)
    assert not [each.message for each in client.log_messages if "mistake" in each.message]


@pytest.mark.asyncio
async def test_a_bad_waiver_file_is_told_while_no_machine_is_open(
    client: LanguageClient, folder: Path
) -> None:
    beside = Document(client, folder / "waivers.json", waivers_text({**WAIVER, "axis": ""}))
    (fault,) = await beside.until(bool)
    assert "axis" in fault.message
    beside.type("{")
    (fault,) = await beside.until(lambda found: bool(found) and "axis" not in found[0].message)
    beside.type(waivers_text(WAIVER))
    await beside.until(lambda found: not found)


@pytest.mark.asyncio
async def test_a_waiver_file_that_is_gone_is_told_where_a_machine_is_open(
    client: LanguageClient, folder: Path
) -> None:
    Path("waivers.json").unlink()
    document = Document(client, folder / "lift.yaml")
    found = await document.until(has(RULE))
    (missing,) = [each for each in found if "waivers.json cannot be read" in each.message]
    assert missing.severity == types.DiagnosticSeverity.Error
    assert missing.range.start == types.Position(0, 0)
    waivers(WAIVER)
    save(document)
    await told(document, types.DiagnosticSeverity.Information)


@pytest.mark.asyncio
async def test_an_accepted_finding_says_so_and_a_new_one_counts(
    client: LanguageClient, folder: Path
) -> None:
    day = ["--on", "2026-02-03"]
    given = ["accept", "lift.yaml", "--output", "accepted.json", "--force", *day]
    assert cli.run(given) == 0
    document = Document(client, folder / "lift.yaml")
    known = await told(document, types.DiagnosticSeverity.Information)
    assert known.message.startswith("Accepted: part of the accepted set, recorded on 2026-02-03\n")
    document.replace("max_speed: 4000 rpm", "max_speed: 1000 rpm")
    found = await document.until(lambda found: len(codes(found)) > 1)
    weights = {each.code: each.severity for each in found if each.code}
    assert weights.pop(RULE) == types.DiagnosticSeverity.Information
    assert types.DiagnosticSeverity.Information not in weights.values()


@pytest.mark.asyncio
async def test_a_correction_of_a_waived_finding_is_offered_but_not_preferred(
    client: LanguageClient, folder: Path
) -> None:
    waivers({**WAIVER, "rule": SHORT, "axis": "crate_shift", "values": {"drive.node": 2}})
    shutil.copy(FIXTURES / "faults" / f"{SHORT}.yaml", "short.yaml")
    document = Document(client, folder / "short.yaml")
    waived = await told(document, types.DiagnosticSeverity.Information, SHORT)
    params = types.CodeActionParams(
        document.identifier,
        waived.range,
        types.CodeActionContext([waived], [types.CodeActionKind.QuickFix]),
    )
    (action,) = await client.text_document_code_action_async(params) or ()
    assert isinstance(action, types.CodeAction)
    assert action.is_preferred is False


# Without a session --------------------------------------------------------------------------------


def remarks(given: SideFileOptions, *, file: str = "lift.yaml") -> tuple[Diagnostic, ...]:
    return analyse(Path(file).resolve(), DISK, read_side_files(given)).diagnostics


def test_of_machines_that_are_not_open_only_a_day_that_has_passed_is_told() -> None:
    elsewhere = {**WAIVER, "machine": "Packing cell"}
    waivers(WAIVER, elsewhere, {**elsewhere, "expires": "2026-01-31"})
    rules = [
        each.rule for each in remarks(SideFileOptions(waivers=Path("waivers.json"))) if each.rule
    ]
    assert rules == [RULE, "waiver-lapsed"]


@pytest.mark.parametrize("own", [True, False])
def test_levels_of_a_site_and_waivers_of_its_rules_go_together(own: bool) -> None:
    text = (
        'language 2\nrule site-node level note title "t" each axis\n'
        'require axis.drive.node <= 1 say "node {axis.drive.node}" why "w" remedy "r" basis "b"\n'
        'passes "one" axis.drive.node = 1\nfails "two" axis.drive.node = 2\n'
    )
    Path("site.rules").write_text(text, "utf-8")
    Path("site.yaml").write_text(
        "levels:\n  site-node: {level: error, reason: low nodes only}\n", "utf-8"
    )
    shutil.copy(FIXTURES / "faults" / f"{SHORT}.yaml", "short.yaml")
    waivers(
        {**WAIVER, "rule": "site-node", "axis": "crate_shift", "values": {"drive.node": 2}},
    )
    rules = (Path("site.rules"),) if own else ()
    given = SideFileOptions(rules, Path("site.yaml") if own else None, Path("waivers.json"))
    found = remarks(given, file="short.yaml")
    if own:
        (node,) = [each for each in found if each.rule == "site-node"]
        assert node.severity == "error"
        assert node.waived.startswith("Waived: until 2999-12-31")
    else:  # without the rule, its waiver is a mistake
        assert any("site-node is not a rule" in each.text for each in found)
        assert any(each.rule == SHORT and not each.waived for each in found)


def test_a_bad_accepted_set_and_bad_waivers_are_a_message_each() -> None:
    Path("waivers.json").write_text("[]", "utf-8")
    Path("accepted.json").write_text('{"accepted": 2}', "utf-8")
    given = SideFileOptions(waivers=Path("waivers.json"), accepted=Path("accepted.json"))
    found = remarks(given)
    faults = [each for each in found if not each.rule and each.severity == "error"]
    assert [each.place.file for each in faults] == ["waivers.json", "accepted.json"]
    assert [each.waived for each in found if each.rule == RULE] == [""]


def test_a_settings_file_that_is_open_is_checked_as_what_it_is() -> None:
    site = Path("site.yaml").resolve()
    state = ServerState(SideFileOptions(settings=Path("site.yaml")))
    state.open(site, "settings: {}\n")
    state.checked = state.check()()
    assert state.to_publish() == {site: ()}
    state.open(site, "settings: {x: 1}\n")
    (fault,) = state.check()().diagnostics[site]
    assert fault.text == "x does not state value and reason alone. Expected: value and reason"
