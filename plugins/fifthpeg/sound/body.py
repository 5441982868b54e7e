"""What the string drives: bridge and head, and how they radiate.

Conventions: frequencies in Hz, arrays of shape (partials,). Figures were fitted to published
formant bands of the banjo (500–800 Hz: Woodhouse, Politzer & Mansour 2021; 400–1800 and
2000–4000 Hz: Rae & Rossing) and to one outside sample set: a likeness, not a measurement.
"""

from dataclasses import dataclass

import numpy as np

FLOOR_ADMITTANCE = 0.0076
"""Bridge admittance between formants, in seconds a kilogram."""
FORMANTS = ((0.046, 650.0, 1.2), (0.054, 1900.0, 2.0), (0.0023, 3300.0, 2.0))
"""(admittance at the peak in s/kg, centre in Hz, Q)."""
STIFF_BELOW_HZ = 62.0
"""The head hardly moves below this."""
RADIATION_ADMITTANCE_POWER = 0.135
RADIATION_TILT_POWER = 0.28
SMALL_HEAD_HZ = 200.0
"""Below this the head is too small to push the air as well as it moves."""

HEAD_MODES = 18
HEAD_LOWEST_HZ, HEAD_HIGHEST_HZ = 260.0, 3800.0
HEAD_Q = 9.0
HEAD_JITTER = 0.04
"""Share of its frequency by which a mode may lie off its place, so that no two notes knock alike."""

LAG_SECONDS, LAG_CORNER_HZ = 0.004, 500.0
"""The head passes low partials on later than high ones: by this much far below the corner. Without it all
partials of a pluck would start in step, and the first peak would tower 3 dB higher."""


@dataclass(frozen=True)
class Modes:
    """Damped sinusoids: a·sin(2πft + phase)·e^(−decay·t), t in seconds; ``decay`` per second."""

    frequency_hz: np.ndarray
    decay: np.ndarray
    amplitude: np.ndarray
    phase: np.ndarray


def bridge_admittance(frequency_hz: np.ndarray) -> np.ndarray:
    """In s/kg: a floor and three resonances, R = 1 / (1 + Q²(f/fc − fc/f)²), over a stiff low end."""
    total = np.full_like(frequency_hz, FLOOR_ADMITTANCE)
    for peak, centre_hz, q in FORMANTS:
        total += peak / (1 + (q * (frequency_hz / centre_hz - centre_hz / frequency_hz)) ** 2)
    return total / (1 + (STIFF_BELOW_HZ / frequency_hz) ** 2)


def radiation(frequency_hz: np.ndarray) -> np.ndarray:
    """Pressure for a given bridge force; arbitrary unit."""
    shape = bridge_admittance(frequency_hz) ** RADIATION_ADMITTANCE_POWER
    return shape * (frequency_hz / 1000) ** RADIATION_TILT_POWER / np.hypot(1, SMALL_HEAD_HZ / frequency_hz)


def lag_phase(frequency_hz: np.ndarray) -> np.ndarray:
    """In radians; its group delay falls as LAG_SECONDS / (1 + f / LAG_CORNER_HZ)."""
    return -2 * np.pi * LAG_SECONDS * LAG_CORNER_HZ * np.log1p(frequency_hz / LAG_CORNER_HZ)


def head_knock(seed: int) -> Modes:
    """The head's own answer to a blow, loudest mode at 1; the same seed gives the same knock."""
    noise = np.random.default_rng(seed)
    places = np.geomspace(HEAD_LOWEST_HZ, HEAD_HIGHEST_HZ, HEAD_MODES)
    frequency_hz = places * (1 + HEAD_JITTER * noise.uniform(-1, 1, HEAD_MODES))
    amplitude = np.sqrt(bridge_admittance(frequency_hz)) * noise.uniform(0.4, 1, HEAD_MODES)
    phase = noise.choice([0.0, np.pi], HEAD_MODES)
    return Modes(frequency_hz, np.pi * frequency_hz / HEAD_Q, amplitude / amplitude.max(), phase)
