"""Prints every report in every form, for test_determinism.py.

Arguments: where to put what is printed and written, one file each, and the order in which folders
are to be listed: ``sorted``, ``reversed`` or ``shuffled``.
"""

from __future__ import annotations

import os
import random
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

DAY = ("--on", "2026-06-01")
SPARE = ("spare", "sound/hall.yaml", "--axis", "lift", "--part", "motor", "motor.yaml", *DAY)
CHANGES = ("changes", "old", "new", *DAY)
LINES: tuple[tuple[str, ...], ...] = (
    *(("check", "demo", "sound", "faults", *DAY, "--format", form) for form in
      ("text", "json", "sarif", "junit", "markdown", "html")),
    ("check", "demo", *DAY, "--workings", "--every-outcome"),
    ("check", "demo", *DAY, "--format", "json", "--pictures", "--every-outcome"),
    ("check", "demo", "sound", "faults", *DAY, "--format", "json", "--jobs", "2"),
    ("check", "faults", "demo", *DAY, "--format", "text", "--jobs", "3"),
    ("check", "demo", *DAY, "--rules", "rules", "--settings", "settings.yaml", "--workings"),
    ("check", "cell", *DAY, "--format", "json"),
    ("check", "nowhere.yaml"),
    ("check", "broken", *DAY),
    CHANGES,
    (*CHANGES, "--workings", "--format", "json"),
    (*SPARE, "--plan", "--workings"),
    (*SPARE, "--format", "json", "--plan"),
    (*SPARE, "--format", "html"),
    ("recalibrate", "sound/hall.yaml", "--axis", "infeed_pusher", "--true", "100 mm",
     "--indicated", "98.75 mm", "--after", "home-switch"),
    ("import", "cell/project.yaml"),
    ("show", "sound/hall.yaml", "--all"),
    ("rules", "list", "--rules", "rules"),
    ("rules", "list", "--settings"),
    ("explain", "rollover-divides-cycle", "--source"),
    ("schema", "findings"),
    ("init", "--machine", "Cell", "--axis", "lift:linear", "--axis", "table:rotary", "-"),
    ("fix", "faults", *DAY),
)  # fmt: skip
WRITING: tuple[tuple[str, ...], ...] = (
    ("accept", "demo", "faults", *DAY, "-o", "accepted"),
    ("check", "demo", *DAY, "--workings", "--output", "report.txt"),
    ("check", "demo", *DAY, "--format", "html", "--output", "report.html"),
    ("import", "cell/project.yaml", "-o", "cell.yaml"),
    ("init", "--from", "sound/hall.yaml", "starter.yaml"),
    ("rules", "pages", "pages"),
)
"""Commands whose last word is what they write; it goes elsewhere."""


def list_in_order(order: str) -> None:
    """Let folders be listed in another order, as another file system would."""
    mix = random.Random(7)

    def arranged(found: list[Any], key: Callable[[Any], str]) -> list[Any]:
        found.sort(key=key, reverse=order == "reversed")
        if order == "shuffled":
            mix.shuffle(found)
        return found

    scandir, listdir = os.scandir, os.listdir

    class Listed:
        def __init__(self, *path: Any) -> None:
            with scandir(*path) as entries:
                self.entries = iter(arranged(list(entries), lambda entry: os.fsdecode(entry.name)))

        def __iter__(self) -> Any:
            return self.entries

        def __next__(self) -> Any:
            return next(self.entries)

        def __enter__(self) -> Any:
            return self

        def __exit__(self, *_: object) -> None:
            pass

        def close(self) -> None:
            pass

    os.scandir = Listed  # type: ignore[misc, assignment]
    os.listdir = lambda *path: arranged(listdir(*path), os.fsdecode)  # type: ignore[assignment]


def main() -> None:
    out = Path(sys.argv[1]).resolve()
    list_in_order(sys.argv[2])
    from axisproof.cli import main as cli

    for number, line in enumerate(LINES):
        place = out / f"{number:02} {line[0]}"
        with printing_to(place.with_suffix(".out"), place.with_suffix(".err")):
            status = cli.run(line)
        place.with_suffix(".status").write_text(str(status))
    for line in WRITING:
        with printing_to(out / "said", out / "said"):
            cli.run((*line[:-1], str(out / line[-1])))
        (out / "said").unlink()


@contextmanager
def printing_to(*paths: Path) -> Iterator[None]:
    """Let standard output and error go to files meanwhile."""
    kept = [os.dup(1), os.dup(2)]
    for number, path in enumerate(paths, 1):
        handle = os.open(path, os.O_CREAT | os.O_WRONLY)
        os.dup2(handle, number)
        os.close(handle)
    yield
    sys.stdout.flush()
    sys.stderr.flush()
    for number, handle in enumerate(kept, 1):
        os.dup2(handle, number)
        os.close(handle)


if __name__ == "__main__":
    main()
