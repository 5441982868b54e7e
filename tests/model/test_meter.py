"""Bars and beats against music21's time signatures."""

from fractions import Fraction

import pytest
from fifthpeg.model.lick import Lick
from fifthpeg.model.meter import Meter
from music21.meter import TimeSignature

METERS = ("4/4", "2/4", "2/2", "3/4", "6/8", "9/8", "12/8", "3/2", "5/4")


def read(text: str) -> Meter:
    return Meter(*map(int, text.split("/")))


@pytest.mark.parametrize("text", METERS)
def test_a_bar_lasts_as_long_as_music21_says(text):
    assert read(text).quarters == TimeSignature(text).barDuration.quarterLength


@pytest.mark.parametrize("text", METERS)
def test_the_beat_is_the_one_music21_counts(text):
    assert read(text).beat_quarters == TimeSignature(text).beatDuration.quarterLength


@pytest.mark.parametrize("text", METERS)
def test_a_meter_is_written_as_it_is_read(text):
    assert str(read(text)) == text


def test_slots_fill_the_bar():
    assert read("4/4").slots(8) == 8
    assert read("6/8").slots(16) == 12
    assert read("2/2").slots(4) == 4


def test_six_eight_at_sixty_dotted_quarters_is_ninety_quarters():
    assert Lick((), meter=Meter(6, 8), tempo=Fraction(60)).quarters_per_minute == 90


@pytest.mark.parametrize(("half_notes_a_minute", "eighth_ms"),
                         [(60, 250), (80, 187.5), (100, 150), (120, 125), (140, 107.1), (160, 93.8)])
def test_eighths_in_milliseconds_in_cut_time(half_notes_a_minute, eighth_ms):
    """Worked by hand: a half note holds four eighths, 60000 / (4 × tempo) ms each."""
    lick = Lick((), meter=Meter(2, 2), tempo=Fraction(half_notes_a_minute))
    assert 60_000 / float(lick.quarters_per_minute) / 2 == pytest.approx(eighth_ms, abs=0.06)
