"""Faults of telescopes, written before the rules that find them."""

from __future__ import annotations

from fractions import Fraction

from .fault_list import fault
from .plain_axis import PlainAxis, spelled

TELESCOPE = "mechanics.telescope"
SHARE = f"{TELESCOPE}.sections.0.travel_share"


def _ratio(a: PlainAxis) -> Fraction:
    """The travel ratio; 1 if the axis is no telescope, so that no fault changes anything."""
    return a.base(f"{TELESCOPE}.travel_ratio") or Fraction(1)


def _scale_controller(a: PlainAxis, by: Fraction) -> bool:
    if a.get("controller.scaling"):
        return a.scale("controller.scaling.distance", by)
    return a.scale("controller.counts_per_unit", 1 / by)


@fault("telescope-forgotten-in-drive", "enters the feed of the driven section in the drive")
def _(a: PlainAxis) -> bool:
    return _ratio(a) > 1 and a.scale("drive.feed_constant.feed", 1 / _ratio(a))


@fault("telescope-forgotten-in-controller", "scales the controller by the driven section")
def _(a: PlainAxis) -> bool:
    return _ratio(a) > 1 and not a.get("drive.gear") and _scale_controller(a, 1 / _ratio(a))


@fault("telescope-counted-twice", "enters a feed that already counts the telescope, and doubles it")
def _(a: PlainAxis) -> bool:
    return _ratio(a) > 1 and a.scale("drive.feed_constant.feed", _ratio(a))


@fault("telescope-forgotten-in-drawing", "states the mechanics of the driven section alone")
def _(a: PlainAxis) -> bool:
    return a.facts["mechanics"].pop("telescope", None) is not None


@fault("telescope-of-one-section-more", "states one section more than the telescope has")
def _(a: PlainAxis) -> bool:
    if _ratio(a) == 1:
        return False
    return a.put(f"{TELESCOPE}.travel_ratio", spelled(_ratio(a) + 1))


@fault(
    "telescope-ratio-upside-down", "states the travel of the driven section over that of the last"
)
def _(a: PlainAxis) -> bool:
    return _ratio(a) > 1 and a.put(f"{TELESCOPE}.travel_ratio", spelled(1 / _ratio(a)))


@fault("telescope-share-upside-down", "states how many times further the last section travels")
def _(a: PlainAxis) -> bool:
    share = a.base(SHARE)
    return share is not None and a.put(SHARE, spelled(1 / share))


@fault("telescope-share-too-small", "squares the share of a section that is squared anyway")
def _(a: PlainAxis) -> bool:
    share = a.base(SHARE)
    return share is not None and a.put(SHARE, spelled(share**2))


@fault("telescope-section-in-grams", "types the grams of a section as kilograms")
def _(a: PlainAxis) -> bool:
    return a.scale(f"{TELESCOPE}.sections.0.mass", 1000)


@fault("telescope-speed-of-the-driven-section", "takes the limit of a belt as that of the load")
def _(a: PlainAxis) -> bool:
    return _ratio(a) > 1 and a.scale("controller.max_velocity", _ratio(a))
