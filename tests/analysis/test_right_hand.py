"""Chosen right-hand fingers: the cheapest there are, and what a teacher would write."""

import pytest
from fifthpeg.analysis.grips import grips
from fifthpeg.analysis.study import choose_fingers, study
from fifthpeg.model.hands import REACH
from fifthpeg.model.note import with_fingers, written_notes
from fifthpeg.sound.perform import perform
from hypothesis import assume, given, settings
from tests.analysis.brute_force import all_fingerings, cost, how_many, struck
from tests.analysis.fingered import fingering_of, fingers_of
from tests.generated import licks, licks_with_endings
from tests.written import lick

MOST_FINGERINGS = 800


def fingered(text: str) -> str:
    return fingers_of(lick(text))


@settings(max_examples=120)
@given(licks(most_bars=2))
def test_no_fingering_is_cheaper(made):
    strikes = struck(made)
    assume(strikes and how_many(strikes) <= MOST_FINGERINGS)
    assert tuple(fingering_of(made)) == min(all_fingerings(strikes), key=lambda each: cost(made, strikes, each))


@settings(max_examples=60)
@given(licks_with_endings())
def test_no_fingering_is_cheaper_where_there_are_endings(made):
    strikes = struck(made)
    assume(strikes and how_many(strikes) <= MOST_FINGERINGS)
    assert tuple(fingering_of(made)) == min(all_fingerings(strikes), key=lambda each: cost(made, strikes, each))


@settings(max_examples=40)
@given(licks())
def test_every_pluck_gets_a_finger_and_written_ones_stay(made):
    notes = written_notes(made)
    chosen = choose_fingers(made, notes)
    assert {note.mark for note in notes if note.picked and not note.given} == set(chosen)


@settings(max_examples=40)
@given(licks(fingered=False))
def test_chosen_fingers_reach_their_strings(made):
    notes = written_notes(made)
    chosen = choose_fingers(made, notes)
    assert all(note.string in REACH[chosen[note.mark]] for note in notes if note.mark in chosen)


@settings(max_examples=40)
@given(licks())
def test_the_same_lick_gets_the_same_fingers(made):
    notes = written_notes(made)
    grips.cache_clear()
    again = choose_fingers(made, notes)
    assert list(choose_fingers(made, notes).items()) == list(again.items())


@pytest.mark.parametrize(("roll", "strings", "fingers"), [
    ("forward", "2 1 5 2 1 5 2 1", "I M T I M T I M"),
    ("backward", "1 2 5 1 2 5 1 2", "M I T M I T M I"),
    ("forward-reverse", "3 2 1 5 1 2 3 1", "T I M T M I T M"),
    ("alternating thumb", "3 2 5 1 4 2 5 1", "T I T M T I T M"),
    ("index-lead", "2 1 2 1 5 2 1 5", "I M T M T I M T"),
    ("backward", "2 3 5 2 3 5 2 3", "M I T M I T M I"),
    ("forward", "4 2 1 4 2 1 4 2", "T I M T I M T I"),
])
def test_usual_strings_of_a_roll_get_the_roll_s_fingers(roll, strings, fingers):
    """Strings and fingers of the usual rolls; round three other strings the same way. Common practice, no source."""
    assert fingered(strings) == fingers


def test_the_short_string_is_the_thumb_s():
    assert fingered("5 1 5 1 5 2 5 1") == "T M T M T I T M"


def test_a_plain_pinch_is_thumb_and_middle():
    """Common practice, no source."""
    assert fingered("5+1 - 3+1 - 3+2 - 4+1 -") == "T+M T+M T+M T+M"


def test_three_strings_at_once_take_three_fingers_in_order():
    assert fingered("5+2+1 - - - 3+2+1 - - -") == "T+I+M T+I+M"


def test_more_strings_than_fingers_are_brushed_by_the_thumb():
    assert fingered("4+3+2+1 - - - - - - -") == "T+T+T+T"


def test_a_run_on_one_string_alternates():
    assert fingered("3:2 3:3 3:5 3:3 - - - -") == "T I T I"


def test_a_run_on_the_first_string_alternates_too():
    first, second, third, *_ = fingered("1 1:2 1:3 1:5 - - - -").split()
    assert first != second != third


