"""The fault bench puts one named fault into each of many sound random machines and runs the rules.

    python -m tests.bench.faults [--axes N] [--per-kind N] [--kinds KIND ...] [--markdown]
    python -m tests.bench.faults --part spares [--per-kind N] [--kinds WORDS] [--seed N]

The lists of faults (one file for each concern: gearing, turns, homing, limits, motion,
interlocking, bookkeeping, unseen) come from knowledge of the trade. Their author had not read the
rules, but knew the definitions in chain.rules and the names of rules and settings. Afterwards, each
kind that the first runs missed got a judgement: about thirty kinds were narrowed to harmful cases,
two moved to the kinds that nobody can find, three were split off as such, and 14 kinds got new or
wider rules. The rules that must find a kind were noted last, in verdicts.py. So full recall is the
result of these judgements and not of one blind run; git shows the first list. An audit of the rules
found more kinds that no rule found. They are in audited.py and got rules of their own.

The part for spares (swap_*.py) puts a random spare into a sound axis and asks `axisproof spare`. A
simulated axis decides what is true: it moves, is switched off and on, and is looked at. When its
author wrote it, they had read the schema and the verdicts in fixtures/spares, and neither the rules
nor the code that judges spares. After the first run each disagreement got a judgement: the tool was
mended, or the simulation was (reserve of speed, brakes of level axes, pole pairs, lighter rotors,
wraps after uncoupling, encoders whose capability nobody states, batteries that nobody needs, the
increment of another axis's gear). Its axes have brakes on the load and clamps, and one encoder. It
knows no second one and no index marks. Gearboxes of
another ratio are left out but for those too fast:
the duty on record is that of the old ratio. The dice are the hash of the last commit to rules/.
"""
