"""The fault bench: sound machines at random, one named fault put into each, and what is found.

The lists of faults (one file per concern: gearing, turns, homing, limits, motion, interlocking,
bookkeeping, unseen) were written from the trade, before the rules were read; known by then were the
definitions in chain.rules, and the names of rules and settings. What the first runs missed was then
judged one by one: about thirty kinds were narrowed to where they do harm, two were moved to those
that nobody can find, three were split off as such, and for 14 that no rule found, or not
everywhere, rules were written or widened. Which rules are to find a kind was noted last, in
verdicts.py. So full recall is the outcome of that judging, not of one blind run; git shows the list
as it was first. An audit of the rules found further kinds that no rule found; they stand apart in
audited.py, with the rules that were written because of them.
"""
