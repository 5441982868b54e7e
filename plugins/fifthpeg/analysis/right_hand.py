"""Right-hand fingers for plucks whose writer gave none.

The choice is the cheapest of all possible ones, by dynamic programming over the strikes
in written order. The cost of a choice, each line outweighing all lines below it together:

1. clashes inside the lick: a finger that picks again faster than the clash speed;
2. clashes where the lick, without its exit, meets its own beginning in a loop;
3. tight repeats inside the lick;
4. tight repeats around the loop;
5. comfort: the sum over the strikes that ``grips`` gives.

A finger is held against its own previous pick. Written fingers are never overruled, only
counted. Among equally cheap choices the first in order of thumb, index, middle is taken, so
that the same lick always gets the same fingers. The work grows in step with the strikes:
only picks that a later one can still be too close to are remembered.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from ..model.findings import CLASH, CLEAN, TIGHT
from ..model.hands import CLASH_PER_SECOND, RIGHT_FINGERS, TIGHT_PER_SECOND
from ..model.lick import Lick
from ..model.note import Note
from .grips import Grip, grips
from .pace import Pace, pace_of
from .strikes import Picking, loop_quarters, written_pickings, written_quarters

LINE = 10**7
"""One unit of a line in units of the line below: more than the comfort of the longest lick can add up to."""
INSIDE_COST = {CLASH: LINE**4, TIGHT: LINE**2, CLEAN: 0}
LOOP_COST = {CLASH: LINE**3, TIGHT: LINE, CLEAN: 0}

NO_PICK = -1
NOBODY = (NO_PICK,) * len(RIGHT_FINGERS)


def choose_fingers(lick: Lick, notes: Sequence[Note], clash_per_second: float = CLASH_PER_SECOND,
                   tight_per_second: float = TIGHT_PER_SECOND) -> dict[str, str]:
    """Mark -> finger for every pluck of ``notes`` (all notes of the lick, as written) that has none."""
    pickings = written_pickings(lick, notes)
    if all(finger for picking in pickings for finger in picking.fingers):
        return {}
    crowding = crowding_of(lick, pickings, pace_of(lick, clash_per_second, tight_per_second))
    path = cheapest_path([grips(picking.strings, picking.fingers) for picking in pickings], crowding)
    return {
        mark: finger
        for picking, grip in zip(pickings, path, strict=True)
        for mark, written, finger in zip(picking.marks, picking.fingers, grip.fingers, strict=True)
        if written is None
    }


@dataclass
class Crowding:
    """Which strikes stand so close that one finger for both would cost something.

    ``before[j]`` maps an earlier strike to the cost of a finger that picks it and next ``j``.
    ``around`` does so for (late strike, early strike) across the loop, which closes after
    strike ``loop_end``. ``matters_until[i]`` is the last strike at which a pick in ``i`` still counts.
    """

    before: list[dict[int, int]]
    loop_end: int
    around: dict[tuple[int, int], int] = field(default_factory=dict)
    matters_until: list[int] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.heads = {early for _, early in self.around}
        self.matters_until = list(range(len(self.before)))
        for later, earlier_ones in enumerate(self.before):
            for earlier in earlier_ones:
                self.matters_until[earlier] = max(self.matters_until[earlier], later)
        for late, _ in self.around:
            self.matters_until[late] = max(self.matters_until[late], self.loop_end)


def crowding_of(lick: Lick, pickings: Sequence[Picking], pace: Pace) -> Crowding:
    before = [_crowded_before(pickings, later, pace) for later in range(len(pickings))]
    bar_count = len(lick.bars) - lick.exit_bars
    end = written_quarters(lick, bar_count)
    kept = sum(picking.straight < end for picking in pickings)
    turn = loop_quarters(lick, bar_count, end)
    return Crowding(before, kept - 1, _crowded_around(pickings[:kept], turn, pace))


def cheapest_path(choices: Sequence[Sequence[Grip]], crowding: Crowding) -> list[Grip]:
    """One grip a strike. A state is (latest pick of each finger, first pick of each finger near the start)."""
    layer = {(NOBODY, NOBODY): 0}
    steps = []
    for strike, grips_here in enumerate(choices):
        reached: dict[tuple, int] = {}
        step: dict[tuple, tuple] = {}
        for state, cost in layer.items():
            for grip in grips_here:
                after, added = _pick(state, strike, grip, crowding)
                total = cost + added
                if after not in reached or total < reached[after]:
                    reached[after], step[after] = total, (state, grip)
        layer = reached
        steps.append(step)
    return _walk_back(layer, steps)


def _pick(state: tuple, strike: int, grip: Grip, crowding: Crowding) -> tuple[tuple, int]:
    latest, first = state
    crowded = crowding.before[strike]
    cost = grip.discomfort
    for finger in grip.finger_indices:
        cost += crowded.get(latest[finger], 0)
    latest = tuple(
        strike if finger in grip.finger_indices else pick for finger, pick in enumerate(latest)
    )
    if strike in crowding.heads and strike <= crowding.loop_end:
        first = tuple(
            strike if finger in grip.finger_indices and pick == NO_PICK else pick for finger, pick in enumerate(first)
        )
    if strike == crowding.loop_end:
        cost += sum(crowding.around.get(pair, 0) for pair in zip(latest, first, strict=True))
        first = NOBODY
    matters = crowding.matters_until
    latest = tuple(pick if pick != NO_PICK and matters[pick] > strike else NO_PICK for pick in latest)
    return (latest, first), cost


def _walk_back(layer: dict[tuple, int], steps: Sequence[dict[tuple, tuple]]) -> list[Grip]:
    state = min(layer, key=layer.__getitem__)
    path = []
    for step in reversed(steps):
        state, grip = step[state]
        path.append(grip)
    return path[::-1]


def _crowded_before(pickings: Sequence[Picking], later: int, pace: Pace) -> dict[int, int]:
    """Going back until one is clean: those before it are further off still."""
    crowded = {}
    here = pickings[later]
    for earlier in range(later - 1, -1, -1):
        there = pickings[earlier]
        neighbour_gap = here.straight - there.straight if earlier == later - 1 else None
        verdict = pace.verdict(here.at - there.at, neighbour_gap)
        if verdict == CLEAN:
            break
        crowded[earlier] = INSIDE_COST[verdict]
    return crowded


def _crowded_around(pickings: Sequence[Picking], turn: Fraction, pace: Pace) -> dict[tuple[int, int], int]:
    crowded = {}
    for late in reversed(range(len(pickings))):
        row = _crowded_after(pickings, late, turn, pace)
        if not row:
            break
        crowded |= row
    return crowded


def _crowded_after(pickings: Sequence[Picking], late: int, turn: Fraction, pace: Pace) -> dict[tuple[int, int], int]:
    """Strikes of the next turn too close to strike ``late`` of this one."""
    crowded = {}
    there = pickings[late]
    for early, here in enumerate(pickings[:late + 1]):
        neighbours = late == len(pickings) - 1 and early == 0
        neighbour_gap = here.straight + turn - there.straight if neighbours else None
        verdict = pace.verdict(here.at + turn - there.at, neighbour_gap)
        if verdict == CLEAN:
            break
        crowded[late, early] = LOOP_COST[verdict]
    return crowded
