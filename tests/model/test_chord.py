"""Chord names against two other readers of them: music21 and pychord."""

import pychord
import pytest
from fifthpeg.model.chord import chord_pitch_classes, moved_key
from music21.harmony import ChordSymbol

NAMES = ("G", "C", "D7", "Em", "F", "A7", "Am", "Bm", "D", "E7", "Bb", "F#m", "G7", "Cm", "D7sus4", "Gm")


@pytest.mark.parametrize("name", NAMES)
def test_pitch_classes_agree_with_music21(name):
    root_flat_as_minus = name[0] + name[1:].replace("b", "-", 1) if name[1:2] == "b" else name
    assert set(chord_pitch_classes(name)) == {pitch.pitchClass for pitch in ChordSymbol(root_flat_as_minus).pitches}


@pytest.mark.parametrize("name", NAMES)
def test_pitch_classes_agree_with_pychord(name):
    classes = {note % 12 for note in pychord.Chord(name).components(visible=False)}
    assert set(chord_pitch_classes(name)) == classes


@pytest.mark.parametrize(("typographic", "plain"), [("B♭", "Bb"), ("F♯m", "F#m")])
def test_printed_accidentals_mean_the_same(typographic, plain):
    assert chord_pitch_classes(typographic) == chord_pitch_classes(plain)


def test_the_root_comes_first_and_a_foreign_bass_last():
    assert chord_pitch_classes("G/F")[0] == 7
    assert chord_pitch_classes("G/F")[-1] == 5


def test_a_bass_note_of_the_chord_adds_nothing():
    assert chord_pitch_classes("G/B") == chord_pitch_classes("G")


@pytest.mark.parametrize("wrong", ["H", "Gmm", "", "g", "G13#"])
def test_what_is_no_chord_is_refused_by_name(wrong):
    with pytest.raises(ValueError, match="no chord"):
        chord_pitch_classes(wrong)


@pytest.mark.parametrize("key, capo, sounds", [("G", 0, "G"), ("G", 2, "A"), ("G", 4, "B"), ("D", 3, "F"), ("Gm", 1, "Abm"),
                                                ("C", 2, "D"), ("F#", 1, "G"), ("B♭", 2, "C")])
def test_a_capo_moves_the_key(key, capo, sounds):
    """Worked by hand, a half step a fret."""
    assert moved_key(key, capo) == sounds
