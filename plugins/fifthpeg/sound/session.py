"""All that is heard of a lick: its recordings at one loudness, and the gains by which a player comes out alike."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..model.backing import Stem
from ..model.performance import Performance
from .desk import Desk, backing_gain, mix_parts, together
from .loudness import Levelled, level


@dataclass(frozen=True)
class Session:
    """``takes`` by the names they were asked for by.

    ``player_gain`` brings lick and backing at full tempo to the loudness asked for, staying under the ceiling without a
    limiter; ``backing_gain`` is the stems' against the lick's.
    """

    takes: Mapping[str, Levelled]
    player_gain: float
    backing_gain: float


def record(performance: Performance, capo: int, stems: Sequence[Stem], bank: Mapping, tempos: Mapping[str, Fraction],
           desk: Desk) -> Session:
    """``tempos`` are those of the recordings wanted, in quarters a minute; ``bank`` as in ``mix_parts``."""
    full = performance.quarters_per_minute
    parts = mix_parts(performance, capo, stems, bank, full, desk.rate_hz)
    gain = backing_gain(*parts, desk)
    whole = level(together(*parts, gain, desk), desk.rate_hz, desk.loudness_lufs)
    recorded = stems if desk.backing else ()
    takes = {}
    for name, tempo in tempos.items():
        if tempo == full and recorded == stems:
            takes[name] = whole
        else:
            parts = mix_parts(performance, capo, recorded, bank, tempo, desk.rate_hz)
            takes[name] = level(together(*parts, gain, desk), desk.rate_hz, desk.loudness_lufs)
    return Session(takes, whole.open_gain, gain)
