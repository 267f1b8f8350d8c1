"""Turns exports of drives, encoders and controllers into the plain tree of a machine file.

Each value keeps its place in the export. It may import findings, machine, source, numbers and base.
"""
