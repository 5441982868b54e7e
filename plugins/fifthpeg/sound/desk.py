"""Lick and backing laid together: how loud the one beside the other, and where each stands.

Conventions: float64, full scale 1.0; mono of shape (frames,), stereo of shape (2, frames), left first.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import cos, pi, radians, sin

import numpy as np

from ..model.backing import BASS, GUITAR, BackingSound, Stem
from ..model.performance import Performance
from .loudness import TARGET_LUFS, integrated_lufs
from .mix import mix
from .room import NO_ROOM, in_room
from .stems import add_stem

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


def backing_gain(performance: Performance, lick: np.ndarray, stems: Sequence[Stem], bank: Mapping,
                 desk: Desk) -> float:
    """The factor for all stems at which the backing lies ``below_lu`` under the lick; 1 where either is silent.

    ``lick`` is its mono mix at full tempo.
    """
    if not stems:
        return 1.0
    backing = np.zeros_like(lick)
    for stem in stems:
        add_stem(backing, stem, performance, bank, performance.quarters_per_minute, desk.rate_hz)
    apart = integrated_lufs(lick, desk.rate_hz) - integrated_lufs(backing, desk.rate_hz) - desk.below_lu
    return round(10 ** (apart / 20), GAIN_DIGITS) if np.isfinite(apart) else 1.0


def with_backing_at(gain: float, bank: Mapping) -> dict:
    """The bank with the backing's sounds turned to ``gain``: once, and not in every mix."""
    return {sound: gain * samples if isinstance(sound, BackingSound) else samples for sound, samples in bank.items()}


def mix_whole(performance: Performance, capo: int, stems: Sequence[Stem], bank: Mapping,
              quarters_per_minute: Fraction, desk: Desk) -> np.ndarray:
    """Lick and stems at one tempo, level not yet set: in stereo the lick in the middle, the stems a little aside.

    ``bank`` holds the sounds of both. Raises KeyError where it lacks one.
    """
    lick = mix(performance, capo, bank, quarters_per_minute, desk.rate_hz)
    return laid_together(lick, performance, stems, bank, quarters_per_minute, desk)


def laid_together(lick: np.ndarray, performance: Performance, stems: Sequence[Stem], bank: Mapping,
                  quarters_per_minute: Fraction, desk: Desk) -> np.ndarray:
    """``mix_whole`` from the lick's mono mix, which in mono is used up: one more such array costs more than the notes."""
    whole = np.vstack([lick, lick]) if desk.stereo else lick
    for stem in stems:
        if desk.stereo:
            alone = add_stem(np.zeros_like(lick), stem, performance, bank, quarters_per_minute, desk.rate_hz)
            whole += np.outer(sides(ASIDE_DEGREES[stem.name]), alone)
        else:
            add_stem(whole, stem, performance, bank, quarters_per_minute, desk.rate_hz)
    return in_room(whole, desk.rate_hz, desk.room)


def sides(degrees: float) -> tuple[float, float]:
    """Gains of left and right for a place: 1 and 1 in the middle, and the same power anywhere."""
    angle = pi / 4 + radians(degrees)
    return 2 ** 0.5 * cos(angle), 2 ** 0.5 * sin(angle)
