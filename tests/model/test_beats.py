"""Which beats are clicked and counted, worked by hand."""

from fractions import Fraction

import pytest

from fifthpeg.model.beats import clicked_beats, counted_beats
from fifthpeg.sound.perform import perform
from tests.written import lick

LINE = "M1 I2 T3 M1 T4 I3 M1 T4"
WITH_PICKUP = f"pickup: 2\n---\nI2 M1 | {LINE}"
"""A beat's pick-up: bar 1 begins on quarter 1."""


def beats(of, source: str) -> list[tuple[Fraction, bool]]:
    made = lick(source)
    return [(beat.at, beat.first) for beat in of(made, perform(made, {}))]


def test_every_beat_is_clicked_and_beat_one_said():
    assert beats(clicked_beats, f"{LINE} | {LINE}") == [(at, at in (0, 4)) for at in range(8)]


def test_a_pick_up_is_clicked_as_the_end_of_a_bar():
    assert beats(clicked_beats, WITH_PICKUP) == [(at, at == 1) for at in range(5)]


def test_a_repeated_bar_is_clicked_again():
    assert beats(clicked_beats, "meter: 2/4\n---\n|: M1 I2 T3 M1 :|") == [(0, True), (1, False), (2, True), (3, False)]


def test_one_bar_is_counted_before_the_first():
    assert beats(counted_beats, LINE) == [(-4, True), (-3, False), (-2, False), (-1, False)]


def test_before_a_pick_up_a_bar_is_counted_and_the_beats_up_to_it():
    """One two three four, one two three: and the pick-up comes on four."""
    assert beats(counted_beats, WITH_PICKUP) == [
        (-7, True), (-6, False), (-5, False), (-4, False), (-3, True), (-2, False), (-1, False)]


@pytest.mark.parametrize(("meter", "line", "counted"), [
    ("3/4", "M1 I2 T3 M1 T4 I3", [-3, -2, -1]), ("6/8", "M1 I2 T3 M1 T4 I3", [-3, Fraction(-3, 2)]),
    ("2/2", LINE, [-4, -2])])
def test_the_count_is_in_the_meters_own_beat(meter, line, counted):
    assert [at for at, _ in beats(counted_beats, f"meter: {meter}\n---\n{line}")] == counted
