"""What can be wrong with the sound of a take: cut off flat, drowned in noise."""

import numpy as np

from .pitch_tracking import SETTLED_SECONDS
from .take import Take

FLAT_FRAMES_AT_44K = 4
"""So many equal samples in a row at the very top are no wave's own crest, but a ceiling; more at higher rates."""
EQUAL_WITHIN = 1e-6
LOUD_FOR_A_CEILING = 0.25
"""Recordings that stay below hit no ceiling."""

NOISE_BAND_HZ = (147.0, 5200.0)
"""In which a banjo radiates (Rae & Rossing): rumble below and hiss above do not count against a take."""
HIGHEST_SHARE_OF_RATE = 0.45
HEARD_SECONDS = 0.4
NOISE_MEDIAN = np.log(2)
"""Median of a noise's power from bin to bin, against its mean: the power is distributed exponentially."""
PARTIAL_BINS, BETWEEN_SHARE = 6, 0.35
"""A partial under the window used here takes so many bins to both sides; where partials lie close, this share of the
way to the next."""


def is_clipped(samples: np.ndarray, rate_hz: int) -> bool:
    """Whether the highest part of the wave is a straight line."""
    top = np.abs(samples).max()
    if top < LOUD_FOR_A_CEILING:
        return False
    wanted = max(FLAT_FRAMES_AT_44K, round(FLAT_FRAMES_AT_44K * rate_hz / 44_100))
    return any(_longest_run(sign * samples >= top - EQUAL_WITHIN) >= wanted for sign in (1, -1))


def noise_below_db(take: Take, first_partial_hz: float) -> float:
    """How far the noise lies below the first part of the note, in dB, both in the band in which a banjo radiates.

    The noise is what lies midway between the partials once the head has come to rest. Decaying partials leave their own
    skirts there, so that even a faultless take reads no more than 50 to 80.
    """
    frames, settled = (round(seconds * take.rate_hz) for seconds in (HEARD_SECONDS, SETTLED_SECONDS))
    note, _ = _in_band(take.samples[:frames], take.rate_hz, first_partial_hz)
    stretch = take.samples[settled:settled + frames]
    window = np.blackman(len(stretch))
    _, between = _in_band(stretch * window / np.sqrt(np.mean(window ** 2)), take.rate_hz, first_partial_hz)
    return float(10 * np.log10(max(note / max(between, np.finfo(float).tiny), 1.0)))


def _in_band(stretch: np.ndarray, rate_hz: int, first_partial_hz: float) -> tuple[float, float]:
    """(power, power if all of the band were as between the partials), as mean squares."""
    power = np.abs(np.fft.rfft(stretch)) ** 2 * 2 / len(stretch) ** 2
    bin_hz = rate_hz / len(stretch)
    place = np.arange(len(power)) * bin_hz
    in_band = (place >= NOISE_BAND_HZ[0]) & (place <= min(NOISE_BAND_HZ[1], HIGHEST_SHARE_OF_RATE * rate_hz))
    from_partial = np.abs((place / first_partial_hz + 0.5) % 1 - 0.5) * first_partial_hz
    between = in_band & (from_partial >= min(PARTIAL_BINS * bin_hz, BETWEEN_SHARE * first_partial_hz))
    return float(power[in_band].sum()), float(np.median(power[between]) / NOISE_MEDIAN * np.count_nonzero(in_band))


def _longest_run(true: np.ndarray) -> int:
    """The most in a row that are True."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], true.astype(np.int8), [0]])))
    return int((edges[1::2] - edges[::2]).max()) if len(edges) else 0
