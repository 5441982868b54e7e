"""Loudness and peaks against the standard's own tone, and against pyloudnorm and scipy."""

from fractions import Fraction

import numpy as np
import pyloudnorm
import pytest
from scipy.signal import resample_poly

from fifthpeg.sound.loudness import CEILING_DBTP, TARGET_LUFS, gain_for, integrated_lufs, level, limit
from fifthpeg.sound.mix import mix, sounds_needed
from fifthpeg.sound.render import RATE_HZ, render_bank
from fifthpeg.sound.true_peak import MOST_OF_BENDS, MOST_OF_SAMPLES, true_peak_dbtp

from .licks import FORWARD_ROLL, SLUICE_TAG, WEIR_RUN, performed


def sine(frequency_hz: float, dbfs: float, seconds: float, rate_hz: int = 48_000) -> np.ndarray:
    return 10 ** (dbfs / 20) * np.sin(2 * np.pi * frequency_hz * np.arange(round(seconds * rate_hz)) / rate_hz)


def recording(bars, share_of_tempo=1) -> np.ndarray:
    performance = performed(*bars, tempo=208)
    bank = render_bank(sounds_needed(performance, 0))
    return mix(performance, 0, bank, performance.quarters_per_minute * share_of_tempo)


def by_pyloudnorm(samples: np.ndarray, rate_hz: int) -> float:
    return pyloudnorm.Meter(rate_hz, filter_class="DeMan").integrated_loudness(samples.T)


def by_scipy_dbtp(samples: np.ndarray) -> float:
    return 20 * np.log10(np.abs(resample_poly(samples, 4, 1, axis=-1)).max())


def test_a_full_scale_tone_reads_what_the_standard_says():
    """ITU-R BS.1770-4, Annex 1: 0 dBFS at 997 Hz in one front channel reads −3.01 LKFS."""
    assert integrated_lufs(sine(997, 0, 5), 48_000) == pytest.approx(-3.01, abs=0.02)


def test_quiet_passages_are_gated():
    """EBU Tech 3341's third case (from memory), in mono 3.01 lower: −36, −23, −36 dBFS read as −23 alone."""
    steps = np.concatenate([sine(1000, -36, 10), sine(1000, -23, 60), sine(1000, -36, 10)])
    assert integrated_lufs(steps, 48_000) == pytest.approx(-26.01, abs=0.1)


def stereo(*steps: np.ndarray) -> np.ndarray:
    """The same on both channels."""
    return np.vstack([np.concatenate(steps)] * 2)


def tone(dbfs: float, seconds: float) -> np.ndarray:
    return sine(1000, dbfs, seconds)


TECH_3341 = {
    "1: -23 dBFS for 20 s": ([tone(-23, 20)], -23.0),
    "2: -33 dBFS for 20 s": ([tone(-33, 20)], -33.0),
    "3: quieter tones are gated": ([tone(-36, 10), tone(-23, 60), tone(-36, 10)], -23.0),
    "4: far quieter ones too": ([tone(-72, 10), tone(-36, 10), tone(-23, 60), tone(-36, 10), tone(-72, 10)], -23.0),
    "5: louder and quieter together": ([tone(-26, 20), tone(-20, 20.1), tone(-26, 20)], -23.0),
}
"""EBU Tech 3341, table 1 (from memory): stereo sines of 1 kHz in phase, level of each channel in dBFS; tolerance
0.1 LU. Case 6 has five channels, 7 and 8 are programme material, 9 to 14 are of momentary and short-term loudness:
we have none of those."""


@pytest.mark.parametrize(("steps", "lufs"), TECH_3341.values(), ids=TECH_3341)
def test_the_signals_of_tech_3341_read_as_they_should(steps, lufs):
    assert integrated_lufs(stereo(*steps), 48_000) == pytest.approx(lufs, abs=0.1)
    assert by_pyloudnorm(stereo(*steps), 48_000) == pytest.approx(lufs, abs=0.1)


