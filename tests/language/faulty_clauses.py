"""Rules that are wrong around their expressions: subjects, clauses, definitions and examples."""

from __future__ import annotations

from tests.language.evaluating import rule_text
from tests.language.rule_parts import DEFINE, SETTING

CLAUSES: list[tuple[str, dict[str, str] | str, str, str]] = [
    # subjects and pairs
    ("unknown subject", {"require": "true", "each": "§axle"}, "axle is not a subject", "axis"),
    (
        "pair of machines",
        {"require": "true", "each": "§machine with other where machine.name is other.name"},
        "a pair of machine",
        "each axis",
    ),
    (
        "pair without a key",
        rule_text("true", each="axis with §other"),
        "something is missing after other",
        "where",
    ),
    (
        "pair by order",
        {"require": "true", "each": "axis with b where axis.drive.node §< b.drive.node"},
        "does not fit",
        "is",
    ),
    (
        "pair with itself",
        {"require": "true", "each": "axis with §axis where axis.name is axis.name"},
        "means something already",
        "",
    ),
    (
        "pair on one side",
        {"require": "true", "each": "axis with b where axis.name is §axis.gantry.partner"},
        "no fact of b",
        "",
    ),
    (
        "pair of unlike kinds",
        {"require": "true", "each": "axis with b where axis.name is §b.drive.node"},
        "of different kinds",
        "",
    ),
    (
        "pair on a flag",
        {
            "require": "true",
            "each": "axis with b where §axis.encoder.index_pulse is b.encoder.index_pulse",
        },
        "cannot be matched on",
        "",
    ),
    (
        "all with all",
        {"require": "§every a in machine.axes has a.drive.node > axis.drive.node"},
        "every one of machine.axes with every one",
        "an equality",
    ),
    (
        "four loops",
        {
            "require": "every a in axis.mechanics.stages has every b in axis.mechanics.stages has"
            " every c in axis.mechanics.stages has §every d in axis.mechanics.stages has true"
        },
        "more than 3 loops",
        "",
    ),
    # clauses
    ("unknown level", "language 2 rule r level §bad", "", ""),
    (
        "no example that passes",
        'language 2 rule §r level error title "t" each axis require true'
        ' say "s" why "w" remedy "r" basis "b" fails "f"',
        "no example that passes",
        'passes "what',
    ),
    (
        "no example that fails",
        'language 2 rule §r level error title "t" each axis require true'
        ' say "s" why "w" remedy "r" basis "b" passes "f"',
        "no example that fails",
        'fails "what',
    ),
    (
        "no clause",
        "language 2\nrule §a-b level error",
        "rule a-b has no title",
        "begins with title",
    ),
    (
        "neither headline nor say",
        'language 2\nrule §a-b level error title "t" each axis require true why "w" remedy "r"'
        ' basis "b"',
        "rule a-b has no headline or say",
        "begins with headline or say",
    ),
    ("clause twice", {"require": "true", "extra": '§why "again"'}, "states why twice", ""),
    (
        "set twice",
        {"require": "true", "extra": "set axis.drive.node to 1 §set axis.drive.node to 2"},
        "states set twice",
        "",
    ),
    (
        "set of a list",
        {"require": "true", "extra": "set §axis.mechanics.stages to 1"},
        "only a single fact",
        "",
    ),
    (
        "set of the wrong kind",
        {"require": "true", "extra": "set axis.drive.node to §1mm"},
        "this is a length",
        "the fact is",
    ),
    (
        "rule twice",
        rule_text("true")
        + rule_text("true").removeprefix("language 2").replace("rule the-rule", "rule §the-rule"),
        "defined twice",
        "",
    ),
    ("rule with a dot", "language 2 rule §a.b level error", "", ""),
    (
        "rule with a capital",
        rule_text("true").replace("the-rule", "§Rule"),
        "name of a rule",
        "lower-case",
    ),
    (
        "rule with an underscore",
        rule_text("true").replace("the-rule", "§the_rule"),
        "name of a rule",
        "",
    ),
    (
        "rule named as a check built in",
        rule_text("true").replace("the-rule", "§sources-agree"),
        "built in",
        "another name",
    ),
    ("unknown clause", {"require": "true", "extra": '§wyh "x"'}, "wyh does not fit here", ""),
    (
        "misspelt clause",
        "language 2\nrule a-b\n  §levle error",
        "levle does not fit here",
        "perhaps level",
    ),
    ("wrong version", "language §3", "language version 3 is not known", "language 2"),
    (
        "earlier version",
        "# a comment\nlanguage §1\ndefine axis.x as 1 otherwise 2",
        "no longer reads language 1",
        "else for the old otherwise",
    ),
    ("no version", "§rule a-b level error", "does not say its language version", "language 2"),
    ("empty file", "§", "the text ends too early", "language"),
    # definitions and settings
    (
        "definition of itself",
        {"require": "true", "before": DEFINE.format("§axis.x + 1")},
        "defined through itself",
        "",
    ),
    (
        "definition of a stated fact",
        {"require": "true", "before": DEFINE.format("1").replace("axis.x", "§axis.name")},
        "exists already",
        "",
    ),
    (
        "definition without subject",
        {"require": "true", "before": DEFINE.format("1").replace("axis.x", "§x")},
        "does not say whose",
        "axis.name",
    ),
    (
        "definition of no subject",
        {"require": "true", "before": DEFINE.format("1").replace("axis.x", "§gantry.x")},
        "gantry is not a subject",
        "axis or machine",
    ),
    (
        "definition over no list",
        {
            "require": "true",
            "before": 'define §s.x for s in axis.drive kind ratio as 1 meaning "m"',
        },
        "not defined over a list",
        "axis.LIST",
    ),
    (
        "unknown kind",
        {"require": "true", "before": DEFINE.format("1").replace("ratio", "§rato")},
        "rato is not a kind",
        "perhaps ratio",
    ),
    (
        "kind to a power that is not whole",
        {"require": "true", "before": DEFINE.format("1").replace("ratio", "length^§2.5")},
        "2.5 is no power",
        "1, 2, 3 or 4",
    ),
    (
        "definition without meaning",
        {"require": "true", "before": "define §axis.x kind ratio as 1"},
        "has no meaning",
        "",
    ),
    (
        "definition in a unit of another kind",
        {"require": "true", "before": DEFINE.format("1") + " unit §mm"},
        "mm is a unit of length",
        "",
    ),
    (
        "setting twice",
        {
            "require": "true",
            "before": SETTING.format("1") + " " + SETTING.format("2").replace("room", "§room"),
        },
        "defined twice",
        "",
    ),
    (
        "setting that is a word",
        {"require": "true", "before": SETTING.format("§much")},
        "'much' does not begin with a number",
        "",
    ),
    (
        "setting that is a list",
        {"require": "true", "before": SETTING.format("§[1]")},
        "cannot be a list",
        "",
    ),
    (
        "setting within a list item",
        {
            "require": "true",
            "before": SETTING.format("1")
            + ' define s.x for s in axis.mechanics.stages kind ratio as §room meaning "m"',
        },
        "not known within a list item",
        "",
    ),
    # texts and examples
    (
        "text not closed",
        {"require": "true", "extra": 'set axis.drive.serial to §"abc'},
        "not closed on its line",
        "",
    ),
    ("brace not closed", {"require": "true", "say": "a §{1mm"}, "is not closed", "}"),
    ("brace that closes nothing", {"require": "true", "say": "a §} b"}, "closes nothing", "}}"),
    ("empty braces", {"require": "true", "say": "a {§} b"}, "holds no value", "as text"),
    ("fault within braces", {"require": "true", "say": "a {1mm + §s} b"}, "s is not known", ""),
    ("escape that means nothing", {"require": "true", "say": "a §\\q"}, "means nothing", "\\n"),
    (
        "fact twice in an example",
        {"require": "true", "passes": "axis.drive.node = 1 §axis.drive.node = 2"},
        "is stated twice",
        "",
    ),
    (
        "key twice in an example",
        {"require": "true", "passes": "axis.mechanics.stages = [{kind: belt, §kind: belt}]"},
        "kind is given twice",
        "",
    ),
    (
        "pinned value of the wrong kind",
        {"require": "true", "lets": "let a = 1", "passes": "expect a = §1mm"},
        "this is a length",
        "",
    ),
    ("pinned name unknown", {"require": "true", "passes": "§expect b = 1"}, "b is not known", ""),
    (
        "pinned value that is no constant",
        {"require": "true", "lets": "let a = 1", "passes": "expect a = §axis.drive.node"},
        "axis is not known here",
        "",
    ),
    (
        "needs of an example that passes",
        {"require": "true", "passes": "§needs axis.drive.node"},
        "only an example of the kind `undecided`",
        "",
    ),
    # characters
    ("strange character", {"require": "§€ > 1"}, "'€' does not fit here", ""),
    ("bracket too many", {"require": "(1 = 1)§)"}, "this ) closes nothing", ""),
    ("operator missing", {"require": "1 §1 = 2"}, "1 does not fit here", ""),
    (
        "comparison of a comparison",
        {"require": "1 §< 2 < 3"},
        "two comparisons in a row",
        "between",
    ),
    # follows from
    (
        "itself",
        {
            "require": "axis.drive.node = 5",
            "extra": "set axis.drive.node to 5 follows from §the-rule",
        },
        "the-rule follows from the-rule",
        "one direction",
    ),
    (
        "no rule",
        {"require": "axis.drive.node = 5", "extra": "follows from §no-such-rule"},
        "no-such-rule is not a rule",
        "the name of a rule",
    ),
]
"""A case: its name, the parts of a rule or a whole text, and words of what is wrong and expected.

§ stands where the fault must be placed; it is taken out before the text is read.
"""
