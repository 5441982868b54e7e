"""What a lick can be in a chain over one chord: how many bars it fills, with its exit and without."""

from collections.abc import Sequence
from dataclasses import dataclass

from ..model.chord import chord_pitch_classes
from ..model.lick import Lick
from ..model.play_order import kept_order


@dataclass(frozen=True)
class FitLink:
    """``body_bars`` are those without the exit; ``full_bars`` those with it, None without one or where it leaves
    the chord."""

    lick: Lick
    body_bars: int
    full_bars: int | None


def fit_link(lick: Lick, chord: str) -> FitLink | None:
    """None where a kept bar is not under exactly ``chord``, however it is spelled, or nothing is kept."""
    over = bars_over(lick, chord)
    body, full = kept_order(lick, False), kept_order(lick, True)
    body_bars = _count(lick, body)
    if not body_bars or not _all_over(lick, body, over):
        return None
    keeps_exit = lick.exit_bars and len(full) > len(body) and _all_over(lick, full, over)
    return FitLink(lick, body_bars, _count(lick, full) if keeps_exit else None)


def bars_over(lick: Lick, chord: str) -> set[int]:
    """Numbers of the bars that have this one chord from barline to barline."""
    wanted, in_force, found = chord_pitch_classes(chord), None, set()
    for bar in lick.bars:
        names = [name for _, name in bar.chords]
        if not bar.chords or bar.chords[0][0] > 0:
            names.append(in_force)
        if all(name is not None and chord_pitch_classes(name) == wanted for name in names):
            found.add(bar.number)
        in_force = bar.chords[-1][1] if bar.chords else in_force
    return found


def has_chords(lick: Lick) -> bool:
    return any(bar.chords for bar in lick.bars)


def last_chord(lick: Lick) -> str | None:
    """The chord in force where the lick, without its exit, ends."""
    order = kept_order(lick, False)
    named = [name for bar in lick.bars[:order[-1] + 1] for _, name in bar.chords] if order else []
    return named[-1] if named else None


def _all_over(lick: Lick, order: Sequence[int], over: set[int]) -> bool:
    """The pick-up is no bar of its own: it lies over the one before."""
    return all(lick.bars[index].number in over for index in order if lick.bars[index].number > 0)


def _count(lick: Lick, order: Sequence[int]) -> int:
    return sum(lick.bars[index].number > 0 for index in order)
