"""A lick: what a tab block with a body defines."""

from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING

from .meter import Meter
from .problem import Place
from .tab import Bar
from .tuning import TUNINGS, Tuning, sounding_midi

if TYPE_CHECKING:
    from .chain import Chain

ROLES = ("lick", "tag", "fill", "roll", "kick-off", "break", "backup", "exercise")
TEMPO_NAMES = ("slow", "medium", "full")
MAX_BARS = 512


@dataclass(frozen=True)
class Linked:
    """One link of a chain put together: it begins at ``first``, (bar number, slot from 1) of the chain."""

    id: str
    title: str
    first: tuple[int, int]


@dataclass(frozen=True)
class Lick:
    """``tempo`` is the full tempo in beats a minute, of the meter's own beat.

    ``tempos`` are the recordings as fractions of the full tempo, rising. ``exit_bars``
    bars at the end only show a way out. ``shown_bars`` is None for a whole lick, else the
    numbers of the bars a showing picked out of lick ``shows``, which it keeps as ``whole``.
    A variant names its parent in ``varies``; ``changed`` are the (bar number, slot from 1) of its own cells that
    differ, ``parent_bars`` says for each of all its bars which of the parent's it was made from, None for a new one.
    A chain put together keeps the ``chain`` it was made from; its ``links`` say which bars are whose. A showing of a
    part of it keeps both.
    """

    bars: tuple[Bar, ...]
    id: str | None = None
    title: str = ""
    role: str = "lick"
    key: str = "G"
    meter: Meter = Meter(4, 4)
    grid: int = 8
    pickup: int = 0
    tempo: Fraction = Fraction(160)
    tempos: tuple[Fraction, ...] = (Fraction(1, 2), Fraction(3, 4), Fraction(1))
    bounce: int = 50
    tuning: Tuning = TUNINGS["open G"]
    capo: int = 0
    fifth: int | None = None
    exit_bars: int = 0
    after: str = ""
    labels: tuple[str, ...] = ()
    rights: str = ""
    shows: str | None = None
    shown_bars: tuple[int, ...] | None = None
    whole: "Lick | None" = None
    varies: str | None = None
    changed: tuple[tuple[int, int], ...] = ()
    parent_bars: tuple[int | None, ...] = ()
    chain: "Chain | None" = None
    links: tuple[Linked, ...] = ()
    place: Place | None = field(default=None, compare=False)

    @property
    def slot_quarters(self) -> Fraction:
        return Fraction(4, self.grid)

    @property
    def quarters_per_minute(self) -> Fraction:
        return self.tempo * self.meter.beat_quarters

    def late_start(self, bar: Bar) -> Fraction:
        """Quarters from the bar's own barline to its first slot: above 0 for a pick-up, or where a showing cut it."""
        slots = self._whole_bar(bar).slot_count
        shifted = max(Fraction(0), self.meter.slots(self.grid) - slots) if bar.number == 0 else 0
        return (shifted + bar.first_slot_index) * self.slot_quarters

    def ends_early(self, bar: Bar) -> bool:
        """Whether a showing leaves out the end of the bar."""
        return bar.first_slot_index + bar.slot_count < self._whole_bar(bar).slot_count

    def is_cut(self, bar: Bar) -> bool:
        return bar.first_slot_index > 0 or self.ends_early(bar)

    def is_new(self, bar: Bar) -> bool:
        """Whether a variant added the bar to its parent's."""
        numbers = (other.number for other in (self.whole or self).bars)
        return any(number == bar.number and made_from is None
                   for number, made_from in zip(numbers, self.parent_bars, strict=False))

    def link_at(self, bar_number: int, slot: int) -> int:
        """Which link, from 0, a slot (from 1) belongs to; 0 where there is no chain."""
        return max(0, sum(link.first <= (bar_number, slot) for link in self.links) - 1)

    def _whole_bar(self, bar: Bar) -> Bar:
        return next((other for other in self.whole.bars if other.number == bar.number), bar) if self.whole else bar

    def midi(self, string_number: int, fret: int) -> int:
        """What a written fret sounds under this lick's tuning and capo."""
        return sounding_midi(self.tuning, string_number, fret, self.capo, self.fifth)


@dataclass(frozen=True)
class Showing:
    """Part of another lick, drawn and played again; ``bars`` are its bar numbers, None for all.

    ``slots`` are two (bar number, slot from 1), the first and the last shown; None for whole bars.

    ``bars`` and ``tempos`` keep the parent's where None; an empty title asks for the parent's.
    ``tempos`` are shares of the full tempo, or beats a minute where ``tempos_in_beats``.
    """

    shows: str
    bars: tuple[int, int] | None = None
    tempo: Fraction | None = None
    tempos: tuple[Fraction, ...] | None = None
    title: str = ""
    place: Place | None = field(default=None, compare=False)
    slots: tuple[tuple[int, int], tuple[int, int]] | None = None
    tempos_in_beats: bool = False
