"""A language server for machine files and rule files (an optional extra of the package)."""
