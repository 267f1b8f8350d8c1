"""A part is swapped: does the spare fit, what is to be written, taught and done afterwards."""
