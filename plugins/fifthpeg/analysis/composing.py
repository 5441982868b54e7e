"""Licks in a row written out as one: repeats unfolded, exits inside left out, bars numbered through.

A later pick-up lies over the holds, rests or missing slots before its barline; where there is no room it gets a short
bar of its own. The chord in force is written over the first full bar of each link, and wherever a jump brings another
one back; a link that names no chord goes on under that of the link before.
"""

from collections.abc import Sequence
from dataclasses import replace

from ..model.chain import Chain
from ..model.lick import Lick, Linked
from ..model.play_order import kept_order
from ..model.tab import Bar, Hold
from .strikes import trailing_empties


def composed(chain: Chain, licks: Sequence[Lick]) -> Lick:
    """``licks`` are those of the chain's links, alike in meter, grid, tuning, capo and fifth, fingers and repairs
    settled."""
    first = chain.links[0].lick
    row = _Row(int(first.meter.slots(first.grid)))
    links = []
    for index, lick in enumerate(licks):
        keeps_exit = chain.keep_exit and index == len(licks) - 1
        links.append(Linked(lick.id or lick.shows or "", lick.title, row.add(lick, keeps_exit)))
    pickup = row.bars[0].slot_count if row.bars and row.bars[0].number == 0 else 0
    row.close(pickup)
    return Lick(
        bars=tuple(row.bars), id=chain.id, title=chain.title, role=chain.role, key=chain.key, meter=first.meter,
        grid=first.grid, pickup=pickup, tempo=first.tempo if chain.tempo is None else chain.tempo,
        tempos=first.tempos if chain.tempos is None else chain.tempos,
        bounce=first.bounce if chain.bounce is None else chain.bounce, tuning=first.tuning, capo=first.capo,
        fifth=first.fifth, exit_bars=row.exit_bars, after=chain.after, labels=chain.labels, rights=chain.rights,
        chain=chain, links=tuple(links), place=chain.place)


class _Row:
    """The bars written so far, ``chord`` in force at their end, and how many of them are the exit."""

    def __init__(self, full_slots: int):
        self.bars: list[Bar] = []
        self.chord: str | None = None
        self.full_slots = full_slots
        self.exit_bars = 0

    def add(self, lick: Lick, keeps_exit: bool) -> tuple[int, int]:
        """Where the lick begins: (bar number, slot from 1)."""
        body, order = kept_order(lick, False), kept_order(lick, keeps_exit)
        over = _chords_at_barlines(lick.bars, self.chord)
        first, opened, exit_from = None, False, None
        for played, index in enumerate(order):
            bar = lick.bars[index]
            if played == len(body):
                exit_from = len(self.bars)
            if bar.number == 0 and self.has_room(bar):
                place = self.lay_over(bar)
            else:
                if not opened and bar.number:
                    self.fill_up()
                place = self.append(bar, over[index], always=not opened)
                opened = True
            first = first or place
        self.exit_bars = 0 if exit_from is None else len(self.bars) - exit_from
        return first or (self.next_number(), 1)

    def append(self, bar: Bar, chord: str | None, always: bool) -> tuple[int, int]:
        chords = bar.chords
        if chord and (always or chord != self.chord) and 0 not in dict(chords):
            chords = ((0, chord), *chords)
        number = 0 if bar.number == 0 and not self.bars else self.next_number()
        self.bars.append(replace(bar, number=number, chords=chords, opens_repeat=False, repeat_times=0, ending=0,
                                 first_slot_index=0))
        self.chord = chords[-1][1] if chords else self.chord
        return number, 1

    def lay_over(self, pickup: Bar) -> tuple[int, int]:
        last, slots = self.bars[-1], pickup.slot_count
        missing = self.missing()
        begin = last.slot_count + missing - slots
        cells = last.cells[:len(last.cells) - max(0, slots - missing)]
        held = (Hold(),) * max(0, missing - slots)
        self.bars[-1] = replace(last, cells=(*cells, *held, *pickup.cells),
                                chords=_laid(last.chords, pickup.chords, begin),
                                texts=_laid(last.texts, pickup.texts, begin))
        self.chord = self.bars[-1].chords[-1][1] if self.bars[-1].chords else self.chord
        return last.number, begin + 1

    def has_room(self, pickup: Bar) -> bool:
        return bool(self.bars) and pickup.slot_count <= self.missing() + trailing_empties(self.bars[-1])

    def missing(self) -> int:
        """Slots by which the last bar is left short."""
        return max(0, self.full_slots - self.bars[-1].slot_count) if self.bars and self.bars[-1].number else 0

    def fill_up(self) -> None:
        """What sounds at the end of a bar left short goes on to the barline."""
        if self.missing():
            self.bars[-1] = replace(self.bars[-1], cells=(*self.bars[-1].cells, *(Hold(),) * self.missing()))

    def close(self, pickup: int) -> None:
        """The last bar may stay short for the row's own pick-up, and for nothing else."""
        if self.missing() != pickup:
            self.fill_up()

    def next_number(self) -> int:
        return self.bars[-1].number + 1 if self.bars else 1


def _chords_at_barlines(bars: Sequence[Bar], before: str | None) -> list[str | None]:
    """The chord in force where each bar begins, in written order."""
    in_force = [before]
    for bar in bars:
        in_force.append(bar.chords[-1][1] if bar.chords else in_force[-1])
    return in_force[:-1]


def _laid(under: Sequence[tuple[int, str]], over: Sequence[tuple[int, str]], begin: int) -> tuple[tuple[int, str], ...]:
    """Words by slot of two layers; those of the upper one count in its slots."""
    moved = {begin + slot_index: words for slot_index, words in over}
    return tuple(sorted((dict(under) | moved).items()))
