"""Names of pitches as a key spells them, by places on the line of fifths: … B♭ −2, F −1, C 0, G 1, D 2 …"""

import re

from ..model.lick import Lick
from ..model.pitch import ACCIDENTALS, SEMITONES_PER_OCTAVE

LETTERS = "FCGDAEB"
"""Places −1 to 5."""
SEMITONES_IN_FIFTH = 7
FLATTEST = -5
"""Places below the keynote at which twelve spellings begin."""
_KEY = re.compile(r"([A-G])([#♯b♭]?)(m?)\Z")


def spelled(pitch_class: int, key: str) -> str:
    """``spelled(10, "G") == "B♭"``. From the flat second to the sharp fourth above the keynote."""
    first = keynote_place(key) + FLATTEST
    return at_place(first + (pitch_class * SEMITONES_IN_FIFTH - first) % SEMITONES_PER_OCTAVE)


def keynote_place(key: str) -> int:
    letter, accidental, _ = _KEY.match(key).groups()
    return LETTERS.index(letter) - 1 + len(LETTERS) * ACCIDENTALS[accidental]


def at_place(place: int) -> str:
    signs, letter = divmod(place + 1, len(LETTERS))
    return LETTERS[letter] + ("♯" * signs if signs > 0 else "♭" * -signs)


def pitch_class_of(place: int) -> int:
    return place * SEMITONES_IN_FIFTH % SEMITONES_PER_OCTAVE


def shape_pitch_class(lick: Lick, midi: int) -> int:
    """The pitch class in the shapes the chords and the key are written in: as if there were no capo."""
    return (midi - lick.capo) % SEMITONES_PER_OCTAVE
