"""What the string drives: bridge and head, and how they radiate.

Conventions: frequencies in Hz, arrays of shape (partials,). The figures are ``instrument``'s.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from .instrument import (
    BRIDGE, BRIDGE_FLOOR_S_KG, HEAD_LAG_CORNER_HZ, HEAD_LAG_SECONDS, KNOCK_HIGHEST_HZ, KNOCK_JITTER, KNOCK_LOWEST_HZ,
    KNOCK_MODES, KNOCK_Q, RADIATION, RADIATION_ADMITTANCE_POWER, RADIATION_TILT_POWER, SMALL_HEAD_HZ, STIFF_BELOW_HZ,
    Resonance)


KNOCK_PLACES_HZ = np.geomspace(KNOCK_LOWEST_HZ, KNOCK_HIGHEST_HZ, KNOCK_MODES)


@dataclass(frozen=True)
class Modes:
    """Damped sinusoids: a·sin(2πft + phase)·e^(−decay·t), t in seconds; ``decay`` per second."""

    frequency_hz: np.ndarray
    decay: np.ndarray
    amplitude: np.ndarray
    phase: np.ndarray

    def joined(self, other: "Modes") -> "Modes":
        pairs = zip(self.arrays, other.arrays, strict=True)
        return Modes(*(np.concatenate(pair) for pair in pairs))

    def only(self, which: np.ndarray) -> "Modes":
        """Those for which ``which`` is true."""
        return Modes(*(array[which] for array in self.arrays))

    @property
    def arrays(self) -> tuple[np.ndarray, ...]:
        return self.frequency_hz, self.decay, self.amplitude, self.phase

    def louder(self, factor: float) -> "Modes":
        return replace(self, amplitude=self.amplitude * factor)


def bridge_admittance(frequency_hz: np.ndarray) -> np.ndarray:
    """In s/kg: a floor and resonances over a stiff low end."""
    return (BRIDGE_FLOOR_S_KG + _resonating(BRIDGE, frequency_hz)) / (1 + (STIFF_BELOW_HZ / frequency_hz) ** 2)


def radiation(frequency_hz: np.ndarray) -> np.ndarray:
    """Pressure for a given bridge force; arbitrary unit."""
    shape = bridge_admittance(frequency_hz) ** RADIATION_ADMITTANCE_POWER * (1 + _resonating(RADIATION, frequency_hz))
    return shape * (frequency_hz / 1000) ** RADIATION_TILT_POWER / np.hypot(1, SMALL_HEAD_HZ / frequency_hz)


def _resonating(resonances: Iterable[Resonance], frequency_hz: np.ndarray) -> np.ndarray:
    return sum(one.height / (1 + (one.q * (frequency_hz / one.centre_hz - one.centre_hz / frequency_hz)) ** 2)
               for one in resonances)


def lag_phase(frequency_hz: np.ndarray) -> np.ndarray:
    """In radians; its group delay falls as HEAD_LAG_SECONDS / (1 + f / HEAD_LAG_CORNER_HZ)."""
    return -2 * np.pi * HEAD_LAG_SECONDS * HEAD_LAG_CORNER_HZ * np.log1p(frequency_hz / HEAD_LAG_CORNER_HZ)


def head_knock(seed: int) -> Modes:
    """The head's own answer to a blow, loudest mode at 1; the same seed gives the same knock."""
    noise = np.random.default_rng(seed)
    frequency_hz = KNOCK_PLACES_HZ * (1 + KNOCK_JITTER * noise.uniform(-1, 1, KNOCK_MODES))
    amplitude = np.sqrt(bridge_admittance(frequency_hz)) * noise.uniform(0.4, 1, KNOCK_MODES)
    phase = noise.choice([0.0, np.pi], KNOCK_MODES)
    return Modes(frequency_hz, np.pi * frequency_hz / KNOCK_Q, amplitude / amplitude.max(), phase)
