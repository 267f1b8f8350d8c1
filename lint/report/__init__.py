"""Report formats, one module each, same signature."""
