"""The fuzzers: axisproof must read every input or refuse it with one clear error.

    python -m tests.bench.fuzz NAME [--seconds N] [--finds FOLDER]

This runs one target under atheris (extra ``fuzz``). ``targets.py`` defines what a target does with
an input and what must hold, ``file_bundle.py`` how an input holds several files, ``mutate.py`` how
inputs change and still pass the parser, and ``seeds.py`` the first inputs. ``corpus/`` keeps small
inputs that found a fault; tests replay them without atheris.
"""
