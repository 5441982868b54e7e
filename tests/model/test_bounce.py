"""Where bounce puts the notes of a pair of eighths, worked by hand."""

from fractions import Fraction

import pytest
from fifthpeg.model.bounce import bounced
from hypothesis import given
from hypothesis import strategies as st

positions = st.fractions(min_value=-2, max_value=8, max_denominator=96)


@pytest.mark.parametrize("position", [Fraction(0), Fraction(1, 2), Fraction(5, 3), Fraction(-1, 2)])
def test_fifty_is_straight(position):
    assert bounced(position, 50) == position


@pytest.mark.parametrize(("written", "played"), [
    (Fraction(0), Fraction(0)),
    (Fraction(1, 2), Fraction(3, 5)),
    (Fraction(1), Fraction(1)),
    (Fraction(7, 2), Fraction(18, 5)),
    (Fraction(1, 4), Fraction(3, 10)),
    (Fraction(3, 4), Fraction(4, 5)),
    (Fraction(1, 6), Fraction(1, 5)),
    (Fraction(-1, 2), Fraction(-2, 5)),
])
def test_sixty_gives_the_first_eighth_three_fifths_and_stretches_what_lies_inside(written, played):
    assert bounced(written, 60) == played


@given(positions, positions, st.integers(50, 75))
def test_order_is_kept(one, other, bounce):
    assert (one < other) == (bounced(one, bounce) < bounced(other, bounce))


@given(st.integers(-4, 16), st.integers(50, 75))
def test_beats_stay_where_they_are(beat, bounce):
    assert bounced(Fraction(beat), bounce) == beat
