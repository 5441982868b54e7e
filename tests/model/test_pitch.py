"""What strings and frets sound, against music21 and ISO 16:1975 (A4 = 440 Hz)."""

import pytest
from fifthpeg.model.pitch import frequency_hz, midi_of, name_of
from fifthpeg.model.tuning import TUNINGS, first_short_string_fret, sounding_midi
from music21.pitch import Pitch

OPEN_STRINGS = {
    "open G": "G4 D3 G3 B3 D4",
    "double C": "G4 C3 G3 C4 D4",
    "sawmill": "G4 D3 G3 C4 D4",
    "drop C": "G4 C3 G3 B3 D4",
    "open D": "F#4 D3 F#3 A3 D4",
    "open D with a": "A4 D3 F#3 A3 D4",
    "G minor": "G4 D3 G3 B-3 D4",
}
"""Fifth to first string. Common practice, no source; G minor from memory. music21 writes a flat as ``-``."""
OPEN_G_HZ = (391.995, 146.832, 195.998, 246.942, 293.665)
"""Equal temperament, printed to a thousandth: any table of note frequencies at A4 = 440 Hz (ISO 16:1975)."""


@pytest.mark.parametrize("name", OPEN_STRINGS)
def test_open_strings_sound_the_notes_their_tuning_names(name):
    assert TUNINGS[name].pitches == tuple(Pitch(string).midi for string in OPEN_STRINGS[name].split())


def test_every_tuning_is_held_against_music21():
    assert set(OPEN_STRINGS) == set(TUNINGS)


@pytest.mark.parametrize(("string_number", "hz"), list(zip((5, 4, 3, 2, 1), OPEN_G_HZ, strict=True)))
def test_open_g_in_hertz(string_number, hz):
    assert frequency_hz(TUNINGS["open G"].open_midi(string_number)) == pytest.approx(hz, abs=0.0006)


@pytest.mark.parametrize("midi", range(36, 97))
def test_frequencies_agree_with_music21(midi):
    assert frequency_hz(midi) == pytest.approx(Pitch(midi=midi).frequency, rel=1e-6)


@pytest.mark.parametrize("midi", range(24, 109))
def test_names_agree_with_music21(midi):
    assert Pitch(name_of(midi)).midi == midi
    assert midi_of(name_of(midi)) == midi


def test_a_flat_names_the_note_below():
    assert midi_of("Bb3") == midi_of("B♭3") == Pitch("B-3").midi


@pytest.mark.parametrize("wrong", ["H4", "G", "G#b4", "", "4"])
def test_what_is_no_pitch_is_refused_by_name(wrong):
    with pytest.raises(ValueError, match="no pitch"):
        midi_of(wrong)


def test_each_fret_is_a_semitone():
    assert [sounding_midi(TUNINGS["open G"], 3, fret) for fret in (0, 1, 2, 12)] == [55, 56, 57, 67]


def test_the_short_string_starts_at_its_own_nut():
    """It stands at the fifth fret, so fret 7 is the open pitch and two (common practice, no source)."""
    assert sounding_midi(TUNINGS["open G"], 5, 7) == Pitch("A4").midi
    assert first_short_string_fret(capo=0, fifth=None) == 6


def test_capo_at_two_raises_all_five_strings():
    """Two capo makers' pages: with a capo at 2 the short string is raised to fret 7."""
    assert [sounding_midi(TUNINGS["open G"], string, 0, capo=2) for string in (5, 4, 3, 2, 1)] == [69, 52, 57, 61, 64]


def test_frets_are_counted_from_the_capo():
    assert sounding_midi(TUNINGS["open G"], 3, 2, capo=2) == 59
    assert sounding_midi(TUNINGS["open G"], 5, 7, capo=2) == 67 + 7 + 2 - 5


def test_the_short_string_can_be_left_where_it_is():
    assert sounding_midi(TUNINGS["open G"], 5, 0, capo=2, fifth=0) == 67
    assert first_short_string_fret(capo=2, fifth=0) == 4


def test_the_short_string_can_be_raised_by_itself():
    assert sounding_midi(TUNINGS["open G"], 5, 0, capo=0, fifth=7) == 69
    assert first_short_string_fret(capo=0, fifth=7) == 8
