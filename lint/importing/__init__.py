"""Exports of drives, encoders and controllers to located values, each with its provenance."""
