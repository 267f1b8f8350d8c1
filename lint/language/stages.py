"""Rules of two stages: one level lower while there is time, then the level of the rule."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

from .syntax import Rule
from .tracer import Tracer

EARLY: Final = "early"
DUE: Final = "due"

_LOWER: Final[Mapping[str, str]] = {"error": "warning", "warning": "note", "note": "note"}


def at_stage(rule: Rule, tracer: Tracer, env: Mapping[str, Any]) -> tuple[Rule, str]:
    """A broken rule as it asks and tells at its stage, and the stage; empty for a rule of one."""
    if rule.due is None:
        return rule, ""
    if tracer.value(rule.due, env).value is True:
        _, early, _ = rule.require.kids
        return replace(rule, require=early, headline=(), say=rule.early), EARLY
    return replace(rule, require=rule.due), DUE


def level_at(level: str, stage: str) -> str:
    """The level of a finding at a stage, for the level of its rule."""
    return _LOWER[level] if stage == EARLY else level
