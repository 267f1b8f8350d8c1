"""Mutants of the core: small changes to its code, and whether a test fails for each.

    python -m tests.bench.mutants --seed 1 --per-module 12

This draws mutants at random for each module, makes them with cosmic-ray in a copy of the tree and
runs the tests of the module.
"""
