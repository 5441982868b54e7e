"""Fingers that cross over each other from one strike to the next.

At speed a hand lies still: thumb, index and middle over lower and higher strings in that order. Where one strike
follows another at once, each pair of different fingers that would lie the other way about costs ``CROSSED_NEXT``:
common practice, no source.
"""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import product

from .crowding import COMFORT
from .grips import Grip, crosses

CROSSED_NEXT = 3
"""As much as the index on the first string: a thumb that crosses to the second costs both."""

Costs = Mapping[tuple[tuple[int, ...], tuple[int, ...]], int]
Crossings = tuple[Costs, ...]
"""For each strike: (fingers of the strike before, fingers of this one) -> cost; empty where none can cross."""
NONE: Costs = {}


def crossings_of(choices: Sequence[tuple[Grip, ...]], next_door: Sequence[bool]) -> Crossings:
    """Of strikes in written order. Jumps back and what follows a skipped ending are left out of account."""
    return tuple(_between(choices[strike - 1], grips) if next_door[strike] else NONE
                 for strike, grips in enumerate(choices))


@lru_cache(maxsize=4096)
def _between(befores: tuple[Grip, ...], afters: tuple[Grip, ...]) -> Costs:
    return {(before.finger_indices, after.finger_indices): CROSSED_NEXT * COMFORT * crossed
            for before, after in product(befores, afters) if (crossed := count_crossed(before, after))}


def count_crossed(before: Grip, after: Grip) -> int:
    """Pairs of different fingers, one of each strike, that lie the other way about than in a still hand."""
    return sum(one[0] != other[0] and crosses(one, other)
               for one, other in product(zip(before.fingers, before.strings, strict=True),
                                         zip(after.fingers, after.strings, strict=True)))
