"""The mutants of a module that can change its behaviour, and a sample of them."""

from __future__ import annotations

import ast
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any


def sample_mutants(path: Path, number: int, seed: int) -> tuple[list[Any], int]:
    """Up to ``number`` mutants (cosmic-ray's MutationSpec) of a module, and the number of all."""
    from cosmic_ray.commands.init import _all_work_items

    silent = silent_lines(path.read_text("utf-8"))
    every = [
        mutation
        for item in _all_work_items([path], {})
        for mutation in item.mutations
        if not any(start <= mutation.start_pos < end for start, end in silent)
    ]
    every.sort(key=lambda each: (each.start_pos, each.operator_name, each.occurrence))
    chosen = random.Random(f"{seed} {path.name}").sample(every, min(number, len(every)))
    return sorted(chosen, key=lambda each: each.start_pos), len(every)


Position = tuple[int, int]


def silent_lines(text: str) -> list[tuple[Position, Position]]:
    """Lines that never run: annotations, and the body of ``if TYPE_CHECKING``."""
    return list(_silent(ast.parse(text)))


def _silent(tree: ast.AST) -> Iterator[tuple[Position, Position]]:
    for node in ast.walk(tree):
        found: list[ast.expr | ast.stmt | None] = []
        if isinstance(node, ast.arg | ast.AnnAssign):
            found.append(node.annotation)
        elif isinstance(node, ast.FunctionDef):
            found.append(node.returns)
        elif isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test):
            found += node.body
        for each in found:
            if each is not None:
                assert each.end_lineno is not None
                assert each.end_col_offset is not None
                yield (each.lineno, each.col_offset), (each.end_lineno, each.end_col_offset)
