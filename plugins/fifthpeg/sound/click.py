"""Click and counted bar: a short wooden tick on each beat, higher and louder on a bar's first.

Conventions as in ``desk``. The tick is the player's (``assets/click.js``), by the same formula: sample i of a tick at
rate r is level · sin(2π·pitch·i/r) · exp(−i/(r·DECAY_SECONDS)), begun along a straight line of RISE_SECONDS and ended
by another of the same length. Its frame is rule F1 of ``voices``, counted from quarter 0.
"""

from collections.abc import Sequence
from fractions import Fraction
from functools import cache

import numpy as np

from ..model.beats import COUNT, TickStem
from .frames import frame_of, frames_in

LENGTH_MS = 50
RISE_SECONDS = 0.001
DECAY_SECONDS = 0.008
FIRST_PITCH_HZ, FIRST_LEVEL = 1760, 0.3
OTHER_PITCH_HZ, OTHER_LEVEL = 1175, 0.2


@cache
def tick(first: bool, rate_hz: int, frames: int) -> np.ndarray:
    """One tick, not to be written to; ``frames`` are those of LENGTH_MS, or fewer where it has to be over before."""
    pitch_hz, level = (FIRST_PITCH_HZ, FIRST_LEVEL) if first else (OTHER_PITCH_HZ, OTHER_LEVEL)
    at = np.arange(frames)
    edge = np.minimum(1, np.minimum(at, at[::-1]) / (RISE_SECONDS * rate_hz))
    made = level * edge * np.sin(2 * np.pi * pitch_hz * at / rate_hz) * np.exp(-at / (DECAY_SECONDS * rate_hz))
    made.flags.writeable = False
    return made


def count_frames(ticks: Sequence[TickStem], quarters_per_minute: Fraction, rate_hz: int) -> int:
    """How many frames lie before quarter 0: 0 where nothing is counted."""
    counted = [stem.beats[0].at for stem in ticks if stem.name == COUNT and stem.beats]
    return -frame_of(min(counted), quarters_per_minute, rate_hz) if counted else 0


def with_ticks(music: np.ndarray, ticks: Sequence[TickStem], quarters_per_minute: Fraction, rate_hz: int,
               music_gain: float) -> np.ndarray:
    """``music``, in mono or stereo and not yet levelled, begun earlier by what is counted, and ticks laid in.

    The player plays ticks at their own level and the music at ``music_gain``. Here the music stays as it is and the
    ticks are divided by ``music_gain``: so the two stand to one another as in the player, whatever gain comes after.
    They stand in the middle, and in no room. What is counted sounds alone: its last tick ends by quarter 0.
    """
    if not ticks:
        return music
    begin, length = count_frames(ticks, quarters_per_minute, rate_hz), frames_in(LENGTH_MS, rate_hz)
    whole = np.concatenate([np.zeros((*music.shape[:-1], begin)), music], axis=-1)
    for stem in ticks:
        for beat in stem.beats:
            at = begin + frame_of(beat.at, quarters_per_minute, rate_hz)
            frames = min(length, begin - at) if stem.name == COUNT else length
            heard = tick(beat.first, rate_hz, frames)[:whole.shape[-1] - at]
            whole[..., at:at + len(heard)] += stem.level / music_gain * heard
    return whole
