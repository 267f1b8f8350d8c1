"""Turns a command line into calls of the API, and their results into text and an exit status.

It may import api and every room; no room imports it.
"""
