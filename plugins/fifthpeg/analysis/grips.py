"""The ways a right hand can take one strike, and how comfortable each is.

Discomfort is counted in small whole numbers, all common practice, no source:

* each finger away from the strings it usually takes, ``AWAY_FROM_HOME``;
* ``OTHER_PINCH`` for a pinch of two strings by any pair but thumb and middle;
* ``CROSSED`` for each pair of fingers that cross over each other.

The short string is the thumb's alone: no other finger reaches it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, product

from ..model.hands import INDEX, MIDDLE, REACH, RIGHT_FINGERS, THUMB

AWAY_FROM_HOME = {
    (THUMB, 2): 4,
    (INDEX, 3): 1, (INDEX, 4): 6, (INDEX, 1): 3,
    (MIDDLE, 2): 2, (MIDDLE, 3): 6,
}
"""Home is 5, 4, 3 for the thumb, 2 for the index (3 nearly so), 1 for the middle finger. The index goes to the
fourth string only where the thumb would otherwise pick twice in a row."""
OTHER_PINCH = 3
"""Less than the thumb's way to the second string: strings 2 and 1 together go to index and middle, at home there."""
CROSSED = 12


@dataclass(frozen=True)
class Grip:
    """``fingers`` string by string, in the order of ``strings``; ``finger_indices`` each finger once, 0 the thumb."""

    strings: tuple[int, ...]
    fingers: tuple[str, ...]
    finger_indices: tuple[int, ...]
    discomfort: int


@lru_cache(maxsize=4096)
def grips(strings: tuple[int, ...], written: tuple[str | None, ...]) -> tuple[Grip, ...]:
    """Every way to take ``strings`` that keeps the ``written`` fingers, in order of thumb, index, middle.

    Each finger takes one string; of two ways with the same fingers only the easier counts. A strike with more
    strings than fingers, or with strings no free finger reaches, is brushed by its written finger, or by the thumb.
    """
    takes = [fingers for fingers in _takes(strings, written) if len(set(fingers)) == len(fingers)]
    easiest: dict[tuple[int, ...], Grip] = {}
    for grip in (_grip(strings, fingers) for fingers in takes or [_brush(written)]):
        known = easiest.setdefault(grip.finger_indices, grip)
        if grip.discomfort < known.discomfort:
            easiest[grip.finger_indices] = grip
    return tuple(easiest.values())


def discomfort(strings: tuple[int, ...], fingers: tuple[str, ...]) -> int:
    """The comfort line of the cost, for one strike."""
    takes = tuple(zip(fingers, strings, strict=True))
    away = sum(AWAY_FROM_HOME.get(take, 0) for take in takes)
    pinch = OTHER_PINCH if len(set(fingers)) == 2 and set(fingers) != {THUMB, MIDDLE} else 0
    return away + pinch + CROSSED * sum(crosses(*pair) for pair in combinations(takes, 2))


def _takes(strings: tuple[int, ...], written: tuple[str | None, ...]) -> Iterator[tuple[str, ...]]:
    return product(*(
        (finger,) if finger else tuple(choice for choice in RIGHT_FINGERS if string in REACH[choice])
        for string, finger in zip(strings, written, strict=True)
    ))


def _brush(written: tuple[str | None, ...]) -> tuple[str, ...]:
    brushing = next((finger for finger in written if finger), THUMB)
    return tuple(finger or brushing for finger in written)


def _grip(strings: tuple[int, ...], fingers: tuple[str, ...]) -> Grip:
    indices = tuple(index for index, finger in enumerate(RIGHT_FINGERS) if finger in fingers)
    return Grip(strings, fingers, indices, discomfort(strings, fingers))


def crosses(one: tuple[str, int], other: tuple[str, int]) -> bool:
    """From thumb to middle the strings must run from the short string down to the first."""
    hand_order = RIGHT_FINGERS.index(one[0]) - RIGHT_FINGERS.index(other[0])
    return hand_order * (one[1] - other[1]) > 0
