"""A match as a mapping file: sure proposals as entries, doubtful ones and the rest as comments."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final

from ..machine.value_reader import as_written
from ..report.layout import visible
from ..source.limits import shortened
from .list_rows import ListRow, ListShape
from .matching import Match, RowProposal
from .yaml_writing import scalar

_WIDTH: Final = 100
_MOST_NAMED: Final = 1000
MOST_CONFIDENT: Final = 98
"""A guess is never certain."""

_PLAIN_KEY: Final = re.compile(r"[A-Za-z][A-Za-z0-9_./-]*")


def mapping_text(match: Match, name: str) -> str:
    """The mapping file for the list ``name``."""
    active = [each for each in match.proposals if each.active]
    doubtful = [each for each in match.proposals if not each.active]
    lines = [
        f"# A mapping for {visible(name)}, proposed by `axisproof match`.",
        "#",
        "# The entries are proposals from names, units and values. Read each before you import.",
        "# The doubtful ones are comments: correct an entry, then take the # away, or delete it.",
        "",
        *_head(match.shape),
        "",
        "parameters:",
    ]
    for proposal in active:
        lines += _entry(proposal, "")
    if doubtful:
        lines += ["", "  # Doubtful:"]
        for proposal in doubtful:
            lines += _entry(proposal, "#")
    lines += _rest(match.unmapped)
    return "\n".join(lines) + "\n"


def _head(shape: ListShape) -> Iterator[str]:
    yield "mapping: 1"
    yield f"form: {shape.form}"
    if shape.encoding and shape.encoding != "utf-8":
        yield f"encoding: {shape.encoding}"
    if shape.comma:
        yield "decimal: comma"
    if shape.unit_in_value:
        yield "unit_in_value: true"
    if shape.form == "csv":
        if shape.delimiter != "comma":
            yield f"delimiter: {shape.delimiter}"
        if shape.header_row != 1:
            yield f"header_row: {shape.header_row}"
    if shape.records:
        yield f"records: {_text(shape.records)}"
    if shape.layout:
        yield f"layout: {shape.layout}"
    if shape.subject:
        yield f"subject: {shape.subject}"
    if shape.columns:
        columns = ", ".join(f"{each}: {_text(column)}" for each, column in shape.columns.items())
        yield f"columns: {{{columns}}}"


def _text(text: str) -> str:
    return text if _PLAIN_KEY.fullmatch(text) else scalar_text(text)


def scalar_text(text: str) -> str:
    """A text as YAML that reads back as a text, whatever it looks like."""
    written = scalar(text)
    return written if written.startswith('"') else f'"{written}"'


def _entry(proposal: RowProposal, mark: str) -> Iterator[str]:
    best = proposal.evidence[0]
    yield f"  # {told(proposal)}"
    if proposal.why:
        yield f"  # {visible(proposal.why)}"
    inner = ", ".join(f"{key}: {_value(value)}" for key, value in best.entry.items())
    yield f"  {mark}{scalar_text(proposal.row.name)}: {{{inner}}}"


def told(proposal: RowProposal) -> str:
    """What a row says, and what the values and the name tell."""
    best = proposal.evidence[0]
    parts = [f"line {proposal.row.line}: {sample(proposal.row)}"]
    parts += [best.plausible] if best.plausible else []
    parts.append(f"confidence {confidence(proposal)}")
    if proposal.row.texts and proposal.row.name not in proposal.row.texts:
        parts.insert(0, " / ".join(proposal.row.texts))
    return visible(", ".join(parts))


def confidence(proposal: RowProposal) -> str:
    """How well the row fits its fact, in per cent, shared with facts that fit as well."""
    score = proposal.evidence[0].score / len(proposal.evidence)
    return f"{min(round(score * 100), MOST_CONFIDENT)} %"


def plausibility(proposal: RowProposal) -> str:
    """What the values tell, in two words; a doubt tells the rest."""
    return proposal.evidence[0].plausible.partition(":")[0] or "not checked"


def sample(row: ListRow) -> str:
    """The first value of a row as the list writes it, with its unit."""
    if not row.filled:
        return "no value"
    text, unit = row.filled[0]
    return f"{shortened(text, 40)} {unit}".strip()


def label(row: ListRow) -> str:
    """What people call a row: its name, and what the list says beside it."""
    if not row.texts or row.name in row.texts:
        return row.name
    return f"{row.name} {' / '.join(row.texts)}"


def _value(value: Any) -> str:
    if isinstance(value, Mapping):
        inner = ", ".join(f"{scalar_text(str(key))}: {_value(each)}" for key, each in value.items())
        return f"{{{inner}}}"
    return as_written(value) if not isinstance(value, str) else _scalar(value)


def _scalar(value: str) -> str:
    return value if _PLAIN_KEY.fullmatch(value) else scalar_text(value)


def _rest(rows: list[ListRow]) -> Iterable[str]:
    if not rows:
        return
    yield ""
    yield f"# Not mapped ({len(rows)}):"
    for row in rows[:_MOST_NAMED]:
        yield f"#   {visible(label(row))}: {visible(sample(row))}"
    if len(rows) > _MOST_NAMED:
        yield f"#   and {len(rows) - _MOST_NAMED} more"
