"""Loudness and peak of recordings in mono or stereo: ITU-R BS.1770-4, each channel of weight 1.

Conventions: samples float64, full scale 1.0, of shape (frames,) or (channels, frames); LUFS as the standard reads the
file (the same tone on two channels reads 3.01 higher than on one).
"""

from dataclasses import dataclass
from math import log10

import numpy as np
from scipy.ndimage import minimum_filter1d
from scipy.signal import firwin, resample_poly, sosfilt

from .k_weighting import k_weighting

OFFSET_LU = -0.691
BLOCK_SECONDS = 0.4
HOPS_IN_BLOCK = 4
SILENCE_LUFS = -70.0
RELATIVE_GATE_LU = -10.0
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

TARGET_LUFS = -21.0
CEILING_DBTP = -1.0
LOOK_AHEAD_SECONDS = 0.004
GAIN_ROUNDS = 2
LEVELLING_ROUNDS = 6
CLOSE_ENOUGH_LU = 0.05
MARGIN_DB = 0.1
"""A limited peak may swell a little between the limiter's own grid points."""


@dataclass(frozen=True)
class Levelled:
    """``gain`` is the linear factor applied; ``reduction_db`` the most the limiter took (0: it was not needed)."""

    samples: np.ndarray
    gain: float
    reduction_db: float
    lufs: float
    true_peak_dbtp: float

    @property
    def open_gain(self) -> float:
        """The gain that stays under the ceiling where nothing limits, as in a player."""
        return self.gain * 10 ** (-self.reduction_db / 20)


def level(samples: np.ndarray, rate_hz: int, target_lufs: float = TARGET_LUFS,
          ceiling_dbtp: float = CEILING_DBTP) -> Levelled:
    """The recording at the target loudness, under the ceiling; silence stays as it is."""
    powers = block_powers(samples, rate_hz)
    gain = _gain_to(powers, target_lufs)
    peak_dbtp = true_peak_dbtp(samples, rate_hz) + _db(gain)
    if peak_dbtp <= ceiling_dbtp:
        return Levelled(samples * gain, gain, 0.0, _gated_lufs(powers * gain ** 2), peak_dbtp)
    return _limited(samples, rate_hz, target_lufs, ceiling_dbtp, gain)


def gain_for(samples: np.ndarray, rate_hz: int, target_lufs: float = TARGET_LUFS) -> float:
    """Linear factor that brings the recording to the target; 1 for silence."""
    return _gain_to(block_powers(samples, rate_hz), target_lufs)


def integrated_lufs(samples: np.ndarray, rate_hz: int) -> float:
    """Gated loudness of the whole; −inf where no block passes the gate of −70."""
    return _gated_lufs(block_powers(samples, rate_hz))


def block_powers(samples: np.ndarray, rate_hz: int) -> np.ndarray:
    """Weighted mean square of each block of 400 ms, all channels together.

    A block shares three quarters with the next; a recording shorter than one is padded.
    """
    hop = round(BLOCK_SECONDS / HOPS_IN_BLOCK * rate_hz)
    block = hop * HOPS_IN_BLOCK
    channels = np.atleast_2d(samples)
    if channels.shape[1] < block:
        channels = np.pad(channels, ((0, 0), (0, block - channels.shape[1])))
    weighted = sosfilt(k_weighting(rate_hz), channels)
    hops = weighted.shape[1] // hop
    squares = np.square(weighted, out=weighted)
    energy = squares[:, :hops * hop].reshape(-1, hops, hop).sum(axis=(0, 2))
    return np.convolve(energy, np.ones(HOPS_IN_BLOCK), "valid") / block


def _gated_lufs(powers: np.ndarray) -> float:
    heard = powers[powers > _power(SILENCE_LUFS)]
    if not len(heard):
        return -np.inf
    gate = _power(_lufs(heard.mean()) + RELATIVE_GATE_LU)
    return _lufs(heard[heard > gate].mean())


def _gain_to(powers: np.ndarray, target_lufs: float) -> float:
    """A second look, since a louder recording may lift more blocks over the gate."""
    gain = 1.0
    for _ in range(GAIN_ROUNDS):
        lufs = _gated_lufs(powers * gain ** 2)
        gain *= 10 ** ((target_lufs - lufs) / 20) if lufs > -np.inf else 1.0
    return gain


def true_peak_dbtp(samples: np.ndarray, rate_hz: int) -> float:
    """Highest point of the curve through the samples, by four-fold oversampling (BS.1770-4, Annex 2).

    Of the channel that has it. Only blocks where the curve may be highest are oversampled: few, since most of a
    recording is far below its peak and bends little.
    """
    if samples.ndim > 1:
        return max(true_peak_dbtp(channel, rate_hz) for channel in samples)
    if not len(samples):
        return -np.inf
    highest = max(samples.max(), -samples.min())
    return _db(_fine_peak(samples, np.flatnonzero(_highest_possible(samples) >= highest)))


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


def _limited(samples: np.ndarray, rate_hz: int, target_lufs: float, ceiling_dbtp: float, gain: float) -> Levelled:
    """Gain and limiter in turn until both aims hold; where they can't, the ceiling wins."""
    for _ in range(LEVELLING_ROUNDS):
        squeezed, reduction_db = limit(samples * gain, rate_hz, ceiling_dbtp)
        lufs = integrated_lufs(squeezed, rate_hz)
        if abs(lufs - target_lufs) <= CLOSE_ENOUGH_LU:
            break
        gain *= 10 ** ((target_lufs - lufs) / 20)
    return Levelled(squeezed, gain, reduction_db, lufs, true_peak_dbtp(squeezed, rate_hz))


def limit(samples: np.ndarray, rate_hz: int, ceiling_dbtp: float) -> tuple[np.ndarray, float]:
    """Gentle look-ahead limiter: (samples under the ceiling, greatest reduction in dB).

    The gain each frame needs is held over the look-ahead and then smoothed by a window of
    the same length, so it has arrived before the peak and never jumps. All channels are turned down together, so
    that nothing moves aside.
    """
    ceiling = 10 ** ((ceiling_dbtp - MARGIN_DB) / 20)
    crest = np.max([_crest(channel) for channel in np.atleast_2d(samples)], axis=0)
    needed = np.minimum(1.0, ceiling / np.maximum(crest, ceiling))
    reach = 2 * round(LOOK_AHEAD_SECONDS * rate_hz) + 1
    window = np.hanning(reach + 2)[1:-1]
    held = np.pad(minimum_filter1d(needed, reach), reach // 2, mode="edge")
    gain = np.convolve(held, window / window.sum(), "valid")
    return samples * gain, -_db(float(gain.min()))


def _crest(channel: np.ndarray) -> np.ndarray:
    """The highest point of the curve at and beside each sample."""
    fine = np.abs(resample_poly(channel, OVERSAMPLING, 1, window=INTERPOLATOR)).reshape(-1, OVERSAMPLING)
    return np.maximum(fine.max(axis=1), np.roll(fine, 1, axis=0)[:, 1:].max(axis=1))


def _power(lufs: float) -> float:
    return 10 ** ((lufs - OFFSET_LU) / 10)


def _lufs(power: float) -> float:
    return OFFSET_LU + 10 * log10(power)


def _db(ratio: float) -> float:
    return 20 * log10(ratio) if ratio > 0 else -np.inf
