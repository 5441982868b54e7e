"""Instruments that hear without knowing how the sound was made.

Conventions: mono float samples; times in seconds unless a name says frames.
"""

import numpy as np
from scipy.signal import lfilter

from fifthpeg.model.pitch import frequency_hz


def cents(measured_hz: float, wanted_hz: float) -> float:
    return 1200 * np.log2(measured_hz / wanted_hz)


def phase_advance_hz(samples: np.ndarray, rate_hz: int, near_hz: float, first_seconds: float = 0.08,
                     apart_seconds: float = 0.2, window_seconds: float = 0.2) -> float:
    """Frequency of the partial near ``near_hz``: its phase in one window against its phase in a later one.

    The phase vocoder's estimate (Flanagan & Golden 1966, from memory); true as long as the
    error is under half a turn between the windows.
    """
    frames = round(window_seconds * rate_hz)
    time = np.arange(frames) / rate_hz
    probe = np.blackman(frames) * np.exp(-2j * np.pi * near_hz * time)
    starts = [round(first_seconds * rate_hz), round((first_seconds + apart_seconds) * rate_hz)]
    first, later = (np.dot(samples[start:start + frames], probe) for start in starts)
    between = (starts[1] - starts[0]) / rate_hz
    turned = np.angle(later / first * np.exp(-2j * np.pi * near_hz * between))
    return near_hz + turned / (2 * np.pi * between)


def karplus_strong(f0_hz: float, rate_hz: int, seconds: float) -> np.ndarray:
    """A delay line and a plain two-point average in a loop: Karplus & Strong 1983 (Computer Music Journal 7(2))."""
    return delay_line_string(f0_hz, rate_hz, seconds, (0.5, 0.5))


def delay_line_string(f0_hz: float, rate_hz: int, seconds: float, loop_taps: tuple[float, float]) -> np.ndarray:
    """A delay line, two taps that lose energy, and a tuning all-pass in a loop, started with noise.

    All-pass coefficient exact at the fundamental, Jaffe & Smith 1983 (Computer Music Journal 7(2)):
    C = sin((ωT − ωTΔ)/2) / sin((ωT + ωTΔ)/2), with what the taps delay taken off the period.
    """
    turn, (now, before) = 2 * np.pi * f0_hz / rate_hz, loop_taps
    taps_delay = np.arctan2(before * np.sin(turn), now + before * np.cos(turn)) / turn
    period = rate_hz / f0_hz
    delay = int(period - taps_delay - 0.1)
    left_over = period - taps_delay - delay
    c = np.sin((turn - turn * left_over) / 2) / np.sin((turn + turn * left_over) / 2)
    feedback = np.zeros(delay + 3)
    feedback[:2] = 1.0, c
    feedback[delay:] -= np.convolve(loop_taps, [c, 1.0])
    burst = np.zeros(round(seconds * rate_hz))
    burst[:delay] = np.random.default_rng(1983).uniform(-1, 1, delay)
    return lfilter([1.0, c], feedback, burst)


def loop_taps_for(gains: tuple[float, float], at_hz: tuple[float, float], rate_hz: int) -> tuple[float, float]:
    """The two taps whose gain is as wished at two frequencies: Jaffe & Smith's decay stretching and shortening.

    |a + b·e^(−jω)|² = a² + b² + 2ab·cos ω, so that both squares give the sum and the product of the taps.
    """
    cosines = [np.cos(2 * np.pi * hz / rate_hz) for hz in at_hz]
    product = (gains[0] ** 2 - gains[1] ** 2) / (2 * (cosines[0] - cosines[1]))
    total = np.sqrt(gains[0] ** 2 + 2 * product * (1 - cosines[0]))
    apart = np.sqrt(total ** 2 - 4 * product)
    return (total + apart) / 2, (total - apart) / 2


def decay_per_second(samples: np.ndarray, rate_hz: int, partial_hz: float, first_seconds: float = 0.05,
                     apart_seconds: float = 0.15, window_seconds: float = 0.1) -> float:
    """How fast the amplitude of one partial falls: its size in one window against a later one."""
    frames = round(window_seconds * rate_hz)
    probe = np.blackman(frames) * np.exp(-2j * np.pi * partial_hz * np.arange(frames) / rate_hz)
    starts = [round(at * rate_hz) for at in (first_seconds, first_seconds + apart_seconds)]
    first, later = (abs(np.dot(samples[start:start + frames], probe)) for start in starts)
    return float(np.log(first / later) / ((starts[1] - starts[0]) / rate_hz))


