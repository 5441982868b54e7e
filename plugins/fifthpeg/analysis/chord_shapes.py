"""Which left-hand finger a chord's usual shape has on a string and fret, in open G.

Common practice, no source. A hand that plays a lick over C lies over the C shape, and takes single notes of it with
the fingers that would hold them.
"""

from collections.abc import Callable

from ..model.lick import Lick
from ..model.note import Note
from ..model.tuning import TUNINGS

SHAPES = {
    "C": {(4, 2): "2", (2, 1): "1", (1, 2): "3"},
    "D": {(4, 4): "3", (3, 2): "1", (2, 3): "2", (1, 4): "4"},
    "E": {(4, 2): "2", (3, 1): "1", (1, 2): "3"},
    "Em": {(4, 2): "2", (1, 2): "3"},
    "F": {(4, 3): "3", (3, 2): "2", (2, 1): "1", (1, 3): "4"},
}
"""Chord -> (string, fret) -> finger."""
SHAPES_OF = TUNINGS["open G"].pitches


def shape_finger(lick: Lick) -> Callable[[Note], str | None]:
    """What tells the finger of a note in the shape of the chord written over it; None for notes outside of it."""
    if lick.tuning.pitches != SHAPES_OF:
        return lambda note: None
    named, in_force = {}, None
    for bar in lick.bars:
        chords = dict(bar.chords)
        for slot_index in range(bar.slot_count):
            in_force = chords.get(slot_index, in_force)
            named[bar.number, bar.first_slot_index + slot_index + 1] = in_force
    return lambda note: SHAPES.get(named.get((note.bar, note.slot)), {}).get((note.string, note.fret))
