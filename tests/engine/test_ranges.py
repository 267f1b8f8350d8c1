"""What rules range over: pairs, items of lists with what they are joined to, and groups."""

from __future__ import annotations

from pathlib import Path
from random import Random
from typing import Any

import pytest
from axisproof.base.errors import RuleError
from axisproof.catalogue.catalogue import Catalogue, from_texts, shipped
from axisproof.engine.engine import Options, Results, check_machine
from axisproof.findings.rule_info import RuleTestReport
from axisproof.machine.reader import read_plain
from axisproof.machine.records import EPOCH, set_check_date
from axisproof.rulebook.rule_tests import run_rule_tests
from axisproof.source.merge import load_tree
from hypothesis import example, given
from hypothesis import strategies as st

FAULTS = Path(__file__).parents[2] / "fixtures" / "faults"
TEXTS = 'why "w" remedy "r" basis "b"'

UNORDERED = "axis with other where axis.drive.network = other.drive.network unordered"
LEADER = (
    "axis with other where axis.gantry.partner is other.name"
    " directed by axis.gantry.role is leader without skips"
)
NAMES = (
    "axis with other where axis.gantry.partner is other.name"
    " directed by axis.gantry.partner without skips"
)
NODES = (
    "axis with node in machine.network.nodes where node.address = axis.drive.node"
    " and node.network = axis.drive.network without"
)
PAIRS = (
    "entry in machine.collision_pairs with first where first.name is entry.first"
    " with second where second.name is entry.second unordered without"
)
GROUP = "group of axis by axis.drive.node, axis.drive.network"


def rule(each: str, require: str, say: str, name: str = "the-rule") -> str:
    head = f'rule {name} level error title "t" each {each} require {require} say "{say}"'
    return f'{head} {TEXTS} passes "p" fails "f"'


def catalogue_of(*rules: str) -> Catalogue:
    return from_texts({"test.rules": "\n".join(["language 2", *rules])})


def checked(found: Catalogue, plain: Any) -> Results:
    machine = read_plain(plain)
    set_check_date(machine.facts, EPOCH)
    return check_machine(machine, "hall", found, Options(every_outcome=True))


def told(found: Catalogue, plain: Any) -> list[tuple[str, str, str, str]]:
    outcomes = checked(found, plain).outcomes
    return sorted((each.rule, each.subject, each.verdict, each.reason) for each in outcomes)


def axes(**facts: dict[str, Any]) -> dict[str, Any]:
    return {name: {"motion": "linear", **each} for name, each in facts.items()}


def drive(node: int | None, network: int | None = 1) -> dict[str, Any]:
    stated = {"node": node, "network": network}
    return {"drive": {key: value for key, value in stated.items() if value is not None}}


# Pairs ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("nodes", [(1, 2), (2, 1)])
def test_an_unordered_pair_is_asked_both_ways_and_told_once(nodes: tuple[int, int]) -> None:
    found = catalogue_of(
        rule(UNORDERED, "axis.drive.node <= other.drive.node", "{axis.name} {other.name}")
    )
    low, high = ("a", "b") if nodes == (1, 2) else ("b", "a")
    plain = {"axes": axes(a=drive(nodes[0]), b=drive(nodes[1]))}
    assert told(found, plain) == [("the-rule", high, "broken", f"{high} {low}")]


def test_a_way_that_cannot_be_decided_does_not_hide_the_one_that_is_broken() -> None:
    require = "axis.drive.polarity is normal or other.drive.node = 1"
    found = catalogue_of(rule(UNORDERED, require, "{axis.name}"))
    one, other = drive(2), drive(None)
    one["drive"]["polarity"] = "normal"
    plain = {"axes": axes(a=one, b=other)}
    assert [each[2] for each in told(found, plain)] == ["undecided"]
    other["drive"]["polarity"] = "reversed"
    assert [each[1:] for each in told(found, plain)] == [("b", "broken", "b")]


