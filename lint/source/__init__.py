"""Bytes to plain values, with places on demand."""
