"""Whatever an editor sends, the language server answers it or ends with one message."""

from __future__ import annotations

import io
import json
import signal
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from axisproof.base.errors import InputError
from axisproof.editor import messages as editor_messages
from hypothesis import given
from hypothesis import strategies as st

from tests.trust import raw_editor
from tests.trust.raw_editor import asked, changed, framed, in_process, opened, opening

MACHINE = "format: 1\nmachine: M\naxes:\n  x: {motion: linear}\n"
INITIALIZED = raw_editor.INITIALIZED

PARSE, REQUEST, METHOD, PARAMS = -32700, -32600, -32601, -32602


# Reading ------------------------------------------------------------------------------------------


def read(data: bytes, piece: int = 1 << 20) -> list[bytes]:
    stream = io.BytesIO(data)
    return list(editor_messages.messages(lambda most: stream.read(min(most, piece))))


@given(st.lists(st.binary(max_size=200), max_size=4), st.integers(1, 300))
def test_messages_are_read_whole_however_they_come(bodies: list[bytes], piece: int) -> None:
    assert read(b"".join(map(framed, bodies)), piece) == bodies


@pytest.mark.parametrize(
    "length",
    [
        *("-1", "-99999999999999999999", "", "12x", "1e3", "0x10", "1_0", "+5", "²", "1 2"),
        *("9" * 400, str(editor_messages.MAX_MESSAGE + 1), "999999999999"),
    ],
)
def test_a_length_that_is_none_is_told_and_nothing_is_read_for_it(length: str) -> None:
    asked_for: list[int] = []
    stream = io.BytesIO(f"Content-Length: {length}\r\n\r\n".encode() + b"x" * 100)

    def reading(most: int) -> bytes:
        asked_for.append(most)
        return stream.read(most)

    with pytest.raises(
        InputError, match="Expected: Content-Length with a number of bytes"
    ) as fault:
        list(editor_messages.messages(reading))
    assert len(str(fault.value)) < 250
    assert max(asked_for) <= editor_messages.PIECE


def test_a_message_and_a_header_at_their_bounds_are_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(editor_messages, "MAX_MESSAGE", 1000)
    assert read(framed(b" " * 1000)) == [b" " * 1000]
    with pytest.raises(InputError, match="has the length '1001'"):
        read(framed(b" " * 1001))
    head = b"Content-Length: 2\r\nX: "
    most = head + b"a" * (editor_messages.MAX_HEADER - len(head))
    assert read(most + b"\r\n\r\n{}") == [b"{}"]
    with pytest.raises(InputError, match="longer than 8192 bytes"):
        read(most + b"a\r\n\r\n{}")


@pytest.mark.parametrize(
    "data",
    [
        b"X: 1\r\n\r\n",
        b"Content-Length: 2\r\nContent-Length: 2\r\n\r\n{}",
        b"a" * 1_000_000,
        b"X: " + b"a" * 9000 + b"\r\nContent-Length: 2\r\n\r\n{}",
        b"Content-Length: 5\r\n\r\n{}",
        b"Content-Length: 5\r\n",
        b"{}\n",
    ],
)
def test_a_header_that_cannot_be_used_is_told(data: bytes) -> None:
    with pytest.raises(InputError, match="Expected"):
        read(data)


def test_memory_follows_what_came_and_not_what_was_said() -> None:
    asked_for: list[int] = []

    def reading(most: int) -> bytes:
        asked_for.append(most)
        return b"" if len(asked_for) > 1 else b"Content-Length: 100000000\r\n\r\n{"

    with pytest.raises(InputError, match="the input ends 99999999 bytes before"):
        list(editor_messages.messages(reading))
    assert max(asked_for) <= editor_messages.PIECE


def test_a_process_with_an_absurd_length_ends_with_one_message(tmp_path: Path) -> None:
    data = framed(opening(tmp_path)) + b"Content-Length: -5\r\n\r\n{}"
    status, said, error = raw_editor.session(tmp_path, data)
    assert status == 2
    assert [each["id"] for each in said] == ["first"]
    assert error.startswith("Unusable input: a message has the length '-5'")
    assert "Traceback" not in error


# Answers ------------------------------------------------------------------------------------------

HERE = {"line": 0, "character": 0}

