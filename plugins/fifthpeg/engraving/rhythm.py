"""Which note values and rests a bar is written with.

A value lasts to the next strike, arrival or rest. What a single value cannot say is split
and tied. A hold over a barline is a value of its own, without a number, tied to the bar
before. Times are whole ticks from the start of the bar.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import gcd

from ..model.tab import Bar, Cell, Group, Hold, Rest, Strike, cell_slots
from ..model.tuplet import Tuplet

SMALLEST_HALVINGS = 6
"""The sixty-fourth: a whole note halved so often."""
QUARTER_HALVINGS = 2


@dataclass(frozen=True)
class Value:
    """A note value: a whole note halved ``halvings`` times, perhaps dotted; ``ticks`` long outside tuplets."""

    ticks: int
    halvings: int
    dotted: bool

    @property
    def flags(self) -> int:
        return max(0, self.halvings - QUARTER_HALVINGS)


@dataclass(frozen=True)
class Piece:
    """One stem or one rest. ``tied`` to the piece before it, which may stand in the bar before."""

    at: int
    value: Value
    silent: bool = False
    tied: bool = False
    tuplets: tuple[Tuplet, ...] = ()


@dataclass(frozen=True)
class _Atom:
    at: int
    ticks: int
    cell: type
    tuplets: tuple[Tuplet, ...]


@dataclass(frozen=True)
class _Run:
    at: int
    ticks: int
    silent: bool
    tied: bool
    tuplets: tuple[Tuplet, ...]


def note_values(quarter_ticks: int) -> tuple[Value, ...]:
    """Every value there is, longest first."""
    plain = [Value(4 * quarter_ticks >> halvings, halvings, False) for halvings in range(SMALLEST_HALVINGS + 1)]
    dotted = [Value(value.ticks * 3 // 2, value.halvings, True) for value in plain]
    return tuple(sorted(plain + dotted, key=lambda value: -value.ticks))


def write_values(
    bar: Bar, slot_ticks: int, beat_ticks: int, values: tuple[Value, ...], position: int, sounding: bool,
) -> tuple[Piece, ...]:
    """The pieces of one bar. ``values`` come longest first; ``position`` is where the bar starts in
    its meter (a pick-up starts late); ``sounding`` says whether anything sounds on from the bar before."""
    runs = _runs(_atoms(bar, slot_ticks), sounding)
    if len(runs) == 1 and runs[0].silent and not bar.first_slot_index:
        whole = next(value for value in values if value.halvings == 0 and not value.dotted)
        return (Piece(0, whole, silent=True),)
    return tuple(piece for run in runs for piece in _split(run, values, position, beat_ticks))


def ends_sounding(pieces: tuple[Piece, ...], before: bool) -> bool:
    return not pieces[-1].silent if pieces else before


def _atoms(bar: Bar, slot_ticks: int) -> Iterator[_Atom]:
    at = 0
    for cell in bar.cells:
        ticks = slot_ticks * cell_slots(cell)
        if isinstance(cell, Group):
            tuplets = _tuplet(at, ticks, len(cell.cells), cell.slots)
            share = ticks // len(cell.cells)
            for index, inner in enumerate(cell.cells):
                yield from _cell_atoms(inner, at + index * share, share, tuplets)
        else:
            yield from _cell_atoms(cell, at, ticks, ())
        at += ticks


def _cell_atoms(cell: Cell, at: int, ticks: int, tuplets: tuple[Tuplet, ...]) -> Iterator[_Atom]:
    """A strike with arrivals inside its slot is as many atoms as its busiest string has notes."""
    parts = 1
    if isinstance(cell, Strike):
        parts += max((len(pluck.arrivals) for pluck in cell.plucks), default=0)
    inside = tuplets + _tuplet(at, ticks, parts, 1)
    for index in range(parts):
        yield _Atom(at + index * ticks // parts, ticks // parts, type(cell), inside)


def _tuplet(at: int, ticks: int, count: int, slots: int) -> tuple[Tuplet, ...]:
    """The tuplet that ``count`` even shares of ``slots`` make; none where a plain or dotted value says it."""
    common = gcd(slots, count)
    parts, whole = count // common, slots // common
    if _odd_part(parts) == 1 and _odd_part(whole) in (1, 3):
        return ()
    normal = _odd_part(slots)
    while normal * 2 <= count:
        normal *= 2
    return (Tuplet(at, at + ticks, count, normal),)


def _odd_part(number: int) -> int:
    while number % 2 == 0:
        number //= 2
    return number


def _runs(atoms: Iterator[_Atom], sounding: bool) -> list[_Run]:
    runs: list[_Run] = []
    for atom in atoms:
        silent = runs[-1].silent if runs else not sounding
        joins = runs and runs[-1].tuplets == atom.tuplets
        if joins and (atom.cell is Hold or (atom.cell is Rest and silent)):
            last = runs.pop()
            runs.append(_Run(last.at, last.ticks + atom.ticks, last.silent, last.tied, last.tuplets))
        elif atom.cell is Hold:
            runs.append(_Run(atom.at, atom.ticks, silent, not silent, atom.tuplets))
        else:
            runs.append(_Run(atom.at, atom.ticks, atom.cell is Rest, False, atom.tuplets))
    return runs


def _split(run: _Run, values: tuple[Value, ...], position: int, beat_ticks: int) -> Iterator[Piece]:
    """One value where one will do; else first up to the next beat, so that the beats can be seen."""
    at, left, tied = run.at, run.ticks, run.tied
    count, normal = 1, 1
    for tuplet in run.tuplets:
        count, normal = count * tuplet.count, normal * tuplet.normal
    whole = any(value.ticks == left * count // normal for value in values)
    while True:
        to_beat = beat_ticks - (position + at) % beat_ticks
        due = left if whole or run.tuplets or to_beat == beat_ticks else min(left, to_beat)
        written = due * count // normal
        value = next((v for v in values if v.ticks <= written and _may_stand(run, v, position + at)), None)
        if value is None:
            return
        yield Piece(at, value, run.silent, tied, run.tuplets)
        ticks = value.ticks * normal // count
        at, left, tied = at + ticks, left - ticks, not run.silent


def _may_stand(run: _Run, value: Value, position: int) -> bool:
    """A rest stands only where its value divides the bar, so that the beats can be seen."""
    return not run.silent or bool(run.tuplets) or (position % value.ticks == 0 and not value.dotted)
