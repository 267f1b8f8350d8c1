"""The order to compare with: facts in the order that a greedy choice learns on other machines.

Of each planted fault the fewest facts that show it are searched by leaving out. The greedy choice
then takes, again and again, the facts that show most faults for what they cost. It knows how often
each kind of fault is planted, which the tool cannot know.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any

from axisproof.base.errors import AxisproofError

from ..faults.plain_axis import Plain
from .faulty import Faulty, Hit, finds

ASKED_FOR_NOTHING = frozenset({"format", "machine"})
"""What a file states before anybody is asked; so is the motion of each axis."""


def leaves(plain: Any, path: str = "") -> Iterator[str]:
    """The paths of all values, of which a list of words is one."""
    if isinstance(plain, dict) and plain:
        for key, value in plain.items():
            yield from leaves(value, f"{path}.{key}" if path else key)
    elif isinstance(plain, list) and any(isinstance(each, dict) for each in plain):
        for number, value in enumerate(plain):
            yield from leaves(value, f"{path}[{number}]")
    else:
        yield path


def askable(plain: Plain) -> list[str]:
    """The values that a starter file lacks."""
    return [
        path
        for path in leaves(plain)
        if path not in ASKED_FOR_NOTHING and not path.endswith(".motion")
    ]


def general(path: str) -> str:
    """The fact of any axis and of any item of a list."""
    return re.sub(r"\[\d+\]", "[]", re.sub(r"^axes\.[^.]+\.", "axis.", path))


def only_with(plain: Any, kept: frozenset[str] | set[str], path: str = "") -> Any:
    """A machine with these values only; a list keeps all its items if it keeps a value."""
    if isinstance(plain, dict):
        found = {}
        for key, value in plain.items():
            inner = f"{path}.{key}" if path else key
            below = only_with(value, kept, inner)
            if below is not None or inner == "axes" or path == "axes":
                found[key] = {} if below is None else below
        return found or None
    if isinstance(plain, list) and any(isinstance(each, dict) for each in plain):
        items = [only_with(each, kept, f"{path}[{n}]") for n, each in enumerate(plain)]
        return None if not any(items) else [{} if each is None else each for each in items]
    return plain if path in kept or path in ASKED_FOR_NOTHING or path.endswith(".motion") else None


def fewest(plain: Plain, hits: frozenset[Hit]) -> frozenset[str]:
    """Values of which none can be left out if one of these findings is to stay."""
    search = _Search(plain, hits)
    kept = askable(plain)
    near = {axis for _, axis in hits}
    own = [path for path in kept if not path.startswith("axes.") or path.split(".")[1] in near]
    search.leave_out([path for path in kept if path not in own])
    for _ in range(2):  # a fact that only chose between others goes with them
        groups: dict[str, list[str]] = {}
        for path in own:
            groups.setdefault(".".join(path.split(".")[:3]), []).append(path)
        for group in groups.values():
            search.leave_out(group)
        own = sorted(search.kept)
        lists = {path.partition("[")[0] for path in own if "[" in path}
        for each in lists:
            search.leave_out([path for path in own if path.startswith(f"{each}[")], whole=True)
        own = sorted(search.kept)
    return frozenset(search.kept)


class _Search:
    """Leaves values out for as long as a finding stays."""

    def __init__(self, plain: Plain, hits: frozenset[Hit]) -> None:
        self.plain = plain
        self.hits = hits
        self.kept = set(askable(plain))

    def leave_out(self, group: list[str], *, whole: bool = False) -> None:
        """Leave out as many of these as can be left out; or all or none."""
        group = [path for path in group if path in self.kept]
        left = self.kept.difference(group)
        try:
            shown = bool(group) and finds(thin := only_with(self.plain, left), self.hits)
        except AxisproofError:
            shown = False  # a value is left out that must be stated
        if shown:
            self.kept, self.plain = left, thin
        elif len(group) > 1 and not whole:
            half = len(group) // 2
            self.leave_out(group[:half])
            self.leave_out(group[half:])


def needs_of(machine: Faulty) -> list[frozenset[str]]:
    """The facts, of any axis, that show each fault of a machine."""
    return [
        frozenset(general(path) for path in fewest(machine.plain, fault.hits))
        for fault in machine.faults
    ]


def costs(machines: Sequence[Faulty]) -> dict[str, float]:
    """How many values of each fact a machine has on average."""
    count = Counter(general(path) for machine in machines for path in askable(machine.plain))
    return {fact: number / len(machines) for fact, number in count.items()}


def greedy_order(needs: Sequence[frozenset[str]], cost: dict[str, float]) -> list[str]:
    """The facts, those first that show most faults for their cost."""
    numbers = {fact: number for number, fact in enumerate(sorted(cost))}
    open_needs = Counter(sum(1 << numbers[fact] for fact in need) for need in needs)
    price = [cost[fact] for fact in numbers]
    by_number = list(numbers)
    order: list[str] = []
    while open_needs:
        best = max(open_needs, key=lambda wanted: _worth(wanted, open_needs, price))
        order += [by_number[n] for n in _bits(best)]
        left: Counter[int] = Counter()
        for need, count in open_needs.items():
            if need & ~best:
                left[need & ~best] += count
        open_needs = left
    return order


def _bits(mask: int) -> Iterator[int]:
    while mask:
        lowest = mask & -mask
        yield lowest.bit_length() - 1
        mask ^= lowest


def _worth(wanted: int, open_needs: Counter[int], price: list[float]) -> tuple[float, int]:
    met = sum(count for need, count in open_needs.items() if not need & ~wanted)
    return met / sum(price[n] for n in _bits(wanted)), -wanted


def typed_by(order: Sequence[str], plain: Plain) -> list[str]:
    """The values of a machine in this order of facts, axis after axis, the others last."""
    rank = {fact: number for number, fact in enumerate(order)}

    def first_asked(path: str) -> int:
        fact = general(path)
        inside = (r for each, r in rank.items() if each.startswith(f"{fact}."))
        return min((rank[fact],) if fact in rank else inside, default=len(rank))

    return sorted(askable(plain), key=first_asked)


def facts_until_met(typed: Sequence[str], machine: Faulty) -> list[int]:
    """How many values are typed, in this order, until each fault is met."""
    counts = []
    for fault in machine.faults:
        low, high = 0, len(typed)
        while low < high:
            middle = (low + high) // 2
            try:
                met = finds(only_with(machine.plain, set(typed[:middle])), fault.hits)
            except AxisproofError:
                met = False
            low, high = (low, middle) if met else (middle + 1, high)
        counts.append(low)
    return sorted(counts)
