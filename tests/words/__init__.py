"""Rendered texts are held to the rules of writing: short sentences, one word for one thing."""
