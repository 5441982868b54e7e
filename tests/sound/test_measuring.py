"""Figures of the report against the tests' own instruments and against sounds whose figures are known."""

import numpy as np
import pytest

from fifthpeg.model.bank import BankNote
from fifthpeg.model.pitch import frequency_hz
from fifthpeg.sound.loudness import integrated_lufs
from fifthpeg.sound.measuring import figures_of
from fifthpeg.sound.render import RATE_HZ, render_note

from .measure import falls_by_db, karplus_strong


@pytest.mark.parametrize("cents", [-20.0, 0.0, 7.5])
def test_pitch_is_that_of_the_delay_line_string(cents):
    """Karplus & Strong 1983, Jaffe & Smith 1983."""
    sound = karplus_strong(frequency_hz(57 + cents / 100), RATE_HZ, 1.5)
    assert figures_of(sound, RATE_HZ, 57).cents == pytest.approx(cents, abs=0.1)


@pytest.mark.parametrize("decay", [5.0, 11.0])
def test_decay_is_that_of_a_dying_sine(decay):
    """An amplitude e^(−at) has lost x dB of energy after x / (20·a·log10 e) seconds."""
    time = np.arange(3 * RATE_HZ) / RATE_HZ
    figures = figures_of(0.5 * np.sin(2 * np.pi * 440 * time) * np.exp(-decay * time), RATE_HZ, 69)
    assert figures.falls_10_db == pytest.approx(10 / (20 * decay * np.log10(np.e)), rel=0.02)
    assert figures.falls_20_db == pytest.approx(2 * figures.falls_10_db, rel=0.02)
    assert figures.peak_db == pytest.approx(20 * np.log10(0.5), abs=0.1)


def test_decay_of_a_note_is_as_the_other_instrument_has_it():
    note = render_note(BankNote(3, 57, 2))
    assert figures_of(note, RATE_HZ, 57).falls_20_db == pytest.approx(falls_by_db(note, RATE_HZ, 20))


def test_level_differs_between_sounds_as_loudness_does():
    """By the tests' BS.1770, which is checked against another's; the offset of that scale falls away."""
    loud = np.sin(2 * np.pi * 1000 * np.arange(RATE_HZ) / RATE_HZ)
    low = np.sin(2 * np.pi * 147 * np.arange(RATE_HZ) / RATE_HZ)
    levels = [figures_of(sound, RATE_HZ, 60).level_db for sound in (loud, low)]
    lufs = [integrated_lufs(sound, RATE_HZ) for sound in (loud, low)]
    assert levels[0] - levels[1] == pytest.approx(lufs[0] - lufs[1], abs=0.2)


def test_the_centre_of_two_equal_sines_lies_midway():
    time = np.arange(RATE_HZ) / RATE_HZ
    sound = np.sin(2 * np.pi * 1000 * time) + np.sin(2 * np.pi * 3000 * time)
    assert figures_of(sound, RATE_HZ, 60).centre_hz == pytest.approx(2000, abs=40)


def test_a_damped_pluck_has_no_pitch():
    assert figures_of(render_note(BankNote(3, 0, 2, "damped")), RATE_HZ, 0).cents is None
