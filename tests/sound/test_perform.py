"""The written lick as it is played: order, bounce, passes and chords, worked by hand in quarter notes."""

from dataclasses import replace
from fractions import Fraction

from fifthpeg.model.lick import Linked
from fifthpeg.model.note import written_notes
from fifthpeg.sound.hand import by_hand
from fifthpeg.sound.perform import perform
from hypothesis import given, settings
from tests.generated import licks
from tests.written import lick


def performed(text: str, fingers=None):
    return perform(lick(text), fingers or {})


def test_straight_and_without_repeats_it_is_what_is_written():
    """But for the hand, which ``test_hand`` is about."""
    made = lick("tempo: 208\n---\nT3:2h3 I2 - T5+M1 . T4 I3 M1")
    assert perform(made, {}).notes == by_hand(written_notes(made))


@settings(max_examples=40)
@given(licks())
def test_every_written_note_is_played(made):
    assert {note.mark for note in perform(made, {}).notes} == {note.mark for note in written_notes(made)}


def test_three_times_round_plays_every_mark_three_times():
    played = performed("|: T3 - - - I2 - - - :|x3")
    assert [(note.mark, note.start, note.passage) for note in played.notes] == [
        ("p1", 0, 1), ("p2", 2, 1), ("p1", 4, 2), ("p2", 6, 2), ("p1", 8, 3), ("p2", 10, 3)]
    assert played.quarters == 12


def test_endings_change_the_last_time():
    played = performed("|: T3 - - - - - - - | <1> I2 - - - - - - - :| <2> M1 - - - - - - -")
    assert [(note.string, note.start) for note in played.notes] == [(3, 0), (2, 4), (3, 8), (1, 12)]
    bars = [(bar.bar, bar.passage, bar.start) for bar in played.bar_map]
    assert bars == [(1, 1, 0), (2, 1, 4), (1, 2, 8), (3, 1, 12)]


def test_bounce_moves_the_second_of_each_pair():
    played = performed("bounce: 60\n---\nT3 I2 M1 T5 I2 M1 T3 M1")
    assert [note.start for note in played.notes[:4]] == [0, Fraction(3, 5), 1, Fraction(8, 5)]
    assert [note.length for note in played.notes[:2]] == [Fraction(3, 5), Fraction(2, 5)]


def test_bounce_is_counted_from_the_barline_in_a_pick_up_too():
    """One eighth before the barline: the second of its pair, so two fifths of a quarter long."""
    played = performed("bounce: 60\npickup: 1\n---\nM1 | T3 - - - - - - -")
    pick_up, first = played.notes
    assert (pick_up.start, pick_up.length, first.start) == (Fraction(1, 10), Fraction(2, 5), Fraction(1, 2))


def test_a_pick_up_of_a_pair_and_a_half():
    played = performed("bounce: 60\npickup: 3\n---\nM1 T3 I2 | T3 - - - - - - -")
    assert [note.start for note in played.notes[:3]] == [Fraction(1, 10), Fraction(1, 2), Fraction(11, 10)]


def test_bounce_moves_the_end_of_ringing_as_well():
    played = performed("bounce: 60\n---\nT3 - - T3 - - - -")
    assert played.notes[0].rings_until == Fraction(8, 5)


def test_a_bounced_lick_with_a_pick_up_loops_into_itself():
    """The last bar is left short by the pick-up: it ends where the next pick-up starts."""
    played = performed("bounce: 60\npickup: 1\n---\nM1 | T3 - - - - - I2")
    last = played.notes[-1]
    assert last.start + last.length == played.quarters + played.notes[0].start


def test_the_same_chord_twice_is_one_change():
    assert performed("[G] T3 - - - [G] - - - - | [C] T3 - - - - - - -").chords == ((0, "G"), (4, "C"))


def test_a_jump_back_brings_back_the_chord_written_there():
    played = performed("[G] T3 - - - - - - - |: T3 - - - - - - - | [D7] T4 - - - - - - - :|")
    assert played.chords == ((0, "G"), (8, "D7"), (12, "G"), (16, "D7"))


def test_a_chord_off_the_beat_bounces_with_its_slot():
    assert performed("bounce: 60\n---\n[G] T3 - - [C] I2 - - - -").chords == ((0, "G"), (Fraction(8, 5), "C"))


def test_the_exit_starts_where_its_first_bar_is_first_played():
    played = performed("exit: 1\n---\nT3 - - - - - - - | I2 - - - - - - - | M1 - - - - - - -")
    assert (played.exit_start, played.quarters) == (8, 12)


def test_the_tempo_counts_the_meters_own_beat():
    assert performed("meter: 6/8\ntempo: 60\n---\nT3 I2 M1 T5 I2 M1").quarters_per_minute == 90
    assert performed("meter: 2/2\ntempo: 104\n---\nT3 I2 M1 T5 I2 M1 T5 M1").quarters_per_minute == 208


def test_fingers_that_were_chosen_are_played_in_every_pass():
    played = performed("3 - - - - - - - :|", {"p1": "T"})
    assert [(note.finger, note.given) for note in played.notes] == [("T", False), ("T", False)]


CHAINED = replace(lick("bounce: 60\n---\n3 - - - - - - - | 2 - - - - - - 4 | 1 - - - - - - -"),
                  links=(Linked("a", "A", (1, 1)), Linked("b", "B", (2, 8))))
"""The second link's pick-up is the last slot of bar 2."""


def test_a_note_belongs_to_its_link_and_a_pick_up_to_the_link_it_leads_into():
    assert [note.link for note in perform(CHAINED, {}).notes] == [0, 0, 1, 1]
    assert [note.link for note in perform(replace(CHAINED, bounce=50), {}).notes] == [0, 0, 1, 1]


def test_a_bar_goes_by_the_link_it_begins_with():
    assert [bar.link for bar in perform(CHAINED, {}).bar_map] == [0, 0, 1]


def test_without_a_chain_all_is_link_nought():
    assert {bar.link for bar in performed("3 - - - - - - - :|").bar_map} == {0}


@settings(max_examples=40)
@given(licks())
def test_strikes_come_in_order_of_time(made):
    picked = [note for note in perform(made, {}).notes if note.picked]
    assert all(a.start < b.start for a, b in zip(picked, picked[1:], strict=False) if a.strike != b.strike)
