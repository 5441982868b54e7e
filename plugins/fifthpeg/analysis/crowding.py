"""Which strikes of a lick stand so close that one finger for both would cost something.

The hand's way through a lick is its written order, with *turns*, where play goes back (at
the end of a repeat, and where the lick meets its own beginning in a loop), and *skips*,
where the last time round passes over a first ending. Strikes are numbered from 0 in
written order.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise

from ..model.findings import CLASH, CLEAN, TIGHT
from ..model.lick import Lick
from ..model.play_order import unfold
from .pace import Pace
from .strikes import Picking, loop_quarters, written_quarters

LINE = 10**7
"""One unit of a line of the cost in units of the line below: more than the longest lick can add up to."""
INSIDE_COST = {CLASH: LINE**4, TIGHT: LINE**2}
LOOP_COST = {CLASH: LINE**3, TIGHT: LINE}


@dataclass(frozen=True)
class Turn:
    """After strike ``end`` play goes on at strike ``start``.

    ``crowded`` maps (late strike, early strike of the next time round) to the cost of a
    finger that picks both with no pick between.
    """

    start: int
    end: int
    crowded: dict[tuple[int, int], int]

    @cached_property
    def heads(self) -> frozenset[int]:
        """The early strikes of ``crowded``."""
        return frozenset(early for _, early in self.crowded)


@dataclass(frozen=True)
class Skip:
    """Before strike ``to`` the hand comes not from the strike before but from the one before ``leaves``."""

    leaves: int
    to: int
    quarters: Fraction


@dataclass(frozen=True)
class Crowding:
    """``before[j]`` maps a strike played earlier to the cost of a finger that picks it and next ``j``.

    ``matters_until[i]`` is the last strike at which a pick in ``i`` still counts.
    """

    before: tuple[dict[int, int], ...]
    turns: tuple[Turn, ...]
    skips: tuple[Skip, ...]
    matters_until: tuple[int, ...]

    @cached_property
    def turning(self) -> frozenset[int]:
        """Strikes at which a turn has to be thought of."""
        return frozenset().union(*(turn.heads | {turn.end} for turn in self.turns))


def crowding_of(lick: Lick, pickings: Sequence[Picking], pace: Pace) -> Crowding:
    """``pickings`` in written order."""
    backs, skips = _jumps(lick, pickings)
    before = tuple(_crowded_before(pickings, later, skips, pace) for later in range(len(pickings)))
    turns = [Turn(start, end, _crowded_around(pickings, start, end, quarters, pace, INSIDE_COST))
             for start, end, quarters in backs]
    turns = (*turns, _loop(lick, pickings, pace))
    return Crowding(before, turns, skips, _matters_until(before, turns))


def _loop(lick: Lick, pickings: Sequence[Picking], pace: Pace) -> Turn:
    """The lick without its exit followed by itself."""
    bar_count = len(lick.bars) - lick.exit_bars
    quarters = written_quarters(lick, bar_count)
    end = sum(picking.straight < quarters for picking in pickings) - 1
    turn_quarters = loop_quarters(lick, bar_count, quarters)
    return Turn(0, end, _crowded_around(pickings, 0, end, turn_quarters, pace, LOOP_COST))


def _jumps(lick: Lick, pickings: Sequence[Picking]) -> tuple[list[tuple[int, int, Fraction]], tuple[Skip, ...]]:
    """(first strike, last strike, quarters) of what each jump back repeats, and the skips forward."""
    backs, skips = [], []
    bar_index = {bar.number: index for index, bar in enumerate(lick.bars)}
    strike_bars = [bar_index[picking.bar] for picking in pickings]
    order = [index for index, _ in unfold(lick)]
    for left, entered in sorted({jump for jump in pairwise(order) if jump[1] != jump[0] + 1}):
        quarters = abs(written_quarters(lick, entered) - written_quarters(lick, left + 1))
        first = sum(bar < entered for bar in strike_bars)
        after_left = sum(bar <= left for bar in strike_bars)
        if entered > left:
            skips.append(Skip(after_left, first, quarters))
        elif first < after_left:
            backs.append((first, after_left - 1, quarters))
    return backs, tuple(skips)


def _crowded_before(pickings: Sequence[Picking], later: int, skips: Sequence[Skip], pace: Pace) -> dict[int, int]:
    """Going back until one is clean: those before it are further off still."""
    crowded: dict[int, int] = {}
    here, earlier, skipped = pickings[later], later, Fraction(0)
    while True:
        for skip in skips:
            if skip.to == earlier:
                earlier, skipped = skip.leaves, skipped + skip.quarters
        neighbours = not crowded
        earlier -= 1
        if earlier < 0:
            return crowded
        there = pickings[earlier]
        neighbour_gap = here.straight - there.straight - skipped if neighbours else None
        verdict = pace.verdict(here.at - there.at - skipped, neighbour_gap)
        if verdict == CLEAN:
            return crowded
        crowded[earlier] = INSIDE_COST[verdict]


def _crowded_around(pickings: Sequence[Picking], start: int, end: int, quarters: Fraction, pace: Pace,
                    costs: dict[str, int]) -> dict[tuple[int, int], int]:
    """Pairs across a turn that takes ``quarters`` from any strike to the same strike next time round."""
    crowded: dict[tuple[int, int], int] = {}
    for late in range(end, start - 1, -1):
        for early in range(start, late + 1):
            there, here = pickings[late], pickings[early]
            neighbour_gap = here.straight + quarters - there.straight if not crowded else None
            verdict = pace.verdict(here.at + quarters - there.at, neighbour_gap)
            if verdict == CLEAN:
                break
            crowded[late, early] = costs[verdict]
        if (late, start) not in crowded:
            break
    return crowded


def _matters_until(before: Sequence[dict[int, int]], turns: Sequence[Turn]) -> tuple[int, ...]:
    until = list(range(len(before)))
    for later, earlier_ones in enumerate(before):
        for earlier in earlier_ones:
            until[earlier] = max(until[earlier], later)
    for turn in turns:
        for late, _ in turn.crowded:
            until[late] = max(until[late], turn.end)
    return tuple(until)
