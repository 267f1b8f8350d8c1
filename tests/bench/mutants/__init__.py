"""Mutants of the core: small changes to its code, each of which some test is to notice.

``python -m tests.bench.mutants --seed 1 --per-module 12`` draws mutants at random, module by
module, makes them with cosmic-ray on a copy of the tree and runs the tests of the module.
"""
