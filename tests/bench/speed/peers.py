"""What a user would write instead: JSON Schema with checks in Python, or with CEL; twenty rules.

Both must find what axisproof finds in machines of which every fact is stated. What they cannot tell
is shown by cases: a machine with one thing wrong, and what an answer to it must hold.
"""

from __future__ import annotations

import ast
import copy
import inspect
import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from types import ModuleType
from typing import Any

from axisproof.base.errors import AxisproofError
from axisproof.catalogue.catalogue import Catalogue, shipped, shipped_texts
from axisproof.engine.engine import Options, check_machine
from axisproof.machine.reader import read_machine
from axisproof.source.merge import load_tree

from tests.bench.faults.plain_axis import Plain

from . import by_cel, by_hand
from .by_cel import RULES
from .machines import write_json
from .scale import SpeedBench
from .table import MeasuredRow
from .timing import BenchError, TaskSample, in_turn, ratios, run_task

PEERS = {
    "by_hand": "JSON Schema (in Rust) and checks in Python",
    "by_cel": "JSON Schema (in Rust) and CEL (in Rust)",
}

PLANTED: Mapping[str, Mapping[str, Any]] = {
    "homing-order-names-axes": {"controller.homing.after": ["nobody"]},
    "commutation-taught-with-fitted-pair": {"motor.commutation.motor_serial": "M-other"},
    "brake-releases-before-motion": {"motor.brake.release_time": "9 s"},
    "polarity-of-position-and-velocity-agree": {"drive.velocity_polarity": "reversed"},
    "drive-knows-count-direction": {"drive.encoder_direction": "reversed"},
    "drive-gear-limits-in-order": {"drive.gear.min_ratio": 1000, "drive.gear.max_ratio": 1},
    "limit-switch-inputs-in-use": {"drive.limit_inputs.positive": "unwired"},
    "incremental-encoder-used-as-incremental": {"drive.encoder_use": "absolute"},
    "limit-switches-in-order": {"mechanics.limit_switches.negative": "900 rev"},
    "hard-stop-is-not-the-only-limit": {
        "mechanics.limit_switches": "none",
        "controller.software_limits": "none",
    },
    "following-error-window-within-free-distance": {"drive.following_error_window": "9 rev"},
    "position-gain-fits-cycle": {"controller.position_loop_gain": "9999 1/s"},
    "backlash-within-accuracy": {"mechanics.backlash": "9 rev"},
    "controller-unit-fits-motion": {"controller.units": "mm"},
    "hard-stops-in-order": {"mechanics.travel.min": "900 rev"},
    "software-limits-in-order": {"controller.software_limits.min": "900 rev"},
    "motor-data-in-order": {"motor.rated_speed": "99000 rpm"},
    "torque-limit-within-motor-peak": {"drive.torque_limit": "99999 N·m"},
    "homing-search-within-top-speed": {"controller.homing.search_speed": "900 rev/s"},
    "efficiency-is-a-share": {"mechanics.efficiency": "120 %"},
}
"""For each rule, facts of an axis that break it; angles, on a linear axis metres."""

Found = set[tuple[str, str]]
"""Axes and the rules that they break."""


def put(axis: Plain, path: str, value: Any) -> bool:
    """State a fact of an axis anew; False if its part is not described."""
    *above, last = path.split(".")
    here = axis
    for key in above:
        here = here.get(key)  # type: ignore[assignment]
        if not isinstance(here, dict):
            return False
    if axis["motion"] == "linear" and isinstance(value, str):
        value = value.replace(" rev", " m")
    here[last] = value
    return True


def planted(clean: Plain) -> Plain:
    """A machine with every rule broken on every fourth axis that has the parts for it."""
    machine = copy.deepcopy(clean)
    axes = [*machine["axes"].values()]
    for number, facts in enumerate(PLANTED.values()):
        for axis in axes[number % 4 :: 4]:
            before = copy.deepcopy(axis)
            if not all(put(axis, path, value) for path, value in facts.items()):
                axis.clear()
                axis.update(before)
    return machine


