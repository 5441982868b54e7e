"""Is every note of the bank in tune? Equal temperament, A4 = 440 Hz (ISO 16:1975)."""

import numpy as np
import pytest

from fifthpeg.model.bank import BankNote
from fifthpeg.model.pitch import frequency_hz
from fifthpeg.model.tuning import LAST_FRET, SHORT_STRING, SHORT_STRING_NUT, STRING_NUMBERS, TUNINGS, sounding_midi
from fifthpeg.sound.render import RATE_HZ, render_note

from .measure import cents, karplus_strong, phase_advance_hz

WITHIN_CENTS = 0.1


def frets_of(string_number: int) -> list[int]:
    first = SHORT_STRING_NUT + 1 if string_number == SHORT_STRING else 1
    return [0, *range(first, LAST_FRET + 1)]


def error_cents(note: BankNote) -> float:
    wanted_hz = frequency_hz(note.midi)
    return cents(phase_advance_hz(render_note(note), RATE_HZ, wanted_hz), wanted_hz)


@pytest.mark.parametrize("string_number", STRING_NUMBERS)
def test_every_fret_of_open_g_is_in_tune(string_number):
    notes = [BankNote(string_number, sounding_midi(TUNINGS["open G"], string_number, fret), fret)
             for fret in frets_of(string_number)]
    assert max(abs(error_cents(note)) for note in notes) <= WITHIN_CENTS


@pytest.mark.parametrize("tuning", TUNINGS.values(), ids=lambda tuning: tuning.name)
def test_every_open_string_of_every_tuning_is_in_tune(tuning):
    notes = [BankNote(string_number, tuning.open_midi(string_number), 0) for string_number in STRING_NUMBERS]
    assert max(abs(error_cents(note)) for note in notes) <= WITHIN_CENTS


@pytest.mark.parametrize("touch", ["slide", "hammer-on", "pull-off", "chime"])
def test_notes_without_a_pick_are_in_tune(touch):
    assert abs(error_cents(BankNote(3, 67, 12, touch))) <= WITHIN_CENTS


CHIMES = [(12, 2, 0.0), (7, 3, 1.955), (5, 4, 0.0), (4, 5, -13.686)]


@pytest.mark.parametrize("node, partial, cents_off", CHIMES)
def test_a_chime_sounds_the_partial_itself(node, partial, cents_off):
    """Off equal temperament by 1200·log2(partial) less whole semitones: a fifth partial is 14 cents under its fret."""
    midi, wanted_hz = 55 + round(12 * np.log2(partial)), partial * frequency_hz(55)
    sound = render_note(BankNote(3, midi, node, "chime", partial))
    assert abs(cents(phase_advance_hz(sound, RATE_HZ, wanted_hz), wanted_hz)) <= WITHIN_CENTS
    assert cents(wanted_hz, frequency_hz(midi)) == pytest.approx(cents_off, abs=0.001)


def test_a_capo_raises_the_open_strings():
    """Open G with a capo at 2: 69 52 57 61 64 (the makers' advice to raise the short string to fret 7)."""
    raised = [BankNote(string, midi, 0) for string, midi in zip((5, 4, 3, 2, 1), (69, 52, 57, 61, 64))]
    assert max(abs(error_cents(note)) for note in raised) <= WITHIN_CENTS


@pytest.mark.parametrize("midi, string_number", [(50, 4), (55, 3), (59, 2), (62, 1), (67, 5)])
def test_the_delay_line_string_of_karplus_and_strong_sounds_the_same_pitch(midi, string_number):
    reference = karplus_strong(frequency_hz(midi), 44_100, 0.8)
    reference_hz = phase_advance_hz(reference, 44_100, frequency_hz(midi))
    ours_hz = phase_advance_hz(render_note(BankNote(string_number, midi, 0)), RATE_HZ, frequency_hz(midi))
    assert abs(cents(ours_hz, reference_hz)) <= 2 * WITHIN_CENTS


def test_the_tuner_hears_a_tenth_of_a_cent():
    """The instrument itself: a sine 0.15 cent sharp is told from one in tune."""
    sharp_hz = 196.0 * 2 ** (0.15 / 1200)
    sine = np.sin(2 * np.pi * sharp_hz * np.arange(RATE_HZ) / RATE_HZ)
    assert cents(phase_advance_hz(sine, RATE_HZ, 196.0), 196.0) == pytest.approx(0.15, abs=0.01)
