"""From an archive to shares for independent checks, and from their records to one report.

Each check takes every N-th file and writes its results to a record file. The record files of all N
shares join into the report that one check of the whole archive makes, because the same code joins
the same records. All N must have the same archive, rules, settings, day and program.
"""

from __future__ import annotations

import datetime
import json
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import chain
from pathlib import Path
from typing import Any, Final, TypeVar

from ..base.errors import InputError, Place, UsageError
from ..base.lazy import dataclass
from ..base.set_aside import TextAside
from ..checking.assembling import taken_elsewhere
from ..checking.record import CheckRequest, Record
from ..findings.finding import LevelChange, SiteRules
from ..findings.site_file_use import SiteFileUse
from ..findings.unusable import Unusable
from ..importing.entry import Candidate
from ..source.reader import DISK, Reader, digest_of, digest_of_pieces, digest_on_disk
from .codec import DecodeError, decoder, encoder
from .run_conditions import conditions

FORM: Final = 5
"""Version of the file's form; raise it if the form changes and axisproof's code does not."""

KEY: Final = "axisproof_record"

MAX_RECORD: Final = 1 << 30
"""Largest record file in bytes. A file of the archive takes about 30 kB with all details."""

MAX_SHARDS: Final = 10_000
"""Greatest number of shards."""

_Item = TypeVar("_Item")


@dataclass(frozen=True, slots=True)
class LeftOutFiles:
    """Files of folders that are not checked, and what the site file of the check does."""

    skipped: tuple[str, ...] = ()
    ignored: tuple[str, ...] = ()
    site_file: SiteFileUse | None = None


@dataclass(frozen=True, slots=True)
class Shard:
    """One of ``of`` shares of the files, by its number from 1."""

    number: int
    of: int

    def share(self, items: Sequence[_Item]) -> Sequence[_Item]:
        """Every ``of``-th item; the shares of all numbers hold each item once."""
        return items[self.number - 1 :: self.of]


ONLY_SHARD: Final = Shard(1, 1)


def parse_shard(text: str) -> Shard:
    """Read ``K/N``. Raises UsageError for any other text, and for a K greater than N."""
    found = re.fullmatch("([0-9]{1,5})/([0-9]{1,5})", text)
    number, of = map(int, found.groups()) if found else (0, 0)
    if not 1 <= number <= of <= MAX_SHARDS:
        raise UsageError(
            f"{text} is no share of the files",
            expected=f"K/N with K from 1 to N and N up to {MAX_SHARDS}, such as 2/5",
        )
    return Shard(number, of)


def taken_by_others(
    candidates: Sequence[Candidate], own: Sequence[Candidate], reader: Reader = DISK
) -> set[Path]:
    """The files that machines of other shards include: this shard does not check them as machines.

    The checks of the other shards report faults of those machines.
    """
    own_paths = {each.path for each in own}
    others = (each for each in candidates if each.path not in own_paths)
    return taken_elsewhere(others, reader)[0]


def record_pieces(
    records: Iterable[Record],
    candidates: Sequence[Candidate],
    left_out: LeftOutFiles,
    unusable: Sequence[Unusable],
    shard: Shard,
    request: CheckRequest,
    concerns: Mapping[str, str],
) -> Iterator[str]:
    """The records of a check for ``read_records``: JSON in a form that only axisproof reads.

    The records are in the order of their files. The text comes in pieces, each made when it is
    asked for, once all of it could be made.
    """
    encode_unusable = encoder(Unusable)
    broken = {each.file: each for each in unusable}
    before = {
        "conditions": conditions(request),
        "archive": _archive_digest(candidates, left_out),
        "left_out": encoder(LeftOutFiles)(left_out),
        "shard": [shard.number, shard.of],
        "rules": request.rules.count("axis", "machine"),
        "level_changes": [
            encoder(LevelChange)(each) for each in request.rules.level_changes("axis", "machine")
        ],
        "site_rules": encoder(SiteRules)(request.rules.site_rules("axis", "machine")),
        "concerns": dict(concerns),
    }
    after = {
        "unusable": [
            {"number": number, "unusable": encode_unusable(broken[name])}
            for number, each in enumerate(candidates)
            if (name := each.path.as_posix()) in broken
        ],
    }

    def rest() -> Iterator[str]:
        yield _compact(before)[1:-1] + ',"files":['
        comma = ""
        for each in _numbered(records, candidates):
            yield comma + _compact(each)
            comma = ","
        yield "]," + _compact(after)[1:] + "\n"

    return sealed_pieces(rest())


