"""Exact values as JSON numbers."""

from fractions import Fraction

TIME_DIGITS = 6


def number(value: Fraction, digits: int = TIME_DIGITS) -> int | float:
    """Whole numbers as such, others as the nearest decimal of so many digits."""
    return value.numerator if value.denominator == 1 else round(float(value), digits)
