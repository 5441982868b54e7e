"""The seams of a whole library at one tempo and bounce, with word of which can be repaired."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from ..model.lick import Lick
from .changes import Change, changed, end_changes, start_changes
from .edges import CLEAN_CODE, Edge, end_edge, in_ticks, limits_of, start_edge, ticks_per_quarter, verdict_codes
from .neighbours import may_meet
from .pace import Pace, pace_of
from .repairs import harmless, seam_repairs
from .settle import at_pace
from .sides import Side, side_of
from .strikes import Picking

CLEAN_RANK, REPAIRED_RANK, TIGHT_RANK, NEVER_RANK = 0, 1, 2, 3
"""Best first; a clash that nothing repairs is never offered, nor a pair that can't be chained."""


@dataclass(frozen=True)
class FitSeams:
    """``ranks`` int8 [before, after]. ``paces`` are those of the one tempo."""

    ranks: np.ndarray
    ends: tuple[Side, ...]
    starts: tuple[Side, ...]
    paces: tuple[Pace, ...]

    def repair_name(self, before_index: int, after_index: int) -> str | None:
        """The smallest repair of a seam, None where there is none or none is needed."""
        repairs = seam_repairs(self.ends[before_index], self.starts[after_index], self.paces[before_index])
        return repairs[0].name if repairs else None


def fit_sides(licks: Sequence[Lick], bounce: int) -> tuple[tuple[Side, ...], tuple[Side, ...]]:
    """How each settled lick ends without its exit, and begins, with this bounce; the tempo does not matter yet."""
    ends = tuple(side_of(at_pace(lick, lick.tempo, bounce)) for lick in licks)
    return ends, tuple(side_of(side.lick, with_exit=True) if side.lick.exit_bars else side for side in ends)


def fit_seams(ends: tuple[Side, ...], starts: tuple[Side, ...], tempo: Fraction, clash_per_second: float,
              tight_per_second: float) -> FitSeams:
    """``tempo`` in beats a minute of each lick's meter."""
    licks = [at_pace(side.lick, tempo, side.lick.bounce) for side in ends]
    paces = tuple(pace_of(lick, clash_per_second, tight_per_second) for lick in licks)
    leaving, entering = [end_edge(side) for side in ends], [start_edge(side) for side in starts]
    per_quarter = ticks_per_quarter((*leaving, *entering))
    out_of, into = in_ticks(leaving, per_quarter), in_ticks(entering, per_quarter)
    limits = limits_of(paces, per_quarter)

    codes, may = verdict_codes(out_of, into, limits), may_meet(ends, licks)
    ranks = np.where(codes == CLEAN_CODE, CLEAN_RANK, codes + 1).astype(np.int8)
    ranks[~may] = NEVER_RANK
    waiting = may & (codes != CLEAN_CODE)
    for index in np.flatnonzero(waiting.any(axis=1)):
        own = limits.rows(index, index + 1)
        gains = freer(ends[index], leaving[index], end_changes, end_edge)
        _mend(waiting[index], ends[index], gains, paces[index],
              lambda edge, own=own: verdict_codes(in_ticks([edge], per_quarter), into, own)[0])
    for index in np.flatnonzero(waiting.any(axis=0)):
        gains = freer(starts[index], entering[index], start_changes, start_edge)
        _mend(waiting[:, index], starts[index], gains, paces[index],
              lambda edge: verdict_codes(out_of, in_ticks([edge], per_quarter), limits)[:, 0])
    ranks[may & (codes != CLEAN_CODE) & ~waiting] = REPAIRED_RANK
    return FitSeams(ranks, ends, starts, paces)


def _mend(waiting: np.ndarray, side: Side, gains: Iterable[tuple[Change, Edge]], pace: Pace,
          judge: Callable[[Edge], np.ndarray]) -> None:
    """Strikes out of ``waiting``, in place, the neighbours that a harmless change of ``side`` makes clean."""
    for change, edge in gains:
        mended = waiting & (judge(edge) == CLEAN_CODE)
        if mended.any() and harmless(side, change, pace):
            waiting &= ~mended
            if not waiting.any():
                return


def freer(side: Side, edge: Edge, changes: Callable[[Sequence[Picking]], Iterable[Change]],
           edge_of: Callable[[Side, Sequence[Picking]], Edge]) -> Iterator[tuple[Change, Edge]]:
    """The changes by which a finger gains time, with the edges they give the side."""
    for change in changes(side.pickings):
        made = edge_of(side, changed(side.pickings, change))
        if not made.is_no_freer_than(edge):
            yield change, made
