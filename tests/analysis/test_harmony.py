"""Over which chord a lick goes and which of its notes stand out; chord tones against two libraries nobody here wrote.

The flat third, fifth and seventh as the blue notes of a key: common practice, no source.
"""

import re
from fractions import Fraction

import music21
import pychord
import pytest
from fifthpeg.analysis.harmony import blue_degree, harmony
from fifthpeg.analysis.note_names import spelled
from fifthpeg.model.note import written_notes
from hypothesis import given, settings
from tests.generated import licks
from tests.written import lick

BAR = "T3 I2 M1 T5 M1 I2 T3 M1"
CHORDS = ("G", "C", "D7", "Em", "F", "A7", "Am", "Bm", "D", "E7", "Bb", "F#m", "G7", "Cm", "Gm")
EVERY_PITCH = "T4 T4:1 I3:5 I3:6 T4:2 T4:3 T4:4 I3 I3:1 I3:2 I3:3 I3:4"
"""D D♯ C C♯ E F F♯ G G♯ A A♯ B on open G."""


def colours(text: str) -> list[tuple[str, str | None, str | None]]:
    return [(colour.name, colour.outside_chord, colour.degree) for colour in harmony(lick(text)).colours]


def test_a_lick_says_over_which_chord_and_for_how_many_bars():
    made = harmony(lick(f"exit: 1\nafter: D7\n---\n[G] {BAR} | {BAR} | [C] {BAR}"))
    assert (made.bars_by_chord, made.after) == ({"G": 2}, "D7")


def test_chords_change_inside_a_bar():
    made = harmony(lick("[G] T3 I2 M1 T5 [C] M1 I2 T3 M1 | [G] T3 - - - - - - -"))
    assert [(stretch.chord, stretch.bars) for stretch in made.over] == [
        ("G", Fraction(1, 2)), ("C", Fraction(1, 2)), ("G", 1)]
    assert made.bars_by_chord == {"G": Fraction(3, 2), "C": Fraction(1, 2)}


def test_repeats_count_as_often_as_they_are_played():
    assert harmony(lick(f"|: [G] {BAR} | [D7] {BAR} :|")).bars_by_chord == {"G": 2, "D7": 2}


def test_no_chord_is_no_chord():
    made = harmony(lick(BAR))
    assert (made.bars_by_chord, made.colours, made.doubts) == ({}, (), ())


def test_notes_outside_the_chord_are_named():
    assert colours("[G] T3 I3:2 M1 T5 M1 I2:1 T3 M1") == [("A", "G", None), ("C", "G", None)]


def test_blue_notes_of_the_key():
    """B♭, D♭ and F in G."""
    assert colours("[G] T3:3 - I3:6 - M1:3 - T3 -") == [
        ("B♭", "G", "flat third"), ("D♭", "G", "flat fifth"), ("F", "G", "flat seventh")]


def test_a_blue_note_may_belong_to_its_chord():
    assert colours("[G7] M1:3 - T3 - I2 - M1 -") == [("F", None, "flat seventh")]


def test_in_a_minor_key_only_the_flat_fifth_is_blue():
    assert [blue_degree(pitch_class, "Gm") for pitch_class in (10, 1, 5)] == [None, "flat fifth", None]


def test_a_hammer_on_into_the_major_third_shows_its_blue_start():
    assert colours("[G] T3:3h4 - I2 - M1 - T5 -") == [("B♭", "G", "flat third")]


def test_with_a_capo_all_goes_by_shapes():
    assert colours("capo: 2\n---\n[G] T3:3 - I2 - M1 - T5 -") == [("B♭", "G", "flat third")]


def test_a_note_played_twice_is_told_once():
    assert len(colours("|: [G] T3:2 - I2 - M1 - T5 - :|")) == 1


def test_a_chord_line_that_contradicts_its_notes_is_questioned_gently():
    """D, F♯ and A are the chord of D, none of them is in E♭."""
    (doubt,) = harmony(lick("[Eb] T4 T4:4 I3:2 M1 T4 I3:2 M1 T4:4")).doubts
    assert doubt.says == ("none of the 8 notes over Eb from bar 1 belong to it; 8 belong to D: "
                          "is the chord as you meant it?")


def test_a_quarter_of_the_notes_is_enough_for_a_chord():
    """Two of eight are A, which F has too."""
    assert harmony(lick("[F] T4 T4:4 I3:2 M1 T4 I3:2 M1 T4:4")).doubts == ()


@pytest.mark.parametrize("text", [
    f"[G] {BAR}",
    "[D7] M1:4 I2:3 T3:2 M1 T4 I3:2 M1 T4",
    "[G] T3:2 I2:1 T3:2 I2:1 T3 I2 M1 T5",
    "[Eb] T4 - T4:4 - I3:2 - - -",
])
def test_a_chord_line_that_its_notes_bear_is_left_in_peace(text):
    """Three notes, as in the last, are too few to say anything."""
    assert harmony(lick(text)).doubts == ()


@pytest.mark.parametrize("chord", CHORDS)
def test_what_lies_outside_a_chord_as_music21_and_pychord_have_it(chord):
    made = lick(f"meter: 12/8\n---\n[{chord}] {EVERY_PITCH}")
    outside = {colour.mark for colour in harmony(made).colours if colour.outside_chord}
    inside = {note.midi % 12 for note in written_notes(made) if note.mark not in outside}
    symbol = music21.harmony.ChordSymbol(re.sub("^([A-G])b", r"\1-", chord))
    assert inside == {pitch.midi % 12 for pitch in symbol.pitches}
    names = [name.replace("b", "-") for name in pychord.Chord(chord).components()]
    assert inside == {music21.pitch.Pitch(name).midi % 12 for name in names}


@pytest.mark.parametrize(("key", "theirs"), [
    ("G", "G"), ("C", "C"), ("D", "D"), ("A", "A"), ("F", "F"), ("Bb", "B-"), ("E", "E"),
    ("Em", "e"), ("Am", "a"), ("Dm", "d"), ("Gm", "g"),
])
def test_notes_of_the_scale_are_spelled_as_music21_spells_them(key, theirs):
    for pitch in music21.key.Key(theirs).pitches:
        assert spelled(pitch.pitchClass, key) == pitch.name.replace("-", "♭").replace("#", "♯")


@settings(max_examples=40)
@given(licks())
def test_any_lick_has_a_harmony(made):
    found = harmony(made)
    assert {colour.mark for colour in found.colours} <= {note.mark for note in written_notes(made)}
