"""Strikes as the right hand meets them: what is picked at one moment, and when.

Two clocks run beside each other, both in quarters from the start: ``at`` as played, with
the bounce in it, for speeds; ``straight`` as written, for what counts as the next slot.
"""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, groupby, takewhile

from ..model.bounce import STRAIGHT, bounced
from ..model.lick import Lick
from ..model.note import Note, notes_through
from ..model.performance import Performance
from ..model.tab import Bar, Hold, Rest


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


def unfolded_pickings(lick: Lick, order: Sequence[int]) -> list[Picking]:
    """Strikes of the bars of these indices, played in this order, at the times the bounce gives them."""
    strikes = _strikes(notes_through(lick, order))
    if lick.bounce == STRAIGHT:
        return [_picking(strike, strike[0].start, strike[0].start) for strike in strikes]
    lengths = (lick.bars[index].slot_count * lick.slot_quarters for index in order)
    starts = list(accumulate(lengths, initial=Fraction(0)))
    pickings = []
    for strike in strikes:
        straight = strike[0].start
        place = bisect_right(starts, straight) - 1
        barline = _barline(lick, lick.bars[order[place]], starts[place])
        pickings.append(_picking(strike, barline + bounced(straight - barline, lick.bounce), straight))
    return pickings


def loop_quarters(lick: Lick, bar_count: int, end: Fraction) -> Fraction:
    """How long one turn of a loop lasts when the first ``bar_count`` written bars end at ``end``.

    A pick-up lies over the empty slots before the barline, or fills a last bar left short.
    Where it finds neither it is played after the end: nobody can play two things at once.
    """
    if not lick.pickup or bar_count < 1:
        return end
    missing = missing_slots(lick, bar_count - 1)
    over = max(0, lick.pickup - missing)
    return end - over * lick.slot_quarters if over <= empty_slots(lick, bar_count - 1) else end


def missing_slots(lick: Lick, bar_index: int) -> int:
    """Slots by which a bar is left short for a pick-up to come; none where a showing cut it."""
    bar = lick.bars[bar_index]
    if bar.number == 0 or lick.is_cut(bar):
        return 0
    return max(0, int(lick.meter.slots(lick.grid)) - bar.slot_count)


def empty_slots(lick: Lick, bar_index: int) -> int:
    """Holds and rests at the end of a bar."""
    return trailing_empties(lick.bars[bar_index])


def trailing_empties(bar: Bar) -> int:
    """The same of a bar by itself."""
    return sum(1 for _ in takewhile(lambda cell: isinstance(cell, (Hold, Rest)), reversed(bar.cells)))


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
    starts = _bar_starts(lick)
    return {bar.number: _barline(lick, bar, starts[bar.number]) for bar in lick.bars}


def _barline(lick: Lick, bar: Bar, start: Fraction) -> Fraction:
    """Where a bar's bounce is counted from: its start, for a pick-up its end, before it where a showing cut it."""
    return start + (bar.slot_count if bar.number == 0 else -bar.first_slot_index) * lick.slot_quarters
