"""The shipped rules, one file per concern, read with importlib.resources."""
