"""Turns a machine and a catalogue of rules into findings, undecided checks, numbers and sketches.

It may import catalogue, language, importing, findings, machine, source, numbers and base.
"""
