"""Where a lick fits: over which chords for how long, which notes lie outside them, which are blue notes of the key.

All in the names of the shapes, as chords and key are written: a capo moves everything alike. What a string sounds
while it is choked is not asked: the fretted note counts. Damped strings have no pitch.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from ..model.chord import chord_pitch_classes
from ..model.harmony import Colour, Doubt, Harmony, Stretch
from ..model.lick import Lick
from ..model.note import Note, notes_through
from ..model.pitch import SEMITONES_PER_OCTAVE
from ..model.play_order import kept_order
from .note_names import at_place, keynote_place, pitch_class_of, shape_pitch_class, spelled

BLUE_DEGREES = {"flat third": -3, "flat fifth": -6, "flat seventh": -2}
"""Words -> place above the keynote on the line of fifths."""
MINOR_HAS = ("flat third", "flat seventh")
"""Degrees that a minor key has anyway."""
USUAL_CHORDS = {"": ((0, ""), (5, ""), (7, ""), (7, "7"), (2, "m"), (4, "m"), (9, "m"), (2, "7"), (9, "7"), (10, "")),
                "m": ((0, "m"), (5, "m"), (7, "m"), (7, "7"), (3, ""), (8, ""), (10, ""))}
"""Semitones above the keynote, and kind, of the chords a lick in a major or a minor key is likely to go over."""
ENOUGH_NOTES = 4
"""A chord with fewer notes over it is not contradicted: a passing note or two say nothing."""
CONTRADICTED_BELOW = Fraction(1, 4)
BETTER_FROM = Fraction(3, 4)
"""A chord line is questioned where under a quarter of its notes are in the chord, and three quarters in another."""


def harmony(lick: Lick) -> Harmony:
    order = kept_order(lick, with_exit=False)
    over = tuple(_stretches(lick, order))
    notes = [note for note in notes_through(lick, order) if note.midi is not None]
    return Harmony(over, lick.after or None, _colours(lick, over, notes), tuple(_doubts(lick, over, notes)))


def blue_degree(pitch_class: int, key: str) -> str | None:
    """``blue_degree(10, "G") == "flat third"``."""
    keynote = keynote_place(key)
    return next((words for words, place in BLUE_DEGREES.items() if pitch_class_of(keynote + place) == pitch_class
                 and not (key.endswith("m") and words in MINOR_HAS)), None)


def _stretches(lick: Lick, order: Sequence[int]) -> Iterator[Stretch]:
    """Chords as played, those before the first written one as None; the pick-up is no bar, but its chord counts."""
    bar_quarters = lick.meter.quarters
    pieces: list[list] = []
    start = Fraction(0)
    for at, name, quarters in _pieces(lick, order):
        if pieces and pieces[-1][0] == name:
            pieces[-1][1] += quarters
        else:
            pieces.append([name, quarters, start + at])
    return (Stretch(name, quarters / bar_quarters, begun) for name, quarters, begun in pieces)


def _pieces(lick: Lick, order: Sequence[int]) -> Iterator[tuple[Fraction, str | None, Fraction]]:
    """(start, chord, quarters) within each bar; a jump brings back the chord written over the bar jumped to."""
    in_force: list[str | None] = [None]
    for bar in lick.bars:
        in_force.append(bar.chords[-1][1] if bar.chords else in_force[-1])
    start = Fraction(0)
    for index in order:
        bar = lick.bars[index]
        marks = [(0, in_force[index]), *bar.chords, (bar.slot_count, None)]
        for (slot_index, name), (until, _) in zip(marks, marks[1:], strict=False):
            if until > slot_index:
                yield start + slot_index * lick.slot_quarters, name, (until - slot_index) * lick.slot_quarters
        start += bar.slot_count * lick.slot_quarters


def _chord_at(over: Sequence[Stretch], time: Fraction) -> str | None:
    return next((stretch.chord for stretch in reversed(over) if stretch.start <= time), None)


def _colours(lick: Lick, over: Sequence[Stretch], notes: Sequence[Note]) -> tuple[Colour, ...]:
    found: dict[str, Colour] = {}
    for note in notes:
        pitch_class, chord = shape_pitch_class(lick, note.midi), _chord_at(over, note.start)
        degree = blue_degree(pitch_class, lick.key)
        outside = chord if chord and pitch_class not in chord_pitch_classes(chord) else None
        if degree or outside:
            name = spelled(pitch_class, lick.key)
            if degree:
                name = at_place(keynote_place(lick.key) + BLUE_DEGREES[degree])
            found.setdefault(note.mark, Colour(note.mark, note.bar, note.slot, name, outside, degree))
    return tuple(found.values())


def _doubts(lick: Lick, over: Sequence[Stretch], notes: Sequence[Note]) -> Iterator[Doubt]:
    told = set()
    for index, stretch in enumerate(over):
        until = over[index + 1].start if index + 1 < len(over) else None
        inside = [note for note in notes if stretch.start <= note.start and (until is None or note.start < until)]
        if stretch.chord is None or len(inside) < ENOUGH_NOTES or (stretch.chord, inside[0].mark) in told:
            continue
        told.add((stretch.chord, inside[0].mark))
        yield from _doubt(lick, stretch.chord, inside)


def _doubt(lick: Lick, chord: str, notes: Sequence[Note]) -> Iterator[Doubt]:
    classes = [shape_pitch_class(lick, note.midi) for note in notes]
    belonging = _belonging(classes, chord)
    better = max(_usual_chords(lick.key), key=lambda other: _belonging(classes, other))
    best = _belonging(classes, better)
    if belonging < CONTRADICTED_BELOW * len(classes) and best >= BETTER_FROM * len(classes):
        says = (f"only {belonging} of the {len(classes)} notes over {chord} from bar {notes[0].bar} belong to it; "
                f"{best} belong to {better}: is the chord as you meant it?")
        if not belonging:
            says = says.replace("only 0", "none")
        yield Doubt(chord, notes[0].bar, belonging, len(classes), better, says)


def _belonging(classes: Sequence[int], chord: str) -> int:
    tones = chord_pitch_classes(chord)
    return sum(pitch_class in tones for pitch_class in classes)


def _usual_chords(key: str) -> list[str]:
    keynote = pitch_class_of(keynote_place(key))
    return [spelled((keynote + step) % SEMITONES_PER_OCTAVE, key) + kind
            for step, kind in USUAL_CHORDS["m" if key.endswith("m") else ""]]
