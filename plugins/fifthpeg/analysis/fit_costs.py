"""What a chain costs, and the least that any way to its end still costs.

A cost is one whole number whose places, the weightiest first, count

1. tight seams (with the one from the lick before),
2. repaired seams (likewise),
3. how well the first link suits what it follows: 0 it is meant to, 1 it says nothing, 2 it is meant for another,
4. links that repeat the one before them,
5. links that repeat the one before that,
6. links,
7. 1 where the last link drops an exit.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from .fit_links import FitLink
from .fit_seams import CLEAN_RANK, NEVER_RANK, REPAIRED_RANK, TIGHT_RANK

MOST_BARS = 64
DROPPED = 1
LINK = 2
RETURN = LINK << 7
ADJACENT = RETURN << 7
UNSUITED = ADJACENT << 7
REPAIRED = UNSUITED << 2
TIGHT = REPAIRED << 7
IMPOSSIBLE = TIGHT << 7
"""Each place holds more than a chain of ``MOST_BARS`` bars can add to it."""
SEAM_COST = {CLEAN_RANK: 0, REPAIRED_RANK: REPAIRED, TIGHT_RANK: TIGHT, NEVER_RANK: IMPOSSIBLE}
ROWS_AT_ONCE = 512
NOBODY = -1
LIMB_BITS = 32
"""Counts grow past machine numbers: they are added up in limbs that a float64 holds exactly for a million licks."""


@dataclass(frozen=True)
class LeastCosts:
    """The least cost of all that follows link j and fills ``left`` bars, the seam after j included.

    ``best[left, j]`` in general, going on with link ``then[left, j]``; ``otherwise[left, j]`` where that very link
    came before j, so that it would be a return. ``IMPOSSIBLE`` or more where nothing fills them.
    """

    best: np.ndarray
    then: np.ndarray
    otherwise: np.ndarray

    def after(self, before: int, link: int, left: int) -> int:
        """``before`` is the link before ``link``, or ``NOBODY``."""
        return int((self.otherwise if self.then[left, link] == before else self.best)[left, link])


def seam_costs(ranks: np.ndarray) -> np.ndarray:
    return np.array([SEAM_COST[rank] for rank in sorted(SEAM_COST)], np.int64)[ranks]


def least_costs(links: Sequence[FitLink], ranks: np.ndarray, bars: int) -> LeastCosts:
    """``ranks`` [before, after] of these links; up to ``bars`` to fill."""
    shape = bars + 1, len(links)
    least = LeastCosts(np.full(shape, IMPOSSIBLE), np.full(shape, NOBODY), np.full(shape, IMPOSSIBLE))
    for left in range(1, bars + 1):
        for rows in _slices(len(links)):
            costs = going_on(links, ranks, least, np.arange(len(links))[rows], left)
            here = np.arange(len(costs))
            then = costs.argmin(axis=1)
            least.best[left, rows], least.then[left, rows] = costs[here, then], then
            costs[here, then] += RETURN
            least.otherwise[left, rows] = costs.min(axis=1)
    return least


def going_on(links: Sequence[FitLink], ranks: np.ndarray, least: LeastCosts, rows: np.ndarray,
             left: int) -> np.ndarray:
    """[row, link]: the least cost of going on from these links with each link, with ``left`` bars to fill."""
    costs = seam_costs(ranks[rows]) + least_from(links, least, rows[:, None], left)
    costs += ADJACENT * (rows[:, None] == np.arange(len(links))[None, :])
    return np.minimum(costs, IMPOSSIBLE)


def least_from(links: Sequence[FitLink], least: LeastCosts, before: np.ndarray, left: int) -> np.ndarray:
    """The least cost of each link and all after it, with ``before``, a column of links or ``NOBODY``, before it."""
    body, full, has_exit = body_bars(links), full_bars(links), has_exits(links)
    ends = np.full(len(links), IMPOSSIBLE, np.int64)
    ends[body == left] = np.where(has_exit, DROPPED, 0)[body == left]
    ends[full == left] = 0
    still = np.maximum(left - body, 0)
    every = np.arange(len(links))
    goes_on = np.where(least.then[still, every] == before, least.otherwise[still, every], least.best[still, every])
    return np.minimum(np.minimum(goes_on, ends) + LINK, IMPOSSIBLE)


def count_ways(links: Sequence[FitLink], ranks: np.ndarray, bars: int, firsts: Sequence[int]) -> int:
    """How many chains fill the bars, beginning with one of ``firsts``; with an exit kept or dropped counts as two."""
    body, full = body_bars(links), full_bars(links)
    after = [[0] * len(links)]
    from_link: list[list[int]] = [[0] * len(links)]
    for left in range(1, bars + 1):
        from_link.append([
            int(body[j] == left) + int(full[j] == left) + (after[left - body[j]][j] if body[j] < left else 0)
            for j in range(len(links))])
        after.append(_sums_after(from_link[left], ranks) if left < bars else [])
    return sum(from_link[bars][first] for first in firsts)


def _sums_after(ways: Sequence[int], ranks: np.ndarray) -> list[int]:
    columns = [index for index, count in enumerate(ways) if count]
    if not columns:
        return [0] * len(ways)
    limbs = -(-max(ways).bit_length() // LIMB_BITS)
    mask = (1 << LIMB_BITS) - 1
    split = np.array([[ways[index] >> LIMB_BITS * limb & mask for limb in range(limbs)] for index in columns], float)
    sums: list[int] = []
    for rows in _slices(len(ways)):
        may = ranks[rows][:, columns] != NEVER_RANK
        parts = may.astype(float) @ split
        sums += [sum(int(part) << LIMB_BITS * limb for limb, part in enumerate(row)) for row in parts]
    return sums


def body_bars(links: Sequence[FitLink]) -> np.ndarray:
    return np.array([link.body_bars for link in links], np.int64)


def full_bars(links: Sequence[FitLink]) -> np.ndarray:
    """0, which fills nothing, where a link keeps no exit."""
    return np.array([link.full_bars or 0 for link in links], np.int64)


def has_exits(links: Sequence[FitLink]) -> np.ndarray:
    return np.array([bool(link.lick.exit_bars) for link in links])


def _slices(count: int) -> Iterator[slice]:
    return (slice(top, top + ROWS_AT_ONCE) for top in range(0, count, ROWS_AT_ONCE))
