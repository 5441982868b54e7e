"""All that is heard of a lick: its recordings at one loudness, and the gains by which a player comes out alike."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from ..model.backing import Stem
from ..model.beats import TickStem
from ..model.performance import Performance
from .click import with_ticks
from .desk import Desk, backing_gain, laid_together, mix_whole, with_backing_at
from .loudness import Levelled, level
from .mix import mix


@dataclass(frozen=True)
class Session:
    """``recordings`` by the names they were asked for by.

    ``player_gain`` brings lick and backing at full tempo to the loudness asked for, or as near as the ceiling lets it
    without a limiter; ``backing_gain`` is the stems' against the lick's. Ticks, where recordings have any, stand to
    both as they do in a player at that gain; a recording's loudness is measured with them.
    """

    recordings: Mapping[str, Levelled]
    player_gain: float
    backing_gain: float


def record(performance: Performance, capo: int, stems: Sequence[Stem], bank: Mapping, tempos: Mapping[str, Fraction],
           desk: Desk, ticks: Sequence[TickStem] = ()) -> Session:
    """``tempos``, in quarters a minute, are of the recordings wanted; ``bank`` holds the sounds of lick and stems.

    ``ticks`` are those that the recordings have.
    """
    full = performance.quarters_per_minute
    lick = mix(performance, capo, bank, full, desk.rate_hz)
    gain = backing_gain(performance, lick, stems, bank, desk)
    bank, recorded = with_backing_at(gain, bank), stems if desk.backing else ()
    whole = _levelled(laid_together(lick, performance, stems, bank, full, desk), desk)

    def recording(tempo: Fraction) -> Levelled:
        if tempo == full and recorded == stems and not ticks:
            return whole
        music = mix_whole(performance, capo, recorded, bank, tempo, desk)
        return _levelled(with_ticks(music, ticks, tempo, desk.rate_hz, whole.open_gain), desk)

    return Session({name: recording(tempo) for name, tempo in tempos.items()}, whole.open_gain, gain)


def _levelled(recording: np.ndarray, desk: Desk) -> Levelled:
    return level(recording, desk.rate_hz, desk.loudness_lufs)
