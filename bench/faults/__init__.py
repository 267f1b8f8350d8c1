"""The fault bench: sound machines at random, one named fault put into each, and what is found.

The lists of faults (one file per concern: gearing, turns, homing, limits, motion, interlocking,
bookkeeping, unseen) were written from the trade and before any rule was read; which rules are to
find them was noted afterwards, in verdicts.py.
"""
