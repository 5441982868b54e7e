"""Strikes as the right hand meets them: what is picked at one moment, and when.

Two clocks run beside each other, both in quarters from the start: ``at`` as played, with
the bounce in it, for speeds; ``straight`` as written, for what counts as the next slot.
"""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, groupby

from ..model.bounce import STRAIGHT, bounced
from ..model.lick import Lick
from ..model.note import Note
from ..model.performance import Performance
from ..model.tab import Hold, Rest


@dataclass(frozen=True)
class Picking:
    """The picked notes of one strike; ``marks``, ``strings`` and ``fingers`` run in parallel."""

    at: Fraction
    straight: Fraction
    bar: int
    slot: int
    marks: tuple[str, ...]
    strings: tuple[int, ...]
    fingers: tuple[str | None, ...]


def written_pickings(lick: Lick, notes: Sequence[Note]) -> list[Picking]:
    """Strikes in written order, without repeats, at the times the bounce gives them."""
    barlines = _barlines(lick)
    pickings = []
    for strike in _strikes(notes):
        at = straight = strike[0].start
        if lick.bounce != STRAIGHT:
            barline = barlines[strike[0].bar]
            at = barline + bounced(straight - barline, lick.bounce)
        pickings.append(_picking(strike, at, straight))
    return pickings


def played_pickings(lick: Lick, notes: Sequence[Note], performance: Performance) -> list[Picking]:
    """Strikes as performed. ``notes`` are the written ones, whose places in their bars are straight."""
    if lick.bounce == STRAIGHT:
        return [_picking(strike, strike[0].start, strike[0].start) for strike in _strikes(performance.notes)]
    starts = _bar_starts(lick)
    place_in_bar = {note.mark: note.start - starts[note.bar] for note in notes}
    pass_starts = [bar.start for bar in performance.bar_map]
    pickings = []
    for strike in _strikes(performance.notes):
        pass_start = pass_starts[bisect_right(pass_starts, strike[0].start) - 1]
        pickings.append(_picking(strike, strike[0].start, pass_start + place_in_bar[strike[0].mark]))
    return pickings


def loop_quarters(lick: Lick, bar_count: int, end: Fraction) -> Fraction:
    """How long one turn of a loop lasts when the first ``bar_count`` written bars end at ``end``.

    A pick-up lies over the empty slots before the barline, or fills a last bar left short.
    Where it finds neither it is played after the end: nobody can play two things at once.
    """
    if not lick.pickup or bar_count < 1:
        return end
    last = lick.bars[bar_count - 1]
    missing = max(0, int(lick.meter.slots(lick.grid)) - last.slot_count)
    over = max(0, lick.pickup - missing)
    empty = 0
    for cell in reversed(last.cells):
        if not isinstance(cell, (Hold, Rest)):
            break
        empty += 1
    return end - over * lick.slot_quarters if over <= empty else end


def written_quarters(lick: Lick, bar_count: int) -> Fraction:
    """The length of the first ``bar_count`` bars as written."""
    return sum(bar.slot_count for bar in lick.bars[:bar_count]) * lick.slot_quarters


def _strikes(notes: Iterable[Note]) -> list[list[Note]]:
    picked = (note for note in notes if note.picked)
    return [list(strike) for _, strike in groupby(picked, key=lambda note: note.strike)]


def _picking(strike: Sequence[Note], at: Fraction, straight: Fraction) -> Picking:
    first = strike[0]
    return Picking(at, straight, first.bar, first.slot, tuple(note.mark for note in strike),
                   tuple(note.string for note in strike), tuple(note.finger for note in strike))


def _bar_starts(lick: Lick) -> dict[int, Fraction]:
    lengths = [bar.slot_count * lick.slot_quarters for bar in lick.bars]
    starts = accumulate(lengths, initial=Fraction(0))
    return {bar.number: start for bar, start in zip(lick.bars, starts, strict=False)}


def _barlines(lick: Lick) -> dict[int, Fraction]:
    """Where the bounce of each bar is counted from: its start, for a pick-up its end."""
    starts = _bar_starts(lick)
    if 0 in starts:
        starts[0] += lick.bars[0].slot_count * lick.slot_quarters
    return starts
