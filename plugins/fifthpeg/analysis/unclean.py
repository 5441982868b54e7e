"""Every seam of a library that is not clean, in full: who picks twice, how fast, and what would mend it.

The same joins and offers as ``seams.seam`` and ``repairs.repairs_for`` give pair by pair. A change of one lick is tried
against all its neighbours at once, in whole ticks, which is what makes a library of hundreds possible.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np

from ..model.findings import Join, Repair
from ..model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND
from ..model.lick import Lick
from .changes import AT_START, Change, end_changes, start_changes
from .edges import CLEAN_CODE, Edge, Edges, Limits, end_edge, in_ticks, limits_of, start_edge, ticks_per_quarter
from .edges import verdict_codes
from .fit_seams import freer, fit_sides
from .neighbours import may_meet
from .pace import pace_of
from .repairs import first_of_each_name, harmless, of_lick
from .saying import say
from .settle import at_pace, settled
from .sides import Side, meet


@dataclass(frozen=True)
class _Mend:
    """A harmless change of one lick; ``mends`` says for each neighbour whether the seam is clean with it."""

    change: Change
    says: str
    mends: np.ndarray


def unclean_joins(licks: Sequence[Lick], clash_per_second: float = CLASH_PER_SECOND,
                  tight_per_second: float = TIGHT_PER_SECOND) -> dict[tuple[int, int], Join]:
    """(index before, index after) -> the join with its repairs, for each pair that can be chained and is not clean.

    Each pair at the full tempo and the bounce of its first.
    """
    speeds = clash_per_second, tight_per_second
    licks = [settled(lick, *speeds) for lick in licks]
    found = {}
    for bounce in sorted({lick.bounce for lick in licks}):
        ends, starts = fit_sides(licks, bounce)
        for tempo in sorted({lick.tempo for lick in licks if lick.bounce == bounce}):
            rows = [row for row, lick in enumerate(licks) if (lick.tempo, lick.bounce) == (tempo, bounce)]
            found.update(_joins_at(rows, ends, starts, tempo, speeds))
    return found


def _joins_at(rows: Sequence[int], ends: Sequence[Side], starts: Sequence[Side], tempo: Fraction,
              speeds: tuple[float, float]) -> Iterator[tuple[tuple[int, int], Join]]:
    """Of the licks in ``rows`` before all others; ``tempo`` is theirs."""
    befores = [ends[row] for row in rows]
    leaving, entering = [end_edge(side) for side in befores], [start_edge(side) for side in starts]
    per_quarter = ticks_per_quarter((*leaving, *entering))
    out_of, into = in_ticks(leaving, per_quarter), in_ticks(entering, per_quarter)
    limits = limits_of([pace_of(side.lick, *speeds) for side in befores], per_quarter)
    waiting = verdict_codes(out_of, into, limits) != CLEAN_CODE
    waiting &= may_meet(befores, [side.lick for side in starts])
    mended_at_end = {
        index: _mends(befores[index], leaving[index], end_changes, end_edge, tempo, speeds,
                      _judge_end(into, limits.rows(index, index + 1), per_quarter))
        for index in np.flatnonzero(waiting.any(axis=1))}
    mended_at_start = {
        column: _mends(starts[column], entering[column], start_changes, start_edge, tempo, speeds,
                       _judge_start(out_of, limits, per_quarter))
        for column in np.flatnonzero(waiting.any(axis=0))}
    for index, column in zip(*np.nonzero(waiting), strict=True):
        before, after = befores[index], starts[column]
        offers = [mend for mend in mended_at_end[index] if mend.mends[column]]
        offers += [mend for mend in mended_at_start[column] if mend.mends[index]]
        join = meet(before, after, pace_of(before.lick, *speeds))
        yield (rows[index], int(column)), replace(join, repairs=_repairs(offers, before, after))


def _judge_end(into: Edges, limits: Limits, per_quarter: int) -> Callable[[Edge], np.ndarray]:
    return lambda edge: verdict_codes(in_ticks([edge], per_quarter), into, limits)[0] == CLEAN_CODE


def _judge_start(out_of: Edges, limits: Limits, per_quarter: int) -> Callable[[Edge], np.ndarray]:
    return lambda edge: verdict_codes(out_of, in_ticks([edge], per_quarter), limits)[:, 0] == CLEAN_CODE


def _mends(side: Side, edge: Edge, changes: Callable, edge_of: Callable, tempo: Fraction, speeds: tuple[float, float],
           judge: Callable[[Edge], np.ndarray]) -> list[_Mend]:
    pace = pace_of(at_pace(side.lick, tempo, side.lick.bounce), *speeds)
    found = []
    for change, made in freer(side, edge, changes, edge_of):
        mends = judge(made)
        if mends.any() and harmless(side, change, pace):
            found.append(_Mend(change, say(change, side.lick, side.notes), mends))
    return found


def _repairs(offers: Sequence[_Mend], before: Side, after: Side) -> tuple[Repair, ...]:
    says = {mend.change: mend.says for mend in offers}
    chosen = first_of_each_name((mend.change for mend in offers), says.__contains__)
    return tuple(Repair(change.name, of_lick((after if change.where == AT_START else before).lick, change.where)
                        + says[change]) for change in chosen)
