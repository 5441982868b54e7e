"""Part of a lick drawn and played again, with its own bar numbers."""

from collections.abc import Sequence
from dataclasses import replace

from ..model.lick import Lick, Showing
from ..model.tab import RELEASE, Bar, Cell, Group, Hold, Landing, Pluck, Rest, Strike


def show(lick: Lick, showing: Showing) -> Lick:
    """The bars a showing asks for, as a lick without an id; the bars are known to exist."""
    bars = lick.bars
    if showing.bars:
        first, last = showing.bars
        chosen = tuple(bar for bar in bars if first <= bar.number <= last)
        bars = _cut_off(_carry_chord(lick.bars, chosen)) if chosen[0] is not lick.bars[0] else chosen
        bars = _mend_repeats(bars)
    exit_start = lick.bars[-1].number - lick.exit_bars + 1
    tempo = showing.tempo or lick.tempo
    return replace(
        lick, id=None, bars=bars, title=showing.title or lick.title, tempo=tempo,
        tempos=showing.tempos or lick.tempos, shows=lick.id,
        shown_bars=tuple(bar.number for bar in bars) if showing.bars else None,
        pickup=lick.pickup if bars[0].number == 0 else 0,
        exit_bars=max(0, bars[-1].number - max(exit_start, bars[0].number) + 1) if lick.exit_bars else 0,
        place=showing.place)


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
    return Pluck(landing.string, landing.fret, left=landing.left, choke_semitones=type(landing.semitones)(choked), carried=True,
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
