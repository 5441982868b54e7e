"""What accompanies a lick: chord strokes and a bass line, as notes with exact times."""

from dataclasses import dataclass
from fractions import Fraction

GUITAR, BASS = "guitar", "bass"
"""The instruments of a backing, and the names of their stems."""
BASS_LINE, STROKES = 1, 2


@dataclass(frozen=True, order=True)
class BackingSound:
    """One sound of an accompanying instrument.

    ``pitches`` are MIDI note numbers that sound, lowest first: one is a note of the bass line, several are a chord
    stroke.
    """

    instrument: str
    pitches: tuple[int, ...]

    @property
    def name(self) -> str:
        """File stem and key in the browser: ``guitar-50-57-60-66``, ``bass-31``."""
        return "-".join([self.instrument, *map(str, self.pitches)])

    @classmethod
    def from_name(cls, name: str) -> "BackingSound":
        """The sound a name stands for. Raises ValueError."""
        instrument, *pitches = name.split("-")
        if not is_backing(name) or not pitches:
            raise ValueError(f"{name!r} is no sound of the backing")
        return cls(instrument, tuple(map(int, pitches)))

    @property
    def line(self) -> int:
        """Notes of one line damp one another: the bass line rings on under a chord stroke."""
        return BASS_LINE if len(self.pitches) == 1 else STROKES


def is_backing(name: str) -> bool:
    """Whether the name of a sound is one of the backing's, not of the banjo's."""
    return name.partition("-")[0] in (GUITAR, BASS)


@dataclass(frozen=True)
class BackingNote:
    """``start`` and ``until``, where it is damped, in quarter notes from the start of the performance."""

    sound: BackingSound
    start: Fraction
    until: Fraction


@dataclass(frozen=True)
class Stem:
    """One instrument's part, to be switched and levelled by itself; notes in order of start."""

    name: str
    notes: tuple[BackingNote, ...]