TECH_3341_PEAKS = {
    "15: a quarter of the rate": (48_000 / 4, 0.0, 0.50, -6.0),
    "16: a quarter of the rate, 45 degrees off": (48_000 / 4, 45.0, 0.50, -6.0),
    "17: a sixth of the rate, 60 degrees off": (48_000 / 6, 60.0, 0.50, -6.0),
    "18: an eighth of the rate, 67.5 degrees off": (48_000 / 8, 67.5, 0.50, -6.0),
}


@pytest.mark.parametrize(("frequency_hz", "degrees", "peak", "dbtp"), TECH_3341_PEAKS.values(), ids=TECH_3341_PEAKS)
def test_the_peak_signals_of_tech_3341_read_as_they_should(frequency_hz, degrees, peak, dbtp):
    """Cases 15 to 18 (from memory): sines of 0.5 whose samples miss their crests; +0.2/-0.4 dB are allowed."""
    faded = np.hanning(48_000 // 2) ** 0.1
    wave = peak * faded * np.sin(2 * np.pi * frequency_hz * np.arange(len(faded)) / 48_000 + np.radians(degrees))
    assert dbtp - 0.4 <= true_peak_dbtp(np.vstack([wave, wave]), 48_000) <= dbtp + 0.2


def test_two_channels_of_one_tone_read_3_01_higher_than_one():
    tone_of_one = sine(997, -20, 3)
    assert integrated_lufs(np.vstack([tone_of_one] * 2), 48_000) - integrated_lufs(tone_of_one, 48_000) == pytest.approx(
        3.01, abs=0.001)


@pytest.mark.parametrize("rate_hz", [22_050, 44_100, 48_000])
def test_noise_reads_as_in_pyloudnorm(rate_hz):
    noise = np.random.default_rng(3).normal(scale=0.05, size=5 * rate_hz)
    assert integrated_lufs(noise, rate_hz) == pytest.approx(by_pyloudnorm(noise, rate_hz), abs=0.02)


def test_silence_has_no_loudness_and_is_left_alone():
    silence = np.zeros(RATE_HZ)
    assert integrated_lufs(silence, RATE_HZ) == -np.inf
    assert gain_for(silence, RATE_HZ) == 1.0
    assert np.array_equal(level(silence, RATE_HZ).samples, silence)


def test_a_recording_shorter_than_a_block_has_a_loudness():
    assert np.isfinite(integrated_lufs(sine(997, -10, 0.1), 48_000))


@pytest.mark.parametrize("share", [0.5, 0.75, 1], ids=["slow", "medium", "full"])
@pytest.mark.parametrize("bars", [WEIR_RUN, SLUICE_TAG, FORWARD_ROLL], ids=["weir run", "sluice tag", "forward roll"])
def test_licks_come_out_at_one_loudness_under_the_ceiling(bars, share):
    levelled = level(recording(bars, Fraction(share)), RATE_HZ)
    assert by_pyloudnorm(levelled.samples, RATE_HZ) == pytest.approx(TARGET_LUFS, abs=0.5)
    assert by_scipy_dbtp(levelled.samples) <= CEILING_DBTP
    assert levelled.lufs == pytest.approx(by_pyloudnorm(levelled.samples, RATE_HZ), abs=0.1)


def test_a_plain_lick_needs_no_limiter():
    assert level(recording(FORWARD_ROLL), RATE_HZ).reduction_db == 0.0


def test_a_target_too_loud_for_the_peaks_is_reached_by_the_limiter():
    levelled = level(recording(SLUICE_TAG), RATE_HZ, target_lufs=-15.0)
    assert by_pyloudnorm(levelled.samples, RATE_HZ) == pytest.approx(-15.0, abs=0.5)
    assert by_scipy_dbtp(levelled.samples) <= CEILING_DBTP
    assert 0 < levelled.reduction_db < 6


def test_the_open_gain_keeps_the_unlimited_mix_under_the_ceiling():
    mixed = recording(SLUICE_TAG)
    levelled = level(mixed, RATE_HZ, target_lufs=-15.0)
    assert by_scipy_dbtp(mixed * levelled.open_gain) <= CEILING_DBTP


def test_the_limiter_leaves_what_is_low_enough():
    tone = sine(440, -12, 0.5)
    limited, reduction_db = limit(tone, 48_000, CEILING_DBTP)
    assert reduction_db == 0.0
    assert np.allclose(limited, tone)


def test_the_limiter_turns_both_channels_down_alike():
    loud, soft = sine(440, -12, 0.5), sine(300, -20, 0.5)
    loud[12_000:12_040] *= 6
    both, reduction_db = limit(np.vstack([loud, soft]), 48_000, CEILING_DBTP)
    alone, _ = limit(loud, 48_000, CEILING_DBTP)
    assert reduction_db > 3
    assert np.allclose(both[0], alone)
    assert np.allclose(both[1] * loud, soft * alone)


@pytest.mark.parametrize("target", [-21.0, -15.0])
def test_stereo_comes_out_at_the_target_under_the_ceiling(target):
    lick_left, lick_right = recording(SLUICE_TAG), 0.7 * recording(SLUICE_TAG)
    levelled = level(np.vstack([lick_left, lick_right]), RATE_HZ, target_lufs=target)
    assert by_pyloudnorm(levelled.samples, RATE_HZ) == pytest.approx(target, abs=0.5)
    assert by_scipy_dbtp(levelled.samples) <= CEILING_DBTP


def test_the_limiter_moves_slowly():
    """A single high peak is led up to, not cut off: the gain never changes by more than 3 % from frame to frame."""
    tone = sine(440, -12, 0.5)
    tone[12_000:12_040] *= 6
    gain = limit(tone, 48_000, CEILING_DBTP)[0] / np.where(tone == 0, 1, tone)
    assert np.abs(np.diff(gain[1:])).max() < 0.03


@pytest.mark.parametrize("frames", [1, 255, 257, 4000])
def test_the_true_peak_is_that_of_fourfold_oversampling_throughout(frames):
    fading = np.random.default_rng(frames).normal(size=frames) * np.exp(-np.arange(frames) / 700)
    assert true_peak_dbtp(fading, RATE_HZ) == pytest.approx(by_scipy_dbtp(fading), abs=1e-9)


def test_a_peak_between_samples_is_found():
    """A sine at a quarter of the rate, 45° off its crests: samples at 0.707, true peak at 1."""
    off_crest = np.sin(np.pi / 2 * np.arange(4000) + np.pi / 4)
    assert true_peak_dbtp(off_crest, 48_000) == pytest.approx(0.0, abs=0.2)


@pytest.mark.parametrize("place", [0, 127, 128, 1000, 1151])
def test_the_true_peak_is_found_where_the_curve_swells_most_between_its_samples(place):
    """A sign that slips in a row of turns is the worst there is: the curve is more than twice as high as the samples.
    Beside it stands a slow wave that is higher than they are, and lower than the curve."""
    wave = 1.5 * np.sin(np.arange(1152) / 40) * (np.abs(np.arange(1152) - place) > 200)
    turns = np.arange(max(0, place - 40), min(1152, place + 40))
    wave[turns] = np.where(turns < place, 1, -1) * (-1.0) ** turns
    assert true_peak_dbtp(wave, RATE_HZ) == pytest.approx(by_scipy_dbtp(wave), abs=1e-9)


def test_the_curve_is_no_higher_than_its_samples_and_their_bends_allow():
    """Each phase of scipy's filter less a straight line between two samples leaves weights without sum or moment: as a
    sum of second differences they are those weights summed up twice."""
    taps, offsets = resample_poly(np.eye(41)[20], 4, 1), np.arange(-11, 12)
    for phase in range(4):
        weights = taps[80 + phase - 4 * offsets]
        moment = (weights * offsets).sum()
        line = np.where(offsets == 0, weights.sum() - moment, 0) + np.where(offsets == 1, moment, 0)
        bends = np.cumsum(np.cumsum(weights - line))
        assert np.abs(line).sum() <= MOST_OF_SAMPLES and np.abs(bends).sum() <= MOST_OF_BENDS
        assert bends[-2:] == pytest.approx([0, 0], abs=1e-9)
