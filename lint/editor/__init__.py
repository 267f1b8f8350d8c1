"""Turns the texts that an editor holds into diagnostics, completions, descriptions and fixes.

It may import every room but cli and api, and needs the optional extra ``editor`` of the package.
"""