def _compact(content: Any) -> str:
    return json.dumps(content, allow_nan=False, separators=(",", ":"))


def _numbered(
    records: Iterable[Record], candidates: Sequence[Candidate]
) -> Iterator[dict[str, Any]]:
    """Each record with the number of its file in the archive."""
    encode = encoder(Record)
    numbers = iter(enumerate(candidates))
    for record in records:
        number = next(n for n, each in numbers if each.path.as_posix() == record.file)
        yield {"number": number, "record": encode(record)}


def sealed(content: Mapping[str, Any], form: int = FORM) -> str:
    """The text of a record file: see ``sealed_pieces``."""
    return "".join(sealed_pieces([_compact(content)[1:] + "\n"], form))


def sealed_pieces(rest: Iterable[str], form: int = FORM) -> Iterator[str]:
    """The text of a record file: JSON that begins with a digest of all that follows.

    The digest finds accidents: cut files, other bytes, another encoding. It is no signature.
    """
    whole = TextAside(rest)
    yield _start(form, digest_of_pieces(piece.encode() for piece in whole))
    yield from whole


def _start(form: int, digest: str) -> str:
    return f'{{"{KEY}":{form},"digest":"{digest}",'


def _archive_digest(candidates: Sequence[Candidate], left_out: LeftOutFiles) -> str:
    """A digest of all files of the archive; it distinguishes records of two archives.

    Of files that are not checked, only the names count.
    """
    lines = chain(
        (
            f"{digest_on_disk(each.path)} {int(each.given)} {each.path.as_posix()}"
            for each in candidates
        ),
        (f"skipped {name}" for name in left_out.skipped),
        (f"ignored {name}" for name in left_out.ignored),
    )
    use = left_out.site_file
    if use:
        excluded = (f"excluded {name}" for name in use.excluded)
        lines = chain(lines, excluded, [f"site file {use.file} {use.fail_at}"])
    first = next(lines, "")
    text = chain([first], (f"\n{line}" for line in lines))
    return digest_of_pieces(piece.encode("utf-8", "surrogatepass") for piece in text)


@dataclass(frozen=True, slots=True)
class MergedRecords:
    """The records of a whole archive, in the order of its files, and the checks' conditions."""

    records: tuple[Record, ...]
    conditions: dict[str, Any]
    rules: int
    level_changes: tuple[LevelChange, ...]
    site_rules: SiteRules
    concerns: dict[str, str]
    left_out: LeftOutFiles
    unusable: tuple[Unusable, ...]

    @property
    def day(self) -> datetime.date:
        """The day of the check."""
        return datetime.date.fromisoformat(self.conditions["day"])


@dataclass(frozen=True, slots=True)
class _ShardRecords:
    """The content of one record file."""

    name: str
    shard: Shard
    archive: str
    conditions: dict[str, Any]
    rules: int
    level_changes: tuple[LevelChange, ...]
    site_rules: SiteRules
    concerns: dict[str, str]
    left_out: LeftOutFiles
    records: dict[int, Record]
    unusable: dict[int, Unusable]


