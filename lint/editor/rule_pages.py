"""Pages of the rules to which findings lead, written into a folder of the session."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from ..base.errors import AxisproofError
from ..catalogue.catalogue import Catalogue


@dataclass
class RulePages:
    """The addresses of the rules on pages that are written, by the name of the rule.

    A page has the rules of one concern. It is written when a finding first leads to it, since all
    pages together take a second. ``wanted``: whether the editor follows links of findings.
    """

    wanted: bool = False
    addresses: dict[str, str] = field(default_factory=dict)
    catalogue: Catalogue | None = None
    known: set[str] = field(default_factory=set)
    folder: Path | None = None

    def address(self, rule: str) -> str:
        """The address of a rule; empty if there is no page with it."""
        return self.addresses.get(rule, "")

    def lacking(self, catalogue: Catalogue, concerns: Iterable[str]) -> tuple[str, ...]:
        """The concerns of which ``write`` has to write a page for these rules, each told once."""
        if not self.wanted:
            return ()
        if catalogue is not self.catalogue:
            self.catalogue, self.known, self.addresses = catalogue, set(), {}
        found = tuple(name for name in dict.fromkeys(concerns) if name and name not in self.known)
        self.known.update(found)
        return found

    def write(self, catalogue: Catalogue, concerns: Iterable[str]) -> None:
        """Write the pages of these concerns; where that fails, there are no links to them."""
        from ..base.safe_write import write_folder
        from ..report.concern_pages import INDEX, render
        from ..rulebook.concerns import concerns as by_concern

        for name in concerns:
            try:
                found = by_concern(catalogue, (name,))
                folder, pages = self._new_folder(), render(found)
                write_folder(folder, pages)
            except (AxisproofError, OSError):
                continue
            if catalogue is not self.catalogue:
                return  # these are no longer the rules
            (file,) = (each for each in pages if each != INDEX)
            address = (folder / file).as_uri()
            for number, rule in enumerate(found[0].rules, 1):
                self.addresses[rule.info.name] = f"{address}#r{number}"

    def _new_folder(self) -> Path:
        if self.folder is None:
            self.folder = Path(tempfile.mkdtemp(prefix="axisproof-rules-"))
            atexit.register(shutil.rmtree, self.folder, ignore_errors=True)
        return Path(tempfile.mkdtemp(dir=self.folder))
