"""What the left hand does, step by step: the fretted notes that begin at one moment, and how long each stays down."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby, product

from ..model.note import Note
from ..model.tab import HAMMER_ON, PULL_OFF, SLIDE

OVER_THE_EDGE = "T"
FINGERS = ("1", "2", "3", "4")
OFFSETS = {"1": (-1, 0), "2": (-1, 0), "3": (-1, 0), "4": (-1, 0, 1)}
"""Finger -> frets it may lie from its own fret of the position: the index reaches back, the little finger on, and the
others may be squeezed together."""
LAST_POSITION = 22


@dataclass(frozen=True)
class Fretted:
    """A note that needs a finger. ``source`` is the place in the row of the fretted note it comes from, if any;
    ``shape`` the finger that the usual shape of its chord has there."""

    mark: str
    bar: int
    slot: int
    string: int
    fret: int
    written: str | None
    source: int | None
    touch: str
    end: Fraction
    shape: str | None = None

    @property
    def keeps_finger(self) -> bool:
        """Slid, bent or let down: the finger that was there goes on."""
        return self.source is not None and self.touch not in (HAMMER_ON, PULL_OFF)

    @property
    def is_slide(self) -> bool:
        return self.source is not None and self.touch == SLIDE

    @property
    def is_slurred(self) -> bool:
        return self.source is not None and self.touch in (HAMMER_ON, PULL_OFF)


@dataclass(frozen=True)
class Step:
    """``notes`` are places in the row of fretted notes."""

    start: Fraction
    notes: tuple[int, ...]


def no_shape(note: Note) -> None:
    """No chord is known."""


Choice = tuple[int, tuple[str, ...]]
"""A position, the fret of the index, and a finger for each note of a step."""


def fretted_notes(notes: Sequence[Note],
                  shape_finger: Callable[[Note], str | None] = no_shape) -> tuple[tuple[Fretted, ...], tuple[Step, ...]]:
    """The row of notes that need a finger, in order of time, and the steps they fall into."""
    held = sorted((note for note in notes if note.fret > 0 and note.touch not in ("chime", "damped")),
                  key=lambda note: (note.start, -note.string))
    place = {note.mark: index for index, note in enumerate(held)}
    row = tuple(Fretted(note.mark, note.bar, note.slot, note.string, note.fret, note.left, place.get(note.source),
                        note.touch, note.start + note.length, shape_finger(note)) for note in held)
    steps = [Step(start, tuple(place[note.mark] for note in together))
             for start, together in groupby(held, key=lambda note: note.start)]
    return row, tuple(steps)


def needed_until(row: Sequence[Fretted], steps: Sequence[Step]) -> list[int]:
    """For each note the last step at which its finger still bears on what others may do."""
    until = [0] * len(row)
    for number, step in enumerate(steps):
        for index in step.notes:
            until[index] = number + 1
            source = row[index].source
            if source is not None:
                until[source] = max(until[source], number)
    for index, note in enumerate(row):
        for number in range(until[index], len(steps)):
            if steps[number].start >= note.end:
                break
            until[index] = number
    return until


def choices(row: Sequence[Fretted], step: Step) -> tuple[Choice, ...]:
    """Positions from low to high, fingers from index to little; written fingers stay.

    Where no position suits all notes of a step, as they are written, every finger is let through at the lowest fret.
    """
    frets = [row[index].fret for index in step.notes]
    found = [choice for position in range(max(1, min(frets) - len(FINGERS)), min(max(frets) + 1, LAST_POSITION) + 1)
             for choice in _at(position, row, step)]
    if found:
        return tuple(found)
    free = [(row[index].written,) if row[index].written else FINGERS for index in step.notes]
    return tuple((max(1, min(frets)), fingers) for fingers in product(*free))


def _at(position: int, row: Sequence[Fretted], step: Step) -> Iterator[Choice]:
    options = []
    for index in step.notes:
        note = row[index]
        fingers = (note.written,) if note.written else FINGERS
        options.append([finger for finger in fingers if finger == OVER_THE_EDGE
                        or offset(position, finger, note.fret) in OFFSETS[finger]])
    return ((position, fingers) for fingers in product(*options))


def offset(position: int, finger: str, fret: int) -> int:
    """Frets from where the finger lies by itself."""
    return fret - position - FINGERS.index(finger)
