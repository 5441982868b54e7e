"""A note of the bank put in figures: pitch, decay, level, brightness."""

import numpy as np
from scipy.signal import sosfilt

from ..model.pitch import SEMITONES_PER_OCTAVE, frequency_hz
from ..model.sound_figures import SoundFigures
from .k_weighting import k_weighting
from .pitch_tracking import pitch_hz
from .render import LOUDNESS_SECONDS

CENTS_IN_AN_OCTAVE = 100 * SEMITONES_PER_OCTAVE
SPECTRUM_SECONDS = 0.3


def figures_of(samples: np.ndarray, rate_hz: int, midi: int) -> SoundFigures:
    """``midi`` is what it is to sound; 0 for a damped pluck."""
    return SoundFigures(
        cents=_cents_off(samples, rate_hz, midi) if midi else None,
        falls_10_db=_falls_after(samples, rate_hz, 10),
        falls_20_db=_falls_after(samples, rate_hz, 20),
        level_db=_level_db(samples, rate_hz),
        peak_db=float(20 * np.log10(np.abs(samples).max())),
        centre_hz=_centre_hz(samples, rate_hz),
    )


def _cents_off(samples: np.ndarray, rate_hz: int, midi: int) -> float | None:
    wanted_hz = frequency_hz(midi)
    heard_hz = pitch_hz(samples, rate_hz, wanted_hz)
    return None if heard_hz is None else float(CENTS_IN_AN_OCTAVE * np.log2(heard_hz / wanted_hz))


def _falls_after(samples: np.ndarray, rate_hz: int, drop_db: float) -> float:
    """Seconds until the energy still to come is ``drop_db`` less than at the start (Schroeder 1965)."""
    to_come = np.cumsum(np.square(samples[::-1]))[::-1]
    return float(np.argmax(to_come < to_come[0] * 10 ** (-drop_db / 10))) / rate_hz


def _level_db(samples: np.ndarray, rate_hz: int) -> float:
    frames = round(LOUDNESS_SECONDS * rate_hz)
    weighted = sosfilt(k_weighting(rate_hz), samples[:frames])
    return float(10 * np.log10(np.square(weighted).sum() / frames))


def _centre_hz(samples: np.ndarray, rate_hz: int) -> float:
    """Each frequency by its amplitude."""
    heard = samples[:round(SPECTRUM_SECONDS * rate_hz)]
    amplitude = np.abs(np.fft.rfft(heard * np.hanning(len(heard))))
    return float(np.sum(np.fft.rfftfreq(len(heard), 1 / rate_hz) * amplitude) / np.sum(amplitude))
