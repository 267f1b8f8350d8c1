"""Words and signs of other languages and of plain English within a condition, and their cures."""

from __future__ import annotations

from typing import Final

from .slips import EACH_ITEM, EQUAL, NEAR, NO_SIGN, NO_WORD, ONE_OF, ORDER, WRITTEN, slip

_BY_SIGNS: Final = "numbers are compared by signs"
_SIZES: Final = (
    "(?:greater|less|more|smaller|larger|bigger|higher|lower|faster|slower|longer|shorter|heavier)"
)
_CONDITION: Final = "when, a clause before require, with the condition. Within it: not (a) or b"
_BETWEEN: Final = "a between b and c"
_LIST: Final = r"\[[^\]\n]*\]?"
_OF_EACH: Final = r"\b(?:every|some|no)\s+\w+\s+in\s+[\w.]+\s*()"

WORD_SLIPS: Final = (
    # what joins conditions
    slip("", r"xor\b", NO_WORD, "(a or b) and not (a and b)"),
    slip("", r"implies\b", NO_WORD, _CONDITION),
    slip(r"(?<=\w)-", r">(?=[A-Za-z_])", NO_SIGN, "a point: axis.drive.node"),
    slip("-", ">", NO_SIGN, _CONDITION),
    slip(r"\brequire\s+(unless\s+)", r"\S[^\n]*", "unless does not stand here", _CONDITION),
    slip(r"^[ \t]*", r"unless\b", "unless begins no clause", "when not (…)"),
    slip("", r"unless\b", "unless joins no conditions", "a or b"),
    slip("", r"but\b", NO_WORD, "and"),
    slip(r"^[ \t]*when\b.*\s()", r"then\b", NO_WORD, "require, a clause of its own"),
    slip(
        r"\b((?:max|min)\s+of\s+[^\n,]*)",
        r",[^\n]*",
        "of goes through a list here",
        "max(a, b) or min(a, b) of two values, max of x.FACT for x in LIST",
    ),
    # comparisons
    slip("[-+*/]", "=", NO_SIGN, "a = b compares, let NAME = a + b names a value"),
    slip(r"[<>=(,]\s*()", r"\+", "a sign + stands before a value", "the value alone"),
    slip(r"[<>]\s+", "=(?!=)", "a blank stands within a sign", "<= or >="),
    slip("[<>]=?", "==?", NO_SIGN, "<= or >="),
    slip(
        "=?",
        "~=?",
        NO_SIGN,
        f"for numbers {NEAR}. For texts begins with, ends with or contains",
    ),
    slip(r"\b(is(?:\s+not)?\s+equal\s+)", r"to\b", NO_WORD, EQUAL),
    slip(r"\b(is(?:\s+not)?\s+the\s+)", r"same(?:\s+as)?\b", NO_WORD, EQUAL),
    slip("", r"(?:equals?(?:\s+to)?|eq)\b", NO_WORD, EQUAL),
    slip(rf"\b(is(?:\s+not)?\s+{_SIZES}\s+)", r"than\b|(?=\S)", _BY_SIGNS, ORDER),
    slip(r"\b(is(?:\s+not)?\s+(?:below|above|under|over)\s+)", r"(?=\S)", _BY_SIGNS, ORDER),
    slip("", rf"(?:{_SIZES}(?:\s+than)?|at\s+(?:least|most))\b", _BY_SIGNS, ORDER),
    slip("", r"(?:exceeds?|below|above|under|over)\b", _BY_SIGNS, ORDER),
    slip(
        "",
        r"(?:must|shall|should|may|has\s+to|needs\s+to)\b(?:\s+(?:not\s+)?be\b)?",
        NO_WORD,
        "the condition alone, such as a > b",
    ),
    slip(r"\b(is(?:\s+not)?\s+like\s+)", r"(?=\S)", NO_WORD, "begins with, ends with or contains"),
    slip(
        r"\b(?:contains|includes|begins\s+with|ends\s+with)\s*()",
        _LIST,
        "one word or text stands here, and no list",
        "a contains b or a contains c. For a list: any of LIST in [a, b]",
    ),
    slip(r"\bbetween\s+[^\s(]+\s*()", r"\.\.+|to\b|,", "between takes and", _BETWEEN),
    slip(r"\bbetween\s*()", _LIST, "between takes and", _BETWEEN),
    slip(r"\bbetween\s*(\([^\n,()]*)", r",[^\n)]*\)?", "between takes and", _BETWEEN),
    slip("", r"in\s+(?:the\s+)?range\b", NO_WORD, _BETWEEN),
    slip(
        r"\b(is(?:\s+not)?\s+within\s+)",
        r"(?=\S)",
        "is does not stand before within",
        f"{NEAR}, or {_BETWEEN}",
    ),
    slip(r"\bwithin\s+[^\s,]+\s*()", r"and\b|,", "within takes of", f"{NEAR}, or {_BETWEEN}"),
    slip(r"(?:\bis(?:\s+not)?|=)\s*()", r"\[\s*\]", "an empty list is no value", "is empty"),
    slip(
        r"(?:\bis(?:\s+not)?|=)\s*()",
        _LIST,
        "a list is not compared",
        f"{ONE_OF}, or all of [a, b] in LIST",
    ),
    # numbers
    slip(
        r"(?<![\w.])([0-9]+)",
        r"_[0-9_]+",
        "a number has no sign between thousands",
        "all digits together: 3000",
    ),
    slip(
        r"(?<![\w.])(0[xX][0-9A-Fa-f]?)",
        r"[0-9A-Fa-f]+",
        "a number is written with decimal digits",
        "16 for 0x10",
    ),
    slip(r"(?:^|[^\w.])()", r"\.[0-9]+", "a digit is missing before the point", "0.5"),
    slip("", "[²³]", f"{WRITTEN} stands after a unit only", "^2 or ^3, as in x^2"),
    slip("", r"(?:squared|cubed)\b", NO_WORD, "^2 or ^3, as in x^2"),
    slip("", "÷", NO_SIGN, "/"),
    slip("", "[·∙•⋅]", NO_SIGN, "*"),
    slip("", "−|–", "this is another sign than the minus of the language", "-"),
    slip("", r"(?:times|multiplied\s+by)\b", NO_WORD, "*"),
    slip("", r"divided\s+by\b", NO_WORD, "/"),
    slip("", r"plus\b", NO_WORD, "+"),
    slip("", r"minus\b", NO_WORD, "-"),
    # names
    slip(r"(?<=[\w.])", r"\[\s*[\"'][^\n\]]*\]?", "a part stands after a point", "axis.drive.node"),
    slip("", "[$@][{]?", NO_SIGN, "the name alone, such as axis.drive.node"),
    slip("", r"\?\?", NO_SIGN, "default, as in a default b where nobody states a"),
    slip("", r"\?[^\n:]*:[^\n]*", "this is no choice of the language", "a if c else b"),
    slip(
        "", r"\?", NO_SIGN, "the name alone. If nobody states a fact, the check cannot be decided"
    ),
    # lists
    slip(
        r"\b((?:each|exists|forall)\s+)",
        r"(?:an?\s+)?\w+(?=\s+in\b)",
        "every, some or no begins a condition on a list",
        EACH_ITEM,
    ),
    slip(r"\b(none\s+)", r"\w+(?=\s+in\b)", "none is no word before an item", "no x in LIST has …"),
    slip(
        r"\b(there\s+is\s+(?:an?\s+)?(?:\w+\s+)?)",
        r"(?:\w+\s+)?in\b",
        "every, some or no begins a condition on a list",
        EACH_ITEM,
    ),
    slip(r"\b(for\s+each\s+\w+\s+in\s+[\w.]+\s*)", ":", "for begins no condition", EACH_ITEM),
    slip(
        r"\b(?:every|some|no|for|count\s+of)\s+\w+\s+()",
        r"of\b",
        "in stands before a list",
        EACH_ITEM,
    ),
    slip(
        _OF_EACH,
        r"[:,(]|(?:such\s+that|that|which|with|if|when|is|are|have|having|must|satisfies)\b",
        "has stands before what is asked of each item",
        "every x in LIST has …, or every x in LIST where … has …",
    ),
    slip(
        r"(?<![\w.])(has\s+)",
        r"[a-z][\w.]*",
        "has stands only after every, some or no",
        "x is not none, where x is a part",
    ),
    slip(
        r"(?:^|\s)()",
        r"has\b",
        "has stands only after every, some or no",
        "x is not none, where x is a part",
    ),
    # comments and brackets
    slip("/", "[/*]", NO_SIGN, "# before a comment, / to divide"),
    slip(r"^[ \t]*", r"//|/\*|--", NO_SIGN, "# before a comment"),
    slip(
        r"^(?:[^()\n]|\([^()\n]*\))*()", r"\)", "this ) closes nothing", "a ( before it, or nothing"
    ),
    slip(r"(?:^|[^0-9])()", r"\.(?=\s*(?:\n|$))", "a point ends no clause", "nothing"),
    slip("", r",(?=\s*\n)", "a comma ends no clause", "nothing"),
)

LAST_SLIPS: Final = (
    slip(
        r"^[ \t]*(?:require|when)\b[^\[({\n]*[^\s,]\s*()",
        r",(?!\s*\n)",
        "a comma joins no conditions",
        "and",
    ),
)
"""Slips that are only told if no other one is."""
