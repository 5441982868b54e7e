"""How one lick follows another; worked by hand, and against the slow way."""

from dataclasses import replace
from fractions import Fraction

import pytest
from fifthpeg.analysis.neighbours import goes_with
from fifthpeg.analysis.seams import loop, loop_with_exit, seam
from fifthpeg.analysis.settle import settled
from fifthpeg.analysis.study import choose_fingers, study
from fifthpeg.model.chain import differences
from fifthpeg.model.note import with_fingers, written_notes
from fifthpeg.sound.perform import perform
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from tests.analysis.brute_force import seam_verdict
from tests.analysis.neighbours import neighbours
from tests.generated import licks
from tests.written import lick

ENDS_ON_MIDDLE = "tempo: 208\n---\nT3 I2 M1 T5 I2 T3 I2 M1"
PINCH_BY_INDEX_AND_MIDDLE = "tempo: 208\n---\nI2+M1 - T3 I2 M1 T5 I2 T3"


def seam_of(before: str, after: str, **terms):
    return seam(lick(before), lick(after), **terms)


def test_the_middle_finger_an_eighth_before_a_pinch_by_index_and_middle_clashes():
    """Common practice, no source. Eighths at 208 are 416 a minute, 6.93 a second."""
    found = seam_of(ENDS_ON_MIDDLE, PINCH_BY_INDEX_AND_MIDDLE)
    assert (found.verdict, found.fingers, found.clashes_above) == ("clash", ("M",), 195)
    assert found.per_second == pytest.approx(416 / 60)


def test_the_same_with_its_last_note_held_is_clean():
    """Common practice, no source. Its index, two eighths before the pinch, has time."""
    assert seam_of("tempo: 208\n---\nT3 I2 M1 T5 I2 T3 I2 -", PINCH_BY_INDEX_AND_MIDDLE).verdict == "clean"


def test_the_same_before_a_lone_string_picked_by_the_thumb_is_clean():
    """Common practice, no source."""
    assert seam_of(ENDS_ON_MIDDLE, "tempo: 208\n---\nT3 - T3 I2 M1 T5 I2 T3").verdict == "clean"


def test_slowly_it_is_tight():
    found = seam_of(ENDS_ON_MIDDLE, PINCH_BY_INDEX_AND_MIDDLE, tempo=Fraction(100))
    assert (found.verdict, found.clashes_above) == ("tight", 195)
    assert found.per_second == pytest.approx(200 / 60)


def test_the_tempo_is_the_first_lick_s():
    slow = PINCH_BY_INDEX_AND_MIDDLE.replace("208", "90")
    assert seam_of(ENDS_ON_MIDDLE, slow).verdict == "clash"
    assert seam_of(ENDS_ON_MIDDLE.replace("208", "90"), PINCH_BY_INDEX_AND_MIDDLE).verdict == "tight"


def test_the_bounce_is_the_first_lick_s():
    """At 165 and 60 percent the off-beat eighth lasts 0.4 quarters: 6.875 a second."""
    bounced = ENDS_ON_MIDDLE.replace("tempo: 208", "tempo: 165\nbounce: 60")
    found = seam_of(bounced, PINCH_BY_INDEX_AND_MIDDLE)
    assert found.verdict == "clash"
    assert (found.per_second, found.clashes_above) == pytest.approx((6.875, 156))
    assert seam_of(bounced, PINCH_BY_INDEX_AND_MIDDLE, bounce=50).verdict == "tight"


def test_the_exit_falls_away():
    """Common practice, no source: a phrase of two bars and an exit bar is chained without the exit."""
    two_and_exit = f"tempo: 208\nexit: 1\n---\n{'T3 I2 M1 T5 I2 T3 I2 M1 | ' * 2}T3 - - - - - - -"
    assert seam_of(two_and_exit, PINCH_BY_INDEX_AND_MIDDLE).verdict == "clash"
    assert seam_of(two_and_exit.replace("exit: 1\n", ""), PINCH_BY_INDEX_AND_MIDDLE).verdict == "clean"


def test_the_last_time_through_a_repeat_is_what_the_next_lick_follows():
    twice = "tempo: 208\n---\n|: T3 I2 M1 T5 I2 T3 I2 M1 :| T3 - - - - - T5 -"
    assert seam_of(twice, PINCH_BY_INDEX_AND_MIDDLE).verdict == "clean"
    assert seam_of(twice.replace("| T3 - - - - - T5 -", "|"), PINCH_BY_INDEX_AND_MIDDLE).verdict == "clash"


def test_a_pick_up_lies_over_the_held_end():
    """The pick-up's M falls in slot 8, an eighth after the M in slot 7."""
    before = "tempo: 208\n---\nT3 I2 M1 T5 I2 T5 M1 -"
    after = "tempo: 208\npickup: 1\n---\nM1 | T3 I2 M1 T5 I2 T5 I2 -"
    found = seam_of(before, after)
    assert (found.verdict, found.clashes_above, found.has_room) == ("clash", 195, True)
    assert seam_of(before.replace("T5 M1 -", "M1 T5 -"), after).verdict == "clean"