BAD: dict[str, tuple[Any, int]] = {
    "no JSON": (b"{", PARSE),
    "no UTF-8": (b'{"id": "\xff"}', PARSE),
    "UTF-16": ('{"jsonrpc": "2.0", "id": 1}'.encode("utf-16"), PARSE),
    "nothing": (b"", PARSE),
    "deep": (b"[" * 100_000, PARSE),
    "a long number": (b'{"jsonrpc": "2.0", "id": ' + b"1" * 5000 + b"}", PARSE),
    "a list": (b"[]", REQUEST),
    "a batch": (b'[{"jsonrpc": "2.0", "id": 1, "method": "shutdown"}]', REQUEST),
    "a text": (b'"x"', REQUEST),
    "null": (b"null", REQUEST),
    "no version": (b'{"id": 1, "method": "shutdown"}', REQUEST),
    "another version": ({"jsonrpc": "1.0", "id": 1, "method": "shutdown"}, REQUEST),
    "no method": ({"id": 1}, REQUEST),
    "a method that is a number": ({"id": 1, "method": 5}, REQUEST),
    "a method that is a list": ({"id": 1, "method": ["x"]}, REQUEST),
    "an id that is a list": ({"id": [1], "method": "shutdown"}, REQUEST),
    "an id that is a flag": ({"id": True, "method": "shutdown"}, REQUEST),
    "an id that is null": ({"id": None, "method": "shutdown"}, REQUEST),
    "an id that is a fraction": ({"id": 1.5, "method": "shutdown"}, REQUEST),
    "an unknown method": ({"id": 1, "method": "textDocument/fly", "params": {}}, METHOD),
    "an unknown method without params": ({"id": 1, "method": "$/fly"}, METHOD),
    "what only a server asks": ({"id": 1, "method": "window/showMessageRequest"}, METHOD),
    "a second beginning": ({"id": 1, "method": "initialize", "params": {}}, REQUEST),
    "a notice with an id": ({"id": 1, "method": "initialized", "params": {}}, REQUEST),
    "an end with an id": ({"id": 1, "method": "exit"}, REQUEST),
    "no params": ({"id": 1, "method": "textDocument/hover"}, PARAMS),
    "params that are a list": ({"id": 1, "method": "textDocument/hover", "params": [1]}, PARAMS),
    "params that are a text": ({"id": 1, "method": "textDocument/hover", "params": "x"}, PARAMS),
    "no position": (
        {"id": 1, "method": "textDocument/hover", "params": {"textDocument": {"uri": "file:///a"}}},
        PARAMS,
    ),
    "a position of words": (
        {**asked(1, "hover", "file:///a"), "params": {"textDocument": 3, "position": "x"}},
        PARAMS,
    ),
    "a NUL in an address": (asked(1, "hover", "file:///a%00b.yaml"), PARAMS),
    "a bare NUL": (asked(1, "completion", "\0"), PARAMS),
    "half a pair in an address": (asked(1, "definition", "file:///\ud800.yaml"), PARAMS),
    "an address that is none": (asked(1, "hover", "file://[x"), PARAMS),
    "a long address": (asked(1, "hover", "file:///" + "a/" * 50_000), PARAMS),
}


def hosts(folder: Path) -> bytes:
    return framed(opening(folder)) + framed(INITIALIZED)


def test_every_unusable_message_is_answered_and_the_session_goes_on(tmp_path: Path) -> None:
    uri = (tmp_path / "m.yaml").as_uri()
    sent = hosts(tmp_path) + framed(opened(uri, MACHINE))
    for number, (message, _) in enumerate(BAD.values()):
        sent += framed(message) + framed(asked(f"after {number}", "hover", uri, 3, 7))
    sent += framed({"id": "last", "method": "shutdown"}) + framed({"method": "exit"})
    status, said, error = raw_editor.session(tmp_path, sent)
    answers = [each for each in said if "method" not in each]
    assert answers.pop(0)["id"] == "first"
    for number, (name, (message, code)) in enumerate(BAD.items()):
        answer, after = answers[2 * number : 2 * number + 2]
        assert answer["error"]["code"] == code, (name, answer)
        ident = message.get("id") if isinstance(message, dict) else None
        usable = isinstance(ident, int | str) and not isinstance(ident, bool)
        assert answer["id"] == (ident if usable else None) or name == "no version", name
        assert after["id"] == f"after {number}", name
        assert "linear" in after["result"]["contents"]["value"]
        assert "Traceback" not in json.dumps(answer)
    assert answers[2 * len(BAD) :] == [{"id": "last", "jsonrpc": "2.0", "result": None}]
    assert status == 0
    assert error == ""


def test_requests_before_the_beginning_and_after_the_end_are_answered(tmp_path: Path) -> None:
    uri = (tmp_path / "m.yaml").as_uri()
    sent = framed(asked(1, "hover", uri)) + framed({"id": 2, "method": "shutdown"})
    sent += framed(opened(uri, MACHINE)) + hosts(tmp_path)
    sent += framed({"id": 3, "method": "shutdown"})
    sent += framed(asked(4, "hover", uri)) + framed({"id": 5, "method": "shutdown"})
    sent += framed({"id": 6, "method": "fly"}) + framed(opening(tmp_path))
    sent += framed(opened(uri, MACHINE)) + framed({"method": "exit"})
    status, said, error = raw_editor.session(tmp_path, sent)
    codes = [(each["id"], each.get("error", {}).get("code")) for each in said]
    early = [(1, -32002), (2, -32002)]
    late = [(number, REQUEST) for number in (4, 5, 6, "first")]
    assert codes == [*early, ("first", None), (3, None), *late]
    assert (status, error) == (0, "")


