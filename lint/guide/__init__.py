"""The pages of the guide, which `axisproof guide` lists and prints."""
