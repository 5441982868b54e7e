"""The notes of the bank as sounds: attack, level, silence at the end, the same every time."""

import hashlib
import os
import subprocess
import sys
from fractions import Fraction

import numpy as np
import pytest
from scipy.signal import sosfilt

from fifthpeg.model.bank import BankNote
from fifthpeg.model.pitch import frequency_hz
from fifthpeg.model.tuning import STRING_NUMBERS, TUNINGS
from fifthpeg.sound.k_weighting import k_weighting
from fifthpeg.sound.loudness import integrated_lufs, level
from fifthpeg.sound.mix import mix, sounds_needed
from fifthpeg.sound.render import (LOUDNESS_SECONDS, PLUCK_RMS, RATE_HZ, modes_of, render_bank, render_note, sum_modes,
                                   to_int16)
from fifthpeg.sound.touches import LEGATO, TOUCHES

from .licks import SLUICE_TAG, performed
from .measure import band_energy

OPEN_G = TUNINGS["open G"]
STOPS = [(string, OPEN_G.open_midi(string) + fret, fret) for string in (1, 2, 3, 4) for fret in (0, 2, 5, 9, 14, 22)]
FIRST_FIVE_FRETS = [stop for stop in STOPS if stop[2] <= 5]


def test_the_matrix_product_is_the_sum_of_damped_sinusoids():
    """Against the sum written out, partial by partial."""
    modes, frames = modes_of(BankNote(3, 57, 2), RATE_HZ), 3000
    time = np.arange(frames)[:, None] / RATE_HZ
    waves = np.sin(2 * np.pi * modes.frequency_hz * time + modes.phase) * np.exp(-modes.decay * time)
    assert np.allclose(sum_modes(modes, frames, RATE_HZ), waves @ modes.amplitude, atol=1e-9)


@pytest.mark.parametrize("touch", TOUCHES)
def test_every_touch_sounds_and_ends_in_silence(touch):
    sound = render_note(BankNote(2, 0 if touch == "damped" else 64, 5, touch))
    assert np.abs(sound).max() > 0.02
    assert np.abs(sound[-20:]).max() <= 2 / 32768


def test_nothing_clips():
    bank = render_bank(BankNote(*stop, touch) for stop in STOPS for touch in ("pick", *LEGATO))
    assert max(np.abs(sound).max() for sound in bank.values()) < 0.5


@pytest.mark.parametrize("string_number", STRING_NUMBERS)
def test_plain_plucks_are_equally_loud(string_number):
    """Within 1.5 LU of the third string's, over their first 0.4 s."""
    def lufs(string: int) -> float:
        sound = render_note(BankNote(string, OPEN_G.open_midi(string), 0))
        return integrated_lufs(sound[:round(0.4 * RATE_HZ)], RATE_HZ)
    assert lufs(string_number) == pytest.approx(lufs(3), abs=1.5)


@pytest.mark.parametrize(("string_number", "midi", "stop"), [(1, 62, 0), (1, 79, 17), (3, 57, 2), (4, 50, 0), (5, 67, 0)])
def test_a_pluck_measures_the_level_that_its_energy_was_reckoned_to(string_number, midi, stop):
    """K-weighted mean square of the samples themselves; a recorded bank is levelled by that very measure."""
    sound = render_note(BankNote(string_number, midi, stop))[:round(LOUDNESS_SECONDS * RATE_HZ)]
    measured = np.sqrt(np.mean(np.square(sosfilt(k_weighting(RATE_HZ), sound))))
    assert 20 * np.log10(measured / PLUCK_RMS) == pytest.approx(0, abs=0.25)


@pytest.mark.parametrize("touch", LEGATO)
def test_a_left_hand_note_is_never_louder_than_its_pluck(touch):
    for stop in STOPS:
        pluck, landed = (render_note(BankNote(*stop, how))[:round(0.4 * RATE_HZ)] for how in ("pick", touch))
        assert integrated_lufs(landed, RATE_HZ) < integrated_lufs(pluck, RATE_HZ) - 1
        assert np.abs(landed).max() < np.abs(pluck).max()


@pytest.mark.parametrize("touch", ["pick", "hammer-on", "pull-off"])
def test_a_note_has_an_attack(touch):
    """It begins brighter, by a decibel, than a plucked string that has been ringing for an eighth at 240."""
    for stop in FIRST_FIVE_FRETS:
        ringing = render_note(BankNote(*stop))[round(0.125 * RATE_HZ):]
        assert brightness_db(render_note(BankNote(*stop, touch)), stop[1]) > brightness_db(ringing, stop[1]) + 1


def test_a_left_hand_attack_is_duller_than_a_picks():
    picked, slid = (brightness_db(render_note(BankNote(3, 57, 2, touch)), 57) for touch in ("pick", "slide"))
    assert slid < picked - 2


def brightness_db(sound: np.ndarray, midi: int) -> float:
    """1.5–6 kHz against the fundamental, over the first 40 ms."""
    first, f0_hz = sound[:round(0.04 * RATE_HZ)], frequency_hz(midi)
    top = band_energy(first, RATE_HZ, 1500, 6000)
    return 10 * np.log10(top / band_energy(first, RATE_HZ, 0.7 * f0_hz, 1.4 * f0_hz))


def test_touches_differ_on_the_same_stop():
    prints = {to_int16(render_note(BankNote(3, 57, 2, touch))).tobytes() for touch in ("pick", *LEGATO)}
    assert len(prints) == 4


def test_a_damped_pluck_is_a_short_knock():
    sound = render_note(BankNote(3, 0, 0, "damped"))
    late = sound[round(0.1 * RATE_HZ):]
    assert np.sum(late ** 2) < 0.01 * np.sum(sound ** 2)


def test_samples_are_what_sixteen_bits_hold():
    sound = render_note(BankNote(1, 64, 2))
    assert np.array_equal(to_int16(sound) / 32768, sound)


def test_rounding_to_sixteen_bits():
    steps = to_int16(np.array([0.0, 0.6 / 32768, -0.6 / 32768, 1.0, -1.0, 2.0]))
    assert steps.tolist() == [0, 1, -1, 32767, -32768, 32767]
    assert steps.dtype == np.int16


def test_the_same_bytes_on_one_thread_and_on_two():
    assert fingerprint_with(threads=1) == fingerprint_with(threads=2) == fingerprint()


def fingerprint() -> str:
    """Of the notes of a tag and of its recording, limiter included, and of every touch at both ends of the rates."""
    performance = performed(*SLUICE_TAG)
    bank = render_bank(sounds_needed(performance, 0))
    recording = level(mix(performance, 0, bank, Fraction(160)), RATE_HZ, target_lufs=-14.0)
    assert recording.reduction_db > 0
    touches = [render_note(BankNote(4, 62, 12, touch), rate_hz) for touch in TOUCHES for rate_hz in (8000, 48_000)]
    sounds = (*bank.values(), recording.samples, *touches)
    return hashlib.sha256(b"".join(to_int16(sound).tobytes() for sound in sounds)).hexdigest()


def fingerprint_with(threads: int) -> str:
    limits = {name: str(threads) for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")}
    paths = {"PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
    code = f"from {__name__} import fingerprint; print(fingerprint())"
    done = subprocess.run([sys.executable, "-c", code], env={**os.environ, **limits, **paths},
                          capture_output=True, text=True, check=True)
    return done.stdout.strip()
