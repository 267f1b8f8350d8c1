"""What an import of a device file does not take: named with the reason, or counted."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Set
from typing import Final

from .device import Device
from .device_sections import ObjectKey
from .export import ImportRemark
from .objects import PROFILES
from .profile_objects import WITHOUT_FACT

DOES_NOT_APPLY: Final = "with the other values it says nothing about a fact"


def left_over(
    device: Device, used: Set[ObjectKey], unshifted: Callable[[int], int], profile: int
) -> Iterator[ImportRemark]:
    """Remarks on all objects with a value that are neither taken nor named yet.

    Objects that the device profile names come with the reason, one remark a reason. The others are
    counted. ``unshifted`` gives the index in the profile; -1 for another part of the device.
    """
    mapped = {
        index
        for mapping in PROFILES[profile][1]
        for index, _ in (*mapping.objects, *mapping.limits)
    }
    reasons: dict[str, list[ObjectKey]] = {}
    communication = maker = others = 0
    for key, value in device.values.items():
        index, sub = key
        if value.value is None or key in used or (sub == 0 and index not in device.single):
            continue
        own = unshifted(index)
        reason = WITHOUT_FACT[profile].get(own)
        if reason is not None:
            reasons.setdefault(reason, []).append(key)
        elif index < 0x2000:
            communication += 1
        elif index < 0x6000:
            maker += 1
        elif own >= 0:
            if own in mapped:
                reasons.setdefault(DOES_NOT_APPLY, []).append(key)
            else:
                others += 1
    for reason, keys in reasons.items():
        names = ", ".join(f"0x{index:04X}" for index in dict.fromkeys(index for index, _ in keys))
        yield ImportRemark(device.values[keys[0]].place, f"left out: {names} ({reason})")
    counts = (
        (communication, "of communication (below 0x2000)"),
        (maker, "of the maker's own (0x2000 to 0x5FFF)"),
        (others, "that this tool does not know"),
    )
    parts = [f"{number} {words}" for number, words in counts if number]
    if parts:
        total = sum(number for number, _ in counts)
        what = "value is" if total == 1 else "values are"
        yield ImportRemark(
            device.source.place(0, 0), f"{total} other {what} left out: {', '.join(parts)}"
        )
