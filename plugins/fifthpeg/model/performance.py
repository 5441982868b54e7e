"""A lick as it is played: repeats unfolded, bounce applied."""

from dataclasses import dataclass
from fractions import Fraction

from .note import Note


@dataclass(frozen=True)
class BarPass:
    """One playing of one written bar; ``start`` and ``length`` in quarter notes.

    ``barline`` is where its beats are counted from: its start, the end of a pick-up, or
    before its start where a showing leaves out the bar's beginning.
    """

    bar: int
    passage: int
    link: int
    start: Fraction
    length: Fraction
    barline: Fraction


@dataclass(frozen=True)
class Performance:
    """``notes`` in order of start; ``chords`` are (start, name); times in quarter notes."""

    notes: tuple[Note, ...]
    bar_map: tuple[BarPass, ...]
    chords: tuple[tuple[Fraction, str], ...]
    quarters: Fraction
    exit_start: Fraction | None
    quarters_per_minute: Fraction

    def seconds(self, quarters: Fraction) -> float:
        """A time at the full tempo."""
        return float(quarters * 60 / self.quarters_per_minute)
