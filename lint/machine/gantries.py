"""Who belongs to a gantry or is coupled: what follows from the names that others state."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..base.absence import NONE, PRESENT
from .records import Facts, notes_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


PARTNER: Final = "gantry.partner"
FOLLOWERS: Final = "gantry.followers"
ROLE: Final = "gantry.role"
COUPLED_TO: Final = "differential.partner"
COUPLING: Final = "differential"

FOLLOWERS_ELSEWHERE: Final = "followers_elsewhere"
"""The fact of an axis that is derived here: those names among its followers (or its one partner)
that are no axis, or an axis that does not name it as its partner."""


_NO_AXIS: Final[Facts] = {"gantry": NONE}


def settle_gantries(axes: Sequence[Facts]) -> None:
    """Tell of each member of a gantry what it names in only one of two ways, in place.

    A leader that lists its followers has no single partner, and an axis that names a partner lists
    no followers. Both stay missing where neither is stated, or where sources dispute one of them.
    ``followers_elsewhere`` is partial where it is not known whom a follower names.
    """
    by_name = {axis["name"]: axis for axis in axes}
    for axis in axes:
        partner, followers = axis.get(PARTNER), axis.get(FOLLOWERS)
        disputed = notes_of(axis).disputed
        if followers is None and partner not in (None, NONE) and FOLLOWERS not in disputed:
            axis[FOLLOWERS] = []
        leads = followers is not None and axis.get(ROLE) == "leader"
        if leads and partner is None and PARTNER not in disputed:
            axis[PARTNER] = NONE
    for axis in axes:
        if axis.get(PARTNER) is not None or axis.get(FOLLOWERS) is not None:
            _add_elsewhere(axis, by_name)


def settle_couplings(axes: Sequence[Facts]) -> None:
    """Note of an axis that a coupled axis names that it is coupled, if it does not say so itself.

    So a coupling that one of the two leaves out is not known, and not absent.
    """
    named = {axis[COUPLED_TO] for axis in axes if COUPLED_TO in axis}
    for axis in axes:
        if axis["name"] in named and axis.get(COUPLING) is None:
            axis[COUPLING] = PRESENT


def _add_elsewhere(axis: Facts, by_name: Mapping[str, Facts]) -> None:
    notes = notes_of(axis)
    elsewhere: list[str] = []
    unsure = FOLLOWERS in notes.partial
    partner = axis.get(PARTNER)
    names = axis.get(FOLLOWERS) or ([] if partner in (None, NONE) else [partner])
    for name in dict.fromkeys(names):
        other = by_name.get(name, _NO_AXIS)
        its_partner = NONE if other.get("gantry") is NONE else other.get(PARTNER)
        if its_partner is None:
            unsure = True
        elif its_partner != axis["name"]:
            elsewhere.append(name)
    axis[FOLLOWERS_ELSEWHERE] = elsewhere
    if unsure:
        notes.partial |= {FOLLOWERS_ELSEWHERE}
