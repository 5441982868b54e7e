"""Note values, ties, rests, tuplets and beams, worked by hand.

What fills a bar is arithmetic; which values are beamed together is common practice, no source, save
that eighths in 6/8 are beamed in threes.
"""

from fractions import Fraction

import pytest
from fifthpeg.engraving.plan import BarPlan, plan_bars
from fifthpeg.model.note import written_notes
from tests.written import lick

NAMES = ("1", "1/2", "1/4", "1/8", "1/16", "1/32", "1/64")


def planned(text: str) -> tuple[BarPlan, ...]:
    read = lick(text)
    return plan_bars(read, written_notes(read)).bars


def values(bar: BarPlan) -> str:
    """``1/8 1/4.`` with ``~`` before a tied value and ``r`` before a rest."""
    return " ".join(("r" if piece.silent else "~" if piece.tied else "") + NAMES[piece.value.halvings]
                    + ("." if piece.value.dotted else "") for piece in bar.pieces)


def beams(bar: BarPlan, level: int = 1) -> list[tuple[int, int]]:
    """First and last piece of every beam of a level, pieces counted from 1."""
    return [(beam.first + 1, beam.last + 1) for beam in bar.beaming.beams if beam.level == level]


@pytest.mark.parametrize("text, expected", [
    ("T3 I2 M1 T5 I2 M1 T3 M1", "1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8"),
    ("T3 - T5+M1 - T4 - T5+M1 -", "1/4 1/4 1/4 1/4"),
    ("T3 - - - T5+M1 - - -", "1/2 1/2"),
    ("T3 - - - - - - -", "1"),
    ("T3 - - I2 T3 - - -", "1/4. 1/8 1/2"),
    ("T3 - - - - - I2 -", "1/2. 1/4"),
    ("T3:2s5 I2 M1 T5 - - - -", "1/16 1/16 1/8 1/8 1/8 ~1/2"),
    ("3:0h2p0 I2 M1 T5 I2 M1 T3 M1", "1/16 1/16 1/16 1/8 1/8 1/8 1/8 1/8 1/8 1/8"),
    ("T3 . I2 . M1 - . .", "1/8 r1/8 1/8 r1/8 1/4 r1/4"),
    ("T3 - h2 - I2 - - -", "1/4 1/4 1/2"),
    ("(1 2 3)/2 T5 - - - - -", "1/8 1/8 1/8 1/2."),
    ("T3 - - - - I2 - -", "1/2 ~1/8 1/4."),
    (". . . . . . . .", "r1"),
])
def test_values_of_a_bar_in_four_four(text, expected):
    assert values(planned(text)[0]) == expected


@pytest.mark.parametrize("header, text, expected", [
    ("meter: 6/8", "T3 - - I2 - -", "1/4. 1/4."),
    ("meter: 6/8", "T3 - - - - -", "1/2."),
    ("meter: 3/4", "T3 - - - - -", "1/2."),
    ("meter: 2/4\ngrid: 16", "T3 - - I2 M1 - T5 -", "1/8. 1/16 1/8 1/8"),
    ("meter: 2/2\ngrid: 4", "T3 - I2 M1", "1/2 1/4 1/4"),
])
def test_values_in_other_meters(header, text, expected):
    assert values(planned(f"{header}\n---\n{text}")[0]) == expected


def test_an_arrival_held_past_its_beat_is_tied_from_that_beat():
    (bar,) = planned("T4:2h3 - - - - - I2 -")
    assert values(bar) == "1/16 1/8. ~1/2 1/4"


def test_a_hold_over_the_barline_is_a_tied_value_of_the_next_bar():
    _, second = planned("T3 I2 M1 T5 I2 M1 T3 - | - - I2 - M1 - - -")
    assert values(second) == "~1/4 1/4 1/2"


def test_a_hold_after_a_rest_is_silence():
    _, second = planned("T3 I2 M1 T5 I2 M1 . - | - - I2 - M1 - - -")
    assert values(second) == "r1/4 1/4 1/2"


