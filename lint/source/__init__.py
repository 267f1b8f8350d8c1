"""Turns files, unsaved texts and git revisions into plain values, with their places on demand.

It may import base and numbers.
"""
