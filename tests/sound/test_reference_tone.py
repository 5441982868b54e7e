"""Sounds to tune by: exactly in tune, round and round without a seam, as loud as the rest of the site."""

import numpy as np
import pytest

from fifthpeg.model.bank import BankNote
from fifthpeg.model.pitch import frequency_hz
from fifthpeg.model.tuning import TUNINGS
from fifthpeg.sound.loudness import integrated_lufs
from fifthpeg.sound.reference_tone import PLUCK_LEAD_SECONDS, returning_pluck, steady_tone, whole_periods
from fifthpeg.sound.render import render_note
from fifthpeg.sound.true_peak import true_peak_dbtp

from .measure import cents, phase_advance_hz

OPEN_STRINGS = sorted({pitch for tuning in TUNINGS.values() for pitch in tuning.pitches})
WITHIN_CENTS = 0.1
TARGET_LUFS = -21.0
QUANTISED_BELOW = 10 ** (-80 / 20)


@pytest.mark.parametrize("rate_hz", [22_050, 44_100, 48_000])
@pytest.mark.parametrize("midi", OPEN_STRINGS)
def test_a_tone_is_in_tune_however_often_it_goes_round(midi, rate_hz):
    """Twelve-tone equal temperament, A4 = 440 Hz (ISO 16:1975), measured over twenty turns."""
    turns = np.tile(steady_tone(frequency_hz(midi), rate_hz, TARGET_LUFS), 20)
    heard_hz = phase_advance_hz(turns, rate_hz, frequency_hz(midi), apart_seconds=0.2)
    far_hz = phase_advance_hz(turns[5 * rate_hz:], rate_hz, heard_hz, apart_seconds=10.0)
    assert abs(cents(heard_hz, frequency_hz(midi))) <= WITHIN_CENTS
    assert abs(cents(far_hz, frequency_hz(midi))) <= WITHIN_CENTS


@pytest.mark.parametrize("midi", OPEN_STRINGS)
def test_a_loop_has_no_seam(midi):
    """What repeats after its own length has a spectrum of lines only; a step at the seam would fill up what lies between."""
    tone = steady_tone(frequency_hz(midi), 22_050, TARGET_LUFS)
    frames, periods = whole_periods(frequency_hz(midi), 22_050)
    spectrum = np.abs(np.fft.rfft(tone)) * 2 / frames
    lines = np.zeros(len(spectrum), bool)
    lines[periods::periods] = True
    assert len(tone) == frames and spectrum[lines].max() > 0.01
    assert spectrum[~lines].max() < QUANTISED_BELOW


def test_a_seam_would_be_found():
    """What the test above leans on: a loop one frame too short."""
    frames, periods = whole_periods(196.0, 22_050)
    spectrum = np.abs(np.fft.rfft(0.1 * np.sin(2 * np.pi * periods * np.arange(frames - 1) / frames))) * 2 / frames
    spectrum[periods - 1:periods + 2] = 0
    assert spectrum.max() > QUANTISED_BELOW


@pytest.mark.parametrize("midi", OPEN_STRINGS)
def test_tones_and_plucks_are_as_loud_as_the_recordings(midi):
    """The site's loudness ±0.5 LU (ITU-R BS.1770), never over −1 dBTP; over twenty seconds, since the gate of the standard
    lets in more or less of the dying plucks by where a recording begins and ends."""
    pluck = returning_pluck(render_note(BankNote(3, midi, 0)), 22_050, TARGET_LUFS)
    for loop in (steady_tone(frequency_hz(midi), 22_050, TARGET_LUFS), pluck):
        turns = np.tile(loop, 20 * 22_050 // len(loop))
        assert integrated_lufs(turns, 22_050) == pytest.approx(TARGET_LUFS, abs=0.5)
        assert true_peak_dbtp(turns, 22_050) <= -0.99


def test_a_low_tone_is_heard_on_a_telephone():
    """Whose loudspeaker gives little below 500 Hz (common practice, no source): most of D3 lies above, to the ear."""
    tone = steady_tone(frequency_hz(50), 22_050, TARGET_LUFS)
    spectrum = np.fft.rfft(tone)
    spectrum[:round(500 * len(tone) / 22_050)] = 0
    assert integrated_lufs(np.tile(np.fft.irfft(spectrum, len(tone)), 3), 22_050) > TARGET_LUFS - 10


def test_a_pluck_comes_again_whole():
    note = render_note(BankNote(3, 55, 0))
    loop = returning_pluck(note, 22_050, TARGET_LUFS)
    lead = round(PLUCK_LEAD_SECONDS * 22_050)
    assert not loop[:lead].any() and not loop[lead + len(note):].any()
    assert np.allclose(loop[lead:lead + len(note)] / np.abs(loop).max(), note / np.abs(note).max(), atol=1e-3)
