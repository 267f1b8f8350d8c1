"""What a check leaves out or changes, as sections of text: levels, settings, values of exports."""

from __future__ import annotations

from collections.abc import Sequence

from ..findings.finding import LeftOut, LevelChange, Report
from .blocks import entry, heading
from .layout import visible, wrap
from .rendering import RenderOptions
from .words import level_words, place_words, subject_name, unchecked_files

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

    Settings = Sequence[tuple[str, str, str, str, str]]

SETTINGS_TITLE: Final = "Settings that differ from their default"
LEFT_OUT_TITLE: Final = "Stated, and not taken"
SKIPPED_TITLE: Final = "Files that the check skipped"
LEVELS_TITLE: Final = "Rules that the settings switch off or give another level"


def levels_section(changes: Sequence[LevelChange], options: RenderOptions) -> list[str]:
    """Return the rules whose level the settings change, each with the reason, as lines of text."""
    if not changes:
        return []
    lines = heading(LEVELS_TITLE, options)
    for each in changes:
        lines += entry(
            visible(f"{each.rule}: {level_words(each)}"), f"{each.title}. {each.reason}", options
        )
    return lines


def settings_section(settings: Settings, options: RenderOptions) -> list[str]:
    """Return the settings that differ from their default, each with the reason, as lines."""
    if not settings:
        return []
    lines = heading(SETTINGS_TITLE, options)
    for machine, subject, name, value, reason in settings:
        where = subject_name(machine, subject) if machine else "every machine"
        lines += entry(visible(f"{name} = {value}"), f"{where}: {reason}", options)
    return lines


def skipped_section(report: Report, options: RenderOptions) -> list[str]:
    """Return the names of files that were not checked, as lines of text, if they are asked for."""
    names = unchecked_files(report)
    if not (names and options.verbose):
        return []
    lines = heading(SKIPPED_TITLE, options)
    for word, name in names:
        text = name if word == "Skipped" else f"{name} ({word.lower()})"
        lines += ["  " + line for line in wrap(visible(text), options.width - 2)]
    return lines


def left_out_section(left_out: Sequence[LeftOut], options: RenderOptions) -> list[str]:
    """Return what imports do not take, each with its place and the reason, as lines of text."""
    if not left_out:
        return []
    lines = heading(LEFT_OUT_TITLE, options)
    for each in left_out:
        lines += entry(visible(place_words(each.place)), each.text, options)
    return lines
