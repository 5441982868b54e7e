"""The beats a tab is clicked and counted by: the same as the player's, in exact times."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from .bounce import bounced
from .lick import Lick
from .performance import BarPass, Performance

CLICK, COUNT = "click", "count"
"""Names of the two stems of ticks."""


@dataclass(frozen=True)
class Beat:
    """``at`` in quarter notes from the start of the performance, below 0 where it is counted; ``first`` of its bar."""

    at: Fraction
    first: bool


@dataclass(frozen=True)
class TickStem:
    """A tick on each beat, to be switched and levelled by itself; ``level`` is linear, 1 a tick's own."""

    name: str
    beats: tuple[Beat, ...]
    level: float = 1.0


def clicked_beats(lick: Lick, performance: Performance) -> tuple[Beat, ...]:
    """Every beat within what is played of each bar; a pick-up's are counted from the barline before it."""
    bars = performance.bar_map
    starts = [_begins(played, lick) for played in bars]
    ends = [*starts[1:], performance.quarters]
    return tuple(beat for played, start, end in zip(bars, starts, ends, strict=True)
                 for beat in _beats(_barline(played, start, lick), end, lick) if beat.at >= start)


def counted_beats(lick: Lick, performance: Performance) -> tuple[Beat, ...]:
    """One whole bar ahead of the barline the lick begins after, and what of its own bar lies before a pick-up."""
    if not performance.bar_map:
        return ()
    first = performance.bar_map[0]
    barline = _barline(first, _begins(first, lick), lick)
    return (*_beats(barline - lick.meter.quarters, barline, lick), *_beats(barline, Fraction(0), lick))


def _begins(played: BarPass, lick: Lick) -> Fraction:
    """Where the first slot that is played of a bar lies, bounce in it."""
    return played.barline + bounced(played.start - played.barline, lick.bounce)


def _barline(played: BarPass, start: Fraction, lick: Lick) -> Fraction:
    return played.barline - lick.meter.quarters if played.barline > start else played.barline


def _beats(barline: Fraction, end: Fraction, lick: Lick) -> Iterator[Beat]:
    at = barline
    while at < end:
        yield Beat(at, at == barline)
        at += lick.meter.beat_quarters
