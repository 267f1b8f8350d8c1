"""What records of shards must have before they are joined to one report."""

from __future__ import annotations

from collections.abc import Sequence

from ..base.errors import UsageError
from ..catalogue.catalogue import digest
from ..checking.options import PathLike
from ..checking.reading import Rules
from .shards import MergedRecords


def require_parts(joined: MergedRecords, **wanted: bool) -> None:
    """Raise UsageError if the records lack something that is wanted."""
    lacking = [name for name, needed in wanted.items() if needed and not joined.conditions[name]]
    if lacking:
        options = " ".join(f"--{name.replace('_', '-')}" for name in lacking)
        raise UsageError(
            "the records lack what this form shows", expected=f"records of checks with {options}"
        )


def same_rules(joined: MergedRecords, rules: Sequence[PathLike]) -> Rules:
    """The rules by which records were made. Raises UsageError if ``rules`` are others."""
    in_force = Rules.of(rules, None)
    if digest(in_force.every.texts) != joined.conditions["rules"]:
        raise UsageError(
            "the records were made with other rules", expected="the --rules of the checks"
        )
    return in_force
