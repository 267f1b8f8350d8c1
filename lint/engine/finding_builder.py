"""From a verdict to findings with places and numbers, undecided checks, workings and outcomes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, Final, cast

from ..base.absence import NONE
from ..catalogue.catalogue import Catalogue, RunnableRule
from ..catalogue.describing import concern_of
from ..findings.builtin import DISPUTE, EXPORT_OLD, NO_PLATE, ZERO_DIVISOR, BuiltIn
from ..findings.finding import (
    Caution,
    DerivationStep,
    Figure,
    Finding,
    Fix,
    Level,
    Mark,
    Outcome,
    Undecided,
    Verdict,
)
from ..language.operators import OPERATORS
from ..language.printing import exact, formula, unit_of, value_text
from ..language.stages import DUE, at_stage, level_at
from ..language.syntax import Expr, Hole, Remedy, Rule, Type
from ..language.telling import MessageWriter, failed_comparisons
from ..language.traced import Traced, absolute_path, told
from ..language.tracer import Tracer
from ..language.workings import steps_of
from ..machine.machine import Dispute, Machine, Misfit
from ..machine.records import Facts, notes_of
from ..machine.schema import Leaf, UnknownField, axis_type, lookup
from ..numbers.exact import Number
from ..numbers.rational import Fraction
from ..numbers.units import in_unit, parse_quantity
from ..source.merge import MissingPlate
from ..source.places import path_text
from .cases import OF_GROUP, Case, of_members
from .exports import TAUGHT
from .verdicts import HOLDS

MAX_MARKS = 6
"""Places shown per finding; the rest is in the workings."""

_SELECTORS: Final = frozenset(("kind", "form", "motion", "mounted_on", "type", "units"))
"""Facts that select a formula. They are seldom the cause of a finding."""

_SET: Final = frozenset(("drive", "controller", "interlocks"))
"""Parts of an axis whose facts are settings."""


class FindingBuilder:
    """Makes findings and undecided checks of the verdicts on one machine.

    ``before`` is the machine before a change or swap, if there is one.
    """

    def __init__(
        self,
        machine: Machine,
        label: str,
        catalogue: Catalogue,
        workings: bool = False,
        before: Machine | None = None,
    ) -> None:
        self.machine = machine
        self.before = before
        self.label = label
        self.catalogue = catalogue
        self.workings = workings
        self.tracer = Tracer(catalogue.definitions, catalogue.defaults, formula)
        machines = (machine, before) if before else (machine,)
        self.texts: dict[str, str | None] = {}  # what the finding at work reads, as written
        self.unusable: dict[str, str] = {}
        for each in machines:
            for misfit in each.misfits:
                reason = f"{misfit.path} is in a unit that does not fit the axis"
                self.unusable[misfit.path] = reason
            for dispute in each.disputes:
                self.unusable[dispute.path] = f"{dispute.path} is stated in two different ways"

    def owner(self, path: str) -> Machine:
        """The machine that an absolute path belongs to."""
        return self.before if self.before and self.before.owns(path) else self.machine

    def written(self, path: str) -> str | None:
        """The scalar at an absolute path as the user wrote it."""
        if path not in self.texts:
            self.texts[path] = self.owner(path).written(path)
        return self.texts[path]

    # findings

    def finding(self, entry: RunnableRule, case: Case) -> Finding:
        """The finding of a broken rule."""
        self.texts.clear()
        rule = self.catalogue.rules[entry.name]
        if case.absent:
            return self.unmatched(rule, entry.level, case)
        env = self.tracer.with_lets(rule, case.env)
        rule, stage = at_stage(rule, self.tracer, env)
        traced = self.tracer.value(rule.require, env)
        teller = MessageWriter(self.tracer, env, self.written, rule)
        headline = teller.message(rule.headline)
        return Finding(
            rule.name,
            cast(Level, level_at(entry.level, stage)),
            self.label,
            case.subject,
            rule.title,
            teller.message(rule.say) or headline or rule.title,
            teller.message(rule.why),
            teller.message(rule.remedy, entered=True),
            rule.basis,
            self.marks((*case.marks, *self.telling_facts(traced)), case),
            self.figures(rule, env, teller),
            self.steps(rule, env) if self.workings else (),
            self.fix(rule, env),
            headline=headline,
            cautions=_cautions(rule, teller),
            concern=concern_of(rule.file),
            stage=stage,
        )

    def unmatched(self, rule: Rule, level: str, case: Case) -> Finding:
        """The finding of a subject that nothing matches."""
        assert rule.range is not None
        teller = MessageWriter(self.tracer, case.env, self.written)
        return Finding(
            rule.name,
            cast(Level, level),
            self.label,
            case.subject,
            rule.title,
            teller.message(rule.range.without),
            teller.message(rule.why),
            teller.message(rule.remedy, entered=True),
            rule.basis,
            self.marks(case.marks, case),
            headline=teller.message(rule.headline),
            cautions=_cautions(rule, teller),
            concern=concern_of(rule.file),
            stage=DUE if rule.due else "",
        )

    def telling_facts(self, traced: Traced) -> list[str]:
        """The facts to point at, the most likely cause first.

        A fact that the rule reads comes before a fact that a definition reads. In each of these
        groups a fact that selects a formula comes last, and a setting of drive, controller or
        interlocks, which people type again at every swap, comes before a fact of mechanics or
        plates. The choice of facts does not depend on their values: a finding keeps its facts when
        one of them changes.
        """
        direct = frozenset(traced.uses)

        def by_kind(path: str) -> tuple[bool, ...]:
            parts = self.owner(path).own_path(path).split(".")
            part = parts[2] if parts[0] == "axes" and len(parts) > 2 else parts[0]
            return (path not in direct, parts[-1] in _SELECTORS, part.partition("[")[0] not in _SET)

        def by_value(path: str) -> tuple[bool, ...]:
            text = self.written(path)
            number = text is not None and text.lstrip("+-")[:1].isdigit()
            zero = number and not set((text or "").partition(" ")[0]) & set("123456789")
            return (*by_kind(path), text is None, not number, zero)

        read = (*traced.uses, *traced.through)
        paths = dict.fromkeys(path for path in read if not path.startswith(OF_GROUP))
        return sorted(sorted(paths, key=by_kind)[:MAX_MARKS], key=by_value)

    def marks(self, paths: Iterable[str], case: Case) -> tuple[Mark, ...]:
        """The places of the facts; the place of the subject if no fact has one."""
        marks: dict[Mark, None] = {}  # once each, in order
        for path in paths:
            if len(marks) >= MAX_MARKS:
                break  # a place further down a file would be looked for in vain
            owner = self.owner(path)
            for place in owner.places(path):
                label = _path_label(owner.own_path(path))
                if owner.role:
                    label = f"{owner.role}: {label}"
                marks[Mark(place, owner.line_text(place), path, label)] = None
        if not marks:
            record = case.env.get("axis") or case.env.get("after")
            subject = notes_of(record).path if record else "axes"
            place_or_none = self.machine.nearest(subject)
            if place_or_none is not None:
                line = self.machine.line_text(place_or_none)
                marks[Mark(place_or_none, line, subject, _path_label(subject))] = None
        return tuple(marks)[:MAX_MARKS]

    def figures(
        self, rule: Rule, env: Mapping[str, Any], teller: MessageWriter
    ) -> tuple[Figure, ...]:
        """The rule's named values, the sides of each failed comparison and their difference.

        Those that have a label are shown to people, and a difference that has a unit.
        """
        found: dict[str, Figure] = {}

        def add(name: str, value: Any, type_: Type, unit: str = "", text: str | None = "") -> None:
            if value is not None and value != "" and name not in found:
                shown = text or value_text(value, type_, env, unit)
                found[name] = Figure(name, shown, exact(value, type_, env, unit), bool(text))

        labels = {label.name: label for label in rule.labels}
        for name, expr in rule.lets:
            value, label = env["let " + name].value, labels.get(name)
            if label is None:
                add(name, value, expr.type)
            else:
                text = teller.hole(Hole(expr, label.unit))
                add(label.words, value, expr.type, label.unit, text)
        failed = list(failed_comparisons(rule.require, env, self.tracer))
        excesses = [OPERATORS[node.op].excess if node.op in OPERATORS else None for node in failed]
        # Of several bounds, or beside a definition that failed too, no number is the whole answer.
        bounds = [
            node
            for node, excess in zip(failed, excesses, strict=True)
            if excess or node.op == "derived"
        ]
        for node, excess in zip(failed, excesses, strict=True):
            if excess is None:
                continue
            left, right = (self.tracer.number_or_value(kid, env) for kid in node.kids)
            for kid, traced in zip(node.kids, (left, right), strict=True):
                if kid.op in ("num", "local"):
                    continue
                add(formula(kid), traced.value, kid.type)
            known = left.value is not None and right.value is not None
            if not (len(bounds) == 1 and known and node.kids[0].type.kind == "number"):
                continue
            words, sign = excess
            difference: Number = left.value - right.value
            type_, excess_of = node.kids[0].type, difference if sign > 0 else -difference
            text = teller.difference(node, excess_of) if type_.dim else ""
            add(words, excess_of, type_, "", text)
        return tuple(found.values())

    def steps(self, rule: Rule, env: Mapping[str, Any]) -> tuple[DerivationStep, ...]:
        """The derivation of every number in the finding."""
        holes = [
            part.expr
            for template in (rule.headline, rule.say, rule.remedy, *rule.caution_texts)
            for part in template
            if isinstance(part, Hole)
        ]
        return steps_of(rule, holes, env, self.tracer, self.written)

    def fix(self, rule: Rule, env: Mapping[str, Any]) -> Fix | None:
        """The value that the rule proposes, as text for the file."""
        if rule.fix is None:
            return None
        with_item = self.with_item(rule.fix, env)
        if with_item is None:
            return None
        env = with_item
        value = self.tracer.number_or_value(rule.fix.value, env).value
        if value is None or value is NONE:
            return None
        root, path = rule.fix.target.data
        target = absolute_path(env[root], path)
        text = self.as_written(value, rule.fix.target, env, target)
        if text is None:
            return None
        owner = self.owner(target)
        places = owner.places(target)
        if not places or not owner.replaceable(target):
            return Fix(target, text, rule.fix.safe)
        line = owner.line_text(places[0])
        return Fix(target, text, rule.fix.safe, places[0], line)

    def with_item(self, remedy: Remedy, env: Mapping[str, Any]) -> Mapping[str, Any] | None:
        """The environment with the list item that takes the value; None unless exactly one does."""
        if remedy.over is None:
            return env
        listed, partial = self.tracer.listed(remedy.over.kids[0], env)
        if listed.value is None or partial:
            return None
        found = list(self.tracer.items(remedy.over, env, listed))
        return found[0][1] if len(found) == 1 and found[0][0].value is True else None

    def as_written(self, value: Any, target: Expr, env: Mapping[str, Any], path: str) -> str | None:
        """A value as text for the machine file; None if no exact text exists."""
        if isinstance(value, bool):
            return "true" if value else "false"
        if target.type.kind == "date":
            return value_text(value, target.type, env)
        if target.type.kind != "number":
            return str(value)
        unit = unit_of(value, target.type.dim, env)
        try:
            leaf = lookup(axis_type(), target.data[1]).type
        except UnknownField:
            leaf = None
        if isinstance(leaf, Leaf) and leaf.kind == "whole":
            if not isinstance(value, int | Fraction):
                return None
            allowed = (leaf.minimum is None or value >= leaf.minimum) and (
                leaf.maximum is None or value <= leaf.maximum
            )
            allowed = allowed and (not leaf.numbers or value in leaf.numbers)
            return str(value) if allowed and Fraction(value).denominator == 1 else None
        old = self.written(path)
        if old is not None and old != "none":
            unit = parse_quantity(old).unit
        return exact_text(in_unit(value, unit), unit)

    def built_in(self, rule: BuiltIn, item: Dispute | Misfit) -> Finding:
        """The finding of a fact that the reader cannot use as it is written."""
        label = _path_label(item.path)
        if rule is DISPUTE:
            assert isinstance(item, Dispute)
            values = " and ".join(dict.fromkeys(text for text, _ in item.claims))
            headline = f"{label} is stated as {values}."
            message = f"{label} is stated differently. "
            message += ". ".join(f"{source} says {text}" for text, source in item.claims)
        else:
            assert isinstance(item, Misfit)
            kind = "a length" if item.motion == "linear" else "an angle"
            message = headline = (
                f"{label} is {item.written}, but the axis is {item.motion}. It must be {kind}."
            )
        subject = _axis_in_path(item.path)
        case = Case(subject, {})
        marks = self.marks((item.path,), case)
        return rule.finding(self.label, subject, message, marks, headline)

    def old_export(self, axis: Facts, export: str, taught: str) -> Finding:
        """The finding of settings that were read out before something was taught."""
        name = axis["name"]
        paths = (f"axes.{name}.{export}", f"axes.{name}.{taught}")
        read, since = map(self.written, paths)
        message = (
            f"The settings of the {export.partition('.')[0]} were read out on {read}, before "
            f"{TAUGHT[taught]} on {since}."
        )
        marks = self.marks(paths, Case(name, {}))
        return EXPORT_OLD.finding(self.label, name, message, marks)

    def no_plate(self, missing: MissingPlate) -> Finding:
        """The finding of a type of which the shelf has no plate."""
        message = f"The shelf has no plate of the {missing.kind} {missing.type}."
        if missing.near:
            message += f" It has one of {missing.near[0]}."
        axis = str(missing.path[1])
        path = path_text(key for key in missing.path if key != "partial")
        marks = self.marks((path,), Case(axis, {}))
        return NO_PLATE.finding(self.label, axis, message, marks)

    # undecided and other outcomes

    def undecided(self, entry: RunnableRule, case: Case) -> tuple[Undecided, list[Finding]]:
        """An undecided check with the facts it lacks; a zero divisor is a finding of its own."""
        rule = self.catalogue.rules[entry.name]
        missing = case.missing
        if not missing and not case.absent:
            subjects = [case.env[name] for name in entry.arguments]
            missing = of_members(self.catalogue.missing_facts.of(rule)(subjects), case)
        if missing:
            return self.undecided_for(rule, entry.level, case.subject, missing, ()), []
        traced = self.undecided_part(rule, case)
        lacks = of_members(traced.missing, case)
        check = self.undecided_for(rule, entry.level, case.subject, lacks, traced.reasons)
        if not traced.zero_divisors:
            return check, []
        message = told(traced.reasons)
        marks = self.marks(traced.zero_divisors, case)
        return check, [ZERO_DIVISOR.finding(self.label, case.subject, message, marks)]

    def undecided_axis(self, entry: RunnableRule) -> Callable[[Facts, Facts], Undecided | None]:
        """From an undecided axis to its check; None where ``undecided`` has to run."""
        rule, label = self.catalogue.rules[entry.name], self.label
        name, level, title = rule.name, cast(Level, entry.level), rule.title
        missing_of, unusable = self.catalogue.missing_facts.of(rule), self.unusable

        def undecided_check(axis: Facts, machine: Facts) -> Undecided | None:
            missing = missing_of((axis, machine))
            if not missing:
                return None
            if unusable:
                return self.undecided_for(rule, level, axis["name"], missing, ())
            return Undecided(name, level, label, axis["name"], title, missing, "")

        return undecided_check

    def undecided_for(
        self,
        rule: Rule,
        level: str,
        subject: str,
        missing: tuple[str, ...],
        reasons: Sequence[str],
    ) -> Undecided:
        """An undecided check with the facts it lacks and the other reasons."""
        if self.unusable:
            reasons = [*reasons, *(self.unusable[p] for p in missing if p in self.unusable)]
        as_level = cast(Level, level)
        return Undecided(
            rule.name, as_level, self.label, subject, rule.title, missing, told(reasons)
        )

    def undecided_part(self, rule: Rule, case: Case) -> Traced:
        """The condition if it is not decided, else the requirement."""
        condition = self.tracer.when(rule, case.env)
        if condition.value is None:
            return condition
        env = self.tracer.with_lets(rule, case.env)
        return self.tracer.value(rule.require, env)

    def outcome(
        self,
        entry: RunnableRule,
        case: Case,
        verdict: int | None,
        finding: Finding | None,
        undecided: Undecided | None,
    ) -> Outcome:
        """One outcome with its reason, from the finding or undecided check if there is one."""
        rule = self.catalogue.rules[entry.name]
        words: Verdict
        reason = ""
        if undecided is not None:
            words = "undecided"
            reason = undecided.reason or "needs " + ", ".join(undecided.missing)
        elif finding is not None:
            words = "broken"
            reason = finding.message
        elif verdict == HOLDS:
            words = "holds"
        else:
            words = "not applicable"
            reason = "" if case.fails else case.absent
            reason = reason or self.why_not(rule, case)
        return Outcome(rule.name, self.label, case.subject, words, reason)

    def why_not(self, rule: Rule, case: Case) -> str:
        """Why a rule does not apply: the facts that make its condition false."""
        traced = self.tracer.when(rule, case.env)
        known = []
        for path in traced.uses or traced.through:
            written = self.written(path)
            known.append(f"{path} is {written}" if written else f"{path} is as stated")
        text = ", ".join(known)
        if rule.when is None:
            return text
        asked = f"the rule asks for: {formula(rule.when)}"
        return f"{text}, and {asked}" if text else asked


def _cautions(rule: Rule, teller: MessageWriter) -> tuple[Caution, ...]:
    """The cautions of a rule with their values."""
    return tuple(
        Caution(name, teller.message(text))
        for name, text in zip(rule.cautions, rule.caution_texts, strict=True)
    )


def _path_label(path: str) -> str:
    """A path without the axis, which the heading names, as a marker shows it."""
    parts = path.split(".")
    return ".".join(parts[2:]) if parts[0] == "axes" and len(parts) > 2 else path


def _axis_in_path(path: str) -> str:
    parts = path.split(".")
    return parts[1] if parts[0] == "axes" and len(parts) > 1 else ""


def exact_text(value: Number, unit: str) -> str | None:
    """A number with its unit: a decimal if it terminates, else a fraction."""
    if not isinstance(value, int | Fraction):
        return None
    fraction = Fraction(value)
    rest = fraction.denominator
    places = 0
    while rest % 10 in (0, 2, 4, 5, 6, 8) and places < 20 and rest > 1:
        factor = 10 if rest % 10 == 0 else 2 if rest % 2 == 0 else 5
        rest //= factor
        places += 1
    if rest == 1:
        number = _decimal_text(fraction)
    else:
        number = f"{fraction.numerator}/{fraction.denominator}"
    return f"{number} {unit}".strip()


def _decimal_text(fraction: Fraction) -> str:
    if fraction.denominator == 1:
        return str(fraction.numerator)
    places = 1
    while 10**places % fraction.denominator:
        places += 1
    sign = "-" if fraction < 0 else ""
    digits = str(abs(fraction.numerator) * 10**places // fraction.denominator).zfill(places + 1)
    return f"{sign}{digits[:-places]}.{digits[-places:]}"
