"""A lick with its right hand settled: every pluck carries its finger, so that a chain made of it changes none."""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from ..model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND
from ..model.lick import Lick
from ..model.note import fingers_from, with_fingers, written_notes
from ..model.tab import Bar, Cell, Group, Hold, Pluck, Strike
from .right_hand import choose_fingers


def settled(lick: Lick, clash_per_second: float = CLASH_PER_SECOND,
            tight_per_second: float = TIGHT_PER_SECOND) -> Lick:
    """Fingers the writer left out are filled in and marked ``chosen``; a showing takes those of its whole lick."""
    if all_fingered(lick):
        return lick
    notes = written_notes(lick)
    taken: dict[str, str] = {}
    if lick.whole is not None:
        whole = settled(lick.whole, clash_per_second, tight_per_second)
        taken = fingers_from(written_notes(whole), notes)
    chosen = choose_fingers(lick, with_fingers(notes, taken), clash_per_second, tight_per_second)
    return rewritten(lick, taken | chosen, chosen=True)


def all_fingered(lick: Lick) -> bool:
    """Whether every pluck has its finger already."""
    return all(pluck.finger for bar in lick.bars for cell in bar.cells for pluck in _plucks(cell))


def at_pace(lick: Lick, tempo: Fraction, bounce: int) -> Lick:
    """The lick as a block of another tempo and bounce plays it."""
    return lick if (lick.tempo, lick.bounce) == (tempo, bounce) else replace(lick, tempo=tempo, bounce=bounce)


def rewritten(lick: Lick, fingers: Mapping[str, str], lost: frozenset[str] = frozenset(),
              chosen: bool = False) -> Lick:
    """The lick with other ``fingers`` for these marks, without the plucks ``lost``; both go by marks.

    Where a strike is lost the one before is held; strings that slide or hammer there still do.
    """
    rewriting = _Rewriting(fingers, lost, chosen)
    return replace(lick, bars=tuple(rewriting.bar(bar) for bar in lick.bars))


class _Rewriting:
    """One pass over the cells in written order; ``mark_number`` is that of the next note."""

    def __init__(self, fingers: Mapping[str, str], lost: frozenset[str], chosen: bool):
        self.fingers, self.lost, self.chosen = fingers, lost, chosen
        self.mark_number = 1

    def bar(self, bar: Bar) -> Bar:
        cells = tuple(self.cell(cell) for cell in bar.cells)
        return bar if cells == bar.cells else replace(bar, cells=cells)

    def cell(self, cell: Cell) -> Cell:
        if isinstance(cell, Group):
            return replace(cell, cells=tuple(self.cell(inner) for inner in cell.cells))
        if not isinstance(cell, Strike):
            return cell
        plucks = tuple(pluck for pluck in map(self.pluck, cell.plucks) if pluck is not None)
        self.mark_number += len(cell.landings)
        return replace(cell, plucks=plucks) if plucks or cell.landings else Hold(cell.place)

    def pluck(self, pluck: Pluck) -> Pluck | None:
        mark = f"p{self.mark_number}"
        self.mark_number += 1 + len(pluck.arrivals)
        if mark in self.lost:
            return None
        return replace(pluck, finger=self.fingers[mark], chosen=self.chosen) if mark in self.fingers else pluck


def _plucks(cell: Cell) -> tuple[Pluck, ...]:
    if isinstance(cell, Group):
        return tuple(pluck for inner in cell.cells for pluck in _plucks(inner))
    return cell.plucks if isinstance(cell, Strike) else ()
