"""Names of the sounds in the note bank: one a string, pitch, fret and touch."""

from dataclasses import dataclass

from .note import Note


@dataclass(frozen=True, order=True)
class BankNote:
    """``stop`` is the physical fret that ends the string (0: open); ``midi`` what it sounds.

    Touch is pick, slide, hammer-on, pull-off, chime or damped; a choke is a picked or ringing note bent in rate.
    """

    string: int
    midi: int
    stop: int
    touch: str = "pick"

    @property
    def name(self) -> str:
        """File stem and key in the browser: ``3-57-2-pick``."""
        return f"{self.string}-{self.midi}-{self.stop}-{self.touch}"

    @classmethod
    def from_name(cls, name: str) -> "BankNote":
        """The note a name stands for. Raises ValueError."""
        string_number, midi, stop, touch = name.split("-", 3)
        return cls(int(string_number), int(midi), int(stop), touch)


def bank_note(note: Note, capo: int) -> BankNote:
    """The sound a note needs. A damped pluck sounds at no pitch: its ``midi`` is 0."""
    stop = note.fret + capo if note.fret or note.touch in ("chime", "damped") else 0
    touch = "pick" if note.touch == "choke" else note.touch
    return BankNote(note.string, note.midi if note.midi is not None else 0, stop, touch)
