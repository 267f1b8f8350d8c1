"""Device files read as exports, and the facts or the error that follow."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from axisproof.base.errors import InputError
from axisproof.importing.device_facts import DeviceOptions, device_export
from axisproof.importing.device_reader import read_device
from axisproof.importing.export import Export

from tests.importing.device_samples import (
    Value,
    device_text,
    write_device,
)

MM = {
    0x60A8: Value("0xFD010000"),
    0x60A9: Value("0xFD010300"),
    0x60AA: Value("0xFD015700"),
}
"""User units: mm, mm/s, mm/s²."""


def export_of(
    folder: Path,
    objects: dict[int, Any],
    *,
    node: int | None = None,
    profile: int = 402,
    **options: Any,
) -> Export:
    path = write_device(folder, device_text(objects, profile=profile))
    return device_export(read_device(path, node), "x", DeviceOptions(**options))


def facts_of(folder: Path, objects: dict[int, Any], **options: Any) -> dict[str, Any]:
    """Facts by path, without that of the node."""
    export = export_of(folder, objects, **options)
    facts = {}
    for path, statement in export.statements.items():
        start = 2 if path[0] == "axes" else 0
        facts[".".join(map(str, path[start:]))] = statement.value
    facts.pop("drive.node", None)
    return facts


def refused(folder: Path, text: str, **options: Any) -> InputError:
    path = write_device(folder, text)
    with pytest.raises(InputError) as caught:
        device_export(read_device(path), "x", DeviceOptions(**options))
    assert caught.value.place is not None
    assert caught.value.place.file == path.as_posix()
    return caught.value
