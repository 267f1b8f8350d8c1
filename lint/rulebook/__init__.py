"""Turns rules into their pages, and their examples into a report of what those do not tell.

It may import report, batch, swap, changes, checking, engine, catalogue, language, importing,
findings, machine, source, numbers and base.
"""
