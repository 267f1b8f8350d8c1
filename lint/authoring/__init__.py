"""Turns known facts and the schema into machine files that people complete, as commented YAML.

It may import report, importing, machine and the other rooms before them, down to base.
"""