@pytest.mark.parametrize("params", [[], {}, {"textDocument": 5}, None, {"textDocument": {}}])
def test_a_notice_that_cannot_be_used_is_told_once(params: Any, tmp_path: Path) -> None:
    said = in_process(tmp_path, [{"method": "textDocument/didOpen", "params": params}])
    assert [(each["method"], each["params"]["message"]) for each in said] == [
        (
            "window/logMessage",
            "textDocument/didOpen: the params do not have the form of this method",
        )
    ]


def test_a_text_at_an_unusable_address_is_told_and_the_others_are_checked(tmp_path: Path) -> None:
    uri = (tmp_path / "m.yaml").as_uri()
    messages = [opened("file:///a%00.yaml", MACHINE), opened(uri, MACHINE), changed(uri, "x: \0")]
    said = in_process(tmp_path, messages)
    (told,) = [each for each in said if each["method"] == "window/logMessage"]
    assert "'file:///a%00.yaml' is no address of a file" in told["params"]["message"]
    last = [each for each in said if each["method"] == "textDocument/publishDiagnostics"][-1]
    assert "control character" in last["params"]["diagnostics"][0]["message"]


def test_a_machine_that_takes_too_many_steps_is_told_at_its_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from axisproof.language import budget

    monkeypatch.setattr(budget, "MAX_STEPS", 3)
    uri = (tmp_path / "m.yaml").as_uri()
    two = MACHINE + "  y: {motion: linear, motor: {serial: S}}\n"
    said = in_process(tmp_path, [opened(uri, two)])
    (shown,) = [each["params"] for each in said]
    assert shown["uri"] == uri
    assert "steps" in json.dumps(shown["diagnostics"])


def part(uri: str, text: str, line: int, begin: int, end: int) -> dict[str, Any]:
    """The message that a stretch of a line is another text now."""
    message = changed(uri, text)
    span = {"start": {"line": line, "character": begin}, "end": {"line": line, "character": end}}
    message["params"]["contentChanges"][0]["range"] = span
    return message


def test_a_change_of_a_part_is_carried_out(tmp_path: Path) -> None:
    uri = (tmp_path / "m.yaml").as_uri()
    said = in_process(tmp_path, [opened(uri, MACHINE), part(uri, "lniear", 3, 14, 20)])
    assert order(said) == ["publishDiagnostics"] * 2
    assert said[-1]["params"]["version"] == 2
    assert "lniear" in json.dumps(said[-1])


def test_of_a_text_that_is_not_that_of_the_editor_nothing_is_said_until_it_comes_whole(
    tmp_path: Path,
) -> None:
    uri, other = ((tmp_path / name).as_uri() for name in ("m.yaml", "other.yaml"))
    bad = MACHINE.replace("linear", "lniear")
    (tmp_path / "m.yaml").write_text(bad, "utf-8")
    lost = [part(uri, "x", 9, 0, 0), part(uri, "y", 0, 0, 1)]
    said = in_process(
        tmp_path,
        [opened(uri, bad), *lost, opened(other, MACHINE), changed(uri, MACHINE)],
        patient_from=4,
    )
    (told,) = [each for each in said if each["method"] == "window/logMessage"]
    assert "line 10, character 0 lies behind line 5, the last one" in json.dumps(told)
    *_, before, after = (each["params"] for each in said if each["params"].get("uri") == uri)
    assert "Nothing is checked here" in json.dumps(before)
    assert "lniear" not in json.dumps(before)
    assert "cannot be decided" in json.dumps(after)
    assert "Nothing is checked here" not in json.dumps(after)


def test_a_saved_text_that_is_another_one_is_taken_and_told(tmp_path: Path) -> None:
    uri = (tmp_path / "m.yaml").as_uri()
    saved = {"textDocument": {"uri": uri}, "text": MACHINE.replace("linear", "lniear")}
    sent = [opened(uri, MACHINE), {"method": "textDocument/didSave", "params": saved}]
    said = in_process(tmp_path, sent)
    assert "the saved text is another one" in json.dumps(said)
    assert "lniear" in json.dumps(said[-1])


# Checks beside the loop ---------------------------------------------------------------------------


class Held:
    """Checks that wait until they are let go, one after the other."""

    def __init__(self) -> None:
        self.waiting: list[Callable[[], None]] = []

    def __call__(self, work: Callable[[], None]) -> None:
        self.waiting.append(work)

    def go(self) -> None:
        self.waiting.pop(0)()


