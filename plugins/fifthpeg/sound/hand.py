"""How the hand plays what is written: fingers unlike one another, no two plucks alike, brushes across the strings.

Levels and differences are common practice, no source: the thumb's pick is broad and its stroke strong, the middle
finger's light. A difference of 1 dB is about the least one hears. Nothing here is chance: what varies is drawn from
the note itself and its place in the lick, so that the same text always sounds the same.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from hashlib import sha256
from itertools import groupby
from typing import NamedTuple

from ..model.note import Note

VARIES_DB, VARIES_SHADE = 1.0, 0.05
"""A pluck lies at most so far to either side of its finger's own level and shade."""
BRUSH_STEP_MS = 9
"""From one string of a brush to the next."""
LEAST_BRUSHED = 3
"""Fewer strings under one finger are a pinch, and sound together."""
DIGITS = 4


class Finger(NamedTuple):
    """``shade`` as ``voices`` has it: duller above 0, brighter below."""

    level_db: float
    shade: float


FINGERS = {"T": Finger(0.8, 0.10), "I": Finger(0.0, 0.0), "M": Finger(-0.6, -0.06), None: Finger(0.0, 0.0)}


def by_hand(notes: Sequence[Note]) -> tuple[Note, ...]:
    """The notes, in order of start, with ``gain``, ``shade`` and ``late_ms`` set.

    An arrival has those of the pluck that it goes on from: so it never rings louder than that.
    """
    late_ms = _brushed(notes)
    on_string: dict[int, tuple[float, float]] = {}
    played = []
    for note in notes:
        if note.picked:
            on_string[note.string] = _pluck(note)
        gain, shade = on_string.get(note.string, (1.0, 0.0))
        played.append(replace(note, gain=gain, shade=shade, late_ms=late_ms.get(id(note), 0)))
    return tuple(played)


def _pluck(note: Note) -> tuple[float, float]:
    finger = FINGERS[note.finger]
    louder, duller = _draw(note)
    level_db = finger.level_db + VARIES_DB * louder
    return round(10 ** (level_db / 20), DIGITS), round(finger.shade + VARIES_SHADE * duller, DIGITS)


def _draw(note: Note) -> tuple[float, float]:
    """Two numbers from −1 to 1, the same for the same note at the same place of a lick."""
    text = f"{note.bar}.{note.slot} {note.start} {note.string}:{note.fret} {note.passage}"
    digest = sha256(text.encode()).digest()
    return tuple(2 * int.from_bytes(part) / (256 ** 4 - 1) - 1 for part in (digest[:4], digest[4:8]))


def _brushed(notes: Sequence[Note]) -> dict[int, int]:
    """id of a note -> how long after the finger's first string it sounds."""
    return {id(note): step * BRUSH_STEP_MS for brush in _brushes(notes) for step, note in enumerate(brush)}


def _brushes(notes: Sequence[Note]) -> Iterator[list[Note]]:
    """Strings in the order the finger meets them: the thumb moves down to the first, a finger up from it."""
    picked = sorted((note for note in notes if note.picked and note.finger), key=_stroke)
    for (_, finger), together in groupby(picked, key=_stroke):
        brush = sorted(together, key=lambda note: note.string, reverse=finger == "T")
        if len(brush) >= LEAST_BRUSHED:
            yield brush


def _stroke(note: Note) -> tuple:
    return note.start, note.finger
