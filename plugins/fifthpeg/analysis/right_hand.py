"""Right-hand fingers for plucks whose writer gave none.

The choice is the cheapest of all possible ones, by dynamic programming over the strikes
in written order. The cost of a choice, each line outweighing all lines below it together:

1. clashes inside the lick, jumps back at repeats included: a finger that picks again
   faster than the clash speed;
2. clashes where the lick, without its exit, meets its own beginning in a loop;
3. tight repeats inside the lick;
4. tight repeats around the loop;
5. comfort: the sum over the strikes of what ``grips`` counts.

A finger is held against its own previous pick. Written fingers are never overruled, only
counted. Among equally cheap choices the order thumb, index, middle decides, so that the
same lick always gets the same fingers. The work grows in step with the strikes: only picks
that a later one can still be too close to are remembered.
"""

from collections.abc import Sequence

from ..model.hands import CLASH_PER_SECOND, RIGHT_FINGERS, TIGHT_PER_SECOND
from ..model.lick import Lick
from ..model.note import Note
from .crowding import Crowding, Turn, crowding_of
from .grips import Grip, grips
from .pace import pace_of
from .strikes import written_pickings

NO_PICK = -1
NOBODY = (NO_PICK,) * len(RIGHT_FINGERS)

Picks = tuple[int, ...]
"""For each finger, thumb first, the strike it picked in."""
State = tuple[Picks, Picks, tuple[Picks, ...]]
"""Latest picks; latest picks where a first ending begins; first picks since each turn's start."""


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


def cheapest_path(choices: Sequence[Sequence[Grip]], crowding: Crowding) -> list[Grip]:
    """One grip for each strike."""
    layer: dict[State, int] = {(NOBODY, NOBODY, (NOBODY,) * len(crowding.turns)): 0}
    steps: list[dict[State, tuple[State, Grip]]] = []
    for strike, grips_here in enumerate(choices):
        reached: dict[State, int] = {}
        step: dict[State, tuple[State, Grip]] = {}
        for state, cost in layer.items():
            arrived = _arrive(state, strike, crowding)
            for grip in grips_here:
                after, added = _pick(arrived, strike, grip, crowding)
                total = cost + added
                if after not in reached or total < reached[after]:
                    reached[after], step[after] = total, (state, grip)
        layer = reached
        steps.append(step)
    return _walk_back(layer, steps)


def _arrive(state: State, strike: int, crowding: Crowding) -> State:
    """Past a first ending the hand comes from where it stood before that ending."""
    latest, aside, first = state
    for skip in crowding.skips:
        if strike == skip.leaves:
            aside = latest
        if strike == skip.to:
            latest, aside = aside, NOBODY
    return latest, aside, first


def _pick(state: State, strike: int, grip: Grip, crowding: Crowding) -> tuple[State, int]:
    """The state after the strike, and what the grip adds to the cost."""
    latest, aside, firsts = state
    crowded = crowding.before[strike]
    cost = grip.discomfort
    picks = list(latest)
    for finger in grip.finger_indices:
        cost += crowded.get(picks[finger], 0)
        picks[finger] = strike
    if strike in crowding.turning:
        moved = [_turn(turn, first, strike, grip, picks) for turn, first in zip(crowding.turns, firsts, strict=True)]
        firsts = tuple(first for first, _ in moved)
        cost += sum(added for _, added in moved)
    until = crowding.matters_until
    latest = tuple([pick if pick != NO_PICK and until[pick] > strike else NO_PICK for pick in picks])
    return (latest, aside, firsts), cost


def _turn(turn: Turn, first: Picks, strike: int, grip: Grip, latest: Sequence[int]) -> tuple[Picks, int]:
    """First picks near the start of a turn are remembered until the turn closes, and cost something there."""
    if strike in turn.heads:
        first = tuple(
            strike if finger in grip.finger_indices and pick == NO_PICK else pick
            for finger, pick in enumerate(first)
        )
    if strike != turn.end:
        return first, 0
    return NOBODY, sum(turn.crowded.get(pair, 0) for pair in zip(latest, first, strict=True))


def _walk_back(layer: dict[State, int], steps: Sequence[dict[State, tuple[State, Grip]]]) -> list[Grip]:
    state = min(layer, key=layer.__getitem__)
    path = []
    for step in reversed(steps):
        state, grip = step[state]
        path.append(grip)
    return path[::-1]