def order(said: list[dict[str, Any]]) -> list[Any]:
    return [each.get("id", each.get("method", "").rpartition("/")[2]) for each in said]


def test_answers_do_not_wait_for_a_check(tmp_path: Path) -> None:
    uri = (tmp_path / "m.yaml").as_uri()
    sent = [opened(uri, MACHINE), asked(1, "hover", uri, 3, 7), asked(2, "completion", uri, 3, 7)]
    said = in_process(tmp_path, [*sent, asked(3, "definition", uri), "go"], Held())
    assert order(said) == [1, 2, 3, "publishDiagnostics"]
    assert "linear" in said[0]["result"]["contents"]["value"]


def test_a_result_is_not_told_of_a_text_that_is_newer(tmp_path: Path) -> None:
    uri = (tmp_path / "m.yaml").as_uri()
    bad = MACHINE.replace("linear", "lniear")
    held = Held()
    said = in_process(tmp_path, [opened(uri, bad), changed(uri, MACHINE), "go"], held)
    assert said == []  # of the text before; the next check waits
    assert len(held.waiting) == 1
    held = Held()
    said = in_process(tmp_path, [opened(uri, bad), opened(uri, MACHINE), "go", "go"], held)
    assert order(said) == ["publishDiagnostics"]
    assert "lniear" not in json.dumps(said)


def test_no_fix_is_offered_for_another_text_than_was_checked(tmp_path: Path) -> None:
    fixtures = Path(__file__).parent.parent.parent / "fixtures/faults"
    text = (fixtures / "ratio-as-exact-as-on-record.yaml").read_text("utf-8")
    uri = (tmp_path / "m.yaml").as_uri()
    last = {"line": 9999, "character": 0}
    params = {
        "textDocument": {"uri": uri},
        "range": {"start": HERE, "end": last},
        "context": {"diagnostics": []},
    }
    wanted = {"method": "textDocument/codeAction", "params": params}
    sent = [opened(uri, text), "go", {"id": 1, **wanted}]
    sent += [changed(uri, f"# new\n{text}"), {"id": 2, **wanted}]
    said = in_process(tmp_path, sent, Held())
    fixes = {each["id"]: each["result"] for each in said if "id" in each}
    assert [each["kind"] for each in fixes[1]] == ["quickfix", ""]
    assert fixes[2] == []


def test_a_large_file_is_checked_beside_the_answers_of_a_real_server(tmp_path: Path) -> None:
    large, small = (tmp_path / "large.yaml").as_uri(), (tmp_path / "small.yaml").as_uri()
    axes = "".join(f"  a{number}: {{motion: linear}}\n" for number in range(150))
    with raw_editor.running(tmp_path) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        sent = hosts(tmp_path) + framed(opened(large, "format: 1\nmachine: L\naxes:\n" + axes))
        process.stdin.write(sent + framed(opened(small, MACHINE)))
        for number in range(3):
            process.stdin.write(framed(asked(number, "hover", small, 3, 7)))
            process.stdin.write(framed(asked(f"{number}", "completion", small, 3, 7)))
        process.stdin.flush()
        said = raw_editor.told(process.stdout)
        found = order([next(said) for _ in range(9)])
    assert found[:7] == ["first", 0, "0", 1, "1", 2, "2"]
    assert found[7:] == ["publishDiagnostics"] * 2


# The end ------------------------------------------------------------------------------------------


@pytest.mark.exhaustive
def test_the_end_of_a_session_gives_its_status(tmp_path: Path) -> None:
    assert raw_editor.session(tmp_path, hosts(tmp_path))[0] == 0
    assert raw_editor.session(tmp_path, hosts(tmp_path) + framed({"method": "exit"}))[0] == 1


@pytest.mark.exhaustive
def test_a_server_whose_editor_no_longer_listens_ends_without_a_word(tmp_path: Path) -> None:
    with raw_editor.running(tmp_path) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdin.write(hosts(tmp_path))
        process.stdin.flush()
        next(raw_editor.told(process.stdout))
        process.stdout.close()
        process.stdin.write(framed(opened((tmp_path / "m.yaml").as_uri(), MACHINE)))
        process.stdin.flush()
        assert process.wait(60) == 1
        assert process.stderr.read() == b""
        process.stdout = None  # it is closed


def test_a_server_that_is_terminated_ends_at_once_while_the_editor_is_still_there(
    tmp_path: Path,
) -> None:
    with raw_editor.running(tmp_path) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        process.stdin.write(hosts(tmp_path))
        process.stdin.flush()
        next(raw_editor.told(process.stdout))
        process.send_signal(signal.SIGTERM)
        assert process.wait(20) == 128 + signal.SIGTERM
        assert process.stderr is not None
        assert process.stderr.read() == b""
