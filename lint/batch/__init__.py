"""Turns many files into the records of their checks: by several processes, a cache and shards.

It may import checking, engine and the rooms before them, down to base.
"""
