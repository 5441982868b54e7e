"""The moments of a bar, and what stands at each."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..model.findings import RepeatedFinger
from ..model.left_hand import Position
from ..model.note import Note
from ..model.tab import Bar
from .beams import Beaming
from .rhythm import Piece


@dataclass(frozen=True)
class Column:
    """One moment of a bar: ``at`` ticks after the barline. ``notes`` stand in string order.

    A pin stands before it where it is the first of a link. ``repeats`` are the fingers that pick here
    again too soon; ``position`` is where the left hand comes to lie with these notes.
    """

    at: int
    notes: tuple[Note, ...] = ()
    letters: tuple[tuple[str, bool], ...] = ()
    chord: str = ""
    piece: Piece | None = None
    flagged: bool = False
    pinned: bool = False
    repeats: tuple[RepeatedFinger, ...] = ()
    position: Position | None = None

    @property
    def is_bare(self) -> bool:
        return not self.notes and not (self.piece and self.piece.silent)

    def repeat_of(self, finger: str) -> RepeatedFinger | None:
        return next((repeat for repeat in self.repeats if finger in repeat.fingers), None)

    def left_finger(self, note: Note) -> str | None:
        """The finger that is drawn at one of the notes: a written one, or a chosen one where the hand moves."""
        return note.left if note.left_given or self.position else None


def columns_of(bar: Bar, slot_ticks: int, notes: Mapping[int, Sequence[Note]], pieces: tuple[Piece, ...],
               beaming: Beaming, pins: Collection[int]) -> tuple[Column, ...]:
    """``notes`` by their ticks in the bar; ``pins`` are the ticks at which links come in."""
    chords = {index * slot_ticks: name for index, name in bar.chords}
    texts = {index * slot_ticks for index, _ in bar.texts}
    piece_at = {piece.at: (piece, index in beaming.flagged) for index, piece in enumerate(pieces)}
    moments = sorted({*chords, *texts, *piece_at, *notes, *pins})
    return tuple(_column(at, notes.get(at, ()), chords.get(at, ""), *piece_at.get(at, (None, False)), at in pins)
                 for at in moments)


def _column(at: int, notes: Sequence[Note], chord: str, piece: Piece | None, flagged: bool, pinned: bool) -> Column:
    ordered = tuple(sorted(notes, key=lambda note: note.string))
    return Column(at, ordered, tuple(_letters(ordered)), chord, piece, flagged, pinned)


def _letters(notes: Sequence[Note]) -> Iterator[tuple[str, bool]]:
    """Right-hand letters from the first string down; one letter for strings brushed by one finger."""
    before = None
    for note in notes:
        letter = (note.finger or "", note.given)
        if note.finger and letter != before:
            yield letter
        before = letter
