"""Turns failures into errors with a place, texts into files, class bodies into cheap dataclasses.

It may import nothing but Python's own library.
"""
