"""Random edits of a machine file, as somebody types them or cuts and pastes."""

from __future__ import annotations

from random import Random

import yaml

from tests.bench.faults.sound_machine import machine
from tests.bench.speed.machines import DAY as DAY
from tests.bench.speed.machines import _plain_numbers

NASTY = (
    *('"', "'", "{", "}", "[", "]", "#", " #", "&a ", "*a", "|", ">", "- ", "? ", "\t", "\r", ": "),
    *("é𝄞", "\n\n", "\n---\n", "\n...\n", "%TAG ! x\n", "axes:\n", "\n  new:\n", "!!str ", "<<: "),
    *("stand-in", "\nnetwork:", "include: [x.yaml]\n", "none", "0", "true"),
)
"""What an edit puts anywhere: signs with a meaning in YAML, and words with one in machine files."""


def written(seed: int, axes: int) -> str:
    """A sound machine as a YAML text."""
    plain = _plain_numbers(machine(seed, axes))
    return yaml.dump(
        plain, Dumper=yaml.CSafeDumper, allow_unicode=True, sort_keys=False,
        default_flow_style=None, width=100,
    )  # fmt: skip


def edited(text: str, random: Random) -> str:
    """The text after one edit."""
    lines = text.split("\n")
    here, there = random.randrange(len(lines)), random.randrange(len(lines))
    kind = random.randrange(10)
    if kind == 0:
        return _put_in(text, random)
    if kind == 1:
        lines.insert(there, lines[here])
    elif kind == 2:
        del lines[here]
    elif kind == 3:
        lines.insert(here, random.choice(("", "# note", "  # note", "      # note")))
    elif kind == 4:
        lines[here] += "  # changed"
    elif kind == 5:
        _swap_axes(lines, random)
    elif kind == 6:
        _swap_values(lines, random)
    else:
        lines[here] = _other_number(lines[here], random)
    return "\n".join(lines)


def _put_in(text: str, random: Random) -> str:
    at = random.randrange(len(text) + 1)
    end = min(len(text), at + random.choice((0, 0, 1, 3)))
    return text[:at] + random.choice(NASTY) + text[end:]


def _other_number(line: str, random: Random) -> str:
    """The line with a digit changed, of most lines; the word none in place of a value."""
    digits = [at for at, char in enumerate(line) if char.isdigit()]
    if not digits:
        key, _, value = line.partition(": ")
        return f"{key}: none" if value else line
    at = random.choice(digits)
    return line[:at] + random.choice("0123456789") + line[at + 1 :]


def _swap_values(lines: list[str], random: Random) -> None:
    """Give two lines of the same key the values of one another."""
    by_key: dict[str, list[int]] = {}
    for number, line in enumerate(lines):
        key, _, value = line.partition(": ")
        if value:
            by_key.setdefault(key, []).append(number)
    several = [numbers for numbers in by_key.values() if len(numbers) > 1]
    if several:
        one, other = random.sample(random.choice(several), 2)
        lines[one], lines[other] = lines[other], lines[one]


def _swap_axes(lines: list[str], random: Random) -> None:
    """Move an axis in front of another one."""
    starts = [n for n, line in enumerate(lines) if line[:2] == "  " and line[2:3].isalpha()]
    if len(starts) > 1:
        start = random.choice(starts[:-1])
        end = starts[starts.index(start) + 1]
        moved = lines[start:end]
        del lines[start:end]
        lines[starts[0] : starts[0]] = moved
