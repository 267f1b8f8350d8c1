"""Joins to items, joins to axes and groups, drawn at random: the engine agrees with a plain count.

The engine looks items up in an index, by generated code for verdicts and by a walk for findings.
Here each pair of records is tried, and conditions are asked of plain values with three truths.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from axisproof.catalogue.catalogue import Catalogue
from axisproof.engine.cases import Case, cases
from axisproof.machine.reader import read_plain
from hypothesis import event, given, settings
from hypothesis import strategies as st

from tests.language.evaluating import (
    BROKEN,
    HOLDS,
    NOT_APPLICABLE,
    UNDECIDED,
    catalogue_of,
    run_case,
)

Env = dict[str, Any]
Truth = bool | None
NONE = "none"

# A condition: as the language writes it, and what it is of plain records -------------------------


@dataclass(frozen=True)
class Condition:
    """A condition as text, and its truth in records by name; None where it is not known."""

    text: str
    truth: Callable[[Env], Truth]


def stated(record: Any, path: str) -> Any:
    """The plain value at a path: None if it is not known, "none" if it or what it is in is."""
    for part in path.split("."):
        if record is None or record == NONE:
            return record
        record = record.get(part)
        if isinstance(record, dict) and "claims" in record:
            return None
    return record


def number(env: Env, path: str) -> Any:
    """A value to compute with; what is none is not known."""
    name, _, rest = path.partition(".")
    found = stated(env[name], rest)
    return None if found == NONE else found


def compared(one: str, sign: str, other: str) -> Condition:
    """Two facts of any records compared."""

    def truth(env: Env) -> Truth:
        left, right = number(env, one), number(env, other)
        if left is None or right is None:
            return None
        return bool(left == right if sign in ("=", "is") else left < right)

    return Condition(f"{one} {sign} {other}", truth)


def negated(one: Condition) -> Condition:
    def truth(env: Env) -> Truth:
        found = one.truth(env)
        return None if found is None else not found

    return Condition(f"not ({one.text})", truth)


def both(truths: Iterator[Truth]) -> Truth:
    """False if one is false, else not known if one is not known, else true."""
    found = list(truths)
    return False if False in found else None if None in found else True


def joined(one: Condition, word: str, other: Condition) -> Condition:
    def truth(env: Env) -> Truth:
        left, right = one.truth(env), other.truth(env)
        if word == "and":
            return both(iter((left, right)))
        return True if True in (left, right) else None if None in (left, right) else False

    return Condition(f"({one.text}) {word} ({other.text})", truth)


def fact(variable: str, column: int) -> str:
    """A number (0) or a text (1) of an axis, or of a node of the network."""
    on_node, on_axis = ("address", "node") if column == 0 else ("serial", "serial")
    return f"{variable}.{on_node}" if variable == "node" else f"{variable}.drive.{on_axis}"


@st.composite
def conditions(draw: st.DrawFn, variables: tuple[str, ...], depth: int = 2) -> Condition:
    """A condition on the records of these names."""
    if depth and draw(st.booleans()):
        word = draw(st.sampled_from(["and", "or", "not"]))
        one = draw(conditions(variables, depth - 1))
        if word == "not":
            return negated(one)
        return joined(one, word, draw(conditions(variables, depth - 1)))
    left, right = draw(st.sampled_from(variables)), draw(st.sampled_from(variables))
    column = draw(st.integers(0, 1))
    sign = "is" if column else draw(st.sampled_from(["=", "<"]))
    return compared(fact(left, column), sign, fact(right, column))


# What is asked of a group ------------------------------------------------------------------------


@st.composite
def of_groups(draw: st.DrawFn) -> Condition:
    """A condition on the members of a group."""
    inner = draw(conditions(("member",), 1))
    form = draw(st.sampled_from(["every", "some", "no", "count", "unique", "empty"]))
    bound = draw(st.integers(0, 3))

    def truths(env: Env) -> list[Truth]:
        return [inner.truth({"member": member}) for member in env["group"]]

    def all_hold(found: list[Truth], env: Env) -> Truth:
        return both(iter([*found, None] if env["partial"] else found))

    def some(env: Env) -> Truth:
        found = all_hold([None if each is None else not each for each in truths(env)], env)
        return None if found is None else not found

    def count(env: Env) -> Truth:
        found = truths(env)
        if None in found or env["partial"]:
            return None
        return found.count(True) <= bound

    def unique(env: Env) -> Truth:
        found = [number({"member": member}, fact("member", 1)) for member in env["group"]]
        known = [each for each in found if each is not None]
        if len(set(known)) < len(known):
            return False
        return None if env["partial"] or len(known) < len(found) else True

    def empty(env: Env) -> Truth:
        return False if env["group"] else None if env["partial"] else True

    text, truth = {
        "every": (
            f"every member in group has ({inner.text})",
            lambda env: all_hold(truths(env), env),
        ),
        "some": (f"some member in group has ({inner.text})", some),
        "no": (f"no member in group has ({inner.text})", negated(Condition("", some)).truth),
        "count": (f"(count of member in group where ({inner.text})) <= {bound}", count),
        "unique": (f"unique {fact('member', 1)} for member in group", unique),
        "empty": ("group is empty", empty),
    }[form]
    return Condition(text, truth)


# Machines ----------------------------------------------------------------------------------------

ADDRESSES = st.sampled_from([1, 1, 2, 3])
SERIALS = st.sampled_from(["a", "b", "b", None])


@st.composite
def hall(draw: st.DrawFn) -> dict[str, Any]:
    """Up to four axes, and a scan of the network that may be partial or left out."""
    unlike = {"claims": [{"value": 1, "source": "a"}, {"value": 2, "source": "b"}]}
    axes: dict[str, Any] = {}
    for name in "klmn"[: draw(st.integers(1, 4))]:
        drive: Any = {
            "node": draw(st.one_of(ADDRESSES, st.sampled_from([None, unlike]))),
            "serial": draw(SERIALS),
        }
        axes[name] = {"motion": "linear"}
        if draw(st.integers(0, 9)):
            axes[name]["drive"] = {key: each for key, each in drive.items() if each is not None}
    plain: dict[str, Any] = {"axes": axes}
    nodes = [
        {key: each for key, each in node.items() if each is not None}
        for node in draw(
            st.lists(st.fixed_dictionaries({"address": ADDRESSES, "serial": SERIALS}), max_size=4)
        )
    ]
    how = draw(st.sampled_from(["whole", "whole", "partial", "missing"]))
    if how != "missing":
        plain["network"] = {"nodes": nodes if how == "whole" else {"partial": nodes}}
    return plain


def listed(plain: dict[str, Any], what: str) -> tuple[list[Any] | None, bool]:
    """The axes or nodes, or None if they are not known, and whether they are not all."""
    if what == "axes":
        return [{"name": name, **axis} for name, axis in plain["axes"].items()], False
    nodes = plain.get("network", {}).get("nodes")
    return (nodes["partial"], True) if isinstance(nodes, dict) else (nodes, False)


# What a plain count makes of a range --------------------------------------------------------------

LISTS = {"axes": "", "nodes": " in machine.network.nodes"}


@dataclass(frozen=True)
class Join:
    """Each item of one list, with what it is joined to of another, by a number, a text or both."""

    of: str
    to: str
    columns: tuple[int, ...]
    fails: bool

    @property
    def names(self) -> tuple[str, str]:
        if self.of == "axes":
            return "axis", "other" if self.to == "axes" else "node"
        return "node", "axis"

    def text(self) -> str:
        """The clause of the rule."""
        own, its = self.names
        keys = " and ".join(
            f"{fact(own, each)} {'is' if each else '='} {fact(its, each)}" for each in self.columns
        )
        subject = "axis" if self.of == "axes" else "node in machine.network.nodes"
        ending = 'fails "nothing matches"' if self.fails else "skips"
        order = "directed by axis.motion is linear " if self.to == self.of else ""
        return f"{subject} with {its}{LISTS[self.to]} where {keys} {order}without {ending}"

    def outcomes(self, plain: dict[str, Any], require: Condition) -> Iterator[str]:
        """The outcome of each case, by trying each item against each other one."""
        subjects, partial = listed(plain, self.of)
        if subjects is None:
            yield UNDECIDED
            return
        for subject in subjects:
            yield from self.of_subject(subject, plain, require)
        if partial:
            yield UNDECIDED
        elif not subjects:
            yield NOT_APPLICABLE

    def of_subject(self, subject: Any, plain: dict[str, Any], require: Condition) -> Iterator[str]:
        own, its = self.names
        wanted = [keyed(own, subject, each) for each in self.columns]
        items, partial = listed(plain, self.to)
        if None in wanted or items is None:
            yield NOT_APPLICABLE if NONE in wanted else UNDECIDED
            return
        found = may = False
        for item in items:
            if self.of == self.to and item["name"] == subject["name"]:
                continue
            truth = both(
                None if has is None else has == want
                for has, want in zip(
                    (keyed(its, item, each) for each in self.columns), wanted, strict=True
                )
            )
            may |= truth is None
            if truth:
                found = True
                yield WORDS[require.truth({own: subject, its: item})]
        if may or partial:
            yield UNDECIDED
        elif not found:
            yield BROKEN if self.fails else NOT_APPLICABLE


WORDS = {True: HOLDS, False: BROKEN, None: UNDECIDED}


def keyed(name: str, record: Any, column: int) -> Any:
    """The key of a record."""
    return stated(record, fact(name, column).partition(".")[2])


def of_groups_plainly(
    plain: dict[str, Any], columns: tuple[int, ...], require: Condition
) -> Iterator[str]:
    """The outcome for each group of axes with equal keys, and for those that share nothing."""
    axes, _ = listed(plain, "axes")
    assert axes is not None
    keys = [tuple(keyed("axis", axis, each) for each in columns) for axis in axes]
    unsure = any(None in key for key in keys) and len(keys) > 1
    shared = [key for key, many in Counter(keys).items() if many > 1 and None not in key]
    for key in shared:
        members = [axis for axis, own in zip(axes, keys, strict=True) if own == key]
        yield WORDS[require.truth({"group": members, "partial": unsure})]
    if unsure or not shared:
        yield WORDS[require.truth({"group": [], "partial": unsure})]


# The engine agrees --------------------------------------------------------------------------------


def told(found: Catalogue, plain: dict[str, Any]) -> Counter[str]:
    """The outcomes of all cases of the one rule, for which both evaluators agree."""
    machine = read_plain(plain)
    machine.facts["check_date"] = 0
    (entry,) = found.entries

    def outcome(case: Case) -> str:
        verdict = run_case(found, entry, case)
        return BROKEN if case.absent and case.fails else verdict.outcome

    return Counter(map(outcome, cases(entry, machine, {})))


COLUMNS = st.sampled_from([(0,), (1,), (0, 1)])
ENDS = st.sampled_from([("axes", "axes"), ("axes", "nodes"), ("nodes", "axes")])


@settings(report_multiple_bugs=False)
@given(st.data())
def test_on_random_joins(data: st.DataObject) -> None:
    of, to = data.draw(ENDS)
    join = Join(of, to, data.draw(COLUMNS), data.draw(st.booleans()))
    require = data.draw(conditions(join.names))
    found = catalogue_of(require.text, each=join.text())
    for plain in data.draw(st.lists(hall(), min_size=2, max_size=4)):
        outcomes = told(found, plain)
        assert outcomes == Counter(join.outcomes(plain, require)), (plain, join.text())
        for outcome in outcomes:
            event(outcome)


@settings(report_multiple_bugs=False)
@given(st.data())
def test_on_random_groups(data: st.DataObject) -> None:
    columns, require = data.draw(COLUMNS), data.draw(of_groups())
    keys = ", ".join(fact("axis", each) for each in columns)
    found = catalogue_of(require.text, each=f"group of axis by {keys}")
    for plain in data.draw(st.lists(hall(), min_size=2, max_size=4)):
        outcomes = told(found, plain)
        expected = Counter(of_groups_plainly(plain, columns, require))
        assert outcomes == expected, (plain, require.text)
        for outcome in outcomes:
            event(outcome)