def rise_seconds(samples: np.ndarray, rate_hz: int, window_seconds: float = 0.002) -> float:
    """From a tenth to nine tenths of the greatest short-time level of the first 50 ms."""
    window = np.ones(round(window_seconds * rate_hz))
    level = np.sqrt(np.convolve(samples[:round(0.05 * rate_hz)] ** 2, window / len(window)))
    return float(np.argmax(level >= 0.9 * level.max()) - np.argmax(level >= 0.1 * level.max())) / rate_hz


ONSET_WINDOW, ONSET_HOP, ONSET_LAG = 256, 16, 8
ONSET_OVER_MEDIAN = 4.5


def onsets(samples: np.ndarray, rate_hz: int, apart_seconds: float = 0.05) -> np.ndarray:
    """Times at which the log spectrum rises most: a spectral-flux detector (Dixon, DAFx 2006, from memory)."""
    lift = _log_flux(samples)
    reach = round(apart_seconds * rate_hz / ONSET_HOP)
    padded = np.pad(lift, reach, constant_values=-np.inf)
    greatest = np.lib.stride_tricks.sliding_window_view(padded, 2 * reach + 1).max(axis=1)
    peaks = np.flatnonzero((lift == greatest) & (lift > ONSET_OVER_MEDIAN * np.median(lift)))
    return (peaks * ONSET_HOP - _onset_delay_frames()) / rate_hz


def _log_flux(samples: np.ndarray) -> np.ndarray:
    padded = np.pad(samples / np.abs(samples).max(), ONSET_WINDOW)
    frames = np.lib.stride_tricks.sliding_window_view(padded, ONSET_WINDOW)[::ONSET_HOP] * np.hanning(ONSET_WINDOW)
    spectrum = np.log1p(100 * np.abs(np.fft.rfft(frames, axis=1)))
    return np.maximum(spectrum[ONSET_LAG:] - spectrum[:-ONSET_LAG], 0).sum(axis=1)


def _onset_delay_frames() -> int:
    """Where the detector puts a burst of decaying noise, against where it is."""
    noise = np.random.default_rng(7).normal(size=6000) * np.exp(-np.arange(6000) / 1500)
    quiet = 1e-3 * np.random.default_rng(8).normal(size=8000)
    quiet[2000:] += noise
    return int(np.argmax(_log_flux(quiet))) * ONSET_HOP - 2000


def note_that_started(samples: np.ndarray, rate_hz: int, at_seconds: float, until_seconds: float) -> int:
    """The MIDI number whose harmonics grew most: (after − before) summed over harmonics, lower ones counting more.

    Harmonic summation after Klapuri, ISMIR 2006 (from memory).
    """
    size = 1 << 14
    start = round(at_seconds * rate_hz)
    frames = round((until_seconds - at_seconds - 0.006) * rate_hz)
    window = np.hanning(frames)
    before = np.pad(samples, (frames, 0))[start:start + frames]
    after = samples[start:start + frames]
    grown = np.maximum(np.abs(np.fft.rfft(after * window, size)) - np.abs(np.fft.rfft(before * window, size)), 0)
    return max(range(46, 90), key=lambda midi: _harmonic_sum(grown ** 0.5, frequency_hz(midi) * size / rate_hz))


def _harmonic_sum(spectrum: np.ndarray, f0_bins: float) -> float:
    harmonics = np.arange(1, 11)
    places = np.rint(harmonics * f0_bins).astype(int)
    harmonics, places = harmonics[places < len(spectrum) - 2], places[places < len(spectrum) - 2]
    return float(np.sum([spectrum[place - 2:place + 3].max() / (n + 0.5) for n, place in zip(harmonics, places)]))


def band_energy(samples: np.ndarray, rate_hz: int, low_hz: float, high_hz: float) -> float:
    power = np.abs(np.fft.rfft(samples * np.hanning(len(samples)))) ** 2
    frequency = np.fft.rfftfreq(len(samples), 1 / rate_hz)
    return float(power[(frequency >= low_hz) & (frequency < high_hz)].sum())


def falls_by_db(samples: np.ndarray, rate_hz: int, drop_db: float) -> float:
    """Seconds until the energy still to come is ``drop_db`` less (Schroeder 1965)."""
    to_come = np.cumsum(samples[::-1] ** 2)[::-1]
    return float(np.argmax(to_come < to_come[0] * 10 ** (-drop_db / 10))) / rate_hz


def centroid_hz(samples: np.ndarray, rate_hz: float, highest_hz: float) -> float:
    """Mean frequency of the power spectrum up to ``highest_hz``."""
    power = np.abs(np.fft.rfft(samples)) ** 2
    frequency = np.fft.rfftfreq(len(samples), 1 / rate_hz)
    heard = frequency <= highest_hz
    return float(np.average(frequency[heard], weights=power[heard]))
