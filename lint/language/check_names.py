"""What a name or a path in a rule stands for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from .grammar import keywords
from .groups import GROUP, MEMBERS
from .record_types import RecordTypes, seen_from
from .rule_file import RuleFile
from .scope import Scope
from .syntax import Expr, RuleSet, Setting, Span, Type
from .wording import nearest_name

_MEANT: Final[Mapping[str, str]] = {
    "today": "machine.check_date",
    "now": "machine.check_date",
    "yes": "true",
    "no": "false",
    "on": "true",
    "off": "false",
    "null": "none",
    "nil": "none",
}
"""What stands for words that other languages have."""

_NAMES = "a fact such as axis.drive.node, a let or a setting. A text stands in double quotes"


class Names:
    """The facts of the schema, and the settings and definitions known so far."""

    def __init__(self, base: RuleSet) -> None:
        self.record_types = RecordTypes()
        self.settings: dict[str, Setting] = {s.name: s for s in base.settings}
        self.shipped_settings = frozenset(self.settings)
        self.shipped_definitions = frozenset((d.record, d.name) for d in base.definitions)
        self.derived: dict[str, dict[str, Type]] = {}
        for d in base.definitions:
            self.derived.setdefault(d.record, {})[d.name] = d.type

    def new_name(self, file: RuleFile, name: str, at: Span) -> str:
        """A name that a rule file gives to something. Raises RuleError if it cannot be one."""
        if name in ("true", "false") or name in keywords():
            raise file.error(at, f"{name} is a word of the language", "another name")
        if "." in name or name.lower() != name:
            raise file.error(at, f"{name} cannot be used as a name", "one lower-case word")
        return name

    def resolve(self, raw: Expr, scope: Scope) -> Expr:
        """The node that a path stands for. Raises RuleError if it is not known here."""
        name: str = raw.data[0]
        root, _, path = name.partition(".")
        if not path:
            if root in scope.lets:
                return replace(raw, op="local", data=(root,), type=scope.lets[root])
            if root == GROUP and root in scope.variables:
                type_ = scope.variables[root]
                return replace(raw, op="fact", data=(GROUP, MEMBERS), type=type_)
            if root in scope.variables:
                return replace(raw, op="variable", data=(root,), type=scope.variables[root])
            if root in self.settings and not scope.constant:
                return self.setting_value(raw, root, scope)
            choices = [*scope.lets, *scope.variables, *self.settings, "true", "false"]
            hint = _MEANT.get(name.lower()) or nearest_name(name, choices) or _NAMES
            raise scope.file.error(raw.at, f"{name} is not known here", hint)
        variable = scope.variables.get(root)
        if variable is None:
            choices = list(scope.variables)
            hint = nearest_name(root, choices)
            if choices and not hint:
                hint = f"a path that begins with {' or '.join(choices)}"
            raise scope.file.error(raw.at, f"{root} is not known here", hint)
        return self.fact(raw, root, path, variable, scope)

    def list_above(self, record: str, path: str) -> str:
        """The path of the list of records that a path leads through; empty if it does not."""
        parts = path.split(".")
        for length in range(1, len(parts)):
            above = ".".join(parts[:length])
            type_ = self.record_types.type_of(record, above, record)
            if type_ is not None and type_.kind == "list" and type_.item is not None:
                return above if type_.item.kind == "record" else ""
        return ""

    def setting_value(self, raw: Expr, name: str, scope: Scope) -> Expr:
        """The node of a setting, read through a record that leads to the machine."""
        home = next(
            (
                name
                for name in ("axis", "after", "machine")
                if (name == "machine" or GROUP not in scope.variables)
                and name in scope.variables
                and scope.variables[name].record in ("axis", "machine")
            ),
            None,
        )
        if home is None:
            raise scope.file.error(raw.at, f"setting {name} is not known within a list item")
        return replace(raw, op="setting", data=(name, home), type=self.settings[name].default.type)

    def fact(self, raw: Expr, root: str, path: str, variable: Type, scope: Scope) -> Expr:
        """The node of a fact or a definition."""
        owner = variable.owner or root
        type_ = self.record_types.type_of(variable.record, path, owner)
        if type_ is not None:
            return replace(raw, op="fact", data=(root, path), type=type_)
        derived = self.derived.get(variable.record, {})
        if path in derived:
            data = (root, path, variable.record)
            return replace(raw, op="derived", data=data, type=seen_from(derived[path], owner))
        names = self.record_types.names(variable.record)
        if any(known.startswith(path + ".") for known in names):
            inside = [known for known in names if known.startswith(path + ".")][:3]
            raise scope.file.error(
                raw.at,
                f"{root}.{path} is a group of facts",
                f"one of them, such as {root}.{inside[0]}",
            )
        listed = self.list_above(variable.record, path)
        if listed:
            rest = path.removeprefix(f"{listed}.")
            hint = f"a fact of its items: some item in {root}.{listed} has … item.{rest} …"
            raise scope.file.error(raw.at, f"{root}.{listed} is a list", hint)
        hint = nearest_name(path, [*names, *derived])
        hint = hint.replace("perhaps ", f"perhaps {root}.")
        raise scope.file.error(raw.at, f"{root}.{path} is not a fact", hint)
