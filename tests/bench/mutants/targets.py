"""The modules to mutate, and the tests that must notice, the quickest first."""

from __future__ import annotations

from typing import Final

_READING: Final = (
    "tests/machine/test_machine.py",
    "tests/machine/test_claims.py",
    "tests/machine/test_places_of_facts.py",
    "tests/machine/test_machine_against_jsonschema.py",
    "tests/machine/test_machine_bad_input.py",
    "tests/machine/test_bad_trees_and_includes.py",
    "tests/machine/test_unfilled_values.py",
)
_RULES: Final = (
    "tests/language/test_types.py",
    "tests/language/test_absence.py",
    "tests/language/test_shape_and_evaluation.py",
    "tests/language/test_refused_rules.py",
    "tests/language/test_workings.py",
    "tests/language/test_worked_functions.py",
    "tests/language/test_evaluators_agree.py",
)

TARGETS: Final[dict[str, tuple[str, ...]]] = {
    "lint/numbers/exact.py": (
        "tests/numbers/test_exact.py",
        "tests/language/test_worked_functions.py",
    ),
    "lint/numbers/units.py": (
        "tests/numbers/test_units.py",
        "tests/reference/test_units_against_pint.py",
    ),
    "lint/machine/value_reader.py": _READING,
    "lint/machine/fact_readers.py": _READING,
    "lint/machine/claims.py": (*_READING, "tests/checking/test_two_machines.py"),
    "lint/machine/reader.py": (*_READING, "tests/checking/test_two_machines.py"),
    "lint/engine/engine.py": (
        "tests/engine/test_tallies.py",
        "tests/engine/test_outcomes.py",
        "tests/engine/test_findings.py",
        "tests/language/test_workings.py",
        "tests/trust/test_step_bounds.py",
    ),
    "lint/checking/waivers.py": ("tests/checking/test_waivers.py",),
    "lint/checking/fixing.py": ("tests/checking/test_fixing.py", "tests/trust/test_full_disk.py"),
    "lint/source/yaml.py": ("tests/source",),
    "lint/source/yaml_places.py": ("tests/source",),
    "lint/source/yaml_scalars.py": ("tests/source",),
    "lint/language/compiler.py": _RULES,
    "lint/language/checker.py": _RULES,
    "lint/language/tracer.py": _RULES,
    "lint/language/library.py": (*_RULES, "tests/reference/test_torque_worked_examples.py"),
}
