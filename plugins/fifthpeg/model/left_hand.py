"""What the left hand does: which finger holds each fretted note, and where the hand lies."""

from dataclasses import dataclass

ORDINALS = ("", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
            "eleventh", "twelfth")


@dataclass(frozen=True)
class Position:
    """Where the hand comes to lie at a note; ``fret`` is that of the index, counted from the capo."""

    bar: int
    slot: int
    fret: int

    @property
    def name(self) -> str:
        return f"{ORDINALS[self.fret]} position" if self.fret < len(ORDINALS) else f"position {self.fret}"


@dataclass(frozen=True)
class WideSpan:
    """Frets held together that lie further apart than the setting allows."""

    bar: int
    slot: int
    frets: tuple[int, ...]
    millimetres: float


@dataclass(frozen=True)
class LeftHand:
    """``fingers`` maps the mark of every fretted note to its finger, written or chosen."""

    fingers: dict[str, str]
    positions: tuple[Position, ...]
    wide_spans: tuple[WideSpan, ...]
