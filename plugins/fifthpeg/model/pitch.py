"""Pitch as MIDI note numbers: 60 is middle C, one step a semitone, A4 = 69 = 440 Hz (ISO 16:1975)."""

import re

CONCERT_A_HZ = 440.0
CONCERT_A_MIDI = 69
SEMITONES_PER_OCTAVE = 12
NATURALS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
ACCIDENTALS = {"": 0, "#": 1, "♯": 1, "b": -1, "♭": -1}
_NAME = re.compile(r"([A-Ga-g])([#♯b♭]?)(-?\d)\Z")


def frequency_hz(midi: float) -> float:
    """Twelve-tone equal temperament: 440 · 2^((midi − 69) / 12)."""
    return CONCERT_A_HZ * 2 ** ((midi - CONCERT_A_MIDI) / SEMITONES_PER_OCTAVE)


def midi_of(name: str) -> int:
    """The note number of a name with its octave: ``midi_of("F#3") == 54``. Raises ValueError."""
    match = _NAME.match(name)
    if not match:
        raise ValueError(f"{name!r} is no pitch such as G4 or F#3")
    letter, accidental, octave = match.groups()
    step = NATURALS[letter.upper()] + ACCIDENTALS[accidental]
    return (int(octave) + 1) * SEMITONES_PER_OCTAVE + step


def name_of(midi: int) -> str:
    """The name with sharps: ``name_of(54) == "F#3"``."""
    names = ("C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B")
    octave, step = divmod(midi, SEMITONES_PER_OCTAVE)
    return f"{names[step]}{octave - 1}"
