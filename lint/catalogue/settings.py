"""Settings: the defaults of rules, changed for a site, a machine or an axis, each with a reason."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

from ..base.errors import AxisproofError, InputError, Place
from ..base.lazy import dataclass, replace
from ..findings.builtin import BUILT_IN
from ..findings.finding import LEVELS, LevelChange
from ..machine.machine import Machine
from ..machine.records import Facts, notes_of
from ..machine.value_reader import as_written
from ..numbers.calendar_periods import months_of
from ..numbers.compound_units import parse_literal
from ..numbers.dimensions import dim_words
from ..numbers.exact import QuantityError
from ..source.merge import Tree, load_tree
from ..source.places import KeyPath
from ..source.reader import DISK, Reader
from .catalogue import Catalogue

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from ..language.syntax import Setting

Overrides = tuple[tuple[str, str, str, str, str], ...]
Fail = Callable[[KeyPath, str, str], AxisproofError]


@dataclass(frozen=True, slots=True)
class Site:
    """What a site changes for all its machines: settings, and levels of rules (or off)."""

    settings: Mapping[str, tuple[Any, str, str]]
    levels: Mapping[str, tuple[str, str]]


NO_SITE = Site({}, {})


def read_site(path: Path, catalogue: Catalogue, reader: Reader = DISK) -> Site:
    """Read a site file: ``settings: {NAME: {value, reason}}, levels: {RULE: {level, reason}}``.

    Raises InputError for an unknown setting or rule, a value of the wrong kind or a missing reason.
    """
    tree = load_tree(path, reader=reader)

    def fail(where: KeyPath, what: str, expected: str) -> AxisproofError:
        return _at(tree, where, what, expected)

    plain = tree.plain
    if not isinstance(plain, dict):
        raise fail((), "the settings file is not a mapping", "settings: and levels:")
    for key in plain:
        if key not in ("settings", "levels"):
            from ..importing.shape import refuse_other_kind

            refuse_other_kind(tree.sources[0], plain, "settings")
            place = (*tree.key_places((key,)), tree.nearest((key,)))[0]
            raise InputError(
                f"{key} is not known in a settings file",
                expected="settings or levels",
                place=place,
                source_line=tree.line_text(place),
            )
    settings: dict[str, tuple[Any, str, str]] = {}
    for name, entry in _mapping(plain, "settings", fail).items():
        value, reason = _entry(entry, ("settings", name), "value", fail)
        where = ("settings", name, "value")
        settings[name] = (
            setting_value(catalogue, name, value, where, fail),
            as_written(value),
            reason,
        )
    levels: dict[str, tuple[str, str]] = {}
    names = [entry.name for entry in catalogue.entries]
    for name, entry in _mapping(plain, "levels", fail).items():
        level, reason = _entry(entry, ("levels", name), "level", fail)
        if any(name == check.name for check in BUILT_IN):
            expected = "a rule. Findings of this check mean that a fact cannot be used"
            raise fail(("levels", name), f"{name} is built in and keeps its level", expected)
        if name not in names:
            raise fail(("levels", name), f"{name} is not a rule", _near(name, names, "rules list"))
        if level not in (*LEVELS, "off"):
            raise fail(
                ("levels", name, "level"),
                f"{level} is not a level",
                "error, warning, note or off",
            )
        levels[name] = (level, reason)
    return Site(settings, levels)


def with_levels(catalogue: Catalogue, site: Site) -> Catalogue:
    """The catalogue with the levels of a site; a rule that is off is left out."""
    if not site.levels:
        return catalogue
    entries = tuple(
        replace(entry, level=site.levels[entry.name][0]) if entry.name in site.levels else entry
        for entry in catalogue.entries
        if site.levels.get(entry.name, ("", ""))[0] != "off"
    )
    return replace(
        catalogue,
        entries=entries,
        load_trees=lambda: catalogue.trees,
        load_examples=lambda: catalogue.examples,
    )


def level_changes(catalogue: Catalogue, site: Site, *subjects: str) -> tuple[LevelChange, ...]:
    """The rules about these subjects that a site switches off or gives another level.

    ``catalogue`` has every rule at its own level.
    """
    if not site.levels:
        return ()
    own = {entry.name: entry for entry in catalogue.entries if entry.subject in subjects}
    return tuple(
        LevelChange(name, catalogue.rules[name].title, own[name].level, level, reason)  # type: ignore[arg-type]
        for name, (level, reason) in sorted(site.levels.items())
        if name in own and level != own[name].level
    )


def apply_settings(machine: Machine, label: str, catalogue: Catalogue, site: Site) -> Overrides:
    """Put the settings in force into the machine's facts; returns those unlike their default.

    An axis wins over its machine, a machine over the site. Raises InputError for an unknown
    setting or a value of the wrong kind.
    """
    told: list[tuple[str, str, str, str, str]] = []
    records = [machine.facts, *machine.axes]
    for name, (value, text, reason) in site.settings.items():
        for record in records:
            put_setting(record, name, value)
        told.append((label, "", name, text, f"{reason} (site)"))

    def fail(where: KeyPath, what: str, expected: str) -> AxisproofError:
        if machine.tree is None:
            return InputError(what, expected=expected)
        return _at(machine.tree, where, what, expected)

    for record in records:
        stated = notes_of(record).stated_settings
        if not stated:
            continue
        path = notes_of(record).path
        base: KeyPath = tuple(path.split(".")) if path else ()
        for name, (raw, reason) in stated.items():
            where = (*base, "settings", name, "value")
            value = setting_value(catalogue, name, raw, where, fail)
            if not reason.strip():
                what = "the reason is empty"
                raise fail((*where[:-1], "reason"), what, "why it differs, in words")
            for target in records if record is machine.facts else [record]:
                put_setting(target, name, value)
            subject = "" if record is machine.facts else record["name"]
            told.append((label, subject, name, as_written(raw), reason))
    return tuple(told)


def put_setting(record: Facts, name: str, value: Any) -> None:
    """Let a setting have another value than its default on a machine or an axis."""
    notes = notes_of(record)
    notes.settings = {**notes.settings, name: value}


def setting_value(catalogue: Catalogue, name: str, raw: Any, where: KeyPath, fail: Fail) -> Any:
    """The value of a setting in base units, of the same kind as its default."""
    setting: Setting | None = catalogue.settings.get(name)
    if setting is None:
        expected = _near(name, catalogue.settings, "rules list --settings")
        if not catalogue.own_files:
            expected += ". A setting of your own rules needs --rules"
        raise fail(where[:-1], f"{name} is not a setting", expected)
    wanted = f"a value like its default, {setting.default_text}"
    if setting.default.op == "flag":
        if not isinstance(raw, bool):
            raise fail(where, f"{raw} is not true or false", wanted)
        return raw
    if isinstance(raw, bool):
        raise fail(where, f"{as_written(raw)} is not a number", wanted)
    if setting.default.op == "period":
        months = months_of(as_written(raw))
        if months is None:
            raise fail(where, f"{as_written(raw)} is not a number of months", wanted)
        return months
    try:
        quantity = parse_literal(as_written(raw))
    except QuantityError as fault:
        raise fail(where, fault.what, fault.expected or wanted) from None
    if quantity.dimension != setting.default.type.dim:
        words = dim_words(quantity.dimension)
        article = "an" if words[0] in "aeiou" else "a"
        raise fail(where, f"{raw} is {article} {words}", wanted)
    default = setting.default.data[0]
    if (default >= 0) is True and (quantity.value < 0) is True:
        raise fail(where, f"{raw} is below zero", wanted)
    return quantity.value


def _near(name: str, choices: Iterable[str], command: str) -> str:
    import difflib

    close = difflib.get_close_matches(name, list(choices), 1, 0.6)
    return f"perhaps {close[0]}" if close else f"a name that `axisproof {command}` shows"


def _mapping(plain: dict[str, Any], key: str, fail: Fail) -> dict[str, Any]:
    value = plain.get(key, {})
    if not isinstance(value, dict):
        raise fail((key,), f"{key} is not a mapping", "NAME: {…, reason: …}")
    return value


def _entry(entry: Any, where: KeyPath, key: str, fail: Fail) -> tuple[Any, str]:
    if not isinstance(entry, dict) or set(entry) != {key, "reason"}:
        raise fail(where, f"{where[-1]} does not state {key} and reason alone", f"{key} and reason")
    value, reason = entry[key], entry["reason"]
    if isinstance(value, dict | list):
        raise fail((*where, key), f"{key} is not a single value", "one value")
    if not isinstance(reason, str) or not reason.strip():
        raise fail((*where, "reason"), "the reason is empty", "why it differs, in words")
    return value, reason


def _at(tree: Tree, where: KeyPath, what: str, expected: str) -> InputError:
    place: Place | None = tree.nearest(where)
    line = tree.line_text(place) if place else None
    return InputError(what, expected=expected, place=place, source_line=line)
