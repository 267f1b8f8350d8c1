"""Turns results into text, pages and documents; each form is a module with a ``render``.

It may import swap, checking, engine, findings and the rooms before them, down to base.
"""
