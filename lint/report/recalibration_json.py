"""A recalibration for programs: JSON as published in schemas/."""

from __future__ import annotations

from typing import Any

from ..numbers.exact import Number
from ..numbers.formats import exact_json, say_to_enter
from ..numbers.units import in_unit
from ..swap.recalibrating import Recalibrated
from ..swap.recalibration_situation import RecalibrationCheck
from .recalibration_check_words import check_words
from .recalibration_words import (
    DEMANDS,
    answer_words,
    caution_words,
    comparison_words,
    instruction_words,
    plausibility_words,
    step_words,
)
from .rendering import CAUTION, RenderOptions
from .spare_json import header, json_text


def render(result: Recalibrated, options: RenderOptions) -> str:
    """Return a recalibration as JSON text that ends in a newline."""
    done = result.result

    def number(value: Number | None) -> dict[str, Any] | None:
        if value is None:
            return None
        return {"text": result.say(value), "exact": dict(result.data(value))}

    return json_text(
        {
            **header(),
            "machine": result.machine,
            "axis": result.axis,
            "files": list(result.files),
            "unit": result.unit,
            "after": result.after or None,
            "verdict": "solve first" if result.to_solve else "clear",
            "answer": answer_words(result),
            "true": number(done.true),
            "indicated": number(done.indicated),
            "shift": number(done.shift),
            "reference": number(done.reference),
            "reference_by": done.way,
            "new_reference": number(done.new),
            "instruction": instruction_words(result),
            "demands": [{"demand": each, "words": DEMANDS[each]} for each in result.demands],
            "cautions": caution_words(result),
            "steps": step_words(result),
            "accuracy": number(result.accuracy),
            "points": [number(place) for place in result.points or ()],
            "index_angle": _angle(result),
            "interval": None if done.interval is None else [number(end) for end in done.interval],
            "tolerance": number(done.tolerance),
            "tolerance_from": result.tolerance_from,
            "checks": [_check(result, each) for each in result.checks],
            "comparisons": [
                {
                    "step": each.step.kind,
                    "name": each.step.name,
                    "size": number(each.step.size),
                    "finding": each.finding,
                    "multiple": each.multiple,
                    "distance": number(each.distance),
                    "spacing": number(each.spacing),
                    "words": comparison_words(result, each),
                }
                for each in done.comparisons
            ],
            "suspicious": bool(done.suspicions),
            "plausibility": plausibility_words(result),
            "missing": list(result.missing),
            "caution": CAUTION,
        }
    )


def _check(result: Recalibrated, check: RecalibrationCheck) -> dict[str, Any]:
    figures = {
        name: {"text": result.say(value), "exact": dict(result.data(value))}
        for name, value in check.figures.items()
    }
    angles = {f"{name}_angle": _turns(value) for name, value in check.angles.items()}
    return {
        "check": check.name,
        "outcome": check.outcome,
        "words": check_words(result, check),
        "missing": list(check.missing),
        "figures": {**figures, **angles},
    }


def _angle(result: Recalibrated) -> dict[str, Any] | None:
    if result.angle is None:
        return None
    return {
        "before": _turns(result.angle.before),
        "computed": _turns(result.angle.computed),
        "computed_from": "drawing" if result.angle.by_drawing else "record",
        "measured": _turns(result.angle.measured),
    }


def _turns(value: Number | None) -> dict[str, Any] | None:
    if value is None:
        return None
    turns = in_unit(value, "rev")
    exact = exact_json(turns, "rev")
    exact.pop("text", None)
    return {"text": say_to_enter(turns, "rev"), "exact": exact}
