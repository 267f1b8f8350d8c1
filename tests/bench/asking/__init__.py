"""The bench of questions: how many facts somebody types until three planted faults are met.

    python -m tests.bench.asking [--machines N] [--learning N] [--without-before]

Fifty random machines of the fault bench get three faults each, of kinds drawn alike. Somebody who
has all papers types what the tool asks for, one fact after the other. The same is counted for an
order that a greedy choice learned on 500 other machines with faults of the same kinds, and for the
order before: the fact that most checks want. A list costs one answer and what its items must state.
The learned order types only what the papers hold; the tool's "not in the papers" counts as a fact.
"""
