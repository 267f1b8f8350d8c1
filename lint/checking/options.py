"""What a check is asked for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from ..base.lazy import dataclass

TYPE_CHECKING = False
if TYPE_CHECKING:
    import datetime

    from ..importing.site_file import SiteFile

PathLike = Path | str


@dataclass(frozen=True, slots=True)
class CheckOptions:
    """What is checked by which rules, what the report holds, and how the work is done.

    ``rules`` are files of a site's own rules, ``settings`` is its settings file; ``on`` is the day
    that counts as today. Findings that the file ``waivers`` or the accepted set ``accepted`` covers
    stay in the report and are marked as waived. ``texts`` holds, by path, what machine files are to
    be read as, such as unsaved text in an editor.

    ``workings`` derives every figure of a finding, ``every_outcome`` lists also what held or did
    not apply, ``sketches`` gives what a picture of each axis needs.

    ``jobs`` processes share the work (None: as many as cores, if it pays); a script that asks for
    more than one keeps its own doings below ``if __name__ == "__main__":``, as each starts it anew.
    What is found is kept in the folder ``cache``, and taken from there for files that have not
    changed. ``shard`` ("2/5") takes every fifth file from the second on.

    ``site`` is a site file (see ``site_file``). It stands in for rules, settings, waivers, an
    accepted set and a shelf that are not given, and excludes files of folders.

    ``shelf`` is a folder of part files; what a plate states counts for each part that names its
    type.

    With ``partial``, a file that cannot be used does not end the check of the others: the report
    names it in ``unusable``, and is not whole.
    """

    rules: Sequence[PathLike] = ()
    settings: PathLike | None = None
    on: datetime.date | None = None
    waivers: PathLike | None = None
    accepted: PathLike | None = None
    texts: Mapping[Path, str] | Mapping[str, str] | None = None
    workings: bool = False
    every_outcome: bool = False
    sketches: bool = False
    jobs: int | None = 1
    cache: PathLike | None = None
    shard: str = ""
    partial: bool = False
    site: SiteFile | None = None
    shelf: PathLike | None = None
