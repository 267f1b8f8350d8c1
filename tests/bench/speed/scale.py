"""The sizes of the bench: full, quick, and tiny for tests."""

from __future__ import annotations

import copy
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from tests.bench.faults.plain_axis import Plain

from . import machines


@dataclass(frozen=True)
class BenchScale:
    """Sizes and repetitions.

    ``axes`` is the machine most rows use, ``sizes`` the numbers of axes of the slope, ``files`` the
    size of the folder, ``judged`` the axes that evaluators judge.
    """

    axes: int = 1_000
    repeats: int = 9
    starts: int = 40
    sizes: tuple[int, ...] = (100, 1_000, 10_000, 100_000)
    slopes: int = 3
    files: int = 10_000
    judged: int = 40


FULL = BenchScale()
QUICK = BenchScale(repeats=5, starts=20, sizes=(100, 1_000, 10_000), files=1_000)


@dataclass(frozen=True)
class SpeedBench:
    """A run: its scale, and a folder with its files, each written at its first use."""

    scale: BenchScale
    folder: Path
    made: dict[str, Plain] = field(default_factory=dict, repr=False)

    def yaml(self, kind: str) -> Path:
        """The file of the ``clean``, ``thinned`` or ``faulty`` machine."""
        return self._written(f"{kind}.yaml", lambda path: machines.write_yaml(self.of(kind), path))

    def json(self, kind: str) -> Path:
        """The same as JSON."""
        return self._written(f"{kind}.json", lambda path: machines.write_json(self.of(kind), path))

    def of(self, kind: str) -> Plain:
        """The plain machine; nobody may change it."""
        if kind not in self.made:
            if kind == "clean":
                self.made[kind] = machines.clean(self.scale.axes)
            else:
                change = {"thinned": machines.thinned, "faulty": machines.faulty}[kind]
                self.made[kind] = change(self.of("clean"))
        return self.made[kind]

    def one(self) -> Path:
        """The YAML file of a machine with one axis."""
        return self._written("one.yaml", lambda path: machines.write_yaml(machines.clean(1), path))

    def judged(self) -> list[Plain]:
        """Machines for evaluators: clean, with faults on every axis, and thinned."""
        clean = machines.clean(self.scale.judged, seed=2)
        hasty = copy.deepcopy(clean)
        for axis in hasty["axes"].values():
            axis["controller"]["position_loop_gain"] = "9999 1/s"
            axis["drive"]["velocity_polarity"] = "reversed"
        return [clean, hasty, machines.thinned(clean, 0.4)]

    def sized(self, axes: int) -> Path:
        """A folder of clean JSON machines with ``axes`` axes together, as few as the schema allows.

        Each has two axes less: one may have a gantry partner, and a network an input station.
        """

        def write(path: Path) -> Path:
            path.mkdir()
            for number, first in enumerate(range(0, axes, machines.LARGEST)):
                size = min(machines.LARGEST, axes - first)
                some = machines.clean(max(1, size - 2), seed=1 + number)
                machines.write_json(some, path / f"m{number}.json")
            return path

        return self._written(f"axes{axes}", write)

    def many(self) -> Path:
        """A folder of many small clean machines as JSON, which all differ."""

        def write(path: Path) -> Path:
            path.mkdir()
            for number in range(self.scale.files):
                machines.write_json(machines.small(number), path / f"m{number:05}.json")
            return path

        return self._written("many", write)

    def _written(self, name: str, write: Callable[[Path], Path]) -> Path:
        path = self.folder / name
        return path if path.exists() else write(path)