def twenty() -> Catalogue:
    """The catalogue with the rules that all can state in force, and no other."""
    whole = shipped()
    entries = tuple(entry for entry in whole.entries if entry.name in RULES)
    if {entry.name for entry in entries} != set(RULES) or len(RULES) != 20:
        raise BenchError("the rules that all can state are not the same twenty")
    return replace(whole, entries=entries)


@dataclass(frozen=True)
class PeerAnswer:
    """What is found, what is said to be not known, and all that is told, as one text.

    ``refused``: the file cannot be used, and the text says why.
    """

    found: Found
    undecided: Found
    text: str
    refused: bool = False


def ours(path: Path, catalogue: Catalogue) -> PeerAnswer:
    """What axisproof tells of a file by the twenty rules."""
    try:
        machine = read_machine(load_tree(path))
    except AxisproofError as error:
        return PeerAnswer(set(), set(), str(error), refused=True)
    results = check_machine(machine, "machine", catalogue, Options())
    told = [
        f"{finding.rule} {finding.subject}: {finding.headline} {finding.message} "
        + " ".join(f"line {mark.place.line} {mark.fact}" for mark in finding.marks)
        for finding in results.findings
    ]
    told += [f"{each.rule} {each.subject} lacks {each.missing}" for each in results.undecided]
    return PeerAnswer(
        {(each.subject, each.rule) for each in results.findings if each.rule in RULES},
        {(each.subject, each.rule) for each in results.undecided},
        "\n".join(told),
    )


def schema_validator() -> Any:
    """The validator in Rust, with the published schema."""
    import jsonschema_rs
    from axisproof.machine.schema import load_schema

    return jsonschema_rs.validator_for(load_schema())


def peer(name: str) -> Callable[[Path], PeerAnswer]:
    """A peer, ready to run: it validates a file and judges it."""
    validator = schema_validator()
    judge = by_hand.judge if name == "by_hand" else by_cel.compiled()

    def answer(path: Path) -> PeerAnswer:
        machine = json.loads(path.read_text("utf-8"))
        faults = [f"{each.instance_path} {each.message}" for each in validator.iter_errors(machine)]
        told = [] if faults else judge(machine)
        unknown = {(axis, rule) for axis, rule, text in told if text.startswith("not known")}
        return PeerAnswer(
            {(axis, rule) for axis, rule, _ in told} - unknown,
            unknown,
            "\n".join([*faults, *(" ".join(each) for each in told)]),
            refused=bool(faults),
        )

    return answer


def agree(name: str, path: Path) -> Found:
    """What a peer and axisproof find in a complete machine. Raises BenchError if they differ."""
    own, other = ours(path, twenty()), peer(name)(path)
    if own.refused or other.refused:
        raise BenchError(f"{path.name} cannot be used: {own.text[:300]} {other.text[:300]}")
    if own.found != other.found or own.undecided or other.undecided:
        apart = sorted(own.found ^ other.found)[:3] or sorted(own.undecided | other.undecided)[:3]
        raise BenchError(f"{name} and axisproof differ on {path.name}: {apart} {other.text[:300]}")
    return own.found


# --- what a peer cannot tell ----------------------------------------------------------------------


@dataclass(frozen=True)
class ToldCase:
    """A machine with one thing to tell: how its text is made, and whether an answer tells it."""

    name: str
    made: Callable[[Plain], str]
    told: Callable[[PeerAnswer, str], bool]


def first_axis(machine: Plain, suits: Callable[[Plain], bool]) -> Plain:
    """The first axis that suits. Raises BenchError if none does."""
    for axis in machine["axes"].values():
        if suits(axis):
            return axis  # type: ignore[no-any-return]
    raise BenchError("no axis of the machine suits the case")


def _stated(machine: Plain, facts: Mapping[str, Any], suits: Callable[[Plain], bool]) -> str:
    changed = copy.deepcopy(machine)
    axis = first_axis(changed, suits)
    for path, value in facts.items():
        put(axis, path, value)
    return json.dumps(changed, ensure_ascii=False, indent=1)


def _braked(axis: Plain) -> bool:
    return isinstance(axis["motor"]["brake"], dict)