def read_records(paths: Sequence[Path], code: Mapping[str, Any]) -> MergedRecords:
    """Join the records of the checks of all shards; ``code`` identifies this program.

    Raises InputError for a file without records, and UsageError for files that do not belong
    together and for a missing shard.
    """
    parts = [_read_record_file(path, code) for path in paths]
    first = parts[0]
    for part in parts[1:]:
        _require_same_check(first, part)
    by_number: dict[int, _ShardRecords] = {}
    for part in parts:
        before = by_number.setdefault(part.shard.number, part)
        if before is not part:
            raise UsageError(
                f"{before.name} and {part.name} are both of shard {_shard_text(part.shard)}",
                expected="each shard once",
                place=_place(part.name),
            )
    missing = [number for number in range(1, first.shard.of + 1) if number not in by_number]
    if missing:
        shown = ", ".join(str(number) for number in missing[:10])
        more = ", …" if len(missing) > 10 else ""
        raise UsageError(
            f"of {first.shard.of} shards these are missing: {shown}{more}",
            expected="the records of all of them",
        )
    records = {number: each for part in parts for number, each in part.records.items()}
    broken = {number: each for part in parts for number, each in part.unusable.items()}
    if not records and not broken:
        raise UsageError("the records hold no machine", expected="records of at least one")
    ordered = tuple(records[number] for number in sorted(records))
    return MergedRecords(
        ordered,
        first.conditions,
        first.rules,
        first.level_changes,
        first.site_rules,
        first.concerns,
        first.left_out,
        tuple(broken[number] for number in sorted(broken)),
    )


def _shard_text(shard: Shard) -> str:
    return f"{shard.number}/{shard.of}"


_WORDS: Final = {
    "rules": "other rules",
    "settings": "other settings of the site",
    "shelf": "another shelf",
    "day": "another day",
    "workings": "another choice of --workings",
    "every_outcome": "another choice of --every-outcome",
    "pictures": "another choice of --pictures",
}


def _require_same_check(one: _ShardRecords, two: _ShardRecords) -> None:
    """Raise UsageError if two record files are not of one check."""
    expected = "records of one archive, checked in the same way"
    place = _place(two.name)
    for key, words in _WORDS.items():
        if one.conditions[key] != two.conditions[key]:
            what = f"{two.name} was made with {words} than {one.name}"
            raise UsageError(what, expected=expected, place=place)
    if one.shard.of != two.shard.of:
        what = f"{one.name} is of {one.shard.of} shards and {two.name} of {two.shard.of}"
        raise UsageError(what, expected=expected, place=place)
    if one.archive != two.archive:
        what = f"{two.name} is of other files than {one.name}, or of another state of them"
        raise UsageError(what, expected=expected, place=place)


_RECORD: Final = "a file that `axisproof check --record` wrote"


def _read_record_file(path: Path, code: Mapping[str, Any]) -> _ShardRecords:
    """The content of a record file. Raises InputError or UsageError, with the name of the file."""
    name = path.as_posix()
    data = _bytes_of(path, name)
    start = _place(name)
    try:
        plain = json.loads(data)
    except (ValueError, RecursionError) as fault:
        place = _place_of(fault, data, name)
        raise InputError(f"{name} is no record", expected=_RECORD, place=place) from None
    if not isinstance(plain, dict) or KEY not in plain:
        raise InputError(f"{name} is no record", expected=_RECORD, place=start)
    is_whole = _is_as_written(data)
    made_by = plain.get("conditions")
    if not isinstance(made_by, dict) or any(made_by.get(key) != code[key] for key in code):
        version = made_by.get("version") if isinstance(made_by, dict) else None
        if plain[KEY] == FORM and not is_whole:
            raise InputError(f"{name} is damaged", expected=_RECORD, place=start)
        shown = version if isinstance(version, str) and version[:40].isprintable() else "unknown"
        raise UsageError(
            f"{name} was written by another axisproof (version {shown[:40]}) than this one "
            f"(version {code['version']})",
            expected="the same code for all checks and to join them",
            place=start,
        )
    try:
        if not is_whole:
            raise DecodeError("other bytes than were written")
        return _shard_records(name, plain)
    except _WRONG_FORM:
        raise InputError(f"{name} is damaged", expected=_RECORD, place=start) from None


def _place(name: str, line: int = 1, column: int = 1) -> Place:
    """A character of a record file; the first one for a fault of the whole file."""
    return Place(name, line, column, line, column + 1)


