"""How fast a finger comes round again, and what that is called."""

from dataclasses import dataclass
from fractions import Fraction

from ..model.bounce import EIGHTH_QUARTERS
from ..model.findings import CLASH, CLEAN, TIGHT
from ..model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND
from ..model.lick import Lick

SECONDS_PER_MINUTE = 60


@dataclass(frozen=True)
class Pace:
    """The speed limits of one lick, exact, as shortest gaps between two picks of one finger, in quarters.

    ``neighbour_quarters`` is the written gap up to which a repeat on the very next strike is
    tight at any tempo: a slot, and no more than an eighth.
    """

    quarters_per_minute: Fraction
    beat_quarters: Fraction
    clash_gap: Fraction
    tight_gap: Fraction
    neighbour_quarters: Fraction

    def verdict(self, gap: Fraction, neighbour_gap: Fraction | None) -> str:
        """``gap`` as played; ``neighbour_gap`` as written, None when another strike lies between."""
        if gap < self.clash_gap:
            return CLASH
        neighbours = neighbour_gap is not None and neighbour_gap <= self.neighbour_quarters
        return TIGHT if gap < self.tight_gap or neighbours else CLEAN

    def per_second(self, gap: Fraction) -> float:
        return float(self.quarters_per_minute / gap / SECONDS_PER_MINUTE)

    def clashes_above(self, gap: Fraction) -> float:
        """The tempo, in the lick's own beats a minute, above which this gap clashes."""
        return float(self.quarters_per_minute / self.beat_quarters * gap / self.clash_gap)


def pace_of(lick: Lick, clash_per_second: float = CLASH_PER_SECOND,
            tight_per_second: float = TIGHT_PER_SECOND) -> Pace:
    """Limits are picks a second; their decimal text is taken at its word (6.4 is 32/5)."""
    quarters_per_second = lick.quarters_per_minute / SECONDS_PER_MINUTE
    return Pace(
        quarters_per_minute=lick.quarters_per_minute,
        beat_quarters=lick.meter.beat_quarters,
        clash_gap=quarters_per_second / Fraction(str(clash_per_second)),
        tight_gap=quarters_per_second / Fraction(str(tight_per_second)),
        neighbour_quarters=min(lick.slot_quarters, EIGHTH_QUARTERS),
    )