def test_an_unordered_pair_of_which_one_names_the_other_is_one_pair() -> None:
    each = "axis with other where axis.gantry.partner is other.name unordered"
    found = catalogue_of(rule(each, "axis.motion is other.motion", "x"))
    both = axes(a={"gantry": {"partner": "b"}}, b={"gantry": {"partner": "a"}})
    one = axes(a={"gantry": {"partner": "b"}}, b={"gantry": "none"})
    assert [each[1:3] for each in told(found, {"axes": both})] == [("a", "holds")]
    assert [each[1:3] for each in told(found, {"axes": one})] == [("a", "holds")]


def test_a_directed_pair_follows_the_fact_that_is_named() -> None:
    found = catalogue_of(rule(LEADER, "axis.drive.node = other.drive.node", "{axis.name}"))
    left = {**drive(1), "gantry": {"partner": "right", "role": "follower"}}
    right = {**drive(2), "gantry": {"partner": "left", "role": "leader"}}
    outcomes = told(found, {"axes": axes(left=left, right=right)})
    assert [each[1:3] for each in outcomes] == [("left", "not applicable"), ("right", "broken")]
    del right["gantry"]["role"]
    outcomes = told(found, {"axes": axes(left=left, right=right)})
    assert outcomes[1][1:] == ("right", "undecided", "needs axes.right.gantry.role")


FIVE = tuple("abcde")
RULES = catalogue_of(
    rule(UNORDERED, "axis.drive.node <= other.drive.node", "{axis.name} {other.name}", "unordered"),
    rule(LEADER, "axis.drive.node <= other.drive.node", "{axis.name} {other.name}", "leader"),
    rule(NAMES, "axis.drive.node = other.drive.node", "{axis.name} {other.name}", "names"),
    rule(f"{NODES} skips", "node.drive", "{axis.name} {node.address}", "nodes"),
    rule(f'{PAIRS} fails "no {{entry.first}}"', "first.motion is second.motion", "x", "entries"),
    rule(
        "machine",
        "no a in machine.axes has a.drive.node = 1",
        "{all of a.name for a in machine.axes where a.drive.node = 1}",
        "listed",
    ),
    rule(GROUP, "group is empty", "{all of a.name for a in group} {axis.drive.node}", "groups"),
)
SOME = st.sampled_from(FIVE)
AXES = st.fixed_dictionaries(
    {"motion": st.sampled_from(["linear", "rotary"])},
    optional={
        "drive": st.fixed_dictionaries(
            {}, optional={"node": st.integers(1, 3), "network": st.integers(1, 2)}
        ),
        "gantry": st.just("none")
        | st.fixed_dictionaries(
            {}, optional={"partner": st.sampled_from(FIVE), "role": st.sampled_from(["leader"])}
        ),
    },
)
LISTS = st.fixed_dictionaries(
    {},
    optional={
        "collision_pairs": st.lists(
            st.fixed_dictionaries({"first": SOME, "second": SOME}),
            max_size=3,
        ),
        "network": st.fixed_dictionaries(
            {},
            optional={
                "nodes": st.lists(
                    st.fixed_dictionaries(
                        {"address": st.integers(1, 3)},
                        optional={"network": st.integers(1, 2), "drive": st.booleans()},
                    ),
                    max_size=4,
                )
            },
        ),
    },
)


ALIKE = {"motion": "linear", "drive": {"node": 1, "network": 1}}


@given(st.lists(AXES, min_size=1, max_size=5), LISTS, st.integers(0, 99))
@example([ALIKE] * 3, {}, 1)
def test_the_order_of_the_axes_changes_nothing(
    drawn: list[Any], lists: dict[str, Any], seed: int
) -> None:
    stated = dict(zip(FIVE, drawn, strict=False))
    mixed = list(stated.items())
    Random(seed).shuffle(mixed)
    before, after = (
        checked(RULES, {"axes": dict(each), **lists}) for each in (stated.items(), mixed)
    )
    for one, other in zip(_all_told(before), _all_told(after), strict=True):
        assert one == other


