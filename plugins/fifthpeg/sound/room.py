"""A short made-up room, for those who want one: a few early echoes and a tail of fading noise.

After Schroeder's and Moorer's picture of a room's answer (Moorer, Computer Music Journal 3(2), 1979, from memory):
early reflections, then noise under an exponential. Samples of shape (frames,) or (2, frames), as in ``desk``.
"""

from dataclasses import dataclass

import numpy as np
from scipy.signal import fftconvolve

NO_ROOM = "none"
SEED = 1979


@dataclass(frozen=True)
class Room:
    """``echoes`` are (seconds, gain); the tail takes ``tail_seconds`` to fall by 60 dB, and ``tail_db`` is the level of
    its energy against the direct sound's."""

    echoes: tuple[tuple[float, float], ...]
    tail_from_seconds: float
    tail_seconds: float
    tail_db: float


ROOMS = {"small": Room(((0.007, 0.30), (0.011, -0.24), (0.017, 0.20), (0.023, -0.15)), 0.03, 0.45, -12.0)}
"""A furnished living room: half a second is what such rooms measure (common practice, no source)."""
ROOM_NAMES = (NO_ROOM, *ROOMS)


def in_room(samples: np.ndarray, rate_hz: int, name: str) -> np.ndarray:
    """The recording as it sounds there, as long as before; each side of a stereo recording has its own answer."""
    if name == NO_ROOM:
        return samples
    if samples.ndim == 1:
        return _answered(samples, answer(ROOMS[name], rate_hz, side=0))
    return np.vstack([_answered(channel, answer(ROOMS[name], rate_hz, side)) for side, channel in enumerate(samples)])


def answer(room: Room, rate_hz: int, side: int) -> np.ndarray:
    """The room's answer to a single sample of 1, the direct sound first. ``side`` 0 or 1; the same every time."""
    frames = round((room.tail_from_seconds + room.tail_seconds) * rate_hz)
    heard = np.zeros(frames)
    heard[0] = 1.0
    for seconds, gain in room.echoes:
        heard[round(seconds * (1 + 0.09 * side) * rate_hz)] += gain
    start = round(room.tail_from_seconds * rate_hz)
    noise = np.random.default_rng(SEED + side).normal(size=frames - start)
    tail = noise * 10 ** (-3 * np.arange(frames - start) / (room.tail_seconds * rate_hz))
    heard[start:] += tail * 10 ** (room.tail_db / 20) / np.linalg.norm(tail)
    return heard


def _answered(channel: np.ndarray, heard: np.ndarray) -> np.ndarray:
    return fftconvolve(channel, heard)[:len(channel)]
