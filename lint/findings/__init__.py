"""Holds what every report shows: findings, undecided checks, changes and rules as frozen records.

It may import machine, source, numbers and base.
"""
