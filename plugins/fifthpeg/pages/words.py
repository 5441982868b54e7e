"""Facts about a lick in words a player would use."""

from fractions import Fraction

from ..model.bounce import STRAIGHT
from ..model.chord import moved_key
from ..model.lick import TEMPO_NAMES, Lick
from ..model.pitch import name_of
from ..model.tuning import SHORT_STRING, TUNINGS, short_string_stop

BEAT_NAMES = {Fraction(2): ", in half notes", Fraction(3, 2): ", in dotted quarters", Fraction(1, 2): ", in eighths",
              Fraction(1, 4): ", in sixteenths"}


def number(value: Fraction | float) -> str:
    """A number without a needless decimal point: 208, 6.9."""
    return f"{float(value):.1f}".removesuffix(".0")


def beats(tempo: Fraction | float) -> str:
    return f"{number(tempo)} beats a minute"


def full_tempo(lick: Lick) -> str:
    """The tempo in the meter's beat, which is named where it is not the quarter note."""
    return beats(lick.tempo) + BEAT_NAMES.get(lick.meter.beat_quarters, "")


def key(lick: Lick) -> str:
    """The key of the shape, and the one that sounds under a capo."""
    return f"{lick.key} shape, sounds in {moved_key(lick.key, lick.capo)}" if lick.capo else lick.key


def set_up(lick: Lick) -> str:
    """What a player has to know before the first note, where it is out of the ordinary; else empty."""
    parts = [f"{lick.tuning.name} tuning"] if lick.tuning != TUNINGS["open G"] else []
    parts += [f"capo at fret {lick.capo}"] if lick.capo else []
    if short_string_stop(lick.capo, lick.fifth) != short_string_stop(lick.capo, None):
        parts.append(f"short string at fret {short_string_stop(lick.capo, lick.fifth)}")
    parts += [f"bounce {lick.bounce} %"] if lick.bounce != STRAIGHT else []
    return ", ".join(parts)


def bar_count(lick: Lick) -> int:
    """Whole bars, the pick-up not counted."""
    return sum(1 for bar in lick.bars if bar.number > 0)


def counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def listed(words: tuple[str, ...]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1] if words else ""


def tempos(lick: Lick) -> tuple[tuple[str, Fraction], ...]:
    """Name and beats a minute of each recording, rising."""
    return tuple((name, share * lick.tempo) for name, share in zip(TEMPO_NAMES, lick.tempos, strict=True))


def bars(lick: Lick) -> str:
    words = counted(bar_count(lick), "bar")
    if any(bar.number == 0 for bar in lick.bars):
        words += " and a pick-up"
    return words


def way_out(lick: Lick) -> str:
    """Which bars only show a way out; empty if none."""
    if not lick.exit_bars:
        return ""
    last = lick.bars[-1].number
    if lick.exit_bars == 1:
        return f"bar {last} only shows a way out; it falls away when another lick follows"
    return f"bars {last - lick.exit_bars + 1} to {last} only show a way out; they fall away when another lick follows"


def tuning(lick: Lick) -> str:
    """The open strings, 5th to 1st, and how capo and short string are set."""
    pitches = " ".join(name_of(pitch) for pitch in lick.tuning.pitches)
    words = lick.tuning.name if lick.tuning.name.split() == pitches.split() else f"{lick.tuning.name} ({pitches})"
    stop = short_string_stop(lick.capo, lick.fifth)
    if lick.capo:
        words += f", capo at fret {lick.capo}"
    if stop != short_string_stop(0, None):
        words += f", {SHORT_STRING}th string raised to fret {stop}"
    return words
