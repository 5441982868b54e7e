"""Where a lick fits: chords and their lengths, and the notes that stand out from them."""

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True)
class Stretch:
    """So many bars under one chord; ``chord`` is None where none is written. ``start`` in quarters as played."""

    chord: str | None
    bars: Fraction
    start: Fraction


@dataclass(frozen=True)
class Colour:
    """A note by its mark and name. ``degree`` is "flat third" and the like for a blue note of the key, else None."""

    mark: str
    bar: int
    slot: int
    name: str
    outside_chord: str | None
    degree: str | None


@dataclass(frozen=True)
class Doubt:
    """A chord that hardly any note over it belongs to, and one that would suit them."""

    chord: str
    bar: int
    notes_inside: int
    notes: int
    better: str
    says: str


@dataclass(frozen=True)
class Harmony:
    """``over`` the lick without its exit. ``colours``: notes outside their chord and blue notes, each once."""

    over: tuple[Stretch, ...]
    after: str | None
    colours: tuple[Colour, ...]
    doubts: tuple[Doubt, ...]

    @property
    def bars_by_chord(self) -> dict[str, Fraction]:
        """How long each chord lasts in all, in order of first coming."""
        found: dict[str, Fraction] = {}
        for stretch in self.over:
            if stretch.chord:
                found[stretch.chord] = found.get(stretch.chord, Fraction(0)) + stretch.bars
        return found
