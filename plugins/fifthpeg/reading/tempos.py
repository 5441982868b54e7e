"""The tempos of the three recordings against the full one."""

from fractions import Fraction

from .faults import Faults
from .header import Entry
from .keys import BY_NAME, Pace


def shares(paces: tuple[Pace, ...], tempo: Fraction, entry: Entry, faults: Faults) -> tuple[Fraction, ...]:
    """The recordings' tempos as fractions of the full one."""
    found = tuple(pace.share if pace.share is not None else pace.beats / tempo for pace in paces)
    if list(found) != sorted(set(found)):
        faults.add(entry.span, "bad-value", "the three tempos must rise", f"such as `{BY_NAME['tempos'].example}`")
    return found


def borrowed_shares(paces: tuple[Pace, ...], tempo: Fraction | None, entry: Entry,
                    faults: Faults) -> tuple[tuple[Fraction, ...], bool]:
    """The same where the full tempo may be another lick's, not known yet (None): then beats stay beats, which the
    second value says."""
    ways = {pace.share is None for pace in paces}
    if tempo is None and len(ways) > 1:
        faults.add(entry.span, "bad-value", "the three tempos are partly percentages, partly beats a minute",
                   "write all three in one way, or give a `tempo` too")
        return (), False
    return shares(paces, tempo or Fraction(1), entry, faults), tempo is None and ways == {True}
