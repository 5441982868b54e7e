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
