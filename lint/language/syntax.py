"""The trees of the rule language: expressions, templates, rules, definitions, settings.

One node class serves the parser, the checker, the compiler and the tracer; ``op`` says what a
node is, ``kids`` are its operands and ``data`` what is not an expression. The checker fills
``type`` and turns ``path`` nodes into ``fact``, ``derived``, ``local``, ``setting`` or ``name``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Final, NamedTuple

from ..numbers.dimensions import DIMENSIONLESS, Dimension
from .groups import GROUP

SUBJECTS: Mapping[str, Mapping[str, str]] = {
    "axis": {"axis": "axis", "machine": "machine"},
    "machine": {"machine": "machine"},
    "change": {"before": "axis", "after": "axis", "machine": "machine"},
    "spare": {"axis": "axis", "fitted": "axis", "machine": "machine"},
}
"""The subjects a rule can range over: the names it may use and the record each stands for.

A rule about items of a list of the machine, or about groups of them, has the subject machine; what
it ranges over (see Range) adds its names.
"""


POSITION: Final = "position:"
"""What the name of a base dimension begins with that is the user unit of the subject named after.

Position is a dimension of its own per subject: a length or an angle literal meets it only under a
condition on the motion of that subject, in `when` or to the left within an `and` or an `if`.
"""


class Span(NamedTuple):
    """Where a node stands in its rule file: 1-based, columns in code points, end exclusive."""

    line: int
    column: int
    end_line: int
    end_column: int

    def to(self, other: Span) -> Span:
        """The stretch from the start of this span to the end of the other."""
        return Span(self.line, self.column, other.end_line, other.end_column)


NOWHERE = Span(0, 0, 0, 0)


def line_start(text: str, at: int) -> int:
    """The offset at which the line of an offset begins."""
    return text.rfind("\n", 0, at) + 1


def span_in(text: str, start: int, end: int) -> Span:
    """Where a stretch of one line of a text stands; an empty stretch is one column wide."""
    line, column = text.count("\n", 0, start) + 1, start - line_start(text, start) + 1
    return Span(line, column, line, column + max(1, end - start))


@dataclass(frozen=True, slots=True)
class Type:
    """The type of an expression.

    ``kind`` is number, flag, name, text, date, period (calendar months), method, list, record or
    part (a record that may be none). Numbers have a dimension; ``approx`` marks what can never be
    exact. Names carry their permitted words. Lists carry their item type; records the id under
    which the checker knows their fields and the subject ``owner`` whose motion settles their
    position dimension.
    """

    kind: str
    dim: Dimension = DIMENSIONLESS
    names: tuple[str, ...] = ()
    item: Type | None = None
    record: str = ""
    owner: str = ""
    approx: bool = False
    nullable: bool = False


NUMBER = Type("number")
FLAG = Type("flag")
TEXT = Type("text")
DATE = Type("date")
PERIOD = Type("period")
METHOD = Type("method")


@dataclass(frozen=True, slots=True)
class Expr:
    """A node of an expression tree."""

    op: str
    kids: tuple[Expr, ...] = ()
    data: tuple[Any, ...] = ()
    at: Span = field(default=NOWHERE, compare=False)
    type: Type = NUMBER

    def walk(self) -> Iterator[Expr]:
        """This node and all below it, parents first."""
        yield self
        for kid in self.kids:
            yield from kid.walk()

    def with_kids(self, kids: tuple[Expr, ...]) -> Expr:
        """The same node over other operands."""
        return replace(self, kids=kids)


@dataclass(frozen=True, slots=True)
class Hole:
    """A computed value inside a message, with the unit it is to be shown in (or none stated).

    ``way`` is 1 if it is rounded up, -1 if it is rounded down, 0 if nothing is said. ``to_enter``:
    somebody types it, so it has all digits that matter.
    """

    expr: Expr
    unit: str = ""
    way: int = 0
    to_enter: bool = False


Template = tuple[str | Hole, ...]


@dataclass(frozen=True, slots=True)
class Setting:
    """A site setting with its default."""

    name: str
    default: Expr
    default_text: str
    meaning: str
    basis: str
    at: Span
    file: str


@dataclass(frozen=True, slots=True)
class NamedText:
    """A caution or a remedy that stands once and that rules refer to by its name.

    What it computes is checked where a rule uses it.
    """

    word: str
    name: str
    text: Template
    at: Span
    file: str


@dataclass(frozen=True, slots=True)
class Label:
    """How a `let` is shown: under which words, and in which unit (empty: as suits it)."""

    name: str
    words: str
    unit: str


@dataclass(frozen=True, slots=True)
class Definition:
    """A derived fact: computed once per record, used by name like a stated one."""

    owner: str
    list_path: str
    name: str
    expr: Expr
    type: Type
    meaning: str
    basis: str
    unit: str
    at: Span
    file: str

    @property
    def record(self) -> str:
        """Id of the record that carries it: ``axis``, ``machine`` or a list path."""
        return self.list_path or self.owner


@dataclass(frozen=True, slots=True)
class Key:
    """A fact of a variable, or a definition of the record that it stands for, to match on."""

    variable: str
    path: str
    record: str = ""
    at: Span = field(default=NOWHERE, compare=False)

    def expr(self) -> Expr:
        """The node that reads it."""
        if self.record:
            return Expr("derived", (), (self.variable, self.path, self.record), self.at)
        return Expr("fact", (), (self.variable, self.path), self.at)


@dataclass(frozen=True, slots=True)
class Join:
    """Items of a machine's list whose keys equal those of what is known already.

    The first key of each two is known, the second one is the item's.
    """

    variable: str
    list_path: str
    keys: tuple[tuple[Key, Key], ...]


@dataclass(frozen=True, slots=True)
class Range:
    """What a rule ranges over beside its subject.

    ``item`` is the name of an item of the machine's list ``list_path``; with ``keys``, items whose
    keys are equal are one group. ``unordered`` has the two axes of which both ways are asked.
    ``directed`` is what a directed pair follows: what is true of one way alone, or the fact that
    names the other. ``without`` says what of an item or axis that nothing joins: the text of a
    finding, or nothing where the rule does not apply; it stands at ``without_at``.
    """

    item: str = ""
    list_path: str = ""
    keys: tuple[Key, ...] = ()
    joins: tuple[Join, ...] = ()
    unordered: tuple[str, ...] = ()
    directed: Expr | None = None
    without: Template = ()
    without_at: Span = field(default=NOWHERE, compare=False)

    def variables(self) -> tuple[str, ...]:
        """The names that it gives, in order."""
        named = (self.item,) if self.item else ()
        grouped = (GROUP,) if self.keys else ()
        return (*named, *(join.variable for join in self.joins), *grouped)


@dataclass(frozen=True, slots=True)
class Remedy:
    """``set FACT to EXPR``: the value the rule proposes.

    ``over`` is set if the fact is one of a list's items: ``some item in LIST where CONDITION has
    true``. A value is proposed only if the condition picks one item.
    """

    target: Expr
    value: Expr
    safe: bool
    over: Expr | None = None


@dataclass(frozen=True, slots=True)
class Assignment:
    """One fact of an example. ``value`` is plain (str, int, Decimal, bool, list, dict)."""

    path: str
    value: Any
    at: Span
    value_at: Span


@dataclass(frozen=True, slots=True)
class Example:
    """An example of a rule: the facts, the outcome they must give, and pinned values.

    ``expected`` holds name, the expression it stands for, the value it must have, and the place;
    ``says`` the words that the message, the reason, the remedy or the proposed value must hold.
    """

    kind: str
    title: str
    facts: tuple[Assignment, ...]
    expected: tuple[tuple[str, Expr, Expr, Span], ...]
    needs: tuple[tuple[str, Span], ...]
    says: tuple[tuple[str, Span], ...]
    at: Span


@dataclass(frozen=True, slots=True)
class Rule:
    """A checked rule.

    ``asks``: it asks for documentation, so that a fact which nobody stated breaks it. ``cautions``
    are the names of its cautions, and ``caution_texts`` their texts in the same order. ``headline``
    says what is wrong where it is broken; empty if nothing but the title says what is required.
    ``say`` tells how the numbers come about; empty if the headline tells all.

    ``due``: what must hold at the last, if the rule warns earlier. ``require`` is then `EARLY if
    DUE else false`, and ``early`` tells of a rule that is broken while ``due`` still holds.

    ``follows``: the rules of which this one may be a consequence (see check_follows.py).
    """

    name: str
    level: str
    title: str
    subject: str
    range: Range | None
    when: Expr | None
    lets: tuple[tuple[str, Expr], ...]
    require: Expr
    say: Template
    why: Template
    remedy: Template
    fix: Remedy | None
    basis: str
    at: Span
    file: str
    end_line: int
    asks: bool = False
    headline: Template = ()
    cautions: tuple[str, ...] = ()
    labels: tuple[Label, ...] = ()
    caution_texts: tuple[Template, ...] = ()
    due: Expr | None = None
    early: Template = ()
    follows: tuple[str, ...] = ()

    @property
    def messages(self) -> tuple[Template, ...]:
        """All texts that a finding fills with its values."""
        return (
            self.headline,
            self.say,
            self.early,
            self.why,
            self.remedy,
            *self.caution_texts,
        )


@dataclass(frozen=True, slots=True)
class RuleSet:
    """All that was read from rule files, checked together."""

    rules: tuple[Rule, ...]
    definitions: tuple[Definition, ...]
    settings: tuple[Setting, ...]
    examples: Mapping[str, tuple[Example, ...]]
    """The examples of each rule, by its name."""
    texts: tuple[NamedText, ...] = ()
    steps: Mapping[str, int] = field(default_factory=dict)
    """What one evaluation of each costs; of sets that are run or stored, nothing."""


NO_RULES: Final = RuleSet((), (), (), {})


def together(first: RuleSet, second: RuleSet) -> RuleSet:
    """Two sets of which the second was checked on top of the first."""
    return RuleSet(
        (*first.rules, *second.rules),
        (*first.definitions, *second.definitions),
        (*first.settings, *second.settings),
        {**first.examples, **second.examples},
        (*first.texts, *second.texts),
    )


def without_examples(rules: RuleSet) -> RuleSet:
    """A set as a run needs it."""
    return replace(rules, examples={}, steps={})


def subjects_of(rule: Rule) -> tuple[str, ...]:
    """The subject variables of a rule in the order its function takes them, machine last."""
    variables = [name for name in SUBJECTS[rule.subject] if name != "machine"]
    if rule.range:
        variables += rule.range.variables()
    return (*variables, "machine")
