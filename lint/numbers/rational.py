"""Exact fractions: ``Fraction`` is that of the standard library, compiled.

quicktions is the standard library's class through Cython: its sums and products take an eighth of
the time, and half of what a check does is arithmetic. It has no types of its own.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from fractions import Fraction
else:
    from quicktions import Fraction

__all__ = ["Fraction"]