def _linear(axis: Plain) -> bool:
    return bool(axis["motion"] == "linear" and axis["encoder"]["mounted_on"] == "motor")


def _without_a_fact(machine: Plain) -> str:
    changed = copy.deepcopy(machine)
    del first_axis(changed, _braked)["drive"]["brake_release_delay"]
    return json.dumps(changed, ensure_ascii=False, indent=1)


def _typed_twice(machine: Plain) -> str:
    text = json.dumps(machine, ensure_ascii=False, indent=1)
    return text.replace('"backlash":', '"backlash": "9 m",\n"backlash":', 1)


SLOW: Mapping[str, Any] = {"motor.brake.release_time": "9 s"}
EQUAL: Mapping[str, Any] = {"mechanics.backlash": "0.1 mm", "mechanics.required_accuracy": "100 um"}

SLOW_TEXT = '"9 s"'


def _line_of(text: str, part: str) -> int:
    return text[: text.index(part)].count("\n") + 1


CASES = (
    ToldCase(
        "that a check lacks a fact, and which fact",
        _without_a_fact,
        lambda answer, text: "brake_release_delay" in answer.text,
    ),
    ToldCase(
        "that a value is in a unit of another kind (an angle as the backlash of a slide)",
        lambda machine: _stated(machine, {"mechanics.backlash": "0.0001 deg"}, _linear),
        lambda answer, text: "backlash" in answer.text,
    ),
    ToldCase(
        "that two equal values in two units are equal (0.1 mm and 100 um)",
        lambda machine: _stated(machine, EQUAL, _linear),
        lambda answer, text: not answer.found and "backlash" not in answer.text,
    ),
    ToldCase(
        "that a fact is written twice with two values",
        _typed_twice,
        lambda answer, text: "backlash" in answer.text,
    ),
    ToldCase(
        "the line on which the wrong value stands",
        lambda machine: _stated(machine, SLOW, _braked),
        lambda answer, text: f"line {_line_of(text, SLOW_TEXT)} " in answer.text,
    ),
    ToldCase(
        "the numbers that disagree",
        lambda machine: _stated(machine, SLOW, _braked),
        lambda answer, text: "9 s" in answer.text and " ms" in answer.text,
    ),
)


def cannot_tell(name: str, clean: Plain, folder: Path) -> list[str]:
    """The cases that a peer does not tell. Raises BenchError if axisproof does not tell one."""
    answering = peer(name)
    missed = []
    for number, case in enumerate(CASES):
        path, text = folder / f"case{number}.json", case.made(clean)
        path.write_text(text, "utf-8")
        if not case.told(ours(path, twenty()), text):
            raise BenchError(f"axisproof does not tell {case.name}")
        if not case.told(answering(path), text):
            missed.append(case.name)
    return missed


# --- lines ----------------------------------------------------------------------------------------


def code_lines(*modules: ModuleType | Callable[..., Any]) -> int:
    """Lines of code, without empty lines, comments and texts that document."""
    count = 0
    for module in modules:
        source = inspect.getsource(module)
        tree = ast.parse(source)
        texts = {
            line
            for node in ast.walk(tree)
            if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
            for line in range(node.lineno, (node.end_lineno or node.lineno) + 1)
        }
        count += sum(
            1
            for number, line in enumerate(source.splitlines(), 1)
            if number not in texts and line.strip() and not line.strip().startswith("#")
        )
    return count


CONDITIONS = ("rule", "each", "when", "let", "require")
"""The clauses of a rule that say what must hold; the others tell it, or test it."""

EXAMPLES = ("passes", "fails", "skips", "undecided")


def rule_lines(catalogue: Catalogue) -> tuple[int, int]:
    """Lines of the twenty rules: of what must hold alone, and with all texts; no examples."""
    texts = shipped_texts()
    bare = whole = 0
    for name in RULES:
        rule = catalogue.rules[name]
        clause = ""
        for line in texts[rule.file].splitlines()[rule.at.line - 1 : rule.end_line]:
            indent = len(line) - len(line.lstrip())
            clause = line.split()[0] if line.strip() and indent in (0, 2) else clause
            bare += clause in CONDITIONS and bool(line.strip())
            whole += clause not in EXAMPLES and bool(line.strip())
    return bare, whole


