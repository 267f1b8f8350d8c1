"""The errors of a JSON text after its first one: the scan goes on behind each, where it can.

Behind a bad value, a bad key, a missing or doubled comma and a comment, the text goes on as if
there were none. Where that is not clear, the rest of the line is passed over. At a bracket that
cannot be placed the scan ends. An error that may follow from an earlier one is not told: one behind
what was passed over, or a bracket that does not fit.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Final

from ..base.errors import MOST_ERRORS, InputError
from .files import Plain
from .json import JsonScan, finite_decimal, finite_int, skip_space
from .limits import MAX_NODES
from .outline import LIST, MAPPING, PLAIN, Outline
from .places import LocatedSource, Locations

if TYPE_CHECKING:
    from collections.abc import Callable

    from .files import Source

LONGEST: Final = 1_000_000
"""Most characters of a text of which more than the first error is told."""

_MOST_STOPS: Final = 3 * MOST_ERRORS

_LOOSE_TEXT: Final = re.compile(r'"(?:[^"\\\n\r]|\\[^\n\r])*"')
_SINGLE_QUOTES: Final = re.compile(r"'[^'\n\r]*'")
_WORD: Final = re.compile(r"[^\s,:\[\]{}\"]+")
_COMMENT: Final = re.compile(r"//[^\n\r]*|/\*.*?\*/", re.DOTALL)
_HASH: Final = re.compile(r"#[^\n\r]*")
_BARE_KEY: Final = re.compile(r"(?:'[^'\n\r]*'|[^\s\"',:{}\[\]]+)(?=\s*:)")
_KEY: Final = re.compile(_LOOSE_TEXT.pattern + r"\s*:")
_SCALAR: Final = _LOOSE_TEXT.pattern + r"|-?[0-9][0-9.eE+-]*|true|false"
_NEXT_KEY: Final = re.compile(r",\s*" + _KEY.pattern)
_ITEM: Final = re.compile(rf"(?:{_SCALAR})[ \t]*(?=[,\]\n\r])")
_OPENS: Final = re.compile(rf"\{{\s*(?:{_KEY.pattern}|\}})|\[\s*[^\s:,]")
_BEGINS_VALUE: Final = re.compile(rf"(?:{_SCALAR})(?=[ \t]*[,}}\n\r])|{_OPENS.pattern}")
_DECIMALS: Final = re.compile(r"(?<=[0-9],)[0-9]")
_EQUALS: Final = re.compile(r"=>?")
_TO_END_OF_VALUE: Final = re.compile(r"[^,\]}\n\r\"{\[:]*")
_BRACKET: Final = re.compile(r"[\[\]{}]")
_LINE: Final = re.compile(r"[^\n\r]*")


class LeftOfJson(LocatedSource):
    """A JSON text of which only some values are known: where these stand is known, too."""

    found: Locations

    @property
    def locations(self) -> Locations:
        """Where its values stand."""
        return self.found


class _Recovery(JsonScan):
    """A scan that notes each error and goes on behind it.

    ``bad`` are collections with an offset: the member of the collection there is unusable.
    """

    def __init__(self, source: Source) -> None:
        super().__init__(source, Outline())
        self.errors: list[InputError] = []
        self.bad: list[tuple[int, int]] = []
        self.bad_keys: set[int] = set()
        self.complete = False
        self.may_continue = self.comma_before_it = False

    def run(self) -> None:
        """Scan as far as it is clear how the text goes on."""
        at, stops, size = 0, 0, len(self.text)
        while (at := skip_space(self.text, at)) < size:
            step, continues = self.step, self.may_continue
            self.may_continue = False
            if self.comma_before_it:
                self.comma_before_it = self.text[at] in "]}" or self._before(at) in ("]", "}")
            try:
                at = self.step(self, at)
            except InputError as error:
                begin = self._offset(error)
                if self.errors and self._may_follow(step, begin):
                    return
                if not continues:
                    self.errors.append(error)
                stops += 1
                behind = self._behind(step, at, begin, continues)
                if behind is None or len(self.errors) >= MOST_ERRORS or stops > _MOST_STOPS:
                    return
                at = behind
        try:
            self.ended()
        except InputError as error:
            if not self.errors:
                self.errors.append(error)
        else:
            self.complete = True

    def short(self, at: int) -> int:
        """No members at once: each error is told by the step in which it is."""
        return at

    def _may_follow(self, step: Callable[..., int], begin: int) -> bool:
        """Whether an error may follow from an earlier one: from a bracket too many or too few."""
        sign = self.text[begin]
        if step in (JsonScan.value, JsonScan.first_value):
            return False
        if step != JsonScan.after_value:
            if self.step == JsonScan.value:
                return sign == ","  # no colon
            is_key = sign in ',"' or _BARE_KEY.match(self.text, begin)
            return not is_key and _DECIMALS.match(self.text, begin) is None and sign not in "/#"
        if not self.stack or sign in "]}" or (sign == ":" and self.keys is None):
            return True
        behind_bracket = sign != "," and self._before(begin) in ("]", "}")
        return behind_bracket and (self.comma_before_it or not self._is_missing_comma(begin))

    def _offset(self, error: InputError) -> int:
        assert error.place is not None
        return int(self.source.line_starts[error.place.line - 1] + error.place.column - 1)

    def _is_missing_comma(self, begin: int) -> bool:
        if self.keys is not None:
            return _KEY.match(self.text, begin) is not None
        if self.text[begin] in "{[":
            opens = _OPENS.match(self.text, begin) is not None
            return opens and self._before(begin) in ("]", "}")
        return _ITEM.match(self.text, begin) is not None

    def _before(self, at: int) -> str:
        """The sign before an offset, without blanks and line breaks."""
        while at and self.text[at - 1].isspace():
            at -= 1
        return self.text[at - 1 : at]

    def _behind(self, step: Callable[..., int], at: int, begin: int, continues: bool) -> int | None:
        """Where the scan goes on after an error at ``begin`` of a step from ``at``; or None.

        ``continues``: the line may go on with the text that the line above left open.
        """
        is_value = step in (JsonScan.value, JsonScan.first_value)
        comment = _COMMENT.match(self.text, begin)
        if comment is None and not is_value and self.text[begin - 1 : begin].isspace():
            comment = _HASH.match(self.text, begin)
        if comment is not None:
            self.may_continue = '"' in comment[0]
            return None if _BRACKET.search(comment[0]) else comment.end()
        if continues and not (step == JsonScan.after_value and self._is_missing_comma(begin)):
            return self._pass_line(begin)
        if step == JsonScan.after_value:
            return self._behind_value(begin)
        if is_value:
            return self._bad_value(at)
        if self.step == JsonScan.value:
            return self._without_colon(begin)
        return self._bad_key(at)

    def _behind_value(self, begin: int) -> int | None:
        """Behind something that is neither a comma nor the end of the collection."""
        sign = self.text[begin]
        if not self.stack or sign in "]}":
            return None
        if sign == ",":  # the closing bracket comes next
            self.comma_before_it = True
            return begin + 1
        if self._is_missing_comma(begin):
            self.step = JsonScan.value if self.keys is None else JsonScan.named
            return begin
        self._mark(begin)
        if sign in "{[" or (sign == ":" and self.keys is None):
            return None
        return self._pass_line(begin) if sign in ':"' else self._end_of_value(begin)

    def _bad_value(self, at: int) -> int | None:
        text, sign = self.text, self.text[at]
        if sign in "{[}]" or self.nodes > MAX_NODES:
            return None
        if sign == "," and self.keys is not None and not _NEXT_KEY.match(text, at):
            return None
        if sign in "\"'":
            match = (_LOOSE_TEXT if sign == '"' else _SINGLE_QUOTES).match(text, at)
        else:
            match = _WORD.match(text, at)
        end = match.end() if match else at
        self.outline.add(at, end, PLAIN, None if self.keys is None else self.key)
        self._mark(at)
        self.step = JsonScan.after_value
        return self._pass_line(at) if sign in "\"':" and end == at else self._end_of_value(end)

    def _without_colon(self, begin: int) -> int | None:
        equals = _EQUALS.match(self.text, begin)
        if equals is not None:
            return equals.end()
        if _BEGINS_VALUE.match(self.text, begin):
            return begin
        return None if self.text[begin] in ",}]" else self._pass_line(begin)

    def _bad_key(self, at: int) -> int | None:
        """Behind a key that cannot be used, or something that stands in its place."""
        text, assumed = self.text, self.keys
        if text[at] in ",{}[]":
            return at + 1 if text[at] == "," else None
        quoted = text[at] == '"'
        match = (_LOOSE_TEXT if quoted else _BARE_KEY).match(text, at)
        if match is None:
            return self._pass_line(at)
        name = match[0].strip("\"'")
        if quoted or (assumed is not None and assumed.setdefault(name, at) != at):
            self.bad_keys.add(at)
        self.key = (name, at, match.end())
        colon = skip_space(text, match.end())
        if text[colon : colon + 1] != ":":
            return self._pass_line(match.end())
        self.step = JsonScan.value
        return colon + 1

    def _end_of_value(self, at: int) -> int | None:
        """Behind what is left of a bad value."""
        text = self.text
        end = _TO_END_OF_VALUE.match(text, at).end()  # type: ignore[union-attr]
        value = text[text.rfind("\n", 0, end) + 1 : end]
        self.may_continue = text[end : end + 1] in ("\n", "\r")
        unclear = text[end : end + 1] in ('"', "{", "[", ":") or value.count("(") > value.count(")")
        return self._pass_line(at) if unclear else end

    def _pass_line(self, at: int) -> int | None:
        """Pass over the rest of a line, if no bracket stands in it."""
        line = _LINE.match(self.text, at)
        assert line is not None
        if _BRACKET.search(line[0]):
            return None
        self.may_continue = True
        self._mark(at)
        self.step = JsonScan.after_value
        if line[0].rstrip().endswith(","):
            self.step = JsonScan.value if self.keys is None else JsonScan.named
        return line.end()

    def _mark(self, at: int) -> None:
        """Note that the member of the innermost object cannot be used, whatever lists are in it."""
        chain = [*self.stack[1:], (self.here, self.keys)]
        inner = -1
        while chain and chain[-1][1] is None:
            inner = chain.pop()[0]
        number = chain[-1][0] if chain else -1
        self.bad.append((number, at if inner < 0 else self.outline.starts[inner]))

    def left(self) -> LeftOfJson | None:
        """The text without the members that cannot be used; None if too little is known of it."""
        if not self.complete or any(number < 0 for number, _ in self.bad):
            return None
        source = self.source
        left = LeftOfJson(source.path, source.name, source.text, source.form, source.bom)
        object.__setattr__(left, "found", Locations(left, self.outline))
        return left

    def plain(self) -> Plain:
        """The value of the text without the members that cannot be used."""
        gone = {self._member(number, at) for number, at in self.bad}
        return self._plain(0, gone)  # type: ignore[no-any-return]

    def _member(self, number: int, at: int) -> int:
        """The last member of an object that begins at or before an offset."""
        found = -1
        for child in self.outline.children(number):
            if self.outline.key_span(child)[0] <= at:
                found = child
        return found

    def _plain(self, number: int, gone: set[int]) -> Any:
        outline, kind = self.outline, self.outline.kinds[number]
        if kind == LIST:
            return [self._plain(each, gone) for each in outline.children(number)]
        if kind == MAPPING:
            return {outline.key(each): self._plain(each, gone) for each in self._kept(number, gone)}
        text = self.text[outline.starts[number] : outline.ends[number]]
        return json.loads(text, parse_int=finite_int, parse_float=finite_decimal)

    def _kept(self, number: int, gone: set[int]) -> Iterator[int]:
        for each in self.outline.children(number):
            if each not in gone and self.outline.key_span(each)[0] not in self.bad_keys:
                yield each


def errors_of_json(
    source: Source, first: InputError
) -> tuple[tuple[InputError, ...], tuple[Source, Plain] | None]:
    """The errors after the first, in the order of the text, and what is left without them all.

    What is left is None if too little of it is known.
    """
    if len(source.text) > LONGEST:
        return (), None
    recovery = _Recovery(source)
    recovery.run()
    if not recovery.errors or str(recovery.errors[0]) != str(first):
        return (), None  # the first is not one of the scan
    left = recovery.left()
    return tuple(recovery.errors[1:]), None if left is None else (left, recovery.plain())
