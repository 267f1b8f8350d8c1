"""Turns machine files and rules into a report, with waivers, accepted findings and corrections.

It may import engine, catalogue, language, importing, findings, machine, source, numbers and base.
"""