def test_slow_quarters_stay_on_the_usual_finger():
    assert fingered("tempo: 100\n---\n1 - 1:2 - 1:3 - 1 -") == "M M M M"


def test_a_written_finger_turns_the_others():
    assert fingered("3 I3 3 - - - - -") == "T I T"
    assert fingered("3 T3 3 - - - - -") == "I T I"


def test_a_pinch_by_other_fingers_where_the_middle_has_just_picked():
    assert fingered("tempo: 208\n---\nM1 3+2 - - - - - -") == "M T+I"


def test_a_written_finger_off_the_roll_turns_the_bar_from_it():
    assert fingered("2 1 I2 1 5 2 1 5") == "I M I M T I M T"


RUN = "tempo: 208\n{}---\n1 1:2 1:3 1:5 "
"""Index and middle take turns on the first string; which of them begins is all one inside the lick."""


def test_the_loop_is_kept_clean_where_that_costs_nothing():
    assert fingered(RUN.format("") + "T5 I2 T5 M1").startswith("I M I M ")
    assert fingered(RUN.format("") + "T5 M1 T5 I2").startswith("M I M I ")


def test_no_lick_is_twisted_for_its_loop():
    """The index on the third string would keep the loop clean: that is left to a repair."""
    assert fingered("tempo: 208\n---\n3 1 5 2 1 5 1 T5").startswith("T ")


def test_the_loop_leaves_out_the_exit():
    assert fingered(RUN.format("exit: 1\n") + "T5 I2 T5 M1 | T5 M1 T5 I2 T5 M1 T5 I2").startswith("I M I M ")
    assert fingered(RUN.format("") + "T5 I2 T5 M1 | T5 M1 T5 I2 T5 M1 T5 I2").startswith("M I M I ")


def test_fingers_do_not_cross_where_they_need_not():
    """The ascending run could be begun by the index on the fourth string, with the thumb behind it on the third."""
    assert fingered("4:0h2 3 2 1 5 2 3 1") == "T I T M T I T M"


def test_fingers_may_cross_where_there_is_time():
    assert fingered("grid: 4\ntempo: 60\n---\nI4 3 2 1") == "I T I M"


def test_a_free_hand_takes_turns():
    """Nothing hurries it, and both ways are as comfortable: the fingers alternate. Common practice, no source."""
    assert fingered("tempo: 120\n---\n3 - - 3 3 - 2 -") == "T I T I"


def test_a_jump_back_is_kept_clean():
    played = fingered("tempo: 208\n---\nM1 - - - - - - - |: 3 2 1 5 2 1 2 T5 :| M1 - - - - - - -").split()
    assert played[1] == "I"


def test_a_second_ending_follows_what_is_played_before_it():
    """Before the second ending comes the thumb of bar 1, not the middle of the first ending."""
    text = "tempo: 208\n---\n|: M1 - - - - - - T5 | <1> I2 - - - - - - M1 :| <2> 3 - - - - - - -"
    assert fingered(text).split()[-1] == "I"


def test_the_first_ending_does_not_bind_the_second():
    text = "tempo: 208\n---\n|: T5 - - - - - - M1 | <1> I2 - - - - - I2 T3 :| <2> 3 - - - - - - -"
    assert fingered(text).split()[-1] == "T"


def test_bounce_is_heard_in_the_choice():
    """At 160 with a bounce of 66 short eighths come 7.8 a second, long ones 4: the short repeat is the clash."""
    made = lick("tempo: 160\nbounce: 66\n---\n5 5 5 - - - - -")
    notes = written_notes(made)
    findings = study(made, notes, perform(made, choose_fingers(made, notes)))
    assert [mark.verdict for mark in findings.repeats] == ["tight", "clash"]


def test_nothing_to_choose_is_nothing_chosen():
    made = lick("T3 I2 M1 T5 I2 M1 T3 M1")
    assert choose_fingers(made, written_notes(made)) == {}


def test_a_lick_of_rests_has_no_fingers():
    made = lick(". . . . . . . .")
    assert choose_fingers(made, written_notes(made)) == {}