def test_a_pick_up_comes_into_a_bar_left_short():
    short = "tempo: 208\npickup: 1\n---\nT5 | T3 I2 M1 T5 I2 T5 M1"
    found = seam_of(short, "tempo: 208\npickup: 1\n---\nM1 | T3 I2 M1 T5 I2 T5 I2")
    assert (found.verdict, found.has_room) == ("clash", True)


def test_a_bar_left_short_is_filled_up_before_a_lick_without_pick_up():
    """M in slot 7, the barline after slot 8, M on it: a quarter, which is clean at 208."""
    short = "tempo: 208\npickup: 1\n---\nT5 | T3 I2 M1 T5 I2 T5 M1"
    assert seam_of(short, "tempo: 208\n---\nM1 I2 T3 M1 I2 T5 I2 T3").verdict == "clean"


def test_a_pick_up_without_room_says_so():
    found = seam_of(ENDS_ON_MIDDLE, "tempo: 208\npickup: 1\n---\nT5 | M1 I2 T3 T5 I2 T5 I2 -")
    assert not found.has_room


def test_two_fingers_at_different_gaps_the_quicker_is_told():
    found = seam_of("tempo: 208\n---\nT3 I2 M1 T5 I2 M1 I2 M1", "tempo: 208\n---\nM1 - - - T5 I2 T3 M1")
    assert found.fingers == ("M",)


def test_the_tempo_is_told_in_the_block_s_own_beat():
    """97.5 half notes a minute are 390 eighths."""
    first, second = (text.replace("tempo: 208", "meter: 2/2\ntempo: 104")
                     for text in (ENDS_ON_MIDDLE, PINCH_BY_INDEX_AND_MIDDLE))
    assert seam_of(first, second).clashes_above == 97.5


def test_chosen_fingers_are_those_of_each_lick_by_itself():
    """Alone the lick begins on the thumb; after a thumb it is left so, and judged."""
    after = lick("tempo: 208\n---\n3 2 1 5 2 1 5 M1")
    assert settled(after).bars[0].cells[0].plucks[0].finger == "T"
    assert seam(lick("tempo: 208\n---\nT3 I2 M1 T5 I2 M1 I2 T3"), after).fingers == ("T",)


def test_a_settled_finger_is_still_not_the_writer_s():
    notes = written_notes(settled(lick("3 I2 M1 T5 I2 M1 T3 M1")))
    assert [note.given for note in notes[:2]] == [False, True]


@settings(max_examples=40)
@given(licks())
def test_settling_gives_each_pluck_the_finger_chosen_for_it(made):
    notes = written_notes(made)
    chosen = choose_fingers(made, notes)
    assert written_notes(settled(made)) == with_fingers(notes, chosen)
    assert settled(settled(made)) == settled(made)


@settings(max_examples=120)
@given(neighbours(), neighbours())
def test_a_seam_is_what_the_slow_way_finds(before, after):
    before = settled(before)
    after = replace(settled(after), tempo=before.tempo, bounce=before.bounce)
    found = seam(before, after)
    assume(found.has_room)
    assert found.verdict == seam_verdict(before, after)


@settings(max_examples=40)
@given(licks())
def test_a_lick_after_itself_is_its_loop(made):
    assert seam(replace(made, exit_bars=0), replace(made, exit_bars=0)) == loop_with_exit(replace(made, exit_bars=0))


@settings(max_examples=40)
@given(licks())
def test_both_loops_are_those_of_the_findings(made):
    notes = written_notes(made)
    found = study(made, notes, perform(made, choose_fingers(made, notes)))
    assert replace(found.loop, repairs=()) == loop(made)
    assert replace(found.loop_with_exit, repairs=()) == loop_with_exit(made)


def test_what_keeps_licks_apart_is_named():
    one = lick("T3 - - - - - - -")
    assert differences(one, lick("capo: 2\ntuning: sawmill\n---\nT3 - - - - - - -")) == ("tuning", "capo")
    assert differences(one, lick("tempo: 90\nkey: D\n---\nT3 - - - - - - -")) == ()


@settings(max_examples=40)
@given(st.lists(neighbours(), min_size=2, max_size=4))
def test_the_table_says_what_each_seam_says(made):
    table = goes_with(made)
    for i, before in enumerate(made):
        for j, after in enumerate(made):
            found = seam(before, after)
            expected = found.verdict if found.has_room and not differences(before, after) else None
            assert table.verdict(i, j) == expected


def test_the_table_of_nothing_is_empty():
    assert goes_with([]).codes.shape == (0, 0)
