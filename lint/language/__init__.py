"""The rule language: grammar, checker, compiler and tracing evaluator."""
