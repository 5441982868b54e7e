"""Partials of a stiff string, and how they die away."""

from math import pi

import numpy as np
import pytest

from fifthpeg.model.bank import BankNote
from fifthpeg.model.pitch import frequency_hz
from fifthpeg.sound.render import RATE_HZ, render_note
from fifthpeg.sound.string import partials_of, span_of

from .measure import band_energy, cents, falls_by_db, phase_advance_hz


def fletcher_b(diameter_m: float, length_m: float, f0_hz: float) -> float:
    """π³·E·d⁴ / (64·T·L²) for steel (E 200 GPa, 7850 kg/m³), after Fletcher, JASA 36, 1964."""
    tension_n = 7850 * pi * diameter_m ** 2 / 4 * (2 * length_m * f0_hz) ** 2
    return pi ** 3 * 2e11 * diameter_m ** 4 / (64 * tension_n * length_m ** 2)


@pytest.mark.parametrize("string_number, midi, inch", [(1, 62, 0.009), (2, 59, 0.011), (3, 55, 0.013)])
def test_partials_are_stretched_as_fletcher_says(string_number, midi, inch):
    b = fletcher_b(inch * 0.0254, 0.66675, frequency_hz(midi))
    sound = render_note(BankNote(string_number, midi, 0))
    for n in (2, 3, 5, 9, 12):
        wanted_hz = n * frequency_hz(midi) * np.sqrt((1 + b * n * n) / (1 + b))
        heard_hz = phase_advance_hz(sound, RATE_HZ, wanted_hz, apart_seconds=0.1, window_seconds=0.15)
        assert abs(cents(heard_hz, wanted_hz)) < 0.1


def test_a_high_fret_is_stretched_more_than_the_open_string():
    open_string, twelfth = span_of(1, 62, 0), span_of(1, 74, 12)
    assert twelfth.stiffness == pytest.approx(4 * open_string.stiffness)


@pytest.mark.parametrize("string_number, midi, pounds", [(1, 62, 11.0), (2, 59, 11.7), (3, 55, 10.3), (5, 67, 11.0)])
def test_tensions_are_those_of_a_light_set(string_number, midi, pounds):
    """Common practice, no source: a light set pulls about so hard in open G."""
    assert span_of(string_number, midi, 0).tension_n / 4.448 == pytest.approx(pounds, abs=0.2)


def test_no_partial_lies_where_it_would_fold_over():
    highest_hz = partials_of(span_of(1, 84, 22), RATE_HZ).frequency_hz.max()
    assert highest_hz < RATE_HZ / 2


@pytest.mark.parametrize("drop_db, fastest, slowest", [(10, 0.094, 0.315), (20, 0.216, 0.872)])
def test_notes_die_away_as_fast_as_a_banjos(drop_db, fastest, slowest):
    """Energy of the FluidR3 sound font's banjo falls 10 dB in 94–315 ms, 20 dB in 216–872 ms, G5 down to D3."""
    plucks = [BankNote(4, 50, 0), BankNote(3, 55, 0), BankNote(2, 59, 0), BankNote(1, 62, 0), BankNote(5, 67, 0),
              BankNote(1, 69, 7), BankNote(1, 74, 12), BankNote(1, 79, 17)]
    times = [falls_by_db(render_note(note), RATE_HZ, drop_db) for note in plucks]
    assert fastest <= min(times) and max(times) <= slowest


def test_higher_notes_die_away_sooner():
    along_the_first_string = [falls_by_db(render_note(BankNote(1, 62 + fret, fret)), RATE_HZ, 20)
                              for fret in (0, 5, 9, 14, 18, 22)]
    assert along_the_first_string == sorted(along_the_first_string, reverse=True)


def test_most_of_the_sound_lies_where_a_banjo_radiates():
    """Formants 400–1800 and 2000–4000 Hz, band 147–5200 Hz (Rae & Rossing, abstract)."""
    first = render_note(BankNote(3, 55, 0))[:round(0.3 * RATE_HZ)]
    everything = band_energy(first, RATE_HZ, 0, RATE_HZ / 2)
    assert band_energy(first, RATE_HZ, 147, 5200) > 0.95 * everything
    assert band_energy(first, RATE_HZ, 400, 4000) > 0.5 * everything


def test_a_chime_rings_longer_than_the_same_pitch_fretted():
    """The wave runs along the whole string and meets the bridge half as often (an octave chime)."""
    sounds = (render_note(BankNote(3, 67, 12, touch)) for touch in ("chime", "pick"))
    chime, fretted = (falls_by_db(sound, RATE_HZ, 20) for sound in sounds)
    assert chime > 1.3 * fretted
