"""Undecided checks in text: which data would decide most, the gravest first; and every check."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..base.lazy import dataclass
from ..findings.finding import LEVELS, Report, Undecided
from ..machine.fact_sizes import values_to_find
from .blocks import entry, hanging, heading
from .layout import prose, visible, wrap
from .rendering import RenderOptions
from .words import counted, missing_words, subject_name

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


LISTED_ONE_BY_ONE: Final = 12
"""Most undecided checks that are listed one by one; more are grouped by what they lack."""
NEEDS_SHOWN: Final = 6
"""Most groups of checks in a short list, each with what it lacks."""
FACTS_SHOWN: Final = 10
NAMES_SHOWN: Final = 8


@dataclass(frozen=True, slots=True)
class _Need:
    """Checks that lack the same data: how many of each level, and on which subjects."""

    missing: tuple[str, ...]
    reason: str
    levels: list[int]
    subjects: dict[str, None]

    def rank(self) -> tuple[object, ...]:
        """The gravest first, then what lacks least, then what decides most."""
        worst = next(number for number, checks in enumerate(self.levels) if checks)
        answers = sum(map(values_to_find, self.missing))
        return (worst, answers, -sum(self.levels), self.missing, self.reason)


def undecided_section(report: Report, options: RenderOptions) -> list[str]:
    """Return the section on undecided checks, empty if there are none."""
    if not report.undecided:
        return []
    if not options.whole:
        return _needs(report, options)
    many = len(report.undecided) > LISTED_ONE_BY_ONE
    lines = heading(f"Cannot be decided: {counted(len(report.undecided), 'check')}", options)
    lines += wrap("Data is missing. Nobody knows what these checks would say.", options.width)
    if report.deciding_facts:
        lines += ["", *_deciding_facts(report, options)]
    return [*lines, "", *(_grouped if many else _singly)(report.undecided, options)]


def _needs(report: Report, options: RenderOptions) -> list[str]:
    """A line for each set of data that decides checks: those of the gravest checks first."""
    rules = len({check.rule for check in report.undecided})
    number = len(report.undecided)
    title = f"{counted(number, 'check')} of {counted(rules, 'rule')}"
    lines = heading(f"{title} {'needs' if number == 1 else 'need'} this data", options)
    needs = sorted(_by_need(report), key=_Need.rank)
    for need in needs[:NEEDS_SHOWN]:
        lines += hanging("  ", prose(_need_words(need)), options.width)
    if len(needs) > NEEDS_SHOWN:
        rest = sum(sum(need.levels) for need in needs[NEEDS_SHOWN:])
        text = f"{counted(rest, 'more check')} need other data. --detail lists every check."
        lines += hanging("  ", text, options.width)
    return lines


def _by_need(report: Report) -> Iterable[_Need]:
    several = len({check.machine for check in report.undecided}) > 1
    found: dict[tuple[tuple[str, ...], str], _Need] = {}
    names: dict[tuple[str, str], tuple[str, str]] = {}
    for check in report.undecided:
        key = check.machine, check.subject
        if key not in names:
            shown = subject_name(*key) if several else check.subject or "the machine"
            names[key] = shown, f"axes.{check.subject}."
        shown, base = names[key]
        missing = tuple(fact.removeprefix(base) for fact in check.missing)
        told = check.reason.replace(base, "")
        need = found.get((missing, told))
        if need is None:
            need = found[missing, told] = _Need(missing, told, [0] * len(LEVELS), {})
        need.levels[LEVELS.index(check.level)] += 1
        need.subjects[shown] = None
    return found.values()


def _need_words(need: _Need) -> str:
    levels = [
        f"{number} of level {level}"
        for level, number in zip(LEVELS, need.levels, strict=True)
        if number
    ]
    checks = f"{counted(sum(need.levels), 'check')} ({', '.join(levels)})"
    where = _listed(need.subjects)
    if not need.missing:
        return f"{where}: {checks}. {need.reason or 'No reason was given'}."
    why = f" ({need.reason})" if need.reason else ""
    return f"{where}: {', '.join(need.missing)}{why}, for {checks}."


def _listed(subjects: Iterable[str]) -> str:
    names = [visible(name) for name in subjects]
    more = len(names) - NAMES_SHOWN
    text = ", ".join(names[:NAMES_SHOWN])
    return f"{text} and {more} more" if more > 0 else text


def _deciding_facts(report: Report, options: RenderOptions) -> list[str]:
    lines = ["Data that decides most:"]
    for each in report.deciding_facts[:FACTS_SHOWN]:
        alone = (
            "" if each.alone == each.checks else f", {each.alone} of them without any other data"
        )
        lines += entry(
            visible(each.fact),
            f"bears on {counted(each.checks, 'check')}{alone}, {_subjects_words(each.subjects)}",
            options,
        )
    if len(report.deciding_facts) > FACTS_SHOWN:
        lines.append(f"  and {counted(len(report.deciding_facts) - FACTS_SHOWN, 'further fact')}")
    return lines


def _subjects_words(subjects: Iterable[str]) -> str:
    return f"on {_listed(name or 'the machine' for name in subjects)}"


def _singly(checks: Sequence[Undecided], options: RenderOptions) -> list[str]:
    lines = ["The checks:"]
    for check in checks:
        name = f"{check.rule}, {subject_name(check.machine, check.subject)}"
        lines += entry(visible(name), missing_words(check), options)
    return lines


def _grouped(checks: Sequence[Undecided], options: RenderOptions) -> list[str]:
    """List many checks by what they lack, then by rule, with the names of the axes."""
    several = len({check.machine for check in checks}) > 1
    groups: dict[str, dict[str, list[str]]] = {}
    for check in checks:
        missing = missing_words(check).replace(f"axes.{check.subject}.", "axis.")
        name = subject_name(check.machine, check.subject) if several else check.subject
        groups.setdefault(missing, {}).setdefault(check.rule, []).append(name)
    lines = ["The checks, by what they lack:"]
    for missing, rules in groups.items():
        lines += ["  " + line for line in wrap(prose(missing), options.width - 2)]
        for rule, subjects in rules.items():
            text = prose(f"{rule} {_subjects_words(subjects)}")
            lines += ["      " + line for line in wrap(text, options.width - 6)]
    return lines
