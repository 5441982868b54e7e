"""A lick in words cell by cell, for telling what a variant does otherwise than its parent."""

from collections.abc import Iterator, Sequence
from itertools import islice

from ..model.cell_words import HELD, SILENT, CellWords
from ..model.lick import Lick
from ..model.note import Note, notes_in
from ..model.tab import Cell, Group, Rest, Strike, cell_slots
from .words_hands import left_as_said
from .words_strike import strike_words
from .words_time import NUMBERS, place_words


def cell_words(lick: Lick, notes: Sequence[Note]) -> tuple[CellWords, ...]:
    """Every cell in written order. ``notes`` are the lick's written notes with fingers filled in.

    Of the left hand only written fingers are said: a chosen one may change far from what a variant changed.
    """
    return tuple(_cells(lick, iter(left_as_said(notes, None))))


def _cells(lick: Lick, coming: Iterator[Note]) -> Iterator[CellWords]:
    for bar in lick.bars:
        begin, slot_index = lick.late_start(bar), bar.first_slot_index
        for cell in bar.cells:
            at = begin + (slot_index - bar.first_slot_index) * lick.slot_quarters
            yield CellWords(bar.number, slot_index + 1, cell_slots(cell), place_words(at, lick.meter),
                            _says(cell, coming))
            slot_index += cell_slots(cell)


def _says(cell: Cell, coming: Iterator[Note]) -> str:
    if isinstance(cell, Group):
        inside = ", then ".join(_says(inner, coming) for inner in cell.cells)
        return f"{NUMBERS[len(cell.cells)]} in {_slots(cell.slots)}: {inside}" + ", accented" * cell.accent
    if isinstance(cell, Strike):
        return strike_words(cell, tuple(islice(coming, notes_in(cell))))
    return SILENT if isinstance(cell, Rest) else HELD


def _slots(count: int) -> str:
    return "one slot" if count == 1 else f"{NUMBERS[count]} slots"
