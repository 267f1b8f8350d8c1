"""Measurements of axisproof that are no tests: what it finds, and what it lets pass."""
