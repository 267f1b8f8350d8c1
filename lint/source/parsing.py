"""Chooses by the form of a file who parses it to values and who scans it for their places.

The places come from a second, slower reading, which is done only when a place is needed.
"""

from __future__ import annotations

from ..base.errors import InputError
from .files import Plain, Source
from .places import LocatedSource, Locations


def parse(source: Source) -> Plain:
    """The plain value of ``source``.

    Raises InputError, with a place, for anything unusable. Of a YAML text the further errors are
    beside the first.
    """
    if source.form == "json":
        from .json import parse_json

        return parse_json(source)
    from .yaml import parse_yaml

    try:
        return parse_yaml(source)
    except InputError as error:
        from .further_errors import further_errors

        error.others, _ = further_errors(source, error, parse_yaml)
        raise


def locate(source: Source) -> Locations:
    """The places in ``source``; the file is scanned once, on the first call."""
    if isinstance(source, LocatedSource):
        return source.locations
    return source.once(_scan)


def _scan(source: Source) -> Locations:
    """Scan ``source`` for places. Of a file that is unusable further down, the part before it."""
    if source.form == "json":
        from .json import scan_json

        return Locations(source, scan_json(source))
    from .yaml_places import scan_yaml

    return Locations(source, scan_yaml(source))
