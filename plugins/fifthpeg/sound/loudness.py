"""Loudness of recordings in mono or stereo, and bringing them to one: ITU-R BS.1770-4, each channel of weight 1.

Conventions: samples float64, full scale 1.0, of shape (frames,) or (channels, frames); LUFS as the standard reads the
file (the same tone on two channels reads 3.01 higher than on one).
"""

from dataclasses import dataclass
from math import log10

import numpy as np
from scipy.ndimage import minimum_filter1d
from scipy.signal import sosfilt

from .k_weighting import k_weighting
from .true_peak import crest, in_db, true_peak_dbtp

OFFSET_LU = -0.691
BLOCK_SECONDS = 0.4
HOPS_IN_BLOCK = 4
SILENCE_LUFS = -70.0
RELATIVE_GATE_LU = -10.0

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
    peak_dbtp = true_peak_dbtp(samples, rate_hz) + in_db(gain)
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
    highest = np.max([crest(channel) for channel in np.atleast_2d(samples)], axis=0)
    needed = np.minimum(1.0, ceiling / np.maximum(highest, ceiling))
    reach = 2 * round(LOOK_AHEAD_SECONDS * rate_hz) + 1
    window = np.hanning(reach + 2)[1:-1]
    held = np.pad(minimum_filter1d(needed, reach), reach // 2, mode="edge")
    gain = np.convolve(held, window / window.sum(), "valid")
    return samples * gain, -in_db(float(gain.min()))


def _power(lufs: float) -> float:
    return 10 ** ((lufs - OFFSET_LU) / 10)


def _lufs(power: float) -> float:
    return OFFSET_LU + 10 * log10(power)
