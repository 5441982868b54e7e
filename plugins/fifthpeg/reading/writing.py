"""The way back: a lick as the text of a block that reads as the same lick."""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from types import MappingProxyType

from ..model.lick import Lick
from ..model.tab import (
    CHOKE, HAMMER_ON, PULL_OFF, RELEASE, SLIDE, Arrival, Bar, Cell, Group, Hold, Landing, Pluck, Rest, Strike)
from ..model.tab import cell_slots

LETTERS = {SLIDE: "s", HAMMER_ON: "h", PULL_OFF: "p"}
_PLAIN = Lick(bars=())


def write(lick: Lick) -> str:
    """Header and body, one bar a line; keys that say no more than the defaults are left out."""
    header = "\n".join(f"{key}: {value}".replace(": \n", ":\n") for key, value in _header(lick))
    return f"{header}\n---\n{write_body(lick.bars)}"


def write_body(bars: tuple[Bar, ...]) -> str:
    return "\n".join(write_bars(bars))


def write_bars(bars: tuple[Bar, ...]) -> list[str]:
    """Each bar's text with its chords, words and repeat signs, without barlines."""
    writer = BarWriter()
    return [writer.bar(bar) for bar in bars]


def write_pluck(pluck: Pluck) -> str:
    fret = ":x" if pluck.damped else f":{pluck.fret}" if pluck.fret else ""
    choke = f"b{_half_steps(pluck.choke_semitones)}" if pluck.choke_semitones else ""
    return "".join((pluck.finger or "", str(pluck.string), fret, _left(pluck.left), *map(_arrival, pluck.arrivals),
                    choke,
                    "r" if pluck.release else "", "c" if pluck.chime else "", "~" if pluck.vibrato else ""))


def _header(lick: Lick) -> Iterator[tuple[str, str]]:
    if lick.id:
        yield "id", lick.id
    if lick.title:
        yield "title", lick.title
    yield "key", lick.key
    yield "tempo", _decimal(lick.tempo)
    for name in ("role", "meter", "grid", "pickup", "bounce", "capo", "fifth", "after", "rights"):
        if getattr(lick, name) != getattr(_PLAIN, name):
            yield name, str(getattr(lick, name))
    if lick.tempos != _PLAIN.tempos:
        yield "tempos", f"[{', '.join(_pace(share, lick.tempo) for share in lick.tempos)}]"
    if lick.tuning != _PLAIN.tuning:
        yield "tuning", lick.tuning.name
    if lick.exit_bars:
        yield "exit", str(lick.exit_bars)
    if lick.labels:
        yield "labels", "".join(f"\n- {label}" for label in lick.labels)


class BarWriter:
    """Remembers the string last picked, since an arrival may leave it unsaid."""

    def __init__(self) -> None:
        self.last_string: int | None = None

    def bar(self, bar: Bar, instead: Mapping[int, str] = MappingProxyType({})) -> str:
        """``instead`` gives other words for the cell at a slot index."""
        words = ["|:"] if bar.opens_repeat else []
        words += [f"<{bar.ending}>"] if bar.ending else []
        for slot_index, cell in bar.placed_cells():
            span = range(slot_index, slot_index + cell_slots(cell))
            words += [f"[{name}]" for at, name in bar.chords if at in span]
            words += [f'"{text}"' for at, text in bar.texts if at in span]
            own = self.cell(cell)
            words.append(instead.get(slot_index, own))
        if bar.repeat_times:
            words.append(":|" if bar.repeat_times == 2 else f":|x{bar.repeat_times}")
        return " ".join(words)

    def cell(self, cell: Cell) -> str:
        if isinstance(cell, Hold):
            return "-"
        if isinstance(cell, Rest):
            return "."
        if isinstance(cell, Group):
            inside = " ".join(self.cell(inner) for inner in cell.cells)
            return f"({inside})" + (f"/{cell.slots}" if cell.slots > 1 else "") + ("!" if cell.accent else "")
        return self.strike(cell)

    def strike(self, strike: Strike) -> str:
        landings = [self.landing(landing, bare=not strike.plucks) for landing in strike.landings]
        for pluck in strike.plucks:
            self.last_string = pluck.string
        return "+".join([*landings, *map(write_pluck, strike.plucks)]) + ("!" if strike.accent else "")

    def landing(self, landing: Landing, bare: bool) -> str:
        where = "" if bare and landing.string == self.last_string else f"{landing.string}>"
        if landing.touch == RELEASE:
            return f"{where}r"
        if landing.touch == CHOKE:
            return f"{where}b{_half_steps(landing.semitones)}"
        return f"{where}{LETTERS[landing.touch]}{landing.fret}{_left(landing.left)}"


def _arrival(arrival: Arrival) -> str:
    return f"{LETTERS[arrival.touch]}{arrival.fret}{_left(arrival.left)}"


def _left(finger: str | None) -> str:
    return f"={finger}" if finger else ""


def _half_steps(semitones: Fraction) -> str:
    return f"{float(semitones):g}"


def _pace(share: Fraction, tempo: Fraction) -> str:
    percent = share * 100
    return f"{percent} %" if percent.denominator == 1 else _decimal(share * tempo)


def _decimal(number: Fraction) -> str:
    return f"{float(number):.2f}".rstrip("0").rstrip(".")
