"""Fuzzing: whatever is read must be read, or refused with one clear error; never anything else.

``python -m tests.bench.fuzz NAME`` runs one target under atheris (extra ``fuzz``). ``targets.py``
says what is done with an input and what must hold, ``parcel.py`` how an input holds several files,
``mutate.py`` how inputs are changed so that they get past the parser, ``seeds.py`` what is begun
with. ``corpus/`` keeps small inputs that once found something; tests replay them without atheris.
"""
