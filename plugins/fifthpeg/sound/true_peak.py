"""The true peak of a recording, between its samples: ITU-R BS.1770-4, Annex 2.

Conventions: samples float64, full scale 1.0, of shape (frames,) or (channels, frames).
"""

from math import log10

import numpy as np
from scipy.signal import firwin, resample_poly

OVERSAMPLING = 4
TAPS_BESIDE = 10
"""Frames to either side that the interpolation reads."""
INTERPOLATOR = firwin(2 * TAPS_BESIDE * OVERSAMPLING + 1, 1 / OVERSAMPLING, window=("kaiser", 5.0))
"""The filter resample_poly would design anew at every call."""
PEAK_BLOCK = 128
MOST_OF_SAMPLES, MOST_OF_BENDS = 1.001, 0.41
"""Between two samples the curve is no higher than so much of the higher one and so much of the sharpest bend near it:
each phase of the filter is a straight line between the two and a sum of second differences, with weights that sum to
0.406 at most."""


def true_peak_dbtp(samples: np.ndarray, rate_hz: int) -> float:
    """Highest point of the curve through the samples, by four-fold oversampling.

    Of the channel that has it. Only blocks where the curve may be highest are oversampled: few, since most of a
    recording is far below its peak and bends little.
    """
    if samples.ndim > 1:
        return max(true_peak_dbtp(channel, rate_hz) for channel in samples)
    if not len(samples):
        return -np.inf
    highest = max(samples.max(), -samples.min())
    return in_db(_fine_peak(samples, np.flatnonzero(_highest_possible(samples) >= highest)))


def _highest_possible(samples: np.ndarray) -> np.ndarray:
    """For each block, a height that the curve between its samples can't pass. In place: most of the time is memory."""
    padded = np.pad(samples, (PEAK_BLOCK, PEAK_BLOCK + -len(samples) % PEAK_BLOCK))
    bends = np.zeros(len(padded))
    inner = np.add(padded[:-2], padded[2:], out=bends[1:-1])
    inner -= padded[1:-1]
    inner -= padded[1:-1]
    highest = np.maximum(_magnitudes(padded)[1:-1], np.abs(padded[2 * PEAK_BLOCK::PEAK_BLOCK]))
    sharpest = _magnitudes(bends)
    beside = np.maximum(np.maximum(sharpest[:-2], sharpest[2:]), sharpest[1:-1])
    return MOST_OF_SAMPLES * highest + MOST_OF_BENDS * beside


def _magnitudes(values: np.ndarray) -> np.ndarray:
    """The greatest of each block."""
    blocks = values.reshape(-1, PEAK_BLOCK)
    return np.maximum(blocks.max(axis=1), -blocks.min(axis=1))


def _fine_peak(samples: np.ndarray, blocks: np.ndarray) -> float:
    """Of these blocks, by their numbers: all at once, each with as many frames beside it as the interpolation reads."""
    padded = np.pad(samples, (TAPS_BESIDE, TAPS_BESIDE + -len(samples) % PEAK_BLOCK))
    cut = padded[PEAK_BLOCK * blocks[:, None] + np.arange(PEAK_BLOCK + 2 * TAPS_BESIDE)]
    fine = np.abs(resample_poly(cut, OVERSAMPLING, 1, axis=1, window=INTERPOLATOR))
    left = len(samples) - PEAK_BLOCK * int(blocks[-1])
    fine[-1, OVERSAMPLING * (TAPS_BESIDE + left):] = 0  # past the end of the recording
    return float(fine[:, OVERSAMPLING * TAPS_BESIDE:OVERSAMPLING * (TAPS_BESIDE + PEAK_BLOCK)].max())


def crest(channel: np.ndarray) -> np.ndarray:
    """The highest point of the curve at and beside each sample."""
    fine = np.abs(resample_poly(channel, OVERSAMPLING, 1, window=INTERPOLATOR)).reshape(-1, OVERSAMPLING)
    return np.maximum(fine.max(axis=1), np.roll(fine, 1, axis=0)[:, 1:].max(axis=1))


def in_db(ratio: float) -> float:
    return 20 * log10(ratio) if ratio > 0 else -np.inf
