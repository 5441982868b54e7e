"""From the written lick to what is played: repeats unfolded, bounce applied, a hand given to every note.

A bar that ends with the next link's pick-up counts as the link's it begins with; each note as its own link's.
"""

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from ..model.bounce import STRAIGHT, bounced
from ..model.lick import Lick
from ..model.note import Note, notes_through, with_fingers
from ..model.performance import BarPass, Performance
from ..model.play_order import unfold
from ..model.tab import Bar
from .hand import by_hand


def perform(lick: Lick, fingers: Mapping[str, str]) -> Performance:
    """``fingers`` maps marks to right-hand fingers, for plucks whose writer gave none."""
    order = unfold(lick)
    bar_map = _map_bars(lick, order)
    notes = with_fingers(notes_through(lick, [index for index, _ in order]), fingers)
    return Performance(
        notes=by_hand(tuple(_place(notes, lick, bar_map))),
        bar_map=bar_map,
        chords=_chords(lick, order, bar_map),
        quarters=bar_map[-1].start + bar_map[-1].length if bar_map else Fraction(0),
        exit_start=_exit_start(lick, bar_map),
        quarters_per_minute=lick.quarters_per_minute,
    )


def _map_bars(lick: Lick, order: Sequence[tuple[int, int]]) -> tuple[BarPass, ...]:
    passes, start = [], Fraction(0)
    for index, passage in order:
        bar = lick.bars[index]
        length = bar.slot_count * lick.slot_quarters
        barline = start + length if bar.number == 0 and not lick.is_cut(bar) else start - lick.late_start(bar)
        link = lick.link_at(bar.number, bar.first_slot_index + 1)
        passes.append(BarPass(bar.number, passage, link, start, length, barline))
        start += length
    return tuple(passes)


def _place(notes: Sequence[Note], lick: Lick, bar_map: Sequence[BarPass]) -> Iterator[Note]:
    starts = [bar.start for bar in bar_map]
    for note in notes:
        passage, link = _bar_at(note.start, bar_map, starts).passage, lick.link_at(note.bar, note.slot)
        if lick.bounce == STRAIGHT:
            yield note if (note.passage, note.link) == (passage, link) else replace(note, passage=passage, link=link)
            continue
        start, end, until = (_bounced_in_bars(time, lick, bar_map, starts)
                             for time in (note.start, note.start + note.length, note.rings_until))
        yield replace(note, passage=passage, link=link, start=start, length=end - start, rings_until=until)


def _bar_at(time: Fraction, bar_map: Sequence[BarPass], starts: Sequence[Fraction]) -> BarPass:
    return bar_map[max(0, bisect_right(starts, time) - 1)]


def _bounced_in_bars(time: Fraction, lick: Lick, bar_map: Sequence[BarPass], starts: Sequence[Fraction]) -> Fraction:
    if lick.bounce == STRAIGHT:
        return time
    bar = _bar_at(time, bar_map, starts)
    if time >= bar.start + bar.length and not lick.pickup:
        return time  # the end of the last bar is a barline, even where an eighth has no partner before it
    return bar.barline + bounced(time - bar.barline, lick.bounce)


def _chords(lick: Lick, order: Sequence[tuple[int, int]],
            bar_map: Sequence[BarPass]) -> tuple[tuple[Fraction, str], ...]:
    """Changes of chord as played. A jump brings back the chord that is written over the bar jumped to."""
    starts = [bar.start for bar in bar_map]
    carried = _carried_chords(lick.bars)
    named: list[tuple[Fraction, str]] = []
    for (index, _), bar_pass in zip(order, bar_map, strict=True):
        over_bar = dict(lick.bars[index].chords)
        if carried[index]:
            over_bar = {0: carried[index]} | over_bar
        for slot_index, name in over_bar.items():
            at = bar_pass.start + slot_index * lick.slot_quarters
            named.append((_bounced_in_bars(at, lick, bar_map, starts), name))
    return tuple(entry for i, entry in enumerate(named) if i == 0 or entry[1] != named[i - 1][1])


def _carried_chords(bars: Sequence[Bar]) -> list[str | None]:
    """The chord in force at each barline, None before the first."""
    in_force: list[str | None] = [None]
    for bar in bars:
        in_force.append(bar.chords[-1][1] if bar.chords else in_force[-1])
    return in_force[:-1]


def _exit_start(lick: Lick, bar_map: Sequence[BarPass]) -> Fraction | None:
    if not lick.exit_bars:
        return None
    first_exit_bar = lick.bars[-1].number - lick.exit_bars + 1
    return next((bar.start for bar in bar_map if bar.bar == first_exit_bar), None)