# --- rows -----------------------------------------------------------------------------------------


def peer_rows(bench: SpeedBench) -> Iterator[MeasuredRow]:
    """Rows: time, memory and lines of what a user would write instead; what that cannot tell."""
    clean = bench.of("clean")
    paths = [bench.json("clean"), write_json(planted(clean), bench.folder / "planted.json")]
    for name in PEERS:
        if agree(name, paths[0]):
            raise BenchError("the clean machine has findings")
        broken = {rule for _, rule in agree(name, paths[1])}
        if broken != set(RULES) and bench.scale.axes >= 400:
            raise BenchError(f"nothing breaks {sorted(set(RULES) - broken)}")

    names = ("ours", *PEERS)
    samples: dict[tuple[str, Path], list[TaskSample]] = {}

    def seconds(task: str, path: Path) -> float:
        sample = run_task(task, path)
        samples.setdefault((task, path), []).append(sample)
        return sample.seconds

    work = {f"{task} {path}": partial(seconds, task, path) for path in paths for task in names}
    in_turn(bench.scale.repeats, work)
    for name in PEERS:
        yield from _rows_of(name, bench, paths, samples)


def _rows_of(
    name: str,
    bench: SpeedBench,
    paths: Sequence[Path],
    samples: Mapping[tuple[str, Path], Sequence[TaskSample]],
) -> Iterator[MeasuredRow]:
    what = f"twenty rules, {PEERS[name]}"
    for path, words in zip(paths, ("nothing wrong", "much wrong"), strict=True):
        own, other = samples["ours", path], samples[name, path]
        findings = other[0].output["findings"]
        yield MeasuredRow(
            "peers",
            f"{what} / axisproof, time, {words}",
            ratios([each.seconds for each in other], [each.seconds for each in own]),
            note=f"{bench.scale.axes:,} axes as JSON, complete; {findings:,} findings, the same",
        )
    own, other = samples["ours", paths[0]], samples[name, paths[0]]
    yield MeasuredRow(
        "peers",
        f"{what} / axisproof, memory, nothing wrong",
        ratios(*([float(each.output["memory"]) for each in some] for some in (other, own))),
        note="the most that the process takes beyond what it takes with its rules ready",
    )
    lines = code_lines(by_hand) if name == "by_hand" else code_lines(by_cel, by_hand.number)
    bare, whole = rule_lines(shipped())
    yield MeasuredRow(
        "peers",
        f"{what} / rules without texts, lines to write",
        (lines / bare,),
        note=f"{lines} lines; {bare} of rules, {whole} with their texts",
    )
    missed = cannot_tell(name, bench.of("clean"), bench.folder)
    yield MeasuredRow(
        "peers",
        f"of {len(CASES)} cases that axisproof tells: not told by {PEERS[name]}",
        (float(len(missed)),),
        note="not told: " + "; ".join(missed),
    )


def task_of(name: str) -> Callable[[Path], Callable[[], dict[str, Any]]]:
    """The task of ``sample.py`` that runs one of them on a file, and tells what memory it took."""

    def task(path: Path) -> Callable[[], dict[str, Any]]:
        answering = ours_ready() if name == "ours" else peer(name)
        before = most_memory()

        def work() -> dict[str, Any]:
            answer = answering(path)
            return {"findings": len(answer.found), "memory": most_memory() - before}

        return work

    return task


def most_memory() -> int:
    """The most memory that this process has taken so far, in KiB. Raises BenchError off Linux.

    What ``getrusage`` says of a new process begins with the memory of the one that started it.
    """
    try:
        status = Path("/proc/self/status").read_text("ascii")
    except FileNotFoundError:
        raise BenchError("the memory of a process is measured on Linux alone") from None
    return int(status.partition("VmHWM:")[2].split()[0])


def ours_ready() -> Callable[[Path], PeerAnswer]:
    """axisproof with its rules loaded, as the peers have compiled theirs."""
    catalogue = twenty()
    return lambda path: ours(path, catalogue)
