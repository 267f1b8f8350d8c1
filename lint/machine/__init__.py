"""Turns the plain tree of a machine file into records of exact facts, checked against the schema.

It may import source, numbers and base.
"""
