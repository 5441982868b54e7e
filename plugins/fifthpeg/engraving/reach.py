"""How far the numbers of a column and what hangs on them reach to either side."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..model.note import Note
from .columns import Column
from .lettering import width_of
from .plan import CHOKE, SLIDE
from .proportions import (
    ARROW_ROOM, BRUSH_ROOM, CHEVRON_ROOM, FRET_SIZE, RELEASE_ROOM, RING_ROOM, WAVE_ROOM,
)

BRUSHED_STRINGS = 3


@dataclass(frozen=True)
class Reach:
    """Distances from the column's middle. To the right stand, one after the other: the widest number,
    up to ``half``; the rings of the left hand; from ``waves`` vibrato; and from ``arrows``, in string
    order, the arrows of chokes. What is on neighbouring strings never meets, since each kind keeps its place.
    """

    left: float
    half: float
    waves: float
    arrows: tuple[float, ...]
    right: float


def reach_of(column: Column) -> Reach:
    half = max((half_width(note) for note in column.notes), default=0.0)
    left = half
    if brushed_strings(column.notes):
        left += BRUSH_ROOM
    if any(is_let_down(note) for note in column.notes):
        left += RELEASE_ROOM
    waves = half + (RING_ROOM if any(map(column.left_finger, column.notes)) else 0)
    right = waves + (WAVE_ROOM if any(note.vibrato for note in column.notes) else 0)
    arrows = []
    for note in column.notes:
        if note.bend > 0:
            arrows.append(right)
            right += ARROW_ROOM + (RELEASE_ROOM if note.release else 0)
    return Reach(left, half, waves, tuple(arrows), right)


def half_width(note: Note) -> float:
    return width_of(head_words(note), FRET_SIZE) / 2 + (CHEVRON_ROOM if note.touch == "chime" else 0)


def head_words(note: Note) -> str:
    """What is written on the string. A fret that is only held stands in parentheses; an arrival
    cut off from where it came from in brackets."""
    if note.touch == "damped":
        return "x"
    if note.carried or not (note.picked or note.source):
        return f"[{note.fret}]"
    if note.picked:
        return str(note.fret)
    return f"({note.fret})" if note.touch == CHOKE else str(note.fret)


def is_let_down(note: Note) -> bool:
    """A choke released in a slot of its own."""
    return note.touch == CHOKE and note.release and not note.bend


def slides_here(note: Note) -> bool:
    return note.touch == SLIDE and note.source is not None


def brushed_strings(notes: Sequence[Note]) -> tuple[int, int] | None:
    """First and last of three or more neighbouring strings that one finger strokes."""
    picked = [note for note in notes if note.picked]
    if len(picked) < BRUSHED_STRINGS or picked[0].finger is None:
        return None
    one_finger = all(note.finger == picked[0].finger for note in picked)
    neighbours = all(below.string == above.string + 1 for above, below in pairwise(picked))
    return (picked[0].string, picked[-1].string) if one_finger and neighbours else None
