"""The walk over a lick: which notes there are, when they start, how long they last and ring.

Times are worked by hand from the tab language's rules, in quarter notes.
"""

from fractions import Fraction

import pytest
from fifthpeg.model.lick import Lick
from fifthpeg.model.note import notes_through, with_fingers, written_notes
from fifthpeg.model.tab import CHOKE, RELEASE, Bar, Group, Hold, Landing, Pluck, Strike
from hypothesis import given, settings
from tests.generated import licks
from tests.written import lick

HALF, QUARTER = Fraction(1, 2), Fraction(1, 4)


def notes(text: str):
    return written_notes(lick(text))


def test_a_slot_is_an_eighth():
    assert [note.start for note in notes("T3 I2 M1 T5 I2 M1 T3 M1")] == [HALF * slot for slot in range(8)]


def test_a_hold_lengthens_the_strike_before():
    assert [note.length for note in notes("T3 - - I2 M1 - T5 -")] == [Fraction(3, 2), HALF, 1, 1]


def test_a_written_length_runs_to_the_next_strike_on_any_string():
    first, second = notes("T3 - I2 - - - - -")
    assert (first.length, second.length) == (1, 3)


def test_an_open_string_rings_until_it_is_picked_again():
    first, *_ = notes("T3 I2 M1 T5 T3 I2 M1 T5")
    assert first.rings_until == 2


def test_a_fretted_string_rings_two_beats_past_its_written_length():
    first, *_ = notes("T3:2 I2 M1 T5 I2 M1 T5 I2")
    assert first.rings_until == HALF + 2


def test_a_fretted_string_rings_two_dotted_quarters_in_six_eight():
    first, *_ = notes("meter: 6/8\n---\nT3:2 I2 M1 T5 I2 M1 | T5 I2 M1 T5 I2 M1")
    assert first.rings_until == HALF + 3


def test_a_rest_damps_all_strings():
    first, second = notes("T3 I2 . . . . . .")
    assert (first.rings_until, second.rings_until, second.length) == (1, 1, HALF)


def test_what_still_rings_at_the_end_stops_with_the_lick():
    assert notes("T3 - - - - - - -")[0].rings_until == 4


def test_a_chime_rings_like_an_open_string():
    first, *_ = notes("M1:12c - T5 - - - - - | T5 - - - - - - -")
    assert first.rings_until == 8


def test_an_arrival_inside_a_slot_comes_halfway():
    picked, arrived, _ = notes("T3:2h3 I2 - - - - - -")
    assert (picked.start, picked.length, arrived.start, arrived.length) == (0, QUARTER, QUARTER, QUARTER)
    assert (arrived.from_fret, arrived.fret, arrived.picked, arrived.finger) == (2, 3, False, None)


def test_two_arrivals_divide_the_slot_in_three():
    assert [note.start for note in notes("T3h2p0 - - - - - - -")] == [0, Fraction(1, 6), Fraction(1, 3)]


def test_a_hold_after_an_arrival_lengthens_the_arrival():
    picked, arrived, _ = notes("T3:2h3 - I2 - - - - -")
    assert (picked.length, arrived.length) == (QUARTER, Fraction(3, 4))


def test_an_arrival_in_its_own_slot_comes_at_its_start():
    picked, arrived, _ = notes("T3:2 s5 I2 - - - - -")
    assert (arrived.start, arrived.touch, arrived.source, arrived.slot) == (HALF, "slide", picked.mark, 2)
    assert picked.rings_until == HALF


def test_an_arrival_cuts_its_own_string_only():
    low, high, arrived = notes("T4+M1 4>h2 - - - - - -")
    assert (low.length, high.length, arrived.length) == (HALF, 4, Fraction(7, 2))


def test_an_arrival_belongs_to_the_strike_it_comes_with():
    assert [note.strike for note in notes("T4 4>h2+I3 - - - - - -")] == [1, 2, 2]


def test_a_group_shares_its_slots_and_its_slot_number():
    made = notes("(T3 I2 M1)/2 T5 - - - - -")
    assert [note.start for note in made] == [0, Fraction(1, 3), Fraction(2, 3), 1]
    assert [note.slot for note in made] == [1, 1, 1, 3]


def test_an_accent_on_a_group_is_an_accent_on_each_of_its_notes():
    made = written_notes(Lick((Bar(1, (Group((Strike((Pluck(3),)), Strike((Pluck(2),))), accent=True),)),)))
    assert [note.accent for note in made] == [True, True]


def test_a_choke_on_a_ringing_string_is_a_note_that_is_not_picked():
    bar = Bar(1, (Strike((Pluck(2, 8),)), Strike((), (Landing(2, CHOKE, 8, semitones=Fraction(1)),)),
                  Strike((), (Landing(2, RELEASE, 8),)), Hold()))
    struck, choked, let_down = written_notes(Lick((bar,)))
    assert (choked.touch, choked.picked, choked.bend, choked.release) == ("choke", False, 1, False)
    assert (let_down.touch, let_down.picked, let_down.bend, let_down.release) == ("choke", False, 0, True)
    assert struck.rings_until == choked.start


def test_a_damped_pluck_has_no_pitch():
    assert notes("T3:x - - - - - - -")[0].midi is None


@pytest.mark.parametrize(("node", "semitones"), [(12, 12), (7, 19), (5, 24), (4, 28), (9, 28), (16, 28), (19, 19)])
def test_a_chime_sounds_the_partial_at_its_node(node, semitones):
    """Partial n sounds 12·log2(n) semitones up, to the nearest: 2 at half the string, 3 at a third, 4, 5."""
    assert notes(f"M1:{node}c - - - - - - -")[0].midi == 62 + semitones


def test_chimes_on_the_short_string_count_from_its_own_nut():
    assert notes("T5:17c - - - - - - -")[0].midi == 67 + 12
    assert notes("capo: 2\n---\nT5:17c - - - - - - -")[0].midi == 69 + 12


def test_marks_number_the_notes_in_written_order():
    assert [note.mark for note in notes("T3:2h3 I2 T5+M1 - - - - -")] == ["p1", "p2", "p3", "p4", "p5"]


def test_a_bar_played_twice_plays_the_same_marks_again():
    made = lick("T3 - - - I2 - - - | M1 - - - - - - -")
    assert [note.mark for note in notes_through(made, (0, 0, 1))] == ["p1", "p2", "p1", "p2", "p3"]


def test_strings_ring_over_the_sign_of_a_repeat():
    made = lick("T3 - - - - - - - | I2 - - - - - - -")
    first, *_ = notes_through(made, (0, 1, 0))
    assert first.rings_until == 8


def test_chosen_fingers_fill_gaps_and_overrule_nothing():
    made = with_fingers(notes("3 I2 M1 T5 - - - -"), {"p1": "T", "p2": "M"})
    assert [note.finger for note in made] == ["T", "I", "M", "T"]
    assert [note.given for note in made] == [False, True, True, True]


@settings(max_examples=40)
@given(licks())
def test_no_string_sounds_twice_at_once(made):
    for string in range(1, 6):
        on_string = [note for note in written_notes(made) if note.string == string]
        assert all(a.rings_until <= b.start for a, b in zip(on_string, on_string[1:], strict=False))


@settings(max_examples=40)
@given(licks())
def test_a_note_rings_at_least_as_long_as_it_is_written_or_until_its_string_is_taken(made):
    for note in written_notes(made):
        assert note.start < note.rings_until
        assert note.length > 0


@settings(max_examples=40)
@given(licks())
def test_starts_never_go_back(made):
    starts = [note.start for note in written_notes(made) if note.picked]
    assert starts == sorted(starts)