@pytest.mark.parametrize(
    "name", ["serial-numbers-unique", "unique-node-addresses", "gantry-partners-move-alike"]
)
def test_the_order_of_the_axes_changes_no_finding_of_the_shipped_rules(name: str) -> None:
    plain: Any = load_tree(FAULTS / f"{name}.yaml").plain
    turned = {**plain, "axes": dict(reversed(plain["axes"].items()))}
    before, after = (_all_told(checked(shipped(), each)) for each in (plain, turned))
    assert len(plain["axes"]) > 1
    assert name in [each[0] for each in before[0]]
    assert before == after


def _all_told(results: Results) -> list[list[tuple[Any, ...]]]:
    findings = [(f.rule, f.subject, f.message) for f in results.findings]
    undecided = [(u.rule, u.subject, tuple(sorted(u.missing))) for u in results.undecided]
    outcomes = [(o.rule, o.subject, o.verdict) for o in results.outcomes]
    return [sorted(findings), sorted(undecided), sorted(outcomes)]


# Items ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("network", "verdict", "reason"),
    [
        ({"nodes": [{"address": 3, "network": 1, "drive": True}]}, "holds", None),
        ({"nodes": [{"address": 3, "network": 1, "drive": False}]}, "broken", "3"),
        ({"nodes": [{"address": 3, "network": 2, "drive": False}]}, "{}", "{}"),
        ({"nodes": []}, "{}", "{}"),
        ({"nodes": [{"address": 3, "drive": False}]}, "undecided", "network.nodes[0].network"),
        ({"nodes": [{"address": 4, "drive": False}]}, "{}", "{}"),
        ({"nodes": {"partial": []}}, "undecided", "network.nodes (the whole list)"),
        ({}, "undecided", "network.nodes"),
        ("none", "not applicable", "network is none"),
    ],
)
@pytest.mark.parametrize(
    ("without", "unmatched", "words"),
    [
        ("skips", "not applicable", "no entry of network.nodes has address 3 and network 1"),
        ('fails "none at {axis.drive.node}"', "broken", "none at 3"),
    ],
)
def test_the_items_that_match_an_axis(
    network: Any, verdict: str, reason: str | None, without: str, unmatched: str, words: str
) -> None:
    found = catalogue_of(rule(f"{NODES} {without}", "node.drive", "{node.address}"))
    (outcome,) = told(found, {"axes": axes(a=drive(3)), "network": network})
    assert outcome[:3] == ("the-rule", "a", verdict.format(unmatched))
    if reason is not None:
        assert reason.format(words) in outcome[3]


@pytest.mark.parametrize(
    ("drive_of_node", "verdict"),
    [(True, "broken"), (False, "not applicable"), (None, "undecided")],
)
def test_a_rule_fails_where_nothing_matches_only_if_it_applies(
    drive_of_node: bool | None, verdict: str
) -> None:
    each = "node in machine.network.nodes with axis where axis.drive.node = node.address"
    found = catalogue_of(rule(f'{each} without fails "x" when node.drive', "true", "y"))
    node = {"address": 4} | ({} if drive_of_node is None else {"drive": drive_of_node})
    (outcome,) = told(found, {"axes": axes(a=drive(3)), "network": {"nodes": [node]}})
    assert outcome[2] == verdict
    if verdict == "undecided":
        assert outcome[3] == "needs network.nodes[0].drive"


def test_a_key_that_is_not_known_leaves_a_join_undecided() -> None:
    found = catalogue_of(rule(f"{NODES} skips", "node.drive", "x"))
    network = {"nodes": [{"address": 3, "network": 1, "drive": True}]}
    (outcome,) = told(found, {"axes": axes(a=drive(3, None)), "network": network})
    assert outcome[2:] == ("undecided", "needs axes.a.drive.network")


def test_an_entry_is_joined_to_both_its_axes_and_names_them() -> None:
    found = catalogue_of(
        rule(f'{PAIRS} fails "no axis {{entry.first}}"', "first.drive.node = 1", "{first.name}")
    )
    plain = {
        "axes": axes(a=drive(1), b=drive(2)),
        "collision_pairs": [{"first": "a", "second": "b"}, {"first": "x", "second": "a"}],
    }
    assert [each[2:] for each in told(found, plain)] == [("broken", "b"), ("broken", "no axis x")]


