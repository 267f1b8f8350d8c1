"""Slips of people who write the clauses of a rule as another file has them, and their cures."""

from __future__ import annotations

from typing import Final

from .slips import WRITTEN, slip

_CLAUSES: Final = (
    "level|title|each|when|require|say|why|headline|remedy|caution|basis|meaning|default|kind|as"
)
_EXAMPLES: Final = "passes|fails|warns|undecided|skips"
_NO_CLAUSE: Final = f"{WRITTEN} begins no clause"

_OTHER_WORDS: Final = {
    "level": "severity|priority",
    "title": "name|summary",
    "say": "message|text|description|print|report",
    "why": "reason|because|rationale|impact",
    "remedy": "action|cure|advice|hint|solution|repair",
    "basis": "base|source|reference|standard",
    "require": "requires|required|assert|check|ensure|expect that|condition|must|then|return",
    "when": "whenever|only if|where",
    "each": "foreach|for each|for every|for all|for",
    "passes": "pass|ok|good|valid",
    "fails": "fail|bad|invalid",
    "passes or fails": "example|test",
    "set": "fix|correct",
    "let": "const|var|variable|def|local",
}
"""By the word of a clause, words that people begin it with."""

CLAUSE_SLIPS: Final = (
    *(
        slip(r"^[ \t]*()", rf"(?:{others})\b(?=[ \t:=])", _NO_CLAUSE, word)
        for word, others in _OTHER_WORDS.items()
    ),
    slip(r"^[ \t]*(requires\s+)", r"(?=\S)", "requires begins no clause", "require"),
    slip(
        rf"^[ \t]*(?:{_CLAUSES}|language)\s*()",
        "[:=]",
        f"{WRITTEN} stands after the word of a clause",
        "a blank",
    ),
    slip(
        r"^[ \t]*(?:rule|define|setting)\s+[\w.-]+\s*()",
        "[:{(]",
        f"{WRITTEN} stands after the name",
        "nothing: it ends where the next one begins",
    ),
    slip(
        r"^[ \t]*rule\s+()",
        r"[\"'][^\n]*",
        "the name of a rule stands without quotes",
        "lower-case words joined by hyphens",
    ),
    slip(
        r"^[ \t]*rule\s+([\w-]+\s+)",
        r"[\w-][^\n]*",
        "the name of a rule is one word",
        "lower-case words joined by hyphens",
    ),
    slip(
        r"^[ \t]*level\s+()",
        r"[\"'][^\n]*",
        "a level stands without quotes",
        "error, warning or note",
    ),
    slip(
        r"^[ \t]*(?:title|say|why|headline|basis|meaning|remedy)\s+()",
        r"[A-Za-z][^\n]*",
        "a text stands in double quotes",
        '"…"',
    ),
    slip(
        r'"\s*()',
        r"\+",
        "texts are joined without a sign",
        '"…" "…", one after the other',
    ),
    slip(
        rf"^[ \t]*(?:{_EXAMPLES})\s+()",
        r"[A-Za-z][^\n]*",
        "an example begins with its title",
        '"…", a text in double quotes, and then its facts',
    ),
    slip(
        rf"^[ \t]*(?:{_EXAMPLES}|given)\b[^\n]*\s[a-z]\w*(?:\.\w+)*\s*()",
        r"is\b|:|==",
        "a fact of an example takes another sign",
        "axis.drive.node = 1",
    ),
    slip(
        rf"^[ \t]*(?:{_EXAMPLES}|given)\b[^\n]*?[^\s,]\s*()",
        r"[,:](?!\s*[=:])",
        "nothing stands between the facts of an example",
        "a blank: axis.drive.node = 1",
    ),
    slip(
        rf"^[ \t]*(?:{_EXAMPLES}|given)\b[^\n]*\s(and\s+)",
        r"[a-z][\w.]*(?=\s*=)",
        "and does not stand between the facts of an example",
        "a blank",
    ),
    slip(
        rf"^[ \t]*(?:{_EXAMPLES}|given)\b[^\n]*=\s*([A-Za-z]\w*)",
        r"-[\w-]*",
        "a text with other signs than letters stands in double quotes",
        '"…"',
    ),
    slip(r"^[ \t]*warn\s+()", r"(?!unless\b)\S[^\n]*", "unless stands after warn", "warn unless …"),
    slip(
        r"^[ \t]*set\s+[\w.]+\s*()",
        "=",
        "to stands between a fact and its value in set",
        "to",
    ),
    slip(r"\blet\s+\w+\s+()", r"(?:is|be|as|to)\b|[0-9(]", "the = of a let is missing", "="),
    slip(r"\blet\s+(\w+)", r"-[\w-]*(?=\s*=)", "a name is one word", "words joined by _"),
    slip(
        r"\blet\s+\w+\s+in\s+\S+\s+()",
        r'"[^"\n]*"?',
        "the label of a let stands before its unit",
        'let needed "needed delay" in ms = …',
    ),
    slip(
        r"^[ \t]*let\b[^\n]*[^\s,]\s*()",
        r",\s*\w+\s*=[^\n]*",
        "a let names one value",
        "another let",
    ),
    slip(r"^[ \t]*()", r"[a-z]\w*(?=\s*:?=(?!=))", "a value is named by let", "let x = …"),
    slip(
        r"^[ \t]*()",
        r"(?:and|or|not)\b",
        _NO_CLAUSE,
        "when or require with the whole condition",
    ),
    slip(
        r"^(?:[\w.]|\([^)\n]*\))+\s*()",
        r":[^\n]*$",
        "a value in a text has no format",
        "{x}, {x in mm}, {x rounded up} or {x rounded down}",
    ),
)
