"""Compares the bytes of the shipped rules of this checkout with those of an earlier one.

Run as ``python -m tests.bench.rule_bytes EARLIER``. ``EARLIER`` is the folder of another checkout.
Examples (with the facts that they share), headlines and the labels of lets are left out.
"""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]

ITEM = re.compile(r"^(?:language|setting|define|rule)\b.*", re.MULTILINE)
"""An item begins at the margin."""

LEFT_OUT = re.compile(r"^  (?:headline|given|passes|fails|warns|undecided|skips)\b", re.MULTILINE)
CLAUSE = re.compile(r"^(?:  [a-z]|#)", re.MULTILINE)
"""A clause of a rule begins two columns in. A comment between items ends the last clause."""

LABEL = re.compile(r'^(  let\s+\w+)(?: "[^"\n]*")?(?: in [^\s=]+)?(?= =)', re.MULTILINE)


@dataclass(frozen=True)
class Item:
    """A setting, a definition, a text or a rule: what it is called and its bytes that count."""

    name: str
    kind: str
    bytes: int


def counted(text: str) -> int:
    """Bytes of an item without examples, headlines and labels."""
    starts = [match.start() for match in CLAUSE.finditer(text)]
    parts = [text[start:end] for start, end in zip([0, *starts], [*starts, len(text)], strict=True)]
    kept = "".join(part for part in parts if not LEFT_OUT.match(part))
    return len(LABEL.sub(r"\1", kept).encode())


def items(text: str) -> Iterator[Item]:
    """What stands in a rule file. The comment at its top counts as an item."""
    starts = list(ITEM.finditer(text))
    edges = [0, *(match.start() for match in starts), len(text)]
    yield Item("", "comment", counted(text[: edges[1]]))
    for match, start, end in zip(starts, edges[1:], edges[2:], strict=False):
        words = match.group().split()
        kind = "text" if words[1] in ("caution", "remedy") else words[0]
        name = words[2] if kind == "text" else words[1]
        yield Item(name, kind, counted(text[start:end]))


def shipped(root: Path) -> list[Item]:
    """All items of the shipped rules of a checkout."""
    files = sorted((root / "rules").glob("*.rules"))
    if not files:
        raise SystemExit(f"{root / 'rules'} holds no rules")
    return [item for file in files for item in items(file.read_text(encoding="utf-8"))]


def change(before: int, now: int) -> str:
    """Two sums and the change in percent, if there was anything earlier."""
    if not before:
        return f"{before:9,} {now:9,}"
    return f"{before:9,} {now:9,} {100 * (now - before) / before:+7.1f} %"


def measured(before: list[Item], now: list[Item]) -> Iterator[str]:
    """The lines of the table."""
    names = [{(item.kind, item.name) for item in side} for side in (before, now)]
    both = names[0] & names[1]

    def row(words: str, kept: Callable[[Item], bool]) -> str:
        sums = (sum(item.bytes for item in side if kept(item)) for side in (before, now))
        return f"{words:44} " + change(*sums)

    def shared(item: Item) -> bool:
        return (item.kind, item.name) in both

    yield f"{'':46}  earlier       now   change"
    yield row("everything", lambda item: True)
    yield row("rules and definitions of both sides", lambda i: i.kind in MAIN and shared(i))
    yield row("  rules", lambda i: i.kind == "rule" and shared(i))
    yield row("  definitions", lambda i: i.kind == "define" and shared(i))
    yield row(
        "rules of both sides, all definitions",
        lambda i: i.kind == "define" or (i.kind == "rule" and shared(i)),
    )
    yield row("settings, named texts, comments", lambda i: i.kind not in MAIN)
    yield row("rules and definitions of one side only", lambda i: i.kind in MAIN and not shared(i))


MAIN = ("rule", "define")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("earlier", type=Path)
    before, now = shipped(parser.parse_args().earlier), shipped(ROOT)
    print("\n".join(measured(before, now)))
    rules = [{item.name for item in side if item.kind == "rule"} for side in (before, now)]
    print(f"added:   {', '.join(sorted(rules[1] - rules[0])) or 'none'}")
    print(f"removed: {', '.join(sorted(rules[0] - rules[1])) or 'none'}")


if __name__ == "__main__":
    main()
