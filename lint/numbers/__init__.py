"""Turns written numbers into exact values with a dimension and a unit, and values into words.

It may import base.
"""
