"""Many joins judged at once, by the rule of ``pace`` and ``repeats`` in whole ticks.

Arrays: row or column a lick, three columns a finger, thumb first. Distances are ticks from the barline between the
two licks; ``NEVER`` for a finger that does not pick.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor, lcm

import numpy as np

from ..model.hands import RIGHT_FINGERS
from .pace import Pace
from .sides import Side
from .strikes import Picking

CLEAN_CODE, TIGHT_CODE, CLASH_CODE = 0, 1, 2
NEVER = 2**40
"""Ticks: longer than any lick, and two of them still fit the arrays."""
ROWS_AT_ONCE = 512
"""Keeps the work on a library of thousands within a few hundred megabytes."""


@dataclass(frozen=True)
class Edge:
    """One lick's side of a barline in quarters: each finger's nearest pick, and whether it is in the nearest strike,
    which is ``straight`` away as written."""

    nearest: tuple[Fraction | None, ...]
    in_first_strike: tuple[bool, ...]
    straight: Fraction | None

    def is_no_freer_than(self, other: "Edge") -> bool:
        """Whether no finger has more time here than there: it can mend nothing."""
        times = zip((*self.nearest, self.straight), (*other.nearest, other.straight), strict=True)
        no_later = all(_or_never(mine) <= _or_never(theirs) for mine, theirs in times)
        return no_later and all(here or not there for here, there
                                in zip(self.in_first_strike, other.in_first_strike, strict=True))


def end_edge(side: Side, pickings: Sequence[Picking] | None = None) -> Edge:
    """How the side ends; ``pickings`` where they are not its own."""
    played = side.pickings if pickings is None else pickings
    return _edge(reversed(played), lambda time: side.end - time)


def start_edge(side: Side, pickings: Sequence[Picking] | None = None) -> Edge:
    played = side.pickings if pickings is None else pickings
    return _edge(played, lambda time: time - side.lead)


def _edge(outwards: Iterable[Picking], distance: Callable[[Fraction], Fraction]) -> Edge:
    nearest: dict[str, Fraction] = {}
    first: Picking | None = None
    for picking in outwards:
        first = first or picking
        for finger in picking.fingers:
            nearest.setdefault(finger, distance(picking.at))
        if len(nearest) == len(RIGHT_FINGERS):
            break
    return Edge(tuple(nearest.get(finger) for finger in RIGHT_FINGERS),
                tuple(first is not None and finger in first.fingers for finger in RIGHT_FINGERS),
                None if first is None else distance(first.straight))


def _or_never(time: Fraction | None) -> Fraction | int:
    return NEVER if time is None else time


@dataclass(frozen=True)
class Edges:
    """The edges of many licks in ticks."""

    nearest: np.ndarray
    in_first_strike: np.ndarray
    straight: np.ndarray

    def __len__(self) -> int:
        return len(self.straight)

    def rows(self, start: int, stop: int) -> "Edges":
        return Edges(self.nearest[start:stop], self.in_first_strike[start:stop], self.straight[start:stop])


def ticks_per_quarter(edges: Iterable[Edge]) -> int:
    """The least that makes all their distances whole."""
    return lcm(*{time.denominator for edge in edges for time in (*edge.nearest, edge.straight) if time is not None})


def in_ticks(edges: Sequence[Edge], per_quarter: int) -> Edges:
    def ticks(time: Fraction | None) -> int:
        return NEVER if time is None else int(time * per_quarter)

    shape = -1, len(RIGHT_FINGERS)
    return Edges(
        np.array([[ticks(time) for time in edge.nearest] for edge in edges], np.int64).reshape(shape),
        np.array([edge.in_first_strike for edge in edges], bool).reshape(shape),
        np.array([ticks(edge.straight) for edge in edges], np.int64),
    )


@dataclass(frozen=True)
class Limits:
    """The limits of ``Pace`` in ticks, one for each row: a gap below ``clash`` clashes, below ``tight`` is tight,
    neighbours up to ``neighbour`` are tight."""

    clash: np.ndarray
    tight: np.ndarray
    neighbour: np.ndarray

    def rows(self, start: int, stop: int) -> "Limits":
        return Limits(self.clash[start:stop], self.tight[start:stop], self.neighbour[start:stop])


def limits_of(paces: Sequence[Pace], per_quarter: int) -> Limits:
    return Limits(
        np.array([ceil(pace.clash_gap * per_quarter) for pace in paces], np.int64),
        np.array([ceil(pace.tight_gap * per_quarter) for pace in paces], np.int64),
        np.array([floor(pace.neighbour_quarters * per_quarter) for pace in paces], np.int64),
    )


def verdict_codes(ends: Edges, starts: Edges, limits: Limits) -> np.ndarray:
    """int8 [ends, starts]: how each end meets each start."""
    codes = np.zeros((len(ends), len(starts)), np.int8)
    for top in range(0, len(ends), ROWS_AT_ONCE):
        bottom = top + ROWS_AT_ONCE
        codes[top:bottom] = _codes(ends.rows(top, bottom), starts, limits.rows(top, bottom))
    return codes


def _codes(ends: Edges, starts: Edges, limits: Limits) -> np.ndarray:
    near = ends.straight[:, None] + starts.straight[None, :] <= limits.neighbour[:, None]
    clash = np.zeros(near.shape, bool)
    tight = np.zeros(near.shape, bool)
    for finger in range(len(RIGHT_FINGERS)):
        gap = ends.nearest[:, finger, None] + starts.nearest[None, :, finger]
        clash |= gap < limits.clash[:, None]
        tight |= gap < limits.tight[:, None]
        tight |= near & ends.in_first_strike[:, finger, None] & starts.in_first_strike[None, :, finger]
    return np.where(clash, CLASH_CODE, np.where(tight, TIGHT_CODE, CLEAN_CODE)).astype(np.int8)
