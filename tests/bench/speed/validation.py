"""axisproof's reader against validators of JSON Schema, with the published schema."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from .scale import SpeedBench
from .table import MeasuredRow
from .timing import BenchError, in_turn, ratios, run_task


def validation_rows(bench: SpeedBench) -> Iterator[MeasuredRow]:
    """Rows: plain values of a clean machine in memory; axisproof also makes exact facts of them."""
    path = bench.json("clean")

    def seconds(task: str) -> float:
        found = run_task(task, path)
        if not found.output["valid"]:
            raise BenchError(f"{task} calls {path.name} invalid")
        return found.seconds

    tasks = ("read", "jsonschema", "jsonschema_rs")
    found = in_turn(bench.scale.repeats, {task: partial(seconds, task) for task in tasks})
    axes = f"{bench.scale.axes:,} axes, valid; ours also reads every value into an exact fact"
    yield MeasuredRow(
        "validation",
        "schema validation, jsonschema / our reader",
        ratios(found["jsonschema"], found["read"]),
        least=30,
        note=axes,
    )
    yield MeasuredRow(
        "validation",
        "schema validation, our reader / jsonschema-rs (Rust)",
        ratios(found["read"], found["jsonschema_rs"]),
        note=axes,
    )
