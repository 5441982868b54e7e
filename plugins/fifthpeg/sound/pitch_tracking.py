"""The pitch of one plucked note: first roughly, by its period, then exactly, by the phase of its partials.

Conventions: mono float samples that begin at the pluck; Hz; partial numbers from 1. The pitch of a string is
that of its first partial, which is what the bank's own notes are tuned by. A partial is found by how far its
phase has turned from one window to a later one (the phase vocoder's estimate, Flanagan & Golden 1966, from memory).
"""

from dataclasses import dataclass

import numpy as np
from scipy.signal import find_peaks

LOWEST_HZ, HIGHEST_HZ = 100.0, 1700.0
"""G2 to A6: below any tuning's lowest string, above the last fret of the first."""
SETTLED_SECONDS = 0.08
"""The head's knock is over."""
WINDOW_SECONDS = 0.2
SHORTEST_WINDOW_SECONDS = 0.06
PERIOD_SECONDS = 0.2
"""Length over which the rough period is looked for."""
CLEARLY_PERIODIC = 0.5
"""Correlation of a tone with itself a period later; noise stays far below."""
NEARLY_AS_GOOD = 0.9
"""A shorter period is the true one if its correlation comes this near the best: two periods repeat as well as one."""
PARTIALS_TRIED = 8
LOUD_ENOUGH = 0.1
"""Of the strongest partial (−20 dB). A weaker first partial is hardly heard, and pulled about by the head: where it ought
to be is worked out from the others, which the ear goes by too."""


@dataclass(frozen=True)
class Windows:
    """Two stretches of a note, ``apart_seconds`` from one to the other, under one bell-shaped weight.

    ``spectrum`` is both their magnitudes together, ``bin_hz`` from one to the next.
    """

    first: np.ndarray
    later: np.ndarray
    rate_hz: int
    apart_seconds: float
    spectrum: np.ndarray
    bin_hz: float


def rough_pitch_hz(samples: np.ndarray, rate_hz: int) -> float | None:
    """Within about a fifth of a semitone; None where nothing is periodic.

    The autocorrelation of a stretch, each lag by the energy of what it compares; the first of its peaks that comes
    near the highest is the period (after McLeod & Wyvill 2005, from memory).
    """
    begin = round(SETTLED_SECONDS / 2 * rate_hz)
    stretch = samples[begin:begin + round((PERIOD_SECONDS + 2 / LOWEST_HZ) * rate_hz)]
    longest = int(rate_hz / LOWEST_HZ)
    if len(stretch) <= 2 * longest:
        return None
    alike = _likeness(stretch - stretch.mean(), longest)
    lags, _ = find_peaks(alike, height=CLEARLY_PERIODIC)
    lags = lags[lags >= rate_hz / HIGHEST_HZ]
    if not len(lags):
        return None
    best = alike[lags].max()
    lag = int(lags[np.argmax(alike[lags] >= NEARLY_AS_GOOD * best)])
    return rate_hz / (lag + _crest(alike[lag - 1:lag + 2]))


def pitch_hz(samples: np.ndarray, rate_hz: int, near_hz: float) -> float | None:
    """The first partial's frequency; ``near_hz`` may be off by half a semitone. None where the note is too short.

    Where the first partial is too weak to be measured, it follows from the others, which a stiff string stretches
    by f_n² = n²·(a + b·n²) (Fletcher): f_1² = a + b.
    """
    windows = windows_of(samples, rate_hz)
    if windows is None:
        return None
    first_hz, first_level = partial_of(windows, near_hz)
    found = [(n, *partial_of(windows, n * first_hz)) for n in range(1, PARTIALS_TRIED + 1) if n * first_hz < rate_hz * 0.45]
    strongest = max(level for _, _, level in found)
    if first_level >= LOUD_ENOUGH * strongest:
        return first_hz
    heard = [(n, hz, level) for n, hz, level in found if n > 1 and level >= LOUD_ENOUGH * strongest]
    return _first_from(heard)


def windows_of(samples: np.ndarray, rate_hz: int) -> Windows | None:
    """Two windows after the knock, as long as the note allows; None where it is too short."""
    begin = round(SETTLED_SECONDS * rate_hz)
    frames = min(round(WINDOW_SECONDS * rate_hz), (len(samples) - begin) // 2)
    if frames < SHORTEST_WINDOW_SECONDS * rate_hz:
        return None
    weight = np.blackman(frames)
    first, later = (samples[at:at + frames] * weight for at in (begin, begin + frames))
    size = 4 << frames.bit_length()
    spectrum = np.abs(np.fft.rfft(first, size)) + np.abs(np.fft.rfft(later, size))
    return Windows(first, later, rate_hz, frames / rate_hz, spectrum, rate_hz / size)


def partial_of(windows: Windows, near_hz: float) -> tuple[float, float]:
    """(frequency, amplitude) of the strongest partial within a quarter tone or so of ``near_hz``."""
    guess_hz = _peak_near(windows, near_hz)
    first, later = (_probed(stretch, guess_hz, windows.rate_hz) for stretch in (windows.first, windows.later))
    turned = np.angle(later / first * np.exp(-2j * np.pi * guess_hz * windows.apart_seconds)) if first else 0.0
    return guess_hz + turned / (2 * np.pi * windows.apart_seconds), float(abs(first))


def _likeness(stretch: np.ndarray, longest: int) -> np.ndarray:
    """By lag: 2·Σ x_i·x_{i+lag} / Σ (x_i² + x_{i+lag}²), between −1 and 1."""
    size = 1 << (2 * len(stretch) - 1).bit_length()
    together = np.fft.irfft(np.abs(np.fft.rfft(stretch, size)) ** 2)[:longest + 2]
    energy = np.concatenate([[0.0], np.cumsum(stretch ** 2)])
    lags = np.arange(len(together))
    compared = energy[len(stretch) - lags] + energy[-1] - energy[lags]
    return 2 * together / np.maximum(compared, np.finfo(float).tiny)


def _crest(three: np.ndarray) -> float:
    """Where a parabola through three neighbours is highest, from the middle one."""
    left, middle, right = three
    bend = left - 2 * middle + right
    return 0.5 * (left - right) / bend if bend else 0.0


def _peak_near(windows: Windows, near_hz: float) -> float:
    spectrum, bin_hz = windows.spectrum, windows.bin_hz
    reach_hz = max(near_hz * (2 ** (0.6 / 12) - 1), 2 / windows.apart_seconds)
    low, high = max(1, int((near_hz - reach_hz) / bin_hz)), int((near_hz + reach_hz) / bin_hz) + 2
    top = low + int(np.argmax(spectrum[low:high]))
    return (top + _crest(spectrum[top - 1:top + 2])) * bin_hz


def _probed(stretch: np.ndarray, hz: float, rate_hz: int) -> complex:
    """Summed without a matrix library, whose threads would add up in another order."""
    return complex(np.sum(stretch * np.exp(-2j * np.pi * hz / rate_hz * np.arange(len(stretch)))))


def _first_from(heard: list[tuple[int, float, float]]) -> float | None:
    """By least squares, each partial by its level; None from fewer than two."""
    if len(heard) < 2:
        return None
    number, hz, level = (np.array(column) for column in zip(*heard, strict=True))
    weight = number * level
    (flat, bend), *_ = np.linalg.lstsq(np.stack([weight, weight * number ** 2], 1), weight * (hz / number) ** 2, rcond=None)
    return float(np.sqrt(flat + bend))
