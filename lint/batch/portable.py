"""A check request that can go to another process, here or elsewhere."""

from __future__ import annotations

import datetime

from ..base.lazy import dataclass
from ..catalogue.catalogue import own_texts, with_texts
from ..catalogue.settings import Site
from ..checking.reading import Rules
from ..checking.record import CheckRequest
from ..engine.engine import Options
from ..source.reader import Reader

TYPE_CHECKING = False
if TYPE_CHECKING:
    from ..source.shelf import Shelf


@dataclass(frozen=True, slots=True)
class PortableRequest:
    """A check request whose rules of a site are text, from which others build the same rules."""

    texts: dict[str, str]
    site: Site
    on: datetime.date
    options: Options
    sketches: bool
    shelf: Shelf | None

    @classmethod
    def of(cls, request: CheckRequest) -> PortableRequest:
        """What goes of a request."""
        return cls(
            own_texts(request.rules.every),
            request.rules.site,
            request.on,
            request.options,
            request.sketches,
            request.reader.shelf,
        )

    def request(self) -> CheckRequest:
        """The request where it arrives. Its reader reads the disk there."""
        rules = Rules.with_site(with_texts(self.texts), self.site)
        reader = Reader(shelf=self.shelf)
        return CheckRequest(rules, self.on, self.options, self.sketches, reader)
