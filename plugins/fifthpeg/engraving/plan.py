"""What stands where in each bar, before anything has a size: columns, values, beams, signs."""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import lcm

from ..model.findings import Findings
from ..model.lick import Lick
from ..model.note import Note
from ..model.tab import Bar, Group, Strike, cell_slots
from .beams import Beaming, beam_up
from .columns import Column, columns_of
from .hands import with_hands
from .links import LinkStart, link_starts
from .rhythm import Piece, ends_sounding, note_values, write_values

FINEST = 64
"""Ticks divide so often beyond what the notes ask for, so that written values stay whole."""
CHOKE, SLIDE = "choke", "slide"
ARC_LETTERS = {"hammer-on": "H", "pull-off": "P"}


@dataclass(frozen=True)
class Run:
    """Neighbouring cells that a variant changed: from ``begin`` to ``end``, the last of them at ``last``; ticks."""

    begin: int
    last: int
    end: int


@dataclass(frozen=True)
class BarPlan:
    """``ticks`` long, starting ``start`` ticks into the lick.

    ``ending`` numbers the ending the bar lies in (0: none); ``exit`` says that it is an exit bar.
    ``opens_late`` and ``ends_early`` say that a showing left out the bar's beginning or its end.
    """

    bar: Bar
    index: int
    start: int
    ticks: int
    quarter_ticks: int
    columns: tuple[Column, ...]
    pieces: tuple[Piece, ...]
    beaming: Beaming
    ending: int = 0
    exit: bool = False
    is_first: bool = False
    is_last: bool = False
    opens_late: bool = False
    ends_early: bool = False
    changes: tuple[Run, ...] = ()
    changed_slots: frozenset[int] = frozenset()
    links: tuple[LinkStart, ...] = ()

    def column_index(self, at: int) -> int:
        return next(index for index, column in enumerate(self.columns) if column.at == at)


@dataclass(frozen=True)
class LickPlan:
    """``homes`` finds a note by its mark: (bar index, column index)."""

    lick: Lick
    bars: tuple[BarPlan, ...]
    homes: dict[str, tuple[int, int]]
    notes: dict[str, Note]


def plan_bars(lick: Lick, notes: Sequence[Note], findings: Findings | None = None) -> LickPlan:
    quarter_ticks = _quarter_ticks(lick, notes)
    slot_ticks = 4 * quarter_ticks // lick.grid
    starts = _starts(lick.bars, slot_ticks)
    notes_in_bar = _share_out(notes, starts, quarter_ticks)
    endings = _endings(lick.bars)
    links = link_starts(lick, findings)
    values = note_values(quarter_ticks)
    beat_ticks = int(lick.meter.beat_quarters * quarter_ticks)
    plans: list[BarPlan] = []
    sounding = False
    for index, bar in enumerate(lick.bars):
        position = int(lick.late_start(bar) * quarter_ticks)
        changed = frozenset(slot for number, slot in lick.changed if number == bar.number)
        pieces = write_values(bar, slot_ticks, beat_ticks, values, position, sounding)
        sounding = ends_sounding(pieces, sounding)
        beaming = beam_up(pieces, lick.meter, quarter_ticks, position)
        starting = links.get(index, ())
        pins = {start.slot_index * slot_ticks for start in starting if start.has_pin}
        columns = columns_of(bar, slot_ticks, notes_in_bar[index], pieces, beaming, pins)
        plans.append(BarPlan(
            bar, index, starts[index], bar.slot_count * slot_ticks, quarter_ticks,
            with_hands(columns, bar.number, findings) if findings else columns, pieces, beaming,
            ending=endings[index], exit=index >= len(lick.bars) - lick.exit_bars,
            is_first=index == 0, is_last=index == len(lick.bars) - 1,
            opens_late=bar.first_slot_index > 0, ends_early=lick.ends_early(bar),
            changes=tuple(_runs(bar, slot_ticks, changed)) if changed else (), changed_slots=changed, links=starting))
    homes = {note.mark: (plan.index, place)
             for plan in plans for place, column in enumerate(plan.columns) for note in column.notes}
    return LickPlan(lick, tuple(plans), homes, {note.mark: note for note in notes})


def _quarter_ticks(lick: Lick, notes: Sequence[Note]) -> int:
    shares = {lick.grid, lick.meter.unit, *(note.start.denominator for note in notes)}
    for bar in lick.bars:
        for cell in bar.cells:
            if isinstance(cell, Group):
                shares |= {lick.grid * len(cell.cells) * (1 + _most_arrivals(inner)) for inner in cell.cells}
            else:
                shares.add(lick.grid * (1 + _most_arrivals(cell)))
    return FINEST * lcm(*shares)


def _most_arrivals(cell: object) -> int:
    return max((len(pluck.arrivals) for pluck in cell.plucks), default=0) if isinstance(cell, Strike) else 0


def _starts(bars: Sequence[Bar], slot_ticks: int) -> list[int]:
    starts, at = [], 0
    for bar in bars:
        starts.append(at)
        at += bar.slot_count * slot_ticks
    return starts


def _share_out(notes: Sequence[Note], starts: list[int], quarter_ticks: int) -> list[dict[int, list[Note]]]:
    """For each bar its notes by their time in it."""
    shared: list[dict[int, list[Note]]] = [{} for _ in starts]
    for note in notes:
        at = note.start.numerator * quarter_ticks // note.start.denominator
        index = bisect_right(starts, at) - 1
        shared[index].setdefault(at - starts[index], []).append(note)
    return shared


def _runs(bar: Bar, slot_ticks: int, changed: frozenset[int]) -> Iterator[Run]:
    run, slot_index = None, 0
    for cell in bar.cells:
        at, end = slot_index * slot_ticks, (slot_index + cell_slots(cell)) * slot_ticks
        if bar.first_slot_index + slot_index + 1 in changed:
            run = Run(run.begin if run else at, at, end)
        elif run:
            yield run
            run = None
        slot_index += cell_slots(cell)
    if run:
        yield run


def _endings(bars: Sequence[Bar]) -> list[int]:
    """The first ending lasts to its repeat sign, any later one a bar."""
    endings, running = [], 0
    for bar in bars:
        running = bar.ending or running
        endings.append(running)
        if bar.repeat_times or running > 1:
            running = 0
    return endings
