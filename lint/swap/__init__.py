"""Turns a machine and a spare part into a verdict, the settings to write, and a plan of the work.

It may import changes, checking, engine and the rooms before them, down to base.
"""
