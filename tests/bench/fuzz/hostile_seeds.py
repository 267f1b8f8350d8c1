"""The first inputs of the targets that watch the surroundings (hostile.py)."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from typing import Any, Final

from .file_bundle import pack
from .targets import DAY, FIXTURES

KEPT: Final = 3
"""Most items of a list that a first record keeps, so that a change hits each kind of value."""


def records() -> Iterator[bytes]:
    """Records of small checks, with all details and with none."""
    from axisproof import api
    from axisproof.api import CheckOptions

    machines = ("changes/lift/speed-raised-past-room.yaml", "sound/feeder.yaml")
    for name in machines:
        for detailed in (True, False):
            kept: list[Iterable[str]] = []
            options = CheckOptions(
                on=DAY, workings=detailed, every_outcome=detailed, sketches=detailed
            )
            api.check([FIXTURES / name], options, recorded=kept.append)
            plain = _shorter(json.loads("".join(kept[0])))
            data = json.dumps(plain, indent=0).encode()
            yield pack({"record.json": data})
        yield pack({"record.json": data, "accepted.yaml": _ACCEPTED, "waivers.yaml": _WAIVERS})


_ACCEPTED: Final = b"accepted: 1\nrecorded_on: 2026-01-01\nfindings: []\n"
_WAIVERS: Final = (
    b"waivers: 1\nentries:\n- rule: software-limits-leave-room-to-stop\n"
    b"  machine: Bottling hall\n  axis: lift\n  reason: r\n  approved_by: a\n"
    b"  expires: 2026-12-31\n  values: {controller.max_velocity: 450 mm/s}\n"
)


def _shorter(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _shorter(each) for key, each in value.items()}
    if isinstance(value, list):
        return [_shorter(each) for each in value[:KEPT]]
    return value


_SCRIPTS: Final = (
    b"copy m.yaml 1\ncopy deep/n.yaml 2\nfolder kept\nfolder out\n",
    b"copy m.yaml 1\nlink report ../outside/kept.yaml\nlink record ../outside/new\n"
    b"link kept ../outside\n",
    b"copy m.yaml 1\nlink n.yaml ../outside/kept.yaml\nlink o.yaml m.yaml\n",
    b"file m.yaml format: 1\\nmachine: M\\ninclude: [../outside/kept.yaml]\\naxes: {}\\n\n",
    b"file m.yaml format: 1\\nmachine: M\\ninclude: [part.yaml]\\naxes: {}\\n\n"
    b"link part.yaml ../outside/kept.yaml\n",
    b"copy m.yaml 1\nlink a/b ../a\nlink c c\npipe p.yaml\nlink d ..\n",
    b"file project.yaml project: 1\\nmachine: M\\nsources:\\n- {device: ../outside/kept.yaml}\\n\n"
    b"copy m.yaml 1\nfile site.yaml settings: {}\\nlevels: {}\\n\n"
    b"link waivers.yaml ../outside/kept.yaml\n",
    b"copy m.yaml 3\nfile kept/CACHEDIR.TAG x\nlink kept/00 ../../outside\nfile report old\n"
    b"link accepted.yaml ../outside/new.yaml\nlink imported.yaml /dev/null\n",
)


def trees() -> Iterator[bytes]:
    """Scripts that make folders with links out of them."""
    for script in _SCRIPTS:
        yield pack({"script": script})


_MACHINE: Final = b"format: 1\\nmachine: M\\naxes: {x: {motion: rotary}}\\n"
_WHOLE: Final = (
    b"blob 1 " + _MACHINE + b"\ntree 2 100644=m.yaml=1\ncommit 3 2\nref refs/heads/main 3\n"
)
_REPOSITORIES: Final = (
    _WHOLE + b"ask HEAD:m.yaml\nask HEAD:\n",
    _WHOLE + b"tree 4 40000=deep=2 120000=l.yaml=1 160000=s=3\nask 4:\nask HEAD:deep\n"
    b"commit 5 4\nref refs/heads/side 5\nask side:\nask side:l.yaml\n",
    _WHOLE + b"config [core]\\n\\tfsmonitor = $PROGRAM\\n\\tpager = $PROGRAM\\n[gpg]\\n\\tprogram ="
    b" $PROGRAM\\n[log]\\n\\tshowSignature = true\nask HEAD:m.yaml\n",
    _WHOLE + b'config [extensions]\\n\\tpartialClone = o\\n[remote "o"]\\n\\turl = ext::$PROGRAM\n'
    b"raw 6 tree x\nref refs/heads/bad 6\nask bad:\n",
    _WHOLE + b"put HEAD ref: refs/heads/../../x\nput packed-refs x\nask HEAD:m.yaml\n",
    _WHOLE + b"link objects/info/alternates ../../../outside\nput commondir ../../outside\n"
    b"ask main:m.yaml\nask :m.yaml\n",
    b"blob 1 format: 1\\ninclude: [../outside/kept.yaml]\\n\ntree 2 100644=m.yaml=1 40000=..=1\n"
    b"commit 3 2\nref refs/heads/main 3\nask main:m.yaml\nask main:../m.yaml\n",
)


def repositories() -> Iterator[bytes]:
    """Scripts that make repositories of git."""
    for script in _REPOSITORIES:
        yield pack({"script": script})


_LINES: Final = (
    "::error::owned\n##vso[task.complete result=Succeeded;]\n##[error]owned\n",
    " \u00a0::add-mask::x\n\ufeff::stop-commands::x\n##teamcity[x]\n",
    "\\n::error::x\n#\u200b#[x]\na ##[[##vso[\n\u001b[31m::x\n\u2028::x\n\u0085##[x\n",
    "\ud83d\ude00 ::x\n| ::error::y |\n<b>##[z]</b>\n`::x`\n".encode(
        "utf-16", "surrogatepass"
    ).decode("utf-16"),
)


def quoted() -> Iterator[bytes]:
    """Lines that are commands, and machines with places for them."""
    text = (FIXTURES / "changes/lift/speed-raised-past-room.yaml").read_text("utf-8")
    text = re.sub(r"(?m)^( +)guidance: .*$", r"\1guidance: LINE0", text)
    text = re.sub(r"(?m)^( +)serial: .*$", r"\1serial: LINE1", text)
    broken = ("axes: {x: {motion: LINE0, LINE1: 2}}", "LINE0\n", "{LINE0", "a: LINE0 b: LINE1\n")
    for lines in _LINES:
        yield pack({"lines": lines.encode(), "machine.yaml": text.encode()})
    for each in broken:
        yield pack({"lines": _LINES[0].encode(), "machine.yaml": each.encode()})
