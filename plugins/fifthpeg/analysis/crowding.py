"""Which strikes of a lick stand so close that one finger for both would cost something.

The hand's way through a lick is its written order, with *turns*, where play goes back (at
the end of a repeat, and where the lick meets its own beginning in a loop), and *skips*,
where the last time round passes over a first ending. Strikes are numbered from 0 in
written order.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from math import lcm
from typing import NamedTuple

from ..model.findings import CLASH, CLEAN, TIGHT
from ..model.lick import Lick
from ..model.play_order import unfold
from .pace import Pace
from .strikes import Picking, loop_quarters, written_quarters

LINE = 10**7
"""One unit of a line of the cost in units of the line below: more than the longest lick can add up to."""
FINGERS_AND_ONE = 10
"""More than can meet around one loop: each finger once."""
SAME_AGAIN = 1
LOOP_COST = {TIGHT: LINE, CLASH: LINE * FINGERS_AND_ONE}
COMFORT = LOOP_COST[CLASH] * FINGERS_AND_ONE
INSIDE_COST = {CLEAN: SAME_AGAIN, TIGHT: COMFORT * LINE, CLASH: COMFORT * LINE ** 2}
"""Of a finger that picks twice in a row, inside the lick by the verdict on it; ``COMFORT`` is that of one unit of
discomfort."""


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
    """Before strike ``to`` the hand comes not from the strike before but from the one before ``leaves``; what is
    passed over lasts so many ``ticks``."""

    leaves: int
    to: int
    ticks: int


@dataclass(frozen=True)
class Crowding:
    """``before[j]`` maps a strike played earlier to the cost of a finger that picks it and next ``j``.

    ``next_door[j]``: whether ``j`` follows the strike written before it at once. ``matters_until[i]`` is the last
    strike at which a pick in ``i`` still counts.
    """

    before: tuple[dict[int, int], ...]
    turns: tuple[Turn, ...]
    skips: tuple[Skip, ...]
    next_door: tuple[bool, ...]
    matters_until: tuple[int, ...]

    @cached_property
    def turning(self) -> frozenset[int]:
        """Strikes at which a turn has to be thought of."""
        return frozenset().union(*(turn.heads | {turn.end} for turn in self.turns))


def crowding_of(lick: Lick, pickings: Sequence[Picking], pace: Pace) -> Crowding:
    """``pickings`` in written order."""
    ticks = ticks_in_a_quarter(lick, pickings, pace)
    backs, skips = _jumps(lick, pickings, ticks)
    times = [Times(whole(picking.at, ticks), whole(picking.straight, ticks)) for picking in pickings]
    pace = replace(pace, clash_gap=whole(pace.clash_gap, ticks), tight_gap=whole(pace.tight_gap, ticks),
                   neighbour_quarters=whole(pace.neighbour_quarters, ticks))
    before = tuple(_crowded_before(times, later, skips, pace) for later in range(len(pickings)))
    turns = [Turn(start, end, _crowded_around(times, start, end, length, pace, INSIDE_COST))
             for start, end, length in backs]
    turns = (*turns, _loop(lick, times, pace, ticks))
    return Crowding(before, turns, skips, _next_door(times, skips, pace), _matters_until(before, turns))


class Times(NamedTuple):
    """Of a strike, in whole ticks, which are compared ten times as fast as fractions."""

    at: int
    straight: int


def ticks_in_a_quarter(lick: Lick, pickings: Sequence[Picking], pace: Pace) -> int:
    """So many that every time of the lick and each of its limits is a whole number of them."""
    limits = pace.clash_gap, pace.tight_gap, pace.neighbour_quarters, lick.slot_quarters
    times = (time for picking in pickings for time in (picking.at, picking.straight))
    return lcm(*{time.denominator for time in (*limits, *times)})


def whole(quarters: Fraction, ticks: int) -> int:
    return quarters.numerator * (ticks // quarters.denominator)


def _loop(lick: Lick, times: Sequence[Times], pace: Pace, ticks: int) -> Turn:
    """The lick without its exit followed by itself."""
    bar_count = len(lick.bars) - lick.exit_bars
    quarters = written_quarters(lick, bar_count)
    end = sum(time.straight < quarters * ticks for time in times) - 1
    length = whole(loop_quarters(lick, bar_count, quarters), ticks)
    return Turn(0, end, _crowded_around(times, 0, end, length, pace, LOOP_COST))


def _jumps(lick: Lick, pickings: Sequence[Picking],
           ticks: int) -> tuple[list[tuple[int, int, int]], tuple[Skip, ...]]:
    """(first strike, last strike, ticks) of what each jump back repeats, and the skips forward."""
    backs, skips = [], []
    bar_index = {bar.number: index for index, bar in enumerate(lick.bars)}
    strike_bars = [bar_index[picking.bar] for picking in pickings]
    order = [index for index, _ in unfold(lick)]
    for left, entered in sorted({jump for jump in pairwise(order) if jump[1] != jump[0] + 1}):
        length = whole(abs(written_quarters(lick, entered) - written_quarters(lick, left + 1)), ticks)
        first = sum(bar < entered for bar in strike_bars)
        after_left = sum(bar <= left for bar in strike_bars)
        if entered > left:
            skips.append(Skip(after_left, first, length))
        elif first < after_left:
            backs.append((first, after_left - 1, length))
    return backs, tuple(skips)


def _crowded_before(times: Sequence[Times], later: int, skips: Sequence[Skip], pace: Pace) -> dict[int, int]:
    """Going back until one is clean: those before it are further off still. The strike just before always counts."""
    crowded: dict[int, int] = {}
    here, earlier, skipped = times[later], later, 0
    while True:
        for skip in skips:
            if skip.to == earlier:
                earlier, skipped = skip.leaves, skipped + skip.ticks
        neighbours = not crowded
        earlier -= 1
        if earlier < 0:
            return crowded
        there = times[earlier]
        neighbour_gap = here.straight - there.straight - skipped if neighbours else None
        verdict = pace.verdict(here.at - there.at - skipped, neighbour_gap)
        if verdict != CLEAN or neighbours:
            crowded[earlier] = INSIDE_COST[verdict]
        if verdict == CLEAN:
            return crowded


def _crowded_around(times: Sequence[Times], start: int, end: int, length: int, pace: Pace,
                    costs: dict[str, int]) -> dict[tuple[int, int], int]:
    """Pairs across a turn that takes ``length`` ticks from any strike to the same strike next time round."""
    crowded: dict[tuple[int, int], int] = {}
    for late in range(end, start - 1, -1):
        for early in range(start, late + 1):
            there, here = times[late], times[early]
            neighbour_gap = here.straight + length - there.straight if not crowded else None
            verdict = pace.verdict(here.at + length - there.at, neighbour_gap)
            if verdict == CLEAN:
                break
            crowded[late, early] = costs[verdict]
        if (late, start) not in crowded:
            break
    return crowded


def _next_door(times: Sequence[Times], skips: Sequence[Skip], pace: Pace) -> tuple[bool, ...]:
    jumped_to = {0, *(skip.to for skip in skips)}

    def at_once(later: int) -> bool:
        return times[later].straight - times[later - 1].straight <= pace.neighbour_quarters

    return tuple(later not in jumped_to and at_once(later) for later in range(len(times)))


def _matters_until(before: Sequence[dict[int, int]], turns: Sequence[Turn]) -> tuple[int, ...]:
    until = list(range(len(before)))
    for later, earlier_ones in enumerate(before):
        for earlier in earlier_ones:
            until[earlier] = max(until[earlier], later)
    for turn in turns:
        for late, _ in turn.crowded:
            until[late] = max(until[late], turn.end)
    return tuple(until)
