"""Bounce: how a pair of eighths is shared between its first and its second."""

from fractions import Fraction

STRAIGHT = 50
"""Percent of a pair that the first eighth gets when there is no bounce."""
EIGHTH_QUARTERS = Fraction(1, 2)


def bounced(position: Fraction, bounce: int) -> Fraction:
    """Where a straight position lies when each pair of eighths is shared ``bounce`` : 100 − ``bounce``.

    ``position`` is in quarters from a barline, negative in a pick-up; what lies inside an
    eighth is stretched with it.
    """
    if bounce == STRAIGHT:
        return position
    pair, inside = divmod(position, 1)
    first = Fraction(bounce, 100)
    if inside < EIGHTH_QUARTERS:
        return pair + inside / EIGHTH_QUARTERS * first
    return pair + first + (inside - EIGHTH_QUARTERS) / EIGHTH_QUARTERS * (1 - first)
