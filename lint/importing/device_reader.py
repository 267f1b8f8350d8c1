"""Reads device files: EDS and DCF (CiA 306), XDD and XDC (CiA 311), EtherCAT's ESI (ETG.2000).

The form is told by what the file holds, not by its name.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

from ..base.errors import UsageError
from ..source.reader import DISK, Reader
from .archive import open_binary
from .device import Device
from .export import read_bytes

ENDINGS: Final = (".eds", ".dcf", ".xdd", ".xdc")

_XML: Final = re.compile(rb"\A(?:\xef\xbb\xbf|\xff\xfe|\xfe\xff)?[\s\0]*<")


_ROOT: Final = re.compile(rb"<(?:\w{1,40}:)?(?:EtherCATInfo|ISO15745Profile(?:Container)?)[\s>]")
_HEAD: Final = 1 << 16


def is_device_file(path: Path, reader: Reader = DISK) -> bool:
    """Whether a file is a device file: by its ending, or (.xml) by the element it begins with."""
    ending = path.suffix.lower()
    if ending != ".xml":
        return ending in ENDINGS
    try:
        with open_binary(path, reader) as stream:
            head = stream.read(_HEAD)
    except OSError:
        return False
    return _ROOT.search(head.replace(b"\0", b"")) is not None


def read_device(
    path: Path, node: int | None = None, reader: Reader = DISK, variant: str = ""
) -> Device:
    """Read a device file. ``node`` is the node id if the file does not state it.

    ``variant`` is the name of the type, of a file that describes several. Raises InputError, with a
    line, for a file that is no device file, is cut off, or states another node id; UsageError for a
    node id outside 1 to 127.
    """
    if node is not None and not 1 <= node <= 127:
        raise UsageError(f"the node id {node} is impossible", expected="1 to 127 (CiA 301)")
    data = read_bytes(path, "a device file", reader)
    if not _XML.match(data):
        from .eds_file import eds_device

        return eds_device(path, data, node, reader)
    from .esi_file import ROOT, esi_device
    from .xdd_file import CONTAINERS, xdd_device
    from .xml_tree import xml_text, xml_tree

    source = xml_text(path, data, reader=reader)
    root = xml_tree(source)
    if root.name == ROOT:
        return esi_device(source, root, variant)
    if root.name in CONTAINERS:
        return xdd_device(source, root, node)
    raise source.error(
        f"the file begins with the element {root.name}",
        *root.name_span,
        f"a device file: {ROOT} (ETG.2000) or {CONTAINERS[0]} (CiA 311)",
    )
