"""Whether a lick may follow itself, with and without its exit; worked by hand."""

import pytest
from fifthpeg.analysis.study import choose_fingers, study
from fifthpeg.model.note import written_notes
from fifthpeg.sound.perform import perform
from tests.written import lick

EXIT = "T3 - - - - - - -"


def findings(text: str):
    made = lick(text)
    notes = written_notes(made)
    return study(made, notes, perform(made, choose_fingers(made, notes)))


def test_a_roll_loops_cleanly():
    join = findings("tempo: 208\n---\nT3 I2 M1 T5 M1 I2 T3 M1").loop
    assert (join.verdict, join.fingers, join.per_second, join.clashes_above) == ("clean", (), None, None)


def test_a_lick_that_ends_on_the_finger_it_begins_with_clashes_with_itself():
    join = findings("tempo: 208\n---\nM1 I2 T3 M1 I2 T3 I2 M1").loop
    assert (join.verdict, join.fingers, join.clashes_above) == ("clash", ("M",), 195)
    assert join.per_second == pytest.approx(416 / 60)


def test_the_middle_finger_an_eighth_before_an_index_and_middle_pinch_clashes():
    """Common practice, no source."""
    assert findings("tempo: 208\n---\nI2+M1 - T3 I2 M1 T5 I2 M1").loop.verdict == "clash"


def test_the_same_with_its_last_note_held_is_clean():
    """Common practice, no source."""
    assert findings("tempo: 208\n---\nI2+M1 - T3 I2 M1 T5 M1 -").loop.verdict == "clean"


def test_the_same_with_a_lone_thumb_in_place_of_the_pinch_is_clean():
    """Common practice, no source."""
    assert findings("tempo: 208\n---\nT3 - T3 I2 M1 T5 I2 M1").loop.verdict == "clean"


def test_a_slow_loop_on_one_finger_is_tight():
    join = findings("tempo: 100\n---\nM1 I2 T3 M1 I2 T3 I2 M1").loop
    assert (join.verdict, join.clashes_above) == ("tight", 195)


def test_two_fingers_that_meet_at_once_are_both_named():
    assert findings("tempo: 208\n---\nT5+M1 - T3 I2 M1 - - T5+M1").loop.fingers == ("T", "M")


def test_the_exit_is_left_out_of_the_loop():
    made = findings(f"tempo: 208\nexit: 1\n---\nM1 I2 T3 M1 I2 T3 I2 M1 | {EXIT}")
    assert (made.loop.verdict, made.loop_with_exit.verdict) == ("clash", "clean")


def test_an_exit_may_clash_where_the_lick_does_not():
    made = findings("tempo: 208\nexit: 1\n---\nM1 I2 T3 M1 I2 M1 T3 I2 | T3 I2 M1 T5 I2 T5 I2 M1")
    assert (made.loop.verdict, made.loop_with_exit.verdict) == ("clean", "clash")


def test_without_an_exit_both_loops_are_the_same():
    made = findings("tempo: 208\n---\nM1 I2 T3 M1 I2 T3 I2 M1")
    assert made.loop == made.loop_with_exit


def test_a_pick_up_lies_over_the_held_slots_at_the_end():
    """Last M an eighth before the looped pick-up: slot 7 of the bar, the pick-up in slot 8."""
    made = findings("tempo: 208\npickup: 1\n---\nM1 | T3 I2 M1 T5 I2 T5 M1 -")
    assert (made.loop.verdict, made.loop.clashes_above) == ("clash", 195)


def test_a_pick_up_fills_a_bar_left_short():
    made = findings("tempo: 208\npickup: 1\n---\nM1 | T3 I2 M1 T5 I2 T5 M1")
    assert (made.loop.verdict, made.loop.clashes_above) == ("clash", 195)


def test_a_pick_up_with_time_before_it_is_clean():
    assert findings("tempo: 208\npickup: 1\n---\nM1 | T3 I2 M1 T5 I2 T5 I2 -").loop.verdict == "clean"


def test_a_single_strike_meets_itself_a_bar_later():
    assert findings("tempo: 208\n---\nT3 - - - - - - -").loop.verdict == "clean"


