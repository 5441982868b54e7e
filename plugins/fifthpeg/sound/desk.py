"""Lick and backing laid together: how loud the one beside the other, and where each stands.

Conventions: float64, full scale 1.0; mono of shape (frames,), stereo of shape (2, frames), left first.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import cos, pi, radians, sin

import numpy as np

from ..model.backing import BASS, GUITAR, Stem
from ..model.performance import Performance
from .loudness import TARGET_LUFS, integrated_lufs
from .mix import mix
from .room import NO_ROOM, in_room
from .stems import mix_stem

ASIDE_DEGREES = {GUITAR: -20.0, BASS: 12.0}
"""Where a stem stands in stereo, from the middle to the right; a loudspeaker stands at 45."""
GAIN_DIGITS = 6
"""The player is told the factor so, and the recordings are mixed with no other."""


@dataclass(frozen=True)
class Desk:
    """``backing`` says whether recordings have it; ``below_lu`` by how much it is quieter than the lick, each alone.

    ``room`` is one of ``room.ROOM_NAMES``.
    """

    rate_hz: int
    loudness_lufs: float = TARGET_LUFS
    backing: bool = True
    below_lu: float = 8.0
    stereo: bool = False
    room: str = NO_ROOM


def mix_parts(performance: Performance, capo: int, stems: Sequence[Stem], bank: Mapping,
              quarters_per_minute: Fraction, rate_hz: int) -> tuple[np.ndarray, dict[str, np.ndarray]]:
    """(the lick, each stem by its name), mono and equally long; ``bank`` holds the sounds of both."""
    lick = mix(performance, capo, bank, quarters_per_minute, rate_hz)
    return lick, {stem.name: mix_stem(stem, performance, bank, quarters_per_minute, rate_hz) for stem in stems}


def backing_gain(lick: np.ndarray, stems: Mapping[str, np.ndarray], desk: Desk) -> float:
    """The factor for all stems at which the backing lies ``below_lu`` under the lick; 1 where either is silent."""
    if not stems:
        return 1.0
    apart = integrated_lufs(lick, desk.rate_hz) - integrated_lufs(sum(stems.values()), desk.rate_hz) - desk.below_lu
    return round(10 ** (apart / 20), GAIN_DIGITS) if np.isfinite(apart) else 1.0


def together(lick: np.ndarray, stems: Mapping[str, np.ndarray], gain: float, desk: Desk) -> np.ndarray:
    """One recording, level not yet set: the lick in the middle, the stems at ``gain`` and, in stereo, a little aside."""
    if not desk.stereo:
        whole = lick.copy()
        for stem in stems.values():
            whole += gain * stem
        return in_room(whole, desk.rate_hz, desk.room)
    whole = np.vstack([lick, lick])
    for name, stem in stems.items():
        whole += np.outer(sides(ASIDE_DEGREES[name]), gain * stem)
    return in_room(whole, desk.rate_hz, desk.room)


def sides(degrees: float) -> tuple[float, float]:
    """Gains of left and right for a place: 1 and 1 in the middle, and the same power anywhere."""
    angle = pi / 4 + radians(degrees)
    return 2 ** 0.5 * cos(angle), 2 ** 0.5 * sin(angle)
