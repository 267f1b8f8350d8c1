"""Turns two versions of machines into changed facts and the findings that the change brings.

It may import checking, engine and the rooms before them, down to base.
"""
