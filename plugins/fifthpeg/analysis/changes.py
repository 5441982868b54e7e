"""Small changes to the right hand near a join, tried on its strikes before any lick is rewritten."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from ..model.hands import REACH, RIGHT_FINGERS, THUMB
from ..model.note import Note
from .grips import discomfort, grips
from .pace import Pace
from .repeats import find_repeats
from .strikes import Picking

HOLD, THE_THUMB, REFINGER, SINGLE, PINCH = "hold", "thumb", "refinger", "single", "pinch"
NAMES = (HOLD, THE_THUMB, REFINGER, SINGLE, PINCH)
AT_END, AT_START = "end", "start"
WINDOW = 3
"""Other fingers are tried on so many strikes on either side of a join: further off, a hand has time."""


@dataclass(frozen=True)
class Change:
    """``fingers`` are (mark, finger) of plucks picked otherwise, ``lost`` the marks of those no longer picked."""

    name: str
    where: str
    fingers: tuple[tuple[str, str], ...] = ()
    lost: frozenset[str] = frozenset()
    discomfort: int = 0

    @property
    def size(self) -> tuple[int, ...]:
        """Smallest first: notes touched, then the order of the names, then comfort."""
        return len(self.marks), NAMES.index(self.name), self.discomfort

    def only_adds_to(self, smaller: "Change") -> bool:
        """Whether it is nothing but a smaller change and more fingers to learn."""
        return self.name == REFINGER and not smaller.lost and set(smaller.fingers) <= set(self.fingers)

    @property
    def marks(self) -> frozenset[str]:
        return self.lost.union(mark for mark, _ in self.fingers)


def end_changes(pickings: Sequence[Picking]) -> Iterator[Change]:
    """All that may be changed at the end; not yet whether it helps, or harms elsewhere."""
    if not pickings:
        return
    last = pickings[-1]
    if len(pickings) > 1:
        yield Change(HOLD, AT_END, lost=frozenset(last.marks))
    if len(last.marks) == 1 and last.fingers != (THUMB,) and last.strings[0] in REACH[THUMB]:
        yield Change(THE_THUMB, AT_END, ((last.marks[0], THUMB),), discomfort=discomfort(last.strings, (THUMB,)))
    yield from _pinch_changes(last, AT_END)
    yield from _refingerings(pickings[-WINDOW:], AT_END)


def start_changes(pickings: Sequence[Picking]) -> Iterator[Change]:
    """The same for the beginning."""
    if pickings:
        yield from _pinch_changes(pickings[0], AT_START)
        yield from _refingerings(pickings[:WINDOW], AT_START)


def changed(pickings: Sequence[Picking], change: Change) -> list[Picking]:
    """The strikes with a change made, wherever its marks are played."""
    marks, fingers = change.marks, dict(change.fingers)
    result = []
    for picking in pickings:
        if marks.isdisjoint(picking.marks):
            result.append(picking)
            continue
        kept = [(mark, string, fingers.get(mark, finger)) for mark, string, finger
                in zip(picking.marks, picking.strings, picking.fingers, strict=True) if mark not in change.lost]
        if kept:
            result.append(Picking(picking.at, picking.straight, picking.bar, picking.slot, *zip(*kept, strict=True)))
    return result


def worsens(pickings: Sequence[Picking], change: Change, pace: Pace) -> bool:
    """Whether a finger would repeat somewhere inside where it did not, or faster than it did."""
    near = _stretch(pickings, change.marks, pace)
    after = _speeds(changed(near, change), pace)
    before = _speeds(near, pace) if after else {}
    return any(speed > before.get(place, 0) for place, speed in after.items())


def held_by(notes: Iterable[Note], lost: Note) -> list[Note]:
    """What sounds up to the moment of a note, and would go on in its place."""
    return [note for note in notes if note.start < lost.start == note.start + note.length and note.touch != "damped"]


def _pinch_changes(strike: Picking, where: str) -> Iterator[Change]:
    if len(strike.marks) < 2 or len(set(strike.fingers)) < 2:
        return
    for mark, string, finger in zip(strike.marks, strike.strings, strike.fingers, strict=True):
        lost = frozenset(strike.marks) - {mark}
        for other in (finger, *(other for other in RIGHT_FINGERS if other != finger and string in REACH[other])):
            fingers = () if other == finger else ((mark, other),)
            yield Change(SINGLE, where, fingers, lost, discomfort((string,), (other,)))
    for grip in grips(strike.strings, (None,) * len(strike.strings)):
        if grip.fingers != strike.fingers:
            yield Change(PINCH, where, _otherwise(strike, grip.fingers), discomfort=grip.discomfort)


def _refingerings(window: Sequence[Picking], where: str) -> Iterator[Change]:
    """All fingerings of the window but those that have a name of their own."""
    choices = [grips(picking.strings, (None,) * len(picking.strings)) for picking in window]
    edge = -1 if where == AT_END else 0
    for path in product(*choices):
        fingers = tuple(pair for picking, grip in zip(window, path, strict=True)
                        for pair in _otherwise(picking, grip.fingers))
        if fingers and not _has_own_name(fingers, window[edge], where):
            yield Change(REFINGER, where, fingers, discomfort=sum(grip.discomfort for grip in path))


def _has_own_name(fingers: Sequence[tuple[str, str]], edge: Picking, where: str) -> bool:
    if not {mark for mark, _ in fingers} <= set(edge.marks):
        return False
    return len(edge.marks) > 1 or (where == AT_END and fingers[0][1] == THUMB)


def _otherwise(picking: Picking, fingers: Sequence[str]) -> tuple[tuple[str, str], ...]:
    return tuple((mark, finger) for mark, old, finger in zip(picking.marks, picking.fingers, fingers, strict=True)
                 if finger != old)


def _stretch(pickings: Sequence[Picking], marks: frozenset[str], pace: Pace) -> Sequence[Picking]:
    """The strikes a change can bear on: a finger that comes from further off is in time and no neighbour."""
    touched = [index for index, picking in enumerate(pickings) if not marks.isdisjoint(picking.marks)]
    first, last = touched[0] - 1, touched[-1] + 1
    while first >= 0 and pickings[touched[0]].at - pickings[first].at < pace.tight_gap:
        first -= 1
    while last < len(pickings) and pickings[last].at - pickings[touched[-1]].at < pace.tight_gap:
        last += 1
    return pickings[max(0, first):last + 1]


def _speeds(pickings: Sequence[Picking], pace: Pace) -> dict[tuple[int, int, str], float]:
    """The quickest repeat of each finger at each written place."""
    found: dict[tuple[int, int, str], float] = {}
    for repeat in find_repeats(pickings, pace):
        for finger in repeat.fingers:
            place = repeat.bar, repeat.slot, finger
            found[place] = max(found.get(place, 0), repeat.per_second)
    return found
