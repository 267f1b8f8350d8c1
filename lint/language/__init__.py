"""Turns rule text into checked rules, and these into code for verdicts, traces and texts.

It may import findings, machine, source, numbers and base.
"""

LANGUAGE_VERSION = 2
"""The version of the rule language, which a rule file states in its first line."""