@pytest.mark.parametrize("header, text, expected", [
    ("meter: 4/4", "T3 I2 M1 T5 I2 M1 T3 M1", [(1, 4), (5, 8)]),
    ("meter: 2/2", "T3 I2 M1 T5 I2 M1 T3 M1", [(1, 4), (5, 8)]),
    ("meter: 2/4", "T3 I2 M1 T5", [(1, 2), (3, 4)]),
    ("meter: 3/4", "T3 I2 M1 T5 I2 M1", [(1, 2), (3, 4), (5, 6)]),
    ("meter: 6/8", "T3 I2 M1 T5 I2 M1", [(1, 3), (4, 6)]),
    ("meter: 4/4\ngrid: 16", "T3 I2 M1 T5 I2 M1 T3 M1 T3 I2 M1 T5 I2 M1 T3 M1", [(1, 4), (5, 8), (9, 12), (13, 16)]),
    ("meter: 4/4", "T3 I2 - M1 T5 . I2 M1", [(6, 7)]),
])
def test_beams_follow_the_meter(header, text, expected):
    assert beams(planned(f"{header}\n---\n{text}")[0]) == expected


def test_a_pick_up_is_beamed_as_the_end_of_a_bar():
    """Three eighths lie in the second half of the bar; of five, the first lies in the first half, alone."""
    pickup, _ = planned("pickup: 3\n---\nT3 I2 M1 | T3 - - - - - - -")
    assert beams(pickup) == [(1, 3)]
    pickup, _ = planned("pickup: 5\n---\nT5 T3 I2 M1 T5 | T3 - - - - - - -")
    assert beams(pickup) == [(2, 5)]
    assert pickup.beaming.flagged == (0,)


def test_sixteenths_have_a_second_beam_broken_by_the_beat():
    (bar,) = planned("T3:2s5 I2 M1:0h2 T5 I2 - - -")
    assert beams(bar) == [(1, 6)]
    assert beams(bar, 2) == [(1, 2), (4, 5)]


def test_a_lone_sixteenth_points_into_its_pair():
    (bar,) = planned("meter: 2/4\ngrid: 16\n---\nT3 - - I2 M1 T5 - -")
    stubs = {beam.first: beam.stub for beam in bar.beaming.beams if beam.level == 2}
    assert stubs == {1: -1, 2: 1}


@pytest.mark.parametrize("text, count", [("(1 2 3)/2 - - - - - -", 3), ("(1 2 3 5 1) - - - - - - -", 5),
                                         ("3:0h2p0 - - - - - - -", 3)])
def test_uneven_shares_are_tuplets(text, count):
    tuplets = {tuplet for piece in planned(text)[0].pieces for tuplet in piece.tuplets}
    assert {tuplet.count for tuplet in tuplets} == {count}


@pytest.mark.parametrize("text", ["(1 2) - - - - - - -", "(1 2 3 5) - - - - - - -", "(1 2 3 5)/2 - - - - - -"])
def test_even_shares_are_none(text):
    assert not any(piece.tuplets for piece in planned(text)[0].pieces)


@pytest.mark.parametrize("text", [
    "T3:2s5 (1 2 3)/2 - . (1 2 3 5 1) 3:0h2p0 -", "2:10b1 - r - (3:2h3p2 1 2)/2 . .",
    "(1 - 2) (- 1 2) - . (1 - . 2)/2 (1 2)/2",
])
def test_the_values_of_a_bar_fill_it(text):
    (bar,) = planned(text)
    assert sum((sounding_length(piece) for piece in bar.pieces), Fraction(0)) == bar.ticks


def sounding_length(piece) -> Fraction:
    length = Fraction(piece.value.ticks)
    for tuplet in piece.tuplets:
        length *= Fraction(tuplet.normal, tuplet.count)
    return length
