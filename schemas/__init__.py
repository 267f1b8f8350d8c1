"""The published JSON Schemas, read with importlib.resources."""
