"""The written time of a lick cut into note values, for one voice.

Times are whole ticks from the start, so many to a quarter that all are exact. Wherever a note
begins or ends, a new piece begins; strings that go on are tied. A group or a slot with arrivals
that no plain or dotted value can say becomes a tuplet.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import gcd, lcm

from ..model.lick import Lick
from ..model.note import Note
from ..model.tab import Cell, Group, Strike, cell_slots
from ..model.tuplet import Tuplet

TYPES = ("whole", "half", "quarter", "eighth", "16th", "32nd", "64th", "128th", "256th", "512th", "1024th")
QUARTERS_IN_WHOLE = 4


@dataclass(frozen=True)
class Piece:
    """One note value, chord of values or rest (no ``notes``); ``kind`` is None where no value has a name.

    ``at`` and ``ticks`` count from the start of the lick.
    """

    at: int
    ticks: int
    kind: str | None
    dotted: bool
    notes: tuple[Note, ...]
    tuplet: Tuplet | None

    @property
    def end(self) -> int:
        return self.at + self.ticks


@dataclass(frozen=True)
class Rhythm:
    per_quarter: int
    bars: tuple[tuple[Piece, ...], ...]


@dataclass(frozen=True)
class _Segment:
    at: int
    end: int
    notes: tuple[Note, ...]
    tuplet: Tuplet | None


def write_rhythm(lick: Lick, notes: Sequence[Note]) -> Rhythm:
    per_quarter = lcm(lick.slot_quarters.denominator, lick.meter.beat_quarters.denominator,
                      *(note.start.denominator for note in notes), *(note.length.denominator for note in notes))
    slot, beat = in_ticks(lick.slot_quarters, per_quarter), in_ticks(lick.meter.beat_quarters, per_quarter)
    barlines = [0]
    for bar in lick.bars:
        barlines.append(barlines[-1] + bar.slot_count * slot)
    spans = [(note, in_ticks(note.start, per_quarter), in_ticks(note.start + note.length, per_quarter))
             for note in notes]
    events = sorted({edge for _, start, end in spans for edge in (start, end)})
    tuplets = list(_tuplets(lick, barlines, events, slot))
    bars: list[list[Piece]] = [[] for _ in lick.bars]
    for segment in _segments(spans, events, barlines, tuplets):
        index = bisect_right(barlines, segment.at) - 1
        origin = barlines[index] - in_ticks(lick.late_start(lick.bars[index]), per_quarter)
        bars[index] += _split(segment, origin, beat, per_quarter)
    return Rhythm(per_quarter, tuple(map(tuple, bars)))


def in_ticks(quarters: Fraction, per_quarter: int) -> int:
    return quarters.numerator * (per_quarter // quarters.denominator)


def _tuplets(lick: Lick, barlines: Sequence[int], events: Sequence[int], slot: int) -> Iterator[Tuplet]:
    for bar, at in zip(lick.bars, barlines, strict=False):
        for cell in bar.cells:
            end = at + cell_slots(cell) * slot
            if isinstance(cell, Group):
                yield from _group_tuplets(cell, at, end, events)
            elif _has_arrivals(cell):
                yield from _tuplet(at, end, 1, 1, events)
            at = end


def _group_tuplets(group: Group, at: int, end: int, events: Sequence[int]) -> Iterator[Tuplet]:
    """One over the whole group; where its shares are plain values, one over each share that needs it."""
    parts = len(group.cells)
    share = (end - at) // parts
    if _odd_part(parts // gcd(parts, group.slots)) > 1:
        yield from _tuplet(at, end, group.slots, 1, events)
        return
    for index, cell in enumerate(group.cells):
        if _has_arrivals(cell):
            yield from _tuplet(at + index * share, at + (index + 1) * share, group.slots, parts, events)


def _has_arrivals(cell: Cell) -> bool:
    return isinstance(cell, Strike) and any(pluck.arrivals for pluck in cell.plucks)


def _tuplet(at: int, end: int, slots: int, parts: int, events: Sequence[int]) -> Iterator[Tuplet]:
    """For a stretch of ``slots`` / ``parts`` slots, by what begins or ends inside it."""
    inside = events[bisect_right(events, at):bisect_left(events, end)]
    shares = parts * (end - at) // gcd(end - at, *(time - at for time in inside))
    common = gcd(shares, slots)
    count, normal = _odd_part(shares // common), _odd_part(slots // common)
    if count > 1:
        while normal * 2 <= count:
            normal *= 2
        yield Tuplet(at, end, count, normal)


def _odd_part(number: int) -> int:
    return number // (number & -number)


def _segments(spans: Sequence[tuple[Note, int, int]], events: Sequence[int], barlines: Sequence[int],
              tuplets: Sequence[Tuplet]) -> Iterator[_Segment]:
    """The whole lick cut at every event, barline and edge of a tuplet, with what sounds in each cut."""
    begins: dict[int, list[tuple[Note, int]]] = {}
    for note, start, end in spans:
        begins.setdefault(start, []).append((note, end))
    edges = sorted({*events, *barlines, *(edge for tuplet in tuplets for edge in (tuplet.start, tuplet.end))})
    sounding: list[tuple[Note, int]] = []
    waiting = iter(tuplets)
    tuplet = next(waiting, None)
    for at, end in zip(edges, edges[1:], strict=False):
        while tuplet and tuplet.end <= at:
            tuplet = next(waiting, None)
        sounding = [entry for entry in sounding if entry[1] > at] + begins.get(at, [])
        notes = tuple(sorted((note for note, _ in sounding), key=lambda note: -note.string))
        yield _Segment(at, end, notes, tuplet if tuplet and tuplet.start <= at else None)


def _split(segment: _Segment, origin: int, beat: int, per_quarter: int) -> Iterator[Piece]:
    """One value where one will do; else first up to the next beat, so that the beats can be seen.

    A rest stands only where its value divides the bar, counted from ``origin``.
    """
    tuplet = segment.tuplet
    count, normal = (tuplet.count, tuplet.normal) if tuplet else (1, 1)
    values = _values(QUARTERS_IN_WHOLE * per_quarter * normal)
    at, one_will_do = segment.at, any(value[0] == (segment.end - segment.at) * count for value in values)
    while at < segment.end:
        position = at - origin
        to_beat = beat - position % beat
        due = segment.end - at
        if not (tuplet or one_will_do or to_beat == beat):
            due = min(due, to_beat)
        silent = not (segment.notes or tuplet)
        length, kind, dotted = next(
            (value for value in values
             if value[0] <= due * count and not (silent and (value[2] or position % value[0]))),
            (due * count, None, False))
        yield Piece(at, length // count, kind, dotted, segment.notes, tuplet)
        at += length // count


@lru_cache(maxsize=64)
def _values(whole: int) -> tuple[tuple[int, str, bool], ...]:
    """(length, name, dotted), longest first, of those that are whole numbers where a whole note is ``whole``."""
    values = []
    for halvings, kind in enumerate(TYPES):
        if whole % (1 << halvings) == 0:
            length = whole >> halvings
            values.append((length, kind, False))
            if length % 2 == 0:
                values.append((length * 3 // 2, kind, True))
    return tuple(sorted(values, reverse=True))
