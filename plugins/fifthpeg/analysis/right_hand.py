"""Right-hand fingers for plucks whose writer gave none.

The choice is the cheapest of all possible ones, by dynamic programming over the strikes
in written order. The cost of a choice, each line outweighing all lines below it together:

1. clashes inside the lick, jumps back at repeats included: a finger that picks again
   faster than the clash speed;
2. tight repeats inside the lick;
3. comfort: the sum over the strikes of what ``grips`` counts and ``rolls`` prefers, and of
   what ``crossings`` counts between neighbours;
4. clashes where the lick, without its exit, meets its own beginning in a loop;
5. tight repeats around the loop;
6. the finger that picked last picking again, even where nothing hurries it.

A finger is held against its own previous pick. Written fingers are never overruled, only
counted. A loop is served where that costs nothing inside: a lick is mostly heard once, and
where it doesn't loop its page offers a repair. Among equally cheap choices the first strike
in which they differ decides, in the order thumb, index, middle, so that the same lick
always gets the same fingers. What stands before or after a lick in a chain has no say: a
lick added somewhere else would change fingers that a student has learnt. The work grows in
step with the strikes: only picks that a later one can still be too close to are remembered.
"""

from collections.abc import Sequence
from typing import NamedTuple

from ..model.hands import CLASH_PER_SECOND, RIGHT_FINGERS, TIGHT_PER_SECOND
from ..model.lick import Lick
from ..model.note import Note
from .crossings import Crossings, crossings_of
from .crowding import COMFORT, Crowding, Skip, Turn, crowding_of
from .grips import Grip, grips
from .pace import pace_of
from .rolls import leaning, usual_fingers
from .strikes import written_pickings

NO_PICK = -1
NOBODY = (NO_PICK,) * len(RIGHT_FINGERS)

Picks = tuple[int, ...]
"""For each finger, thumb first, the strike it picked in."""
State = tuple[Picks, Picks, tuple[Picks, ...]]
"""Latest picks; latest picks where a first ending begins; first picks since each turn's start."""
Reached = tuple[int, int, int, State | None, Grip | None]
"""The best way to a state: its cost, the place of its first part among all such, which grip it ends with, in
numbers; where it comes from, and the grip."""
START: Reached = (0, 0, 0, None, None)


class Move(NamedTuple):
    """A strike taken from where the fingers picked last: what it costs, the latest picks then, and those of them that
    still matter."""

    grip: Grip
    cost: int
    picks: Picks
    remembered: Picks


def choose_fingers(lick: Lick, notes: Sequence[Note], clash_per_second: float = CLASH_PER_SECOND,
                   tight_per_second: float = TIGHT_PER_SECOND) -> dict[str, str]:
    """Mark -> finger for every pluck of ``notes`` (all notes of the lick, as written) that has none."""
    pickings = written_pickings(lick, notes)
    if all(finger for picking in pickings for finger in picking.fingers):
        return {}
    crowding = crowding_of(lick, pickings, pace_of(lick, clash_per_second, tight_per_second))
    choices = [leaning(grips(picking.strings, picking.fingers), usual)
               for picking, usual in zip(pickings, usual_fingers(pickings), strict=True)]
    path = cheapest_path(choices, crowding, crossings_of(choices, crowding.next_door))
    return {
        mark: finger
        for picking, grip in zip(pickings, path, strict=True)
        for mark, written, finger in zip(picking.marks, picking.fingers, grip.fingers, strict=True)
        if written is None
    }


def cheapest_path(choices: Sequence[Sequence[Grip]], crowding: Crowding, crossings: Crossings) -> list[Grip]:
    """One grip for each strike."""
    layers: list[dict[State, Reached]] = [{(NOBODY, NOBODY, (NOBODY,) * len(crowding.turns)): START}]
    for strike, grips_here in enumerate(choices):
        reached: dict[State, Reached] = {}
        moves: dict[Picks, list[Move]] = {}
        turns = crowding.turns if strike in crowding.turning else ()
        for rank, (state, (cost, *_)) in enumerate(sorted(layers[-1].items(), key=_path_order)):
            latest, aside, firsts = _arrive(state, strike, crowding.skips) if crowding.skips else state
            if latest not in moves:
                moves[latest] = [_move(latest, strike, grip, crowding, crossings) for grip in grips_here]
            for order, move in enumerate(moves[latest]):
                first, around = _turned(firsts, move, strike, turns) if turns else (firsts, 0)
                after = move.remembered, aside, first
                way = cost + move.cost + around, rank, order, state, move.grip
                if way < reached.setdefault(after, way):
                    reached[after] = way
        layers.append(reached)
    return _walk_back(layers)


def _path_order(entry: tuple[State, Reached]) -> tuple[int, int]:
    """Ways to one strike differ first where their first parts do, then in how they take it."""
    return entry[1][1:3]


def _arrive(state: State, strike: int, skips: Sequence[Skip]) -> State:
    """Past a first ending the hand comes from where it stood before that ending."""
    latest, aside, first = state
    for skip in skips:
        if strike == skip.leaves:
            aside = latest
        if strike == skip.to:
            latest, aside = aside, NOBODY
    return latest, aside, first


def _move(latest: Picks, strike: int, grip: Grip, crowding: Crowding, crossings: Crossings) -> Move:
    crowded, until = crowding.before[strike], crowding.matters_until
    cost = grip.discomfort * COMFORT + _crossed(latest, strike, grip, crossings)
    picks = list(latest)
    for finger in grip.finger_indices:
        cost += crowded.get(picks[finger], 0)
        picks[finger] = strike
    remembered = tuple([pick if pick != NO_PICK and until[pick] > strike else NO_PICK for pick in picks])
    return Move(grip, cost, tuple(picks), remembered)


def _crossed(latest: Picks, strike: int, grip: Grip, crossings: Crossings) -> int:
    """A pick in the very next strike always matters, so the latest picks tell which fingers took the one before."""
    before = tuple([finger for finger, pick in enumerate(latest) if pick == strike - 1])
    return crossings[strike].get((before, grip.finger_indices), 0)


def _turned(firsts: tuple[Picks, ...], move: Move, strike: int,
            turns: Sequence[Turn]) -> tuple[tuple[Picks, ...], int]:
    moved = [_turn(turn, first, strike, move.grip, move.picks) for turn, first in zip(turns, firsts, strict=True)]
    return tuple(first for first, _ in moved), sum(added for _, added in moved)


def _turn(turn: Turn, first: Picks, strike: int, grip: Grip, latest: Picks) -> tuple[Picks, int]:
    """First picks near the start of a turn are remembered until the turn closes, and cost something there."""
    if strike in turn.heads:
        first = tuple(
            strike if finger in grip.finger_indices and pick == NO_PICK else pick
            for finger, pick in enumerate(first)
        )
    if strike != turn.end:
        return first, 0
    return NOBODY, sum(turn.crowded.get(pair, 0) for pair in zip(latest, first, strict=True))


def _walk_back(layers: Sequence[dict[State, Reached]]) -> list[Grip]:
    way = min(layers[-1].values())
    path = []
    for layer in reversed(layers[:-1]):
        *_, state, grip = way
        path.append(grip)
        way = layer[state]
    return path[::-1]