def _place_of(fault: Exception, data: bytes, name: str) -> Place:
    """Where the text of a file is JSON no longer: a cut file ends there."""
    if isinstance(fault, json.JSONDecodeError):
        return _place(name, fault.lineno, fault.colno)
    if isinstance(fault, UnicodeDecodeError) and fault.encoding == "utf-8":
        before = data[: fault.start].decode()
        return _place(name, before.count("\n") + 1, len(before) - before.rfind("\n"))
    return _place(name)


_WRONG_FORM: Final = (
    *(DecodeError, UsageError, LookupError, TypeError, ValueError, AttributeError),
    *(ArithmeticError, RecursionError),
)
"""What the reading of values of a wrong form raises."""


def _bytes_of(path: Path, name: str) -> bytes:
    """The content of a record file within its bound. Raises InputError."""
    try:
        if path.exists() and not path.is_file():
            raise InputError(f"{name} is not a file", expected=_RECORD)
        with path.open("rb") as stream:
            data = stream.read(min(path.stat().st_size, MAX_RECORD) + 1)
    except OSError as fault:
        reason = (fault.strerror or type(fault).__name__).lower()
        raise InputError(f"{name} cannot be read: {reason}", expected=_RECORD) from None
    except ValueError:  # a NUL in the name
        raise InputError(f"{name} cannot be read: no such file", expected=_RECORD) from None
    if len(data) > MAX_RECORD:
        what = f"{name} is larger than {MAX_RECORD >> 20} MiB"
        raise InputError(what, expected="the records of more and smaller shards")
    return data


def _is_as_written(data: bytes) -> bool:
    """Whether a record file begins with the digest of its rest."""
    length = len(_start(FORM, digest_of(b"")))
    return data.startswith(_start(FORM, digest_of(memoryview(data)[length:])).encode())


_KINDS: Final = {
    **dict.fromkeys(("shard", "level_changes", "files", "unusable"), list),
    "concerns": dict,
}

_checked_text: Callable[[Any], Any] = decoder(str)
_checked_number: Callable[[Any], Any] = decoder(int)
_checked_flag: Callable[[Any], Any] = decoder(bool)


def _shard_records(name: str, plain: dict[str, Any]) -> _ShardRecords:
    """The content of a record file. Raises DecodeError and others if its form is wrong."""
    for key, kind in _KINDS.items():
        if type(plain[key]) is not kind:
            raise DecodeError(key)
    decode = decoder(Record)
    number, of = (_checked_number(each) for each in plain["shard"])
    shard = parse_shard(f"{number}/{of}")
    conditions_ = dict(plain["conditions"])
    for key in ("rules", "settings", "shelf", "day"):
        _checked_text(conditions_[key])
    for key in ("workings", "every_outcome", "pictures"):
        _checked_flag(conditions_[key])
    datetime.date.fromisoformat(conditions_["day"])
    records = {_checked_number(each["number"]): decode(each["record"]) for each in plain["files"]}
    broken = {
        _checked_number(each["number"]): decoder(Unusable)(each["unusable"])
        for each in plain["unusable"]
    }
    told = {*records, *broken}
    wrong = [each for each in told if each < 0 or each % of != number - 1]
    if wrong or len(told) != len(plain["files"]) + len(plain["unusable"]):
        raise DecodeError("numbers of files")
    if not all(record.judged and record.sources for record in records.values()):
        raise DecodeError("a file without a machine")
    concerns = {
        _checked_text(rule): _checked_text(words) for rule, words in plain["concerns"].items()
    }
    archive, rules = _checked_text(plain["archive"]), _checked_number(plain["rules"])
    levels = tuple(decoder(LevelChange)(each) for each in plain["level_changes"])
    own = decoder(SiteRules)(plain["site_rules"])
    left_out = decoder(LeftOutFiles)(plain["left_out"])
    return _ShardRecords(
        name, shard, archive, conditions_, rules, levels, own, concerns, left_out, records, broken
    )
