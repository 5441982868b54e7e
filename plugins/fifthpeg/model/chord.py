"""Chord names as players write them, and the pitch classes they hold."""

import re

from .pitch import ACCIDENTALS, NATURALS, SEMITONES_PER_OCTAVE

QUALITIES = {
    "": (0, 4, 7), "m": (0, 3, 7), "7": (0, 4, 7, 10), "m7": (0, 3, 7, 10), "maj7": (0, 4, 7, 11),
    "6": (0, 4, 7, 9), "m6": (0, 3, 7, 9), "9": (0, 4, 7, 10, 2), "sus2": (0, 2, 7), "sus4": (0, 5, 7),
    "7sus4": (0, 5, 7, 10), "dim": (0, 3, 6), "dim7": (0, 3, 6, 9), "m7b5": (0, 3, 6, 10), "aug": (0, 4, 8),
    "add9": (0, 4, 7, 2), "5": (0, 7),
}
"""Semitones above the root."""
_CHORD = re.compile(r"([A-G])([#♯b♭]?)([a-z0-9]*)(?:/([A-G])([#♯b♭]?))?\Z")


KEY_NAMES = ("C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")
"""What players call each key, from C up."""


def moved_key(key: str, semitones: int) -> str:
    """The key that sounds: ``moved_key("G", 2) == "A"``; as written where nothing moves."""
    if not semitones:
        return key
    minor = "m" if key.endswith("m") else ""
    letter, accidental = key[0], key[1:].removesuffix("m")
    return KEY_NAMES[(_pitch_class(letter, accidental) + semitones) % SEMITONES_PER_OCTAVE] + minor


def chord_pitch_classes(name: str) -> tuple[int, ...]:
    """Pitch classes (0 is C), root first, a bass note after a slash last. Raises ValueError."""
    match = _CHORD.match(name)
    if not match or match[3] not in QUALITIES:
        raise ValueError(f"{name!r} is no chord known here")
    root = _pitch_class(match[1], match[2])
    classes = tuple((root + step) % SEMITONES_PER_OCTAVE for step in QUALITIES[match[3]])
    if match[4]:
        bass = _pitch_class(match[4], match[5])
        classes = classes if bass in classes else (*classes, bass)
    return classes


def _pitch_class(letter: str, accidental: str) -> int:
    return (NATURALS[letter] + ACCIDENTALS[accidental]) % SEMITONES_PER_OCTAVE


def is_chord(name: str) -> bool:
    try:
        chord_pitch_classes(name)
    except ValueError:
        return False
    return True
