"""Sounds to tune by, each a loop that can go round for ever: a steady tone, and a pluck that comes again.

Conventions: mono float64, multiples of 1/32768; the first frame follows the last without a step.
"""

import numpy as np

from .loudness import level
from .render import FULL_SCALE_16, to_int16

SHORTEST_SECONDS, LONGEST_SECONDS = 1.0, 1.25
"""Of a steady tone's loop; within these the length is chosen that holds a whole number of periods most nearly."""
HIGHEST_PARTIAL_HZ = 4_000.0
MOST_PARTIALS = 12
"""Enough that a telephone, which gives nothing of 147 Hz, lets its string be heard by the partials above."""
LEVELLED_SECONDS = 20.0
"""Loudness is taken of as many turns as last so long: of a few, it depends on how many they are."""
PLUCK_LOOP_SECONDS = 2.0
PLUCK_LEAD_SECONDS = 0.02
"""Silence before a pluck, over which a player can turn its sound on."""


def steady_tone(hz: float, rate_hz: int, loudness_lufs: float) -> np.ndarray:
    """One turn of a tone with harmonic partials, 1/n high, at the loudness of everything else on the site."""
    frames, periods = whole_periods(hz, rate_hz)
    partials = np.arange(1, min(MOST_PARTIALS, int(HIGHEST_PARTIAL_HZ / hz)) + 1)
    turn = 2 * np.pi * periods * np.arange(frames) / frames
    phases = -np.pi * partials * (partials - 1) / len(partials)  # spread out (Schroeder 1970), so that no peak towers
    return _levelled(np.sin(np.outer(turn, partials) + phases) @ (1 / partials), rate_hz, loudness_lufs)


def whole_periods(hz: float, rate_hz: int) -> tuple[int, int]:
    """(frames, periods) of a loop whose own pitch, periods · rate / frames, comes nearest."""
    frames = np.arange(round(SHORTEST_SECONDS * rate_hz), round(LONGEST_SECONDS * rate_hz))
    periods = np.rint(frames * hz / rate_hz)
    best = int(np.argmin(np.abs(periods * rate_hz / frames - hz)))
    return int(frames[best]), int(periods[best])


def returning_pluck(note: np.ndarray, rate_hz: int, loudness_lufs: float) -> np.ndarray:
    """A note of the bank and a little silence."""
    lead = round(PLUCK_LEAD_SECONDS * rate_hz)
    loop = np.zeros(max(round(PLUCK_LOOP_SECONDS * rate_hz), lead + len(note)))
    loop[lead:lead + len(note)] = note
    return _levelled(loop, rate_hz, loudness_lufs)


def _levelled(loop: np.ndarray, rate_hz: int, loudness_lufs: float) -> np.ndarray:
    """By the gain of several turns, limited by none: a limiter would make no two turns alike."""
    turns = int(np.ceil(LEVELLED_SECONDS * rate_hz / len(loop)))
    gain = level(np.tile(loop, turns), rate_hz, loudness_lufs).open_gain
    return to_int16(loop * gain) / FULL_SCALE_16
