"""Our reader against validators of JSON Schema, with the published schema and its references."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from .scale import Bench
from .table import Row
from .timing import BenchError, in_turn, ratios, sample


def validation(bench: Bench) -> Iterator[Row]:
    """Plain values of a clean machine in memory; ours also turns them into exact facts."""
    path = bench.json("clean")

    def seconds(task: str) -> float:
        found = sample(task, path)
        if not found.told["valid"]:
            raise BenchError(f"{task} calls {path.name} invalid")
        return found.seconds

    tasks = ("read", "jsonschema", "jsonschema_rs")
    found = in_turn(bench.scale.repeats, {task: partial(seconds, task) for task in tasks})
    axes = f"{bench.scale.axes:,} axes, valid; ours also reads every value into an exact fact"
    yield Row(
        "validation",
        "schema validation, jsonschema / our reader",
        ratios(found["jsonschema"], found["read"]),
        least=30,
        note=axes,
    )
    yield Row(
        "validation",
        "schema validation, our reader / jsonschema-rs (Rust)",
        ratios(found["read"], found["jsonschema_rs"]),
        note=axes,
    )