# Groups -----------------------------------------------------------------------------------------

SHARE = catalogue_of(rule(GROUP, "group is empty", "{all of a.name for a in group}"))


def test_a_group_is_told_once_with_its_members() -> None:
    plain = axes(d=drive(2), c=drive(1), a=drive(1), b=drive(2), e=drive(1), f=drive(1, 2))
    outcomes = [each for each in told(SHARE, {"axes": plain}) if each[2] == "broken"]
    assert [each[1:] for each in outcomes] == [("", "broken", "a, c, e"), ("", "broken", "b, d")]


def test_a_key_that_may_be_shared_leaves_it_undecided_whether_there_is_a_group() -> None:
    assert [each[2:] for each in told(SHARE, {"axes": axes(a=drive(None))})] == [("holds", "")]
    outcomes = told(SHARE, {"axes": axes(a=drive(None), b=drive(1))})
    assert [each[2:] for each in outcomes] == [("undecided", "needs axes.a.drive.node")]


def test_what_members_have_in_common_is_asked_of_each_group() -> None:
    require = "every a in group has a.motion is linear"
    found = catalogue_of(rule(GROUP, require, "{all of a.name for a in group}"))
    plain = axes(a=drive(1), b=drive(1), c=drive(2), d=drive(2))
    plain["d"]["motion"] = "rotary"
    assert [each[3] for each in told(found, {"axes": plain}) if each[2] == "broken"] == ["c, d"]


# What is refused --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("each", "what"),
    [
        (
            "axis with other where axis.motion is other.motion",
            "does not say whether it has an order",
        ),
        (NODES.removesuffix(" without"), "what becomes of one that nothing matches is not said"),
        (f"{NODES} passes", "without passes"),
        (f'{NODES} skips "x"', "without skips"),
        (f"{NODES} fails", "without fails"),
        (f"{NODES} skips no-such-rule", "no-such-rule is not a rule"),
        (f"{NODES} skips unordered", "this has 1 axes to put in order"),
        (f"{UNORDERED} unordered", "a second unordered behind each"),
        (f"{UNORDERED} without skips", "nothing has to match here"),
        (UNORDERED.replace("unordered", "directed by axis.drive.network"), "names no axis"),
        (LEADER.replace("by axis.", "by machine."), "machine.gantry.role is not a fact"),
        ("lock in machine.name", "has no items"),
        ("group of axis", "a group and its keys go together"),
        ("pair of axis by axis.drive.node", "pair of"),
        ("axis by axis.drive.node", "a group and its keys go together"),
        ("group of axis by machine.name", "no fact of axis"),
        ("change with other where before.name is other.name unordered", "a pair of change"),
    ],
)
def test_what_cannot_be_ranged_over_is_refused(each: str, what: str) -> None:
    with pytest.raises(RuleError) as caught:
        catalogue_of(rule(each, "true", "x"))
    assert what in caught.value.what
    assert caught.value.expected or "not a" in what


@pytest.mark.parametrize(
    ("each", "require", "say", "what"),
    [
        (GROUP, "axis.motion is linear", "x", "axis.motion may differ within a group"),
        (GROUP, "group is empty", "{axis.name}", "axis.name may differ within a group"),
        (
            GROUP,
            "every a in group has (every b in group has a.motion is b.motion)",
            "x",
            "this meets every one of group",
        ),
        (f'{NODES} fails "{{node.address}}"', "node.drive", "x", "node is not known here"),
    ],
)
def test_what_a_rule_cannot_know_is_refused(each: str, require: str, say: str, what: str) -> None:
    with pytest.raises(RuleError) as caught:
        catalogue_of(rule(each, require, say))
    assert what in caught.value.what


