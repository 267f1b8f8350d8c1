"""Turns rule files into the rules that apply, with settings, levels and a build of generated code.

It may import language, importing, findings, machine, source, numbers and base.
"""
