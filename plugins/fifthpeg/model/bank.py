"""Names of the sounds in the note bank: one a string, pitch, fret and touch."""

import re
from dataclasses import dataclass

from .note import Note

_NAME = re.compile(r"(\d+)-(\d+)-(\d+)-([a-z-]*[a-z])(?:-(\d+))?")


@dataclass(frozen=True, order=True)
class BankNote:
    """``stop`` is the physical fret that ends the string (0: open); ``midi`` what it sounds.

    Touch is pick, slide, hammer-on, pull-off, chime or damped; a choke is a picked or ringing note bent in rate.
    ``detail`` is, for a pull-off, how many frets above ``stop`` it is pulled from; for a chime, which partial of the
    open string the touched node leaves lowest. 0 where nothing is said.
    """

    string: int
    midi: int
    stop: int
    touch: str = "pick"
    detail: int = 0

    @property
    def name(self) -> str:
        """File stem and key in the browser: ``3-57-2-pick``, ``3-55-0-pull-off-2``."""
        detail = f"-{self.detail}" if self.detail else ""
        return f"{self.string}-{self.midi}-{self.stop}-{self.touch}{detail}"

    @classmethod
    def from_name(cls, name: str) -> "BankNote":
        """The note a name stands for. Raises ValueError."""
        parts = _NAME.fullmatch(name)
        if parts is None:
            raise ValueError(f"no bank note is called {name!r}; names read like 3-57-2-pick")
        string_number, midi, stop, touch, detail = parts.groups()
        return cls(int(string_number), int(midi), int(stop), touch, int(detail or 0))


def bank_note(note: Note, capo: int) -> BankNote:
    """The sound a note needs. A damped pluck sounds at no pitch: its ``midi`` is 0."""
    stop = note.fret + capo if note.fret or note.touch in ("chime", "damped") else 0
    touch = "pick" if note.touch == "choke" else note.touch
    return BankNote(note.string, note.midi if note.midi is not None else 0, stop, touch, _detail(note))


def _detail(note: Note) -> int:
    if note.touch == "chime":
        return note.partial
    if note.touch == "pull-off" and None not in (note.midi, note.from_midi):
        return max(note.from_midi - note.midi, 0)
    return 0
