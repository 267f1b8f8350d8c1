"""Checks rules, clause by clause."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from ..findings.builtin import BUILT_IN
from ..findings.finding import LEVELS
from .bounds import MAX_REQUIRES, ExpressionSize
from .check_clauses import clauses_by_word
from .check_follows import Follows
from .check_lists import check_loop
from .check_sizes import SizeChecker
from .check_subject import Subject, SubjectChecker, refuse_absent, refuse_unshared
from .check_texts import Texts, check_cautions, check_remedy
from .expression_checker import ExpressionChecker
from .rule_file import Clause, RawItem, RuleFile, Word
from .scope import Scope
from .syntax import FLAG, METHOD, Expr, Hole, Label, Remedy, Rule, Template
from .wording import kind_phrase, nearest_name

_RULE_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
_NEEDED = ("level", "title", "each", "require", "why", "remedy", "basis")
_ONCE = (
    *(word for word in _NEEDED if word != "require"),
    "say",
    "when",
    "set",
    "given",
    "asks",
    "headline",
    "warn",
    "caution",
    "follows",
)


@dataclass(slots=True)
class _Conditions:
    """The condition, lets and requirements of a rule, in the scope that grows with them."""

    scope: Scope
    when: Expr | None = None
    lets: list[tuple[str, Expr]] = field(default_factory=list)
    requirements: list[Expr] = field(default_factory=list)
    sizes: dict[str, ExpressionSize] = field(default_factory=dict)
    labels: list[Label] = field(default_factory=list)

    def requirement(self) -> Expr:
        """All requirements as one."""
        whole, *others = self.requirements or (Expr("flag", (), (True,), type=FLAG),)
        for part in others:
            whole = Expr("and", (whole, part), (), part.at, FLAG)
        return whole


def _needed(item: RawItem) -> tuple[str, ...]:
    """The clauses that a rule must have: one that fails where nothing matches may ask no more.

    What a headline tells whole needs no `say`.
    """
    for clause in item.clauses:
        without = clause.payload[0].without if clause.word == "each" else None
        if without is not None and without[0][0] == "fails":
            return tuple(word for word in _NEEDED if word != "require")
    if any(clause.word == "headline" for clause in item.clauses):
        return _NEEDED
    return (*_NEEDED, "say")


class RuleChecker:
    """Checks rules over names that are all known; ``shipped`` are the names of rules elsewhere."""

    def __init__(
        self,
        expressions: ExpressionChecker,
        sizes: SizeChecker,
        texts: Texts,
        shipped: frozenset[str],
    ) -> None:
        self.expressions = expressions
        self.sizes = sizes
        self.texts = texts
        self.shipped = shipped
        self.known: set[str] = set()
        self.subjects = SubjectChecker(expressions)
        self.told_by: list[tuple[RuleFile, Word]] = []
        self.follows: list[Follows] = []

    def rule(self, file: RuleFile, item: RawItem) -> tuple[Rule, Scope]:
        """Check a rule but for its examples, which are checked within the scope given too."""
        found = clauses_by_word(file, item, _needed(item), _ONCE)
        self.name(file, item)
        level, level_at = found["level"].payload
        if level not in LEVELS:
            raise file.error(level_at, f"{level} is not a level", "error, warning or note")
        subject = self.subjects.subject(file, found["each"].payload[0])
        conditions = self.conditions(file, item, subject, found)
        scope, requirement = conditions.scope, conditions.requirement()
        texts = [
            self.expressions.template(found[word].payload[0], scope) if word in found else ()
            for word in ("say", "why", "headline")
        ]
        cautions = found.get("caution")
        texts.append(check_remedy(self.expressions, self.texts, found["remedy"], scope))
        told = check_cautions(self.expressions, self.texts, cautions, scope)
        fix = self.fix(found["set"], scope) if "set" in found else None
        shown = [part.expr for text in (*texts, *told) for part in text if isinstance(part, Hole)]
        self.measure(file, shown, fix, conditions.sizes)
        lets = tuple(conditions.lets)
        when = [conditions.when] if conditions.when else []
        whole = [*when, *(expr for _, expr in lets), requirement, *shown]
        self.sizes.weigh(file, f"rule {item.name}", item.name_at, whole, conditions.sizes)
        self.ranges(file, subject, whole, (*texts[1:], *told), conditions.when)
        rule = Rule(
            item.name,
            level,
            found["title"].payload[0],
            subject.name,
            subject.range,
            conditions.when,
            lets,
            requirement,
            texts[0],
            texts[1],
            texts[3],
            fix,
            found["basis"].payload[0],
            item.name_at,
            file.name,
            item.end_line,
            "asks" in found,
            texts[2],
            tuple(name for name, _ in cautions.payload) if cautions else (),
            tuple(conditions.labels),
            told,
        )
        if "follows" in found:
            causes = found["follows"].payload
            rule = replace(rule, follows=tuple(name for name, _ in causes))
            self.follows.append(Follows(file, rule, causes))
        if "warn" in found:
            rule = self.with_warning(file, rule, found["warn"], conditions)
        return rule, scope

    def ranges(
        self,
        file: RuleFile,
        subject: Subject,
        whole: list[Expr],
        texts: Iterable[Template],
        when: Expr | None,
    ) -> None:
        """Refuse what a rule cannot know of what it ranges over."""
        if subject.range is None:
            return
        if subject.range.without:
            refuse_absent(file, texts, when, subject.range)
        if subject.range.keys:
            refuse_unshared(file, whole, subject.range)
        if subject.told_by is not None:
            self.told_by.append((file, subject.told_by))

    def references(self) -> None:
        """Refuse the name of a rule that tells something, if there is no such rule."""
        rules = self.known | self.shipped
        for file, (name, at) in self.told_by:
            if name not in rules:
                raise file.error(at, f"{name} is not a rule", nearest_name(name, rules))

    def with_warning(
        self, file: RuleFile, rule: Rule, clause: Clause, conditions: _Conditions
    ) -> Rule:
        """The rule with a stage before it is due, one level lower."""
        if rule.level == "note":
            what = f"{rule.name} is a note, and nothing is lower"
            raise file.error(clause.at, what, "level error or warning")
        raw, text = clause.payload
        early = self.expressions.condition(raw, conditions.scope)
        told = self.expressions.template(text, conditions.scope)
        shown = [part.expr for part in told if isinstance(part, Hole)]
        for expr in (early, *shown):
            self.sizes.measure(file, expr, conditions.sizes)
        never = Expr("flag", (), (False,), clause.at, FLAG)
        require = Expr("choose", (rule.require, early, never), (), clause.at, FLAG)
        whole = [require, *(expr for _, expr in rule.lets), *shown]
        self.sizes.weigh(file, f"rule {rule.name}", rule.at, whole, conditions.sizes)
        return replace(rule, require=require, due=rule.require, early=told)

    def name(self, file: RuleFile, item: RawItem) -> None:
        """Refuse a name that is no name of a rule or means something already."""
        if not _RULE_NAME.fullmatch(item.name):
            raise file.error(
                item.name_at,
                f"{item.name} cannot be the name of a rule",
                "lower-case words joined by hyphens",
            )
        if item.name in self.shipped:
            what = f"a rule that ships with axisproof is called {item.name}"
            raise file.error(
                item.name_at, what, "another name. The settings of a site change its level"
            )
        if item.name in self.known:
            raise file.error(item.name_at, f"rule {item.name} is defined twice", "another name")
        if any(item.name == check.name for check in BUILT_IN):
            raise file.error(item.name_at, f"{item.name} is a check built in", "another name")
        self.known.add(item.name)

    def conditions(
        self, file: RuleFile, item: RawItem, subject: Subject, clauses: Mapping[str, Clause]
    ) -> _Conditions:
        """Check `when`, and `let` and `require` in the order in which they stand."""
        scope = subject.scope
        if subject.direction is not None:
            scope = scope.narrowed(subject.direction)
        found = _Conditions(scope)
        own = None
        if "when" in clauses:
            own = self.expressions.condition(clauses["when"].payload[0], scope)
        found.when = subject.condition(own)
        if found.when is not None:
            self.sizes.measure(file, found.when, found.sizes)
            found.scope = scope.narrowed(found.when)
        for clause in item.clauses:
            if clause.word == "let":
                self.let(file, clause, found)
            elif clause.word == "require":
                raw: Expr = clause.payload[0]
                asks = "asks" in clauses and raw.op == "is_known"
                part = self.expressions.condition(raw, replace(found.scope, asks=asks))
                self.sizes.measure(file, part, found.sizes)
                if len(found.requirements) == MAX_REQUIRES:
                    raise file.error(clause.at, f"more than {MAX_REQUIRES} requirements", "fewer")
                found.requirements.append(part)
        if "asks" in clauses and not any(each.op == "is_known" for each in found.requirements):
            what = f"rule {item.name} asks for no documentation"
            raise file.error(clauses["asks"].at, what, "a line: require FACT is known")
        return found

    def let(self, file: RuleFile, clause: Clause, found: _Conditions) -> None:
        """Check a `let` and make its name known from there on."""
        name, at, value, words, unit, unit_at = clause.payload
        scope, names = found.scope, self.expressions.names
        names.new_name(file, name, at)
        if name in scope.lets or name in scope.variables or name in names.settings:
            raise file.error(at, f"{name} means something already", "another name")
        expr = self.expressions.expr(value, scope)
        if expr.type.kind in ("list", "part", "record"):
            raise file.error(expr.at, f"{kind_phrase(expr.type)} cannot be named by let")
        if unit:
            self.expressions.number(value, scope)
            self.expressions.unit(file, unit, unit_at, [scope.plain(expr.type.dim)])
        if words or unit:
            found.labels.append(Label(name, words, unit))
        found.lets.append((name, expr))
        found.sizes[name] = self.sizes.measure(file, expr, found.sizes)
        found.scope = replace(scope, lets={**scope.lets, name: expr.type})

    def measure(
        self,
        file: RuleFile,
        shown: list[Expr],
        fix: Remedy | None,
        sizes: Mapping[str, ExpressionSize],
    ) -> None:
        """Refuse what a message or a proposed value computes beyond all bounds."""
        proposed = [] if fix is None else [fix.value, *([fix.over] if fix.over else [])]
        for expr in (*shown, *proposed):
            self.sizes.measure(file, expr, sizes)

    def fix(self, clause: Clause, scope: Scope) -> Remedy:
        """The value that a rule proposes, and the fact it is for."""
        target, over, value, safe = clause.payload
        if over is not None:
            outer = scope
            listed, where, scope = check_loop(self.expressions, over, scope)
            body = self.expressions.condition(over.kids[2], outer)
            over = replace(over, kids=(listed, where, body), type=FLAG)
        target = self.expressions.expr(target, scope)
        if target.op != "fact" or target.type.kind in ("list", "part", "record"):
            raise scope.file.error(target.at, "only a single fact can be set", "the path of a fact")
        checked = self.expressions.operand_like(value, target, scope)
        if target.type.kind == "method" and checked.op == "num":
            checked = replace(checked, type=METHOD)
        self.expressions.same(scope, checked, target.type, "the fact is")
        return Remedy(target, checked, safe, over)
