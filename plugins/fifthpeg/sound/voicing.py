"""Where the tones of a chord lie for the backing: a chord stroke on four strings, a bass line below it.

Conventions: MIDI note numbers that sound; pitch classes from 0 (C).
"""

from collections.abc import Iterable, Sequence
from functools import cache
from itertools import product

from ..model.chord import chord_pitch_classes
from ..model.pitch import SEMITONES_PER_OCTAVE

UPPER_STRINGS = (50, 55, 59, 64)
"""D3 G3 B3 E4, the guitar's upper four."""
MOST_FRET = 6
"""No chord known here leaves a wider gap between its tones: each string has one of them up to here."""
LOWEST_ROOT = 31
"""G1. A root lies within the octave from here up, so that the walk up to it begins no lower than a bass's E1."""
BASS_LOWEST, BASS_HIGHEST = 28, 46
FIFTH_INDEX = 2
"""Where ``chord_pitch_classes`` has the fifth, be it perfect or not; a chord of two tones has it last."""
WALK_UP = (3, 1)
"""Semitones below the new root: the sixth and the seventh of its own major scale. Common practice, no source."""


@cache
def stroke_pitches(chord: str, capo: int) -> tuple[int, ...]:
    """One tone of the chord on each string, lowest first: as many different tones as can be, then nearest the nut.

    Two strings at one pitch, as a chord of two tones may need, count as one.
    Where four strings can't hold all tones the fifth is left out, then the root, which the bass plays.
    A bass note after a slash that is not in the chord is left to the bass.
    """
    tones = [(tone + capo) % SEMITONES_PER_OCTAVE for tone in chord_pitch_classes(chord.partition("/")[0])]
    ways = product(*(_on_string(string, tones) for string in UPPER_STRINGS))
    return tuple(sorted(set(min(ways, key=lambda held: _unwieldy(held, tones)))))


def bass_pitches(chord: str, capo: int) -> tuple[int, int]:
    """(root, fifth) for the bass line; the note after a slash, then the root."""
    above, _, below = chord.partition("/")
    tones = [*chord_pitch_classes(below)[:1], chord_pitch_classes(above)[0]] if below else _root_and_fifth(above)
    first, second = ((tone + capo) % SEMITONES_PER_OCTAVE for tone in tones)
    root = LOWEST_ROOT + (first - LOWEST_ROOT) % SEMITONES_PER_OCTAVE
    below_root = root - (first - second) % SEMITONES_PER_OCTAVE
    return root, below_root if below_root >= BASS_LOWEST else below_root + SEMITONES_PER_OCTAVE


def _root_and_fifth(chord: str) -> tuple[int, int]:
    tones = chord_pitch_classes(chord)
    return tones[0], tones[min(FIFTH_INDEX, len(tones) - 1)]


def _on_string(open_midi: int, tones: Sequence[int]) -> list[int]:
    return [open_midi + fret for fret in range(MOST_FRET + 1) if (open_midi + fret) % SEMITONES_PER_OCTAVE in tones]


def _unwieldy(held: tuple[int, ...], tones: Sequence[int]) -> tuple:
    """Greater for a stroke less fit to be held: tones missing, two strings on one pitch, how far up the neck."""
    frets = [pitch - string for pitch, string in zip(held, UPPER_STRINGS, strict=True)]
    return _missed(held, tones), len(set(held)) < len(held), max(frets), sum(frets), held


def _missed(held: Iterable[int], tones: Sequence[int]) -> tuple[int, bool, bool]:
    """How many tones are missing; whether that is one which should not be; whether it is the root."""
    sounding = {pitch % SEMITONES_PER_OCTAVE for pitch in held}
    missing = [index for index, tone in enumerate(tones) if tone not in sounding]
    return len(missing), any(index not in (0, FIFTH_INDEX) for index in missing), 0 in missing
