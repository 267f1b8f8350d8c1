"""The rule language: grammar, checker, compiler and tracing evaluator."""

LANGUAGE_VERSION = 1
"""The version of the rule language, which a rule file states in its first line."""
