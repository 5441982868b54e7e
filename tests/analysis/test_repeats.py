"""Repeated fingers: speeds and verdicts, worked by hand.

Limits: faster than 6.5 a second clashes, faster than 5 is tight. They are estimates from
studies of finger tapping (Fujii et al., Neurosci. Lett. 2009;459:69, abstract; Aoki &
Kinoshita, Ergonomics 2001;44:1368, abstract). Tapping is not plucking.
"""

from fractions import Fraction

import pytest
from fifthpeg.analysis.study import choose_fingers, study
from fifthpeg.model.note import written_notes
from fifthpeg.sound.perform import perform
from tests.written import lick


def findings(text: str, **speeds):
    made = lick(text)
    notes = written_notes(made)
    return study(made, notes, perform(made, choose_fingers(made, notes, **speeds)), **speeds)


def marks(text: str, **speeds):
    return [(mark.fingers, mark.bar, mark.slot, mark.verdict) for mark in findings(text, **speeds).repeats]


NEIGHBOURS = "T3 - - M1 M1 - - -"
A_QUARTER_APART = "T3 - - M1 - M1 - -"


def test_neighbouring_eighths_at_195_are_exactly_six_and_a_half_a_second():
    """195 quarters a minute are 390 eighths a minute: 390 / 60 = 6.5."""
    (mark,) = findings(f"tempo: 195\n---\n{NEIGHBOURS}").repeats
    assert mark.per_second == 6.5
    assert mark.verdict == "tight"


def test_one_beat_a_minute_more_clashes():
    (mark,) = findings(f"tempo: 196\n---\n{NEIGHBOURS}").repeats
    assert mark.per_second == pytest.approx(392 / 60)
    assert mark.verdict == "clash"


@pytest.mark.parametrize("tempo", [60, 140, 208])
def test_a_finding_says_above_which_tempo_it_clashes(tempo):
    (mark,) = findings(f"tempo: {tempo}\n---\n{NEIGHBOURS}").repeats
    assert mark.clashes_above == 195


def test_neighbouring_slots_are_tight_however_slow():
    """The student will speed it up."""
    assert marks(f"tempo: 60\n---\n{NEIGHBOURS}") == [(("M",), 1, 5, "tight")]


def test_a_quarter_apart_is_clean_at_a_banjo_tempo():
    """208 a minute is 3.5 a second."""
    assert marks(f"tempo: 208\n---\n{A_QUARTER_APART}") == []


def test_five_a_second_a_quarter_apart_is_the_limit():
    """300 quarters a minute are 5 a second, which is not faster than 5."""
    assert marks(f"tempo: 300\n---\n{A_QUARTER_APART}") == []
    assert marks(f"tempo: 301\n---\n{A_QUARTER_APART}") == [(("M",), 1, 6, "tight")]


def test_the_tempo_is_told_in_the_lick_s_own_beat():
    """In 2/2 the beat is the half note: 97.5 half notes a minute are 390 eighths."""
    (mark,) = findings(f"meter: 2/2\ntempo: 104\n---\n{NEIGHBOURS}").repeats
    assert (mark.verdict, mark.clashes_above) == ("clash", 97.5)


def test_in_six_eight_the_beat_is_the_dotted_quarter():
    """Three eighths a beat: 130 beats a minute are 390 eighths."""
    (mark,) = findings("meter: 6/8\ntempo: 100\n---\nT3 - M1 M1 - -").repeats
    assert mark.clashes_above == 130


def test_a_pinch_counts_with_both_its_fingers():
    assert marks("tempo: 120\n---\nT5+M1 T5+M1 - - - - - -") == [(("T", "M"), 1, 2, "tight")]
    assert marks("tempo: 120\n---\nT5+M1 I2 - T5 M1 - - -") == []


def test_a_note_between_makes_room():
    assert marks("tempo: 208\n---\nT3 I2 T3 I2 - - - -") == []


def test_arrivals_are_not_picked():
    assert marks("tempo: 208\n---\nT3:2 h3 T4 - - - - -") == []


def test_a_brush_is_one_finger_once():
    assert marks("tempo: 208\n---\nT4+T3+T2 - - T4+T3+T2 - - - -") == []
    assert marks("tempo: 208\n---\nT4+T3+T2 T4+T3+T2 - - - - - -") == [(("T",), 1, 2, "clash")]


def test_neighbouring_sixteenths_are_faster_than_they_look():
    """At 104 quarters a minute sixteenths come 416 a minute, 6.93 a second."""
    (mark,) = findings("tempo: 104\ngrid: 16\n---\nT3 T3 - - - - - - - - - - - - - -").repeats
    assert (round(mark.per_second, 2), mark.verdict, mark.clashes_above) == (6.93, "clash", 97.5)


def test_neighbouring_quarters_of_a_quarter_grid_are_no_neighbours_at_speed():
    assert marks("tempo: 120\ngrid: 4\n---\nT3 T3 T3 T3") == []


def test_notes_of_a_group_share_a_slot_and_are_judged_apart():
    assert marks("tempo: 60\n---\n(T3 T3) - - - - - - -") == [(("T",), 1, 1, "tight")]


def test_bounce_makes_every_other_eighth_quicker():
    """60 percent: the second of a pair lasts 0.4 quarters, so 165 beats a minute are 6.875 a second after it."""
    on_to_off = findings("tempo: 165\nbounce: 60\n---\nT3 - M1 M1 - - - -").repeats[0]
    off_to_on = findings("tempo: 165\nbounce: 60\n---\nT3 M1 M1 - - - - -").repeats[0]
    assert (on_to_off.verdict, on_to_off.per_second) == ("tight", pytest.approx(165 / 60 / 0.6))
    assert (off_to_on.verdict, off_to_on.per_second) == ("clash", pytest.approx(6.875))
    assert off_to_on.clashes_above == pytest.approx(156)


def test_a_bounced_long_eighth_is_a_neighbour_too():
    assert marks("tempo: 60\nbounce: 66\n---\nT3 - M1 M1 - - - -") == [(("M",), 1, 4, "tight")]


def test_a_jump_back_is_judged_like_any_neighbours():
    assert marks("tempo: 208\n---\n|: M1 I2 T3 I2 T3 I2 T3 M1 :| T3 - - - - - - -") == [(("M",), 1, 1, "clash")]


def test_a_place_played_more_often_is_told_once():
    assert len(marks("tempo: 208\n---\n|: M1 M1 T3 I2 T3 I2 T3 I2 :|x3")) == 1


def test_the_limits_are_settings():
    assert marks(f"tempo: 195\n---\n{NEIGHBOURS}", clash_per_second=6.4) == [(("M",), 1, 5, "clash")]
    assert marks(f"tempo: 208\n---\n{A_QUARTER_APART}", tight_per_second=3.4) == [(("M",), 1, 6, "tight")]


def test_a_limit_is_taken_at_its_decimal_word():
    """192 quarters a minute are 6.4 eighths a second exactly, which is not faster than 6.4."""
    assert Fraction(192, 30) == Fraction("6.4")
    assert marks(f"tempo: 192\n---\n{NEIGHBOURS}", clash_per_second=6.4) == [(("M",), 1, 5, "tight")]
