"""Chooses by the form of a file who parses it to values and who scans it for their places.

The places come from a second, slower reading, which is done only when a place is needed.
"""

from __future__ import annotations

from ..base.errors import InputError
from .files import Plain, Source
from .places import LocatedSource, Locations, ParsedSource


def parse(source: Source) -> Plain:
    """The plain value of ``source``.

    Raises InputError, with a place, for anything unusable. The further errors of the text are
    beside the first.
    """
    if isinstance(source, ParsedSource):
        return source.parsed()
    try:
        if source.form == "json":
            from .json import parse_json

            return parse_json(source)
        from .yaml import parse_yaml

        return parse_yaml(source)
    except InputError as error:
        error.others, _ = errors_after(source, error)
        raise


def errors_after(
    source: Source, first: InputError
) -> tuple[tuple[InputError, ...], tuple[Source, Plain] | None]:
    """The errors of a text after its first, and what is left of it without them all.

    What is left is None if nothing can be read around the errors.
    """
    if source.form == "json":
        from .json_errors import errors_of_json

        return errors_of_json(source, first)
    from .further_errors import further_errors
    from .yaml import parse_yaml

    return further_errors(source, first, parse_yaml)


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
    from .yaml_places import YamlLocations, scan_yaml

    return YamlLocations(source, scan_yaml(source))
