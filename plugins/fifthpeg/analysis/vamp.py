"""A plain bar of backup over one chord, so that a lick can be heard after it.

The thumb takes a low string, index and middle pinch the two high ones, beat by beat; common practice, no source. The
frets are the shape that holds most of the chord's notes, then reaches least far up the neck, no further than
``HIGHEST_FRET``.
"""

from dataclasses import replace
from itertools import product

from ..model.chord import chord_pitch_classes
from ..model.hands import INDEX, MIDDLE, THUMB
from ..model.lick import Lick
from ..model.pitch import SEMITONES_PER_OCTAVE
from ..model.tab import Bar, Cell, Hold, Pluck, Strike
from ..model.tuning import sounding_midi

HIGHEST_FRET = 4
"""No chord leaves a gap of more than five semitones between its notes: each string has one of them up to here."""
STRINGS = (4, 3, 2, 1)
BASS_STRINGS = (4, 3)


def vamp(chord: str, like: Lick, bars: int = 1) -> Lick:
    """In the meter, grid, tuning, tempo, bounce and capo of ``like``. Raises ValueError for a chord not known."""
    cells = tuple(_cells(chord, like))
    row = tuple(Bar(number, cells, chords=((0, chord),) if number == 1 else ()) for number in range(1, bars + 1))
    return replace(like, bars=row, id=None, title="", role="backup", pickup=0, exit_bars=0, after="", labels=(),
                   shows=None, shown_bars=None, whole=None, varies=None, changed=(), parent_bars=(), chain=None, links=())


def _cells(chord: str, like: Lick) -> list[Cell]:
    frets = chord_shape(chord, like)
    slots_each = like.meter.beat_quarters / like.slot_quarters
    slots = int(like.meter.slots(like.grid))
    if slots_each.denominator != 1:
        return [_pinch(frets), *[Hold()] * (slots - 1)]
    cells: list[Cell] = []
    for beat in range(slots // int(slots_each)):
        strike = _bass(frets, chord, like, beat) if _takes_bass(beat, like) else _pinch(frets)
        cells += [strike, *[Hold()] * (int(slots_each) - 1)]
    return cells


def _takes_bass(beat: int, like: Lick) -> bool:
    """One bass note a bar in three, else every second beat."""
    beats = like.meter.quarters / like.meter.beat_quarters
    return beat == 0 if beats % 2 else beat % 2 == 0


def _bass(frets: dict[int, int], chord: str, like: Lick, beat: int) -> Strike:
    """The root first, where a low string has it, then the other low string."""
    root = chord_pitch_classes(chord)[0]
    strings = sorted(BASS_STRINGS, key=lambda string: _pitch_class(like, string, frets[string]) != root)
    string = strings[beat // 2 % 2]
    return Strike((Pluck(string, frets[string], THUMB),))


def _pinch(frets: dict[int, int]) -> Strike:
    return Strike((Pluck(2, frets[2], INDEX), Pluck(1, frets[1], MIDDLE)))


def chord_shape(chord: str, like: Lick) -> dict[int, int]:
    """String number -> fret, each string on a note of the chord."""
    wanted = set(chord_pitch_classes(chord))
    choices = [[fret for fret in range(HIGHEST_FRET + 1) if _pitch_class(like, string, fret) in wanted]
               for string in STRINGS]
    return min((dict(zip(STRINGS, frets, strict=True)) for frets in product(*choices)),
               key=lambda shape: _order(shape, like))


def _order(shape: dict[int, int], like: Lick) -> tuple[int, int, int, tuple[int, ...]]:
    held = {_pitch_class(like, string, fret) for string, fret in shape.items()}
    return -len(held), max(shape.values()), sum(shape.values()), tuple(shape.values())


def _pitch_class(like: Lick, string: int, fret: int) -> int:
    """Of the shape: chords are written without the capo."""
    return sounding_midi(like.tuning, string, fret, 0, None) % SEMITONES_PER_OCTAVE
