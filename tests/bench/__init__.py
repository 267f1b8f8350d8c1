"""Benches that measure axisproof. Each package says how to run it; test_*.py test the benches."""
