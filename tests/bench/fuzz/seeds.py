"""The first inputs of fuzzing: some made from the fixtures, and the committed finds."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from . import hostile_seeds
from .file_bundle import pack
from .targets import FIXTURES, ROOT

CORPUS: Final = Path(__file__).parent / "corpus"


def finds(name: str) -> list[Path]:
    """The committed inputs of a target that found a fault."""
    return sorted((CORPUS / name).glob("*"))


def seeds(name: str) -> list[bytes]:
    """All first inputs of a target."""
    return [*_SEEDS[name](), *(path.read_bytes() for path in finds(name))]


def _machine() -> Iterator[bytes]:
    for path in sorted((FIXTURES / "faults").glob("*.yaml")):
        yield pack({"machine.yaml": path.read_bytes()})
    yield pack({"machine.json": (FIXTURES / "sound/table.json").read_bytes()})
    feeder = (FIXTURES / "sound/feeder.yaml").read_bytes()
    part = (FIXTURES / "sound/mechanics.yaml").read_bytes()
    feeder = re.sub(rb"mechanics\.yaml", b"part.yaml", feeder)
    yield pack({"machine.yaml": feeder, "part.yaml": part})
    yield pack({"machine.yaml": b"format: 1\nmachine: M\naxes: {x: {motion: linear}}\n"})
    minimal = {"format": 1, "machine": "M", "axes": {"x": {"motion": "rotary"}}}
    yield pack({"machine.json": json.dumps(minimal, indent=1).encode()})


_ITEM: Final = re.compile(r"(?m)^(?=(?:rule|setting|define)\b)")


def _rules() -> Iterator[bytes]:
    """Each third shipped rule, setting or definition, under another name."""
    for path in sorted((ROOT / "rules").glob("*.rules")):
        for item in _ITEM.split(path.read_text("utf-8"))[1::3]:
            word, name = item.split(None, 2)[:2]
            if word == "rule":
                text = item.replace(name, f"site-{name}", 1)
            elif word == "setting":
                text = item.replace(name, f"site_{name}", 1)
            elif name in ("caution", "remedy", "unit"):  # the name is a word of its own
                last = item.split(None, 3)[2]
                text = item.replace(f"{name} {last}", f"{name} site-{last}", 1)
            else:
                owner, _, last = name.partition(".")
                text = item.replace(name, f"{owner}.site_{last}", 1)
            if len(text) < 4000:
                yield pack({"site.rules": f"language 2\n\n{text}".encode()})


def _device() -> Iterator[bytes]:
    for path in sorted((FIXTURES / "imports/cell").glob("*.dcf")):
        data = path.read_bytes()
        yield pack({"device.dcf": data})
        yield pack(
            {
                "device.eds": re.sub(
                    rb"DefaultValue=.*\n(?=(?:.+\n)*ParameterValue)", b"", data
                ).replace(b"ParameterValue", b"DefaultValue")
            }
        )
    compact = (
        b"[1000]\nParameterName=Type\nObjectType=7\nDataType=7\nAccessType=ro\n"
        b"DefaultValue=0x20192\n\n[DeviceComissioning]\nNodeID=5\n\n[6091]\nParameterName=Gear\nObjectType=0x8\nDataType=0x7\n"
        b"AccessType=rw\nCompactSubObj=2\nDefaultValue=1\n\n[1018]\nParameterName=Identity\n"
        b"ObjectType=0x9\nSubNumber=2\n\n[1018sub0]\nParameterName=n\nDataType=5\nAccessType=ro\n"
        b"DefaultValue=1\n\n[1018sub1]\nParameterName=id\nDataType=7\nAccessType=ro\n"
        b"DefaultValue=$NODEID+0x10\n"
    )
    yield pack({"device.dcf": compact})
    forms = FIXTURES / "imports/forms"
    yield pack({"device.xdc": (forms / "drive.xdc").read_bytes()})
    drives = (forms / "drives.xml").read_bytes()
    second = drives.rindex(b"   <Device ")
    yield pack({"device.xml": drives[:second] + drives[drives.index(b"  </Devices>") :]})


def _lists() -> Iterator[bytes]:
    cell = FIXTURES / "imports/cell"
    for name in ("controller", "encoders"):
        table = (cell / f"{name}.csv").read_bytes()
        mapping = (cell / f"{name}.mapping.yaml").read_bytes()
        yield pack({"list.csv": table, "mapping.yaml": mapping})
    entries = (
        b"parameters:\n  A: {to: drive.max_speed, unit: rpm, scale: 1/10}\n"
        b"  B: {to: controller.software_limits.min, unit: mm}\n"
        b"  C: {to: mechanics.moved_by_gravity, names: {'0': false, '1': true}}\n"
        b"  D: {bits: [{bits: '0-3', to: drive.node}, {bits: '4', ignored: x}]}\n"
        b"ignored: {E: text}\n"
    )
    for form, text in (
        ("ini", b"[x]\nA=45005\nB=-12.5\nC=1\nD=0x13\nE=note\n"),
        ("json", b'{"x": {"A": 45005, "B": -12.5, "C": 1, "D": 19, "E": "note"}}\n'),
        ("yaml", b"x:\n  A: 45005\n  B: -12.5\n  C: 1\n  D: 0x13\n  E: note\n"),
    ):
        head = f"mapping: 1\nform: {form}\nsubject: axis\n".encode()
        yield pack({f"list.{form}": text, "mapping.yaml": head + entries})
    forms = FIXTURES / "imports/forms"
    for name, ending in (("controller", "json"), ("encoder", "xml"), ("stages", "csv")):
        table = (forms / f"{name}.{ending}").read_bytes()
        mapping = (forms / f"{name}.mapping.yaml").read_bytes()
        yield pack({f"list.{ending}": table, "mapping.yaml": mapping})
    keyed = (
        b"mapping: 1\nform: yaml\nrecords: '*/*'\nsubject: axis\n"
        b"columns: {subject: '../#', parameter: '#', value: is, unit: unit}\n"
    )
    rows = b"x:\n  A: {is: 45, unit: rpm}\n  B: {is: -12.5, unit: mm}\n  C: {is: 1}\n"
    yield pack({"list.yaml": rows, "mapping.yaml": keyed + entries})
    wide = b"mapping: 1\nform: csv\nlayout: row_per_axis\nsubject: axis\ncolumns: {subject: Axis}\n"
    yield pack({"list.csv": b"Axis,A,B,C,D,E\nx,1,2,0,3,4\n", "mapping.yaml": wide + entries})


def _project() -> Iterator[bytes]:
    cell = FIXTURES / "imports/cell"
    project = (cell / "project.yaml").read_bytes()
    yield pack({"project.yaml": project})
    for name in (
        *("controller.mapping.yaml", "encoders.mapping.yaml", "controller.csv", "encoders.csv"),
        *("mechanics.yaml", "lift.dcf"),
    ):
        yield pack({"project.yaml": project, name: (cell / name).read_bytes()})


_WAIVER: Final = {
    "rule": "software-limits-leave-room-to-stop",
    "machine": "Bottling hall",
    "axis": "lift",
    "reason": "The upper end is guarded until the stop is exchanged.",
    "approved_by": "maintenance lead",
    "expires": "2026-12-31",
    "values": {
        "controller.max_velocity": "450 mm/s",
        "axes.lift.mechanics.moved_by_gravity": "true",
    },
}
_ACCEPTED: Final = {
    "accepted": 1,
    "recorded_on": "2026-01-01",
    "findings": [
        {
            "rule": "software-limits-leave-room-to-stop",
            "machine": "Bottling hall",
            "subject": "lift",
            "facts": ["axes.lift.controller.max_velocity"],
            "message": "m",
        }
    ],
}
_SETTINGS: Final = (
    b"settings:\n  max_inertia_ratio: {value: 12, reason: ours}\n"
    b"levels:\n  software-limits-leave-room-to-stop: {level: note, reason: known}\n"
    b"  duty-within-rated-torque: {level: off, reason: not ours}\n"
)


def _side_files() -> Iterator[bytes]:
    waivers = {"waivers": 1, "entries": [_WAIVER, {**_WAIVER, "expires": "2020-01-01"}]}
    for plain, file in ((waivers, "waivers"), (_ACCEPTED, "accepted")):
        yield pack({f"{file}.json": json.dumps(plain, indent=1).encode()})
        yield pack({f"{file}.yaml": _as_yaml(plain)})
    yield pack({"settings.yaml": _SETTINGS})
    yield pack({"settings.yaml": _SETTINGS, "waivers.yaml": _as_yaml(waivers)})


def _as_yaml(plain: object) -> bytes:
    import yaml

    return str(yaml.safe_dump(plain, sort_keys=False)).encode()


def _spare() -> Iterator[bytes]:
    for path in sorted((FIXTURES / "spares").glob("*_*.yaml")):
        yield pack({"part.yaml": path.read_bytes()})


def _evidence() -> Iterator[bytes]:
    """Each ninth shipped rule; changed names stand for the others."""
    from axisproof.catalogue.catalogue import shipped

    for name in sorted(shipped().rules)[::9]:
        yield pack({"dice": f"{name} 1\n".encode()})


def _editor() -> Iterator[bytes]:
    change = {
        "method": "textDocument/didChange",
        "params": {
            "textDocument": {"uri": "$URI", "version": 2},
            "contentChanges": [{"text": "format: 1\nmachine: M\naxes:\n  x:\n    mo"}],
        },
    }
    hover = {
        "id": 7,
        "method": "textDocument/hover",
        "params": {"textDocument": {"uri": "$URI"}, "position": {"line": 4, "character": 6}},
    }
    part = {
        "method": "textDocument/didChange",
        "params": {
            "textDocument": {"uri": "$URI", "version": 3},
            "contentChanges": [
                {
                    "range": {
                        "start": {"line": 4, "character": 6},
                        "end": {"line": 4, "character": 6},
                    },
                    "text": "tion: linear\n",
                }
            ],
        },
    }
    head = {"jsonrpc": "2.0"}
    lines = [json.dumps({**head, **each}) for each in (change, part, hover)]
    lines += ["at 12 9", "cut 700", "at 99999 3", "at -1 -1"]
    session = "\n".join(lines).encode()
    for path in sorted((FIXTURES / "faults").glob("*.yaml"))[::12]:
        yield pack({"session": session, "machine.yaml": path.read_bytes()})
    yield pack(
        {"session": session, "machine.json": (FIXTURES / "sound/table.json").read_bytes()[:3000]}
    )
    for parcel in list(_rules())[::9]:
        yield b"=== session\n" + session + b"\n" + parcel


_SEEDS: Final = {
    "machine": _machine,
    "rules": _rules,
    "device": _device,
    "lists": _lists,
    "project": _project,
    "side_files": _side_files,
    "spare": _spare,
    "evidence": _evidence,
    "editor": _editor,
    "records": hostile_seeds.records,
    "trees": hostile_seeds.trees,
    "repositories": hostile_seeds.repositories,
    "quoted": hostile_seeds.quoted,
}
