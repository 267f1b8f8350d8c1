"""An axis count by count: encoder, turn counter, gearing, homing, and a controller.

It knows nothing of recalibration or plans. The mechanics stand at a whole number of encoder counts
from the true zero; the encoder adds the angle at which it happens to sit and the turns it happens
to hold. Sources: the turn counter of CiA 406 (raw position runs 0 … R·N − 1 and wraps) and its
preset value, homing to a switch (CiA 402 methods 17 and 18), to an index pulse after it (1 to 6)
and where the axis stands, without motion (35 and 37; all from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from axisproof.numbers.rational import Fraction, read_fraction
from axisproof.swap import recalibration as swap

ReferenceKind = Literal["switch", "index", "stand", "offset", "preset"]


@dataclass
class Encoder:
    """``offset`` counts lie between the mechanics' zero and its own; it tells ``turns`` apart.

    ``lost``: it was off its battery, and reports an error until that is ``cleared`` and power has
    been cycled.
    """

    counts: int
    turns: int
    offset: int
    absolute: bool = True
    powered_at: int = 0
    lost: bool = False
    cleared: bool = False

    def reading(self, at: int, sign: int) -> int:
        """The raw reading with the mechanics at ``at`` counts; ``sign`` −1 if it counts down."""
        if not self.absolute:
            return sign * (at - self.powered_at)
        return (sign * at + self.offset) % (self.counts * self.turns)

    def has_index(self, at: int, sign: int) -> bool:
        """Whether the index pulse is there."""
        return (sign * at + self.offset) % self.counts == 0

    def reset(self, at: int, sign: int) -> None:
        """Clear the turns; the angle within the turn stays."""
        self.offset = self.reading(at, sign) % self.counts - sign * at


@dataclass
class Axis:
    """``per_count`` in user units; ``cycle`` of an endless axis; ``gauge``: a true place.

    ``reference`` is the position assigned where the reading was ``latched``; an axis that never
    homes adds it to every reading.
    """

    encoder: Encoder
    per_count: Fraction
    sign: int
    cycle: Fraction | None
    way: ReferenceKind
    switch: int
    gauge: int
    drive_turns: int
    reference: Fraction = Fraction(0)
    at: int = 0
    latched: int | None = None
    shifts: list[Fraction] = field(default_factory=list)

    # what the mechanics are

    def true(self) -> Fraction:
        """Where the axis stands."""
        return self._on_cycle(self.at * self.per_count)

    def _on_cycle(self, value: Fraction) -> Fraction:
        return value if self.cycle is None else value % self.cycle

    # what the controller makes of it

    def indicated(self) -> Fraction:
        """Where the controller takes the axis to stand, from the present reading alone."""
        assert self.latched is not None, "not homed"
        states = self.encoder.counts * self.drive_turns
        moved = self.encoder.reading(self.at, self.sign) - self.latched
        if self.encoder.absolute:
            moved %= states
            if self.cycle is None and moved >= states // 2:  # symmetric about the reference
                moved -= states
        return self._on_cycle(self.reference + self.sign * moved * self.per_count)

    def power_cycle(self) -> None:
        """Off and on: an absolute encoder knows its place, an incremental one does not."""
        self.encoder.lost = self.encoder.lost and not self.encoder.cleared
        if not self.encoder.absolute:
            self.encoder.powered_at = self.at
            self.latched = None

    def home(self) -> None:
        """Find the reference, or take the axis where it stands, and latch the reading there."""
        assert not self.encoder.lost, "the encoder reports an error"
        if self.way in ("offset", "preset"):
            self.latched = 0
            return
        if self.way != "stand":
            self.at = self.switch
        if self.way == "index":
            while not self.encoder.has_index(self.at, self.sign):
                self.at += 1
        self.latched = self.encoder.reading(self.at, self.sign)

    def compare(self, way: swap.ReferenceKind) -> Fraction:
        """Compare with the gauge, standing there; give the position to assign."""
        indicated = self.true() if self.latched is None else self.indicated()
        result = swap.recalibrated(self.reference, self.true(), indicated, self.cycle, way=way)
        assert result.new is not None
        self.shifts.append(read_fraction(str(result.shift)))
        return read_fraction(str(result.new))

    def teach(self) -> None:
        """What whoever set the machine up did: the axis reads true afterwards."""
        self.at = self.gauge
        if self.way in ("offset", "preset"):
            self.encoder.reset(self.at, self.sign)
        self.home()
        self.at = self.gauge
        if self.way == "preset":
            self.reference = Fraction(0)
            self.preset(self.true())
        else:
            self.reference = self._on_cycle(self.reference + self.true() - self.indicated())
            self.home()

    def preset(self, position: Fraction) -> None:
        """Make the encoder read what stands for a position."""
        counts = (position - self.reference) / self.per_count
        assert counts.denominator == 1
        self.encoder.offset = self.sign * (int(counts) - self.at)

    def swap_encoder(self, new: Encoder) -> None:
        """The old encoder goes with all it knew; the controller keeps what it latched."""
        self.encoder = new
        self.encoder.powered_at = self.at

    def carry_out(self, steps: Sequence[str]) -> None:
        """Do the steps of a plan by name, in their order; others need no action here."""
        for step in steps:
            match step:
                case "turn-count-setting":
                    self.encoder.turns = self.drive_turns
                case "encoder-reset":
                    self.encoder.cleared = True
                case "clear-turns":
                    self.encoder.reset(self.at, self.sign)
                case "power-cycle" | "full-power-cycle":
                    self.power_cycle()
                case "home" | "home-again" | "home-and-release" | "release-interlock":
                    if self.way == "stand" and step != "home":
                        self.at = self.gauge
                    self.home()
                case "home-from-gauge":
                    self.at = self.gauge
                    self.home()
                case "calibrate" | "calibrate-from-gauge":
                    self.at = self.gauge
                    self.reference = self.compare("mark")
                    self.home()
                case "set-at-gauge":
                    self.at = self.gauge
                    self.reference = self.compare("stand")
                    self.home()
                case "shift-offset":
                    self.at = self.gauge
                    self.reference = self.compare("offset")
                case "preset-at-gauge":
                    self.at = self.gauge
                    self.preset(self.compare("preset"))

    def reads_true(self, places: Sequence[int]) -> bool:
        """Whether indication and truth agree at all these places, and after power-off at each."""
        for place in places:
            self.at = place
            if self.indicated() != self.true():
                return False
            if self.encoder.absolute:
                self.power_cycle()
                if self.indicated() != self.true():
                    return False
        return True