def test_a_condition_asks_nothing_of_what_does_not_match() -> None:
    with pytest.raises(RuleError) as caught:
        catalogue_of(rule(f'{NODES} fails "x" when node.drive', "true", "y"))
    assert "not known where nothing matches" in caught.value.what


def test_a_remedy_shows_nothing_of_what_does_not_match() -> None:
    text = rule(f'{NODES} fails "x"', "node.drive", "x").replace('"r"', '"{node.address}"')
    with pytest.raises(RuleError) as caught:
        catalogue_of(text)
    assert "not known where nothing matches" in caught.value.what


# Rule tests -------------------------------------------------------------------------------------

SIDES = """language 2
rule sides
  level error title "t" each {each}
  require {require} say "differ" {texts}
  given
    a.gantry = {{partner: b, role: leader}}
    a.drive = {{node: 1, network: 1}}
    b.gantry = {{partner: a, role: follower}}
    b.drive = {{node: 1, network: 1}}
  passes "alike"
  fails "unlike"
    b.drive.node = 2
"""


def alterations(report: RuleTestReport) -> list[str]:
    return [each.what for unnoticed in report.unnoticed for each in unnoticed.alterations]


def faults(tmp_path: Any, each: str, require: str) -> list[str]:
    file = tmp_path / "own.rules"
    file.write_text(SIDES.format(each=each, require=require, texts=TEXTS), "utf-8")
    report = run_rule_tests([file])
    return [*(fault.what for fault in report.faults), *alterations(report)]


EQUAL = "axis.drive.node = other.drive.node"


def test_the_sides_of_an_unordered_pair_may_be_swapped(tmp_path: Any) -> None:
    assert faults(tmp_path, UNORDERED, EQUAL) == []
    (uneven,) = faults(tmp_path, UNORDERED, EQUAL.replace("=", ">="))
    said = 'fails "unlike": the rule fails, with axis and other swapped the rule holds'
    assert uneven == said


@pytest.mark.parametrize(
    ("apart", "pinned", "told"),
    [
        (
            "axis.drive.node - other.drive.node",
            "-1",
            ["apart changes when axis and other are swapped"],
        ),
        ("absolute(axis.drive.node - other.drive.node)", "1", []),
    ],
)
def test_a_value_that_is_pinned_is_the_same_for_both_sides(
    tmp_path: Any, apart: str, pinned: str, told: list[str]
) -> None:
    file = tmp_path / "own.rules"
    text = SIDES.format(each=f"{UNORDERED} let apart = {apart}", require=EQUAL, texts=TEXTS)
    file.write_text(f"{text}    expect apart = {pinned}\n", "utf-8")
    assert [fault.what for fault in run_rule_tests([file]).faults] == told


def test_a_swap_of_a_directed_pair_must_be_noticed(tmp_path: Any) -> None:
    swap = "change `axis.gantry.role` to `other.gantry.role`"
    assert swap in faults(tmp_path, LEADER, EQUAL)
    assert swap not in faults(tmp_path, LEADER, EQUAL.replace("=", ">="))
    one_way = "axis.drive.node >= other.drive.node"
    assert "change `axis.gantry.role` to `other.gantry.role`" not in faults(
        tmp_path, LEADER, one_way
    )


@pytest.mark.parametrize("apart", ["node: 2, network: 1", "node: 1, network: 2"])
def test_a_key_that_is_left_out_must_be_noticed(tmp_path: Any, apart: str) -> None:
    text = rule(GROUP, "group is empty", "shared").partition(" passes")[0]
    drives = "a.drive = {{node: 1, network: 1}} b.drive = {{{}}}"
    same = drives.format("node: 1, network: 1")
    file = tmp_path / "own.rules"
    passes = f'passes "apart" {drives.format(apart)}'
    file.write_text(f'language 2 {text} {passes} fails "shared" {same}', "utf-8")
    (told,) = alterations(run_rule_tests([file]))
    needless = ", axis.drive.network" if apart.startswith("node: 2") else "axis.drive.node,"
    assert told == f"leave out `{needless}`"
