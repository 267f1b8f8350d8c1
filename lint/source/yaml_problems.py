"""What libyaml finds wrong with a text, in the words of this program and at a place."""

from __future__ import annotations

import yaml

from ..base.errors import InputError
from .files import Source
from .limits import shortened

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final


# libyaml's problem → what is wrong, what was expected, and whether to point at the construct that
# was begun (libyaml's context) instead of at the spot where reading stopped.
_PROBLEMS: Final[dict[str, tuple[str, str, bool]]] = {
    "found a tab character that violates indentation": (
        "a tab in the indentation",
        "spaces",
        False,
    ),
    "found a tab character where an indentation space is expected": (
        "a tab in the indentation",
        "spaces",
        False,
    ),
    "mapping values are not allowed in this context": (
        "this colon makes no key",
        "one 'key: value' on a line at matching indentation, or quotes around text with a colon",
        False,
    ),
    "mapping keys are not allowed in this context": (
        "a key cannot stand here",
        "one 'key: value' on a line",
        False,
    ),
    "block sequence entries are not allowed in this context": (
        "a list cannot begin here",
        "'- ' at the start of its own line, or [ ]",
        False,
    ),
    "could not find expected ':'": (
        "this line is no key and no value",
        "'key: value', with a space after the colon",
        True,
    ),
    "did not find expected key": (
        "this does not continue the mapping",
        "one 'key: value' on a line, keys at the same indentation",
        False,
    ),
    "did not find expected '-' indicator": (
        "this does not continue the list",
        "'- ' at the same indentation as the entries before",
        False,
    ),
    "did not find expected ',' or ']'": (
        "the list opened with [ is not closed",
        "',' or ']'",
        True,
    ),
    "did not find expected ',' or '}'": (
        "the mapping opened with { is not closed",
        "',' or '}'",
        True,
    ),
    "did not find expected node content": ("no value stands here", "a value", False),
    "found unexpected end of stream": ("the quoted text is never closed", "a closing quote", True),
    "found unexpected document indicator": (
        "the quoted text runs into a document marker",
        "a closing quote",
        True,
    ),
    "found unknown escape character": (
        "an unknown escape in quoted text",
        "a YAML escape such as \\n, or '…' quotes, which take \\ as it is",
        False,
    ),
    "found invalid Unicode character escape code": (
        "an escape that is no character",
        "a Unicode character",
        False,
    ),
    "did not find expected hexdecimal number": (
        "an escape that is no hexadecimal number",
        "hexadecimal digits",
        False,
    ),
    "found undefined tag handle": ("a tag with an unknown handle", "no tag", False),
    "did not find expected <document start>": (
        "text after the end of the document",
        "nothing after the one value of the file",
        False,
    ),
    "found incompatible YAML document": (
        "the file asks for a YAML version that is not known",
        "YAML 1.2, or no %YAML line",
        False,
    ),
    "did not find expected alphabetic or numeric character": (
        "an anchor or alias without a name",
        "letters or digits after & or *, or quotes around the text",
        True,
    ),
    "did not find expected comment or line break": (
        "text after a block text's heading",
        "a line break after | or >",
        False,
    ),
}


def reworded(source: Source, fault: yaml.YAMLError) -> InputError:
    """libyaml's (or PyYAML's) complaint in our words, with our place."""
    text = source.text
    problem = str(getattr(fault, "problem", None) or getattr(fault, "reason", None) or fault)
    mark: Any = getattr(fault, "problem_mark", None)
    context: Any = getattr(fault, "context_mark", None)
    what, expected, begun = _PROBLEMS.get(problem, ("", "", False))
    if mark is None or (begun and context is not None):
        mark = context
    at = mark.index if mark is not None else int(getattr(fault, "position", 0) or 0)
    at = min(at, len(text))
    if at == len(text):  # the end of the text: show the last thing that stands there
        at = max(len(text.rstrip()) - 1, 0)
    sign = text[at : at + 1]
    if problem.startswith("found character") and "start any token" in problem:
        if sign == "\t":
            what, expected = "a tab in the indentation", "spaces"
        else:
            what, expected = f"a value cannot begin with {sign}", "quotes around the text"
    elif not what:
        what, expected = f"not readable as YAML: {shortened(problem, 120)}", "YAML 1.2"
    return source.error(what, at, at + 1 if sign not in "\r\n" else at, expected)
