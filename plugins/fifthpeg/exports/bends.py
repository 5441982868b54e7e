"""Pitch bends of one sounding string: chokes rise and fall smoothly, slides step fret by fret."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from ..model.note import Note
from .midi_file import BEND_CENTRE, BEND_TOP, ticks

BEND_RANGE_SEMITONES = 12
RISE_QUARTERS = Fraction(1, 4)
"""How long a choke takes to rise or fall, a third of its note where that is less."""
STEP_QUARTERS = Fraction(1, 48)
"""Ten ticks: fine enough that a whole step rises without audible stairs."""
SLIDE_QUARTERS = Fraction(1, 4)
"""A slide leaves its fret this long before it arrives, or halfway where the note is shorter than twice that."""


def bends_of(voice: Sequence[Note], slide: Note | None) -> Iterator[tuple[int, int]]:
    """(tick, bend value) in order for a note and the chokes on it; ``slide`` is where its string slides next."""
    if voice[0].midi is None:
        return
    semitones = Fraction(0)
    for note in voice:
        for time, bent in _choke(note, semitones):
            yield ticks(time), bend_value(bent)
            semitones = bent
    if slide is not None and slide.midi is not None:
        for time, bent in _slide(voice[-1], slide):
            yield ticks(time), bend_value(bent)


def bend_value(semitones: Fraction) -> int:
    return min(BEND_TOP, max(0, BEND_CENTRE + round(semitones * BEND_CENTRE / BEND_RANGE_SEMITONES)))


def _choke(note: Note, before: Fraction) -> Iterator[tuple[Fraction, Fraction]]:
    """Up from where the string stands; let down halfway through the note, or at once where that is all it does."""
    rise = min(RISE_QUARTERS, note.length / 3)
    let_down_from = note.start
    if note.bend > before:
        yield from _ramp(note.start, rise, before, note.bend)
        let_down_from += note.length / 2
    if note.release:
        yield from _ramp(let_down_from, rise, max(before, note.bend), Fraction(0))


def _ramp(start: Fraction, length: Fraction, low: Fraction, high: Fraction) -> Iterator[tuple[Fraction, Fraction]]:
    steps = max(1, int(length / STEP_QUARTERS))
    for step in range(1, steps + 1):
        share = Fraction(step, steps)
        yield start + share * length, low + share * (high - low)


def _slide(note: Note, arrival: Note) -> Iterator[tuple[Fraction, Fraction]]:
    """Every fret on the way but the last, which the arrival sounds itself; none past the bend range."""
    distance = arrival.fret - note.fret
    length = min(SLIDE_QUARTERS, (arrival.start - note.start) / 2)
    direction = 1 if distance > 0 else -1
    frets = abs(distance)
    for fret in range(1, min(frets, BEND_RANGE_SEMITONES + 1)):
        yield arrival.start - length * (frets - fret) / frets, Fraction(direction * fret)
