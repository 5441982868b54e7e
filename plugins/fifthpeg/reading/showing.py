"""Part of a lick drawn and played again, with its own bar numbers."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from ..model.lick import Lick, Showing
from ..model.tab import RELEASE, Bar, Cell, Group, Hold, Landing, Pluck, Rest, Strike


def show(lick: Lick, showing: Showing) -> Lick:
    """The bars or slots a showing asks for, as a lick without an id; they are known to exist."""
    bars = lick.bars
    if showing.bars or showing.slots:
        bars = _chosen(lick, showing)
        at_the_start = bars[0].number == lick.bars[0].number and not bars[0].first_slot_index
        bars = _mend_repeats(bars if at_the_start else _cut_off(_carry_chord(lick.bars, bars)))
    exit_start = lick.bars[-1].number - lick.exit_bars + 1
    tempo = showing.tempo or lick.tempo
    return replace(
        lick, id=None, bars=bars, title=showing.title or lick.title, tempo=tempo,
        tempos=_tempos(lick, showing), shows=lick.id, whole=lick,
        shown_bars=tuple(bar.number for bar in bars) if showing.bars or showing.slots else None,
        pickup=bars[0].slot_count if bars[0].number == 0 else 0,
        exit_bars=max(0, bars[-1].number - max(exit_start, bars[0].number) + 1) if lick.exit_bars else 0,
        place=showing.place)


def _tempos(lick: Lick, showing: Showing) -> tuple[Fraction, ...]:
    if showing.tempos and showing.tempos_in_beats:
        return tuple(beats / lick.tempo for beats in showing.tempos)
    return showing.tempos or lick.tempos


def what_is_missing(lick: Lick, showing: Showing) -> tuple[str, str] | None:
    """What a showing asks for that the lick has not, and what it has; None where all is there."""
    numbers = {bar.number: bar for bar in lick.bars}
    has = f"its bars are {lick.bars[0].number} to {lick.bars[-1].number}" if len(lick.bars) > 1 else "it has one bar"
    if showing.bars and not set(showing.bars) <= set(numbers):
        first, last = showing.bars
        wanted = f"bar {first}" if first == last else f"bars {first}-{last}"
        return f"`{lick.id}` has no {wanted}", has
    for number, slot in showing.slots or ():
        if number not in numbers:
            return f"`{lick.id}` has no bar {number}", has
        if slot > numbers[number].slot_count:
            slots = f"its slots are 1 to {numbers[number].slot_count}"
            return f"bar {number} of `{lick.id}` has no slot {slot}", slots
    if showing.slots and showing.slots[0][1] - 1 not in dict(numbers[showing.slots[0][0]].placed_cells()):
        number, slot = showing.slots[0]
        return (f"slot {slot} of bar {number} lies inside a group",
                "begin with the group's first slot, or the slot after it")
    return None


def _chosen(lick: Lick, showing: Showing) -> tuple[Bar, ...]:
    if showing.bars:
        first, last = showing.bars
        return tuple(bar for bar in lick.bars if first <= bar.number <= last)
    (first, first_slot), (last, last_slot) = showing.slots
    bars = []
    for bar in lick.bars:
        if first <= bar.number <= last:
            begin = first_slot - 1 if bar.number == first else 0
            end = last_slot if bar.number == last else bar.slot_count
            bars.append(_slots_of(bar, begin, end))
    return tuple(bars)


def _slots_of(bar: Bar, begin: int, end: int) -> Bar:
    """The cells that begin within the slots; a group is shown whole or not at all."""
    kept = [(at, cell) for at, cell in bar.placed_cells() if begin <= at < end]
    offset = kept[0][0]
    in_force = [name for slot_index, name in bar.chords if slot_index < offset]
    chords = [(slot_index - offset, name) for slot_index, name in bar.chords if offset <= slot_index < end]
    if in_force and not any(slot_index == 0 for slot_index, _ in chords):
        chords.insert(0, (0, in_force[-1]))
    texts = tuple((slot_index - offset, text) for slot_index, text in bar.texts if offset <= slot_index < end)
    whole = end == bar.slot_count
    return replace(bar, cells=tuple(cell for _, cell in kept), chords=tuple(chords), texts=texts,
                   first_slot_index=offset,
                   opens_repeat=bar.opens_repeat and not offset, ending=0 if offset else bar.ending,
                   repeat_times=bar.repeat_times if whole else 0)


def _carry_chord(all_bars: Sequence[Bar], chosen: tuple[Bar, ...]) -> tuple[Bar, ...]:
    """The chord in force where the showing begins, written over its first slot."""
    before = [name for bar in all_bars if bar.number < chosen[0].number for _, name in bar.chords]
    if not before or any(slot_index == 0 for slot_index, _ in chosen[0].chords):
        return chosen
    return (replace(chosen[0], chords=((0, before[-1]), *chosen[0].chords)), *chosen[1:])


def _cut_off(bars: tuple[Bar, ...]) -> tuple[Bar, ...]:
    """Holds before the first strike become rests; arrivals from notes left out are picked."""
    state = _Cut()
    return tuple(replace(bar, cells=tuple(state.cell(cell) for cell in bar.cells)) for bar in bars)


class _Cut:
    """Which strings sound within the showing; the cells up to then are rewritten."""

    def __init__(self) -> None:
        self.begun = False
        self.sounding: set[int] = set()

    def cell(self, cell: Cell) -> Cell:
        if isinstance(cell, Group):
            return replace(cell, cells=tuple(self.cell(inner) for inner in cell.cells))
        if isinstance(cell, Hold):
            return cell if self.begun else Rest(cell.place)
        if isinstance(cell, Rest):
            self.sounding.clear()
            self.begun = True
            return cell
        return self._strike(cell)

    def _strike(self, strike: Strike) -> Strike:
        lost = [landing for landing in strike.landings if landing.string not in self.sounding]
        self.begun = True
        self.sounding |= {thing.string for thing in (*strike.plucks, *strike.landings)}
        picked = tuple(_picked(landing) for landing in lost)
        kept = tuple(landing for landing in strike.landings if landing not in lost)
        return replace(strike, plucks=strike.plucks + picked, landings=kept)


def _picked(landing: Landing) -> Pluck:
    choked = landing.semitones if landing.touch != RELEASE else 0
    return Pluck(landing.string, landing.fret, left=landing.left, choke_semitones=type(landing.semitones)(choked),
                 carried=True,
                 place=landing.place)


def _mend_repeats(bars: tuple[Bar, ...]) -> tuple[Bar, ...]:
    """Repeat signs whose other half was left out fall away; the bars are then played once."""
    closes = any(bar.repeat_times for bar in bars)
    opens = any(bar.opens_repeat for bar in bars) or bars[0].number <= 1
    if closes and opens and _balanced(bars):
        return bars
    return tuple(replace(bar, opens_repeat=False, repeat_times=0, ending=0) for bar in bars)


def _balanced(bars: tuple[Bar, ...]) -> bool:
    open_repeat = bars[0].number <= 1
    for bar in bars:
        open_repeat = open_repeat or bar.opens_repeat
        if bar.repeat_times:
            if not open_repeat:
                return False
            open_repeat = False
    endings = {bar.ending for bar in bars if bar.ending}
    return not any(bar.opens_repeat for bar in bars if open_repeat) and endings in (set(), {1, 2})
